"""Which vessel of the diary a line is about; one that is new; or a question where several may be meant."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from advisor.diary.entries import VESSEL_KINDS, Vessel, VesselKind
from advisor.hearing.vessels import VesselNamed
from advisor.records import dataclass

#: Words that people use of whatever they have: "the heap", "the bin".
_GENERAL: Final = frozenset({"heap", "bin"})
#: Vessels that people call a heap or a bin, whatever they are.
_HEAPS: Final = frozenset({"heap", "bin", "bay", "tumbler"})
#: What a general word may mean besides itself.
_MEANS: Final = {
    "heap": frozenset({"heap", "bay"}),
    "bin": frozenset({"bin", "bay", "tumbler", "worm bin"}),
    "bay": frozenset({"bay"}),
}


class Unsure(Exception):
    """It is not known which vessel is meant; its text asks in one line."""


@dataclass(frozen=True, slots=True)
class WhichVessel:
    """What there is to choose from: the vessels in use, and the one that was spoken of."""

    vessels: Sequence[Vessel]
    of: Vessel | None = None

    @property
    def in_use(self) -> tuple[Vessel, ...]:
        """Those that were not given up. A bed is meant only where it is named."""
        return tuple(one for one in self.vessels if one.ended is None and one.kind != "bed")


def vessel_of(
    named: VesselNamed | None, which: WhichVessel, *, another: bool, kinds: Sequence[VesselKind]
) -> tuple[str, VesselKind]:
    """The name and kind of the vessel that is meant, which may be new.

    Args:
        named: what the line calls it; None if it names none.
        another: whether one is begun, so that "a new heap" is not the one there is.
        kinds: where none is named, the kinds that it can be; any if empty.

    Raises:
        Unsure: several may be meant.
    """
    if named is None:
        return _unnamed(which, kinds)
    if named.known:
        found = next(one for one in which.vessels if one.name == named.name)
        return found.name, found.kind
    if named.name:
        same = next((one for one in which.vessels if one.name.casefold() == named.name), None)
        if same is not None:
            return same.name, same.kind
        if which.of is not None and which.of.name.casefold() == named.name:
            return which.of.name, which.of.kind
        return named.name, _kind(named.kind)
    if another and named.another:
        return _free(named.kind, which), _kind(named.kind)
    return _by_kind(named.kind, which, another=another, named=named)


def meant_in(named: Sequence[VesselNamed], which: WhichVessel) -> Vessel | None:
    """The vessel of the diary that a line is about: the first that it names, or the only one that it can be about."""
    for one in (*named, None):
        try:
            name, _ = vessel_of(one, which, another=False, kinds=())
        except Unsure:
            continue
        found = next((each for each in which.vessels if each.name == name), None)
        if found is not None:
            return found
    return None


def vessels_of(
    named: VesselNamed | None,
    row: Sequence[VesselNamed],
    which: WhichVessel,
    *,
    another: bool,
    kinds: Sequence[VesselKind],
) -> Iterator[tuple[str, VesselKind]]:
    """The vessels that something is told of: the one that is named, those in a row with it, or each of its kind.

    Args:
        row: all that the line names, in order.

    Raises:
        Unsure: several may be meant, or none is there.
    """
    if named is None or named not in row:
        yield vessel_of(named, which, another=another, kinds=kinds)
        return
    first = last = row.index(named)
    while row[first].beside:
        first -= 1
    while last + 1 < len(row) and row[last + 1].beside:
        last += 1
    for one in row[first : last + 1]:
        alike = [each for each in which.in_use if each.kind in _MEANS.get(one.kind, {one.kind})]
        if one.every and alike:
            yield from ((each.name, each.kind) for each in alike)
        else:
            yield vessel_of(one, which, another=another, kinds=kinds)


def _unnamed(which: WhichVessel, kinds: Sequence[VesselKind]) -> tuple[str, VesselKind]:
    if which.of is not None:
        return which.of.name, which.of.kind
    fit = [one for one in which.in_use if not kinds or one.kind in kinds]
    if len(fit) == 1:
        return fit[0].name, fit[0].kind
    if fit:
        raise Unsure(_which(fit))
    if kinds and not which.in_use:
        return kinds[0], kinds[0]
    raise Unsure("Which heap or bin is it? Name it, as in: north heap turned.")


def _by_kind(
    kind: str, which: WhichVessel, *, another: bool, named: VesselNamed | None = None
) -> tuple[str, VesselKind]:
    """The vessel that a word for its kind alone means: "the heap", "the tumbler"."""
    if which.of is not None and which.of.kind in _MEANS.get(kind, {kind}):
        return which.of.name, which.of.kind
    exact = [one for one in which.in_use if one.kind == kind]
    near = [one for one in which.in_use if one.kind in _MEANS.get(kind, ())]
    fit = exact or near
    if len(fit) == 1:
        return fit[0].name, fit[0].kind
    if fit:
        raise Unsure(_which(fit))
    if kind in _GENERAL and not another and len(which.in_use) == 1 and which.in_use[0].kind in _HEAPS:
        return which.in_use[0].name, which.in_use[0].kind
    said = named.said.casefold() if named is not None and kind == "leaf heap" else ""
    return _free(said or kind, which), _kind(kind)


def _free(kind: str, which: WhichVessel) -> str:
    """A name that no vessel has: "heap", then "heap 2"."""
    taken = {one.name.casefold() for one in which.vessels}
    name = "store of browns" if kind == "browns" else kind
    number = 2
    first = name
    while name in taken:
        name, number = f"{first} {number}", number + 1
    return name


def _which(fit: Sequence[Vessel]) -> str:
    names = [one.name for one in fit[:6]]
    listed = f"{', '.join(names[:-1])} or {names[-1]}"
    return f"Which one: {listed}? Say its name with it."


def _kind(kind: str) -> VesselKind:
    return next((one for one in VESSEL_KINDS if one == kind), "heap")
