"""The sheet that lies open: where it stands, what it says next, and what it keeps in the diary."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import field, replace
from datetime import date
from typing import Final

from advisor.counsel.plan import Line, Plan
from advisor.diary.batches import stored
from advisor.diary.store import Diary, Undo
from advisor.diary.vessels import read_record
from advisor.errors import HouseholdError
from advisor.hearing.hear import hear
from advisor.hearing.shapes import Heard
from advisor.household.shapes import Holding
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.soil_counsel.ground import Ground
from advisor.talk.asking import UNKNOWN, Asked, Meaning
from advisor.talk.bed_notes import BedNote, bed_notes
from advisor.talk.filling import (
    LEAST_TO_LEAVE,
    Filling,
    corrected,
    filling,
    fits,
    is_another_matter,
    numbered,
    reads,
    seen,
)
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Enter,
    Have,
    HaveNot,
    Intent,
    Less,
    Pick,
    Swap,
    TellMeasure,
    TellRoom,
    Told,
    Understood,
    Vague,
    WhatIf,
)
from advisor.talk.memory import Change, Filled, Mended, State, with_mended
from advisor.talk.replies import Option, Question, Reply
from advisor.talk.sheets.playing import Blank, Keep, KeepBed, KeepCheck, Played, Say, Script, bared, played
from advisor.talk.sheets.world import World, amiss
from advisor.units import Units

#: Lines that a sheet says are named so, apart from those of the plan.
PREFIX: Final = "v"


@dataclass(frozen=True)
class Sheets:
    """What the sheets of a talk have come to, beside their answers, which are moves.

    Attributes:
        ground: of the diary, once it was looked into.
        worlds: what stood when each sheet was begun, by the number of the move that opened it.
        undo: what takes out of the diary what a move put there, by its number.
        lines: what a sheet said last, by the names of its lines.
        unknown: what must be known and was not, the last time it was asked.
        refused: what was asked when the last line was refused as no answer, once for each line in a row.
    """

    ground: Ground | None = None
    worlds: Mapping[int, World] = field(default_factory=dict)
    undo: Mapping[int, tuple[Undo, ...]] = field(default_factory=dict)
    lines: Mapping[str, Line] = field(default_factory=dict)
    unknown: str = ""
    refused: tuple[str, ...] = ()


class Interview:
    """Plays the sheets of a talk, and keeps where the open one was found to stand last."""

    def __init__(self, knowledge: Knowledge, engine: Engine, diary: Diary | None, today: date | None) -> None:
        self._knowledge, self._engine, self._today = knowledge, engine, today
        self._diary = diary or Diary(knowledge)
        self._stands = Played()
        self._played: Callable[[Sequence[str]], Played] = _nothing

    def begin(self, sheets: Sheets, state: State, plan: Plan | None, units: Units) -> tuple[Sheets, list[Reply]]:
        """Lay the sheet of the state's door open; what there is to say if the diary cannot be read."""
        replies: list[Reply] = []
        ground, unread = Ground("your beds"), True
        try:
            found = self._diary.read()
            ground, unread = found.ground, bool(found.amiss)
            sheets = replace(sheets, ground=ground)
            replies += [Reply("lost", f"In the diary, what cannot be read: {one}.") for one in found.amiss]
        except HouseholdError as error:
            replies.append(amiss(error))
        world = World(
            self._knowledge,
            self._engine,
            state.household,
            plan,
            units,
            self._today or date.today(),
            ground,
            state.said,
            unread,
            self._stored(),
        )
        return replace(sheets, worlds={**sheets.worlds, state.begun: world}), replies

    def _stored(self) -> tuple[Holding, ...]:
        """Dry browns that the diary says are put by."""
        try:
            return stored(read_record(self._diary.path), self._knowledge)
        except HouseholdError:
            return ()

    def beds(self, sheets: Sheets, units: Units) -> tuple[BedNote, ...]:
        """The beds of the diary with their latest checks, if a sheet has looked into it."""
        return bed_notes(sheets.ground, self._knowledge, units) if sheets.ground is not None else ()

    def _looked_again(self, sheets: Sheets) -> Sheets:
        """Something was kept, or taken out."""
        with suppress(HouseholdError):
            return replace(sheets, ground=self._diary.read().ground)
        return sheets

    def stand(self, sheets: Sheets, state: State, units: Units) -> None:
        """Find where the sheet of a state stands.

        Raises:
            HouseholdError: an answer cannot be read.
        """
        world = sheets.worlds.get(state.begun)
        script = scripts().get(state.door) if world is not None else None
        if script is None or world is None:
            self._played, self._stands = _nothing, Played()
            return
        self._played = lambda answers: played(script(replace(world, units=units)), answers)
        self._stands = self._played(state.filled)

    @property
    def blank(self) -> Blank | None:
        """What is to be filled in."""
        return self._stands.blank

    @property
    def asked(self) -> Asked | None:
        """The same as a question."""
        return _asked(self._stands.blank) if self._stands.blank is not None else None

    def hears(self, text: str, blank: Blank) -> Heard:
        """How some words are read beside a blank."""
        return hear(text, self._knowledge, _asked(blank).put, self._today or date.today())

    def filled_by(
        self, understood: Understood, heard: Heard, answers: Sequence[str]
    ) -> Filling | Mended | list[Reply] | None:
        """What a line does to the open blank, or to one before it.

        Args:
            heard: how the line is read beside the open blank.
            answers: what the blanks before it were filled with.

        Returns:
            What fills it or puts right another; what there is to say if nothing does; or nothing, if the line is
            about something else.
        """
        blank, text = self._stands.blank, seen(understood.text)
        if blank is None or not text:
            return None
        better = corrected(text)
        if better is not None:
            mended = self._mended(better, text, blank, answers)
            if mended is not None:
                return mended
        if is_another_matter(heard, blank) or self._moves_about(understood, heard, blank):
            return None
        for said in filter(None, (text, better)):
            try:
                return filling(said, blank, lambda first, rest: self._follows(answers, first, rest), self.hears)
            except HouseholdError as error:
                wrong = error
        if any(isinstance(intent, _TELLING) for intent in understood.intents) or heard.acts[:1] == ("ask_material",):
            return None
        hint = Reply("answer", "To change what you answered before, say “go back” until it is asked again.")
        return [amiss(wrong), *([hint] if better is not None else [])]

    def _follows(self, answers: Sequence[str], first: str, rest: str) -> bool:
        """Whether the blank behind the open one takes the rest, if the open one is filled with what comes first."""
        blank = self._played((*answers, first)).blank
        return blank is not None and fits(rest, blank, self.hears) is not None

    def _moves_about(self, understood: Understood, heard: Heard, blank: Blank) -> bool:
        """Whether a line asks something of the talk or picks from the list, and nothing else."""
        answers = {option.value for option in blank.options}
        if blank.free and len(understood.text.split()) >= LEAST_TO_LEAVE:
            asked = any(isinstance(intent, Enter) and intent.door != "trouble" for intent in understood.intents)
            if asked and all(isinstance(intent, Enter | Told | Vague) for intent in understood.intents):
                return True  # "deep litter for six hens" is no name for a bed
        as_an_answer = len(understood.text.split()) <= _SHORT and not blank.free and reads(heard, blank)
        if {"yes", "no"} <= answers and heard.options:
            return False  # "no, just the one" picks no first option
        of_a_heap = _HEAP.search(understood.text) is not None

        def about(intent: Intent | Change) -> bool:
            if isinstance(intent, Pick):
                return bool(answers)
            if isinstance(intent, Ask):
                return intent.request not in answers and intent.request not in ("yes", "no")
            if isinstance(
                intent, Enter
            ):  # "it is dead" opens the door of troubles, but not where a soil is asked about
                return not as_an_answer and (intent.door != "trouble" or of_a_heap or not answers)
            return isinstance(intent, AskWhy)

        return bool(understood.intents) and all(map(about, understood.intents))

    def _mended(self, better: str, text: str, blank: Blank, answers: Sequence[str]) -> Mended | list[Reply] | None:
        """The last answer that a correction fits."""
        yes_or_no = {option.value for option in blank.options} == {"yes", "no"}
        answers_it = yes_or_no and bared(text).startswith("no")  # "no, just the one"
        bare_number = better.isdigit()
        for place in reversed(range(len(answers))):
            before = self._stands.filled[place]
            if answers_it and (before.loose or bare_number or fits(better, blank, self.hears) is not None):
                return None
            fit = (
                numbered(better, before)
                if bare_number
                else fits(better, _spoken_of(before, place, len(answers)), self.hears)
            )
            if fit is not None and bared(fit) != bared(answers[place]):
                if any(not isinstance(step, Say) for step in self._stands.new(place)):
                    return [Reply("answer", "That is in your diary already: “go back” takes it out, and asks again.")]
                return self._put_right(Mended(place, fit), answers)
            if bare_number:  # it speaks of nothing but the last
                return None
        return None

    def _put_right(self, mended: Mended, answers: Sequence[str]) -> Mended:
        """The same, with what comes behind it asked again if the questions are not those they were."""
        asked = [blank.ask for blank in self._stands.filled]
        try:
            found = [blank.ask for blank in self._played(with_mended(tuple(answers), mended)).filled]
        except HouseholdError:
            found = []
        return mended if found == asked else replace(mended, alone=True)

    def said_before(self, said: Sequence[str], *, near: bool) -> tuple[str, str] | None:
        """Words said before that fill the open blank, and what they fill it with."""
        blank = self._stands.blank
        for text in said if blank is not None else ():
            found = fits(text, blank, self.hears, near=near) if blank is not None else None
            if found is not None:
                return text, found
        return None

    def heard(self, text: str, said: str = "", place: int | None = None) -> list[Reply]:
        """An answer said back, if it was read in other units or words than it was said.

        Args:
            said: the words in which it was said, if they were others.
            place: of the answer, if it is not to the open blank.
        """
        blank = self._stands.blank if place is None else self._stands.filled[place]
        if blank is None or not text:
            return []
        back = blank.heard(blank.read(text)) if blank.heard is not None else ""
        if not back and said and bared(said) != bared(text):
            back = text
        return [Reply("heard", f"Heard: {back}.")] if back else []

    def goes_on(self, sheets: Sheets, move: int, since: int | None = None) -> tuple[Sheets, list[Reply]]:
        """Say and keep what comes before the next blank, once.

        Args:
            move: the number of the move that led here; taking it back takes out of the diary what was kept.
            since: the place of an answer that was put right; what was said behind it is said anew.
        """
        replies: list[Reply] = []
        for step in self._stands.new(since):
            if isinstance(step, Say):
                replies += _said(step)
            else:
                sheets, reply = self._keep(sheets, step, move)
                replies.append(reply)
        return _with_names(sheets, replies)

    def said_last(self, sheets: Sheets, sheet: State, units: Units) -> tuple[Sheets, list[Reply]]:
        """What a sheet said to the last of its answers, once more; nothing is kept in the diary again."""
        script = scripts().get(sheet.door)
        world = sheets.worlds.get(sheet.begun)
        if script is None or world is None:
            return sheets, []
        replies: list[Reply] = []
        for step in played(script(replace(world, units=units)), sheet.filled).new():
            if isinstance(step, Say):
                replies += _said(step)
        return _with_names(sheets, replies)

    def take_back(self, sheets: Sheets, move: int) -> tuple[Sheets, bool]:
        """Take out of the diary what a move put there; whether there was anything.

        Raises:
            HouseholdError: it cannot be taken out; it can be tried again.
        """
        undone = sheets.undo.get(move, ())
        for undo in reversed(undone):
            undo()
        left = {number: undo for number, undo in sheets.undo.items() if number != move}
        return (self._looked_again(replace(sheets, undo=left)), True) if undone else (sheets, False)

    def _keep(self, sheets: Sheets, step: Keep, move: int) -> tuple[Sheets, Reply]:
        try:
            undo = self._kept(step)
        except HouseholdError as error:
            return sheets, amiss(error)
        undoes = {**sheets.undo, move: (*sheets.undo.get(move, ()), undo)}
        what = "the frosts"
        if isinstance(step, KeepBed):
            what = step.bed.name
        elif isinstance(step, KeepCheck):
            what = f"the {self._knowledge.guides[step.check.guide].name} of {step.bed.name}"
        said = Reply("heard", f"Kept in your diary: {what}. “go back” takes it out again.")
        return self._looked_again(replace(sheets, undo=undoes)), said

    def _kept(self, step: Keep) -> Undo:
        if isinstance(step, KeepBed):
            return self._diary.keep_bed(step.bed)
        if isinstance(step, KeepCheck):
            bed = self._diary.keep_bed(step.bed)
            check = self._diary.keep_check(step.check, step.told)

            def both() -> None:
                check()
                bed()

            return both
        return self._diary.keep_frosts(step.frosts)


