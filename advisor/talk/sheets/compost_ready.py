"""Whether compost is ready: its looks and smell, its age, and the tests that can be done at home."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from advisor.services.figures import number_said
from advisor.soil_counsel.asking import check_order
from advisor.soil_counsel.ground import CheckTold
from advisor.soil_counsel.inputs import read_values
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.ready import Finished, ready_answer
from advisor.talk.replies import Reply
from advisor.talk.sheets.checking import guide_named, how_to, inputs, short
from advisor.talk.sheets.playing import Say, Script, choice, figure, telling
from advisor.talk.sheets.world import World, in_parts

_NONE = "none"
_NO_TEST = "no test"


def ready(world: World) -> Script:
    """What is seen and smelt first; then test after test, as long as there are any."""
    words = {name: kind.words for name, kind in world.knowledge.kinds["finish"].attributes.items()}
    told: dict[str, str] = {}
    for name, ask, why in (
        ("method", "How was it made?", "A worm bin and a fermented bucket finish in ways of their own."),
        ("smell", "What does it smell of?", "The nose tells what is still at work."),
        ("looks", "What does it look like?", "What can still be recognised is not done."),
        ("reheats", "Does it warm again when it is turned and watered?", "What warms again is still hungry."),
    ):
        said = yield choice(ask, why, dict(words[name]), near=world.near(f"finish.{name}"))
        if said is not None:
            told[name] = said
    weeks = yield figure(
        "How many weeks is it since it was last hot, shut or fed?",
        "After the heat it needs weeks of rest.",
        lambda text: number_said(text, 0, 1000, "weeks"),
        loose=True,
    )
    held = yield choice(
        "Did any of these go in?",
        "Manure, sprays and disease decide where it may go, and when.",
        {**words["holds"], _NONE: "none of these"},
        many=True,
        near=world.near("finish.holds"),
    )
    holds = tuple(word for word in held or () if word != _NONE)
    finished = Finished(told, weeks, holds)
    if "manure" in holds:
        worked_in = yield choice(
            "Was manure worked into the ground raw? If so, when?",
            "From that day counts the wait before the first harvest.",
            {_NONE: "no, it was composted"},
            also=world.day,
        )
        if worked_in not in (None, _NONE):
            finished = replace(finished, manure_on=worked_in)
    test = guide_named(world.said, world, "compost")
    while True:
        if not test:
            yield Say(partial(_answer, world, finished))
            guides = world.knowledge.guides
            names = {
                name: f"{guides[name].name}: {short(guides[name].about)}"
                for name in check_order(world.knowledge, "compost")
            }
            test = yield choice(
                "Have you made a test of it, or will you?",
                "What is tried is surer than what is seen.",
                {_NO_TEST: "no, that will do", **names},
            )
        if test in (None, _NO_TEST):
            return
        yield telling(how_to(world.knowledge.guides[test], world))
        figures = yield from inputs(world, test)
        if figures is not None:
            made = CheckTold("", None, test, read_values(figures, world.knowledge.guides[test], test))
            finished = replace(finished, checks=(*finished.checks, made))
        test = ""


def _answer(world: World, finished: Finished) -> tuple[Reply, ...]:
    from advisor.papers.charts import charts_of

    if finished == Finished():
        return (
            Reply("answer", "You have told me nothing of it that I could judge. Look at it, smell it, and come back."),
        )
    answer = ready_answer(finished, world.knowledge, shipped_soil_engine(), units=world.units)
    return tuple(in_parts(answer.parts, charts_of(answer)))
