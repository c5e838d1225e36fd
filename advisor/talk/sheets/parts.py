"""Parts of forms: what a parameter of a service is asked by, where one question is not enough.

Each gives what the function that reads the option of the command would have made of the same, said in words.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Mapping
from typing import Any

from advisor.services.shapes import Circumstances, Parameter
from advisor.soil_counsel.asking import check_order
from advisor.talk.sheets.checking import guide_named, how_to, inputs, short
from advisor.talk.sheets.playing import Blank, Keep, Say, choice, telling
from advisor.talk.sheets.through_the_year import arrivals
from advisor.talk.sheets.world import World

#: Asks, and gives the value of a parameter; nothing if it is not told.
Part = Generator["Blank | Say | Keep", Any, Any]

_LOG = "heat"
_NO_TEST = "no test"


def readings(parameter: Parameter, at: Circumstances, world: World) -> Part:
    """What was read of a heap's heat, if anything was."""
    built = yield choice(
        "Have you read its heat with a thermometer?",
        "Readings beside the forecast tell a cold heap from a finished one.",
        {"no": "no, or it is not built yet", "yes": "yes, I have readings"},
    )
    told = (yield from inputs(world, _LOG)) if built == "yes" else None
    return parameter.value(_written(told), at) if told else None


def test(parameter: Parameter, at: Circumstances, world: World) -> Part:
    """A test of compost, done step by step; the first may have been named by the words that asked."""
    guides = world.knowledge.guides
    order = check_order(world.knowledge, "compost")
    names = {name: f"{guides[name].name}: {short(guides[name].about)}" for name in order}
    named = "" if parameter.name in at.told else guide_named(world.said, world, "compost")
    while True:
        guide = named or (
            yield choice(
                "Have you made a test of it, or will you?",
                "What is tried is surer than what is seen.",
                {_NO_TEST: "no, that will do", **names},
            )
        )
        if guide in (None, _NO_TEST):
            return None
        named = ""
        yield telling(how_to(guides[guide], world))
        told = yield from inputs(world, guide)
        if told is not None:
            return parameter.value(f"{guide} {_written(told)}", at)


def _written(told: Mapping[str, str]) -> str:
    """What a guide was told, as the option of a command has it."""
    return " ".join(f"{name}={text}" for name, text in told.items())


#: By the names that the table of services has for them.
PARTS: Mapping[str, Callable[[Parameter, Circumstances, World], Part]] = {
    "arrivals": arrivals,
    "readings": readings,
    "test": test,
}
