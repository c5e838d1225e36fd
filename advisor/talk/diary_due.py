"""What the diary says is due, on the first screen and asked for: each deed with its how and why, and its outcome."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Final

from advisor.diary.due import DueDeed, DueList, due_list, is_south, settled, shipped_care_engine, week_list
from advisor.diary.due_lines import away_line, count_of, deed_title, due_lines, more_of, nothing_due
from advisor.diary.standing import Now
from advisor.diary.vessels import Changed, Record, keep, read_record
from advisor.errors import HouseholdError
from advisor.hearing.settling import asks_of_days, asks_what_is_due, days_told, settling
from advisor.hearing.shapes import Heard
from advisor.hearing.times import day_text
from advisor.knowledge.base import Knowledge
from advisor.papers.sources import cited
from advisor.talk.asking import NOWHERE, UNKNOWN, Asked
from advisor.talk.diary_changes import DiaryChanges
from advisor.talk.intents import LookAtDeed, SettleDeed
from advisor.talk.replies import Option, Question, Reply
from advisor.talk.saying import upper
from advisor.units import Units

#: How many deeds the first screen and an answer of the talk show at the most: what can be read at a glance.
MOST_AT_A_GLANCE: Final = 3
#: Signs that a line may tell which asks for the list of the day: how long, and in what weather.
_NO_TROUBLE: Final = frozenset({"sign.age", "sign.weather", "sign.method", "sign.stage"})
_AWAY: Final = frozenset({"holiday", "worms-away", "away"})
_SAY = "Say “done 1”, “put off 1”, “skip 1”, or “why 1”."
_PUT_OFF_DAYS: Final = 2


class DueToday:
    """The list of the day, and what becomes of the deeds on it."""

    def __init__(self, path: Path | None, knowledge: Knowledge, day: Callable[[], date], changes: DiaryChanges) -> None:
        """Begin.

        Args:
            path: the diary file; without one nothing is due.
            day: tells the day.
        """
        self._path, self._knowledge, self._day, self._changes = path, knowledge, day, changes
        self._listed: DueList | None = None  # as it was shown last
        self._known: dict[tuple[str, str], DueDeed] = {}  # all that were listed, by vessel and deed
        self._units: Units = "metric"

    # ------------------------------------------------------------ the first screen

    def opening(self, units: Units) -> tuple[Reply, ...]:
        """What there is to say of the day before all else; nothing if nothing is kept of any vessel or bed."""
        self._units = units
        found = self._listed = self._today()
        if found is None:
            return ()
        if not found.deeds:
            return (Reply("greeting", f"Good day. {nothing_due(found)}"),)
        first = ", the most needed first. Pick one to see" if len(found.deeds) > 1 else ". Pick it to see"
        told = f"Good day. {count_of(found)} to do today{first} how and why."
        more = f" {more_of(found)}" if found.more else ""
        away = next((deed for deed in found.deeds if deed.back), None)
        said = (Reply("answer", away_line(away)),) if away is not None else ()
        return (Reply("greeting", f"{told}{more}"), *said)

    def before(self, asked: Asked) -> Asked:
        """A question with the deeds of the day before its own options."""
        found = self._listed = self._today()
        deeds = found.deeds if found is not None else ()
        titles = [deed_title(deed, self._day()) for deed in deeds]
        options = (*(Option(title, title) for title in titles), *asked.question.options)
        meant = tuple((LookAtDeed(deed.vessel, deed.deed, NOWHERE),) for deed in deeds)
        return replace(asked, question=replace(asked.question, options=options), meant=(*meant, *asked.meant))

    def _today(self) -> DueList | None:
        """What is due today; None if nothing is kept of any vessel or bed, or if the diary cannot be read."""
        if self._path is None:
            return None
        with suppress(HouseholdError):  # what is wrong with the file is told with what can be carried on with
            record = read_record(self._path)
            return self._work_out(record) if record.vessels else None
        return None

    def at_once(self, numbers: Sequence[int], units: Units) -> tuple[Reply, ...]:
        """The deed that a reading or the weather among entries makes due at once; nothing if there is none.

        Raises:
            HouseholdError: the diary cannot be read.
        """
        self._units = units
        record = read_record(self._path)
        told = [one for one in record.entries if one.number in numbers]
        weather = any(one.kind == "weather" for one in told)
        read = {one.vessel for one in told if one.kind == "reading" and one.told.degrees is not None}
        if not (weather or read):
            return ()
        for deed in self._work_out(record).deeds:
            if deed.vessel in read or (weather and deed.weather):
                return (Reply("answer", f"{deed_title(deed, late=False)}. {deed.say}"),)
        return ()

    # ------------------------------------------------------------ one deed

    def look_at(self, vessel: str, name: str) -> tuple[tuple[Reply, ...], Asked]:
        """How a deed that was listed is done and why it is due, and the question what became of it."""
        deed = self._known[vessel, name]
        said = Reply("answer", f"{deed_title(deed, self._day())}.\n{deed.say}\nWhy: {deed.reason}")
        hows = (("done", "It is done"), ("put off", f"Put it off for {_PUT_OFF_DAYS} days"), ("skipped", "Skip it"))
        options = (*(Option(label, label) for _, label in hows), Option(UNKNOWN, UNKNOWN))
        meant = tuple((SettleDeed(vessel, name, how, NOWHERE),) for how in (*(how for how, _ in hows), ""))
        question = Question("", "What became of it?", "Then it is in your diary, and off the list.", options)
        also = (("done", "I did it"), ("put it off", "later", "tomorrow"), ("skip",), ("not yet",))
        return (said,), Asked(question, meant, also=also)

    def settle(self, vessel: str, name: str, how: str, days: int = _PUT_OFF_DAYS) -> tuple[Reply, ...]:
        """Keep what became of a deed that was listed; if `how` is empty it stays on the list, and that is said."""
        if not how:
            return (Reply("answer", "Then it stays on the list."),)
        deed = self._known[vessel, name]
        try:
            entries = settled(deed, how, self._day(), self._knowledge, days=days)
            self._changes.made(Changed(kept=keep(entries, self._path)), alone=True)
        except HouseholdError as error:
            return (Reply("lost", upper(f"{error.message}.")),)
        until = next((one.told.until for one in entries if one.told.until is not None), None)
        said = {"done": "Done", "skipped": "Skipped"}.get(how) or f"Put off until {day_text(until or self._day())}"
        return (Reply("heard", f"{said}: {deed_title(deed, late=False)}. It is in your diary."),)

    def _why(self, deed: DueDeed) -> tuple[Reply, ...]:
        lines = [f"{deed_title(deed, self._day())}.", f"Why: {deed.reason}"]
        if deed.agree:
            lines.append(f"How far sources agree: {deed.agree}")
        sources = dict.fromkeys(source for because in deed.why for source in because.sources)
        lines += [f"Source: {cited(source, self._knowledge.sources)}." for source in sources]
        return (Reply("answer", "\n".join(lines)),)

    # ------------------------------------------------------------ in words

    def said(self, text: str) -> tuple[Reply, ...]:
        """The answer to "done 1", "put off 1", "skip 1" and "why 1"; nothing if a line says none of these."""
        deeds = self._listed.deeds if self._listed is not None else ()
        found = settling(text, self._knowledge, self._day()) if deeds else None
        if found is None:
            return ()
        if not 1 <= found.number <= len(deeds):
            return (Reply("lost", f"There is no number {found.number} in the list of today."),)
        deed = deeds[found.number - 1]
        return self._why(deed) if found.how == "why" else self.settle(deed.vessel, deed.deed, found.how, found.days)

    def asked(self, text: str, heard: Heard, units: Units) -> tuple[Reply, ...]:
        """The answer to "what should I do today?", this week, or before going away; nothing if it is not asked.

        Raises:
            HouseholdError: the diary cannot be read.
        """
        self._units = units
        if any(fact.name.startswith("sign.") and fact.name not in _NO_TROUBLE for fact in heard.told):
            return ()  # "it stinks, what now?" asks about the stink
        topics = {question.topic for question in heard.asked}
        acts = {question.act for question in heard.asked}
        away = days_told(text, self._knowledge) if topics & _AWAY else 0
        wanted = away or "next-step" in topics or "ask_what_now" in acts
        if not wanted and not (heard.asked and asks_what_is_due(text, self._knowledge)):
            return ()
        record = read_record(self._path)
        week = asks_of_days(text, self._knowledge) and not away
        if not record.vessels:
            return ()
        found = self._work_out(record, week=week, away=away)
        if not found.deeds and not record.heaps:
            return ()  # of beds alone, the talk has more to say
        self._listed = found
        lines = [*due_lines(found, week=week, away=bool(away), why=False)]
        if found.deeds:
            lines.append(_SAY)
        return (Reply("answer", "\n".join(lines)),)

    def _work_out(self, record: Record, *, week: bool = False, away: int = 0) -> DueList:
        now = Now(self._day(), is_south(record), away)
        work = week_list if week else due_list
        whole = work(record, now, self._knowledge, shipped_care_engine(), units=self._units)
        self._known |= {(deed.vessel, deed.deed): deed for deed in whole.deeds}
        most = len(whole.deeds) if week or away else MOST_AT_A_GLANCE  # who asks for days to come plans ahead
        more = whole.more + max(0, len(whole.deeds) - most)
        return whole.model_copy(update={"deeds": whole.deeds[:most], "more": more})