_HEAP = re.compile(r"\b(?:heap|pile|bin|tumbler|compost|wormery)s?\b|\bwrong\b", re.IGNORECASE)

#: So many words may name a door and yet be an answer: "about a year".
_SHORT = 5

#: What tells something of the household, if it is no answer to the blank.
_TELLING = (Have, HaveNot, Less, Told, TellRoom, TellMeasure, WhatIf, Swap, AskMaterial)


def _said(step: Say) -> list[Reply]:
    try:
        return list(step.make())
    except HouseholdError as error:
        return [amiss(error)]


def _with_names(sheets: Sheets, replies: Iterable[Reply]) -> tuple[Sheets, list[Reply]]:
    """Replies whose lines have names by which they can be asked why."""
    lines: dict[str, Line] = {}
    said: list[Reply] = []
    for reply in replies:
        named = tuple(_named(reply.lines, len(lines)))
        lines.update({line.id: line for line in named})
        said.append(replace(reply, lines=named))
    return replace(sheets, lines=lines) if lines else sheets, said


def _nothing(_: Sequence[str]) -> Played:
    """No sheet is open."""
    return Played()


def _spoken_of(blank: Blank, place: int, answered: int) -> Blank:
    """The blank, whose number needs no unit beside it if it was the last that was answered."""
    return replace(blank, loose=blank.loose and place < answered - 1)


def _named(lines: Iterable[Line], before: int) -> Iterator[Line]:
    for number, line in enumerate(lines, before + 1):
        yield line.model_copy(update={"id": f"{PREFIX}{number}"})


def _asked(blank: Blank) -> Asked:
    meant: list[Meaning] = [(Filled(option.say),) for option in blank.options]
    options = (*blank.options, Option(UNKNOWN, UNKNOWN))
    question = Question("", blank.ask, blank.why, options, blank.many, figures=not blank.options)
    plain = tuple(option.value for option in blank.options) == ("yes", "no")
    return Asked(question, (*meant, (Filled(""),)), "sheet", plain=plain, also=blank.also)


def scripts() -> Mapping[str, Callable[[World], Script]]:
    """The sheets by their doors; read when the first is asked for, since most talks need none."""
    from advisor.talk.sheets import menus

    return {"soil": menus.soil, "more": menus.more, **menus.SHEETS}
