"""The plan of a heap as a paper."""

from __future__ import annotations

from advisor.counsel.plan import Plan
from advisor.papers.paper import Drawing, Heap, Paper, Part
from advisor.papers.sections import sections
from advisor.papers.vessels import VESSELS, as_text


def paper(plan: Plan) -> Paper:
    """The plan with every line of it, and the heap to draw; a bucket, a worm bin or a trench is drawn in signs."""
    heap = None
    if plan.body is not None and plan.body.litres > 0:
        went_in = tuple((line.name, line.litres) for line in plan.recipe.lines)
        heap = Heap(plan.body, plan.layers, went_in, plan.units)
    parts: list[Part] = []
    for section in sections(plan):
        parts.append(section)
        if plan.choice.method in VESSELS and plan.choice.line in section.lines:
            parts.append(Drawing(as_text(VESSELS[plan.choice.method])))
    return Paper(f"Compost for {plan.household}", tuple(parts), heap=heap)
