"""The material or measure somebody means by a name.

A name is taken when it is one we know, however it is capitalised, hyphenated or put in the plural, or when it is
a plain slip of the pen for one. Anything else is asked about: "wet leaves" are not dry leaves, and "manure" is
no answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Generic, Literal, NamedTuple, TypeVar

from advisor.household.tokens import Token, singular, tokenize
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Material, Measure
from advisor.records import dataclass

Key = tuple[str, ...]
_Name = TypeVar("_Name", Key, str)

#: Scores run from 0 to 100. From TAKEN up a slip is put right, from ASKED up its candidates are offered, and
#: candidates no more than TIED apart are not told from one another.
TAKEN = 90.0
ASKED = 70.0
TIED = 3.0

_MOST_CANDIDATES = 6
_LONGEST_NAME = 80  # characters; nobody's material needs more, and matching takes time in its length
_SHORTEST_SLIP = 4  # letters; a shorter word is too near too many others to be put right


@dataclass(frozen=True, slots=True)
class Match:
    """What a name may stand for.

    Attributes:
        kind: "exact" and "close" have an `id`; "ask" has candidates to choose from, "unknown" the nearest few.
        id: of the material or measure; empty unless found.
        candidates: ids, the likeliest first.
        score: how like the name is to the best candidate, 0 to 100.
    """

    kind: Literal["exact", "close", "ask", "unknown"]
    id: str = ""
    candidates: tuple[str, ...] = ()
    score: float = 0.0

    @property
    def found(self) -> bool:
        """Whether the name stands for one thing."""
        return self.kind in ("exact", "close")


def find_material(words: str, knowledge: Knowledge) -> Match:
    """The material a name stands for."""
    return _find(words, materials_index(knowledge))


def find_measure(words: str, knowledge: Knowledge) -> Match:
    """The household measure a name stands for."""
    return _find(words, measures_index(knowledge))


def nearest(word: str, options: Iterable[str], least: float = 60.0) -> str:
    """The option most like a word, or nothing if none is like it."""
    from rapidfuzz import fuzz, process

    found = process.extractOne(word[:_LONGEST_NAME], list(options), scorer=fuzz.ratio, score_cutoff=least)
    return found[0] if found is not None else ""


# ---------------------------------------------------------------- the index

_JOINERS = frozenset({",", "+", "&", "and", "plus"})


@dataclass(frozen=True)
class Index:
    """Names, aliases and ids of materials or measures, made alike."""

    exact: Mapping[Key, tuple[str, ...]]
    squashed: Mapping[str, tuple[str, ...]]
    names: frozenset[Key]  # the keys of `exact`
    joined: frozenset[Key]  # names that hold an "and" or a comma
    vocabulary: frozenset[str]
    longest: int  # words in the longest name


def materials_index(knowledge: Knowledge) -> Index:
    """The index of the materials of a rule base, made once."""
    return _index(Same(knowledge.materials))


def measures_index(knowledge: Knowledge) -> Index:
    """The index of the measures of a rule base, made once."""
    return _index(Same(knowledge.measures))


def key_words(text: str) -> Key:
    """The words of a name without capitals, accents, hyphens and plurals: "Dry-leaves" is (dry, leaf)."""
    return _Spelling.of(text).key


class _Spelling(NamedTuple):
    """A name made comparable: as words, as one word ("egg shells" is "eggshell"), and whether it joins several."""

    key: Key
    squashed: str
    joined: bool

    @classmethod
    def of(cls, text: str) -> _Spelling:
        parts = text.lower().replace("-", " ").split()
        if text.isascii() and "".join(parts).isalpha():  # as most names are, whose tokens are just these words
            return cls(tuple(map(singular, parts)), singular("".join(parts)), not _JOINERS.isdisjoint(parts))
        tokens = tokenize(text)
        plain = [_word(token) for token in tokens if token.kind != "mark" or token.key == "&"]
        key = tuple(word for word in (singular(part) for part in plain) if word)
        return cls(key, singular("".join(plain)), any(token.key in _JOINERS for token in tokens))


def _word(token: Token) -> str:
    return "and" if token.key == "&" else token.key.replace("'s", "")


_Kept = TypeVar("_Kept")


class Same(Generic[_Kept]):
    """A value as a key of a cache, equal only to itself."""

    __slots__ = ("value",)

    def __init__(self, value: _Kept) -> None:
        self.value = value

    def __hash__(self) -> int:
        return id(self.value)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and self.value is other.value


@lru_cache(maxsize=8)
def _index(same: Same[Mapping[str, Material]] | Same[Mapping[str, Measure]]) -> Index:
    names = [(id_, _Spelling.of(text)) for id_, entry in same.value.items() for text in (id_, entry.name)]
    aliases = [(id_, _Spelling.of(text)) for id_, entry in same.value.items() for text in entry.aliases]
    taken = {spelling.key for _, spelling in names}
    exact: dict[Key, list[str]] = {}
    squashed: dict[str, list[str]] = {}
    for id_, spelling in names + [alias for alias in aliases if alias[1].key not in taken]:
        # A name outranks somebody else's alias.
        _note(exact, spelling.key, id_)
        _note(squashed, spelling.squashed, id_)
    return Index(
        exact={key: tuple(ids) for key, ids in exact.items()},
        squashed={key: tuple(ids) for key, ids in squashed.items()},
        names=frozenset(exact),
        joined=frozenset(spelling.key for _, spelling in names + aliases if spelling.joined),
        vocabulary=frozenset(word for key in exact for word in key),
        longest=max((len(key) for key in exact), default=1),
    )


def _note(table: dict[_Name, list[str]], key: _Name, id_: str) -> None:
    ids = table.setdefault(key, [])
    if id_ not in ids:
        ids.append(id_)


# ---------------------------------------------------------------- matching

#: Words before a name that do not tell what it is.
_DETERMINERS = frozenset(
    {"the", "a", "an", "some", "any", "my", "our", "your", "his", "her", "their", "its", "of", "more", "other", "all"}
    | {"this", "that", "these", "those"}
)
_OPPOSITES = ("un", "non", "in", "dis")


def _find(text: str, index: Index) -> Match:
    text = text[: 4 * _LONGEST_NAME]
    words = key_words(text)
    while len(words) > 1 and words[0] in _DETERMINERS:
        words = words[1:]
    if not words:
        return Match("unknown")
    known = index.exact.get(words) or index.squashed.get(_Spelling.of(text).squashed)
    if known:
        return Match("exact", known[0], known, 100.0) if len(known) == 1 else Match("ask", "", known, 100.0)
    wider = _wider(words, index)
    if wider:
        return Match("ask", "", wider[:_MOST_CANDIDATES], ASKED)
    return _alike(words, index)


def _wider(words: Key, index: Index) -> tuple[str, ...]:
    """Materials whose names hold all these words and more: "manure" is in "horse manure" and "cow manure".

    Those that end in the words come first: they are kinds of it.
    """
    wanted = set(words)
    holding = [(key, ids) for key, ids in index.exact.items() if wanted < set(key)]
    holding.sort(key=lambda entry: (entry[0][-len(words) :] != words, len(entry[0])))
    return tuple(dict.fromkeys(id_ for _, ids in holding for id_ in ids))


def _alike(words: Key, index: Index) -> Match:
    from rapidfuzz import fuzz, process

    said = " ".join(words)[:_LONGEST_NAME]
    keys = {key: " ".join(key) for key in index.exact}
    scores: dict[str, tuple[float, Key]] = {}
    for scorer in (fuzz.ratio, fuzz.token_sort_ratio):
        for _, score, key in process.extract(said, keys, scorer=scorer, limit=20):
            for id_ in index.exact[key]:
                if score > scores.get(id_, (0.0, ()))[0]:
                    scores[id_] = (score, key)
    within = [id_ for key in _within(words, index) for id_ in index.exact[key]]
    ranked = sorted(scores.items(), key=lambda entry: -entry[1][0])
    if not ranked:
        return Match("unknown")
    best, (top, key) = ranked[0]
    rivals = tuple(id_ for id_, (score, _) in ranked if score >= top - TIED)
    if top >= TAKEN and len(rivals) == 1 and _only_slips(words, key, index):
        return Match("close", best, rivals, top)
    likely = [*within, *(id_ for id_, (score, _) in ranked if score >= ASKED)]
    if likely:
        return Match("ask", "", tuple(dict.fromkeys(likely))[:_MOST_CANDIDATES], max(top, ASKED))
    return Match("unknown", "", tuple(id_ for id_, _ in ranked[:3]), top)


def _within(words: Key, index: Index) -> list[Key]:
    """The longest names that stand whole inside these words: "leaves" in "sopping wet leaves"."""
    for length in range(min(len(words) - 1, index.longest), 0, -1):
        windows = (words[at : at + length] for at in range(len(words) - length + 1))
        found = [window for window in dict.fromkeys(windows) if window in index.exact]
        if found:
            return found[::-1]  # the last is the noun: "oak leaves", not "oak"
    return []


def _only_slips(said: Sequence[str], meant: Sequence[str], index: Index) -> bool:
    """Whether the words said differ from those meant only by words that are none of ours.

    "Dog manure" differs from "hog manure" by a word we know, and "untreated wood" from "treated wood" by its
    opposite; neither is a slip.
    """
    strange = [word for word in said if word not in meant]
    if any(word in index.vocabulary or len(word) < _SHORTEST_SLIP for word in strange):
        return False
    return not any(_opposite(word, other) for word in strange for other in meant)


def _opposite(one: str, other: str) -> bool:
    return any(one == prefix + other or other == prefix + one for prefix in _OPPOSITES)
