"""Behind the door of troubles: what is seen and smelt becomes causes, the next question, and a cure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property

from advisor.counsel.doubts import attribute_of
from advisor.counsel.plan import Line
from advisor.diagnosis.diagnose import diagnose, diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis, NextQuestion
from advisor.diary.batches import Batch, with_signs
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.talk.asking import NOWHERE, UNKNOWN, Asked, Meaning
from advisor.talk.cure_lines import cure_lines
from advisor.talk.intents import Told
from advisor.talk.memory import Skip, State
from advisor.talk.replies import Option, Question, Reply
from advisor.talk.saying import lower, upper
from advisor.units import Units, temperature_text

#: Readings offered where a thermometer is asked for, in °C.
_READINGS = (15.0, 35.0, 55.0, 75.0)
#: So many cautions of care are shown with a cure, each once in a talk; the grave ones come before it, all of them.
_CARE = 2
_UNSEEN = "Tell me what you see, smell and feel, in your own words: “it stinks of rotten eggs”, “it is stone cold”."


def unseen(state: State) -> list[Reply]:
    """Ask for signs where the talk is about a heap in trouble and no sign is known; empty if it is not."""
    return [Reply("answer", _UNSEEN)] if state.in_trouble else []


class Ailing:
    """Diagnoses one heap, and remembers what it has said of it."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self.forget()

    def forget(self) -> None:
        """Forget what was said, as it was about another heap."""
        self.diagnosis: Diagnosis | None = None
        self.batch: Batch | None = None  # what the diary tells of the heap that is spoken of
        self.lines: dict[str, Line] = {}
        self.kept: tuple[Line, ...] = ()  # told when more is asked for
        self.reasons: tuple[Line, ...] = ()
        self._warned: set[str] = set()
        self._said: tuple[str, ...] = ()
        self._put: set[str] = set()  # attributes that were asked about

    @cached_property
    def _engine(self) -> Engine:
        return diagnosis_engine(self.knowledge)

    def work_out(self, state: State, household: Household, units: Units) -> None:
        """Diagnose afresh; once enough was asked, the best guess is told."""
        if not state.signs:
            self.diagnosis = None
            return
        answered = {f"sign.{name}" for name in state.signs} | set(state.skipped)
        signs = with_signs(self.batch, state.signs) if self.batch is not None else state.signs
        self.diagnosis = diagnose(
            signs,
            self.knowledge,
            self._engine,
            household=household,
            went_in=self.batch.went_in if self.batch is not None else (),
            units=units,
            asked=len(self._put & answered),
        )

    def news(self, household: Household) -> list[Reply]:
        """What there is to say that was not said: cautions that must not be missed, what it is, and the cure."""
        found = self.diagnosis
        if found is None or not found.causes:
            return []
        grave = [line for line in found.cautions if line.grave and line.text not in self._warned]
        self._warned.update(line.text for line in grave)
        replies = [Reply("caution", line.text) for line in grave]
        answer = cure_lines(found, self.knowledge)
        care = [line for line in found.cautions if line not in grave and line.text not in self._warned][:_CARE]
        lines = tuple(_named((*answer.shown, *care)))
        said = (answer.first, *(line.text for line in (*answer.shown, *answer.kept)))
        if said != self._said:
            self._said = said
            self._warned.update(line.text for line in care)
            self.kept = tuple(_named(answer.kept, len(lines)))
            self.reasons = tuple(_named(answer.reasons, len(lines) + len(self.kept)))
            self.lines = {line.id: line for line in (*lines, *self.kept, *self.reasons)}
            told = [answer.first]
            known = household.holdings or (self.batch is not None and self.batch.went_in)
            if any(cure.dose for cure in found.remedies) and not known:
                told.append("Tell me what went into it and what browns you have, and I measure the cure out.")
            replies.append(Reply("verdict", told[0], lines))
            replies += [Reply("verdict", more) for more in told[1:]]
        return replies

    def again(self, *, done: bool = False) -> tuple[Reply, ...]:
        """The answer that was given, with its deeds, to somebody who asks what to do; nothing if none was given.

        Args:
            done: whether the first deeds are done: then what to look for, and what if not, comes alone.
        """
        if self.diagnosis is None or not self.lines:
            return ()
        found = cure_lines(self.diagnosis, self.knowledge)
        if done and found.look is not None:
            return (Reply("answer", f"Good. Leave it alone now, and look again.\n{found.look.text}"),)
        behind = {line.id for line in (*self.kept, *self.reasons)}
        lines = tuple(line for line in self.lines.values() if line.id not in behind)
        return (Reply("verdict", found.first, lines),)

    def stands(self) -> tuple[Reply, ...]:
        """That the answer that was given still holds, with its first deed; nothing if none was given."""
        deed = next((line.text for line in self.lines.values()), "")
        if self.diagnosis is None or not deed:
            return ()
        return (
            Reply(
                "answer",
                f"That does not change what I said: {lower(cure_lines(self.diagnosis, self.knowledge).first)}\n{deed}",
            ),
        )

    def next_asked(self, state: State, units: Units) -> Asked | None:
        """The most telling question that was not passed over."""
        found = self.diagnosis or diagnose({}, self.knowledge, self._engine, units=units)
        worth_asking = [question for question in found.questions if question.attribute not in state.skipped]
        if not set(state.signs) - {
            "method"
        }:  # the order of the file: what can be seen and smelt before what must be remembered
            order = [question.attribute for question in self.knowledge.sign_questions]
            worth_asking.sort(key=lambda question: order.index(question.attribute))
        for question in worth_asking:
            self._put.add(question.attribute)
            return _asked(question, units, many=attribute_of(question.attribute, self.knowledge).many)
        return None


def _named(lines: Iterable[Line], after: int = 0) -> Iterator[Line]:
    """With names of their own, so that they are not taken for lines of the plan."""
    for number, line in enumerate(lines, after + 1):
        yield line.model_copy(update={"id": f"t{number}"})


def _asked(question: NextQuestion, units: Units, *, many: bool) -> Asked:
    if question.answers:
        options = [Option(upper(answer.text), answer.text, answer.value) for answer in question.answers]
        meant: list[Meaning] = [(Told(question.attribute, (answer.value,), NOWHERE),) for answer in question.answers]
    else:
        told = [temperature_text(value, units) if question.unit == "°C" else f"{value:g} %" for value in _READINGS]
        options = [Option(f"About {each}", each) for each in told]
        meant = [(Told(question.attribute, (value,), NOWHERE),) for value in _READINGS]
    put = Question(question.attribute, question.ask, question.why, (*options, Option(UNKNOWN, UNKNOWN)), many)
    return Asked(put, (*meant, (Skip(question.attribute),)), question.attribute)
