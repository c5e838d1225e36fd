"""Parts of forms: what a parameter of a service is asked by, where one question is not enough.

Each makes the words that the option of the command would have been given, so that both are read by one function.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Mapping
from typing import Any

from advisor.services.shapes import Circumstances, Parameter
from advisor.talk.sheets.playing import Blank, Keep, Say
from advisor.talk.sheets.world import World

#: Asks, and gives the value of a parameter; nothing if it is not told.
Part = Generator["Blank | Say | Keep", Any, Any]

#: By the names that the table of services has for them.
PARTS: Mapping[str, Callable[[Parameter, Circumstances, World], Part]] = {}
