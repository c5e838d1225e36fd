"""What stuff is meant, and how much of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from advisor.errors import HouseholdError
from advisor.household.amounts import Phrase as AmountPhrase
from advisor.household.amounts import read_phrase
from advisor.household.shapes import Holding, Per, Quantity
from advisor.household.tokens import fold
from advisor.talk.intents import Have, HaveNot, Intent, Lost, Unclear, Vague
from advisor.talk.reading.found import Found, Stuff
from advisor.talk.reading.losing import quoted, readings
from advisor.talk.reading.things import Reader, Thing


@dataclass(frozen=True)
class Holdings:
    """Turns stuff into what is on hand, or not; when `correcting`, a name means what is on hand already."""

    reader: Reader
    correcting: bool

    def intents(self, found: Found, stuff: Stuff, before: Stuff | None) -> Iterator[Intent]:
        """What stuff means; `before` is the stuff said before it, whose measure a bare number may count in."""
        reader = self.reader
        thing = self.settled(stuff.thing or self.unnamed(stuff), stuff)
        span = reader.line.span(found.start, found.end)
        said = quoted(reader, found.start, found.end)
        if thing is None or not thing.ids:
            nearest = thing.nearest if thing is not None else reader.names(reader.context.materials[:3])
            yield Lost(said, span, nearest)
            return
        if stuff.amount is not None and stuff.amount.count.none:
            for each in (thing, *stuff.others):
                yield HaveNot(reader.on_hand(each) or each.ids, span)
            return
        words = quoted(reader, thing.name_start, thing.end)
        reader.latest = thing.ids[0]
        holding, trouble, usable = self.holding(found, stuff, thing, said, before)
        if len(thing.ids) > 1 or not thing.sure:
            yield Unclear(words, readings(thing), span, holding)
        elif holding is not None and usable:
            yield Have(holding, span, stuff.more)
        else:
            yield Vague(thing.ids[0], words, span, trouble, holding)

    def unnamed(self, stuff: Stuff) -> Thing | None:
        """What an amount without a name is about: what its measure always holds, or what was spoken of last."""
        context = self.reader.context
        measures = stuff.amount.measures if stuff.amount is not None else ()
        implied = [self.reader.lexicon.implied[id_] for id_ in measures if id_ in self.reader.lexicon.implied]
        only = context.materials[0] if len(context.materials) == 1 else ""
        named = self.reader.latest if self.correcting else ""
        material = next(iter(implied), "") or named or context.latest or only
        return Thing(0, 1, (material,), 0) if material in self.reader.knowledge.materials else None

    def settled(self, thing: Thing | None, stuff: Stuff) -> Thing | None:
        """A name looked up if it is not yet, and one of many settled by what is on hand."""
        if thing is None:
            return None
        if not thing.ids and not thing.sure and not thing.nearest:
            thing = self.reader.searched(thing.start, thing.end)
            if stuff.amount is None and not thing.ids:
                return thing
        if len(thing.ids) > 1 or self.correcting or stuff.more:
            held = self.reader.on_hand(thing)
            if len(held) == 1 and thing.sure:
                return replace(thing, ids=held)
        return thing

    def holding(
        self, found: Found, stuff: Stuff, thing: Thing, said: str, before: Stuff | None
    ) -> tuple[Holding | None, str, bool]:
        """The amount, what is wrong with it, and whether it is one to reckon with."""
        if stuff.amount is None:
            return None, "", False
        try:
            phrase = self.amount(found, stuff)
        except HouseholdError as error:
            return None, error.message, False
        if phrase.quantity is None:
            borrowed = self.borrowed(stuff, thing, phrase.per, before)
            if borrowed is not None:
                return Holding(thing.ids[0], borrowed, said), "", True
            return None, phrase.trouble + (f" ({phrase.hint})" if phrase.trouble and phrase.hint else ""), False
        return Holding(thing.ids[0], phrase.quantity, said), "", stuff.measured

    def borrowed(self, stuff: Stuff, thing: Thing, per: Per, before: Stuff | None) -> Quantity | None:
        """ "2 of grass" behind "3 bags of leaves" is two bags."""
        measures = before.amount.measures if before is not None and before.amount is not None else ()
        of = stuff.amount is not None and self.reader.line.forms[thing.start] == "of"
        if not measures or stuff.amount is None or not of or not stuff.amount.bare or stuff.amount.count.negative:
            return None
        count = stuff.amount.count
        packed = self.reader.knowledge.measures[measures[0]].packed
        return Quantity(count.value, count.low, count.high, measures[0], per, packed)

    def amount(self, found: Found, stuff: Stuff) -> AmountPhrase:
        """How much and how often, with all other words blanked out."""
        line = self.reader.line
        masked = {line.words[at].token for start, end in stuff.masked for at in range(start, end)}
        said: list[str] = []
        place = line.words[found.start].start
        for number in range(line.words[found.start].token, line.words[found.end - 1].token + 1):
            token = line.tokens[number]
            slip = token.kind == "word" and token.key != fold(token.text)
            word = " " if number in masked else token.key if slip else token.text
            said.append(line.text[place : token.start] + word)
            place = token.end
        return read_phrase("".join(said), self.reader.knowledge)
