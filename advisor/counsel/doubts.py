"""What nobody has said yet, and what each possible answer would change."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from advisor.counsel.plan import Because, Doubt, Line
from advisor.counsel.settle import implied
from advisor.counsel.sketch import Outline, View, answered, sketcher_for
from advisor.counsel.stock import Lot
from advisor.counsel.wording import joined
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.inference.facts import written
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value, parse
from advisor.knowledge.shapes import Attribute, Question
from advisor.records import dataclass

__all__ = ["Prospect", "answered", "attribute_of", "changes", "doubts", "is_open", "outline", "possible", "prospects"]

#: Answers tried for a question that is answered with a number.
_NUMBERS: dict[str, tuple[float, ...]] = {
    "place.room": (0.3, 0.8, 2.25, 20.0),
    "place.holds": (100.0, 300.0, 1000.0),
}


@dataclass(frozen=True, slots=True)
class Prospect:
    """A question not answered yet, with the outline that follows from each answer."""

    question: Question
    now: Outline
    outcomes: tuple[tuple[Value, Outline], ...]

    @property
    def moves(self) -> int:
        """How many of the answers would change the plan."""
        return sum(outline.differs(self.now) for _, outline in self.outcomes)


def outline(household: Household, knowledge: Knowledge, engine: Engine, held: tuple[Lot, ...] | None = None) -> Outline:
    """The bones of the plan for a household, without mixing anything."""
    return sketcher_for(knowledge, engine).view(household, held).now


def prospects(
    household: Household,
    knowledge: Knowledge,
    engine: Engine,
    *,
    passing_over: Collection[str] = (),
    view: View | None = None,
) -> tuple[Prospect, ...]:
    """Every open question with what its answers would bring, in the order of rules/questions.toml.

    Args:
        passing_over: attributes that are not to be asked.
        view: the household as the sketcher sees it, if that has been worked out already.
    """
    view = view or sketcher_for(knowledge, engine).view(household)
    found = []
    for question in knowledge.questions:
        if question.attribute not in passing_over and is_open(question, household, knowledge):
            answers = possible(question.attribute, knowledge)
            outcomes = tuple(zip(answers, view.tried(question.attribute, answers), strict=True))
            found.append(Prospect(question, view.now, outcomes))
    return tuple(found)


def is_open(question: Question, household: Household, knowledge: Knowledge) -> bool:
    """Whether a question is unanswered and worth asking of this household."""
    if question.volunteered or question.attribute in {**household.answers, **implied(household, knowledge)}:
        return False
    if question.attribute == "place.room" and household.room is not None:
        return False
    return all(_holds(text, household, knowledge) for text in question.when)


def possible(attribute: str, knowledge: Knowledge) -> tuple[Value, ...]:
    """The answers a question may have: the words of its attribute, or a few numbers that stand for many."""
    declared = attribute_of(attribute, knowledge)
    return tuple(declared.words) if declared.words else _NUMBERS[attribute]


def attribute_of(name: str, knowledge: Knowledge) -> Attribute:
    """The declaration of an attribute by its full name."""
    kind, _, attribute = name.partition(".")
    return knowledge.kinds[kind].attributes[attribute]


def _holds(text: str, household: Household, knowledge: Knowledge) -> bool:
    condition = parse(text, knowledge.kinds, {})
    return condition.met_by(household.answers.get(condition.name, ()))


def doubts(household: Household, knowledge: Knowledge, engine: Engine) -> tuple[Doubt, ...]:
    """The open questions that would change the plan, those that would change it most often first."""
    open_ones = [prospect for prospect in prospects(household, knowledge, engine) if prospect.moves]
    open_ones.sort(key=lambda prospect: (-prospect.moves, prospect.question.ease))
    return tuple(_doubt(number, prospect, knowledge) for number, prospect in enumerate(open_ones, 1))


def _doubt(number: int, prospect: Prospect, knowledge: Knowledge) -> Doubt:
    question = prospect.question
    moved = "; ".join(changes(prospect, knowledge))
    line = Line(
        id=f"d{number}",
        text=f"{question.ask} {moved}.",
        why=(
            Because(
                statement=question.why,
                origin="computed",
                because="Found by running the consultation again with each answer.",
            ),
        ),
    )
    return Doubt(attribute=question.attribute, ask=question.ask, line=line)


def changes(prospect: Prospect, knowledge: Knowledge) -> Iterator[str]:
    """What the answers that would move the plan would move, answers with the same outcome together."""
    declared = attribute_of(prospect.question.attribute, knowledge)
    by_outcome: dict[Outline, list[str]] = {}
    for answer, after in prospect.outcomes:
        if after.differs(prospect.now):
            said = declared.words[answer] if isinstance(answer, str) else f"{written(answer)} {declared.unit}".strip()
            by_outcome.setdefault(after, []).append(f"“{said}”")
    for after, those in by_outcome.items():
        yield f"{joined(those, 'or')}: {_difference(prospect.now, after, knowledge)}"


#: The ways a heap may be worked, in a word or two.
_AIMS = {
    "hot": "worked hot",
    "steady": "worked steadily",
    "fungal": "worked slowly for fungi",
    "leaf-mould": "left to turn to leaf mould",
    "cold": "without heat",
}


def _difference(now: Outline, after: Outline, knowledge: Knowledge) -> str:
    parts = []
    if after.method != now.method:
        parts.append(knowledge.methods[after.method].name)
    if after.aim != now.aim and after.aim:
        parts.append(_AIMS[after.aim])
    if not parts:
        parts.append(f"{after.turnings} turnings" if after.turnings else "no turning")
    return ", ".join(dict.fromkeys(parts))
