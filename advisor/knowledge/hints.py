"""The nearest right word, for messages."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

_LISTED = 16  # nobody reads a longer list


def hint(word: str, choices: Iterable[str], also: Iterable[str] = ()) -> str:
    """What was probably meant by a word, or all there is to choose from.

    Args:
        also: other names that can be meant, but are not listed.
    """
    known = list(choices)
    near = get_close_matches(word, [*known, *also], n=1, cutoff=0.6)
    if near:
        return f"did you mean '{near[0]}'?"
    if not known:
        return "there is none"
    return f"there is {', '.join(known)}" if len(known) <= _LISTED else "nothing here is spelt like it"
