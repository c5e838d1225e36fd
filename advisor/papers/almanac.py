"""A year's plan as a page of plain text: a chart of the store and the heap, and a table of the months."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from advisor.counsel.almanac import Almanac, Amount, Kind
from advisor.papers.charts import charts_of
from advisor.papers.page import page_text
from advisor.papers.paper import Paper, Part, Table, local_part
from advisor.papers.sections import Section, first_of_all, take_care
from advisor.units import volume_text

#: The titles of its tables.
MONTHS_TABLE, WEEKS_TABLE = "What goes in, by the month", "What goes in, by the week"

_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def almanac_page(
    year: Almanac,
    *,
    width: int = 80,
    colour: bool = False,
    why: Collection[str] | None = None,
    weeks: bool = False,
    local: Sequence[str] = (),
) -> str:
    """The year as text; with `weeks`, a table of all its weeks too. See `page` for the other arguments."""
    tables = {MONTHS_TABLE: months_table(year, width), WEEKS_TABLE: weeks_table(year, width) if weeks else ""}
    made = paper(year)
    parts = [tables[part.title] if isinstance(part, Table) else part for part in (*made.parts, *local_part(local))]
    return page_text(made.title, filter(None, parts), width=width, colour=colour, why=why)


def paper(year: Almanac) -> Paper:
    """The same as a paper, with both tables: the months, and the weeks to tick off."""
    return Paper(f"A year's compost for {year.household}", tuple(_parts(year)))


def _parts(year: Almanac) -> Iterator[Part]:
    yield first_of_all(year.cautions)
    yield Section("What comes in", year.comes)
    yield Section("Worked out from", year.rests_on)
    yield Section("Put by", year.put_by or ())
    yield Section("The batches", tuple(batch.line for batch in year.batches))
    yield from charts_of(year)
    yield _months(year)
    lines = tuple(month.line for month in year.months)
    yield Section("Month by month", lines, ticked=frozenset(line.id for line in lines))
    yield _weeks(year)
    yield Section("What is short", year.short)
    yield Section("What is left out, and what to do with it", year.left_over)
    yield Section("Keep out", year.stays_out)
    yield take_care(year.cautions)


def _months(year: Almanac) -> Table:
    """What goes in each month, in measures, and what lies where at its end."""
    kinds = _fed(year)
    rows = (
        (
            month.name,
            str(month.batch),
            *(_cell(month.goes_in, kind) for kind in kinds),
            volume_text(month.water_litres, year.units) if month.water_litres >= 1 else ".",
            _short(month.store_litres, year),
            _short(month.heap_litres, year),
        )
        for month in year.months
    )
    return Table(MONTHS_TABLE, ("month", "batch", *_heads(kinds, year), "water", "store", "heap"), tuple(rows))


def _weeks(year: Almanac) -> Table:
    kinds = _fed(year)
    rows = (
        (
            f"{week.number}, {week.month}",
            *(_cell(week.goes_in, kind) for kind in kinds),
            _short(week.store_litres, year),
            _short(week.heap_litres, year),
        )
        for week in year.weeks
    )
    return Table(WEEKS_TABLE, ("week", *_heads(kinds, year), "store", "heap"), tuple(rows))


def _fed(year: Almanac) -> list[Kind]:
    return [kind for kind in year.kinds if _ever(year, kind)]


def _heads(kinds: Sequence[Kind], year: Almanac) -> Iterator[str]:
    return (f"{kind.name}, in {_plural(kind, year)}" for kind in kinds)


def months_table(year: Almanac, width: int = 80) -> str:
    """What goes in each month, in measures; a column for each material with its letter explained above."""
    kinds = _fed(year)
    head = [MONTHS_TABLE, ""]
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
    kinds = _fed(year)
    wide = max(4, min(7, (width - 30) // max(1, len(kinds))))
    rows = [f"{WEEKS_TABLE} (letters as above)", ""]
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
