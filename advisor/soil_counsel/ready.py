"""Is it ready, and for what: tests of finished compost, its heat as recorded, and what to do meanwhile."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import field
from datetime import date

from advisor.counsel.plan import Line
from advisor.counsel.why import computed, told
from advisor.counsel.wording import joined
from advisor.errors import HouseholdError
from advisor.heap.ranges import figure
from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.hints import hint
from advisor.knowledge.soil_shapes import HeatRule
from advisor.records import dataclass
from advisor.soil.sanitising import harvest_from
from advisor.soil_counsel.checks import CheckRead, read_check
from advisor.soil_counsel.ground import CheckTold
from advisor.soil_counsel.judging import Judged, judge
from advisor.soil_counsel.shapes import CheckResult, HeatFound, HeatLog, Part, ReadyAnswer, Use
from advisor.soil_counsel.soil import check_why, together
from advisor.units import Units, temperature_text

USES: tuple[Use, ...] = ("seeds", "pots", "beds", "mulch")

_SAY = {"seeds": "seed sowing", "pots": "pots", "beds": "beds", "mulch": "mulch"}

#: What can be told of it in a word, by attribute of the fact kind `finish`.
TOLD = ("method", "smell", "looks", "reheats")

_SOURED = ("smell", "sour")

#: Attributes of `finish` by which it has been looked at.
_SEEN = frozenset({"smell", "looks", "reheats", "bag", "index", "relative", "sprouted", "rise", "ratio"})


@dataclass(frozen=True, slots=True)
class Finished:
    """Compost as told: words by attribute of `finish`, weeks since it was hot, what is in it, tests made."""

    words: dict[str, str] = field(default_factory=dict)
    weeks: float | None = None
    holds: tuple[str, ...] = ()
    checks: tuple[CheckTold, ...] = ()
    manure_on: date | None = None


def ready_answer(told_of: Finished, knowledge: Knowledge, engine: Engine, *, units: Units = "metric") -> ReadyAnswer:
    """What it is ready for.

    Raises:
        HouseholdError: a word that is none, or a test whose figures cannot be.
    """
    read = [read_check(check.guide, check.values, knowledge, units) for check in told_of.checks]
    judged = judge(_facts(told_of, read, knowledge), knowledge, engine)
    fit = tuple(use for use in USES if use not in judged.unfit)
    results = tuple(_results(told_of.checks, read, knowledge))
    heat = tuple(_heat(read, units))
    cautions = tuple(together([("", judged.cautions)], "c", units))
    harvest = _harvest(told_of, knowledge)
    if told_of == Finished(manure_on=told_of.manure_on):
        # Only a date was told: nothing is said of compost that nobody spoke of.
        asked = tuple(_harvest_lines(harvest, told_of, knowledge))
        part = Part(title="Manure and harvest", lines=asked)
        return ReadyAnswer(name="Manure and harvest", units=units, parts=(part,), fit=(), results=(), harvest=harvest)
    parts = (
        Part(title="First of all", lines=tuple(line for line, grave in cautions if grave), grave=True),
        Part(title="Ready for what", lines=(_verdict(fit, judged), *_not_for(judged))),
        Part(title="What was tried", lines=tuple(result.line for result in results)),
        Part(title="Its heat, as recorded", lines=tuple(one.line for one in heat)),
        Part(
            title="What to do meanwhile" if not fit else "What to do",
            lines=tuple(line for line, _ in together([("", judged.advice)], "a", units)),
        ),
        Part(title="How much of it", lines=tuple(_shares(fit, told_of, knowledge))),
        Part(title="Manure and harvest", lines=tuple(_harvest_lines(harvest, told_of, knowledge))),
        Part(title="Take care", lines=tuple(line for line, grave in cautions if not grave), care=True),
    )
    return ReadyAnswer(
        name="Is it ready?",
        units=units,
        parts=tuple(part for part in parts if part.lines),
        fit=fit,
        results=results,
        heat=heat,
        logs=tuple(log_of(check) for check in told_of.checks if check.guide == "heat"),
        harvest=harvest,
    )


def word_told(attribute: str, word: str, knowledge: Knowledge, where: str) -> str:
    """A word of `finish`, checked. Raises HouseholdError with the nearest."""
    words = knowledge.kinds["finish"].attributes[attribute].words
    if word not in words:
        raise HouseholdError(f"'{word}' is none of the words here", where=where, hint=hint(word, words))
    return word


def _facts(told_of: Finished, read: Sequence[CheckRead], knowledge: Knowledge) -> list[tuple[Fact, str]]:
    said = "you said so"
    fermented = told_of.words.get("method") == "fermented-bucket"
    # A fermented bucket should smell sour: that is no sign of anything, as it is of compost.
    words = {name: word for name, word in told_of.words.items() if not (fermented and (name, word) == _SOURED)}
    facts = [(Fact("finish", name, "", word), said) for name, word in words.items()]
    facts += [(Fact("finish", "holds", "", word), said) for word in told_of.holds]
    if told_of.weeks is not None:
        low, high = knowledge.kinds["finish"].attributes["weeks"].number or (0.0, 0.0)
        if not low <= told_of.weeks <= high:
            raise HouseholdError(f"{told_of.weeks:g} weeks cannot be", where="--weeks")
        facts.append((Fact("finish", "weeks", "", told_of.weeks), said))
    elif fermented:
        facts.append((Fact("finish", "weeks", "", 0.0), "no weeks in the ground were told"))
    # Of two tests of one kind the later told stands.
    latest = {(fact.kind, fact.attribute): (fact, one.text) for one in read for fact in one.facts}
    facts += latest.values()
    known = {fact.attribute for fact, _ in facts}
    # A fermented bucket is judged by its weeks in the ground, whatever it looks like.
    seen = known & _SEEN or fermented
    facts.append((Fact("finish", "examined", "", "yes" if seen else "no"), "what was told of it"))
    if ("finish", "beans") not in latest:
        facts.append((Fact("finish", "beans", "", "untried"), "no test on beans was told"))
    if ("finish", "tested") not in latest and not fermented:
        facts.append((Fact("finish", "tested", "", "no"), "no seed test was told"))
    if ("finish", "heat") not in latest:
        facts.append((Fact("finish", "heat", "", "no-readings"), "no readings were told"))
    return facts


def _verdict(fit: Sequence[Use], judged: Judged) -> Line:
    why = tuple(because for use in USES for because in judged.unfit.get(use, ()))
    if not fit:
        return Line(id="v1", text="Not ready for anything yet.", why=why)
    named = joined([_SAY[use] for use in fit])
    beyond = "" if len(fit) == len(USES) else "; not yet for the rest"
    return Line(id="v1", text=f"Ready for {named}{beyond}.", why=why)


def _not_for(judged: Judged) -> Iterable[Line]:
    """What it is not ready for, those with the same reasons in one line."""
    together: dict[str, list[Use]] = {}
    for use in USES:
        if use in judged.unfit:
            reasons = " ".join(dict.fromkeys(because.because for because in judged.unfit[use] if because.because))
            together.setdefault(reasons, []).append(use)
    for number, (reasons, uses) in enumerate(together.items(), 1):
        named = joined([_SAY[use] for use in uses], "or")
        yield Line(id=f"n{number}", text=f"Not for {named}: {reasons}", why=judged.unfit[uses[0]])


def _results(checks: Sequence[CheckTold], read: Sequence[CheckRead], knowledge: Knowledge) -> Iterable[CheckResult]:
    for number, (check, found) in enumerate(zip(checks, read, strict=True), 1):
        statement = f"{knowledge.guides[check.guide].name}: {found.text}"
        yield CheckResult(
            check=check.guide,
            bed="",
            on=check.on,
            value=found.value,
            unit=found.unit,
            word=found.word,
            line=Line(id=f"r{number}", text=found.text, why=(check_why(found, statement),)),
        )


def _heat(read: Sequence[CheckRead], units: Units) -> Iterable[HeatFound]:
    number = 0
    for found in read:
        for one in found.heat:
            number += 1
            name = _degrees(one.rule.name, one.rule, units)
            lacks = tuple(_degrees(lack, one.rule, units) for lack in one.lacks)
            say = "its numbers were recorded" if one.reached else f"not recorded: {joined(lacks)}"
            because = computed(
                f"{one.days} days and {one.hours:.0f} hours at {temperature_text(one.rule.celsius, units)} or more; "
                f"{one.turnings} turnings that count",
                told("the readings you gave"),
                sources=one.rule.source,
                because="What was recorded in one place of the heap. The rule means all of it.",
            )
            line = Line(id=f"h{number}", text=f"{name}: {say}", why=(because,))
            yield HeatFound(
                rule=one.rule.id,
                celsius=one.rule.celsius,
                not_above_celsius=one.rule.not_above_celsius,
                sanitises=one.rule.sanitises,
                reached=one.reached,
                lacks=lacks,
                line=line,
            )


def _degrees(text: str, rule: HeatRule, units: Units) -> str:
    """The rule's degrees in a text in the units asked for."""
    for celsius in {rule.celsius, rule.hours_celsius or rule.celsius}:
        text = text.replace(f"{celsius:g} °C", temperature_text(celsius, units))
    return text


