"""A question of one fact, answered in a few lines: from the person's own plan where it has the figure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.counsel.plan import Plan
from advisor.knowledge.answers import (
    FactAnswer,
    ReadyAnswer,
    SeenAnswer,
    shipped_heeded,
    shipped_qualifiers,
    shipped_ready,
    shipped_seen,
)
from advisor.units import Units, fill, volume_text

#: Of a recipe so many lines are said in an answer of one fact.
_MOST_LINES = 5
_MOST_HEEDED = 3


def answer_lines(
    answer: FactAnswer, plan: Plan | None, units: Units, *, vessel: str = "", season: str = ""
) -> tuple[str, ...]:
    """The lines of an answer, the first of which answers.

    Args:
        plan: the person's own plan; None if nothing is known of a heap.
        vessel: which kind of compost is spoken of, by the names of rules/methods.toml; empty for a heap.
        season: spring, summer, autumn or winter, if it is known.
    """
    general = answer.instead.get(vessel) or answer.instead.get(season) or answer.say
    own = (
        tuple(_own(answer.plan, plan, units))
        if plan is not None and answer.plan and vessel not in answer.instead
        else ()
    )
    return tuple(fill(line, {}, units) for line in (*own, *(general if not own else general[1:])))


def seen_lines(facts: Iterable[tuple[str, str]], units: Units, *, vessel: str = "") -> tuple[str, ...]:
    """What there is to say to facts that were told, each a name and a value, in the order of rules/seen.toml.

    Args:
        vessel: which kind of compost is spoken of, by the names of rules/methods.toml; empty for a heap.
    """
    told = list(facts)
    for answer in shipped_seen():
        if any(_is_of(answer, name, value) for name, value in told):
            return tuple(fill(line, {}, units) for line in answer.instead.get(vessel) or answer.say)
    return ()


def heeded_lines(facts: Iterable[tuple[str, str]], units: Units) -> tuple[str, ...]:
    """What follows from circumstances that are told, a line for each, in the order of rules/heeded.toml."""
    told = list(facts)
    found = [answer for answer in shipped_heeded() if any(_is_of(answer, name, value) for name, value in told)]
    once = {answer.fact.partition("=")[0].partition(".")[2]: answer for answer in reversed(found)}
    kept = [answer for answer in found if answer in once.values()]
    return tuple(fill(line, {}, units) for answer in kept[:_MOST_HEEDED] for line in answer.say)


def ready_told(facts: Iterable[tuple[str, str]], vessel: str) -> ReadyAnswer | None:
    """Whether compost is ready by what is told: the first answer of rules/ready.toml that fits; None if none does.

    Args:
        vessel: which kind of compost is spoken of, by the names of rules/methods.toml.
    """
    told = {part for name, value in facts for part in (name, f"{name}={value}")}
    for answer in shipped_ready():
        of_it = not answer.vessels or vessel in answer.vessels
        if of_it and told & set(answer.any) and (not answer.also or told & set(answer.also)):
            return answer
    return None


def qualifier_lines(qualifiers: Iterable[str], units: Units, *, vessel: str = "") -> tuple[str, ...]:
    """What the condition of a material means, of the gravest that is named; nothing if none is."""
    named = set(qualifiers)
    for name, answer in shipped_qualifiers().items():
        if name in named:
            return tuple(fill(line, {}, units) for line in answer.instead.get(vessel) or answer.say)
    return ()


def stays_out(qualifiers: Iterable[str]) -> bool:
    """Whether a material in one of these conditions is no stuff for a heap."""
    return any(shipped_qualifiers()[name].out for name in qualifiers if name in shipped_qualifiers())


def _is_of(answer: SeenAnswer, name: str, value: str) -> bool:
    if answer.fact not in (name, f"{name}={value}"):
        return False
    if answer.least == float("-inf"):
        return True
    try:
        return answer.least <= float(value) < answer.below
    except ValueError:
        return False


def _own(figure: str, plan: Plan, units: Units) -> Iterator[str]:
    """What a plan says of a figure; nothing if it has none."""
    recipe, body = plan.recipe, plan.body
    match figure:
        case "ready":
            yield plan.ready.text
        case "turning":
            turnings = [event.line.text for event in plan.events if "turn" in event.line.text.lower()]
            yield from turnings[:2]
        case "water" if recipe.water is not None:
            yield recipe.water.text
        case "heat" if body is not None:
            yield _HEATS[body.heats]
        case "size" if body is not None:
            yield body.line.text
        case "mix" if recipe.lines:
            yield f"In your mix: {'; '.join(line.line.text for line in recipe.lines[:_MOST_LINES])}."
        case "cn":
            yield from (gauge.line.text for gauge in recipe.gauges if gauge.what == "carbon-nitrogen")
        case "finished" if body is not None:
            finished = body.finished_litres
            spread = f"{volume_text(finished.low, units)} to {volume_text(finished.high, units)}"
            yield f"Yours holds {volume_text(body.litres, units)} as built and gives about {spread} of compost."
        case "next":
            yield from (event.line.text for event in plan.events[:2])
        case _:
            return


_HEATS = {
    "yes": "Yes, yours is big enough to heat.",
    "barely": "Perhaps: yours is on the edge of what keeps its heat.",
    "no": "No, yours is too small to run hot. It rots slowly and well all the same.",
}
