"""The same household planned twice, once for a quick heap and once for a slow fungal one; rules say which suits it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from advisor.blend.shapes import Range
from advisor.counsel import why
from advisor.counsel.blending import blend
from advisor.counsel.cautions import notice_line, raised, together
from advisor.counsel.choose import standing
from advisor.counsel.in_use import engine_of
from advisor.counsel.pace import Name, Pace, Paces, Suits
from advisor.counsel.plan import Because, Line, Plan, RecipeLine, Spread, spread_of
from advisor.counsel.settle import Settled, answers, is_barred, settle
from advisor.counsel.stock import Lot, lots, material_facts, stock_facts
from advisor.counsel.wording import counted, with_article
from advisor.counsel.writing import Writer
from advisor.errors import HouseholdError
from advisor.heap.course import DAYS_PER_WEEK, turnings, volume_left
from advisor.heap.ranges import exactly, figure, over
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation, Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.parts import paces as part_for_paces
from advisor.knowledge.shapes import Figure
from advisor.records import dataclass
from advisor.units import Units

#: The wish that a heap of each pace is held to.
_WISHES: Mapping[Name, str] = {"quick": "quick", "slow": "fungal"}
_MEANING: Mapping[Name, str] = {
    "quick": "hot, well balanced and turned often",
    "slow": "rich in carbon, left to fungi and hardly turned",
}
#: So near to one another, neither pace is the better.
_EVEN = 1.0
_REASONS_SHOWN = 3
_TIMES = {1: "once", 2: "twice"}
_NOTHING = "Nothing of what is on hand may go into a heap."


@dataclass(frozen=True, slots=True)
class _Held:
    """A consultation held to one pace: its plan, unless no method is left for it."""

    pace: Name
    considered: tuple[Lot, ...]  # what may be composted at all
    barred: tuple[Because, ...] = ()
    plan: Plan | None = None
    weeks: Figure | None = None
    course: tuple[float, float, float] = (0, 0, 0)  # first day, days between, times
    turned: tuple[Because, ...] = ()


def shipped_paces_engine() -> Engine:
    """The engine with the rules that weigh one pace against the other, compiled once."""
    return engine_of(part_for_paces)


def paces(
    household: Household,
    knowledge: Knowledge,
    planning: Engine,
    engine: Engine,
    *,
    units: Units = "metric",
) -> Paces:
    """A quick heap (carbon to nitrogen about 30) and a slow one (40 to 50) of what a household has.

    Everything the household said holds for both, but what it wishes and, for the quick one, how seldom it would turn:
    what that costs is shown instead, and weighed.

    Args:
        household: what there is and where.
        knowledge: the rule base.
        planning: the engine with the rules of planning.
        engine: with the rules that weigh the paces (`shipped_paces_engine`).
        units: whose units to write in.

    Raises:
        HouseholdError: there is nothing to mix, or no heap of either pace can be built here.
    """
    there = lots(household, knowledge)
    if not there:
        raise HouseholdError("there is nothing to make a heap of yet", hint="say what there is, such as --have '...'")
    quick, slow = (_held(name, household, knowledge, planning, there, units) for name in _WISHES)
    if quick.plan is None and slow.plan is None:
        said = next((because.because for because in (*quick.barred, *slow.barred)), "every way is ruled out")
        raise HouseholdError("no heap can be built here, quick or slow", hint=said)
    own = _own_choice(household, knowledge, planning, there)
    with engine.consultation() as talk:
        talk.tell((fact for fact in answers(household, knowledge) if fact.kind in talk.kinds), "you said so")
        talk.close_answers()
        talk.tell([*material_facts(there), *stock_facts(quick.considered, None)], "from what you have on hand")
        shown = [_Shown(one, household, knowledge, units) for one in (quick, slow)]
        for one in shown:
            talk.tell(one.facts(), f"worked out for the {one.name} heap")
        suits = _suits(talk)
        return Paces(
            household=household.name,
            units=units,
            suits=suits,
            verdict=_verdict(suits, own, talk, knowledge),
            quick=shown[0].pace(talk),
            slow=shown[1].pace(talk),
            cautions=tuple(together(one.plan for one in (quick, slow) if one.plan is not None)),
        )


def held_to(household: Household, pace: Name) -> Household:
    """The household as it would be if it wished for that pace."""
    told = {name: values for name, values in household.answers.items() if name != "wish.turning"}
    turning = household.answers.get("wish.turning", ())
    if turning and (pace == "slow" or "often" in turning):
        told["wish.turning"] = turning
    return replace(household, answers={**told, "wish.aim": (_WISHES[pace],)})


def _built_in(pace: Name, knowledge: Knowledge) -> tuple[str, ...]:
    """The methods in which a heap of that pace is built: a drum rolls, which no slow heap is."""
    return tuple(
        name for name, method in knowledge.methods.items() if (method.balanced if pace == "quick" else method.stacked)
    )


def _held(
    pace: Name, household: Household, knowledge: Knowledge, planning: Engine, there: tuple[Lot, ...], units: Units
) -> _Held:
    wishing = held_to(household, pace)
    with planning.consultation() as talk:
        settled = settle(talk, wishing, knowledge, there, among=_built_in(pace, knowledge))
        considered = tuple(lot for lot in there if not is_barred(talk, lot.material_id, "all"))
        if settled.standings[0].ruled_out:
            return _Held(pace, considered, barred=tuple(_bans(settled, talk, knowledge)))
        blended = blend(talk, settled, wishing, knowledge)
        if not blended.used_litres:
            return _Held(pace, considered, barred=(why.computed("nothing to mix", because=_NOTHING),))
        writer = Writer(talk, wishing, knowledge, settled, blended, units)
        first, every, times = (talk.number("turning", name) for name in ("first_day", "every_days", "times"))
        turned = why.reasons(talk, Fact("turning", "times", "", times).key, knowledge) if times is not None else ()
        course = (first or 0, every or 0, times or 0)
        return _Held(pace, considered, plan=writer.plan(), weeks=writer.weeks(), course=course, turned=turned)


def _bans(settled: Settled, talk: Consultation, knowledge: Knowledge) -> Iterator[Because]:
    """Why every method is ruled out, what rules out most of them first."""
    votes = [vote for one in settled.standings for vote in one.votes if vote.weight == 0]
    for rule, _ in Counter(vote.rule for vote in votes).most_common():
        key = next(vote.key for vote in votes if vote.rule == rule)
        yield from why.reasons(talk, key, knowledge, only=frozenset({rule}))[:1]


class _Shown:
    """One pace, written out."""

    def __init__(self, held: _Held, household: Household, knowledge: Knowledge, units: Units) -> None:
        self.held, self.name, self.plan = held, held.pace, held.plan
        self.household, self.knowledge, self.units = household, knowledge, units
        self.letter = self.name[0]

    @property
    def rolled(self) -> bool:
        """Whether it lies in a drum, which is rolled and not forked."""
        return self.plan is not None and self.plan.choice.method == "tumbler"

    def facts(self) -> Iterator[Fact]:
        """What the rules are told of it."""
        plan = self.plan
        yield Fact("pace", "possible", self.name, "no" if plan is None else "yes")
        if plan is None:
            return
        yield Fact("pace", "mix", self.name, "met" if plan.recipe.status == "met" else "nearest")
        yield Fact("pace", "hours", self.name, self._hours().typical)
        if plan.body is not None:
            yield Fact("pace", "heats", self.name, plan.body.heats)

    def pace(self, talk: Consultation) -> Pace:
        """The whole of it."""
        score = standing("pace", self.name, talk).score
        if self.plan is None or self.held.weeks is None:
            said = self.held.barred[0].because
            line = self._line("0", f"The {self.name} heap cannot be built here. {said}", self.held.barred)
            return Pace(pace=self.name, possible=False, score=score, method="", line=line)
        plan, recipe, weeks = self.plan, self.plan.recipe, self.held.weeks
        suits, limits = (tuple(self._notices(talk, fits)) for fits in (True, False))
        return Pace(
            pace=self.name,
            possible=True,
            score=score,
            method=plan.choice.method,
            line=self._head(plan),
            recipe=tuple(self._amounts(recipe.lines)),
            water=self._named(recipe.water),
            gauges=tuple(each.model_copy(update={"line": self._named(each.line)}) for each in recipe.gauges),
            misses=tuple(self._named_all(recipe.misses)),
            fetch=tuple(self._amounts(recipe.fetch)),
            with_fetch=self._named(recipe.with_fetch),
            left_over=tuple(self._named_all(line for line in plan.left_over if line.id.startswith("l"))),
            body=plan.body.model_copy(update={"line": self._named(plan.body.line)}) if plan.body else None,
            turnings=int(self.held.course[2]),
            hours=spread_of(self._hours()),
            weeks=Spread(low=weeks.low, typical=weeks.typical, high=weeks.high),
            work=self._work(),
            ready=self._named(plan.ready),
            suits=suits,
            limits=limits,
        )

    # ------------------------------------------------------------ lines

    def _head(self, plan: Plan) -> Line:
        ratio = next((gauge for gauge in plan.recipe.gauges if gauge.what == "carbon-nitrogen"), None)
        wanted = f", carbon to nitrogen {ratio.goal.aim:g}" if ratio and ratio.goal else ""
        text = f"The {self.name} heap, {_MEANING[self.name]}: {with_article(plan.choice.name)}{wanted}"
        return self._line("0", text, (*plan.choice.line.why, *(ratio.line.why if ratio else ())))

    def _work(self) -> Line:
        """How often it is turned, and the hours with a fork."""
        first, every, times = self.held.course
        hours = self._hours()
        typical, low, high = map(_time, (hours.typical, hours.low, hours.high))
        span = f"about {typical} ({low} to {high}) with a fork"
        rate = why.figure("litres forked in an hour", self.knowledge.figures["fork-litres-per-hour"], " L")
        reasons = (*self.held.turned, why.computed("what it has shrunk to at each turning, over the rate", rate))
        if self.rolled:
            text = f"Rolled {times:g} times, every {every:g} days, a minute or two each; filling and emptying {span}."
        elif not times:
            text = f"Never turned; building it takes {span}."
        else:
            days = [turning.day for turning in turnings(first, every, times)]
            when = f"in week {max(1, round(days[0] / DAYS_PER_WEEK))}"
            if len(days) > 1:
                when += f", the last in week {round(days[-1] / DAYS_PER_WEEK)}"
            text = f"Turned {_TIMES.get(int(times), f'{times:g} times')}, first {when}: building and turning {span}."
        return self._line("t0", text, reasons)

    def _hours(self) -> Range:
        """Hours to build it and to turn what is left of it each time, for one person with a fork."""
        if self.plan is None or self.plan.body is None or self.held.weeks is None:
            return exactly(0.0)
        built = self.plan.body.litres
        if self.rolled:
            moved = built + self.plan.body.finished_litres.typical
        else:
            left = self.knowledge.methods[self.plan.choice.method].shrinks_to
            ready = self.held.weeks.typical * DAYS_PER_WEEK
            days = [turning.day for turning in turnings(*self.held.course)]
            figures = self.knowledge.figures
            moved = built + sum(volume_left(built, left, day, ready, figures).typical for day in days)
        return over(exactly(moved), figure(self.knowledge.figures, "fork-litres-per-hour"))

    def _notices(self, talk: Consultation, fits: bool) -> Iterator[Line]:
        """Notes on this pace: whom it suits, or what it does not do. Their names begin with the pace."""
        named = [name for name in raised(talk, "note", self.knowledge) if name.startswith(f"{self.name}-")]
        letter = "u" if fits else "n"
        chosen = [name for name in named if name.endswith("-suits") is fits]
        for number, name in enumerate(chosen, 1):
            line = notice_line(talk, "note", name, "", self.knowledge, self.units)
            yield self._line(f"{letter}{number}", line.text, line.why)

    def _amounts(self, lines: Iterable[RecipeLine]) -> Iterator[RecipeLine]:
        for each in lines:
            yield each.model_copy(update={"line": self._named(each.line)})

    def _named_all(self, lines: Iterable[Line]) -> Iterator[Line]:
        for line in lines:
            yield line.model_copy(update={"id": f"{self.letter}{line.id}"})

    def _named(self, line: Line | None) -> Line | None:
        """A line of the plan under a name that says whose it is."""
        return next(self._named_all([line])) if line is not None else None

    def _line(self, name: str, text: str, reasons: Iterable[Because]) -> Line:
        return Line(id=f"{self.letter}{name}", text=text, why=tuple(reasons))


# ---------------------------------------------------------------- which of them


def _suits(talk: Consultation) -> Suits:
    quick, slow = (standing("pace", name, talk) for name in _WISHES)
    if quick.ruled_out or slow.ruled_out:
        return "slow" if quick.ruled_out else "quick"
    if abs(quick.score - slow.score) <= _EVEN:
        return "either"
    return "quick" if quick.score > slow.score else "slow"


def _own_choice(household: Household, knowledge: Knowledge, planning: Engine, there: tuple[Lot, ...]) -> str:
    """The method that suits the household as it is, held to nothing."""
    with planning.consultation() as talk:
        return settle(talk, household, knowledge, there).method


def _verdict(suits: Suits, own: str, talk: Consultation, knowledge: Knowledge) -> Line:
    """Which pace suits, with what spoke most for it and most against the other; first, whether any heap does."""
    quick, slow = (standing("pace", name, talk) for name in _WISHES)
    better, other = (slow, quick) if suits == "slow" else (quick, slow)
    votes = [*(vote for vote in better.votes if vote.weight > 0), *(vote for vote in other.votes if vote.weight <= 0)]
    rest = [vote for one in (better, other) for vote in one.votes if vote not in votes]
    if suits == "either":
        votes, rest = sorted([*votes, *rest], key=lambda vote: (-abs(vote.weight), vote.rule)), []
    reasons = [
        because
        for vote in (*sorted(votes, key=lambda vote: (vote.weight != 0, -abs(vote.weight))), *rest)
        for because in why.reasons(talk, vote.key, knowledge, only=frozenset({vote.rule}))[:1]
    ]
    once = tuple({because.rule: because for because in reasons}.values())
    said = " ".join(because.because for because in once[: min(len(votes), _REASONS_SHOWN)])
    score = f"({quick.score:+g} for the quick one, {slow.score:+g} for the slow one)"
    if not knowledge.methods[own].balanced:
        best = "handing it on" if own == "collection" else with_article(knowledge.methods[own].name)
        sooner = "either would do" if suits == "either" else f"sooner the {suits} one"
        text = f"What suits you best is no heap but {best}: see the plan. If a heap it is, {sooner} {score}."
    elif suits == "either":
        text = f"By what you have said, either would do {score}."
    else:
        how = "suits you" if better.score > 0 or other.ruled_out else "suits you less badly than the other"
        text = f"The {suits} heap {how} {score}."
    text = f"{text} {said}".rstrip()
    return Line(id="m1", text=text, why=once or (why.computed("nothing was said that speaks for one or the other"),))


def _time(hours: float) -> str:
    """A time as far as it means anything."""
    if hours < 0.9:
        return f"{max(1, round(hours * 12)) * 5} minutes"
    return counted(round(hours) if hours >= 10 else round(hours * 2) / 2, "hour")
