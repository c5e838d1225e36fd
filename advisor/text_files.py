"""The one reader and the one writer of text files.

Whatever is named, a pipe, a device, a folder, a picture, a file without end, reading it gives a text or one line that
says what is wrong, at once. Writing gives the whole file or leaves what was there.
"""

from __future__ import annotations

import os
import re
import stat
from contextlib import suppress
from pathlib import Path
from typing import Any, Final

from advisor.errors import HouseholdError
from advisor.safe_text import one_line, safe_value

#: What people write by hand is a page or two; a bigger file is something else.
MOST_BYTES: Final = 1_000_000

#: Tables and lists in one another; the formats here need 3.
_DEEPEST: Final = 12

#: Whole numbers of TOML have 64 bits (TOML 1.0.0, section Integer, 2021; from memory).
_BIGGEST: Final = 2**63

#: A dotted key of many parts, or of so many that it cannot even be looked through to its end: the time that it takes to
#: read one grows with the cube of its parts.
_NAME: Final = r"(?:(?<![A-Za-z0-9_-])[A-Za-z0-9_-]+|\"[^\"\n]*\"|'[^'\n]*')"
_PART: Final = rf"{_NAME}[ \t]*\.[ \t]*"
_ENDLESS_KEY: Final = re.compile(
    rf"(?:^[ \t]*(?:\[[ \t]*){{0,2}}|[{{,][ \t]*)"
    rf"(?:(?:{_PART}){{{_DEEPEST},99}}+{_NAME}[ \t]*[=\]]|(?:{_PART}){{100}})",
    re.MULTILINE,
)

#: Names longer than this are cut in messages.
_LONGEST_PLACE: Final = 200


def place_of(path: Path) -> str:
    """A path as messages show it: one safe line, the beginning left out if it is long."""
    line = one_line(str(path))
    return line if len(line) <= _LONGEST_PLACE else f"…{line[1 - _LONGEST_PLACE :]}"


def read_text(path: Path, what: str = "text file", most: int = MOST_BYTES) -> str:
    """The text of a file, which is UTF-8 with or without a byte order mark; ends of lines come out as "\\n".

    Args:
        what: what it should be, for messages.
        most: so many bytes at the most.

    Raises:
        HouseholdError: it cannot be read; one line with the path.
    """
    where = place_of(path)
    try:
        raw = plain_bytes(path, what, most)
        text = raw.decode("utf-8-sig")
    except FileNotFoundError:
        if path.is_symlink():
            raise HouseholdError("this link leads to no file", where=where) from None
        raise HouseholdError("there is no such file", where=where, hint=_sibling(path)) from None
    except UnicodeDecodeError:
        raise HouseholdError(
            "not a text file", where=where, hint="save it as UTF-8" if _is_writing(raw) else ""
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error) or "no reason given"
        raise HouseholdError(f"cannot be read: {reason}", where=where) from None
    if "\0" in text:
        raise HouseholdError("not a text file", where=where)
    return text.replace("\r\n", "\n").replace("\r", "\n")


def plain_bytes(path: Path, what: str, most: int = MOST_BYTES) -> bytes:
    """The bytes of a plain file of no more than so many.

    Raises:
        HouseholdError: it is something else, or bigger.
        OSError: it cannot be read.
    """
    where = place_of(path)
    # without O_NONBLOCK the opening of a pipe waits until somebody writes into it
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        kind = os.fstat(handle).st_mode
        if stat.S_ISDIR(kind):
            raise HouseholdError(f"this is a folder, not a {what}", where=where)
        if not stat.S_ISREG(kind):
            raise HouseholdError(f"this is a pipe or a device, not a {what}", where=where, hint="name a plain file")
        with os.fdopen(handle, "rb", closefd=False) as file:
            raw = file.read(most + 1)
    finally:
        os.close(handle)
    if len(raw) > most:
        raise HouseholdError(f"too big to be a {what}", where=where)
    return raw


def _is_writing(raw: bytes) -> bool:
    """Whether the bytes may be text in an older encoding: they hold no control codes but ends of lines and tabs."""
    return not re.search(rb"[\x00-\x08\x0e-\x1f\x7f]", raw)


