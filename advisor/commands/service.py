"""The command of any service of the table: its options, its help, and its answer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from advisor.commands import grounds
from advisor.commands.shown import show, show_schema
from advisor.commands.told import (
    add_household,
    add_own,
    add_shown,
    household_named,
    household_told,
    own_figures,
    own_sizes,
)
from advisor.services.shapes import NOT_ASKED, Circumstances, Parameter, Service, known, loaded

if TYPE_CHECKING:
    import argparse
    from collections.abc import Sequence

    from advisor.diary.batches import Batch
    from advisor.household.shapes import Holding, Household
    from advisor.knowledge.base import Knowledge
    from advisor.soil_counsel.ground import Ground


def add_arguments(parser: argparse.ArgumentParser, service: Service) -> None:
    """The options of a service."""
    if service.takes == "all":
        add_household(parser)
    elif service.takes in ("beds", "a bed"):
        grounds.add_beds(parser)
    elif service.takes:
        parser.add_argument("file", nargs="?", help=service.about_file)
    if service.takes in ("file or stock", "mix"):
        parser.add_argument("--have", metavar="LIST", help=f"what is on hand, without a file: '{service.for_instance}'")
    if service.takes == "mix":
        add_own(parser)
    groups: dict[str, argparse._ActionsContainer] = {"": parser}
    for parameter in _options(service):
        if parameter.group not in groups:
            groups[parameter.group] = parser.add_argument_group(parameter.group)
        _add_option(groups[parameter.group], parameter)
    if service.diary == "batch":
        parser.add_argument("--vessel", metavar="NAME", help="what your diary tells of this heap or bin as well")
    elif service.diary == "stores":
        parser.add_argument("--diary", action="store_true", help="begin with the dry browns your diary says are put by")
    if service.keeps:
        parser.add_argument("--keep", action="store_true", help="keep those checks in your diary, with their bed")
    if service.guides:
        tells = "how to do a check; without a name, which there are"
        parser.add_argument("--guide", metavar="NAME", nargs="*", help=tells)
    add_shown(parser, dated=service.dated)


def _add_option(group: argparse._ActionsContainer, parameter: Parameter) -> None:
    option, dest = f"--{parameter.name}", f"told_{parameter.name}"
    if parameter.flag:
        group.add_argument(option, dest=dest, action="store_const", const="yes", help=parameter.tells)
        return
    group.add_argument(
        option,
        dest=dest,
        action="append" if parameter.many == "times" else "store",
        metavar=parameter.form or None,
        choices=tuple(parameter.offered) if parameter.offered and not parameter.read else None,
        help=f"{parameter.tells} ({parameter.usual})" if parameter.usual else parameter.tells,
    )


def run(arguments: argparse.Namespace, service: Service) -> int:
    """Print the answer of a service.

    Raises:
        UsageError: what it needs is not told, or two things are told that exclude each other.
        HouseholdError: what is told cannot be read.
    """
    if arguments.schema:
        return show_schema(loaded(service.answered))
    if service.guides and arguments.guide is not None:
        return grounds.show_guide(arguments.guide, service.guides, arguments.units)
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.in_use import in_use

    given = _given(arguments, service)
    if service.keeps and arguments.keep:
        grounds.may_keep(arguments, given)
    knowledge = in_use()
    told: dict[str, Any] = {}
    at = Circumstances(
        knowledge,
        shipped_engine,
        _household(arguments, service, knowledge),
        arguments.units,
        ground=_ground(arguments, service, knowledge),
        batch=_batch(arguments, service, knowledge),
        stores=_stores(arguments, service, knowledge),
        told=told,
    )
    from_file = service.alone and arguments.file is not None
    for each in _options(service):
        value = _value(each, given.get(each.name), at, needed=bool(each.needed) and not from_file)
        if value is not NOT_ASKED:
            told[each.name] = value
    answer = loaded(service.answer)(at, told)
    if service.keeps and arguments.keep:
        grounds.keep(given["check"], at)
    page = loaded(service.page) if service.page else None
    return show(answer, arguments, page, **{each.name: told.get(each.name) for each in service.parameters if each.page})


def _options(service: Service) -> list[Parameter]:
    """The parameters that have an option; what a household tells has none."""
    return [parameter for parameter in service.parameters if parameter.tells]


def _given(arguments: argparse.Namespace, service: Service) -> dict[str, str | Sequence[str]]:
    """What was typed, by the names of parameters."""
    from advisor.errors import UsageError

    typed = {each.name: getattr(arguments, f"told_{each.name}") for each in _options(service)}
    given = {name: text for name, text in typed.items() if text is not None}
    if service.takes in ("file or stock", "mix") and arguments.file and arguments.have:
        raise UsageError("give a household file or --have, not both")
    from_file = service.alone and arguments.file is not None
    if from_file and given:
        raise UsageError("give a household file or options, not both")
    for apart in service.apart:
        both = [name for name in apart if name in given]
        if len(both) > 1:
            raise UsageError(f"give --{both[0]} or --{both[1]}, not both")
    return given


def _household(arguments: argparse.Namespace, service: Service, knowledge: Knowledge) -> Household | None:
    match service.takes:
        case "all":
            return household_told(arguments, knowledge, service.for_instance)
        case "file or stock" | "mix" if arguments.have or (service.takes == "mix" and arguments.file is None):
            from advisor.household.files import household_from_options

            own = (own_sizes(arguments), own_figures(arguments)) if service.takes == "mix" else ({}, {})
            return household_from_options(arguments.have or "nothing", knowledge, measures=own[0], own=own[1])
        case "file or stock" | "mix" | "file":
            return household_named(arguments.file, knowledge)
    return None


def _ground(arguments: argparse.Namespace, service: Service, knowledge: Knowledge) -> Ground | None:
    if service.takes not in ("beds", "a bed"):
        return None
    return grounds.ground_told(arguments, knowledge, any_bed=service.takes == "a bed")


def _batch(arguments: argparse.Namespace, service: Service, knowledge: Knowledge) -> Batch | None:
    """What the diary tells of the heap or bin that is named. Raises UsageError if there is none of that name."""
    if service.diary != "batch" or arguments.vessel is None:
        return None
    from datetime import date

    from advisor.diary.batches import batch_told
    from advisor.diary.vessels import read_record
    from advisor.errors import UsageError
    from advisor.knowledge.hints import hint

    record = read_record()
    of = record.vessel(arguments.vessel)
    if of is None or of.kind == "bed":
        names = [one.name for one in record.heaps]
        near = hint(arguments.vessel, names) if names else "heapwright log begins it"
        raise UsageError(f"there is no heap or bin '{arguments.vessel}' in your diary", hint=near)
    found = batch_told(record, of, date.today(), knowledge)
    if found is None:
        raise UsageError(f"your diary tells nothing of what is in '{of.name}' now", hint="heapwright log tells it")
    return found


def _stores(arguments: argparse.Namespace, service: Service, knowledge: Knowledge) -> tuple[Holding, ...]:
    if service.diary != "stores" or not arguments.diary:
        return ()
    from advisor.diary.batches import stored
    from advisor.diary.vessels import read_record

    return stored(read_record(), knowledge)


def _value(parameter: Parameter, told: str | Sequence[str] | None, at: Circumstances, *, needed: bool) -> Any:
    """What a parameter is told, what is known of it, or what is usual; NOT_ASKED if there is none of these."""
    from advisor.errors import HouseholdError, UsageError

    if told:
        try:
            if isinstance(told, str):
                return parameter.value(told, at)
            return tuple(parameter.value(text, at) for text in told)
        except HouseholdError as error:
            where = f"--{parameter.name} {error.where}".strip()
            raise HouseholdError(error.message, where=where, hint=error.hint) from None
    found = known(parameter, at)
    if found is not None:
        return found
    if needed:
        raise UsageError(f"say {parameter.needed}", hint=f"for instance --{parameter.name} '{parameter.example}'")
    usual = parameter.usual or ("no" if parameter.flag else "")
    return parameter.value(usual, at) if usual else NOT_ASKED