def log_of(check: CheckTold) -> HeatLog:
    """The readings of a check called heat, in the order of their days."""
    days, degrees = (tuple(map(float, check.values[name])) for name in ("days", "degrees"))
    ordered = sorted(zip(days, degrees, strict=True))
    return HeatLog(
        days=tuple(day for day, _ in ordered),
        celsius=tuple(celsius for _, celsius in ordered),
        turned=tuple(sorted(map(float, check.values.get("turned", ())))),
    )


def _shares(fit: Sequence[Use], told_of: Finished, knowledge: Knowledge) -> Iterable[Line]:
    """Shares by volume of mixes it is fit for; castings by advice of their own."""
    if told_of.words.get("method") == "worm-bin":
        return
    for use, name, mix in (("seeds", "seed-mix-share-pct", "a seed mix"), ("pots", "pot-share-pct", "a potting mix")):
        if use in fit:
            share = figure(knowledge.figures, name)
            because = computed(
                f"{share.typical:g} ({share.low:g} to {share.high:g}) % by volume",
                sources=tuple(dict.fromkeys(one.source for one in share.published)),
                because=share.note,
            )
            yield Line(
                id=f"m{1 if use == 'seeds' else 2}",
                text=f"In {mix}: {share.low:g} to {share.high:g} % of the volume, never it alone.",
                why=(because,),
            )


