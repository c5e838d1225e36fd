"""The name that somebody gives to what is to be saved: it is a name and tells nothing else."""

from __future__ import annotations

import re

_WHAT = r"(?:\s+(?:it|this|that|everything|all|(?:the|my|this|that)\s+(?:heap|pile|bin|plan|one)))?"
_NAME = r"(?P<name>[^,;.!?\n]*[^,;.!?\s])"
_GIVES = (
    re.compile(rf"\bsave{_WHAT}\s+(?:as|under(?:\s+the\s+name(?:\s+of)?)?)\s+{_NAME}", re.IGNORECASE),
    re.compile(rf"\bkeep{_WHAT}\s+under\s+the\s+name(?:\s+of)?\s+{_NAME}", re.IGNORECASE),
    # "keep it as dry as you can" gives no name
    re.compile(rf"^\s*(?:please\s+)?keep{_WHAT}\s+as\s+(?!\w+\s+as\b){_NAME}", re.IGNORECASE),
)


def without_given_name(text: str) -> str:
    """A line with spaces in the place of the name behind "save it as", up to a mark; as it is if it gives none."""
    for gives in _GIVES:
        if found := gives.search(text):
            first, last = found.span("name")
            return f"{text[:first]}{' ' * (last - first)}{text[last:]}"
    return text
