"""Words that carry meaning and were not used."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Fact, HeardMaterial


def unread(finder: Finder, facts: Sequence[Fact], materials: Sequence[HeardMaterial]) -> tuple[str, ...]:
    """Words of the line that no fact, material or form of an act uses and that are no ordinary English."""
    spans = [(fact.start, fact.end) for fact in facts] + [(one.start, one.end) for one in materials]
    english = finder.vocabulary.english
    found = []
    for word in finder.line.words:
        if word.mark or word.form[0].isdigit() or any(start <= word.start < end for start, end in spans):
            continue
        if not english.is_ordinary(word.form) and len(word.form) > 2:
            found.append(finder.line.text[word.start : word.end])
    return tuple(dict.fromkeys(found))
