"""One consultation with the rules of the soil, and its notices as lines."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from advisor.counsel.cautions import raised
from advisor.counsel.in_use import engine_of
from advisor.counsel.plan import Because
from advisor.diagnosis.reasons import because_of
from advisor.inference.engine import Consultation, Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.parts import soil
from advisor.knowledge.shapes import Notice
from advisor.records import dataclass

Why = tuple[Because, ...]


@dataclass(frozen=True, slots=True)
class Said:
    """A notice that stands, with its reasons."""

    name: str
    notice: Notice
    why: Why


@dataclass(frozen=True, slots=True)
class Judged:
    """What the rules concluded: words of `soil` and of finish.unfit, each with its reasons; and the notices.

    `between` and `barred_between` are living mulches, in the order of their table: those that suit the step and family
    told, and those that are kept out.
    """

    found: Mapping[str, Why]
    dressing: Mapping[str, Why]
    next_check: Mapping[str, Why]
    unfit: Mapping[str, Why]
    advice: tuple[Said, ...]
    cautions: tuple[Said, ...]
    between: Mapping[str, Why]
    barred_between: Mapping[str, Why]


def judge(told: Iterable[tuple[Fact, str]], knowledge: Knowledge, engine: Engine) -> Judged:
    """What the rules make of facts, each with the words it came from. The order of the facts does not matter.

    Raises:
        InferenceFault: a fact that is not declared, or two values where one can hold.
    """
    with engine.consultation() as talk:
        by_origin: dict[str, list[Fact]] = {}
        for fact, origin in told:
            by_origin.setdefault(origin, []).append(fact)
        for origin, facts in sorted(by_origin.items()):
            talk.tell(facts, origin)
        return Judged(
            _words(talk, "soil", "found", knowledge),
            _words(talk, "soil", "dressing", knowledge),
            _words(talk, "soil", "next_check", knowledge),
            _words(talk, "finish", "unfit", knowledge),
            _notices(talk, "advice", knowledge),
            _notices(talk, "caution", knowledge),
            _named(talk, "between", "fits", knowledge),
            _named(talk, "between", "barred", knowledge),
        )


def shipped_soil_engine() -> Engine:
    """The engine with the rules of the soil in use, compiled once."""
    return engine_of(soil)


def soil_engine(knowledge: Knowledge) -> Engine:
    """An engine with the rules of the soil alone. Make one and keep it."""
    return Engine(*soil(knowledge))


def _words(talk: Consultation, kind: str, attribute: str, knowledge: Knowledge) -> dict[str, Why]:
    return {
        str(value): because_of(talk, Fact(kind, attribute, "", value).key, knowledge)
        for value in talk.values(kind, attribute)
    }


def _named(talk: Consultation, kind: str, attribute: str, knowledge: Knowledge) -> dict[str, Why]:
    """The subjects of which an attribute was concluded, in the order of their table."""
    facts = {name: Fact(kind, attribute, name, "yes") for name in knowledge.living_mulches}
    return {
        name: because_of(talk, fact.key, knowledge)
        for name, fact in facts.items()
        if talk.values(kind, attribute, name)
    }


def _notices(talk: Consultation, kind: str, knowledge: Knowledge) -> tuple[Said, ...]:
    named = knowledge.notices[kind]
    return tuple(
        Said(name, named[name], because_of(talk, Fact(kind, "stands", name, "yes").key, knowledge))
        for name in raised(talk, kind, knowledge)
    )
