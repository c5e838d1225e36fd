"""What a noun is in its clause: a plant that grows or stands there, food, or a likeness is no stuff for a heap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.hearing.english import listed

if TYPE_CHECKING:
    from advisor.hearing.finding import Finder, Named

_FARTHEST = 5  # words before a name at which what governs it may stand
_FARES_WITHIN = 7  # words behind a plant at which it is said how it does
_SAYING = 6  # words of a saying before the name in it
_DETERMINERS = listed(
    "a an the my our your his her their some any all those these this that its new young little big hungry other old "
    "two three few more lots of lot loads pots rows beds"
)
_JOINED = listed("and or &")
_OF_SIZE = listed("size sizes colour consistency texture thickness shape")
_GIVING = listed("give gave given feed fed feeding gives feeds")
_GIVEN = listed("a some with an plenty")
_FOR = listed("for")
_ON = listed("on over onto to")
#: A plant that was pulled up or went bad is stuff, though it is said how it did.
_SPENT = listed(
    "rotten rotting mouldy gone off pulled dug threw thrown chucked put old spoiled spoilt finished bag bags sack "
    "sacks bucket buckets barrow barrows went soft compost composting composted add added chuck"
)


def is_no_stuff(finder: Finder, named: Named) -> bool:
    """Whether a name stands for something that is not for a heap, by what it is in its clause."""
    if _is_saying(finder, named) or _heads_another(finder, named) or _is_likened(finder, named):
        return True
    if _is_plant(finder, named):
        if finder.line.words[named.start].form == "lawn" and not _is_counted(finder, named):
            return True
        return _is_governed(finder, named.start, named.end) or _fares(finder, named) or _is_eaten(finder, named)
    return _stands(finder, named) or _is_eaten(finder, named)


def _is_saying(finder: Finder, named: Named) -> bool:
    """Whether a name lies in words that mean no stuff: "the last straw", "a cup of tea"."""
    first = max(0, named.start - _SAYING)
    return any(end >= named.end for at in range(first, named.start + 1) for end in finder.things("no-stuff", at))


def _heads_another(finder: Finder, named: Named) -> bool:
    """Whether the word behind a name says that it is of another thing: "fish shop", "veg bed"."""
    words = finder.line.words
    end = named.end
    if end >= len(words) or named.end - named.start > 1:
        return False
    if words[end].mark or words[end].start > words[end - 1].end + 1:
        return words[end].form == "-" and end + 1 < len(words) and words[end + 1].form in ("like", "sized", "shaped")
    return bool(finder.things("role-head", end))


def _before(finder: Finder, start: int) -> int:
    """The word that governs a name: the first before it that leads up to nothing."""
    words = finder.line.words
    at = start - 1
    while at >= 0 and start - at <= _FARTHEST and words[at].form in _DETERMINERS:
        at -= 1
    return at


def _is_likened(finder: Finder, named: Named) -> bool:
    """Whether something is compared with it: "fat as peanuts", "the size of oranges", "wet as a sponge cake"."""
    words = finder.line.words
    for at in range(named.start - 1, max(0, named.start - _FARTHEST) - 1, -1):
        form = words[at].form
        if words[at].mark:
            return False
        if form == "as" and at and finder.things("role-as", at - 1):
            return named.start - at <= 3
        if form in _OF_SIZE:
            return any(word.form == "of" for word in words[at + 1 : named.start])
    return False


def _is_plant(finder: Finder, named: Named) -> bool:
    return named.end in finder.things("role-plant", named.start)


def _is_counted(finder: Finder, named: Named) -> bool:
    """Whether it is so much of a whole: "10 of lawn"."""
    words = finder.line.words
    before = named.start - 1
    return (
        before > 0
        and words[before].form == "of"
        and not words[before - 1].mark
        and (before - 1 in finder.numbers or before - 2 in finder.numbers)
    )


def _led_by(finder: Finder, name: str, at: int) -> bool:
    """Whether a thing of a class ends with a word."""
    return any(at + 1 in finder.things(name, first) for first in range(max(0, at - 3), at + 1))


def _is_governed(finder: Finder, start: int, end: int) -> bool:
    """Whether something is done to a plant that grows: it is sown, stuff is spread round it, on it or for it."""
    words = finder.line.words
    at = _before(finder, start)
    if at < 0 or words[at].mark:
        return False
    clause = finder.line.clause_of(start)
    if words[at].form in _JOINED:
        first = next((one for one in range(at - 2, at) if one >= 0 and at in finder.things("role-plant", one)), None)
        return first is not None and _is_governed(finder, first, at)
    if _led_by(finder, "role-place", at) or finder.things("role-grow", at):
        return end >= len(words) or words[end].form not in _FOR  # "I grow comfrey for the heap"
    if words[at].form in _FOR:
        return not finder.names("swap-old-first", clause.start, at) and not finder.names(
            "swap-new-first", clause.start, at
        )
    if words[at].form in _ON:
        return at > clause.start and finder.names("role-spread", clause.start, at) and start - at <= 3
    behind = words[end].form if end < len(words) else ""
    owned = start - at > 1
    if words[at].form in _GIVING:
        return owned and behind in _GIVEN
    return words[at].form in ("before", "after") and not owned and at > clause.start


def _fares(finder: Finder, named: Named) -> bool:
    """Whether it is said of a plant how it grows: "the carrots came out forked", "tomatoes sprouting from the side"."""
    clause = finder.line.clause_of(named.start)
    last = min(clause.end, named.end + _FARES_WITHIN)
    words = finder.line.words
    if last > named.end and words[named.end].form in ("that", "which"):
        return False  # "potatoes that are sprouting"
    if any(word.form in _SPENT for word in words[max(clause.start, named.start - 4) : last]):
        return False
    return finder.names("role-fares", named.end, last)


def _stands(finder: Finder, named: Named) -> bool:
    """Whether it stands or comes up where it is: "by the leylandii", "weeds coming up through the heap"."""
    if named.end not in finder.things("role-standing", named.start):
        return False
    words = finder.line.words
    at = _before(finder, named.start)
    if at >= 0 and not words[at].mark and named.start - at > 1 and _led_by(finder, "role-place", at):
        return True
    return finder.line.words[named.start].form != "compost" and _fares(finder, named)


def _is_eaten(finder: Finder, named: Named) -> bool:
    """Whether people eat it: "a family of four who eat lots of veg", "had an egg for my breakfast"."""
    words = finder.line.words
    clause = finder.line.clause_of(named.start)
    if named.end < clause.end and finder.things("role-meal", named.end):
        return True
    at = _before(finder, named.start)
    if at < clause.start or not finder.things("role-eat", at):
        return False
    return finder.names("role-people", max(0, at - 3), at) or words[at].form == "fry"
