"""Answers about soil and compost as pages of plain text, with the triangle and the trends drawn in plain signs."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from advisor.knowledge.shapes import Guide
from advisor.papers.answer import answer_page
from advisor.papers.sections import Section
from advisor.soil.texture import texture
from advisor.soil_counsel.shapes import Answer, SoilAnswer, TextureFound, TrendFound
from advisor.units import Units, fill

_MARGIN = " " * 6
_BAR = 30

#: Letters of the classes in the triangle.
_LETTERS = {
    "sand": "s",
    "loamy-sand": "l",
    "sandy-loam": "S",
    "loam": "L",
    "silt-loam": "Z",
    "silt": "z",
    "sandy-clay-loam": "A",
    "clay-loam": "C",
    "silty-clay-loam": "Y",
    "sandy-clay": "a",
    "silty-clay": "y",
    "clay": "c",
}
_STEP_PCT = 5


def ground_page(answer: Answer, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None) -> str:
    """An answer as text; see `answer_page` for the arguments."""
    sections: list[Section | str] = []
    for part in answer.parts:
        sections.append(Section(part.title, part.lines, grave=part.grave))
        if isinstance(answer, SoilAnswer):
            if part.title == "What was measured":
                sections += [texture_picture(found) for found in answer.textures[-1:]]
            if part.title == "Over the years":
                sections += [trend_picture(found) for found in answer.trends]
    return answer_page(answer.name, sections, width=width, colour=colour, why=why)


def guide_page(guide: Guide, *, units: Units = "metric", width: int = 80) -> str:
    """A guided check as text: what it takes, what to do, what to write down."""
    import textwrap

    room = max(width, 40)

    def shown(text: str, lead: str = "") -> Iterable[str]:
        return textwrap.wrap(fill(text, {}, units), room, initial_indent=lead, subsequent_indent=" " * len(lead))

    lines = [guide.name[:1].upper() + guide.name[1:], "", *shown(guide.about)]
    if guide.when:
        lines += ["", *shown(guide.when)]
    if guide.needs:
        lines += ["", "Needs"]
        for need in guide.needs:
            lines += shown(need, "    - ")
    lines += ["", "Steps"]
    for number, step in enumerate(guide.steps, 1):
        lines += shown(step, f"{number:>4}. ")
    lines += ["", "Write down"]
    for name, asked in guide.inputs.items():
        words = f" ({', '.join(asked.words)})" if asked.words else f" ({asked.unit})" if asked.unit else ""
        lines += shown(f"{asked.ask}{words}", f"    {name}= ")
    lines += ["", f"[{', '.join(guide.source)}]"]
    return "\n".join(lines) + "\n"


def texture_picture(found: TextureFound) -> str:
    """The triangle of textures, clay upwards and sand to the left, with the soil in it as a star."""
    star = _cell(found)
    rows = []
    for clay in range(100 - _STEP_PCT, -1, -_STEP_PCT):
        cells = [_letter(sand, clay) for sand in range(100 - clay - _STEP_PCT, -1, -_STEP_PCT)]
        if clay == star[1]:
            cells[len(cells) - 1 - star[0] // _STEP_PCT] = "*"
        rows.append(f"{_MARGIN}{clay:>3} % clay  {' ' * (20 - len(cells))}{' '.join(cells)}")
    names = ", ".join(f"{letter} {name.replace('-', ' ')}" for name, letter in _LETTERS.items())
    half = names.rfind(", ", 0, 66) + 2
    rest = names[half:]
    cut = rest.rfind(", ", 0, 66) + 2
    legend = [f"{_MARGIN}sand to the left, silt to the right; * is this soil"]
    legend += [f"{_MARGIN}{part.strip()}" for part in (names[:half], rest[:cut], rest[cut:]) if part]
    return "\n".join([*rows, *legend])


def _cell(found: TextureFound) -> tuple[int, int]:
    """Lower ends of the cell a soil lies in, sand and clay; the outermost cells take in their edges."""
    clay = min(int(found.clay_pct // _STEP_PCT) * _STEP_PCT, 100 - _STEP_PCT)
    sand = min(int(found.sand_pct // _STEP_PCT) * _STEP_PCT, 100 - clay - _STEP_PCT)
    return sand, clay


def _letter(sand: int, clay: int) -> str:
    """The class in the middle of a cell: its corners lie on limits, which belong to one side."""
    inside = _STEP_PCT / 3
    return _LETTERS[texture(sand + inside, 100 - sand - clay - 2 * inside, clay + inside).name]


def trend_picture(found: TrendFound) -> str:
    """Bars from nought, one for each result, oldest first."""
    values = [mark.value for mark in found.marks]
    most = max((abs(value) for value in values), default=0) or 1.0
    rows = [f"{_MARGIN}{found.about}{f', {found.unit}' if found.unit else ''}"]
    for mark in found.marks:
        bar = "#" * round(_BAR * mark.value / most) if mark.value > 0 else ""
        rows.append(f"{_MARGIN}{mark.on.isoformat()}  {bar or '.':<{_BAR}} {_figure(mark.value)}")
    return "\n".join(rows)


def _figure(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"
