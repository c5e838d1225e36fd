"""The shape of the table of services. Functions and classes are named in text, so that the table loads none of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from importlib import import_module
from typing import TYPE_CHECKING, Any, Literal

from advisor.records import dataclass

if TYPE_CHECKING:
    from datetime import date

    from advisor.counsel.plan import Plan
    from advisor.diary.batches import Batch
    from advisor.household.shapes import Holding, Household
    from advisor.inference.engine import Engine
    from advisor.knowledge.base import Knowledge
    from advisor.soil_counsel.ground import Ground
    from advisor.units import Units

#: Where the talk offers a service: among what the soil needs, among what there is besides, or nowhere.
Menu = Literal["", "soil", "more"]

#: How a command takes a household: by all that a household file may hold, by a file or what is on hand, by that and
#: sizes and figures of one's own, by a file. Or beds, by a soil file, one by one, or from the diary; "a bed" stands for
#: one where none is named.
Takes = Literal["all", "file or stock", "mix", "file", "beds", "a bed", ""]

#: Whether a parameter may be told several things: at once with commas, or by an option that is given several times.
Many = Literal["", "commas", "times"]


def _today() -> date:
    from datetime import date

    return date.today()


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What is known when a service is asked.

    Attributes:
        planning: gives the engine with the rules of planning.
        household: nothing if none was named.
        said: the words that asked, which may hold an answer already.
        plan: the plan of the talk, if there is one.
        ground: the beds, frosts and checks, if any were named.
        batch: what the diary tells of the heap or bin that is asked about.
        stores: dry browns that the diary says are put by.
        told: the parameters that have a value by now.
    """

    knowledge: Knowledge
    planning: Callable[[], Engine]
    household: Household | None
    units: Units = "metric"
    said: str = ""
    plan: Plan | None = None
    ground: Ground | None = None
    batch: Batch | None = None
    stores: tuple[Holding, ...] = ()
    today: date = field(default_factory=_today)
    told: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Parameter:
    """Something that a service is told: by an option of the command, and by a question in the talk.

    `read` and `heard` name functions of advisor/services/readers.py, `known` one of advisor/services/known.py.

    Attributes:
        name: of its value, and of the option behind two dashes.
        form: how its value is written, for the help; empty where it is one of `offered`.
        tells: what it is, for the help; there is no option without it.
        group: the heading of the help under which it stands.
        read: the function that makes a value of words and Circumstances, and raises HouseholdError; the word itself if
            empty.
        flag: whether its option stands alone, and says yes; `read` is not needed then, and "no" is usual.
        many: whether it may be told several things, which come as a tuple.
        usual: what is read where nobody tells it; no value if empty.
        ask: the question in the talk; it is not asked there if empty.
        why: what the question settles.
        offered: values that can be picked, with their words. If nothing else is read, no other value will do.
        words_of: the attribute of rules/facts.toml that has the words of the values, where `offered` has none; its own
            values are offered if `offered` is empty.
        nothing: in the talk, the words that pick nothing of all that, behind the others; before them it is offered as
            "none".
        known: the function that finds the value in Circumstances without asking; it gives None if it must be asked,
            and `NOT_ASKED` if it is better left out.
        heard: the function that says the value back, of the value and Circumstances.
        needed: what is missing without it: "which animals"; empty if there is an answer all the same.
        unknown: what "I don't know" takes in the talk, where nothing is usual; if it is needed and there is nothing to
            take, "I don't know" is no answer.
        example: a value as a person would type it.
        loose: whether any words with a number in them answer the question.
        part: the part of a form (advisor/talk/sheets/parts.py) that asks for it, where one question is not enough.
        again: whether it is asked when the answer has been said, which is worked out anew with each value more.
        page: whether it is not for the answer but for its page.
    """

    name: str
    form: str = ""
    tells: str = ""
    group: str = ""
    read: str = ""
    flag: bool = False
    many: Many = ""
    usual: str = ""
    ask: str = ""
    why: str = ""
    offered: Mapping[str, str] = field(default_factory=dict)
    words_of: str = ""
    nothing: str = ""
    known: str = ""
    heard: str = ""
    needed: str = ""
    unknown: str = ""
    example: str = ""
    loose: bool = False
    part: str = ""
    again: bool = False
    page: bool = False

    def words(self, knowledge: Knowledge) -> dict[str, str]:
        """The values that can be picked, with their words; of `offered` alone where the table says them."""
        kind, _, attribute = self.words_of.partition(".")
        known = knowledge.kinds[kind].attributes[attribute].words if kind else {}
        return {value: text or known[value] for value, text in self.offered.items()} or dict(known)

    def value(self, text: str, at: Circumstances) -> Any:
        """What some words mean. Raises HouseholdError."""
        if self.flag:
            return text == "yes"
        if self.many == "commas":
            return tuple(self._one(word.strip(), at) for word in text.split(",") if word.strip())
        return self._one(text, at)

    def _one(self, text: str, at: Circumstances) -> Any:
        if self.read:
            return reader(self.read)(text, at)
        words = self.words(at.knowledge) if self.words_of else {}
        if words and text not in words:
            from advisor.errors import HouseholdError
            from advisor.knowledge.hints import hint

            raise HouseholdError(f"'{text}' is none of the words here", hint=hint(text, words))
        return text


@dataclass(frozen=True, slots=True)
class Service:
    """A question that the program answers.

    Attributes:
        command: the word for it on the command line; empty if there is none.
        purpose: what it is for, in a line.
        example: the words of a command that works.
        takes: how the command takes a household; `about_file` says what the household is for.
        parameters: what it is told besides, in the order in which it is asked and read.
        for_instance: what is on hand, as a person would type it.
        points: what is to be known of each bed.
        guides: what there are guided checks of, which the command can show: of the soil, or of compost.
        alone: whether a household file stands in the place of all parameters.
        apart: groups of parameters of which only one can be told.
        keeps: whether the command can keep in the diary the checks that it is told.
        diary: what of the diary the command can be told to read: a "batch", by the name of its heap or bin, or the
            "stores" of dry browns; nothing if empty.
        dated: whether the answer may hold dates for a calendar.
        answered: the class of what it answers; empty if there is nothing to ask but in the talk.
        page: the function that makes the page of it; that of every answer if empty.
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
    for_instance: str = ""
    points: tuple[str, ...] = ()
    guides: str = ""
    parameters: tuple[Parameter, ...] = ()
    alone: bool = False
    apart: tuple[tuple[str, ...], ...] = ()
    keeps: bool = False
    diary: Literal["", "batch", "stores"] = ""
    dated: bool = False
    answered: str = ""
    page: str = ""
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
        module = "soil_answers" if self.guides or self.points else "answers"
        return f"advisor.services.{module}:{self.command}" if self.answered else ""


#: What is told of a frost where it never freezes.
NO_FROST = "no-frost"

#: Says of a parameter that it is neither known nor asked for.
NOT_ASKED = object()


def reader(name: str) -> Any:
    """A function of advisor/services/readers.py by its name."""
    return loaded(f"advisor.services.readers:{name}")


def known(parameter: Parameter, at: Circumstances) -> Any:
    """What Circumstances tell of a parameter; None if nothing, `NOT_ASKED` if it is better left out."""
    return loaded(f"advisor.services.known:{parameter.known}")(at) if parameter.known else None


def loaded(name: str) -> Any:
    """A function or a class by "module:name", its module loaded by now."""
    module, _, own = name.partition(":")
    return getattr(import_module(module), own)
