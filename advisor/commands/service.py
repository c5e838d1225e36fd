"""The command of any service whose parameters stand in the table: its options, its help, and its answer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_household, add_shown, household_named, household_told
from advisor.services.shapes import Circumstances, Parameter, Service, loaded, reader

if TYPE_CHECKING:
    import argparse

    from advisor.household.shapes import Household
    from advisor.knowledge.base import Knowledge


def add_arguments(parser: argparse.ArgumentParser, service: Service) -> None:
    """The options of a service."""
    if service.takes == "all":
        add_household(parser)
    elif service.takes:
        parser.add_argument("file", nargs="?", help=service.about_file)
    if service.takes == "file or stock":
        parser.add_argument("--have", metavar="LIST", help="what is on hand, without a file: '20 sacks dry leaves'")
    for parameter in _options(service):
        tells = f"{parameter.tells} ({parameter.usual})" if parameter.usual else parameter.tells
        picked = tuple(parameter.offered) if parameter.offered and not parameter.read else None
        parser.add_argument(
            f"--{parameter.name}",
            dest=f"told_{parameter.name}",
            metavar=parameter.form or None,
            choices=picked,
            help=tells,
        )
    add_shown(parser)


def run(arguments: argparse.Namespace, service: Service) -> int:
    """Print the answer of a service.

    Raises:
        UsageError: what it needs is not told, or two things are told that exclude each other.
        HouseholdError: what is told cannot be read.
    """
    if arguments.schema:
        return show_schema(loaded(service.answered))
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.in_use import in_use

    given = _given(arguments, service)
    knowledge = in_use()
    household = _household(arguments, service, knowledge)
    at = Circumstances(knowledge, shipped_engine(), household, arguments.units)
    told = {each.name: value for each in _options(service) if (value := _value(each, given, at)) is not None}
    return show(loaded(service.answer)(at, told), arguments)


def _options(service: Service) -> list[Parameter]:
    """The parameters that have an option; what a household tells has none."""
    return [parameter for parameter in service.parameters if parameter.tells]


def _given(arguments: argparse.Namespace, service: Service) -> dict[str, str]:
    """What was typed, by the names of parameters."""
    from advisor.errors import UsageError

    typed = {each.name: getattr(arguments, f"told_{each.name}") for each in _options(service)}
    given = {name: text for name, text in typed.items() if text is not None}
    if service.takes == "file or stock" and arguments.file and arguments.have:
        raise UsageError("give a household file or --have, not both")
    from_file = service.alone and arguments.file is not None
    if from_file and given:
        raise UsageError("give a household file or options, not both")
    both = [name for name in service.apart if name in given]
    if len(both) > 1:
        raise UsageError(f"give --{both[0]} or --{both[1]}, not both")
    for each in _options(service):
        if each.needed and not given.get(each.name) and not from_file:
            raise UsageError(f"say {each.needed}", hint=f"for instance --{each.name} '{each.example}'")
    return given


def _household(arguments: argparse.Namespace, service: Service, knowledge: Knowledge) -> Household | None:
    if service.takes == "all":
        return household_told(arguments, knowledge)
    if service.takes == "file or stock" and arguments.have:
        from advisor.household.files import household_from_options

        return household_from_options(arguments.have, knowledge)
    return household_named(arguments.file, knowledge)


def _value(parameter: Parameter, given: dict[str, str], at: Circumstances) -> Any:
    """What a parameter is told, what is known of it, or what is usual; nothing if there is none of these."""
    from advisor.errors import HouseholdError
    from advisor.services.shapes import NOT_ASKED

    if parameter.name in given:
        try:
            return parameter.value(given[parameter.name], at)
        except HouseholdError as error:
            raise HouseholdError(error.message, where=f"--{parameter.name}", hint=error.hint) from None
    known = reader(parameter.known)(at) if parameter.known else None
    if known is not None:
        return None if known is NOT_ASKED else known
    return parameter.value(parameter.usual, at) if parameter.usual else None
