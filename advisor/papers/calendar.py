"""Dates as an iCalendar file (RFC 5545, Internet Calendaring and Scheduling Core Object Specification, IETF 2009).

Whoever imports such a file again gets no date twice: what is to be done, and for whom, names each date (UID, 3.8.4.7).
A calendar that is written over an earlier one of the same matter keeps what has not changed as it stands; a date that
has changed gets a higher SEQUENCE (3.8.7.4) and a new DTSTAMP (3.8.7.2); one still to come that is no longer planned
is CANCELLED (3.8.1.11), so that it leaves the person's calendar as well. Section numbers from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from hashlib import sha256
from typing import Final
from uuid import UUID, uuid5

from icalendar import Alarm, Calendar, Component, Event

from advisor.errors import OtherFile
from advisor.papers.dates import Dated, Dates
from advisor.safe_text import one_line, safe_text

#: Who wrote a calendar (PRODID, RFC 5545, 3.7.3).
_MAKER: Final = "-//heapwright//NONSGML heapwright//EN"
#: Which matter of whose a calendar is about: a name of our own, as 3.8.8.2 allows.
_ABOUT: Final = "X-HEAPWRIGHT-ABOUT"
#: A digest of all other lines, by which a calendar is known that nobody has changed.
_DIGEST: Final = "X-HEAPWRIGHT-DIGEST:"
#: All names of dates are made from this one (RFC 4122, version 5); it may never change.
_ROOT: Final = UUID("6d3c1f0a-6c1e-5d6b-9a55-0f3c6f4e7b21")
#: SEQUENCE counts the minutes from here, so that it rises even where there is no earlier file.
_COUNTED_FROM: Final = datetime(2020, 1, 1, tzinfo=UTC)

_LONGEST_TITLE: Final = 120
_LONGEST_SPAN = timedelta(days=31)  # a longer window stands on its first day alone: a bar of months hides all else
_EVENING_BEFORE: Final = timedelta(hours=-6)  # 18:00 of the day before, of an event that begins at 0:00

#: What makes a date another one than it was.
_TOLD: Final = ("DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "RRULE", "STATUS")


def calendar_file(dates: Dates, now: datetime, before: str = "") -> str:
    """The calendar, lines folded and ended as the standard asks.

    Args:
        now: with its time zone.
        before: the calendar that is written over; empty if there is none.

    Raises:
        OtherFile: that one is about another matter, or no calendar of ours.
    """
    about = f"{dates.matter}/{one_line(dates.whose)}"
    known = _known(before, about) if before else {}
    found = Calendar()
    found.add("prodid", _MAKER)
    found.add("version", "2.0")
    found.add("x-wr-calname", one_line(dates.name))
    found.add(_ABOUT, about)
    listed = {uid: _event(uid, one, now) for one in dates.dated for uid in [_uid(dates, one)]}
    for uid, event in listed.items():
        found.add_component(_kept(event, known.get(uid), now))
    for dropped in _dropped((known[uid] for uid in known if uid not in listed), now):
        found.add_component(dropped)
    return _marked(bytes(found.to_ical()).decode())


def is_calendar_of_ours(text: str) -> bool:
    """Whether a text is a calendar as this program wrote it; how its lines end does not matter."""
    lines = text.splitlines()
    digests = [line for line in lines if line.startswith(_DIGEST)]
    return len(digests) == 1 and digests[0] == _digest(line for line in lines if line != digests[0])


def _marked(text: str) -> str:
    """The calendar with a digest of its lines among its properties, which come before its dates (3.6)."""
    lines = text.splitlines()
    lines.insert(1, _digest(lines))
    return "".join(f"{line}\r\n" for line in lines)


def _digest(lines: Iterable[str]) -> str:
    return f"{_DIGEST}{sha256(chr(10).join(lines).encode()).hexdigest()[:16]}"


def _known(before: str, about: str) -> dict[str, Component]:
    """The dates of an earlier calendar by their names."""
    if not is_calendar_of_ours(before):
        raise OtherFile("there is another calendar in this file, or it was changed since")
    calendar = Calendar.from_ical(before)
    if str(calendar.get(_ABOUT, "")) != about:
        raise OtherFile(f"this file holds the calendar “{calendar.get('X-WR-CALNAME', '')}”")
    return {str(event["UID"]): event for event in calendar.walk("VEVENT")}


def _uid(dates: Dates, one: Dated) -> str:
    return f"{uuid5(_ROOT, '/'.join((dates.matter, one_line(dates.whose), one.key)))}@heapwright"


def _event(uid: str, one: Dated, now: datetime) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", now.astimezone(UTC).replace(microsecond=0))
    event.add("sequence", int((now - _COUNTED_FROM).total_seconds() // 60))
    long = one.closes - one.opens > _LONGEST_SPAN
    last = one.opens if long else one.closes
    event.add("dtstart", one.opens)
    event.add("dtend", last + timedelta(days=1))  # the first day after it (3.6.1)
    until = f" (until {one.closes.day} {one.closes:%B %Y})" if long else ""
    title = one_line(one.title.rstrip("."), _LONGEST_TITLE - len(until))
    event.add("summary", f"{title[:1].upper()}{title[1:]}{until}")
    event.add("description", safe_text(f"{one.text}{until}"))
    if one.every_days and one.times > 1:
        event.add("rrule", {"freq": "daily", "interval": one.every_days, "count": one.times})
    event.add("status", "CONFIRMED")
    event.add("transp", "TRANSPARENT")  # nobody is busy all day
    latest = one.opens + timedelta(days=one.every_days * (one.times - 1))
    if datetime.combine(latest, time.min, now.tzinfo) + _EVENING_BEFORE > now:  # a past one would ring at once
        event.add_component(_reminder(str(event["SUMMARY"])))
    return event


def _reminder(title: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", title)
    alarm.add("trigger", _EVENING_BEFORE)
    return alarm


def _kept(event: Event, earlier: Component | None, now: datetime) -> Component:
    """The earlier date if it says the same, with its own SEQUENCE and DTSTAMP; else the new one, counted higher."""
    if earlier is None:
        return event
    if all(_told(event, name) == _told(earlier, name) for name in _TOLD):
        return earlier
    return _counted_on(event, earlier, now)


def _told(event: Component, name: str) -> str:
    """A property as it is written, so that what was read and what was made can be compared."""
    raw = event[name].to_ical() if name in event else ""
    return raw if isinstance(raw, str) else bytes(raw).decode()


def _counted_on(event: Component, earlier: Component, now: datetime) -> Component:
    sequence = max(int((now - _COUNTED_FROM).total_seconds() // 60), int(earlier.get("SEQUENCE", 0)) + 1)
    for name, value in (("sequence", sequence), ("dtstamp", now.astimezone(UTC).replace(microsecond=0))):
        event.pop(name.upper(), None)
        event.add(name, value)
    return event


def _dropped(events: Iterable[Component], now: datetime) -> Iterator[Component]:
    """What is no longer planned and still to come, cancelled; what is over stays in the person's calendar as it was."""
    for event in events:
        start = event.decoded("DTSTART", None)
        if not isinstance(start, date) or start < now.date():
            continue
        if str(event.get("STATUS", "")) == "CANCELLED":
            yield event
            continue
        event.pop("STATUS", None)
        event.add("status", "CANCELLED")
        event.subcomponents = [each for each in event.subcomponents if each.name != "VALARM"]
        yield _counted_on(event, event, now)
