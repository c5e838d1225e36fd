"""Dates as iCalendar (RFC 5545, Internet Calendaring and Scheduling Core Object Specification, IETF, 2009), read back.

Section numbers of the standard are from memory.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest
from given import KNOWLEDGE, a_cure, a_year, household, plan_of, seasons
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar, Component

from advisor.counsel.consult import consult, shipped_engine
from advisor.errors import HeapwrightError, OtherFile
from advisor.papers.calendar import calendar_file, is_calendar_of_ours
from advisor.papers.dates import Dated, Dates, dates_of
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.ready import Finished, ready_answer
from advisor.soil_counsel.seasons import seasons_answer

NOW = datetime(2025, 3, 1, 12, 0, tzinfo=UTC)
TODAY = NOW.date()


def read(text: str) -> dict[str, Component]:
    """The dates by their names."""
    events = Calendar.from_ical(text).walk("VEVENT")
    found = {str(event["UID"]): event for event in events}
    assert len(found) == len(events)
    return found


def by_title(text: str) -> dict[str, Component]:
    return {str(event["SUMMARY"]): event for event in read(text).values()}


def some(*dated: Dated, whose: str = "Ours") -> Dates:
    return Dates("plan", whose, dated)


def on(day: date, key: str = "turn-1", title: str = "Turn it", **more: int) -> Dated:
    return Dated(key, day, day, title, title, **more)


ANSWERS = [
    pytest.param(lambda: plan_of("six-hens"), id="plan"),
    pytest.param(lambda: plan_of("tumbler-owner"), id="tumbler"),
    pytest.param(a_year, id="year"),
    pytest.param(a_cure, id="cure"),
    pytest.param(lambda: seasons("allotment-six-beds"), id="seasons"),
]


@pytest.mark.parametrize("answer", ANSWERS)
def test_every_date_comes_back_as_it_was(answer: object) -> None:
    dates = dates_of(answer(), TODAY)  # type: ignore[operator]
    text = calendar_file(dates, NOW)
    calendar = Calendar.from_ical(text)
    assert str(calendar["VERSION"]) == "2.0" and str(calendar["PRODID"]).startswith("-//heapwright//")
    events = list(read(text).values())
    assert len(events) == len(dates.dated)
    for event, one in zip(events, dates.dated, strict=True):
        assert event.decoded("DTSTART") == one.opens  # a date, and so an all-day event (3.6.1)
        assert event["DTSTART"].params["VALUE"] == "DATE"
        short = one.closes - one.opens <= timedelta(days=31)
        assert event.decoded("DTEND") == (one.closes if short else one.opens) + timedelta(days=1)
        assert str(event["DESCRIPTION"]).startswith(one.text)
        assert event.decoded("DTSTAMP") == NOW
        if not short:
            assert f"until {one.closes.day} {one.closes:%B %Y}" in str(event["SUMMARY"])


@pytest.mark.parametrize("answer", ANSWERS)
def test_lines_are_folded_and_ended_as_the_standard_asks(answer: object) -> None:
    """No more than 75 octets but for the end of the line, which is CRLF (3.1)."""
    raw = calendar_file(dates_of(answer(), TODAY), NOW).encode()  # type: ignore[operator]
    assert raw.endswith(b"END:VCALENDAR\r\n")
    lines = raw.split(b"\r\n")
    assert all(len(line) <= 75 for line in lines)
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    for line in lines:
        line.decode()  # no letter is cut in two


def test_the_calendar_of_a_plan_is_its_calendar() -> None:
    plan = plan_of("six-hens")
    titles = by_title(calendar_file(dates_of(plan, TODAY), NOW))
    assert titles["Turn it (2 of 5): outside to the middle"].decoded("DTSTART") == date(2025, 5, 26)
    days = {str(event.decoded("DTSTART")) for event in titles.values()}
    assert days >= {event.date for event in plan.events} | {plan.built, plan.ready_date}
    build = titles["Build: bin"]
    assert all(line.line.text in str(build["DESCRIPTION"]) for line in plan.recipe.lines)


def test_what_is_done_again_and_again_comes_again() -> None:
    roll = next(e for e in read(calendar_file(dates_of(plan_of("tumbler-owner"), TODAY), NOW)).values() if "RRULE" in e)
    assert (roll["RRULE"]["FREQ"], roll["RRULE"]["INTERVAL"], roll["RRULE"]["COUNT"]) == (["DAILY"], [3], [12])
    weekly = [e for e in read(calendar_file(dates_of(a_year(), TODAY), NOW)).values() if "RRULE" in e]
    assert len(weekly) == 12
    assert sum(event["RRULE"]["COUNT"][0] for event in weekly) == 52
    assert {event["RRULE"]["INTERVAL"][0] for event in weekly} == {7}


def test_a_year_whose_months_have_no_year_is_the_one_that_runs_now() -> None:
    year = a_year().model_copy(update={"start": ""})  # begins in September
    first = {day: dates_of(year, day).dated[0].opens for day in (date(2026, 8, 31), date(2026, 9, 1), date(2027, 2, 3))}
    assert list(first.values()) == [date(2025, 9, 1), date(2026, 9, 1), date(2026, 9, 1)]


def test_reminders_ring_on_the_evening_before_and_never_for_what_is_over() -> None:
    dates = some(
        on(date(2025, 3, 2)), on(date(2025, 3, 1), "past"), on(date(2025, 2, 1), "roll", every_days=7, times=8)
    )
    events = list(read(calendar_file(dates, NOW)).values())
    alarms = [event.walk("VALARM") for event in events]
    assert [len(found) for found in alarms] == [1, 0, 1]
    (alarm,) = alarms[0]
    assert str(alarm["ACTION"]) == "DISPLAY" and str(alarm["DESCRIPTION"])  # what 3.6.6 asks of one that is shown
    assert alarm.decoded("TRIGGER") == timedelta(hours=-6)


def test_names_of_dates_are_the_same_each_time_and_differ_from_heap_to_heap() -> None:
    first = read(calendar_file(dates_of(plan_of("six-hens"), TODAY), NOW))
    again = read(calendar_file(dates_of(plan_of("six-hens"), TODAY + timedelta(days=9)), NOW + timedelta(days=9)))
    assert list(first) == list(again)
    renamed = plan_of("six-hens").model_copy(update={"household": "Seven hens"})
    assert not first.keys() & read(calendar_file(dates_of(renamed, TODAY), NOW)).keys()
    assert not first.keys() & read(calendar_file(dates_of(plan_of("coffee-shop"), TODAY), NOW)).keys()


def test_a_heap_built_on_another_day_moves_its_dates_and_doubles_none() -> None:
    before = calendar_file(dates_of(plan_of("six-hens"), TODAY), NOW)
    later = replace(household("six-hens"), start=date(2025, 4, 5))
    moved = consult(later, KNOWLEDGE, shipped_engine())
    after = read(calendar_file(dates_of(moved, TODAY), NOW + timedelta(hours=1), before))
    old = read(before)
    assert after.keys() == old.keys()
    for uid, event in after.items():
        assert event.decoded("DTSTART") - old[uid].decoded("DTSTART") == timedelta(days=7)
        assert event["SEQUENCE"] > old[uid]["SEQUENCE"]  # 3.8.7.4
        assert event.decoded("DTSTAMP") == NOW + timedelta(hours=1)


def test_what_has_not_changed_stays_as_it_was_to_the_letter() -> None:
    before = calendar_file(dates_of(plan_of("six-hens"), TODAY), NOW)
    assert calendar_file(dates_of(plan_of("six-hens"), TODAY), NOW + timedelta(days=40), before) == before


def test_next_years_calendar_of_a_bed_goes_on_with_this_years() -> None:
    from given import ground

    first = seasons("dead-clay")
    begun = replace(ground("dead-clay"), starts=date(2027, 3, 1))
    later = seasons_answer(begun, KNOWLEDGE, shipped_soil_engine(), number=1)
    of_2027 = {one.key for one in dates_of(first, TODAY).dated if one.opens.year == 2027 and one.key.startswith("2027")}
    assert of_2027 & {one.key for one in dates_of(later, TODAY).dated}
    keys = [one.key for one in dates_of(seasons("allotment-six-beds"), TODAY).dated]
    assert len(set(keys)) == len(keys)


def test_what_is_no_more_planned_is_cancelled_if_it_is_still_to_come() -> None:
    dates = some(on(date(2025, 2, 1), "gone"), on(date(2025, 4, 1)), on(date(2025, 5, 1), "turn-2"))
    before = calendar_file(dates, NOW)
    after = calendar_file(some(on(date(2025, 4, 1))), NOW, before)
    states = {event.decoded("DTSTART"): str(event["STATUS"]) for event in read(after).values()}
    assert states == {date(2025, 4, 1): "CONFIRMED", date(2025, 5, 1): "CANCELLED"}
    cancelled = next(event for event in read(after).values() if str(event["STATUS"]) == "CANCELLED")
    assert not cancelled.walk("VALARM") and cancelled["SEQUENCE"] > read(before)[str(cancelled["UID"])]["SEQUENCE"]
    assert calendar_file(some(on(date(2025, 4, 1))), NOW + timedelta(days=1), after) == after
    back = read(calendar_file(dates, NOW + timedelta(days=2), after))
    assert str(back[str(cancelled["UID"])]["STATUS"]) == "CONFIRMED"


def test_a_calendar_of_another_matter_is_not_written_over() -> None:
    of_hens = calendar_file(dates_of(plan_of("six-hens"), TODAY), NOW)
    with pytest.raises(OtherFile, match="Six hens"):
        calendar_file(dates_of(plan_of("coffee-shop"), TODAY), NOW, of_hens)
    with pytest.raises(OtherFile, match="another calendar"):
        calendar_file(some(), NOW, of_hens.replace("heapwright//NONSGML", "another//NONSGML"))
    assert is_calendar_of_ours(of_hens)


@pytest.mark.parametrize(
    ("answer", "hint"),
    [
        (lambda: plan_of("six-hens").model_copy(update={"built": ""}), "--start"),
        (lambda: seasons("dead-clay").model_copy(update={"years": ()}), "--last-frost"),
        (lambda: ready_answer(Finished({"smell": "earthy"}), KNOWLEDGE, shipped_soil_engine()), "--manure"),
    ],
    ids=["plan", "seasons", "ready"],
)
def test_an_answer_without_days_says_what_it_needs(answer: object, hint: str) -> None:
    with pytest.raises(HeapwrightError, match=hint):
        dates_of(answer(), TODAY)  # type: ignore[operator]


def test_first_harvests_after_manure_have_their_days() -> None:
    """120 and 90 days (7 CFR 205.203(c), USDA National Organic Program, 2000), counted from the day it is worked in."""
    told = Finished({}, manure_on=date(2025, 4, 1))
    dates = dates_of(ready_answer(told, KNOWLEDGE, shipped_soil_engine()), TODAY)
    assert {one.key: (one.opens - date(2025, 4, 1)).days for one in dates.dated} == {
        "touches-soil": 120,
        "clear-of-soil": 90,
    }


_WORDS = st.text(st.characters(blacklist_categories=("Cs",)), max_size=90)


@given(_WORDS, _WORDS)
def test_any_words_come_back_and_drive_nothing(whose: str, title: str) -> None:
    text = calendar_file(some(on(date(2025, 4, 1), title=f"T {title}"), whose=whose), NOW)
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    (event,) = read(text).values()
    from advisor.safe_text import one_line, safe_text

    assert str(event["SUMMARY"]) == one_line(one_line(f"T {title}".rstrip("."), 120))
    assert str(event["DESCRIPTION"]).split() == safe_text(f"T {title}").split()
    signs = "".join(text.split("\r\n"))
    assert not any(ord(sign) < 32 and sign != "\t" for sign in signs)
    again = calendar_file(some(on(date(2025, 4, 1), title=f"T {title}"), whose=whose), NOW + timedelta(days=1), text)
    assert again == text


@given(st.text(max_size=200))
def test_no_text_breaks_the_reading_of_an_earlier_calendar(text: str) -> None:
    assert not is_calendar_of_ours(text)
    assert not is_calendar_of_ours(f"BEGIN:VCALENDAR\n{text}\nEND:VCALENDAR\n")


@given(st.integers(0, 10_000), st.sampled_from('x;:,\n\r\0\u2028"\\'))
def test_a_calendar_in_which_a_sign_was_put_is_somebody_elses(place: int, sign: str) -> None:
    ours = calendar_file(some(on(date(2025, 4, 1)), on(date(2025, 5, 1), "turn-2")), NOW)
    assert is_calendar_of_ours(ours) and is_calendar_of_ours(ours.replace("\r\n", "\n"))
    place %= len(ours)
    changed = f"{ours[:place]}{sign}{ours[place:]}"
    if changed.split() != ours.split() or sign not in "\n\r":
        assert not is_calendar_of_ours(changed)
        with pytest.raises(OtherFile):
            calendar_file(some(on(date(2025, 4, 1))), NOW, changed)


def test_keys_are_kept_in_the_order_of_days() -> None:
    for answer in (a_year(), seasons("allotment-six-beds"), plan_of("six-hens")):
        opens = [one.opens for one in dates_of(answer, TODAY).dated]
        assert all(one <= other for one, other in pairwise(opens))
