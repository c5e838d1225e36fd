"""What only sounds like a sign: what something else is, and what something is merely compared with."""

from __future__ import annotations

from advisor.hearing.cutting import Clause
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.meanings import Concept

#: Between a noun and what is said of it there are at most so many small words: "my eyes were really streaming".
_SMALL = listed(
    "is are was were be been being am 's has have had gone got going went get gets all both so very really quite just "
    "still always completely totally absolutely stone bone proper right pretty a bit now already it's"
)
_FARTHEST = 4
#: States, which are said of a subject; what lives in it, went into it or lies over it may be told beside anything.
_STATES_OF = (
    *("sign.warmth", "sign.steam", "sign.heat_before", "sign.moisture", "sign.dust", "sign.liquid", "sign.texture"),
    *("sign.vessel", "sign.lid", "sign.smell", "sign.progress", "sign.size", "sign.age", "sign.access"),
)
#: Facts of which a thing compared with is not told: "like a dead ewe" tells of no ewe, and of nothing dead.
_OF_THINGS = ("sign.animals", "sign.holds", "sign.effects", "sign.plants", "sign.neighbours", "sign.size", "deed.")
_LIKENING = listed("like as than")
_ARTICLES = listed("a an some my your his her our the one")
_SEEMS = listed("look looks looked looking seem seems seemed sound sounds sounded just more exactly")
#: What stands behind "like" and tells on is no comparison: "it looks like a fox has been at it".
_TELLS_ON = listed("is are was were has have had 's been got gets did does do keeps")
_SMELL = "sign.smell"
_COMPARES = ("like|as", "like ", "as ")
_BEGINNING = 2  # words
#: "It is like cider" tells a smell, "it fizzed like cider" does not.
_STATES = listed("is was are were 's gone went turned be been going got")


def is_of_another(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether a sign is said of something that is no heap, nor anything in it: eyes, a car, a bottle, the washing."""
    if not _tells(hit, _STATES_OF):
        return False
    words = finder.line.words
    at = hit.start - 1
    while at >= clause.start and hit.start - at <= _FARTHEST and words[at].form in _SMALL:
        at -= 1
    return at >= clause.start and any(
        at + 1 in finder.things("other-thing", first) for first in range(max(clause.start, at - 1), at + 1)
    )


def is_compared_with(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether a way of saying only names what something is compared with: "it stank like a dead ewe"."""
    if not _tells(hit, _OF_THINGS):
        return False
    words = finder.line.words
    for at in range(hit.start - 1, max(clause.start, hit.start - _FARTHEST) - 1, -1):
        if words[at].mark:
            return False
        if words[at].form in _LIKENING:
            before = words[at - 1].form if at > clause.start else ""
            likens = words[at + 1].form in _ARTICLES and at + 1 < hit.end
            told_on = any(word.form in _TELLS_ON for word in words[hit.start : clause.end])
            return likens and before not in _SEEMS and not told_on
    return False


def is_out_of_place(finder: Finder, hit: Hit, clause: Clause, asked: str) -> bool:
    """Whether "like an egg" is no smell: nobody speaks of smells there.

    Args:
        asked: the fact that the open question asks for.
    """
    if not (hit.way.startswith(_COMPARES) and _tells(hit, (_SMELL,))) or asked == _SMELL:
        return False
    words = finder.line.words
    if hit.start and words[hit.start].form == "like" and words[hit.start - 1].form in _STATES:
        return False
    sentence = finder.line.sentences[clause.sentence]
    if hit.start - sentence.start <= _BEGINNING:  # "bit like bad eggs" and nothing before it
        return False
    return not finder.names("speaks-of-smell", sentence.start, sentence.end)


def _tells(hit: Hit, kinds: tuple[str, ...]) -> bool:
    return isinstance(hit.of, Concept) and any(name.startswith(kinds) for name, _ in hit.of.facts)
