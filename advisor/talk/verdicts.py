"""What now stands: that another way has come first, what tipped it, and the conclusion when nothing more is asked."""

from __future__ import annotations

from advisor.counsel.choose import Standing
from advisor.counsel.plan import Line, Plan
from advisor.counsel.sketch import Outline
from advisor.counsel.wording import joined
from advisor.knowledge.base import Knowledge
from advisor.talk.answers import because_of
from advisor.talk.replies import Reply
from advisor.talk.saying import a, lower, upper


def turned(before: Outline | None, after: Outline, knowledge: Knowledge) -> str:
    """That another method stands now, and what tipped it, in a sentence."""
    name = a(knowledge.methods[after.method].name)
    reason = tipped(before, after, knowledge)
    because = f" {reason}" if reason else ""
    if before is None:
        return f"{upper(name)} suits you best so far.{because}"
    return f"Now {name} suits you better than {a(knowledge.methods[before.method].name)}.{because}"


def tipped(before: Outline | None, after: Outline, knowledge: Knowledge) -> str:
    """The reason for the method that stands now and did not before; empty if none holds now."""
    return _first_reason(after, knowledge) if before is None else _what_tipped(before, after, knowledge)


def _first_reason(now: Outline, knowledge: Knowledge) -> str:
    return next((because_of(vote, knowledge) for vote in now.standings[0].votes if vote.weight > 0), "")


def _what_tipped(before: Outline, after: Outline, knowledge: Knowledge) -> str:
    """The reason that has moved most between the two methods, or has ruled the old one out.

    One that holds now is told before one that went away.
    """
    was, now = _by_method(before), _by_method(after)
    old, new = before.method, after.method
    if now[old].ruled_out and not was[old].ruled_out:
        return because_of(now[old].votes[0], knowledge)
    holding = {vote.rule: vote for method in (new, old) for vote in now[method].votes}
    gone = {vote.rule: vote for method in (new, old) for vote in was[method].votes if vote.rule not in holding}

    def moved(rule: str) -> float:
        lead_now = now[new].weights.get(rule, 0.0) - now[old].weights.get(rule, 0.0)
        lead_then = was[new].weights.get(rule, 0.0) - was[old].weights.get(rule, 0.0)
        return lead_now - lead_then

    for votes, lead in ((holding, ""), (gone, "it no longer counts that ")):
        ranked = sorted(votes, key=lambda rule: (-moved(rule), rule))
        if ranked and moved(ranked[0]) > 0:
            reason = because_of(votes[ranked[0]], knowledge)
            return f"{lead}{lower(reason)}" if lead else reason
    return ""


def _by_method(outline: Outline) -> dict[str, Standing]:
    return {one.method: one for one in outline.standings}


_MIXES = {
    "met": "The mix below is right.",
    "nearest": "The mix below is the nearest to right that can be had.",
    "none": "What goes in is below.",
    "nothing": "What goes in is below.",
}


def conclusion(plan: Plan, left_to_ask: int) -> Reply:
    """What stands when nothing more is asked: the method, the mix, and how to see the rest.

    Args:
        left_to_ask: questions that are kept back, though their answers could still change something.
    """
    recipe = plan.recipe
    told = [f"So: {a(plan.choice.name)}."]
    if recipe.lines:
        told.append(_MIXES[recipe.status])
    closing = []
    if recipe.fetch:
        closing.append(f"To make it right, fetch {joined([line.line.text.split(' (')[0] for line in recipe.fetch])}.")
    grave = sum(line.grave for line in plan.cautions)
    if grave:
        closing.append(f"Mind the {'caution' if grave == 1 else f'{grave} cautions'} at the head of the plan.")
    if left_to_ask:
        more = "One more answer" if left_to_ask == 1 else f"{left_to_ask} more answers"
        closing.append(f"{more} could still change something; say “next question” to be asked.")
    closing.append("Say “show the plan” for all of it, “why” for the reasons, or tell me more.")
    lines: list[Line] = [plan.choice.line, *(line.line for line in recipe.lines)]
    if recipe.water is not None:
        lines.append(recipe.water)
    lines += [*recipe.misses, *(line.line for line in recipe.fetch)]
    return Reply("verdict", "\n".join([" ".join(told), *closing]), tuple(lines))
