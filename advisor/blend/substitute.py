"""What stands in for so much nitrogen at such a C:N: whole measures of several things, by mixed-integer programming.

With `x_i` steps of offer `i`, nitrogen N(x) and carbon C(x) as in offers.py, and a goal of `n` kg at a C:N of `r`:

    N(x) <= (1 + t) n                  never more nitrogen than was asked for, but for the tolerance t
    N(x) + short >= (1 - t) n          what cannot be had is short
    C(x) <= (1 + t) r N(x) + lean      too much carbon: browns to be left out elsewhere
    C(x) + rich >= (1 - t) r N(x)      too little: browns to be added
    its volume <= cap V(x)             the largest share of a heap, kept by the mixture itself, so by any heap it is in

One wish after another, each given up for none that follows: the least is short; C:N strays least; what has to be
fetched is as little trouble as can be; few kinds; nitrogen and then carbon close to what was asked; the least volume;
a fixed order. The balances are the mix formula of Cornell's compost pages, read (`cornell-mix-formula`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import highspy

from advisor.blend.offers import Line, Offer, Windows, caps, check, lines, usable
from advisor.blend.program import Program, Row, chosen, tie_weights

#: A tenth either way is closer than any table of materials.
TOLERANCE = 0.10

#: More kinds than this nobody gathers.
MOST_KINDS = 4

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
    program = Program([(0, offer.steps) for offer in able], 0.0)
    for cap in caps(able, mix, {}):
        program.limit(cap)
    wishes = list(_wishes(program, goal, able, mix.nitrogen, mix.carbon, mix.volume, trouble or {}))
    found = program.grant(wishes)
    counts = found.counts if found is not None else tuple(0 for _ in able)
    nitrogen, carbon = mix.nitrogen.at(counts, 0.0), mix.carbon.at(counts, 0.0)
    ratio = carbon / nitrogen if nitrogen > 0 else math.inf
    met = _near(nitrogen, goal.nitrogen_kg) and _near(ratio, goal.carbon_nitrogen)
    used = tuple((offer.id, count * offer.step) for offer, count in zip(able, counts, strict=True) if count)
    return Stand(used, nitrogen, carbon, mix.volume.at(counts, 0.0), met)


def _wishes(
    program: Program,
    goal: Goal,
    able: Sequence[Offer],
    nitrogen: Line,
    carbon: Line,
    volume: Line,
    trouble: Mapping[str, float],
) -> Iterator[Row]:
    """Set the limits and say what is to be made least, in order of weight."""
    most, least = (1 + TOLERANCE) * goal.nitrogen_kg, (1 - TOLERANCE) * goal.nitrogen_kg
    short = program.column(0.0, least)
    program.at_most(nitrogen, most)
    program.at_least(nitrogen, least, {short: 1.0})
    yield {short: 1.0}
    stray = program.column(0.0, highspy.kHighsInf)
    program.at_most(carbon.minus(nitrogen.times((1 + TOLERANCE) * goal.carbon_nitrogen)), 0.0, {stray: -1.0})
    program.at_least(carbon.minus(nitrogen.times((1 - TOLERANCE) * goal.carbon_nitrogen)), 0.0, {stray: 1.0})
    yield {stray: 1.0}
    used = [program.column(0.0, 1.0, whole=True) for _ in able]
    for column, offer in zip(used, able, strict=True):
        number = able.index(offer)
        program.keep({number: 1.0, column: -float(offer.steps)}, 0.0)
    program.keep(dict.fromkeys(used, 1.0), float(MOST_KINDS))
    yield {column: trouble.get(offer.id, 0.0) for column, offer in zip(used, able, strict=True)}
    yield dict.fromkeys(used, 1.0)
    for line, aim in ((nitrogen, goal.nitrogen_kg), (carbon, goal.nitrogen_kg * goal.carbon_nitrogen)):
        off = program.column(0.0, highspy.kHighsInf)
        program.at_most(line, aim, {off: -1.0})
        program.at_least(line, aim, {off: 1.0})
        yield {off: 1.0}
    yield chosen(volume.steps, [1.0] * len(able))
    yield chosen(volume.steps, tie_weights(len(able)))


def _near(value: float, goal: float) -> bool:
    return (1 - TOLERANCE) * goal * (1 - 1e-6) <= value <= (1 + TOLERANCE) * goal * (1 + 1e-6)
