"""Answers handed over as files: the options for it, and what they do."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import argparse

    from advisor.papers.handing import Kind
    from advisor.papers.paper import Answer

#: The options by the kind of file, with what each takes.
_OPTIONS: dict[Kind, tuple[str, str]] = {
    "page": ("FILE.html", "write the answer as one page to print, with boxes to tick and the heap drawn"),
    "markdown": ("FILE.md", "write it as Markdown"),
    "calendar": ("FILE.ics", "write its dates as a calendar (iCalendar); importing it again updates them"),
}


def add_handed(parser: argparse.ArgumentParser, *, dated: bool) -> None:
    """The files that an answer can be written to; `dated` if it can hold dates."""
    group = parser.add_argument_group("to hand over (- is the standard output)")
    for kind, (takes, about) in _OPTIONS.items():
        if dated or kind != "calendar":
            group.add_argument(f"--{kind}", metavar=takes, help=about)
    if not dated:
        parser.set_defaults(calendar=None)
    group.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the page: a4 (default), letter")
    group.add_argument(
        "--overwrite", action="store_true", help="write over a file that heapwright did not write or that was changed"
    )


def hand_over(answer: Answer, arguments: argparse.Namespace) -> bool:
    """Write the files that were asked for, and say where on the standard error. Whether there were any.

    Raises:
        UsageError: two things are to go to the standard output.
        HeapwrightError: a file cannot be written, is not ours, or there are no dates; no later file is written then.
    """
    asked = {kind: str(name) for kind in _OPTIONS if (name := getattr(arguments, kind)) is not None}
    if not asked:
        return False
    from datetime import datetime
    from pathlib import Path

    from advisor.counsel.in_use import in_use, local_lines
    from advisor.errors import UsageError
    from advisor.papers.handing import CALLED, LINE_ENDS, Handed
    from advisor.safe_text import SafeStream
    from advisor.text_files import place_of

    printed = [f"--{kind} -" for kind, name in asked.items() if name == "-"]
    printed += [name for name, given in (("--json", arguments.json), ("--why", arguments.why is not None)) if given]
    if len(printed) > 1 and "-" in asked.values():
        raise UsageError(f"the standard output takes one of {', '.join(printed)}", hint="name files for the others")
    knowledge = in_use()
    handed = Handed(answer, knowledge.sources, datetime.now().astimezone(), arguments.paper, local_lines(knowledge))
    for kind, name in asked.items():
        if name == "-":
            text = handed.text(kind)
            if isinstance(sys.stdout, SafeStream):
                sys.stdout.write_file(text, LINE_ENDS[kind])
            else:
                sys.stdout.write(text)
        else:
            target = handed.write(kind, Path(name), overwrite=arguments.overwrite)
            print(f"Wrote the {CALLED[kind]}: {place_of(target)}", file=sys.stderr)
    return True
