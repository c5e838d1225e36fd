"""The plan as a page of plain text."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from advisor.counsel.plan import Because, Layer, Line, Plan
from advisor.papers.sections import sections

_NARROWEST = 40
_MARGIN = 6  # the column of line names


@dataclass(frozen=True, slots=True)
class Ink:
    """How words are set off: by terminal codes, or by nothing."""

    colour: bool

    def heading(self, text: str) -> str:
        return f"\x1b[1m{text}\x1b[0m" if self.colour else text

    def quiet(self, text: str) -> str:
        return f"\x1b[2m{text}\x1b[0m" if self.colour else text

    def grave(self, text: str) -> str:
        return f"\x1b[1;33m{text}\x1b[0m" if self.colour else text


def page(plan: Plan, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None) -> str:
    """The plan as text.

    Args:
        width: columns; narrower than 40 is treated as 40.
        colour: whether to set words off with terminal codes. No meaning hangs on them.
        why: None for the plain page; otherwise names of lines whose reasons are shown below them, all lines if empty.
    """
    writer = _Writer(plan, max(width, _NARROWEST), Ink(colour), why)
    return "\n".join(writer.page()).rstrip() + "\n"


class _Writer:
    def __init__(self, plan: Plan, width: int, ink: Ink, why: Collection[str] | None) -> None:
        self.plan, self.width, self.ink, self.why = plan, width, ink, why

    def page(self) -> Iterator[str]:
        yield self.ink.heading(f"Compost for {self.plan.household}")
        for part in sections(self.plan):
            yield ""
            yield (self.ink.grave if part.grave else self.ink.heading)(part.title)
            for line in part.lines:
                yield from self.line(line)
            if part.drawn:
                yield from self.layers(self.plan.layers)
        if self.why is None:
            yield ""
            yield from self.wrapped(
                "Every line can say why: ask for it by its name, such as --why m1, or --why for all.", "", 0
            )

    def line(self, line: Line) -> Iterator[str]:
        """A line with its name and, if they were asked for, its reasons."""
        yield from self.wrapped(line.text, line.id, _MARGIN)
        if self.why is not None and (not self.why or line.id in self.why):
            for because in line.why:
                yield from self.because(because, 1)

    def layers(self, layers: Iterable[Layer]) -> Iterator[str]:
        """The section of the heap, top first, as it would be seen."""
        drawn = tuple(layers)
        if not drawn:
            return
        yield ""
        thickest = max(layer.thickness_cm for layer in drawn)
        for layer in reversed(drawn):
            bar = "=" * max(1, round(18 * layer.thickness_cm / thickest))
            place = {"base": " (base)", "cover": " (cover)", "body": ""}[layer.place]
            thick = _thickness(layer.thickness_cm, self.plan.units)
            lead = f"{' ' * _MARGIN}{bar:<18}  {thick:>6}  "
            room = max(self.width - len(lead) - len(place), _NARROWEST // 4)
            yield f"{lead}{textwrap.shorten(layer.name, room, placeholder=' …')}{place}"
        yield f"{' ' * _MARGIN}{'-' * 18}  ground"

    def because(self, because: Because, depth: int) -> Iterator[str]:
        indent = _MARGIN + 2 * depth
        mark = {"told": "you:", "computed": "sum:", "rule": "rule:"}[because.origin]
        yield from self.wrapped(f"{mark} {because.statement}", "", indent, quiet=True)
        if because.because:
            yield from self.wrapped(because.because, "", indent + 2, quiet=True)
        about = [part for part in (because.rule, because.evidence, ", ".join(because.sources)) if part]
        if about:
            yield from self.wrapped(f"[{'; '.join(about)}]", "", indent + 2, quiet=True)
        for child in because.rests_on:
            yield from self.because(child, depth + 1)

    def wrapped(self, text: str, name: str, indent: int, *, quiet: bool = False) -> Iterator[str]:
        """Text folded beside the name of its line. Only the words are dimmed: the name stays readable."""
        lead = f"{name:<{indent}}" if name else " " * indent
        room = max(self.width - indent, _NARROWEST // 2)
        folded = textwrap.wrap(text, room, break_long_words=False, break_on_hyphens=False) or [""]
        for place, part in enumerate(folded):
            shown = self.ink.quiet(part) if quiet else part
            yield f"{lead if place == 0 else ' ' * indent}{shown}"


def _thickness(centimetres: float, units: str) -> str:
    return f"{centimetres:.0f} cm" if units == "metric" else f"{centimetres / 2.54:.0f} in"
