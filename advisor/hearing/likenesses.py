"""What something is said to smell like: the things named behind "like", "a whiff of", "as if somebody mixed ..."."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.hearing.cutting import VERBS, Clause, Sentence
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.meanings import Concept
from advisor.hearing.stance import is_hit_in

#: The way of saying of what is found here.
LIKENED = "likened"
#: A comparison names its things within so many words.
_LONGEST = 16
#: Where nobody speaks of smells, "like" is heard of what follows it at once.
_SHORTEST = 4
#: With these a comparison ends, since somebody or something new is spoken of.
_ENDING = listed("i we he she it it's they but because when whenever since although whereas so where which although if")
_MARKS = frozenset(".!?;:()\n…")
_PARTING = frozenset({",", "and", "&"})
#: Right before "like" these say that it is looked at, felt or measured, and not smelled.
_MEASURES = listed(
    "big small large round white black thick hard fat size dry brown shaped yellow soft tall long wet green"
)
_NO_SMELL = _MEASURES | listed(
    "look looks looked looking feel feels felt feeling sound sounds sounded taste tastes seem seems texture coloured "
    "up i we you they would 'd do does"
)
#: "It is like cider" tells a smell, "it fizzed like cider" does not.
_STATES = listed("is was are were 's gone went turned be been going got")
_BEGINNING = 2  # words
_LIKE = listed("like as same similar akin")


def likened_smells(finder: Finder, clause: Clause, asked: str) -> Iterator[Hit]:
    """The smells that a clause names by what they are like, each with the words of the thing; of two ways, the longer.

    Args:
        asked: the fact that the open question asks for.
    """
    stretches = list(compared(finder, clause.sentence, asked))
    index = finder.vocabulary.likeness_index
    found = [hit for _, start, end in stretches for hit in finder.hits(index, start, end, end)]
    found = [hit for hit in dict.fromkeys(found) if not any(is_hit_in(hit, other) for other in found)]
    if not finder.names("speaks-of-smell", clause.start, clause.end):
        found = [hit for hit in found if not _is_part_of_a_name(finder, hit)]
    bad = [hit for hit in found if isinstance(hit.of, Concept) and hit.of.bad]
    for hit in bad or found:  # "like a sewer after rain" tells of no rain
        if clause.start <= hit.start < clause.end:
            begun = max(at for at, start, end in stretches if start <= hit.start < end)
            begun -= begun - 1 in finder.where("smell")  # "stinks like", with what it is said of before it
            yield Hit(max(begun, clause.start), hit.end, hit.of, LIKENED)


def _is_part_of_a_name(finder: Finder, hit: Hit) -> bool:
    """Whether what something is like only says which stuff it is like: "the middle was like cigarette ash"."""
    short = hit.end - hit.start <= _BEGINNING  # "like fag | ash"; "the gents at a football | ground" names a place
    names = finder.materials.values()
    return short and any(one.start in (hit.start, hit.end) and hit.end < one.end for one in names)


def compared(finder: Finder, number: int, asked: str = "") -> Iterator[tuple[int, int, int]]:
    """Where a smell is compared with something: the word that leads to it, and the stretch that names it."""
    sentence = finder.line.sentences[number]
    words = finder.line.words
    begins = [at for at in finder.where("likening") if sentence.start <= at < sentence.end]
    for at in begins:
        begun = max(finder.things("likening", at))
        like = next((place for place in range(at, begun) if words[place].form in _LIKE), -1)
        if like < 0 or _of_a_smell(finder, like, sentence, asked):
            start = begun if like < 0 else like + 1
            next_one = next((place for place in begins if place >= begun), sentence.end)
            yield at, start, min(_end(finder, begun, sentence), next_one)


def stands_compared(finder: Finder, at: int, clause: Clause, *, wide: bool = True) -> bool:
    """Whether a word names what a smell is compared with; after a comma one cannot be sure.

    Args:
        wide: whether the smell may be spoken of in the sentence before.
    """
    words = finder.line.words
    first = finder.line.sentences[max(0, clause.sentence - 1)].start if wide else clause.start
    return any(
        start <= at < end
        and not any(words[place].form == "," for place in range(start, at))
        and finder.names("speaks-of-smell", first, start)
        for _, start, end in compared(finder, clause.sentence)
    )


def _of_a_smell(finder: Finder, like: int, sentence: Sentence, asked: str) -> bool:
    """Whether "like" stands where smells are spoken of."""
    words = finder.line.words
    before = words[like - 1].form if like > sentence.start else ""
    behind = words[like + 1].form if like + 1 < sentence.end else ""
    if before in _NO_SMELL or (words[like].form == "as" and behind in _MEASURES):
        return False
    if asked == "sign.smell" or like - sentence.start <= _BEGINNING or before in _STATES:
        return True
    return finder.names("speaks-of-smell", sentence.start, sentence.end)


def _end(finder: Finder, begun: int, sentence: Sentence) -> int:
    words = finder.line.words
    smells = any(finder.names(name, sentence.start, sentence.end) for name in ("smell", "minds-one-of"))
    stated = begun - sentence.start <= _BEGINNING + 1
    last = min(sentence.end, begun + (_LONGEST if smells or stated else _SHORTEST))
    for at in range(begun, last):
        form = words[at].form
        if form in _MARKS or form in _ENDING:
            return at
        if form in _PARTING and not _goes_on(finder, at + 1, last):
            return at
    return last


def _goes_on(finder: Finder, at: int, last: int) -> bool:
    """Whether the words after a comma or "and" are more of what it is like: "old socks, cheese and wine"."""
    words = finder.line.words
    for place in range(at, last):
        if words[place].mark and words[place].form != "-":
            break
        if words[place].form in VERBS:
            return False
    return True
