"""Words that could not be placed, with the nearest right thing."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.household.tokens import shown
from advisor.talk.intents import AskMaterial, Intent, Lost, Unclear, Vague
from advisor.talk.reading.things import Reader, Thing

#: Characters of somebody's words that are quoted back.
MOST_SHOWN = 80

#: Readings of one name that are offered.
MOST_OFFERED = 6
_MOST_SEARCHED = 4  # words; a longer stretch is no name


def lost(reader: Reader, start: int, end: int, nearest: tuple[str, ...] = ()) -> Lost:
    """Words that could not be placed, with what they may have been."""
    said = reader.line.said(start, end)
    words = reader.line.words[start:end]
    if not nearest and reader.context.options and said.strip().isdecimal():
        nearest = (f"a number from 1 to {reader.context.options}",)
    if not nearest:
        nearest = near_labels(reader, start, end)
    if not nearest and end - start <= _MOST_SEARCHED and any(word.key in reader.materials.vocabulary for word in words):
        thing = reader.searched(start, end)
        nearest = thing.nearest or reader.names(thing.ids[:3])
    return Lost(shown(said, MOST_SHOWN), reader.line.span(start, end), nearest)


def near_labels(reader: Reader, start: int, end: int) -> tuple[str, ...]:
    """Answers to the open question that share a word with what was said."""
    kind, _, attribute = reader.context.attribute.partition(".")
    declared = reader.knowledge.kinds.get(kind)
    if declared is None or attribute not in declared.attributes:
        return ()
    said = {form for at, form in enumerate(reader.line.forms[start:end], start) if not reader.is_filler(at)}
    normal = reader.lexicon.spelling.normal
    labels = declared.attributes[attribute].words.values()
    return tuple(
        label for label in labels if said & {form for word in label.split() for form in normal(word.strip(",;:()"))}
    )[:3]


def quoted(reader: Reader, start: int, end: int) -> str:
    """What was said there, fit to be quoted."""
    return shown(reader.line.said(start, end), MOST_SHOWN)


def readings(thing: Thing) -> tuple[str, ...]:
    """The materials that are offered for a name."""
    return thing.ids[: len(thing.group.readings) if thing.group is not None else MOST_OFFERED]


def as_questions(intents: Sequence[Intent]) -> list[Intent] | None:
    """Bare names as questions about them; nothing if anything else is among them."""
    asked: list[Intent] = []
    for intent in intents:
        if isinstance(intent, Vague) and not intent.trouble and intent.holding is None:
            asked.append(AskMaterial((intent.material,), intent.span))
        elif isinstance(intent, Unclear) and intent.holding is None:
            asked.append(AskMaterial(intent.readings, intent.span))
        elif not isinstance(intent, AskMaterial):
            return None
        else:
            asked.append(intent)
    return asked or None
