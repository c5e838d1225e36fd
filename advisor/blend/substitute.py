"""What stands in for so much nitrogen at such a C:N: whole measures of several things, by mixed-integer programming.

With `x_i` steps of offer `i`, nitrogen N(x) and carbon C(x) as in offers.py, and a goal of `n` kg at a C:N of `r`:

    N(x) <= (1 + t) n                  never more nitrogen than was asked for, but for the tolerance t
    N(x) + short >= (1 - t) n          what cannot be had is short
    C(x) <= (1 + t) r N(x) + lean      too much carbon: browns to be left out elsewhere
    C(x) + rich >= (1 - t) r N(x)      too little: browns to be added
    its volume <= cap V(x)             the largest share of a heap, kept by the mixture itself, so by any heap it is in

If a mixture meets the goal, the one is sought that is least trouble to fetch, of fewest kinds, close in nitrogen and
carbon, and small: in that order, by weights. If none does, first the least is short, then C:N strays least, and then
the same. The balances are the mix formula of Cornell's compost pages, read (`cornell-mix-formula`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import highspy

from advisor.blend.offers import Lines, Offer, Windows, caps, check, lines, usable
from advisor.blend.program import Found, Program, Row
from advisor.records import dataclass

#: A tenth either way is closer than any table of materials.
TOLERANCE = 0.10

#: Nearer than this share of what was asked nothing need come: no table is finer, and the hunt for the one mixture in
#: thousands that hits a figure exactly would take most of the time. Our own estimate.
CLOSE = 0.02

#: More kinds than this nobody gathers.
MOST_KINDS = 4

#: How much a litre of the last offer weighs beyond one of the first: it decides between the same volumes alone.
_TIE = 1e-4

#: What the last wish weighs: the kinds by their trouble, in halves or wholes; then how many there are; then how far off
#: nitrogen and carbon lie, at most 0.16 in a mixture that meets the goal; then litres for each kg of nitrogen, of which
#: there are some thousands: a hundredth nearer is worth a thousand of them.
_A_TROUBLE, _A_KIND, _A_LITRE_FOR_A_KG = 10.0, 1.0, 1e-5

#: With a switch for each kind the program is no longer so small that these cost more than they save, or the reverse.
_OPTIONS: Mapping[str, bool | int | float | str] = {
    "presolve": "on",
    "mip_heuristic_run_root_reduced_cost": False,
}

_NO_WINDOWS = Windows()


@dataclass(frozen=True, slots=True)
class Goal:
    """What is to be replaced: nitrogen in kg, more than 0, and its C:N."""

    nitrogen_kg: float
    carbon_nitrogen: float


@dataclass(frozen=True, slots=True)
class Stand:
    """What stands in for it. Amounts in measures by id; C:N is infinite where there is no nitrogen.

    `met`: nitrogen and C:N both lie within a tenth of the goal.
    """

    counts: tuple[tuple[str, float], ...]
    nitrogen_kg: float
    carbon_kg: float
    volume_l: float
    met: bool

    @property
    def carbon_nitrogen(self) -> float:
        """Carbon over nitrogen."""
        return self.carbon_kg / self.nitrogen_kg if self.nitrogen_kg > 0 else math.inf


def stand_in(goal: Goal, offers: Sequence[Offer], trouble: Mapping[str, float] | None = None) -> Stand:
    """The mixture that comes nearest to a goal.

    Args:
        goal: nitrogen and C:N to match.
        offers: what may be used, with how many measures there are and the largest share each may be, 0 to 1.
        trouble: what fetching each costs, in any unit; nothing for what is on hand.

    Raises:
        HouseholdError: an amount or a composition is out of all bounds, or one id is offered twice.
        ValueError: the goal is no amount of nitrogen.
    """
    if not (0 < goal.nitrogen_kg < math.inf and 0 < goal.carbon_nitrogen < math.inf):
        raise ValueError(f"no amount to be replaced: {goal}")
    check(offers, _NO_WINDOWS, {})
    able = [offer for offer in usable(offers, {}) if offer.composition.nitrogen_pct + offer.composition.carbon_pct > 0]
    if not able:
        return Stand((), 0.0, 0.0, 0.0, False)
    mix = lines(able)
    cost = [(trouble or {}).get(offer.id, 0.0) for offer in able]
    found = _Search(goal, able, mix, cost, met=True).found() or _Search(goal, able, mix, cost).found()
    counts = found.counts if found is not None else tuple(0 for _ in able)
    nitrogen, carbon = mix.nitrogen.at(counts, 0.0), mix.carbon.at(counts, 0.0)
    ratio = carbon / nitrogen if nitrogen > 0 else math.inf
    met = _near(nitrogen, goal.nitrogen_kg) and _near(ratio, goal.carbon_nitrogen)
    used = tuple((offer.id, count * offer.step) for offer, count in zip(able, counts, strict=True) if count)
    return Stand(used, nitrogen, carbon, mix.volume.at(counts, 0.0), met)


class _Search:
    """The program of one question; with `met`, of mixtures alone that meet the goal within the tolerance."""

    def __init__(
        self, goal: Goal, able: Sequence[Offer], mix: Lines, trouble: Sequence[float], *, met: bool = False
    ) -> None:
        self.goal, self.able, self.mix, self.trouble, self.met = goal, able, mix, trouble, met
        self.most_kg, self.least_kg = (1 + TOLERANCE) * goal.nitrogen_kg, (1 - TOLERANCE) * goal.nitrogen_kg
        brings = zip(able, mix.nitrogen.steps, mix.carbon.steps, strict=True)
        steps = [self._steps(offer, nitrogen, carbon) for offer, nitrogen, carbon in brings]
        self.program = Program([(0, most) for most in steps], 0.0, _OPTIONS)
        self.used = [self.program.column(0.0, 1.0, whole=True) for _ in steps]
        for number, (column, most) in enumerate(zip(self.used, steps, strict=True)):
            self.program.keep({number: 1.0, column: -float(most)}, 0.0)
        self.program.keep(dict.fromkeys(self.used, 1.0), float(MOST_KINDS))
        for cap in caps(able, mix, {}):
            self.program.limit(cap)

    def found(self) -> Found | None:
        """The best mixture; None if it is to meet the goal and none does."""
        return self.program.grant(self._wishes())

    def _steps(self, offer: Offer, nitrogen_kg: float, carbon_kg: float) -> int:
        """Steps of it that there are, and that bring no more nitrogen, or carbon, than may be."""
        most = offer.steps
        if nitrogen_kg > 0:
            most = min(most, math.floor(self.most_kg / nitrogen_kg + 1e-9))
        if self.met and carbon_kg > 0:
            carbon = (1 + TOLERANCE) * self.goal.carbon_nitrogen * self.most_kg
            most = min(most, math.floor(carbon / carbon_kg + 1e-9))
        return most

    def _wishes(self) -> Iterator[Row]:
        """Set the limits, and say what is to be made least, in order of weight."""
        program, mix, ratio = self.program, self.mix, self.goal.carbon_nitrogen
        room = 0.0 if self.met else highspy.kHighsInf
        short, stray = program.column(0.0, min(room, self.least_kg)), program.column(0.0, room)
        program.at_most(mix.nitrogen, self.most_kg)
        program.at_least(mix.nitrogen, self.least_kg, {short: 1.0})
        program.at_most(mix.carbon.minus(mix.nitrogen.times((1 + TOLERANCE) * ratio)), 0.0, {stray: -1.0})
        program.at_least(mix.carbon.minus(mix.nitrogen.times((1 - TOLERANCE) * ratio)), 0.0, {stray: 1.0})
        if not self.met:
            yield {short: 1.0}
            yield {stray: 1.0}
        yield self._bother() | self._off()

    def _bother(self) -> dict[int, float]:
        return {column: _A_TROUBLE * trouble + _A_KIND for column, trouble in zip(self.used, self.trouble, strict=True)}

    def _off(self) -> dict[int, float]:
        """How far nitrogen and carbon lie off, each as a share of what was asked, and the volume."""
        program, mix, goal = self.program, self.mix, self.goal
        row = {
            number: _A_LITRE_FOR_A_KG * litres / goal.nitrogen_kg * (1 + _TIE * number / len(self.able))
            for number, litres in enumerate(mix.volume.steps)
        }
        for line, aim in ((mix.nitrogen, goal.nitrogen_kg), (mix.carbon, goal.nitrogen_kg * goal.carbon_nitrogen)):
            column = program.column(0.0, highspy.kHighsInf)
            program.at_most(line, (1 + CLOSE) * aim, {column: -aim})
            program.at_least(line, (1 - CLOSE) * aim, {column: aim})
            row[column] = 1.0
        return row


def _near(value: float, goal: float) -> bool:
    return (1 - TOLERANCE) * goal * (1 - 1e-6) <= value <= (1 + TOLERANCE) * goal * (1 + 1e-6)
