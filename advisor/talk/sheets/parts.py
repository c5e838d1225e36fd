"""Parts of forms: what a parameter of a service is asked by, where one question is not enough.

Each gives what the function that reads the option of the command would have made of the same, said in words.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Mapping
from typing import Any

from advisor.services.shapes import Circumstances, Parameter
from advisor.talk.sheets.checking import inputs
from advisor.talk.sheets.playing import Blank, Keep, Say, choice
from advisor.talk.sheets.through_the_year import arrivals
from advisor.talk.sheets.world import World

#: Asks, and gives the value of a parameter; nothing if it is not told.
Part = Generator["Blank | Say | Keep", Any, Any]

_LOG = "heat"


def readings(parameter: Parameter, at: Circumstances, world: World) -> Part:
    """What was read of a heap's heat, if anything was."""
    built = yield choice(
        "Have you read its heat with a thermometer?",
        "Readings beside the forecast tell a cold heap from a finished one.",
        {"no": "no, or it is not built yet", "yes": "yes, I have readings"},
    )
    told = (yield from inputs(world, _LOG)) if built == "yes" else None
    return parameter.value(" ".join(f"{name}={text}" for name, text in told.items()), at) if told else None


#: By the names that the table of services has for them.
PARTS: Mapping[str, Callable[[Parameter, Circumstances, World], Part]] = {"arrivals": arrivals, "readings": readings}
