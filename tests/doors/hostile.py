"""Signs that are no writing, in words that a person, a file, a folder or a diary may bring; and writing that stays."""

from __future__ import annotations

import unicodedata

#: A clear screen, a title of the window, C1 in one byte, a backspace, a delete, an override and an isolate.
SIGNS = "\x1b[2J\x1b]0;t\x07\x9b31m\x08\x7f\u202e\u2066"
#: Such signs without a letter between them: words with them stay words.
BARE = "\x1b\x07\x9b\x08\x7f\u202e\u2066"


def in_toml(text: str) -> str:
    """A text as TOML writes it, which allows none of the control codes raw."""
    return "".join(f"\\u{ord(sign):04x}" for sign in text)


IN_TOML, BARE_IN_TOML = in_toml(SIGNS), in_toml(BARE)

#: Accents, emoji with a joiner and a flag of tags, letters from right to left with their plain marks.
WRITING = "Zoë’s ½ m² 👩‍🌾 🏴󠁧󠁢󠁥󠁮󠁧󠁿 גינה \u200f(1) حديقة 堆肥"

#: Unicode Standard Annex 9, The Bidirectional Algorithm (Unicode Consortium, 2024), table 4: the explicit embeddings,
#: overrides and isolates. From memory; the data itself is that of Python's unicodedata.
EXPLICIT = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})


def driving(text: str) -> list[str]:
    """The signs of a text that drive a terminal or turn its words about; line ends and tabs are writing."""
    return [
        sign
        for sign in text
        if sign not in "\n\t"
        and (unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp") or unicodedata.bidirectional(sign) in EXPLICIT)
    ]
