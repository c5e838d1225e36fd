"""Sentences with places for materials or for more sentences: swaps, what-ifs, questions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from advisor.household.rates import rate_at
from advisor.household.shapes import Quantity
from advisor.household.tokens import fold
from advisor.talk.intents import (
    AskMaterial,
    AskWhy,
    Enter,
    Have,
    HaveNot,
    Intent,
    Less,
    Lost,
    Span,
    Swap,
    TellMeasure,
    TellRoom,
    Told,
    Unclear,
    Vague,
    WhatIf,
    Which,
)
from advisor.talk.reading.found import Found
from advisor.talk.reading.losing import MOST_OFFERED, as_questions, lost, quoted, readings
from advisor.talk.reading.phrases import Frame
from advisor.talk.reading.things import Reader, Thing

#: What a what-if may suppose.
_CHANGES = (Have, HaveNot, Less, Told, TellRoom, TellMeasure, Swap, Vague, Unclear, Which)

#: Reads the words from one up to another as a sentence of its own.
Inner = Callable[[int, int], tuple[Intent, ...]]


@dataclass(frozen=True)
class Framed:
    """A frame as found, with what stands at its places."""

    reader: Reader
    found: Found
    places: Mapping[str, Any]
    inner: Inner

    @property
    def span(self) -> Span:
        """Its place in the text."""
        return self.reader.line.span(self.found.start, self.found.end)

    def lost(self, nearest: tuple[str, ...] = ()) -> Lost:
        """All of it, not placed."""
        return lost(self.reader, self.found.start, self.found.end, nearest)

    def things(self, *places: str) -> list[Thing]:
        """The names at some places, those that are not ours looked up by likeness."""
        found: list[Thing] = []
        for place in places:
            held = self.places[place]
            for thing in held if isinstance(held, tuple) else (held,):
                known = thing.ids or thing.sure
                found.append(thing if known else self.reader.searched(thing.start, thing.end))
        return found


def meant(frame: Frame, framed: Framed) -> Iterator[Intent]:
    """What a frame means."""
    return _FRAMES[frame](framed)


def _ask(framed: Framed) -> Iterator[Intent]:
    for thing in framed.things("stuff"):
        if thing.ids:
            yield AskMaterial(readings(thing), framed.span)
        else:
            yield framed.lost(thing.nearest)


def _without(framed: Framed) -> Iterator[Intent]:
    reader = framed.reader
    for thing in framed.things("stuff" if "stuff" in framed.places else "thing"):
        held = reader.on_hand(thing)
        if (held or (thing.ids and thing.sure)) and not thing.counted:
            yield HaveNot(held or thing.ids, framed.span)
        else:
            yield framed.lost(thing.nearest or reader.names(thing.ids[:3]))


def _less(framed: Framed) -> Iterator[Intent]:
    """So much less of what there is, or none of it where no amount is said."""
    reader = framed.reader
    things = framed.places["part" if "part" in framed.places else "stuff"]
    if not any(thing.counted for thing in things):
        yield from _without(framed)
        return
    for thing in things:
        held = reader.on_hand(thing) or thing.ids
        taken = _taken(framed, thing)
        if len(held) == 1 and taken is not None:
            yield Less(held[0], taken, framed.span)
        elif len(held) == 1 and not thing.counted:
            yield HaveNot(held, framed.span)
        else:
            yield framed.lost(reader.names(held[:3]))


def _used(framed: Framed) -> Iterator[Intent]:
    """So much less, if it is on hand; a person who has told of nothing yet says what went into a heap."""
    things = framed.places["part"]
    if all(framed.reader.on_hand(thing) for thing in things):
        yield from _less(framed)
    else:
        inner = framed.inner(things[0].start, framed.found.end)
        yield from [replace(intent, span=framed.span) for intent in inner] or [framed.lost()]


def _taken(framed: Framed, thing: Thing) -> Quantity | float | None:
    """How much of a thing is gone: an amount, or a share of it where no measure is said."""
    counted = framed.reader.amount(thing.start) if thing.counted else None
    if counted is None:
        return None
    amount = counted[0]
    if not amount.measured and amount.count.part:
        return amount.count.value
    line = framed.reader.line
    rate = rate_at(line.tokens, line.words[thing.end].token) if thing.end < framed.found.end else None
    for intent in framed.inner(thing.start, line.word_of[rate.end] if rate is not None else thing.end):
        holding = intent.holding if isinstance(intent, Have | Unclear | Vague) else None
        if holding is not None and amount.measured:
            return holding.quantity
    return None


def _swap(framed: Framed) -> Iterator[Intent]:
    reader = framed.reader
    old, new = framed.things("old", "new")
    held = reader.on_hand(old)
    if len(held) == 1:
        old = replace(old, ids=held, sure=True)
    unsettled = next((thing for thing in (old, new) if len(thing.ids) != 1 or not thing.sure), None)
    if unsettled is None:
        yield Swap(old.ids[0], new.ids[0], framed.span)
    elif unsettled.ids:
        yield Unclear(quoted(reader, unsettled.name_start, unsettled.end), readings(unsettled), framed.span)
    else:
        yield framed.lost(unsettled.nearest)


def _measure(framed: Framed) -> Iterator[Intent]:
    litres = round(framed.places["litres"], 3)
    yield TellMeasure(framed.places["measure"][0], litres, framed.span) if litres > 0 else framed.lost()


def _wanted(framed: Framed) -> Iterator[Intent]:
    ids = [id_ for thing in framed.places["stuff"] for id_ in thing.ids[:1]]
    yield framed.lost(framed.reader.names(ids)[:3])


def _what_if(framed: Framed) -> Iterator[Intent]:
    yield from _supposed(framed, framed.inner(*framed.places["rest"]))


def _about(framed: Framed) -> Iterator[Intent]:
    inner = framed.inner(*framed.places["rest"])
    asked = as_questions(inner)
    if asked is None:
        yield from _supposed(framed, inner)
    else:
        yield from (replace(intent, span=framed.span) for intent in asked)


def _supposed(framed: Framed, inner: Sequence[Intent]) -> Iterator[Intent]:
    """A what-if of what could be read; what could not is named beside it."""
    changes = tuple(intent for intent in inner if isinstance(intent, _CHANGES) and not _is_trouble(intent))
    if changes:
        yield WhatIf(changes, framed.span)
        yield from (intent for intent in inner if isinstance(intent, Lost))
    elif any(not isinstance(intent, Lost) for intent in inner):
        yield from (replace(intent, span=framed.span) for intent in inner if not isinstance(intent, Lost))
    else:
        yield framed.lost(next((intent.nearest for intent in inner if isinstance(intent, Lost)), ()))


def _why(framed: Framed) -> Iterator[Intent]:
    reader = framed.reader
    start, end = framed.places.get("rest", (framed.found.end, framed.found.end))
    told = [at for at in range(start, end) if not (reader.is_filler(at) or reader.line.words[at].mark)]
    if not told:
        yield AskWhy("", framed.span)
        return
    inner = framed.inner(start, end)
    trouble = [intent for intent in inner if _is_trouble(intent)]
    barred = _barred(inner)
    if trouble or barred:
        yield from (replace(intent, span=framed.span) for intent in trouble or barred)
    else:
        about = _line_named(reader, told) or _method_named(reader, told) or quoted(reader, start, end)
        yield AskWhy(about, framed.span)


def _barred(inner: Sequence[Intent]) -> list[Intent]:
    """The materials that "why no meat" and "why is bread bad" ask about."""
    asked: list[Intent] = []
    for intent in inner:
        if isinstance(intent, HaveNot):
            asked.append(AskMaterial(intent.materials[:MOST_OFFERED], intent.span))
        elif isinstance(intent, AskMaterial):
            asked.append(intent)
        else:
            return []
    return asked


def _is_trouble(intent: Intent) -> bool:
    """Whether it tells what is wrong with a heap."""
    if isinstance(intent, Told):
        return intent.attribute.startswith("sign.")
    return isinstance(intent, Enter) and intent.door == "trouble"


def _line_named(reader: Reader, told: Sequence[int]) -> str:
    """The line of the plan that goes by these words."""
    squashed = "".join(reader.line.words[at].form for at in told if reader.line.forms[at] != "line")
    return next((name for name in reader.context.lines if fold(name) == squashed), "")


def _method_named(reader: Reader, told: Sequence[int]) -> str:
    """The method that goes by these words."""
    said = tuple(reader.line.forms[at] for at in told if reader.line.forms[at] != "not")
    for id_, method in reader.knowledge.methods.items():
        if any(said == reader.lexicon.spelling.phrase(name) for name in (method.name, *method.aliases)):
            return id_
    return ""


_FRAMES: Mapping[Frame, Callable[[Framed], Iterator[Intent]]] = {
    "what-if": _what_if,
    "about": _about,
    "ask": _ask,
    "without": _without,
    "less": _less,
    "used": _used,
    "swap": _swap,
    "why": _why,
    "measure": _measure,
    "wanted": _wanted,
}