def _sibling(path: Path) -> str:
    from difflib import get_close_matches

    try:
        names = sorted(entry.name for entry in path.parent.iterdir() if entry.suffix == path.suffix)
    except (OSError, ValueError):
        return ""
    close = get_close_matches(path.name, names, n=1)
    return f"did you mean {place_of(path.with_name(close[0]))}?" if close else ""


def read_toml(path: Path, what: str) -> tuple[dict[str, Any], str]:
    """What a TOML file holds, every text and key in it safe to show, and its text, for the places in it.

    Args:
        what: what it should be, for messages.

    Raises:
        HouseholdError: it cannot be read, or it is not TOML; one line with the path.
    """
    text = read_text(path, what)
    return toml_told(text, place_of(path)), text


def toml_told(text: str, where: str) -> dict[str, Any]:
    """The same of a text; `where` says whose it is. Raises HouseholdError."""
    import tomllib

    if _ENDLESS_KEY.search(text):
        raise HouseholdError("not TOML: nested too deeply", where=where)
    try:
        raw = tomllib.loads(text)
    except RecursionError:
        raise HouseholdError("not TOML: nested too deeply", where=where) from None
    except ValueError as error:
        raise HouseholdError(f"not TOML: {one_line(str(error), 200)}", where=where) from None
    _check(raw, where, 0)
    safe = safe_value(raw)
    return safe if isinstance(safe, dict) else {}


def _check(value: object, where: str, depth: int) -> None:
    """Refuse what nobody means and what other parts of the program could not even quote."""
    if depth > _DEEPEST:
        raise HouseholdError("not TOML: nested too deeply", where=where)
    if isinstance(value, dict | list):
        for held in value.values() if isinstance(value, dict) else value:
            _check(held, where, depth + 1)
    elif isinstance(value, int) and not -_BIGGEST <= value < _BIGGEST:
        raise HouseholdError("not TOML: a whole number is too big", where=where, hint="it has 64 bits at the most")


def write_text(path: Path, text: str, *, private: bool = False) -> None:
    """Write a file beside its place and move it there, so that a failure leaves what was there before.

    Every writer has a file of its own beside the place, so that several at once do not get in each other's way.

    Args:
        private: only the owner may read it; else who may is what the system's settings say of new files.

    Raises:
        OSError: it cannot be written.
    """
    import tempfile

    beside: Path | None = None
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".heapwright-", suffix=".part")
        beside = Path(name)
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:  # ends of lines as they are
            file.write(text)
        if not private:
            mask = os.umask(0)
            os.umask(mask)
            beside.chmod(0o666 & ~mask)
        beside.replace(path)
    except OSError:
        if beside is not None:
            beside.unlink(missing_ok=True)
        raise


def private_folder(folder: Path) -> None:
    """Make a folder that only its owner may look into, if it is not there. Raises OSError."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)


def private_file(path: Path) -> None:
    """Make an empty file that only its owner may read, or take the rights of others from one that is there.

    Raises:
        OSError: it cannot be made.
        HouseholdError: there is something else of that name.
    """
    try:
        kind = path.stat().st_mode
    except FileNotFoundError:
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
        return
    if not stat.S_ISREG(kind):
        raise HouseholdError("this is no plain file", where=place_of(path))
    if kind & 0o077:
        with suppress(OSError):  # of somebody else, who decides on it
            path.chmod(kind & 0o700)


def named_file(name: str, shipped: dict[str, Path], what: str, listing: str) -> Path:
    """The file that a word of the command line names: a path as it stands, or something shipped by its name.

    Args:
        shipped: the files that come with the program, by their names.
        what: what it should be, for messages.
        listing: what to do if nothing is spelt like it.

    Raises:
        HouseholdError: there is no such file and nothing shipped of that name; with the nearest name.
    """
    path = Path(name)
    if path.suffix or path.parent != Path() or os.path.lexists(path):
        return path
    if name in shipped:
        return shipped[name]
    from difflib import get_close_matches

    close = get_close_matches(name, shipped, n=1)
    hint = f"did you mean {close[0]}?" if close else listing
    raise HouseholdError(f"no file and no {what} '{one_line(name, 60)}'", hint=hint)
