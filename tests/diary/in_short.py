"""Entries of the diary in short words, for data files of tests: "north heap reading 58C 40cm deep"."""

from __future__ import annotations

from datetime import date

from advisor.diary.entries import ToKeep


def short(one: ToKeep, today: date) -> str:
    """An entry in the words of the data file."""
    told = one.told
    parts = [one.vessel, one.kind]
    if told.degrees is not None:
        parts.append(f"{told.degrees:g}{told.scale}")
    if told.depth_cm is not None:
        parts.append(f"{told.depth_cm:g}cm deep")
    parts += [told.place] if told.place else []
    if told.height_cm is not None:
        parts.append(f"{told.height_cm:g}cm high")
    if told.filled is not None:
        parts.append(f"{told.filled * 100:.0f}% full")
    amounts = []
    for each in told.materials:
        count = f"{each.count:.3g} {each.measure} " if each.count is not None else ""
        amounts.append(f"{count}{each.name}".strip())
    parts += [", ".join(amounts)] if amounts else []
    parts += [f"{name}={value}" for name, values in told.signs.items() for value in values]
    parts += [f"on the {told.bed}"] if told.bed else []
    parts += [f"into {one.into}"] if one.into else []
    parts += [f"@{one.day.isoformat()}"] if one.day != today else []
    parts += ["between"] if told.first is not None else []
    return " ".join(part for part in parts if part)