def _harvest(told_of: Finished, knowledge: Knowledge) -> dict[str, date]:
    if told_of.manure_on is None:
        return {}
    return {
        "touches-soil": harvest_from(told_of.manure_on, touches_soil=True, figures=knowledge.figures),
        "clear-of-soil": harvest_from(told_of.manure_on, touches_soil=False, figures=knowledge.figures),
    }


def _harvest_lines(harvest: dict[str, date], told_of: Finished, knowledge: Knowledge) -> Iterable[Line]:
    if told_of.manure_on is None:
        return
    for number, (key, name, what) in enumerate(
        (
            ("touches-soil", "manure-wait-splash-days", "what touches the soil or is splashed by it"),
            ("clear-of-soil", "manure-wait-clear-days", "what hangs clear of the soil"),
        ),
        1,
    ):
        wait = figure(knowledge.figures, name)
        because = computed(
            f"{told_of.manure_on.isoformat()} and {wait.typical:g} days",
            sources=("usda-nop-205-203",),
            because=wait.note or "The organic rule of the United States; other countries have their own.",
        )
        yield Line(
            id=f"d{number}",
            text=f"Manure worked in on {told_of.manure_on.isoformat()}: harvest {what} from "
            f"{harvest[key].isoformat()}.",
            why=(because,),
        )
