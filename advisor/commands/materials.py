"""`heapwright materials`: what can be composted, or one material with its figures, its sources and where it may go."""

from __future__ import annotations

import argparse
import textwrap
from typing import TYPE_CHECKING

from advisor.commands.terminal import colour, width
from advisor.safe_text import json_text

if TYPE_CHECKING:
    from advisor.counsel.material import MaterialVerdict
    from advisor.knowledge.base import Knowledge
    from advisor.knowledge.shapes import Figure, Material, Published

_HANG = 8


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("name", nargs="*", help="the material to show, in your own words; all of them if left out")
    parser.add_argument("--json", action="store_true", help="as JSON")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="metric (default) or us")


def run(arguments: argparse.Namespace) -> int:
    """Print a line for each material, or all about one."""
    from advisor.commands.shown import tell_local
    from advisor.counsel.in_use import in_use

    knowledge = in_use()
    if not arguments.name:
        _list(knowledge, as_json=arguments.json)
        if not arguments.json:
            tell_local(knowledge)
        return 0
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.material import verdict_on

    name = _found(" ".join(arguments.name), knowledge)
    verdict = verdict_on(name, knowledge, shipped_engine(), units=arguments.units)
    if arguments.json:
        print(json_text(_plain(verdict, knowledge.materials[name])))
    else:
        _show(verdict, knowledge)
        tell_local(knowledge)
    return 0


def _found(words: str, knowledge: Knowledge) -> str:
    from advisor.errors import UsageError
    from advisor.household.names import find_material

    match = find_material(words, knowledge)
    if match.found:
        return match.id
    near = ", ".join(knowledge.materials[each].name for each in match.candidates)
    if match.kind == "ask":
        raise UsageError(f"'{words}' may be one of several", hint=f"say which: {near}")
    raise UsageError(f"no material '{words}'", hint=f"the nearest are {near}" if near else "")


def _list(knowledge: Knowledge, *, as_json: bool) -> None:
    if as_json:
        rows = {
            name: {"name": one.name, "role": one.role, "aliases": one.aliases}
            for name, one in knowledge.materials.items()
        }
        print(json_text(rows))
        return
    for one in sorted(knowledge.materials.values(), key=lambda each: each.name.lower()):
        ratio = f"C:N {one.carbon_nitrogen.typical:g}" if one.carbon_nitrogen else ""
        print(textwrap.shorten(f"{one.name}: {one.role}. {ratio}", width(), placeholder=" …"))


def _show(verdict: MaterialVerdict, knowledge: Knowledge) -> None:
    from advisor.papers.pen import Ink

    ink = Ink(colour())
    material = knowledge.materials[verdict.material]
    print(ink.heading(verdict.headline))
    if material.aliases:
        _say(f"also called {', '.join(material.aliases)}")
    for line in verdict.lines:
        _say(line.text)
        sources = dict.fromkeys(source for because in line.why for source in because.sources)
        if sources:
            _say(f"[{', '.join(sources)}]", _HANG)
    print()
    print(ink.heading("Figures: low, typical, high, and what each source prints"))
    for name, figure, unit in _figures(material):
        _say(f"{name}: {figure.low:g}, {figure.typical:g}, {figure.high:g}{unit}")
        for one in figure.published:
            value = f"{one.low:g}" if one.low == one.high else f"{one.low:g} to {one.high:g}"
            _say(f"{value}{_marks(one)}: {_source(one.source, knowledge)}", _HANG)
        if figure.note:
            _say(figure.note, _HANG)


def _say(text: str, indent: int = 4) -> None:
    lead = " " * indent
    print(textwrap.fill(text, width(), initial_indent=lead, subsequent_indent=lead, break_on_hyphens=False))


def _marks(one: Published) -> str:
    """What must be known of a published value beside its source."""
    marks = {
        " of the whole, wet weight": one.as_received,
        " (of its kind as a whole)": one.group,
        " (worked out)": one.derived,
        " (set aside)": one.outlier,
    }
    return "".join(mark for mark, applies in marks.items() if applies)


def _source(name: str, knowledge: Knowledge) -> str:
    from advisor.knowledge.base import cites_local

    source = knowledge.sources[name]
    title = ", ".join(part for part in (source.title, source.place) if part)
    title += " (local entry)" if cites_local([name]) else ""
    return title + {"read": "", "memory": " (from memory)", "practice": "", "none": ""}[source.standing]


def _figures(material: Material) -> list[tuple[str, Figure, str]]:
    rows = [
        ("nitrogen", material.nitrogen, " % of dry mass"),
        ("carbon to nitrogen", material.carbon_nitrogen, ""),
        ("carbon", material.carbon, " % of dry mass"),
        ("phosphate (P2O5)", material.phosphate, " % of dry mass"),
        ("potash (K2O)", material.potash, " % of dry mass"),
        ("moisture", material.moisture, " % as it comes"),
        ("density, loose", material.density, " kg/m³"),
        ("density, packed", material.density_packed, " kg/m³"),
        ("ash", material.ash, " % of dry mass"),
    ]
    return [(name, figure, unit) for name, figure, unit in rows if figure is not None]


def _plain(verdict: MaterialVerdict, material: Material) -> dict[str, object]:
    return {
        "id": verdict.material,
        "headline": verdict.headline,
        "goes_into": list(verdict.goes_into),
        "stays_out_of": list(verdict.stays_out_of),
        "lines": [line.model_dump() for line in verdict.lines],
        "properties": material.model_dump(),
    }
