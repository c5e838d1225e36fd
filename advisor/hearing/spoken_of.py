"""Which thing a line is about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.english import listed
from advisor.hearing.facts import things_in
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.shapes import Asked, Fact

COMMANDS = listed("undo redo save load units help more start_over leave off")
_VESSELS = ("worm bin", "fermented bucket", "tumbler", "leaf heap", "trench", "bin", "heap")
_FINISHED = listed(
    "finished ready mature sieved screened bought bagged young fresh old castings half-rotted bag market last new"
)
#: Signs that are seen on what grows.
_ON_PLANTS = ("sign.plants", "sign.effects")
_MEASURED = listed(
    "a an half two three four five six seven eight nine ten twelve few several some many another each every"
)


def about(finder: Finder, acts: Sequence[str], facts: Sequence[Fact], asked: Asked) -> str:
    """Which thing a line is about: what ails before what is told in passing; the last spoken of, if none is named."""
    named = [(str(hit.of), _is_weak(finder, hit)) for hit in _named(finder)]
    known = {thing for thing, _ in named}
    strong = {thing for thing, weak in named if not weak}
    first = next((act for act in acts if act not in COMMANDS), "")
    if not first:
        return next((vessel for vessel in _VESSELS if vessel in known), "none" if acts else asked.about or "heap")
    if first == "ask_soil":
        return "soil"
    if first == "ask_use" or (first == "ask_ready" and not known & {"worm bin", "fermented bucket", "trench"}):
        return "compost"
    if _is_of_plants(first, [thing for thing, _ in named], facts):
        return "plants"
    if first == "danger" and named and named[0][0] == "animals":
        return "animals"
    for vessels in (strong, known):
        for vessel in _VESSELS:
            if vessel in vessels:
                return vessel
    if "compost" in known:
        return "compost" if _is_finished(finder) else "heap"
    if asked.about:
        return asked.about
    if named and named[0][0] == "soil" and first in ("trouble", "observation", "deed", "danger"):
        return "soil"
    if known == {"animals"} and first in ("stock", "ask_how", "danger"):
        return "animals"
    return "household" if first == "circumstance" else "heap"


def _named(finder: Finder) -> Iterator[Hit]:
    """What a line names, without animals and measures that are part of a material or an amount."""
    words = finder.line.words
    for clause in finder.line.clauses:
        for hit in things_in(finder, clause):
            in_material = any(named.start <= hit.start < named.end for named in finder.materials.values())
            behind = words[hit.end].form if hit.end < len(words) else ""
            if hit.of == "animals" and (in_material or behind in _DROPPED):
                continue
            if hit.of == "fermented bucket" and _is_measure(finder, hit):
                continue
            yield hit


_DROPPED = listed("muck manure dung stuff bedding straw litter droppings poo poop shit hay house 's egg eggs daggings")


def _is_measure(finder: Finder, hit: Hit) -> bool:
    """Whether a bucket is only how much there is: "two buckets", "a bucket a week", "buckets of grass"."""
    words = finder.line.words
    if hit.end - hit.start > 1 or words[hit.start].lemma not in ("bucket", "pail"):
        return False
    before = words[hit.start - 1].form if hit.start else ""
    behind = words[hit.end].form if hit.end < len(words) else ""
    counted = before in _MEASURED or (hit.start > 0 and before[0].isdigit()) or before in ("tractor", "watering")
    return counted or behind in ("of", "from", "a", "per")


def _is_weak(finder: Finder, hit: Hit) -> bool:
    """Whether a thing is only named by what may be anywhere: worms, a bucket."""
    return hit.end - hit.start == 1 and finder.line.words[hit.start].lemma in ("worm", "bucket", "pail", "bran")


def _is_of_plants(first: str, named: Sequence[str], facts: Sequence[Fact]) -> bool:
    if "plants" not in named or first not in ("trouble", "danger", "ask_fact", "ask_why", "what_if"):
        return False
    seen = any(fact.name in _ON_PLANTS and fact.stance == "told" for fact in facts)
    return seen or named[0] == "plants" or (first == "ask_fact" and "compost" in named)


def _is_finished(finder: Finder) -> bool:
    return any(word.form in _FINISHED for word in finder.line.words)
