"""The functions that answer the services, from Circumstances and the values of parameters by name.

Each is called as its command is. All raise HouseholdError.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from advisor.household.shapes import Holding, Household
from advisor.services.shapes import Circumstances

if TYPE_CHECKING:
    from advisor.counsel.additions import Additions
    from advisor.counsel.almanac import Almanac
    from advisor.counsel.deep_bed import DeepBed
    from advisor.counsel.heat_shapes import HeatAnswer
    from advisor.counsel.kitchen_shapes import Kitchen
    from advisor.counsel.own_mix_shapes import OwnMix, SampleSum, Towards
    from advisor.counsel.pace import Paces
    from advisor.counsel.plan import Plan
    from advisor.counsel.stead import Substitutes
    from advisor.diagnosis.shapes import Diagnosis
    from advisor.hearing.shapes import Heard
    from advisor.knowledge.conditions import Value

Told = Mapping[str, Any]

DAYS_A_MONTH = 30.4


def whose(at: Circumstances, name: str = "your household") -> Household:
    """The household, or one of that name of which nothing is known."""
    return at.household or Household(name)


def stocked(at: Circumstances, told: Told) -> Household:
    """The household, with what there is for a heap if that was told apart."""
    household = whose(at, "your heap")
    return replace(household, holdings=told["stock"]) if "stock" in told else household


def with_stores(household: Household, stores: Sequence[Holding]) -> Household:
    """The household, with the dry browns of the diary, but for those that it tells of itself."""
    named = {held.material for held in household.holdings}
    return replace(household, holdings=(*household.holdings, *(one for one in stores if one.material not in named)))


def plan(at: Circumstances, _told: Told) -> Plan:
    """A way, a mix and a plan."""
    from advisor.counsel.consult import consult

    return consult(whose(at), at.knowledge, at.planning(), units=at.units)


def blend(at: Circumstances, told: Told) -> OwnMix | SampleSum:
    """Exactly this mix, or the sums of one sample of it."""
    from advisor.counsel.own_mix import Goals, from_amounts, from_parts
    from advisor.counsel.own_mix_lines import own_mix
    from advisor.counsel.own_sample import sample_sum
    from advisor.errors import HouseholdError

    if "dried" in told or "weighed" in told:
        return sample_sum(dried_g=told.get("dried"), weighed=told.get("weighed"), units=at.units)
    household = whose(at)
    if ("parts" in told) == bool(household.holdings):
        hint = "as --have '3 buckets grass clippings, 1 sack straw', as --parts, or as a household"
        raise HouseholdError("say one mix", hint=hint)
    asked: dict[str, Towards] = {"cn": "carbon-nitrogen", "moisture": "moisture"}
    towards = tuple(goal for name, goal in asked.items() if name in told)
    return own_mix(
        from_parts(told["parts"], household, at.knowledge, by_weight=told["by"] == "weight")
        if "parts" in told
        else from_amounts(household, at.knowledge),
        household,
        at.knowledge,
        goals=Goals.usual(at.knowledge, told.get("cn"), told.get("moisture")),
        towards=towards or (tuple(asked.values()) if "add" in told else ()),
        add=told.get("add", ()),
        fill_l=told.get("fill"),
        in_parts="parts" in told,
        units=at.units,
    )


def diagnose(at: Circumstances, told: Told) -> Diagnosis:
    """What is wrong, and the cure."""
    from advisor.diagnosis.diagnose import diagnose as found
    from advisor.diagnosis.diagnose import shipped_diagnosis_engine
    from advisor.diagnosis.signs import as_signs, signs_told

    heard: Heard = told["signs"]
    read = signs_told(heard, at.knowledge)
    signs: Mapping[str, tuple[Value, ...]] = as_signs(read)
    if at.batch is not None:
        from advisor.diary.batches import with_signs

        signs = with_signs(at.batch, signs)
    return found(
        signs,
        at.knowledge,
        shipped_diagnosis_engine(),
        household=at.household,
        went_in=told.get("heap", at.batch.went_in if at.batch is not None else ()),
        units=at.units,
        read=read,
        unplaced=heard.unread,
    )


def year(at: Circumstances, told: Told) -> Almanac:
    """A year, week by week. What is told to come in month by month stands for what the household tells of it."""
    from advisor.counsel.year import year_plan
    from advisor.household.shapes import HouseholdYear

    household = with_stores(whose(at), at.stores)
    own = household.year or HouseholdYear()
    comes = tuple(arrival for some in told.get("comes", ()) for arrival in some)
    if comes:
        named = {arrival.holding.material for arrival in comes}
        kept = [each for each in household.holdings if each.quantity.per == "once" or each.material not in named]
        household = replace(household, holdings=tuple(kept))
    own = replace(
        own,
        arrivals=(*own.arrivals, *comes),
        storage_l=told.get("storage", own.storage_l),
        bays=told.get("bays", own.bays),
    )
    household = replace(household, year=own if own != HouseholdYear() else None)
    return year_plan(household, at.knowledge, at.planning(), units=at.units, balanced=not told["use-all"])


def bedding(at: Circumstances, told: Told) -> DeepBed:
    """A deep bed."""
    from advisor.counsel.deep_bed import Season, deep_bed
    from advisor.counsel.substitutes import shipped_replacing_engine

    season = Season(told["weeks"], told["indoors"], told.get("floor"), told["aim"], told.get("longest"))
    engine = shipped_replacing_engine()
    return deep_bed(told["animals"], season, at.knowledge, engine, household=at.household, units=at.units)


def kitchen(at: Circumstances, told: Told) -> Kitchen:
    """What the scraps of a number of people, or of a household, give in a year."""
    from advisor.counsel.kitchen import kitchen as found

    people = told.get("people")
    return found(
        at.knowledge,
        at.planning(),
        people=people,
        space=told["space"],
        household=at.household if people is None else None,
        units=at.units,
    )


def substitutes(at: Circumstances, told: Told) -> Substitutes:
    """What can be used instead of manure."""
    from advisor.counsel.seasons import season_of
    from advisor.counsel.substitutes import shipped_replacing_engine
    from advisor.counsel.substitutes import substitutes as found

    season = told.get("season") or (season_of(told["month"]) if "month" in told else None)
    engine = shipped_replacing_engine()
    return found(told["for"], at.knowledge, engine, household=at.household, season=season, units=at.units)


def additions(at: Circumstances, told: Told) -> Additions:
    """Herbs, starters and minerals."""
    from advisor.counsel.additions import additions as found
    from advisor.counsel.substitutes import shipped_replacing_engine

    engine = shipped_replacing_engine()
    return found(
        whose(at, "a heap of your own"), at.knowledge, at.planning(), engine, litres=told.get("litres"), units=at.units
    )


def paces(at: Circumstances, told: Told) -> Paces:
    """A quick heap beside a slow one."""
    from advisor.counsel.paces import paces as compared
    from advisor.counsel.paces import shipped_paces_engine

    engine = shipped_paces_engine()
    return compared(stocked(at, told), at.knowledge, at.planning(), engine, units=at.units)


def heat(at: Circumstances, told: Told) -> HeatAnswer:
    """How hot the heap can get. Where no day and no season is known it is built now, or its readings begin with it."""
    from advisor.counsel.heat import HeatAsked, heat_answer, month_of
    from advisor.soil.sanitising import Reading

    household = stocked(at, told)
    log = told.get("readings")
    month = told.get("month")
    if month is None and household.start is None and "place.season" not in household.answers:
        month = (month_of(at.today) - (max(log.days) / DAYS_A_MONTH if log is not None else 0.0)) % 12
    asked = HeatAsked(
        climate=told.get("like", ""),
        latitude=told.get("latitude"),
        months=told.get("monthly", ()),
        air_c=told.get("air"),
        month=month,
        litres=told.get("litres"),
        moisture=told.get("moisture"),
        insulated_mm=1000 * told.get("insulated", 0.0),
        fed_days=7 * told.get("fed", 0.0),
        turned=tuple(sorted({*told.get("turned", ()), *(log.turned if log is not None else ())})),
        never=told["unturned"],
        readings=tuple(map(Reading, log.days, log.celsius)) if log is not None else (),
    )
    return heat_answer(household, at.knowledge, asked, units=at.units)
