"""Whether a line only tells what stuff there is, so that "dry", "wet" or "stinking" in it is said of the stuff."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from advisor.hearing.cutting import VERBS, Clause
from advisor.hearing.deciding import is_sign
from advisor.hearing.english import listed
from advisor.hearing.facts import VESSELS, things_in
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.questions import asking
from advisor.hearing.shapes import Fact, HeardAmount, HeardMaterial

#: Said of stuff that lies to hand, these are no signs of a heap.
_LOOKS = ("sign.moisture", "sign.smell", "sign.pieces", "sign.size", "sign.texture")
#: These may be told of stuff as well; a line that tells any other sign speaks of more.
_OF_STUFF = (
    *_LOOKS,
    "sign.mix",
    "sign.holds",
    "sign.weather",
    "sign.steam",
    "sign.origin",
    "sign.built",
    "sign.warmth",
    "sign.looks",
    "sign.cover",
    "sign.place",
    "sign.extent",
    "sign.degrees",
)
_HEAPED = frozenset({"heap", "leaf heap"})
_OWN = listed("the my our your his her their this that")
_AMOUNTS = ("amount", "acts-amount", "stock-plenty", "having")
_COUNTING = listed("a two three four five six seven eight nine ten twenty")
#: What makes one doubt that stuff may go in.
_DOUBTFUL = listed(
    "poisonous plastic meat oily cooked dairy pet-waste human-waste treated coated coal-ash ash salty diseased "
    "spreads citrus"
)
_TELLS = listed(
    "i we have has had got get is are was were be been comes come put went going made gave will would my our his "
    "every each daily weekly "
    "some all most half only just now again today yesterday"
)
_NEAR = 3  # words between an amount and what it is of
_STANDS_FOR_HEAP = listed("it its she her")
_OF_IT = listed("of all with to on for under up about at from get gets got use using used")  # "of it", "use it"
_HOLDS = listed("of 's worth full")
_NAMED_FIRST = 4  # words, within which a clause that is all of stuff names it
_LEAST_CLAUSES = 2
_SAYING = ("acts-saying", "acts-doing")


def only_tells_stuff(finder: Finder) -> bool:
    """Whether a line tells how much stuff there is, and names no heap or vessel, nor a part of one."""
    return finder.once(("only-tells-stuff", 0), lambda: _only_tells(finder, _tells_amount))


def only_names_stuff(finder: Finder) -> bool:
    """Whether a clause of a line is all of stuff, and the line names no heap or vessel."""
    return finder.once(("only-names-stuff", 0), lambda: _only_tells(finder, _names_first))


def asks_of_stuff(finder: Finder, found: Sequence[Fact]) -> bool:
    """Whether a line only names stuff that one may doubt may go in, and not how much there is: "greasy boxes"."""
    words = finder.line.words
    if not finder.line.clauses or finder.numbers or not _names_first(finder, finder.line.clauses[0]):
        return False
    if any(finder.where(name) for name in (*_AMOUNTS, "acts-lacking", "acts-doing")):
        return False
    said = [word.form for word in words]
    if any(form in _TELLS and said[at : at + 2] != ["i", "mean"] for at, form in enumerate(said)):
        return False
    if any(fact.name.startswith("material.") and fact.stance == "told" for fact in found):
        return True
    known = finder.knowledge.materials
    return any(_DOUBTFUL & set(known[name].traits) for named in finder.materials.values() for name in named.ids[:1])


def asks_verdict(finder: Finder, found: Sequence[Fact]) -> bool:
    """Whether a line only names stuff, and then asks to be told of it: "bindweed. be honest with me"."""
    clauses = finder.line.clauses
    if len(clauses) < _LEAST_CLAUSES or any(is_sign(fact) and fact.name not in _LOOKS for fact in found):
        return False
    first = clauses[0]
    named = _names_first(finder, first) or finder.names("d-things", first.start, first.end)
    bare = not any(word.form in VERBS for word in finder.line.words[first.start : first.end])
    if not (named and bare) or any(finder.where(name) for name in (*_AMOUNTS, "acts-lacking", "acts-doing")):
        return False
    return any(finder.names(name, one.start, one.end) for one in clauses for name in ("appeals", "opinion"))


def _only_tells(finder: Finder, tells: Callable[[Finder, Clause], bool]) -> bool:
    line = finder.line
    if not any(tells(finder, clause) for clause in line.clauses if not asking(line, clause)):
        return False
    things = [hit for one in line.clauses for hit in things_in(finder, one)]
    if any(str(hit.of) in VESSELS and not is_measure(finder, hit) for hit in things):
        return False
    if any(str(hit.of) == "compost" and hit.start and line.words[hit.start - 1].form in _OWN for hit in things):
        return False
    return not finder.where("stock-part") and not any(_stands_for_heap(finder, at) for at in range(len(line.words)))


def _stuff(finder: Finder, clause: Clause) -> list[int]:
    earth = ("compost", "soil", "acts-earth")
    stuff = (at for at in finder.where("stuff") if clause.start <= at < clause.end)
    return [at for at in stuff if not any(finder.things(name, at) for name in earth)]


def _tells_amount(finder: Finder, clause: Clause) -> bool:
    """Whether an amount, or a word of having, stands next to stuff."""
    words = finder.line.words
    stuff = _stuff(finder, clause)
    for at in range(clause.start, clause.end):
        if at and words[at - 1].form == "too":
            continue  # "too few leaves" are too few in a heap
        if at in stuff and (at in finder.numbers or words[at].form in _COUNTING):
            return True  # "four bales" stands for stuff and says how much
        for name in _AMOUNTS:
            for end in finder.things(name, at):
                if name == "having" and words[at].form in ("they", "you"):
                    continue  # "the cuttings, they have glued together"
                if any(end <= one <= end + _NEAR for one in stuff):
                    return True
                if any(0 <= at - max(finder.things("stuff", one)) <= _NEAR for one in stuff):
                    return True
    return False


def _names_first(finder: Finder, clause: Clause) -> bool:
    """Whether a clause names stuff first and says no more of it."""
    words = [at for at in range(clause.start, clause.end) if not finder.line.words[at].mark]
    stuff = _stuff(finder, clause)
    if not stuff or stuff[0] not in words[:_NAMED_FIRST]:
        return False
    return not any(finder.names(name, clause.start, clause.end) for name in _SAYING)


def _stands_for_heap(finder: Finder, at: int) -> bool:
    words = finder.line.words
    if words[at].form not in _STANDS_FOR_HEAP:
        return False
    before = words[at - 1].form if at else ""
    behind = words[at + 1].form if at + 1 < len(words) else ""
    return before not in _OF_IT and behind != "all"


def is_measure(finder: Finder, hit: Hit) -> bool:
    """Whether a vessel is only how much there is: "half a bin of comfrey", "a wheelie bin's worth", "a heap of hay"."""
    words = finder.line.words
    behind = words[hit.end].form if hit.end < len(words) else ""
    if str(hit.of) in _HEAPED and hit.start and words[hit.start - 1].form in _OWN:
        return False  # "the pile of manure" is the heap itself, "a pile of manure" is so much
    if behind in _HOLDS or "of" in (word.form for word in words[hit.start : hit.end]):
        return True
    counted = hit.start > 0 and (hit.start - 1 in finder.numbers or words[hit.start - 1].form in ("half", "½"))
    return counted and bool(hit.end < len(words) and finder.things("stuff", hit.end))


def is_of_stuff(finder: Finder, found: Sequence[Fact]) -> bool:
    """Whether the signs of a line are said of stuff to hand."""
    signs = [fact for fact in found if fact.name.startswith(("sign.", "deed.")) and fact.stance == "told"]
    return only_tells_stuff(finder) and all(_may_be_of_stuff(finder, fact) for fact in signs)


def _may_be_of_stuff(finder: Finder, fact: Fact) -> bool:
    """Whether a sign can be said of stuff to hand; what a smell is like is no stuff."""
    spans = [(word.start, at) for at, word in enumerate(finder.line.words) if fact.start <= word.start < fact.end]
    if fact.name == "sign.plants":  # "a jungle of nettles", "grass coming out of my ears"
        return any(finder.things("stock-plenty", at) for _, at in spans)
    if fact.name == "sign.smell" and (fact.value != "foul" or any(finder.things("stuff", at) for _, at in spans)):
        return False
    if fact.name == "sign.texture" and _is_heaped(finder):
        return False
    return fact.name in _OF_STUFF


def _is_heaped(finder: Finder) -> bool:
    """Whether a heap is named at all, if only as how much there is: "a heap of leaves, all stuck together"."""
    return any(str(hit.of) in _HEAPED for clause in finder.line.clauses for hit in things_in(finder, clause))


def without_looks(finder: Finder, found: Sequence[Fact]) -> list[Fact]:
    """The facts of a line without signs that are said of stuff to hand, and vessels that only measure it."""
    kept = [fact for fact in found if not _is_measuring(finder, fact)]
    if not is_of_stuff(finder, kept):
        return kept
    return [fact for fact in kept if fact.name not in (*_LOOKS, "sign.plants")]


def _is_measuring(finder: Finder, fact: Fact) -> bool:
    if fact.name != "place.container":
        return False
    words = finder.line.words
    end = next((at + 1 for at, word in enumerate(words) if word.start < fact.end <= word.end), len(words))
    behind = range(end, min(end + _NEAR, len(words)))
    if not behind or words[end].form not in _HOLDS:
        return False
    return any(finder.things("stuff", at) and not finder.things("soil", at) for at in behind)


def without_measures(materials: Sequence[HeardMaterial], held: Sequence[HeardAmount]) -> Iterator[HeardMaterial]:
    """The materials of a line without what only measures another: the bags of "two bin bags of leaves"."""
    for one in materials:
        inside = [
            amount
            for amount in held
            if amount.start <= one.start and one.end < amount.end and amount.ids and amount.ids != one.ids
        ]
        names = {other.ids for other in materials if other is not one}
        if not any(amount.ids in names and one.end < amount.end for amount in inside):
            yield one
