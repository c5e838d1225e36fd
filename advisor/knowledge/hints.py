"""The nearest right word, for messages to authors of rules."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

_LISTED = 16  # nobody reads a longer list


def hint(word: str, choices: Iterable[str]) -> str:
    """What was probably meant by `word`, or all there is to choose from."""
    known = list(choices)
    near = get_close_matches(word, known, n=2, cutoff=0.7)
    if near:
        return "did you mean " + " or ".join(f"'{name}'" for name in near) + "?"
    if not known:
        return "there is none"
    return f"there is {', '.join(known)}" if len(known) <= _LISTED else "nothing here is spelt like it"
