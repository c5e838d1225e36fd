"""What a line asks that the diary can answer, and of how much compost. What answers it is loaded only then."""

from __future__ import annotations

from datetime import date
from typing import Final

from advisor.diary.amounts import litres_told
from advisor.diary.entries import EntryKind, MaterialTold, Vessel
from advisor.diary.items import KIND_OF, MADE
from advisor.diary.vessels import Record
from advisor.hearing.shapes import Heard
from advisor.knowledge.base import Knowledge


def asked_of_diary(heard: Heard) -> str:
    """What a line asks that the diary can answer: "ready", "where" compost goes, or "last" time; empty if nothing."""
    topics = {question.topic for question in heard.asked}
    acts = {question.act for question in heard.asked}
    made = any(set(one.ids) & MADE for one in heard.materials) or any(
        (fact.name, fact.value) == ("sign.progress", "looks-ready") or fact.name in ("deed.harvested", "deed.sieved")
        for fact in heard.told
    )
    if "ask_ready" in acts and topics & {"ready", "heat-will", "hot-how-long", "use-ready"}:
        return "ready"
    if made and (topics & _WHERE or (acts & {"ask_soil", "ask_use"} and not topics - {""})):
        return "where"
    return "last" if acts and set(heard.text.casefold().split()) >= _LAST else ""


def kinds_asked(heard: Heard) -> list[EntryKind]:
    """The kinds of entry that a line asks after."""
    found = [KIND_OF[fact.name] for fact in heard.facts if fact.name in KIND_OF]
    made = any(set(one.ids) & MADE for one in heard.materials)
    return found or (["harvested"] if made else [])


_WHERE: Final = frozenset({"where-put", "ready", "spread-how-much", "use-where"})
_LAST: Final = frozenset({"when", "last"})
#: What was taken out so lately is what a person means who asks where it goes. Common practice, no source.
_TAKEN_LATELY: Final = 60


def litres_said(heard: Heard, knowledge: Knowledge) -> float:
    """Litres of the compost that a line tells of; 0 if it tells none."""
    for one in heard.amounts:
        quantity = one.quantity
        if one.stance != "told" or quantity is None or (one.ids and not set(one.ids) & MADE):
            continue
        told = MaterialTold(count=quantity.count, measure=quantity.measure)
        if litres := litres_told(told, knowledge):
            return litres
    return 0.0


def harvested_litres(record: Record, vessel: Vessel | None, today: date, knowledge: Knowledge) -> float:
    """Litres that were lately taken out of a vessel, or of all, and not spread since."""
    litres = 0.0
    for one in record.entries:
        if not 0 <= (today - one.day).days <= _TAKEN_LATELY or (vessel is not None and one.vessel != vessel.name):
            continue
        way = {"harvested": 1, "sieved": 1, "spread": -1}.get(one.kind, 0)
        litres += way * sum(litres_told(each, knowledge) for each in one.told.materials)
    return max(0.0, litres)
