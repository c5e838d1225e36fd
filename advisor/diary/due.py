"""What is due today: deeds of every vessel by rules over its record, the most needed first, each with its reason."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from pydantic import Field

from advisor.counsel.in_use import engine_of
from advisor.counsel.plan import Because
from advisor.diagnosis.reasons import because_of
from advisor.diary.beds_standing import check_due
from advisor.diary.entries import ToKeep, Told, Vessel, VesselKind
from advisor.diary.standing import Now, standing
from advisor.diary.vessels import Record
from advisor.errors import HouseholdError
from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.parts import care
from advisor.knowledge.shapes import Due, Shape
from advisor.records import dataclass
from advisor.units import Units, fill

#: No more deeds are named at a time: what a person can do in a day.
MOST_DEEDS: Final = 5
#: For how many days a skipped deed is not named again, where its own span is shorter. Common practice, no source.
_SKIPPED_FOR: Final = 7


class DueDeed(Shape):
    """A deed that is due.

    Attributes:
        deed: its name in rules/today.toml.
        vessel: the name of the vessel.
        name, say: the deed in a few words, and how to do it.
        reason: why it is due now, in one or two sentences.
        since: when it was done or told of last, in a sentence; `reason` begins with it. Empty if that is not counted.
        kind: what the vessel is.
        back: whether it is due because nothing was told of it for a long time.
        weather: whether it is due because of the weather that was told.
        late: for how many days it has been due; 0 if that is not counted.
        ahead: in how many days it will be due; 0 if it is due now.
        agree: how far the sources agree; empty if nobody compared them.
        why: the rules and facts behind it.
    """

    deed: str = Field(description="its name in rules/today.toml")
    vessel: str = Field(description="the heap, bin or bed")
    name: str = Field(description="the deed in a few words")
    say: str = Field(description="how to do it")
    reason: str = Field(description="why it is due now")
    since: str = Field(default="", description="when it was done last, in a sentence")
    kind: VesselKind = Field(default="heap", description="what that is")
    back: bool = Field(default=False, description="whether it is due because nothing was told for a long time")
    weather: bool = Field(default=False, description="whether it is due because of the weather")
    late: int = Field(default=0, description="for how many days it has been due")
    ahead: int = Field(default=0, description="in how many days it will be due, if it is not today")
    agree: str = Field(default="", description="how far the sources agree")
    why: tuple[Because, ...] = Field(default=(), description="rules, facts and sources")


class DueList(Shape):
    """What is due on a day.

    Attributes:
        more: how many further deeds are due and were left out.
        vessels, beds: how many heaps and bins, and how many beds, it was worked out for.
    """

    day: date
    deeds: tuple[DueDeed, ...] = ()
    more: int = 0
    vessels: int = 0
    beds: int = 0


@dataclass(frozen=True, slots=True)
class _Found:
    order: int
    late: int
    deed: DueDeed
    turns: bool  # whether a turn alone settles it


def _same_work(one: _Found, other: _Found) -> bool:
    """Whether two deeds are one piece of work on one vessel: "turn it" for two reasons."""
    return one.deed.vessel == other.deed.vessel and one.turns and other.turns


def shipped_care_engine() -> Engine:
    """The engine with the rules of the day in use, compiled once."""
    return engine_of(care)


def due_list(
    record: Record, now: Now, knowledge: Knowledge, engine: Engine, *, units: Units = "metric", most: int = MOST_DEEDS
) -> DueList:
    """The deeds that are due, the most needed first; a deed of one vessel once.

    Args:
        most: how many deeds are given; the rest is counted.

    Raises:
        InferenceFault: a rule broke.
    """
    vessels = [one for one in record.vessels if one.ended is None or one.ended > now.today]
    found = [one for vessel in vessels for one in _due_of(vessel, record, now, knowledge, engine, units)]
    found.sort(key=lambda one: (one.order, -one.late, one.deed.vessel))
    found = [one for at, one in enumerate(found) if not any(_same_work(one, other) for other in found[:at])]
    deeds = tuple(one.deed for one in found[:most])
    beds = sum(one.kind == "bed" for one in vessels)
    return DueList(day=now.today, deeds=deeds, more=len(found) - len(deeds), vessels=len(vessels) - beds, beds=beds)


def week_list(
    record: Record, now: Now, knowledge: Knowledge, engine: Engine, *, units: Units = "metric", days: int = 7
) -> DueList:
    """The same for some days to come, if nothing is told meanwhile: what is due now first, then what will be."""
    found: dict[tuple[str, str], DueDeed] = {}
    whole = DueList(day=now.today)
    for ahead in range(days):
        whole = due_list(
            record, replace(now, today=now.today + timedelta(ahead)), knowledge, engine, units=units, most=99
        )
        for deed in whole.deeds:
            found.setdefault((deed.vessel, deed.deed), deed.model_copy(update={"ahead": ahead}))
    deeds = sorted(found.values(), key=lambda one: one.ahead)
    kept = tuple(deeds[:MOST_DEEDS])
    return whole.model_copy(update={"day": now.today, "deeds": kept, "more": len(deeds) - len(kept)})


def _due_of(
    vessel: Vessel, record: Record, now: Now, knowledge: Knowledge, engine: Engine, units: Units
) -> Iterator[_Found]:
    facts = standing(record, vessel, now, knowledge)
    counted = {fact.attribute: float(fact.value) for fact in facts if not isinstance(fact.value, str)}
    named = knowledge.notices["due"]
    with engine.consultation() as talk:
        talk.tell(facts, "told in the diary")
        for name in sorted(one for one in named if talk.values("due", "stands", one)):
            notice = named[name]
            if not isinstance(notice, Due) or _is_done(name, notice, vessel, record, now.today):
                continue
            key = Fact("due", "stands", name, "yes").key
            why = because_of(talk, key, knowledge)
            rests_on = {talk.known[one].attribute for firing in talk.concluding(key) for one in firing.matched}
            since = _since(notice, vessel, record, now, counted, knowledge)
            because = next((one.because for one in why if one.because), "")
            late = int(counted[notice.counts]) - notice.by if notice.by and notice.counts in counted else 0
            deed = DueDeed(
                deed=name,
                vessel=vessel.name,
                name=notice.name,
                say=fill(notice.say, {}, units),
                reason=f"{since} {because}".strip(),
                since=since,
                kind=vessel.kind,
                back=notice.back,
                weather="weather" in rests_on,
                late=max(0, late),
                agree=notice.agree,
                why=why,
            )
            yield _Found(notice.order, late, deed, turns=tuple(notice.done) == ("turned",))


def _since(
    notice: Due, vessel: Vessel, record: Record, now: Now, counted: dict[str, float], knowledge: Knowledge
) -> str:
    """When it was done last, in a sentence; empty if that is not counted."""
    if notice.counts not in counted:
        return ""
    if notice.counts == "check_late":
        told = next(one for one in record.beds if one.name.casefold() == vessel.name.casefold())
        check, _ = check_due(told, now.today, knowledge) or ("", 0)
        return f"You last did the {knowledge.guides[check].name} {_days((now.today - told.checks[check]).days)}."
    lead = _COUNTED.get(notice.counts, "")
    return lead.format(days=_days(int(counted[notice.counts])))


_COUNTED: Final = {
    "days_turned": "It was last turned, or begun, {days}.",
    "days_watered": "It was last watered, or begun, {days}.",
    "days_drained": "It was last drained, or begun, {days}.",
    "days_fed": "It was last fed {days}.",
    "days_closed": "It was closed {days}.",
    "days_buried": "It was buried {days}.",
    "days_spread": "Compost was last spread on it {days}.",
    "days_begun": "It was begun {days}.",
    "days_read": "Its temperature was last read {days}.",
    "days_heard": "You last told of it {days}.",
}


def _days(days: int) -> str:
    if days == 0:
        return "today"
    if days == 1:
        return "yesterday"
    if days < 21:
        return f"{days} days ago"
    return f"{round(days / 7)} weeks ago" if days < 75 else f"{round(days / 30.4)} months ago"


def _is_done(name: str, notice: Due, vessel: Vessel, record: Record, today: date) -> bool:
    """Whether a deed was done lately, is put off, or was skipped."""
    for one in record.of(vessel.name):
        ago = (today - one.day).days
        if ago < 0:
            continue
        itself = one.kind in notice.done or (one.kind == "done" and one.told.deed == name)
        if itself and ago < max(1, notice.again):
            return True
        if one.told.deed != name:
            continue
        if one.kind == "skipped" and ago < max(_SKIPPED_FOR, notice.again):
            return True
        if one.kind == "put off" and one.told.until is not None and one.told.until > today:
            return True
    return False


def settled(deed: DueDeed, how: str, today: date, knowledge: Knowledge, *, days: int = 1) -> tuple[ToKeep, ...]:
    """The entries that record that a deed was "done", "put off" by some days, or "skipped".

    A deed that is done is also kept as the entry that it is, if it is only one: a turning, a watering.

    Raises:
        HouseholdError: it is put off by no day or by more than a year.
    """
    told = Told(deed=deed.deed)

    def entry_of(kind: str, said: str, told: Told) -> ToKeep:
        of = {"vessel": deed.vessel, "vessel_kind": deed.kind, "day": today}
        return ToKeep.model_validate({**of, "kind": kind, "told": told, "said": said})

    if how == "put off":
        if not 1 <= days <= 366:
            raise HouseholdError("a deed is put off by 1 to 366 days")
        until = Told(deed=deed.deed, until=today + timedelta(days))
        return (entry_of("put off", f"put off {days} days", until),)
    if how == "skipped":
        return (entry_of("skipped", "skipped", told),)
    entry = entry_of("done", "done", told)
    notice = knowledge.notices["due"].get(deed.deed)
    kinds = notice.done if isinstance(notice, Due) else ()
    if len(kinds) != 1 or kinds[0] not in _ITSELF:
        return (entry,)
    return (entry_of(kinds[0], "done", Told()), entry)


_ITSELF: Final = frozenset(
    {"turned", "watered", "covered", "drained", "checked", "emptied", "harvested", "buried", "spread", "planted"}
)


def is_south(record: Record) -> bool:
    """Whether the place is south of the equator: as it was told, or else as the last frost of spring tells."""
    told = [one for one in record.entries if "hemisphere" in one.told.signs]
    last = max(told, key=lambda one: one.number, default=None)
    if last is not None:
        return last.told.signs["hemisphere"] == ("south",)
    return record.last_frost >= _SOUTHERN_SPRING


_SOUTHERN_SPRING: Final = "07"  # a last frost from July on is one of the south; none was told where it is ""


def hemisphere_entry(*, south: bool, today: date) -> ToKeep:
    """The entry that keeps on which side of the equator the place is."""
    side = "south" if south else "north"
    told = Told(signs={"hemisphere": (side,)})
    return ToKeep(day=today, kind="place", told=told, said=f"{side} of the equator")
