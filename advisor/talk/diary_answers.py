"""Answers from the diary: whether a batch is ready, where compost goes, and when a deed was done last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Final

from advisor.counsel.plan import Line
from advisor.counsel.wording import counted
from advisor.diary.batches import HOT_C, Batch
from advisor.diary.beds_standing import of_bed
from advisor.diary.by_day import near_day
from advisor.diary.entries import EntryKind
from advisor.diary.saying import spoken_name
from advisor.diary.standing import batch
from advisor.diary.vessels import Record
from advisor.errors import HouseholdError
from advisor.heap.ranges import figure
from advisor.hearing.times import day_text
from advisor.knowledge.base import Knowledge
from advisor.soil_counsel.ground import Ground
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.ready import ready_answer
from advisor.soil_counsel.shapes import ReadyAnswer
from advisor.soil_counsel.spread import spread_answer
from advisor.talk.replies import Reply
from advisor.talk.saying import upper
from advisor.units import Units, area_text, fill, length_text, temperature_text, volume_text

#: The rule by which a gardener counts hot days, and the one for weed seeds. Others are told by `heapwright ready`.
_COUNTED: Final = "us-windrow"
_SEEDS: Final = "home-seeds"
_MOST_LINES, _MOST_CARE = 3, 2
_DONE: Final[dict[EntryKind, str]] = {
    "turned": "turned", "watered": "watered", "fed": "fed", "harvested": "harvested", "emptied": "emptied",
    "drained": "drained", "covered": "covered", "spread": "spread", "sieved": "sieved", "buried": "buried",
    "begun": "started", "closed": "closed",
}  # fmt: skip


def ready_reply(told: Batch, knowledge: Knowledge, units: Units, today: date) -> Reply | None:
    """Whether a batch is ready, and for what, by what the diary tells of it.

    Returns:
        Nothing if the diary says too little: then the general answer is better.
    """
    if not told.finished.checks and not {"smell", "looks", "reheats"} & told.finished.words.keys():
        return None
    try:
        answer = ready_answer(told.finished, knowledge, shipped_soil_engine(), units=units)
    except HouseholdError:
        return None  # a reading that no heap has
    named = {part.title: part.lines for part in answer.parts}
    lines = [line for part in answer.parts if part.grave for line in part.lines]
    lines += named.get("Ready for what", ())[1:]
    lines += [
        Line(id="d1", text=text, why=())
        for text in (*_course(told, units, today), *_heat(answer, told, knowledge, units))
    ]
    if "manure" in told.finished.holds:
        splash, clear = (figure(knowledge.figures, f"manure-wait-{name}-days").typical for name in ("splash", "clear"))
        text = (
            f"Manure went in. Unless the heap was proven hot throughout, wait {splash:g} days from spreading to the "
            f"harvest of what touches the soil, {clear:g} days for the rest. Your rules may ask for more."
        )
        lines.append(Line(id="d2", text=text, why=()))
    lines += named.get("What to do meanwhile", named.get("What to do", ()))[:_MOST_LINES]
    verdict = named["Ready for what"][0].text
    return Reply("answer", "\n".join((f"{upper(told.vessel.name)}: {verdict}", *(line.text for line in lines))))


def _course(told: Batch, units: Units, today: date) -> Iterator[str]:
    """How it went so far in one line."""
    parts = [f"begun {day_text(told.begun)}{'' if told.begun.year == today.year else f' {told.begun.year}'}"]
    if told.turnings:
        parts.append(f"turned {'once' if told.turnings == 1 else f'{told.turnings} times'}")
    if told.last_hot is not None:
        parts.append(f"last at {temperature_text(HOT_C, units)} or more on {day_text(told.last_hot)}")
    if told.sunk_pct is not None:
        parts.append(f"sunk by {told.sunk_pct:.0f} %")
    yield f"By your diary: {', '.join(parts)}."


def _heat(answer: ReadyAnswer, told: Batch, knowledge: Knowledge, units: Units) -> Iterator[str]:
    """Days at 55 °C as they were recorded, and the rule of thumb for weed seeds."""
    if not answer.logs:
        return
    log = answer.logs[0]
    least = next(rule.celsius for rule in knowledge.heat_rules if rule.id == _COUNTED)
    hot = [day for day, celsius in zip(log.days, log.celsius, strict=True) if celsius >= least]
    seeds = next((one for one in answer.heat if one.rule == _SEEDS), None)
    limit = temperature_text(least, units)
    days = counted(len(hot), "day") if hot else "no day"
    most = f"; the hottest was {temperature_text(told.hottest_c, units)}" if told.hottest_c is not None else ""
    yield f"Heat in the middle: {days} read at {limit} or more{most}."
    if seeds is not None and not seeds.reached:
        yield "That is too little to count on dead weed seeds and germs: they need days of it, with turnings between."


def where_reply(
    ground: Ground,
    litres: float,
    *,
    castings: bool,
    manure: bool,
    knowledge: Knowledge,
    units: Units,
    today: date,
) -> Reply | None:
    """On which beds compost goes and how much on each; nothing if neither its amount nor any bed is known.

    Args:
        litres: finished compost there is; 0 if nobody said.
        castings: whether it is from worms.
        manure: whether manure may be in it: no batch is known, or manure went in.
    """
    if castings:
        return Reply("answer", fill(knowledge.notices["advice"]["castings-by-share"].say, {}, units))
    beds = tuple(bed for bed in ground.beds if bed.area_m2 is not None)
    if not beds:
        if litres <= 0:
            return None
        deep = figure(knowledge.figures, "dressing-upkeep-cm")
        area = litres / (10 * deep.typical)
        return Reply(
            "answer",
            f"On your beds, {length_text(deep.typical / 100, units)} deep: {volume_text(litres, units)} cover about "
            f"{area_text(area, units)}.\nHungry crops come first: cabbages, squash, tomatoes. Rake it into the top.\n"
            "Tell me your beds (“how much compost for my beds?”), and I share it out.",
        )
    told = replace(ground, beds=beds, finished_litres=litres if litres > 0 else None)
    answer = spread_answer(told, knowledge, shipped_soil_engine(), units=units, today=today)
    parts = {part.title: part.lines for part in answer.parts}
    care = [line for line in parts.get("Take care", ()) if line.id.startswith(("k1", "x") if manure else "x")]
    lines = (
        *parts.get("First of all", ()),
        *parts.get("How much, where", ()),
        *parts.get("In all", ()),
        *parts.get("What to do besides", ())[:_MOST_LINES],
        *care[:_MOST_CARE],
    )
    return Reply("answer", "\n".join(upper(line.text) for line in lines))


def last_time_reply(record: Record, vessel: str, kinds: Sequence[EntryKind], today: date) -> Reply | None:
    """When a deed was done last to what is in a vessel; nothing if it was not told."""
    of = record.vessel(vessel)
    entries = () if of is None else of_bed(record, of) if of.kind == "bed" else batch(record, of)
    done = [one for one in entries if one.kind in kinds and one.day <= today]
    if not done:
        return None
    last = max(done, key=lambda one: one.day)
    ago = (today - last.day).days
    when = near_day(last.day, today) or f"{ago} days ago"
    on_bed = of is not None and of.kind == "bed" and last.kind == "spread"
    said = "last had compost" if on_bed else f"was last {_DONE.get(last.kind, last.kind)}"
    return Reply("answer", f"{upper(spoken_name(vessel))} {said} on {day_text(last.day)}, {when}.")
