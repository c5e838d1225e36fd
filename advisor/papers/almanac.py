"""A year's plan as a page of plain text: a table of the months, and a picture of the store and the heap."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from advisor.counsel.almanac import Almanac, Amount, Kind
from advisor.papers.answer import answer_page
from advisor.papers.sections import Section
from advisor.units import volume_text

_ROWS = 8
_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def almanac_page(
    year: Almanac,
    *,
    width: int = 80,
    colour: bool = False,
    why: Collection[str] | None = None,
    weeks: bool = False,
) -> str:
    """The year as text; with `weeks`, a table of all its weeks too. See answer_page for the other arguments."""
    return answer_page(
        f"A year's compost for {year.household}", _parts(year, width, weeks), width=width, colour=colour, why=why
    )


def _parts(year: Almanac, width: int, weeks: bool) -> Iterator[Section | str]:
    yield Section("First of all", tuple(line for line in year.cautions if line.id.startswith("g")), grave=True)
    yield Section("What comes in", year.comes)
    yield Section("What it rests on", year.rests_on)
    yield Section("Put by", year.put_by or ())
    yield Section("The batches", tuple(batch.line for batch in year.batches))
    yield picture(year, width)
    yield months_table(year, width)
    yield Section("Month by month", tuple(month.line for month in year.months))
    if weeks:
        yield weeks_table(year, width)
    yield Section("What is short", year.short)
    yield Section("What is left", year.left_over)
    yield Section("Keep out", year.stays_out)
    yield Section("Take care", tuple(line for line in year.cautions if not line.id.startswith("g")))


def picture(year: Almanac, width: int = 80) -> str:
    """What is in store and what is in the heap at the end of each month, in columns of signs.

    Each column has the height of its share of the room; a new batch begins where the number under the heap changes.
    """
    across = max(3, min(5, (width - 10) // len(year.months)))
    lines = ["In store at the end of each month, and in the heap", ""]
    lines += _columns([month.store_litres for month in year.months], year.storage_litres, "#", across, year, "store")
    lines += [""]
    lines += _columns([month.heap_litres for month in year.months], year.container_litres, "%", across, year, "heap")
    lines.append(" " * 9 + "".join(f"{month.name:<{across}}" for month in year.months))
    lines.append("   batch " + "".join(f"{month.batch:<{across}}" for month in year.months))
    return "\n".join(line.rstrip() for line in lines)


def _columns(litres: Sequence[float], room: float, sign: str, across: int, year: Almanac, name: str) -> Iterator[str]:
    heights = [round(_ROWS * min(1.0, amount / room)) if room > 0 else 0 for amount in litres]
    heights = [max(height, 1) if amount > 0.5 else height for height, amount in zip(heights, litres, strict=True)]
    for row in range(_ROWS, 0, -1):
        edge = volume_text(room, year.units) if row == _ROWS else name if row == 1 else ""
        bars = "".join((sign * (across - 1) if height >= row else " " * (across - 1)) + " " for height in heights)
        yield f"{edge:>7} |{bars}"
    yield f"{'':>7} +{'-' * (across * len(litres))}"


def months_table(year: Almanac, width: int = 80) -> str:
    """What goes in each month, in measures; a column for each material with its letter explained above."""
    kinds = [kind for kind in year.kinds if _ever(year, kind)]
    head = ["What goes in, by the month", ""]
    head += [f"      {_LETTERS[n]}  {kind.name}, in {_plural(kind, year)}" for n, kind in enumerate(kinds)]
    head.append("")
    wide = max(4, min(7, (width - 30) // max(1, len(kinds))))
    columns = "".join(f"{_LETTERS[n]:>{wide}}" for n in range(len(kinds)))
    rows = [f"{'':6}{'':>3}{columns}{'water':>8}{'store':>8}{'heap':>8}"]
    for month in year.months:
        cells = "".join(f"{_cell(month.goes_in, kind):>{wide}}" for kind in kinds)
        water = volume_text(month.water_litres, year.units) if month.water_litres >= 1 else "."
        store, heap = _short(month.store_litres, year), _short(month.heap_litres, year)
        rows.append(f"{month.name:<6}{month.batch:>3}{cells}{water:>8}{store:>8}{heap:>8}")
    return "\n".join([*head, *rows])


def weeks_table(year: Almanac, width: int = 80) -> str:
    """The same by the week."""
    kinds = [kind for kind in year.kinds if _ever(year, kind)]
    wide = max(4, min(7, (width - 30) // max(1, len(kinds))))
    rows = ["What goes in, by the week (letters as above)", ""]
    rows.append(f"{'':10}" + "".join(f"{_LETTERS[n]:>{wide}}" for n in range(len(kinds))) + f"{'store':>8}{'heap':>8}")
    for week in year.weeks:
        cells = "".join(f"{_cell(week.goes_in, kind):>{wide}}" for kind in kinds)
        store, heap = _short(week.store_litres, year), _short(week.heap_litres, year)
        rows.append(f"{week.number:>3} {week.month:<6}{cells}{store:>8}{heap:>8}")
    return "\n".join(rows)


def _ever(year: Almanac, kind: Kind) -> bool:
    return any(amount.material == kind.material for month in year.months for amount in month.goes_in)


def _cell(amounts: Sequence[Amount], kind: Kind) -> str:
    litres = sum(amount.litres for amount in amounts if amount.material == kind.material)
    count = litres / kind.measure_litres
    return f"{count:.0f}" if count >= 10 else f"{count:.1f}" if count >= 0.05 else "."


def _short(litres: float, year: Almanac) -> str:
    return volume_text(litres, year.units) if litres >= 1 else "."


def _plural(kind: Kind, year: Almanac) -> str:
    from advisor.counsel.wording import plural

    return f"{plural(kind.measure.replace('-', ' '))} of {volume_text(kind.measure_litres, year.units)}"
