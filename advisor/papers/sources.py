"""Where what a paper says comes from, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.counsel.plan import Because, Line
    from advisor.knowledge.shapes import Source

#: How a source came to us.
STANDINGS = {
    "read": "",
    "memory": "recalled, to be confirmed",
    "practice": "common practice, no publication",
    "none": "our own estimate",
}


def cited(source: str, sources: Mapping[str, Source]) -> str:
    """A source in words: title, publisher, year, place, and how it came to us if it was not read.

    Args:
        source: its id; it is returned as it is if the bibliography does not hold it.
        sources: the bibliography, by id.
    """
    known = sources.get(source)
    if known is None:
        return source
    year = str(known.year) if known.year is not None else ""
    parts = [part for part in (known.publisher, year, known.place) if part]
    standing = STANDINGS[known.standing]
    tail = f" ({', '.join(parts)})" if parts else ""
    return f"{known.title}{tail}{f': {standing}' if standing else ''}"


def all_cited(lines: Iterable[Line], sources: Mapping[str, Source]) -> tuple[str, ...]:
    """Every source that the reasons of lines name, in words, each once and in the order of the lines."""
    named = dict.fromkeys(name for line in lines for name in _named(line.why))
    return tuple(dict.fromkeys(cited(name, sources) for name in named))


def _named(reasons: Iterable[Because]) -> Iterator[str]:
    for because in reasons:
        yield from because.sources
        yield from _named(because.rests_on)
