"""General English: words written out in full, their lemmas, and slips of the pen put right.

Lemmas, and which words are ordinary English, come from the dictionary of simplemma. What of it the vocabulary needs is
kept beside it in rules/words/forms.json (advisor/hearing/kept_lemmas.py), so that the dictionary is loaded only for a
vocabulary that was changed since.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

#: A shorter word is too near too many others to be put right.
SHORTEST_SLIP = 5
LONGEST_SLIP = 24
#: From so many letters on a slip may be two letters off.
LONG = 8


@dataclass
class English:
    """Spelling and lemmas, with what was looked up already.

    Attributes:
        full: words that stand for several, or are written otherwise in the vocabulary: "dont" is "do not".
        lemmas: lemmas that go before those of the dictionary: "leaves" is "leaf".
        ours: words that the vocabulary, the materials and the measures use; a slip is put right towards these.
        forms: the lemmas of all forms of our words; empty if they are not kept for this vocabulary.
        ordinary: ordinary words that are near one of ours; empty likewise.
    """

    full: Mapping[str, tuple[str, ...]]
    lemmas: Mapping[str, str]
    ours: frozenset[str] = frozenset()
    forms: Mapping[str, str] = field(default_factory=dict)
    ordinary: frozenset[str] = frozenset()
    _lemma: dict[str, str] = field(default_factory=dict)
    _meant: dict[str, str] = field(default_factory=dict)
    _near: tuple[str, ...] = ()

    def written_out(self, form: str) -> tuple[str, ...]:
        """A form in lower case as the words it stands for; itself if it is one word."""
        return self.full.get(form, (form,))

    def lemma(self, form: str) -> str:
        """The dictionary form of a word in lower case. Of a word that has nothing to do with ours, the word itself."""
        known = self.lemmas.get(form)
        if known is not None:
            return known
        if self.forms:
            return self.forms.get(form, form)
        known = self._lemma.get(form)
        if known is None:
            known = self._lemma[form] = dictionary_lemma(form)
        return known

    def is_ordinary(self, form: str) -> bool:
        """Whether a word is ordinary English or one of ours, so that it is no slip of the pen."""
        if form in self.ours or form in self.lemmas or form in self.full or self.lemma(form) in self.ours:
            return True
        return form in self.ordinary if self.forms else is_in_dictionary(form)

    def meant(self, form: str) -> str:
        """The word that was meant: the form itself, or, for a plain slip of the pen, the nearest word of ours."""
        if len(form) == SHORTEST_SLIP - 1 and form.isalpha():
            return self._turned_round(form)
        if not SHORTEST_SLIP <= len(form) <= LONGEST_SLIP or not form.isalpha():
            return form
        found = self._meant.get(form)
        if found is None:
            found = form
            if form not in self.ours and self.lemma(form) == form and form not in self.lemmas:
                near = self._nearest(form)
                found = near if near != form and not self.is_ordinary(form) else form
            self._meant[form] = found
        return found

    def _turned_round(self, form: str) -> str:
        """The word of ours that a short word is with two letters turned round: "sawp"; else the form itself."""
        if form in self.ours or form in self.full or form in self.lemmas or self.lemma(form) != form:
            return form
        turned = (form[:at] + form[at + 1] + form[at] + form[at + 2 :] for at in range(len(form) - 1))
        near = [word for word in turned if word in self.ours]
        return near[0] if near and not self.is_ordinary(form) else form

    def _nearest(self, form: str) -> str:
        """The word of ours that differs least, then by first letter and alphabet; the form itself if none is near."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if not self._near:
            self._near = tuple(sorted(word for word in {*self.ours, *self.forms} if len(word) >= SHORTEST_SLIP - 1))
        most = 1 if len(form) < LONG else 2
        near = process.extract(form, self._near, scorer=OSA.distance, score_cutoff=most, limit=8)
        likely = [(distance, word[0] != form[0], word not in self.ours, word) for word, distance, _ in near]
        return min(likely)[3] if likely else form


def dictionary_lemma(form: str) -> str:
    """The lemma of a word in lower case by the dictionary."""
    import simplemma

    return simplemma.lemmatize(form, lang="en").lower() if form.isalpha() else form


def is_in_dictionary(form: str) -> bool:
    """Whether the dictionary holds a word in lower case."""
    import simplemma

    return bool(simplemma.is_known(form, lang="en"))


def listed(text: str) -> frozenset[str]:
    """The words of a list with blanks."""
    return frozenset(text.split())


def phrases(text: str) -> tuple[str, ...]:
    """The ways of saying of a list with commas, each of one word or more."""
    return tuple(text.split(", "))
