"""What the rules aim at: the windows of rules/proportions.toml, asked of the rules for a method and a wish.

Whatever mixes something beside a plan (a winter's bedding, what is gathered for the beds) asks here, so that a window
changed in the rules is changed everywhere.
"""

from __future__ import annotations

from functools import cache

from advisor.blend.shapes import Window
from advisor.counsel.blending import window_of
from advisor.counsel.plan import What
from advisor.counsel.settle import chosen
from advisor.household.names import Same
from advisor.inference.evaluate import Rulebook, State
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.parts import planning


def window_for(what: What, method: str, wish: str, knowledge: Knowledge) -> Window:
    """The window that a blend should meet.

    Args:
        what: which of its figures.
        method: the method it is mixed for.
        wish: a word of `wish.aim`: how the heap is to work.

    Raises:
        ValueError: the rules set no window for it.
    """
    state = State(_rulebook(Same(knowledge)))
    state.tell([Fact("wish", "aim", "", wish), *chosen(method, knowledge)])
    state.close_answers()
    window = window_of(state, what)
    if window is None:
        raise ValueError(f"the rules set no window of {what} for '{method}', worked {wish}")
    return window


@cache
def _rulebook(knowledge: Same[Knowledge]) -> Rulebook:
    return Rulebook(*planning(knowledge.value))
