"""Figures of a diary line that are far off from what a heap, a probe or a worm bin has, and the question they raise."""

from __future__ import annotations

from typing import Final

from advisor.diary.items import MOST_TOLD
from advisor.diary.told_signs import of_weather
from advisor.hearing.diary_line import DiaryLine
from advisor.hearing.readings import Figure

#: What a heap does not reach, in °C: microbes that heat it die off from about 70 to 80 °C. Rynk and others, On-Farm
#: Composting Handbook, NRAES-54, 1992 (from memory).
HOTTEST_HEAP_C: Final = 82.0
COLDEST_C: Final = -30.0
#: Compost worms die above about 35 °C (95 °F). Edwards and Bohlen, Biology and Ecology of Earthworms, 1996 (from
#: memory).
HOTTEST_WORMS_C: Final = 45.0
_DEEPEST_CM, _HIGHEST_CM = 200.0, 400.0  # common practice, no source: longer than any probe, higher than any heap
_MOST_STUFF = 50_000.0  # litres or kilograms told of in one go; common practice, no source
_HOT_ENOUGH_TO_BE_ONE_C = 115.0  # a bare figure from here on measures nothing that a heap has


def _is_far(figure: Figure, kind: str) -> bool:
    hottest = HOTTEST_WORMS_C if kind == "worm bin" else HOTTEST_HEAP_C
    return not COLDEST_C <= figure.celsius <= hottest


def far_off(line: DiaryLine, *, logging: bool) -> str:
    """A question about a figure that nobody means; empty if all are near enough."""
    heard = line.heard
    worms = any(one.kind == "worm bin" for one in line.vessels)
    told = [one for one in heard.facts if one.name == "sign.degrees" and one.stance == "told"]
    for figure in line.figures:
        read = any(one.start < figure.end and figure.start < one.end for one in told)
        said = heard.text[figure.start : figure.end].strip()
        bare = logging and not figure.sure and figure.figure > _HOT_ENOUGH_TO_BE_ONE_C and not _used(line, figure)
        if (
            (read or figure.sure or bare)
            and _is_far(figure, "worm bin" if worms else "")
            and not of_weather(line, figure)
        ):
            if bare and not read:
                return f"“{said}”: what does that count? Say it with its unit, as in 58 C or 3 buckets."
            most = HOTTEST_WORMS_C if worms else HOTTEST_HEAP_C
            limit = f"{most:.0f} C" if not figure.fahrenheit else f"{most * 9 / 5 + 32:.0f} F"
            of = "a worm bin" if worms else "a heap"
            far = f"colder than {of} gets" if figure.celsius < COLDEST_C else f"hotter than {of} gets (about {limit})"
            return f"{said}? That is {far}. Say it again if so."
    for one in line.lengths:
        most = _DEEPEST_CM if one.of == "depth" else _HIGHEST_CM
        if one.of and one.metres * 100 > most:
            said = heard.text[one.start : one.end]
            return f"{said}? That is more than a {'probe' if one.of == 'depth' else 'heap'} has. Say it again if so."
    for count, measure, start, end in line.measures:
        if count > MOST_TOLD or (measure in ("L", "kg") and count > _MOST_STUFF):
            return f"{heard.text[start:end]}? That is more than a garden has. Say it again if so."
    return ""


def _used(line: DiaryLine, figure: Figure) -> bool:
    """Whether a bare figure counts stuff, a length or a day."""
    spans = [(one.start, one.end) for one in line.heard.amounts] + [(one.start, one.end) for one in line.lengths]
    spans += [(one.start, one.end) for one in line.days] + [(one.start, one.end) for one in line.vessels]
    spans += [(one.start, one.end) for one in line.heard.sizes]
    return any(start < figure.end and figure.start < end for start, end in spans)
