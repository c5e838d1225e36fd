"""What to ask next: the question whose answers would move the conclusion most.

Every open question is tried with every answer it may have. What an answer moves is weighed (another method most, then
another way of working the heap, then how often to turn it, then a browner or greener mix, then cautions and needs that
come with it), the weights are averaged over the answers, and what the answer costs to find is taken off. What no answer
moves is not asked, unless it would together with the answer to one other question: the scores of methods are sums, so
that pairs need no trying.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import replace

from advisor.counsel.doubts import Prospect, prospects
from advisor.counsel.sketch import Outline, View, sketcher_for
from advisor.household.shapes import Holding, Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

#: What a move weighs. The weights order the questions; they are figures of this program, not of the trade. They were
#: set so that the method is right within eight exchanges for every household and published situation there is.
METHOD, AIM, TURNINGS = 10.0, 3.0, 1.0
GRAVE, NOTICE = 1.0, 0.25
#: A mix a little browner or greener.
SHADE = 0.5

#: What another method weighs that takes two answers to get there: somewhat less, as either may not be known.
TOGETHER = 8.0

#: A question worth less than this is kept back until the person asks for more.
LEAST_WORTH = 0.3

#: What each step of difficulty takes off (ease runs from 1, known at once, to 5, to be measured).
STEP_OF_EASE = 0.15


@dataclass(frozen=True, slots=True)
class Topic:
    """A question with what it is worth to ask it."""

    prospect: Prospect
    worth: float

    @property
    def attribute(self) -> str:
        """What it would settle."""
        return self.prospect.question.attribute


def topics(
    household: Household,
    knowledge: Knowledge,
    engine: Engine,
    *,
    passing_over: Collection[str] = (),
    view: View | None = None,
) -> tuple[Topic, ...]:
    """The questions worth asking, the best first.

    Args:
        passing_over: attributes that were asked and not known.
        view: the household as the sketcher sees it, if that has been worked out already.
    """
    open_ones = prospects(household, knowledge, engine, passing_over=passing_over, view=view)
    pairs = together(open_ones, knowledge)
    weighed = [
        Topic(prospect, worth(prospect, pair, knowledge)) for prospect, pair in zip(open_ones, pairs, strict=True)
    ]
    kept = [topic for topic in weighed if topic.worth > 0]
    return tuple(sorted(kept, key=lambda topic: -topic.worth))


@dataclass(frozen=True, slots=True)
class Amount:
    """A material whose amount is a guess, with what it is worth to ask how much there is."""

    material: str
    holding: Holding
    worth: float


#: How far out a guess may be, as factors on it.
_FAR_OUT = (0.25, 4.0)
#: An amount can be told with a look: one step of ease above what is known at once.
_EASE_OF_AMOUNTS = 2
#: So many guesses are looked at; whoever gives more of them should be asked something else first.
_MOST_GUESSES = 3


def amounts(
    household: Household, guesses: Collection[str], knowledge: Knowledge, engine: Engine, now: Outline
) -> tuple[Amount, ...]:
    """The guessed amounts worth asking about, the best first.

    Args:
        guesses: the materials whose amount was guessed.
        now: the outline with the guesses.
    """
    sketcher = sketcher_for(knowledge, engine)
    found = []
    for held in [held for held in household.holdings if held.material in guesses][:_MOST_GUESSES]:
        moves = 0.0
        for factor in _FAR_OUT:
            quantity = replace(
                held.quantity,
                count=held.quantity.count * factor,
                low=held.quantity.low * factor,
                high=held.quantity.high * factor,
            )
            holdings = tuple(replace(one, quantity=quantity) if one is held else one for one in household.holdings)
            moves += weight(now, sketcher.view(replace(household, holdings=holdings)).now, knowledge)
        if moves:
            worth_it = moves / len(_FAR_OUT) - STEP_OF_EASE * (_EASE_OF_AMOUNTS - 1)
            found.append(Amount(held.material, held, worth_it))
    return tuple(sorted((amount for amount in found if amount.worth > 0), key=lambda amount: -amount.worth))


def worth(prospect: Prospect, pair: float, knowledge: Knowledge) -> float:
    """What asking is worth: the expected move, less the trouble of answering. Nought or less: not worth it.

    Args:
        pair: the share of answers that bring another method together with those to one other question.
    """
    moves = [weight(prospect.now, after, knowledge) for _, after in prospect.outcomes]
    expected = sum(moves) / len(moves) + TOGETHER * pair
    return expected - STEP_OF_EASE * (prospect.question.ease - 1) if expected else 0.0


def together(open_ones: Sequence[Prospect], knowledge: Knowledge) -> tuple[float, ...]:
    """For each question, the largest share of answers, its own and those to one other, that only together bring
    another method."""
    if len(open_ones) < 2:
        return (0.0,) * len(open_ones)
    import numpy as np  # here, since the first question of a talk needs none of it

    now = np.array(_scores(open_ones[0].now, knowledge))
    best, left = int(np.argmax(now)), np.isfinite(now)
    sizes = [len(prospect.outcomes) for prospect in open_ones]
    after = np.array([_scores(outline, knowledge) for prospect in open_ones for _, outline in prospect.outcomes])
    alone = np.argmax(after, axis=1) != best
    both = np.where(left, after[:, None, :] + after[None, :, :] - np.where(left, now, 0.0), -np.inf)
    moved = (np.argmax(both, axis=2) != best) & ~alone[:, None] & ~alone[None, :]
    starts = np.cumsum([0, *sizes[:-1]])
    counted = np.add.reduceat(np.add.reduceat(moved.astype(float), starts, axis=0), starts, axis=1)
    shares = counted / np.outer(sizes, sizes)
    np.fill_diagonal(shares, 0.0)
    return tuple(shares.max(axis=1).tolist())


def _scores(outline: Outline, knowledge: Knowledge) -> list[float]:
    """The scores of all methods in the order of rules/methods.toml; what is ruled out is endlessly low."""
    scores = {one.method: -math.inf if one.ruled_out else one.score for one in outline.standings}
    return [scores[method] for method in knowledge.methods]


def weight(now: Outline, after: Outline, knowledge: Knowledge) -> float:
    """How much an answer moves."""
    if after.method != now.method:
        moved = METHOD
    elif after.aim != now.aim:
        moved = AIM
    elif after.turnings != now.turnings:
        moved = TURNINGS
    else:
        moved = SHADE if after.browner != now.browner else 0.0
    return moved + sum(GRAVE if is_grave(name, knowledge) else NOTICE for name in after.notices - now.notices)


def is_grave(notice: str, knowledge: Knowledge) -> bool:
    """Whether a notice such as "caution.fire" must not be missed."""
    kind, _, name = notice.partition(".")
    return knowledge.notices[kind][name].grave
