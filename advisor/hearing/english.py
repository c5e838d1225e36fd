"""General English: words written out in full, their lemmas, and slips of the pen put right.

The lemmas and the list of ordinary words come from simplemma, which is loaded when a word is met that
rules/words/english.toml does not hold.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

#: A shorter word is too near too many others to be put right.
_SHORTEST_SLIP = 5
_LONGEST_SLIP = 24
#: How like a word must be to one of ours, 0 to 100, to be taken for a slip of the pen.
_LIKE = 80.0


@dataclass
class English:
    """Spelling and lemmas, with what was looked up already.

    Attributes:
        full: words that stand for several, or are written otherwise in the vocabulary: "dont" is "do not".
        lemmas: lemmas that go before those of the library: "leaves" is "leaf".
        ours: lemmas and forms that the vocabulary, the materials and the measures use; a slip is put right towards these.
    """

    full: Mapping[str, tuple[str, ...]]
    lemmas: Mapping[str, str]
    ours: frozenset[str] = frozenset()
    _lemma: dict[str, str] = field(default_factory=dict)
    _meant: dict[str, str] = field(default_factory=dict)

    def written_out(self, form: str) -> tuple[str, ...]:
        """A form in lower case as the words it stands for; itself if it is one word."""
        return self.full.get(form, (form,))

    def lemma(self, form: str) -> str:
        """The dictionary form of a word in lower case."""
        known = self.lemmas.get(form) or self._lemma.get(form)
        if known is None:
            import simplemma

            known = simplemma.lemmatize(form, lang="en").lower() if form.isalpha() else form
            self._lemma[form] = known
        return known

    def is_ordinary(self, form: str) -> bool:
        """Whether a word is ordinary English or one of ours, so that it is no slip of the pen."""
        if form in self.ours or form in self.lemmas or self.lemma(form) in self.ours:
            return True
        import simplemma

        return bool(simplemma.is_known(form, lang="en"))

    def meant(self, form: str) -> str:
        """The word that was meant: the form itself, or, for a plain slip of the pen, the nearest word of ours."""
        if len(form) < _SHORTEST_SLIP or len(form) > _LONGEST_SLIP or not form.isalpha():
            return form
        found = self._meant.get(form)
        if found is None:
            found = form if self.is_ordinary(form) else _nearest(form, self.ours)
            self._meant[form] = found
        return found


def _nearest(form: str, ours: Iterable[str]) -> str:
    """The word of ours that differs least, ties broken by the alphabet; the form itself if none is near."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    most = 1 if len(form) < 8 else 2
    near = process.extract(form, sorted(ours), scorer=OSA.distance, score_cutoff=most, limit=8)
    likely = [(distance, word[0] != form[0], word) for word, distance, _ in near if len(word) >= _SHORTEST_SLIP - 1]
    return min(likely)[2] if likely else form


def words_of(tables: Iterable[Sequence[str]]) -> frozenset[str]:
    """Every word of some phrases."""
    return frozenset(word for phrases in tables for phrase in phrases for word in phrase.split())


def listed(text: str) -> frozenset[str]:
    """The words of a list with blanks."""
    return frozenset(text.split())
