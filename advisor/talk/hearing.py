"""From what a line was taken to mean to what it changes, and the words to say so."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from advisor.counsel.wording import joined
from advisor.errors import HouseholdError
from advisor.hearing.people import PEOPLE
from advisor.household.amounts import read_phrase
from advisor.household.shapes import Holding, Household
from advisor.household.tokens import shown
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.talk.asking import NOWHERE, Asked, guess, reading_asked, which_asked
from advisor.talk.intents import (
    Have,
    HaveNot,
    Intent,
    Less,
    Lost,
    Span,
    TellMeasure,
    TellRoom,
    Told,
    Unclear,
    Unsaid,
    Vague,
    Which,
)
from advisor.talk.lessening import lessened
from advisor.talk.memory import ALONE, Change, Forget, Guess, Load, Skip, State, after
from advisor.talk.saying import answer, change, holding, none_of, room, taken_words, topic, upper
from advisor.units import Units

_MOST_LOST = 6  # of a pasted page, so many pieces are named
_LONGEST_LOST = 60
_STOPS = re.compile(r"[,;:.!?]")
_MUCH = 2.0  # times as much as usual is "lots"; our own estimate
_NAMED = 3  # materials that are named one by one
_KIND = re.compile(r"\b(?:any|no|of) (\w+(?: \w+)?)$", re.IGNORECASE)


@dataclass
class Heard:
    """What a line changes, and what there is to say about it.

    Attributes:
        changes: in their order.
        said: each change in words, for the list of what was told.
        back: what to say back of each.
        left_open: what is not known.
        guessed: whether an amount was taken at a guess.
        lost: what could not be placed, in sentences.
        asked: questions about words with two near readings.
        materials: materials spoken of.
    """

    changes: list[Change] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    back: list[str] = field(default_factory=list)
    left_open: list[str] = field(default_factory=list)
    guessed: bool = False
    lost: list[str] = field(default_factory=list)
    asked: list[Asked] = field(default_factory=list)
    materials: list[str] = field(default_factory=list)


def listened(intents: Iterable[Intent | Change], text: str, state: State, knowledge: Knowledge, units: Units) -> Heard:
    """What some intents change of a state. Requests and questions among them are passed over."""
    listener = _Listener(text, state, knowledge, units)
    for intent in sorted(intents, key=lambda intent: not _scales(intent)):
        listener.take(intent)
    listener.close()
    return listener.heard


def _scales(intent: Intent | Change) -> bool:
    """Whether amounts depend on what is told: "3 buckets of grounds, my bucket is 12 L", "peelings, family of four"."""
    return isinstance(intent, TellMeasure) or (isinstance(intent, Told) and intent.attribute == PEOPLE)


def amount_told(material: str, text: str, knowledge: Knowledge) -> Have | HaveNot | str:
    """An amount of a material, as it is put in a table: "4 sacks", "none"; or why it cannot be taken.

    Raises:
        KeyError: there is no such material.
    """
    name = knowledge.materials[material].name
    try:
        phrase = read_phrase(text, knowledge)
    except HouseholdError as error:
        return upper(f"{error}.")
    if phrase.none:
        return HaveNot((material,), NOWHERE)
    if phrase.quantity is None:
        hint = phrase.hint or "say it in buckets, sacks, litres or kg"
        return f"{upper(name)}: {phrase.trouble or 'this is no amount'} ({hint})."
    return Have(Holding(material, phrase.quantity, f"{phrase.said} of {name}"), NOWHERE)


class _Listener:
    def __init__(self, text: str, state: State, knowledge: Knowledge, units: Units) -> None:
        self.text, self.state, self.knowledge, self.units = text, state, knowledge, units
        self.heard = Heard()
        self.new: set[str] = set()  # materials told in this line
        self.lost: list[Lost] = []

    def take(self, intent: Intent | Change) -> None:
        match intent:
            case Have():
                self.have(intent)
            case Guess(held):
                self.guess(held.material, intent)
            case Vague():
                self.vague(intent)
            case HaveNot(materials, span):
                self.have_not(intent, materials, span)
            case Less():
                self.less(intent)
            case Told(attribute, values, _):
                self.told(intent, attribute, values)
            case TellRoom(ground, _):
                self.told_room(intent, ground.length_m * ground.width_m)
            case TellMeasure(_, litres, span):
                if litres > 0:
                    self.change(intent)
                else:
                    self.lost.append(Lost(self.words(span), span))
            case Unclear():
                self.heard.asked.append(reading_asked(intent, self.knowledge))
            case Which():
                self.heard.asked.append(which_asked(intent, self.knowledge))
            case Skip(key):
                self.make(intent, "")
                self.heard.left_open.append(topic(key, self.knowledge))
            case Forget() | Load() | Unsaid():
                self.change(intent)
            case Lost():
                self.lost.append(intent)
            case _:
                pass

    # ------------------------------------------------------------ materials

    def have(self, intent: Have) -> None:
        name = intent.holding.material
        before = [held for held in self.state.household.holdings if held.material == name]
        if name in self.new and not intent.more:  # "a barrow of leaves and two sacks of leaves" are both there
            intent = replace(intent, more=True)
        if intent.holding.quantity.high <= 0:
            self.have_not(HaveNot((name,), intent.span), (name,), intent.span)
            return
        back = holding(intent.holding, self._household(), self.knowledge, self.units)
        if intent.more and before:
            back = f"another {back}"
        elif before and not intent.more:
            was = joined([holding(held, self._household(), self.knowledge, self.units) for held in before])
            back = f"{back}, in place of {was.split(' (')[0]}" if was != back else f"{back}, as before"
        self.make(intent, back)
        self.new.add(name)
        self.heard.materials.append(name)

    def vague(self, vague: Vague) -> None:
        if vague.trouble:
            self.heard.lost.append(f"Of “{shown(vague.words)}”: {vague.trouble}.")
        self.guess(vague.material, Guess(self._guessed(vague)))

    def _guessed(self, vague: Vague) -> Holding:
        """A guess at how much there is: of kitchen scraps by the week and by who eats, whatever the word for it."""
        people = self.state.household.answers.get(PEOPLE, (2.0,))[0]
        usual = guess(vague.material, self.knowledge, float(people))
        if vague.holding is None or usual.quantity.per == "once":
            return vague.holding or usual
        much = vague.holding.quantity.count > usual.quantity.count
        return guess(vague.material, self.knowledge, float(people), _MUCH if much else 1.0)

    def guess(self, material: str, intent: Guess) -> None:
        self.heard.materials.append(material)
        told = any(held.material == material for held in self.state.household.holdings)
        if told or material in self.new:
            if material not in self.new:
                self.heard.back.append(f"{self.knowledge.materials[material].name}, as you said before")
            return
        self.make(intent, f"{holding(intent.holding, self._household(), self.knowledge, self.units)}, at a guess")
        self.heard.guessed = True
        self.new.add(material)

    def have_not(self, intent: HaveNot, materials: Sequence[str], span: Span) -> None:
        there = [held.material for held in self.state.household.holdings if held.material in materials]
        words = _STOPS.split(self.words(span))[0].strip()  # "no manure, what can I use": the question is none of it
        said = none_of(there or materials, self.knowledge)
        if not there and words.lower().startswith(("no ", "without ", "none ")):
            said = words
        elif not there and len(materials) > _NAMED and (kind := _KIND.search(words)) is not None:
            said = f"no {kind[1]}"  # "I haven't got any manure": a whole class by the word that was used
        self.make(intent, said)

    def less(self, intent: Less) -> None:
        """So much less: what is left takes the place of what there was, and never falls below zero."""
        name = self.knowledge.materials[intent.material].name
        amounts = [made for made in self.heard.changes if isinstance(made, Have | HaveNot | Guess)]
        stands = after(self.state, amounts, self.knowledge)
        there = [held for held in stands.household.holdings if held.material == intent.material]
        self.heard.materials.append(intent.material)
        if not there:
            self.heard.lost.append(f"You have not told me of any {name}, so there is nothing to take from.")
            return
        found = lessened(there, intent.taken, self._household(), self.knowledge)
        if isinstance(found, str):
            self.heard.lost.append(f"{upper(name)}: {found}.")
            return
        words = f"{taken_words(intent, self.knowledge, self.units)} less"
        if found.short:
            words += " (there was no more)"
        left = [holding(held, self._household(), self.knowledge, self.units) for held in found.left]
        self.heard.back.append(f"{words}, so {joined(left) if left else f'no {name}'}")
        guessed = intent.material in stands.guesses
        made: list[Change] = [
            Guess(held) if guessed else Have(held, intent.span, more=number > 0)
            for number, held in enumerate(found.left)
        ]
        self.heard.changes += made or [HaveNot((intent.material,), intent.span)]
        self.heard.said.append(words)

    # ------------------------------------------------------------ answers

    def told(self, intent: Told, attribute: str, values: Sequence[Value]) -> None:
        good = tuple(value for value in values if _fits(attribute, value, self.knowledge))
        if not good:
            self.lost.append(Lost(self.words(intent.span) or ", ".join(map(str, values)), intent.span))
            return
        if attribute == "place.room":
            self.told_room(replace(intent, values=good), float(good[0]))
            return
        kind, _, name = attribute.partition(".")
        if attribute == "sign.method":  # which vessel it is shows in what is said of it
            self.make(replace(intent, values=good), "")
            return
        told = self.state.signs.get(name, ()) if kind == "sign" else self.state.household.answers.get(attribute, ())
        before = tuple(told)
        back = answer(attribute, good, self.knowledge, self.units)
        many = self.knowledge.kinds[kind].attributes[name].many
        if {*good} <= {*before}:
            back += ", as before"
        elif before and (not many or ALONE & {*before, *good}):
            back += f", in place of {answer(attribute, before, self.knowledge, self.units)}"
        self.make(replace(intent, values=good), back)
        if attribute == PEOPLE:
            self.guess_anew(float(good[0]))

    def guess_anew(self, people: float) -> None:
        """Guess again at the scraps of a kitchen, now that it is known for how many it cooks."""
        for held in self.state.household.holdings:
            if held.material in self.state.guesses and held.quantity.per == "week":
                self.make(Guess(guess(held.material, self.knowledge, people)), "")

    def told_room(self, intent: TellRoom | Told, area_m2: float) -> None:
        if not _fits("place.room", area_m2, self.knowledge):
            self.lost.append(Lost(self.words(intent.span), intent.span))
            return
        back = change(intent, self._household(), self.knowledge, self.units)
        ground = self.state.household.room
        if ground is not None:
            back += f", in place of {room(ground, self.units)}"
        self.make(intent, back)

    # ------------------------------------------------------------ what comes of it

    def change(self, made: Change) -> None:
        self.make(made, change(made, self._household(), self.knowledge, self.units))

    def make(self, made: Change, back: str) -> None:
        self.heard.changes.append(made)
        self.heard.said.append(change(made, self._household(), self.knowledge, self.units))
        if back:
            self.heard.back.append(back)
        if isinstance(made, TellMeasure | TellRoom | Told):
            self.state = after(self.state, [made], self.knowledge)

    def close(self) -> None:
        for lost in self.lost[:_MOST_LOST]:
            words = shown(lost.words, _LONGEST_LOST)
            near = [self.knowledge.materials[n].name if n in self.knowledge.materials else n for n in lost.nearest]
            hint = f" Did you mean {joined(near[:3], 'or')}?" if near else ""
            self.heard.lost.append(f"I could not place “{words}”.{hint}")
        more = len(self.lost) - _MOST_LOST
        if more > 0:
            self.heard.lost.append(f"Nor {more} more pieces of it.")

    def words(self, span: Span) -> str:
        """What was typed there."""
        return shown(self.text[span[0] : span[1]], _LONGEST_LOST).strip()

    def _household(self) -> Household:
        return self.state.household


def _fits(attribute: str, value: Value, knowledge: Knowledge) -> bool:
    """Whether an answer is one that its attribute takes."""
    kind, _, name = attribute.partition(".")
    declared = knowledge.kinds[kind].attributes.get(name) if kind in knowledge.kinds else None
    if declared is None or declared.origin != "answer":
        return False
    if declared.number is None:
        return value in declared.words
    return not isinstance(value, str) and declared.number[0] <= value <= declared.number[1]
