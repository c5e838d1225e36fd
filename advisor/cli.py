"""The command line. Nothing is imported here that a command does not need: `--version` answers at once."""

from __future__ import annotations

import atexit
import gc
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, NoReturn, TextIO, cast

from advisor import __version__

if TYPE_CHECKING:
    from pathlib import Path

    from advisor.safe_text import SafeStream

# At its end the interpreter would look through all there is for rubbish, which takes a quarter of a command. It all
# goes with the process, and whatever must be written has been by then.
atexit.register(gc.freeze)

#: So many new objects are looked through for rubbish at a time: at a start they are rules and words, which stay.
_OBJECTS = 50_000

#: What the shell shows of a program whose reader went away: 128 and the number of SIGPIPE (POSIX).
READER_GONE = 141


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command and return its exit code.

    0: done. 1: a fault, or output that was lost. 2: the command line or a household cannot be understood. 3: the rule
    base is not in order. 4: the rule engine is missing or broke. 130: interrupted. 141: nobody reads the output.
    """
    given = list(sys.argv[1:] if argv is None else argv)
    if sys.stdout is None:  # closed before we began; whatever we would print were lost
        _tell("heapwright: there is no standard output to write to")
        return 1
    from advisor.safe_text import SafeStream

    _let_signs_through()
    stream, out = sys.stdout, SafeStream(sys.stdout)
    sys.stdout = cast("TextIO", out)
    try:
        code = _code_of(given, out)
        if out.failed is None:
            with suppress(OSError):
                out.flush()
    finally:
        sys.stdout = stream
    return code if out.failed is None else _lost(stream, out.failed)


def _code_of(given: list[str], out: SafeStream) -> int:
    """Run a command; the exit code, everything foreseen being told in one line."""
    from advisor.errors import HeapwrightError

    try:
        if given in (["--version"], ["-V"]):
            print(f"heapwright {__version__}")
            return 0
        return _run(given)
    except HeapwrightError as error:
        _tell(f"heapwright: {error}")
        return error.exit_code
    except KeyboardInterrupt:
        _tell("")
        return 130
    except SystemExit as done:  # how --help ends
        return done.code if isinstance(done.code, int) else 0
    except OSError as error:
        if error is not out.failed:
            _tell(f"heapwright: {error.strerror or error}")
        return 1


def _lost(stream: TextIO, error: OSError) -> int:
    """Tell that output was lost, unless its reader closed the pipe, and give the interpreter nothing more to flush."""
    import os

    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    if isinstance(error, BrokenPipeError):
        return READER_GONE
    _tell(f"heapwright: the output is not whole: {error.strerror or error}")
    return 1


def _tell(line: str) -> None:
    """A line on the standard error, if there is one."""
    from advisor.safe_text import safe_text

    if sys.stderr is not None:
        with suppress(OSError, ValueError):
            print(safe_text(line), file=sys.stderr, flush=True)


def _let_signs_through() -> None:
    """Where an output has no sign for a line of a drawing or for ½, it gets a question mark instead of an error.

    Input that claims to be ASCII is read as UTF-8, which has the signs of ASCII at the same places: nobody who types
    ½ means an error. What is not even that is refused where it is read, instead of losing the ½ of "½ bucket".
    """
    from codecs import lookup
    from io import TextIOWrapper

    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    if isinstance(sys.stdin, TextIOWrapper):
        plain = lookup(sys.stdin.encoding).name == "ascii"
        sys.stdin.reconfigure(encoding="utf-8" if plain else sys.stdin.encoding, errors="strict")


def _run(given: list[str]) -> int:
    gc.set_threshold(_OBJECTS)
    from advisor.commands.parsing import command, read_line, summaries
    from advisor.places import use_local

    chosen = "talk" if not given else given[0]
    if chosen not in summaries() and chosen not in ("-h", "--help", "-V", "--version"):
        _no_such_command(chosen)
    arguments = read_line(given or ["talk"], chosen)
    collecting = gc.isenabled() and arguments.command != "talk"
    if collecting:
        gc.disable()  # a command is over before its rubbish is worth looking for, which takes a sixth of a start
    use_local(_local_folder(getattr(arguments, "local", None)))
    try:
        return int(command(arguments.command).run(arguments))
    finally:
        use_local(None)
        if collecting:
            gc.enable()


def _local_folder(named: str | None) -> Path | None:
    """The folder of local rules that was named. Raises UsageError if it is none."""
    if named is None:
        return None
    import os
    from pathlib import Path

    from advisor.errors import UsageError

    if not os.path.isdir(named):  # noqa: PTH112  Path.is_dir fails on a path that is too long
        hint = "a folder with files such as place.toml and sources.toml; README.md shows one"
        raise UsageError(f"--local: no folder '{named}'", hint=hint)
    return Path(named).absolute()


def _no_such_command(word: str) -> NoReturn:
    from difflib import get_close_matches

    from advisor.commands.parsing import summaries
    from advisor.errors import UsageError

    if word.startswith("-"):
        raise UsageError(f"'{word}' is not understood here", hint="say a command first; heapwright --help lists them")
    close = get_close_matches(word, summaries(), n=1)
    hint = f"did you mean {close[0]}?" if close else f"there are {', '.join(summaries())}"
    raise UsageError(f"no command '{word}'", hint=hint)


if __name__ == "__main__":
    sys.exit(main())
