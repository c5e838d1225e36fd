"""One form for every way a word is written: plurals, contractions, American and British spelling, slips of the pen."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import lru_cache

from advisor.household.tokens import fold, singular

_SHORTEST_SLIP = 4  # letters; a shorter word is too near too many others to be put right
_LONG = 8  # letters; from here on two slips are put right
_LONGEST = 40  # letters; nothing longer is a word of ours
_OPPOSITES = ("un", "non", "in", "dis")


class Spelling:
    """How words are brought to one form, and to the nearest word that is known."""

    def __init__(self, alike: Mapping[str, str]) -> None:
        """Args: `alike` maps a word as written to the word or words that it stands for."""
        self._alike = {fold(said): tuple(singular(word) for word in meant.split()) for said, meant in alike.items()}
        self._known: frozenset[str] = frozenset()
        self._candidates: tuple[str, ...] = ()
        self.normal = lru_cache(maxsize=8192)(self._normal)
        self.corrected = lru_cache(maxsize=4096)(self._corrected)

    def _normal(self, word: str) -> tuple[str, ...]:
        """The normal forms of a word: "Don't" is "do" and "not", "neighbors" is "neighbour"."""
        key = fold(word)
        found = self._alike.get(key)
        if found is None:
            form = singular(key)
            found = self._alike.get(form, (form,))
        return found

    def phrase(self, said: str) -> tuple[str, ...]:
        """The normal forms of several words."""
        return tuple(form for word in said.split() for form in self.normal(word))

    def learn(self, meant: Collection[str], others: Collection[str]) -> None:
        """Take note of the words there are: those that a slip may be put right to, and others that are no slips."""
        self._known = frozenset(meant) | frozenset(others)
        self._candidates = tuple(sorted(word for word in meant if len(word) >= _SHORTEST_SLIP and word.isalpha()))
        self.corrected.cache_clear()

    def knows(self, word: str) -> bool:
        """Whether a word, in its normal form, is known."""
        return word in self._known

    def _corrected(self, word: str) -> str:
        """The one known word that this may be a slip for; nothing if there is none, or more than one.

        A letter may be wrong, missing, too much or swapped with its neighbour; two of them in a long word. The
        first letter is not doubted, and in a short word no letter is taken for another.
        """
        if not _SHORTEST_SLIP <= len(word) <= _LONGEST or word in self._known or not word.isalpha():
            return ""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        most = 2 if len(word) >= _LONG else 1
        near = process.extract(word, self._candidates, scorer=OSA.distance, score_cutoff=most, limit=8)
        likely = [(distance, known) for known, distance, _ in near if _is_slip(word, known)]
        if not likely:
            return ""
        least = min(distance for distance, _ in likely)
        best = [known for distance, known in likely if distance == least]
        return best[0] if len(best) == 1 else ""


def _is_slip(said: str, meant: str) -> bool:
    if said[0] != meant[0] or any(said == prefix + meant or meant == prefix + said for prefix in _OPPOSITES):
        return False
    swapped = sorted(said) == sorted(meant)
    return len(said) > _SHORTEST_SLIP or len(said) != len(meant) or swapped
