"""The terminal that a page is written to."""

from __future__ import annotations

import os
import shutil
import sys


def width() -> int:
    """Columns to write in: those of the terminal, no more than 100; 80 when the output goes elsewhere."""
    if not sys.stdout.isatty():
        return 80
    return min(shutil.get_terminal_size((80, 24)).columns, 100)


def colour() -> bool:
    """Whether to set words off: on a terminal, unless NO_COLOR is set to anything or the terminal is a dumb one."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
