"""Behind the door of troubles: what is seen and smelt becomes causes, the next question, and a cure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, replace
from functools import cached_property

from advisor.counsel.doubts import attribute_of
from advisor.counsel.plan import Line
from advisor.diagnosis.diagnose import diagnose, diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis, NextQuestion
from advisor.diary.batches import Batch, with_signs
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
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


@dataclass(frozen=True)
class CureTold:
    """What the person was told of a heap in trouble, and asked.

    Attributes:
        batch: what the diary tells of the heap that is spoken of.
        lines: those of the answer, by their names.
        kept: those that are told when more is asked for.
        reasons: those that say why.
        warned: the cautions that were told.
        said: the answer that was given, in texts.
        put: attributes that were asked about.
    """

    batch: Batch | None = None
    lines: Mapping[str, Line] = field(default_factory=dict)
    kept: tuple[Line, ...] = ()
    reasons: tuple[Line, ...] = ()
    warned: frozenset[str] = frozenset()
    said: tuple[str, ...] = ()
    put: frozenset[str] = frozenset()


class Ailing:
    """Diagnoses one heap, and keeps the diagnosis that was worked out last."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self.diagnosis: Diagnosis | None = None

    @cached_property
    def _engine(self) -> Engine:
        return diagnosis_engine(self.knowledge)

    def work_out(self, state: State, household: Household, told: CureTold, units: Units) -> None:
        """Diagnose afresh; once enough was asked, the best guess is told."""
        if not state.signs:
            self.diagnosis = None
            return
        answered = {f"sign.{name}" for name in state.signs} | set(state.skipped)
        signs = with_signs(told.batch, state.signs) if told.batch is not None else state.signs
        self.diagnosis = diagnose(
            signs,
            self.knowledge,
            self._engine,
            household=household,
            went_in=told.batch.went_in if told.batch is not None else (),
            units=units,
            asked=len(told.put & answered),
        )

    def news(self, told: CureTold, household: Household) -> tuple[CureTold, list[Reply]]:
        """What there is to say that was not said: cautions that must not be missed, what it is, and the cure.

        Returns:
            What the person is told by then, and what to say.
        """
        found = self.diagnosis
        if found is None or not found.causes:
            return told, []
        grave = [line for line in found.cautions if line.grave and line.text not in told.warned]
        told = replace(told, warned=told.warned.union(line.text for line in grave))
        replies = [Reply("caution", line.text) for line in grave]
        answer = cure_lines(found, self.knowledge)
        care = [line for line in found.cautions if line not in grave and line.text not in told.warned][:_CARE]
        lines = tuple(_named((*answer.shown, *care)))
        said = (answer.first, *(line.text for line in (*answer.shown, *answer.kept)))
        if said == told.said:
            return told, replies
        kept = tuple(_named(answer.kept, len(lines)))
        reasons = tuple(_named(answer.reasons, len(lines) + len(kept)))
        told = replace(
            told,
            said=said,
            warned=told.warned.union(line.text for line in care),
            kept=kept,
            reasons=reasons,
            lines={line.id: line for line in (*lines, *kept, *reasons)},
        )
        replies.append(Reply("verdict", answer.first, lines))
        known = household.holdings or (told.batch is not None and told.batch.went_in)
        if any(cure.dose for cure in found.remedies) and not known:
            more = "Tell me what went into it and what browns you have, and I measure the cure out."
            replies.append(Reply("verdict", more))
        return told, replies

    def again(self, told: CureTold, *, done: bool = False) -> tuple[Reply, ...]:
        """The answer that was given, with its deeds, to somebody who asks what to do; nothing if none was given.

        Args:
            done: whether the first deeds are done: then what to look for, and what if not, comes alone.
        """
        if self.diagnosis is None or not told.lines:
            return ()
        found = cure_lines(self.diagnosis, self.knowledge)
        if done and found.look is not None:
            return (Reply("answer", f"Good. Leave it alone now, and look again.\n{found.look.text}"),)
        behind = {line.id for line in (*told.kept, *told.reasons)}
        lines = tuple(line for line in told.lines.values() if line.id not in behind)
        return (Reply("verdict", found.first, lines),)

    def stands(self, told: CureTold) -> tuple[Reply, ...]:
        """That the answer that was given still holds, with its first deed; nothing if none was given."""
        deed = next((line.text for line in told.lines.values()), "")
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
