"""Answers to what is asked of the talk: why, what about this material, what if, what else, what was said so far."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from difflib import get_close_matches

from advisor.counsel.choose import Standing, Vote
from advisor.counsel.material import verdict_on
from advisor.counsel.plan import Because, Gauge, Line, Plan
from advisor.counsel.sketch import Outline
from advisor.counsel.wording import joined
from advisor.household.tokens import shown
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.talk.asking import Asked
from advisor.talk.material_answer import MaterialAnswer, one_material, several_materials
from advisor.talk.memory import State
from advisor.talk.replies import Reply
from advisor.talk.saying import a, answer, holding, lower, room, topic, upper
from advisor.units import Units, volume_text

HELP = """You can say what you have, in your own words: “3 sacks of leaves, a bucket of coffee grounds a week”.
And at any time:
  change an answer      “actually it is a paved yard”, “no, 4 sacks”, “my bucket is 12 L”
  tell what is wrong    “it stinks of rotten eggs and is slimy”, “it is stone cold”
  ask about a material  “can I put in citrus?”, “what about dog waste?”
  try something         “what if I had no coffee grounds”, “swap the straw for shredded paper”
  keep a diary          “turned it on Sunday, 58 C”, “show my diary”, “what did I do last week?”
  know what is due      “what should I do today?”, “done 1”, “put off 2”, “why 1”
  see to the soil       “is my compost ready?”, “check my soil”, “my soil diary”
  work out more         “plan a year”, “manure substitute”, “what else is there”
  ask for reasons       “why”, “why m1”; after a question, “why do you ask”
  hear more             “more”, for what the last answer left out
  see more              “show the plan”, “what else could I do”, “what have I told you”
  move about            “go back”, “start again”, “I don't know”, “next question”, “never mind”
  take it with you      “give me that on paper”, “put it in my calendar”
  keep it               “save”, “carry on with a heap”; “US units”, “metric units”; “bye”"""


# ---------------------------------------------------------------- why


def why(about: str, plan: Plan | None, shown_before: Mapping[str, Line], put: Asked | None) -> Reply:
    """Why a line, why a question, or why the method stands.

    Args:
        about: the name of a line, "question", or nothing: of the question if one stands open, else of the method.
        shown_before: lines of an earlier answer, by their names.
        put: the question that stands open.
    """
    named = {line.id: line for line in plan.lines()} if plan is not None else {}
    line = shown_before.get(about) or named.get(about)
    if line is not None:
        return why_line(line)
    if "ask" in about.split():
        about = "question"
    if put is not None and (about == "question" or (not about and put.key)):
        return why_asked(put)
    if plan is None:
        return Reply("answer", "Nothing stands yet that could be asked why. Tell me what you have to compost.")
    if about and about != "question":
        near = get_close_matches(about, [*named, *shown_before], n=3, cutoff=0.5)
        hint = f" Did you mean {joined(near, 'or')}?" if near else " “show the plan” has them all."
        return Reply("answer", f"There is no line called {shown(about)}.{hint}")
    return why_it_stands(plan)


def why_line(line: Line) -> Reply:
    """A line with the reasons it rests on, down to what was told."""
    if not line.why:
        return Reply("answer", f"{line.id}: {line.text}\n  It rests on nothing further.")
    return Reply("answer", "\n".join([f"{line.id}: {line.text}", *reasons(line.why)]))


def reasons(found: Iterable[Because], depth: int = 1) -> Iterator[str]:
    """Reasons as indented lines, each with what it rests on below it."""
    lead = "  " * depth
    for because in found:
        mark = {"told": "you:", "computed": "sum:", "rule": "rule:"}[because.origin]
        yield f"{lead}{mark} {because.statement}"
        if because.because:
            yield f"{lead}  {because.because}"
        if because.about:
            yield f"{lead}  [{because.about}]"
        yield from reasons(because.rests_on, depth + 1)


def why_asked(asked: Asked) -> Reply:
    """Why a question is asked, and what each answer would change."""
    told = [asked.question.why]
    if asked.because:
        told += ["What the answers would change:", *(f"  {line}" for line in asked.because)]
    elif asked.question.attribute:
        told.append("No answer changes the plan by itself; together with another it may.")
    return Reply("answer", "\n".join(told))


def why_it_stands(plan: Plan) -> Reply:
    """Why the method stands, rule by rule, without what each rule saw."""
    choice = plan.choice
    for_it = [because for because in choice.line.why if because.rule]
    told = [f"{upper(a(choice.name))} stands, because:"]
    told += [f"  {because.because} [{because.rule}]" for because in for_it]
    if choice.runner_up_line is not None:
        told.append(choice.runner_up_line.text)
    if not for_it:
        told = [choice.line.text]
    told.append(f"“why {choice.line.id}” shows what each of these saw; every line of the plan can be asked so.")
    return Reply("answer", "\n".join(told))


# ---------------------------------------------------------------- a material


def about_materials(
    materials: Sequence[str], method: str, knowledge: Knowledge, engine: Engine, units: Units
) -> MaterialAnswer:
    """What the rules say of one material; of several that a word may mean, which of them may go in.

    Args:
        method: the way of composting that is meant; empty if none is.
    """
    verdicts = [verdict_on(name, knowledge, engine, units=units) for name in dict.fromkeys(materials)]
    if len(verdicts) == 1:
        return one_material(verdicts[0], method, knowledge)
    return several_materials(verdicts, method, knowledge)


# ---------------------------------------------------------------- what if


def compared(before: Plan | None, after: Plan, units: Units, reason: str = "") -> list[str]:
    """What would be different, in two or three lines.

    Args:
        reason: what tips it to another method, if it does.
    """
    told = [_method_compared(before, after, reason)]
    meaning = _balance_compared(before, after)
    if meaning:
        told.append(meaning)
    figures = _figures_compared(before, after, units)
    if figures:
        told.append(figures)
    fetch = _fetch_compared(before, after)
    if fetch:
        told.append(fetch)
    return told


def _method_compared(before: Plan | None, after: Plan, reason: str) -> str:
    new = after.choice
    if before is None:
        return f"It would be {a(new.name)}."
    old = before.choice
    if old.method != new.method:
        return f"It would be {a(new.name)}, not {a(old.name)}{f', because {lower(reason)}' if reason else '.'}"
    if old.aim != new.aim:
        return f"Still {a(new.name)}, but worked as {_AIMS.get(new.aim, new.aim)}."
    return f"Still {a(new.name)}."


_AIMS = {
    "hot": "a hot, quick heap",
    "steady": "a steady heap",
    "fungal": "a slow, fungus-rich heap",
    "leaf-mould": "leaf mould",
    "cold": "a cold container",
}
_GAUGES = {
    "carbon-nitrogen": "carbon to nitrogen",
    "moisture": "moisture",
    "air-space": "air in it",
    "volume": "volume",
}


def _balance_compared(before: Plan | None, after: Plan) -> str:
    """What a change of C:N does to a heap; nothing if it hardly changes, or if both are far too brown to tell."""
    was, now = (_carbon_nitrogen(plan) for plan in (before, after))
    if was is None or now is None or abs(now - was) < _FEWEST_CN or min(was, now) > _BROWNEST:
        return ""
    if now > was:
        return "It would be browner: cooler and slower, and less likely to smell."
    return "It would be greener: warmer and quicker, and sooner to smell if it packs."


def _carbon_nitrogen(plan: Plan | None) -> float | None:
    gauges = plan.recipe.gauges if plan is not None else ()
    return next((gauge.spread.typical for gauge in gauges if gauge.what == "carbon-nitrogen"), None)


#: A smaller change of C:N is not felt; above the second figure a heap is so brown that more changes little. Our
#: estimate.
_FEWEST_CN = 2.0
_BROWNEST = 100.0


def _figures_compared(before: Plan | None, after: Plan, units: Units) -> str:
    old = {gauge.what: gauge for gauge in before.recipe.gauges} if before is not None else {}
    parts = []
    for gauge in after.recipe.gauges:
        if gauge.what == "air-space" and gauge.inside:
            continue
        now = _figure(gauge, units)
        was = _figure(old[gauge.what], units) if gauge.what in old else now
        moved = now if was == now else f"{was} → {now}"
        parts.append(f"{_GAUGES[gauge.what]} {moved}{'' if gauge.inside else ' (outside its window)'}")
    return f"{upper('; '.join(parts))}." if parts else ""


def _figure(gauge: Gauge, units: Units) -> str:
    value = gauge.spread.typical
    if gauge.what == "volume":
        return volume_text(value, units)
    figure = "without nitrogen" if value >= 1e5 else f"{value:.0f}"
    return f"{figure} %" if gauge.what in ("moisture", "air-space") else figure


def _fetch_compared(before: Plan | None, after: Plan) -> str:
    old = _to_fetch(before) if before is not None else []
    new = _to_fetch(after)
    if old == new:
        return f"To fetch, as before: {joined(new)}." if new else ""
    if not new:
        return f"Nothing to fetch; {joined(old)} would not be needed." if after.recipe.status == "met" else ""
    return f"To fetch: {joined(new)}{f', in place of {joined(old)}' if old else ''}."


def _to_fetch(plan: Plan) -> list[str]:
    return [line.line.text.split(" (")[0] for line in plan.recipe.fetch]


# ---------------------------------------------------------------- what else


def what_else(now: Outline, knowledge: Knowledge) -> Reply:
    """The next two ways with their reasons, and what rules out the others."""
    first, *rest = now.standings
    left = [one for one in rest if not one.ruled_out and one.votes]
    out = [one for one in rest if one.ruled_out]
    told = []
    if left:
        told.append(f"{upper(_way(first, knowledge))} comes first with {first.score:g}. After it:")
    else:
        told.append(f"Nothing speaks for anything but {_way(first, knowledge)}.")
    for place, one in enumerate(left[:2], 2):
        told.append(f"{place}. {upper(_way(one, knowledge))}, with {one.score:g}.")
        told += [f"  for it: {because_of(vote, knowledge)}" for vote in one.votes if vote.weight > 0][:2]
        told += [f"  against it: {because_of(vote, knowledge)}" for vote in one.votes if vote.weight < 0][:2]
    told += [f"Ruled out, {_way(one, knowledge)}: {because_of(one.votes[0], knowledge)}" for one in out[:3]]
    return Reply("answer", "\n".join(told))


def _way(standing: Standing, knowledge: Knowledge) -> str:
    return a(knowledge.methods[standing.method].name)


def because_of(vote: Vote, knowledge: Knowledge) -> str:
    """The reason of a rule that spoke about a method."""
    return knowledge.rule(vote.rule).because


# ---------------------------------------------------------------- what was said


def told_so_far(state: State, knowledge: Knowledge, units: Units) -> Reply:
    """Everything told so far, and what is taken at a guess."""
    household = state.household
    told = []
    if household.holdings:
        told.append("On hand:")
        for held in household.holdings:
            guess = ", at a guess" if held.material in state.guesses else ""
            told.append(f"  {holding(held, household, knowledge, units)}{guess}")
    answered = [answer(name, values, knowledge, units) for name, values in household.answers.items()]
    if household.room is not None:
        answered.append(room(household.room, units))
    answered += [
        f"a {knowledge.measures[name].name} holds {volume_text(own.litres, units)}"
        for name, own in household.measures.items()
    ]
    if answered:
        told += ["And:", *(f"  {said}" for said in answered)]
    if state.signs:
        seen = [answer(f"sign.{name}", values, knowledge, units) for name, values in state.signs.items()]
        told += ["Of the heap in trouble:", *(f"  {said}" for said in seen)]
    if state.skipped:
        told.append(f"Not known: {joined([topic(key, knowledge) for key in sorted(state.skipped)])}.")
    if not told:
        return Reply("answer", "You have told me nothing yet.")
    return Reply("answer", "\n".join(["So far you have told me:", *told]))
