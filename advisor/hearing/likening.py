"""What only sounds like a sign: what something else is, and what something is merely compared with."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.hearing.cutting import Clause
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.likenesses import LIKENED, compared, stands_compared
from advisor.hearing.meanings import Concept

#: Between a noun and what is said of it there are at most so many small words: "my eyes were really streaming".
_SMALL = listed(
    "is are was were be been being am 's has have had gone got going went get gets all both so very really quite just "
    "still always completely totally absolutely stone bone proper right pretty a bit now already it's"
)
_FARTHEST = 4
_SPEAKERS = frozenset({"i", "we", "you"})
_AM = listed("am are was were feel felt 'm")
#: States, which are said of a subject; what lives in it, went into it or lies over it may be told beside anything.
_STATES_OF = (
    *("sign.warmth", "sign.steam", "sign.heat_before", "sign.moisture", "sign.dust", "sign.liquid", "sign.texture"),
    *("sign.vessel", "sign.lid", "sign.smell", "sign.progress", "sign.size", "sign.age", "sign.access"),
)
#: Facts of which a thing compared with is not told: "like a dead ewe" tells of no ewe, and of nothing dead.
_OF_THINGS = ("sign.animals", "sign.holds", "sign.effects", "sign.plants", "sign.neighbours", "sign.size", "deed.")
_SMELL = "sign.smell"
_LIKENING = listed("like as than")
_ARTICLES = listed("a an some my your his her our the one")
_SEEMS = listed("look looks looked looking seem seems seemed sound sounds sounded just more exactly")
#: "Like" before a clause that tells on is no comparison: "it looks like a fox has been at it".
_TELLS_ON = listed("is are was were has have had 's been got gets did does do keeps")
#: What something or somebody that breaks in does, and the household does not.
_OF_INTRUDERS = ("sign.access", "gaps")
_ONESELF = listed("i we us me you people")
_WHILE = listed("after before while when for by from since without")
_NO_STINK = listed("of like as fine nice lovely good sweet ok okay alright clean normal pleasant great delicious right")
_SOMEBODY = listed("he she they it we i")
_HINTS = listed("sniff hint")  # of a smell, besides the class `smell`
_OWN = listed("my our it")
#: "I would like leaves" compares nothing.
_WISHES = listed("would 'd")
#: "Smells strongly of" names a smell, and so does "a whiff of".
_OF_WITHIN, _LIKENED_WITHIN = 2, 7  # words


def is_of_another(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether a sign is said of something that is no heap, nor anything in it: eyes, a car, a bottle, the washing."""
    if not _tells(hit, _STATES_OF):
        return False
    if hit.way == LIKENED and finder.things("sign-nose", hit.start - 1):
        return False  # "it catches my throat like bleach" is not said of the throat
    words = finder.line.words
    at = hit.start - 1
    while at >= clause.start and hit.start - at <= _FARTHEST and words[at].form in _SMALL:
        at -= 1
    being = any(words[place].form in _AM for place in range(max(clause.start, at + 1), hit.start + 1))
    if at >= clause.start and words[at].form in _SPEAKERS and being:
        return True  # "I'm melting"
    return at >= clause.start and any(
        at + 1 in finder.things("other-thing", first) for first in range(max(clause.start, at - 1), at + 1)
    )


def is_own_doing(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether one did oneself what is a sign if an animal did: "we tipped the bin over", "after digging it out"."""
    if not isinstance(hit.of, Concept) or _OF_INTRUDERS not in hit.of.facts:
        return False
    words = finder.line.words
    at = hit.start - 1
    while at >= clause.start and (words[at].form in _SMALL or words[at].form.endswith("ly")):
        at -= 1
    if at >= clause.start and words[at].form in _ONESELF:
        return True
    begun = words[hit.start].form
    doing = begun.endswith("ing") and not begun.endswith("thing")
    return doing and (at < clause.start or words[at].form in _WHILE)


def is_compared_with(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether a way of saying only names what something is compared with: "it stank like a dead ewe"."""
    if not _tells(hit, (_SMELL,)) and stands_compared(finder, hit.end - 1, clause, wide=_tells(hit, _OF_THINGS)):
        return True
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


def says_no_stink(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether "smells" says of what, or that nothing is wrong: "smells of marzipan", "smells fine", "reeks of tar"."""
    following = finder.line.words[hit.end].form if hit.end < clause.end else ""
    if hit.way == "smell" and following in _NO_STINK:
        return True
    general = isinstance(hit.of, Concept) and hit.of.general and _tells(hit, (_SMELL,)) and hit.way != LIKENED
    index = finder.vocabulary.likeness_index
    return general and any(
        hit.start <= at <= hit.end + 1 and finder.hits(index, start, end, end)
        for at, start, end in compared(finder, clause.sentence)
    )


def is_likened_stuff(finder: Finder, start: int) -> bool:
    """Whether a name of stuff only says what something looks, feels or smells like: "like ash", "reeks of old fish".

    Args:
        start: the first word of the name. The words that compare are looked for before it in its clause.
    """
    words = finder.line.words
    clause = finder.line.clause_of(start)
    if stands_compared(finder, start, clause):
        return True
    for at, before in _places_before(finder, start, clause.start):
        likens = words[at].form == "like" and before not in _WISHES
        as_if = words[at].form == "if" and before == "as"
        smells = words[at].form == "of" and finder.names("smell", max(clause.start, at - _OF_WITHIN), at)
        if likens or as_if or smells or words[at].lemma == "resemble":
            return True
    return False


def is_likened_thing(finder: Finder, start: int, *, smelt: bool) -> bool:
    """Whether a word only names what something is compared with, and tells nothing that happened.

    "Stinks like a nappy", "the same as a station toilet"; but "looks like he has eaten it" tells what he did.

    Args:
        start: the word.
        smelt: whether "a whiff of" it only compares too. What smells of gas may be gas.
    """
    words = finder.line.words
    clause = finder.line.clause_of(start)
    first = clause.start - 1 if clause.start and words[clause.start - 1].form == "like" else clause.start
    for at, before in _places_before(finder, start, first):
        if words[at].form == "like" and before not in _WISHES and not seems_so(finder, at):
            return before not in _SEEMS and words[at + 1].form not in _SOMEBODY
        of_smell = words[at].form == "of" and (before in _HINTS or at - 1 in finder.where("smell"))
        if (words[at].form == "as" and before == "same") or (smelt and of_smell):
            return True
    return False


def seems_so(finder: Finder, at: int) -> bool:
    """Whether words that liken tell what is so all the same: "looks as if my dog ate it", "like a fool I ate it"."""
    words = finder.line.words
    if at in finder.where("danger-fool"):
        return True
    as_if = words[at].form == "as" and at > 0 and words[at - 1].form in _SEEMS
    return as_if and at + 2 < len(words) and words[at + 2].form in _OWN


def _places_before(finder: Finder, start: int, first: int) -> Iterator[tuple[int, str]]:
    """The words before one that may compare, the nearest first, up to a mark; each with the form before it."""
    words = finder.line.words
    for at in range(start - 1, max(first, start - _LIKENED_WITHIN) - 1, -1):
        if words[at].mark:
            return
        yield at, words[at - 1].form if at else ""


def _tells(hit: Hit, kinds: tuple[str, ...]) -> bool:
    return isinstance(hit.of, Concept) and any(name.startswith(kinds) for name, _ in hit.of.facts)
