"""From readings of a sentence to what the person means by it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from advisor.household.shapes import Room
from advisor.knowledge.conditions import Value
from advisor.talk.intents import Ask, AskWhy, Enter, Intent, Pick, Span, TellRoom, Told, Which
from advisor.talk.reading.choosing import Chosen
from advisor.talk.reading.found import Area, Found, PartOf, Phrase, Picked, Stuff
from advisor.talk.reading.frames import Framed, Inner, meant
from advisor.talk.reading.holdings import Holdings
from advisor.talk.reading.lexicon import Answers, Doors, Frames, Requests, Signs
from advisor.talk.reading.losing import lost, quoted
from advisor.talk.reading.parting import parted
from advisor.talk.reading.things import Reader, Thing

_SMALLHOLDING_M2 = 2000.0  # half an acre; our own line between a garden and a smallholding
_ROOM, _SPACE, _HOLDS = "place.room", "place.space", "place.holds"
_AND = frozenset({"and", "plus", "+", "&"})


@dataclass
class _Placed:
    """Words of a sentence, from one up to another, and what they mean."""

    start: int
    end: int
    intents: list[Intent]


@dataclass(frozen=True)
class Meaner:
    """Turns readings into intents."""

    reader: Reader
    inner: Inner

    def sentence(self, chosen: Chosen) -> list[Intent]:
        """Everything a sentence means, in order."""
        placed = [_Placed(each.start, each.end, list(self.one(chosen, at))) for at, each in enumerate(chosen.found)]
        for at, each in enumerate(chosen.found):
            if isinstance(each.what, PartOf):
                self.part(placed, chosen, at, each.what)
        placed += [_Placed(each.start, each.end, list(self.intents(each))) for each in chosen.beside]
        placed.sort(key=_place)
        for start, end in chosen.asides:
            self.attach(placed, start, end)
        for start, end in chosen.left:
            ids = [id_ for thing in chosen.names if start <= thing.start < end for id_ in thing.ids]
            placed.append(_Placed(start, end, [lost(self.reader, start, end, self.reader.names(ids[:3]))]))
        placed.sort(key=_place)
        return [intent for each in placed for intent in each.intents]

    def part(self, placed: list[_Placed], chosen: Chosen, at: int, part: PartOf) -> None:
        """Take a part from the amount before it."""
        found = chosen.found[at]
        before = next((each for each in range(at - 1, -1, -1) if not isinstance(chosen.found[each].what, PartOf)), at)
        made = parted(self.reader, chosen.found[before], placed[before].intents, found, part)
        if made is None:
            placed[at].intents = [lost(self.reader, found.start, found.end)]
        else:
            placed[before].intents, placed[at].intents = made

    def attach(self, placed: list[_Placed], start: int, end: int) -> None:
        """Give an aside to the reading before it, or else to the one behind it."""
        before = [each for each in placed if each.end <= start]
        taker = max(before, key=lambda each: each.end) if before else placed[0]
        first, last = self.reader.line.span(start, end)
        taker.start, taker.end = min(taker.start, start), max(taker.end, end)
        taker.intents = [widened(intent, first, last) for intent in taker.intents]

    def one(self, chosen: Chosen, at: int) -> Iterator[Intent]:
        """What the reading of that number means beside its neighbours."""
        found = chosen.found[at]
        if not isinstance(found.what, Stuff):
            return self.intents(found)
        before = chosen.found[at - 1] if at else None
        behind = chosen.found[at + 1] if at + 1 < len(chosen.found) else None
        first = before.end if before is not None else chosen.start
        last = behind.start if behind is not None else chosen.end
        stuff = replace(found.what, more=found.what.more or self.comes_on_top(found, first, last))
        if stuff.thing is None and behind is not None:
            stuff = replace(stuff, thing=self.shared_name(found, behind))
        borrowed = before.what if before is not None and isinstance(before.what, Stuff) else None
        return Holdings(self.reader, chosen.correcting).intents(found, stuff, borrowed)

    def comes_on_top(self, found: Found, before: int, after: int) -> bool:
        """Whether "also" or "on top" stands beside an amount, between two marks or readings."""
        line = self.reader.line
        first = next((at + 1 for at in range(found.start - 1, before - 1, -1) if line.words[at].mark), before)
        last = next((at for at in range(found.end, after) if line.words[at].mark), after)
        beside = (*line.forms[first : found.start], "", *line.forms[found.end : last])
        for phrase in self.reader.lexicon.on_top:
            for at in range(len(beside) - len(phrase) + 1):
                listing = beside[at + len(phrase) : at + len(phrase) + 1] == ("as",)
                if beside[at : at + len(phrase)] == phrase and not listing:
                    return True
        return False

    def shared_name(self, found: Found, behind: Found) -> Thing | None:
        """The name that "a barrow" shares in "a barrow and two buckets of grass"."""
        between = self.reader.line.forms[found.end : behind.start]
        if not isinstance(behind.what, Stuff) or behind.what.amount is None or not between or set(between) - _AND:
            return None
        return behind.what.thing

    def intents(self, found: Found) -> Iterator[Intent]:
        """What one reading means by itself."""
        span = self.reader.line.span(found.start, found.end)
        what = found.what
        if isinstance(what, Stuff):
            yield from Holdings(self.reader, False).intents(found, what, None)
        elif isinstance(what, Phrase):
            yield from self.phrase(found, what, span)
        elif isinstance(what, Room):
            yield self.room(what, span)
        elif isinstance(what, Area):
            yield self.area(what, span)
        elif isinstance(what, Picked):
            yield Pick(what.number, span)
        elif not isinstance(what, PartOf):  # which means something only beside its whole
            yield AskWhy(what.line, span)

    def phrase(self, found: Found, phrase: Phrase, span: Span) -> Iterator[Intent]:
        """What an entry of the lexicon means."""
        meaning = phrase.entry.meaning
        if isinstance(meaning, Answers):
            yield from self.answers(found, meaning, dict(phrase.captures), span)
        elif isinstance(meaning, Requests):
            yield Ask(meaning.request, span)
        elif isinstance(meaning, Doors):
            yield Enter(meaning.door, span)
        elif isinstance(meaning, Signs):
            yield Told(meaning.attribute, (meaning.value,), span) if meaning.attribute else Enter("trouble", span)
        elif isinstance(meaning, Frames):
            yield from meant(meaning.frame, Framed(self.reader, found, dict(phrase.captures), self.inner))

    def answers(self, found: Found, meaning: Answers, places: dict[str, Any], span: Span) -> Iterator[Intent]:
        """An answer, and a second one to another question if the phrase holds it."""
        values: tuple[Value, ...] = meaning.values
        number = next((value for place, value in places.items() if place.split()[0] == meaning.place), None)
        if number is not None:
            number = self.within(meaning.second or meaning.attribute, number)
        if meaning.place and not meaning.second:
            values = (number,) if number is not None else ()
        if not values:
            yield lost(self.reader, found.start, found.end)
        elif meaning.either:
            yield Which(meaning.attribute, values, quoted(self.reader, found.start, found.end), span)
        else:
            yield Told(meaning.attribute, values, span)
        if meaning.second and number is not None:
            yield Told(meaning.second, (number,), span)

    def within(self, name: str, number: float) -> float | None:
        """The number, if it can be an answer."""
        kind, _, attribute = name.partition(".")
        low, high = self.reader.knowledge.kinds[kind].attributes[attribute].number or (number, number)
        return round(number, 2) if low <= number <= high else None

    def room(self, room: Room, span: Span) -> Intent:
        """A ground plan; with a height, and the container asked after, what that holds."""
        if self.reader.context.attribute == _HOLDS and room.height_m is not None:
            number = self.within(_HOLDS, 1000 * room.length_m * room.width_m * room.height_m)
            if number is not None:
                return Told(_HOLDS, (number,), span)
        return TellRoom(room, span)

    def area(self, area: Area, span: Span) -> Intent:
        """Ground in square metres; land in acres says what kind of place it is, unless the ground was asked for."""
        if area.land and self.reader.context.attribute != _ROOM:
            return Told(_SPACE, ("smallholding" if area.square_metres >= _SMALLHOLDING_M2 else "garden",), span)
        number = self.within(_ROOM, area.square_metres)
        return Told(_ROOM, (number if number is not None else 10_000.0,), span)


def _place(placed: _Placed) -> tuple[int, int]:
    return placed.start, -placed.end


def widened(intent: Intent, first: int, last: int) -> Intent:
    """The same, its place reaching over more words."""
    return replace(intent, span=(min(intent.span[0], first), max(intent.span[1], last)))
