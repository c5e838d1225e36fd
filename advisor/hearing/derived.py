"""What figures state beyond themselves: how warm a reading is, and how old a heap is by a span of time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.facts import VESSELS, things_in
from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Fact
from advisor.hearing.stance import Taken, stance

#: How warm the middle of a heap is called, by the least °C: hot from where thermophilic work is brisk, too hot from
#: where microbes die off; cold at the usual air. Rynk and others, On-Farm Composting Handbook, NRAES-54, 1992 (from
#: memory).
WARMTH = ((70.0, "too-hot"), (50.0, "hot"), (30.0, "warm"))
_COLD_UP_TO = 20.0
#: A heap that is no more than so many K above the air does not heat: our own estimate, no source.
_AS_THE_AIR = 5.0
#: Compost worms suffer above this many °C. Edwards and Bohlen, Biology and Ecology of Earthworms, 1996 (from memory).
_WORMS_SUFFER = 30.0
#: Heaps at work reach 55 °C (131 °F) and more; one that stays below is short of heat. Rynk and others, as above.
_HOT_ENOUGH = 55.0

_UNITS = {"day": 1.0, "d": 1.0, "week": 7.0, "wk": 7.0, "fortnight": 14.0, "month": 30.0, "mo": 30.0, "mth": 30.0}
_UNITS |= {"year": 365.0, "winter": 365.0, "summer": 365.0, "season": 180.0}
_VAGUE = {"a": 1.0, "one": 1.0, "couple": 2.0, "few": 3.0, "several": 4.0, "half": 0.5}
#: "A month" is a span only behind one of these: "waited a month", "been a year", "over a week".
_LEADS = frozenset(
    {"for", "after", "over", "about", "nearly", "almost", "been", "wait", "waited", "half", "only", "it's"}
)
_RATES = frozenset({"every", "per", "each", "once", "twice", "times", "next", "in", "another", "of"})
_NO_AGE = frozenset(
    {"ago", "back", "since", "'s", "worth", "time", "left", "later", "earlier", "hence", "each", "away"}
    | {"of", "straight", "running", "solid", "lost", "notice", "off", "long", "wait"}
)
#: Of a few days one tells an age with one of these: "three days in", "day 4", "it's been five days".
_DAYS_IN = frozenset({"in", "on", "old", "already", "gone", "now", "after", "been", "day", "days", "built"})
_OF_A_HEAP = VESSELS | {"compost"}
#: Who is away so long tells no age of a heap.
_AWAY = frozenset({"away", "holiday", "holidays", "trip", "abroad", "travelling", "pregnant", "off"})
_A_WEEK = 7.0
_LONGEST_YEARS = 9  # a heap is no older; people and plots are
_AGES = ((10.0, "days"), (50.0, "weeks"), (320.0, "months"), (float("inf"), "year"))


def warmth(found: Sequence[Fact], about_worms: bool, short: bool, air: float | None) -> Iterator[Fact]:
    """How warm the newest reading is called; nothing if the line says itself how warm it is.

    Args:
        about_worms: whether it is read in a worm bin.
        short: whether the line says that it gets no warmer.
        air: the temperature of the air beside it in °C, if that is told.
    """
    if any(fact.name == "sign.warmth" and fact.stance == "told" for fact in found):
        return
    told = [fact for fact in found if fact.name == "sign.degrees" and fact.stance == "told"]
    if not told:
        return
    newest = told[-1]
    degrees = float(newest.value)
    before = {fact.value for fact in found if fact.name == "sign.heat_before" and fact.stance == "told"}
    value = next((name for least, name in WARMTH if degrees >= least), _low(degrees))
    if air is not None and degrees <= air + _AS_THE_AIR and value in ("", "cold", "warm") and not about_worms:
        yield Fact("sign.warmth", "cold", "told", newest.said, "cold", "", newest.about, newest.start, newest.end)
        return
    if value in ("warm", "hot") and degrees < _HOT_ENOUGH and short:
        value = "under-heated"
    if (value == "warm" and "was-hot" in before) or (value in ("hot", "too-hot") and "never-hot" in before):
        value = ""  # that it fell, or never rose, says more than how warm it still is
    if about_worms:
        value = "too-hot" if degrees > _WORMS_SUFFER else ""
    if value:
        yield Fact("sign.warmth", value, "told", newest.said, "", "", newest.about, newest.start, newest.end)


def _low(degrees: float) -> str:
    """What a reading below the warm ones is called: water freezes at 0 °C."""
    return "frozen" if degrees <= 0 else "cold" if degrees <= _COLD_UP_TO else ""


def ages(finder: Finder, found: Sequence[Fact], taken: Sequence[Taken]) -> Iterator[Fact]:
    """How old it is, by a span of time beside a sign or a vessel: "eight months already", "Day 21"."""
    if any(fact.name in ("sign.age", "deed.built") for fact in found):
        return
    signs = any(
        fact.name.startswith("sign.") and fact.name != "sign.weather" and fact.stance == "told" for fact in found
    )
    for clause in finder.line.clauses:
        named = {str(hit.of) for hit in things_in(finder, clause)}
        away = any(word.form in _AWAY for word in finder.line.words[clause.start : clause.end])
        if away or not (signs or named & _OF_A_HEAP) or named & {"household", "plants", "animals"}:
            continue
        for at in range(clause.start, clause.end):
            span = _span(finder, at, clause)
            if span is None:
                continue
            days, start, end = span
            how = stance(finder, start, end, clause, taken)
            words = finder.line.words
            value = next(name for most, name in _AGES if days <= most)
            said = finder.line.said(start, end)
            yield Fact("sign.age", value, how.name, said, "", how.because, "", words[start].start, words[end - 1].end)
            return


def _span(finder: Finder, at: int, clause: Clause) -> tuple[float, int, int] | None:
    """A span of time that begins at a word: its days, and its first and last word but one."""
    words = finder.line.words
    if words[at].form in ("day", "days", "d") and at + 1 in finder.numbers and at + 1 < clause.end:
        if sum(word.form == words[at].form for word in words) > 1:
            return None  # a series: D1 18, D2 44
        return finder.numbers[at + 1][0], at, finder.numbers[at + 1][1]
    before = words[at - 1].form if at > clause.start else ""
    if at in finder.numbers:
        count, end = finder.numbers[at]
    elif words[at].form in _VAGUE and (words[at].form not in ("a", "one") or before in _LEADS):
        count, end = _VAGUE[words[at].form], at + 1
        if end < clause.end and words[end].form in ("few", "couple", "half"):
            count, end = _VAGUE[words[end].form], end + 1
        while end < clause.end and words[end].form in ("of", "a"):
            end += 1
    else:
        return None
    unit = words[end].lemma if end < clause.end else ""
    if unit not in _UNITS or before in _RATES:
        return None
    behind = words[end + 1].form if end + 1 < clause.end else ""
    if count * _UNITS[unit] <= _A_WEEK and (before == "for" or not {before, behind} & _DAYS_IN):
        return None
    if behind in _NO_AGE or (_UNITS[unit] >= 365 and count > _LONGEST_YEARS):
        return None
    return count * _UNITS[unit], at, end + 1
