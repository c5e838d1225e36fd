"""The checks of the beds: what they show, how they go over the years, and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Literal

from advisor.counsel.plan import Because, Line
from advisor.counsel.why import computed, told
from advisor.counsel.wording import joined
from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.soil.infiltration import MM_PER_INCH
from advisor.soil.trend import MOST_COMPARED, Mark, tracked, trend
from advisor.soil.worms_count import BLOCK_SIDE_CM
from advisor.soil_counsel.checks import CheckRead, read_check
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground
from advisor.soil_counsel.judging import Judged, Said, Why, judge
from advisor.soil_counsel.shapes import BandShown, CheckResult, MarkShown, Part, SoilAnswer, TextureFound, TrendFound
from advisor.soil_counsel.spots import gathered
from advisor.units import Units, fill

Dressing = Literal["full", "thin", "none"]

_WORDS = {
    "better": "getting better",
    "worse": "getting worse",
    "steady": "about the same",
    "too-few": "one result so far",
}


#: The published scale of a check that is kept, and what its unit is worth in that of soil.trend.tracked.
_SCALES = {
    "spade": ("spade-score", 1.0),
    "ring": ("ring-rate", MM_PER_INCH),
    "worms": ("worms-per-block", (100 / BLOCK_SIDE_CM) ** 2),
}


@dataclass(frozen=True, slots=True)
class Bed:
    """A bed with its checks read, oldest first; the facts of the latest of each kind; and what the rules make of them.

    Several spots of one day are one check.
    """

    bed: BedTold
    checks: tuple[tuple[CheckTold, CheckRead], ...]
    facts: tuple[tuple[Fact, str], ...]
    judged: Judged

    @property
    def dressing(self) -> Dressing:
        """How compost is held back: the strictest of what the rules say."""
        return "none" if "none" in self.judged.dressing else "thin" if self.judged.dressing else "full"

    @property
    def dressing_why(self) -> Why:
        return tuple(because for why in self.judged.dressing.values() for because in why)


def read_beds(ground: Ground, knowledge: Knowledge, engine: Engine, units: Units) -> tuple[Bed, ...]:
    """Every bed, judged by itself."""
    made: dict[str, list[CheckTold]] = {}
    for check in ground.checks:
        made.setdefault(check.bed, []).append(check)
    return tuple(_bed(bed, made.get(bed.name, ()), knowledge, engine, units) for bed in ground.beds)


def _bed(bed: BedTold, made: Sequence[CheckTold], knowledge: Knowledge, engine: Engine, units: Units) -> Bed:
    checks = sorted(made, key=lambda check: check.on or date.min)
    read = [
        (check, read_check(check.guide, check.values, knowledge, units, f"bed {bed.name}, {check.guide}"))
        for check in checks
    ]
    spots = gathered(read, knowledge, units)
    told_of_bed = ((Fact("bed", name, "", value), "you said so") for name, value in bed.facts)
    known = (*told_of_bed, *check_facts(spots, knowledge))
    return Bed(bed, tuple(spots), known, judge(known, knowledge, engine))


def check_facts(read: Sequence[tuple[CheckTold, CheckRead]], knowledge: Knowledge) -> tuple[tuple[Fact, str], ...]:
    """What the latest of each kind of check says, with the words it came from, and what was never checked.

    Args:
        read: oldest first.
    """
    facts: dict[tuple[str, str], list[tuple[Fact, str]]] = {}
    by_laboratory = [pair for pair in read if pair[0].guide == "texture"]
    for check, found in (*read, *by_laboratory):  # a laboratory's texture stands over that of a jar
        origin = found.text if check.on is None else f"{check.on.isoformat()}: {found.text}"
        fresh: dict[tuple[str, str], list[tuple[Fact, str]]] = {}
        for fact in found.facts:
            fresh.setdefault((fact.kind, fact.attribute), []).append((fact, origin))
        for name, pairs in fresh.items():
            # The latest check stands; where the checks were made adds up.
            facts[name] = [*facts.get(name, []), *pairs] if name[1] == "basis" else pairs
    for attribute, absent in (("unmeasured", _unmeasured(facts)), ("undone", _undone(read, knowledge))):
        facts["check", attribute] = [
            (Fact("check", attribute, "", word), "the checks that were told") for word in absent
        ]
    return tuple(pair for pairs in facts.values() for pair in pairs)


def _unmeasured(facts: Mapping[tuple[str, str], object]) -> list[str]:
    """What only a laboratory measures and none has: absence is told, so that rules can speak of it."""
    named = ("ph", "organic_matter", "phosphorus", "salt", "lead")
    return [name.replace("_", "-") for name in named if ("check", name) not in facts]


def _undone(read: Sequence[tuple[CheckTold, CheckRead]], knowledge: Knowledge) -> list[str]:
    """Checks of the soil that were never made on the bed."""
    done = {check.guide for check, _ in read}
    return [name for name, guide in knowledge.guides.items() if guide.of == "soil" and name not in done]


def soil_answer(ground: Ground, knowledge: Knowledge, engine: Engine, *, units: Units = "metric") -> SoilAnswer:
    """What the checks of the beds say.

    Raises:
        HouseholdError: a check whose figures cannot be.
    """
    beds = read_beds(ground, knowledge, engine, units)
    results = tuple(_results(beds, knowledge))
    trends = tuple(_trends(beds, knowledge, units))
    found = tuple(_found_lines(beds, knowledge))
    cautions = tuple(together([(one.bed.name, one.judged.cautions) for one in beds], "c", units))
    grave = tuple(line for line, is_grave in cautions if is_grave)
    advice = tuple(line for line, _ in together([(one.bed.name, one.judged.advice) for one in beds], "a", units))
    parts = (
        Part(title="First of all", lines=grave, grave=True),
        Part(title="What was measured", lines=tuple(result.line for result in results)),
        Part(title="Over the years", lines=tuple(one.line for one in trends)),
        Part(title="What the soil is like", lines=found),
        Part(title="What to do", lines=advice),
        Part(title="What to check next", lines=tuple(_next_checks(beds, knowledge))),
        Part(title="Take care", lines=tuple(line for line, is_grave in cautions if not is_grave), care=True),
    )
    return SoilAnswer(
        name=ground.name,
        units=units,
        parts=tuple(part for part in parts if part.lines),
        results=results,
        textures=tuple(_textures(beds)),
        trends=trends,
        found={one.bed.name: tuple(one.judged.found) for one in beds},
        dressing={one.bed.name: one.dressing for one in beds},
    )


def check_why(read: CheckRead, statement: str) -> Because:
    """Why a check reads as it does."""
    return computed(
        statement,
        told("measured at home" if read.guide not in ("laboratory", "texture", "report") else "from the report"),
        sources=read.sources,
        because=read.because,
    )


def together(said: Sequence[tuple[str, Iterable[Said]]], prefix: str, units: Units) -> Iterable[tuple[Line, bool]]:
    """Notices of several beds as lines, each once, with the beds it is for; and whether it is grave."""
    beds: dict[str, list[str]] = {}
    notices: dict[str, Said] = {}
    for bed, notices_of_bed in said:
        for one in notices_of_bed:
            beds.setdefault(one.name, []).append(bed)
            notices.setdefault(one.name, one)
    ordered = sorted(notices.values(), key=lambda one: (not one.notice.grave, one.notice.order, one.name))
    counts = {True: 0, False: 0}
    for one in ordered:
        grave = one.notice.grave
        counts[grave] += 1
        named = f"{joined(beds[one.name])}: " if len(said) > 1 and len(beds[one.name]) < len(said) else ""
        text = f"{named}{fill(one.notice.say, {}, units)}"
        yield Line(id=f"{'g' if grave else prefix}{counts[grave]}", text=text, why=one.why), grave


def _results(beds: Sequence[Bed], knowledge: Knowledge) -> Iterable[CheckResult]:
    number = 0
    for one in beds:
        latest = {check.guide: (check, read) for check, read in one.checks}
        for check, read in latest.values():
            number += 1
            head = [one.bed.name] if len(beds) > 1 else []
            head += [check.on.isoformat()] if check.on else []
            text = f"{', '.join(head)}: {read.text}" if head else read.text
            yield CheckResult(
                check=check.guide,
                bed=one.bed.name,
                on=check.on,
                value=read.value,
                unit=read.unit,
                word=read.word,
                line=Line(
                    id=f"r{number}",
                    text=text,
                    why=(check_why(read, f"{knowledge.guides[check.guide].name}: {read.text}"),),
                ),
            )


def _found_lines(beds: Sequence[Bed], knowledge: Knowledge) -> Iterable[Line]:
    words = knowledge.kinds["soil"].attributes
    number = 0
    for one in beds:
        lead = f"{one.bed.name}: " if len(beds) > 1 else ""
        for attribute, found in (("found", one.judged.found), ("dressing", one.judged.dressing)):
            for word, why in found.items():
                if attribute == "dressing" and word != one.dressing:
                    continue
                number += 1
                yield Line(id=f"s{number}", text=f"{lead}{words[attribute].words[word]}.", why=why)


def _next_checks(beds: Sequence[Bed], knowledge: Knowledge) -> Iterable[Line]:
    """What the advice hangs on: checks that the rules ask for, each once with the beds that it is for."""
    asked: dict[tuple[str, str], list[Bed]] = {}
    for one in beds:
        for name, why in one.judged.next_check.items():
            asked.setdefault((name, why[0].because), []).append(one)
    for number, ((name, because), of_beds) in enumerate(asked.items(), 1):
        named = f"{joined([one.bed.name for one in of_beds])}: " if len(of_beds) < len(beds) else ""
        text = f"{named}{knowledge.guides[name].name}. {because}"
        yield Line(
            id=f"k{number}",
            text=text[:1].upper() + text[1:] if not named else text,
            why=of_beds[0].judged.next_check[name],
        )


def _textures(beds: Sequence[Bed]) -> Iterable[TextureFound]:
    for one in beds:
        for check, read in one.checks:
            if read.texture is not None:
                found = read.texture
                yield TextureFound(
                    bed=one.bed.name,
                    sand_pct=found.sand_pct,
                    silt_pct=found.silt_pct,
                    clay_pct=found.clay_pct,
                    name=found.name,
                    on=check.on,
                )


def _trends(beds: Sequence[Bed], knowledge: Knowledge, units: Units) -> Iterable[TrendFound]:
    number = 0
    for one in beds:
        marks: Mapping[str, list[Mark]] = _marks(one)
        for name, found in marks.items():
            if len({mark.on for mark in found}) < 2:
                continue
            number += 1
            check = tracked(knowledge.figures)[name]
            going = trend(found, check)
            first, last = going.marks[0], going.marks[-1]
            factor, unit = (1.0, check.unit) if units == "metric" else _us(check.unit)
            shown = f"from {first.value * factor:.3g} in {first.on.year} to {last.value * factor:.3g} in {last.on.year}"
            other = (
                f"; {len(going.other_months)} taken in another season, so compare with care"
                if going.other_months
                else ""
            )
            lead = f"{one.bed.name}: " if len(beds) > 1 else ""
            text = f"{lead}{check.about}{f', {unit}' if unit else ''}: {shown}, {_WORDS[going.direction]}{other}"
            compared = "results" if len(found) <= MOST_COMPARED else f"{MOST_COMPARED} of {len(found)} results"
            because = computed(
                f"{going.per_year * factor:+.2g} a year, by the middle of the slopes between all pairs of {compared}",
                because=f"A change of less than {check.wavers * factor:.2g} is within what the check wavers by.",
                sources=("our-estimate",),
            )
            yield TrendFound(
                bed=one.bed.name,
                tracked=name,
                about=check.about,
                unit=unit,
                direction=going.direction,
                per_year=going.per_year * factor,
                marks=tuple(MarkShown(on=mark.on, value=mark.value * factor) for mark in going.marks),
                bands=tuple(_bands(name, knowledge, factor)),
                line=Line(id=f"t{number}", text=text, why=(because,)),
            )


def _bands(tracked: str, knowledge: Knowledge, factor: float) -> Iterable[BandShown]:
    """The classes of the published scale that the check is read by, in the unit of the trend times a factor."""
    if tracked in _SCALES:
        name, worth = _SCALES[tracked]
        for band in knowledge.scales[name].bands:
            limit = band.below if band.below is not None else band.upto
            until = None if limit is None else limit * worth * factor
            yield BandShown(word=band.word, say=band.say, until=until)


def _marks(bed: Bed) -> dict[str, list[Mark]]:
    marks: dict[str, list[Mark]] = {}
    for check, read in bed.checks:
        if read.tracked and check.on is not None:
            marks.setdefault(read.tracked, []).append(Mark(check.on, read.tracked_value))
    return marks


def _us(unit: str) -> tuple[float, str]:
    return {"mm/h": (1 / 25.4, "in/h"), "per m2": (0.3048**2, "per ft2")}.get(unit, (1.0, unit))
