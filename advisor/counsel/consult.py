"""A whole consultation: rules and arithmetic take turns, and the plan is written from what they concluded."""

from __future__ import annotations

from advisor.counsel.blending import blend
from advisor.counsel.doubts import doubts
from advisor.counsel.in_use import engine_of
from advisor.counsel.plan import Plan
from advisor.counsel.settle import settle
from advisor.counsel.stock import Lot
from advisor.counsel.writing import Writer
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.parts import planning
from advisor.units import Units


def consult(
    household: Household,
    knowledge: Knowledge,
    engine: Engine,
    *,
    units: Units = "metric",
    with_doubts: bool = True,
    held: tuple[Lot, ...] | None = None,
) -> Plan:
    """The plan for a household. The same household always gets the same plan.

    Args:
        with_doubts: also find out what each unanswered question would change, which takes a consultation for each
            answer it might have.
        held: the lots of the household, if they have been worked out already.

    Raises:
        HouseholdError: amounts out of all bounds.
        InferenceFault: a rule broke.
    """
    with engine.consultation() as talk:
        settled = settle(talk, household, knowledge, held)
        blended = blend(talk, settled, household, knowledge)
        writer = Writer(talk, household, knowledge, settled, blended, units)
        plan = writer.plan()
    if not with_doubts:
        return plan
    return plan.model_copy(update={"doubts": doubts(household, knowledge, engine)})


def shipped_engine() -> Engine:
    """The engine with the rules of planning in use, compiled once."""
    return engine_of(planning)
