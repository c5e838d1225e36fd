"""A whole line settled: one answer to each question, and no "no" left standing beside what it corrects."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.household.tokens import shown
from advisor.talk.intents import Ask, Enter, Intent, Lost, Told, Which
from advisor.talk.reading.losing import MOST_SHOWN
from advisor.talk.reading.meaning import widened
from advisor.talk.reading.things import Reader


def settled(intents: Sequence[Intent], reader: Reader) -> list[Intent]:
    """The intents of a line, those that belong together made one."""
    return _one_loss(_one_answer(_without_yes_and_no(intents), reader), reader)


#: Answers that give way to any other beside them.
_LESS = frozenset({"none", "unsure", "foul"})


def _without_yes_and_no(intents: Sequence[Intent]) -> list[Intent]:
    """With "no" in "no, 3 buckets" and "yes" in "yes, rats" made part of what follows."""
    found: list[Intent] = []
    for intent in reversed(intents):
        plain = isinstance(intent, Ask) and intent.request in ("yes", "no")
        if plain and found and not isinstance(found[-1], Lost | Ask):
            found[-1] = widened(found[-1], *intent.span)
        else:
            found.append(intent)
    return found[::-1]


def _one_answer(intents: Sequence[Intent], reader: Reader) -> list[Intent]:
    """One answer for each attribute.

    Several values that may hold at once are put together; of several that may not, it is not clear which is meant;
    and what was not clear is settled by an answer that says it outright.
    """
    found: list[Intent] = []
    places: dict[str, int] = {}
    for intent in intents:
        if isinstance(intent, Enter) and any(isinstance(each, Enter) and each.door == intent.door for each in found):
            place = next(at for at, each in enumerate(found) if isinstance(each, Enter) and each.door == intent.door)
            found[place] = widened(found[place], *intent.span)
        elif not isinstance(intent, Told | Which):
            found.append(intent)
        elif intent.attribute not in places:
            places[intent.attribute] = len(found)
            found.append(intent)
        else:
            place = places[intent.attribute]
            before = found[place]
            if isinstance(before, Told | Which):
                found[place] = _together(before, intent, reader)
    return found


def _together(one: Told | Which, other: Told | Which, reader: Reader) -> Told | Which:
    first, last = min(one.span[0], other.span[0]), max(one.span[1], other.span[1])
    if isinstance(one, Which) and isinstance(other, Which):
        common = tuple(value for value in one.values if value in other.values)
        return Which(one.attribute, common or one.values, one.words, (first, last))
    if isinstance(one, Which) or isinstance(other, Which):
        told = one if isinstance(one, Told) else other
        return Told(told.attribute, told.values, (first, last))
    values = tuple(dict.fromkeys((*one.values, *other.values)))
    if reader.takes_several(one.attribute):
        some = tuple(value for value in values if value not in _LESS)
        return Told(one.attribute, some or values[:1], (first, last))
    if len(values) == 1:
        return Told(one.attribute, values, (first, last))
    return Which(one.attribute, values, shown(reader.line.text[first:last]), (first, last))


def _one_loss(intents: Sequence[Intent], reader: Reader) -> list[Intent]:
    """Lost words that follow one another made one stretch."""
    found: list[Intent] = []
    for intent in intents:
        before = found[-1] if found else None
        if isinstance(before, Lost) and isinstance(intent, Lost) and before.span[1] <= intent.span[0]:
            between = reader.line.text[before.span[1] : intent.span[0]]
            if between.isspace() or not between:
                span = before.span[0], intent.span[1]
                words = shown(reader.line.text[span[0] : span[1]], MOST_SHOWN)
                found[-1] = Lost(words, span, tuple(dict.fromkeys((*before.nearest, *intent.nearest)))[:3])
                continue
        found.append(intent)
    return found
