"""The plan of a heap as a paper."""

from __future__ import annotations

from advisor.counsel.plan import Plan
from advisor.papers.paper import Heap, Paper
from advisor.papers.sections import sections


def paper(plan: Plan) -> Paper:
    """The plan with every line of it, and the heap that its drawing shows."""
    heap = None
    if plan.body is not None and plan.body.litres > 0:
        parts = tuple((line.name, line.litres) for line in plan.recipe.lines)
        heap = Heap(plan.body, plan.layers, parts, plan.units)
    return Paper(f"Compost for {plan.household}", sections(plan), heap=heap)
