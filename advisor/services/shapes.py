"""The shape of the table of services. Functions and classes are named in text, so that the table loads none of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from importlib import import_module
from typing import TYPE_CHECKING, Any, Literal

from advisor.records import dataclass

if TYPE_CHECKING:
    from advisor.counsel.plan import Plan
    from advisor.household.shapes import Household
    from advisor.inference.engine import Engine
    from advisor.knowledge.base import Knowledge
    from advisor.units import Units

#: Where the talk offers a service: among what the soil needs, among what there is besides, or nowhere.
Menu = Literal["", "soil", "more"]

#: How a command takes a household: by all that a household file may hold, by a file or what is on hand, by a file.
Takes = Literal["all", "file or stock", "file", ""]


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What is known when a service is asked.

    Attributes:
        household: nothing if none was named.
        planning: the engine with the rules of planning.
        said: the words that asked, which may hold an answer already.
        plan: the plan of the talk, if there is one.
    """

    knowledge: Knowledge
    planning: Engine
    household: Household | None
    units: Units = "metric"
    said: str = ""
    plan: Plan | None = None


@dataclass(frozen=True, slots=True)
class Parameter:
    """Something that a service is told: by an option of the command, and by a question in the talk.

    `read`, `known` and `heard` name functions of advisor/services/readers.py.

    Attributes:
        name: of its value, and of the option behind two dashes.
        form: how its value is written, for the help; empty where it is one of `offered`.
        tells: what it is, for the help.
        read: the function that makes a value of words and Circumstances, and raises HouseholdError; the word itself if
            empty.
        usual: what is read where nobody tells it; no value if empty.
        ask: the question in the talk; it is not asked there if empty.
        why: what the question settles.
        offered: values that can be picked, with their words. If nothing else is read, no other value will do.
        words_of: the attribute of rules/facts.toml that has the words of the values, where `offered` has none.
        known: the function that finds the value in Circumstances without asking; it gives None if it must be asked,
            and `NOT_ASKED` if it is better left out.
        heard: the function that says the value back, of the value and Circumstances.
        needed: what is missing without it: "which animals"; empty if there is an answer all the same.
        unknown: what "I don't know" takes in the talk, where nothing is usual; if it is needed and there is nothing to
            take, "I don't know" is no answer.
        example: a value as a person would type it.
        loose: whether any words with a number in them answer the question.
    """

    name: str
    form: str
    tells: str
    read: str = ""
    usual: str = ""
    ask: str = ""
    why: str = ""
    offered: Mapping[str, str] = field(default_factory=dict)
    words_of: str = ""
    known: str = ""
    heard: str = ""
    needed: str = ""
    unknown: str = ""
    example: str = ""
    loose: bool = False

    def value(self, text: str, at: Circumstances) -> Any:
        """What some words mean. Raises HouseholdError."""
        return reader(self.read)(text, at) if self.read else text


@dataclass(frozen=True, slots=True)
class Service:
    """A question that the program answers.

    Attributes:
        command: the word for it on the command line; empty if there is none.
        purpose: what it is for, in a line.
        example: the words of a command that works.
        takes: how the command takes a household; `about_file` says what the household is for.
        parameters: what it is told besides, in the order in which it is asked.
        alone: whether a household file stands in the place of all parameters.
        apart: parameters of which only one can be told.
        answered: the class of what it answers; empty if its parameters do not stand in the table.
        door: its name in the talk; empty if it has none there.
        opening: what the talk says first.
        menu, offer: where the talk offers it, and with which words.
        label, tells, say: its entry in the command list of the app, and the words that open it.
    """

    command: str
    purpose: str
    example: str = ""
    takes: Takes = ""
    about_file: str = ""
    parameters: tuple[Parameter, ...] = ()
    alone: bool = False
    apart: tuple[str, ...] = ()
    answered: str = ""
    door: str = ""
    opening: str = ""
    menu: Menu = ""
    offer: str = ""
    label: str = ""
    tells: str = ""
    say: str = ""

    @property
    def answer(self) -> str:
        """The function that works it out, of Circumstances and the values by name; empty as `answered` is."""
        return f"advisor.services.answers:{self.command}" if self.answered else ""


#: Says of a parameter that it is neither known nor asked for.
NOT_ASKED = object()


def reader(name: str) -> Any:
    """A function of advisor/services/readers.py by its name."""
    return loaded(f"advisor.services.readers:{name}")


def loaded(name: str) -> Any:
    """A function or a class by "module:name", its module loaded by now."""
    module, _, own = name.partition(":")
    return getattr(import_module(module), own)
