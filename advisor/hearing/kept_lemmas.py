"""What the vocabulary needs of a dictionary of English, kept in rules/words/forms.json.

    python -m advisor.hearing.kept_lemmas      writes the file anew; tests/reading/test_forms.py says when that is due

It holds the lemma of every form of our words, and the ordinary words that are so near one of ours that they would be
taken for a slip of the pen.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from pathlib import Path

from advisor.hearing.english import LONG, SHORTEST_SLIP, English, dictionary_lemma

FILE = "forms.json"


def fingerprint(ours: Iterable[str]) -> str:
    """A short sum over our words, by which kept forms are known to be theirs."""
    return hashlib.sha256("\n".join(sorted(ours)).encode()).hexdigest()[:16]


def with_forms(english: English, folder: Path) -> English:
    """The same, with the kept forms, if they were made for these words."""
    try:
        kept = json.loads((folder / FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return english
    if kept.get("of") == fingerprint(english.ours):
        english.forms = kept["lemmas"]
        english.ordinary = frozenset(kept["ordinary"].split())
    return english


def made(english: English) -> dict[str, object]:
    """The forms of our words and the ordinary words near them, from the dictionary. Takes some seconds."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA
    from simplemma.strategies.dictionaries.dictionary_factory import DefaultDictionaryFactory

    dictionary = DefaultDictionaryFactory().get_dictionary("en")
    every = sorted({word for word in dictionary if word.isalpha() and word.islower()})
    ours = {dictionary_lemma(word) for word in english.ours} | english.ours
    lemmas = {word: lemma for word in every if (lemma := dictionary_lemma(word)) in ours}
    lemmas |= {word: dictionary_lemma(word) for word in english.ours}
    targets = sorted(word for word in {*english.ours, *lemmas} if len(word) >= SHORTEST_SLIP - 1)
    unknown = [word for word in every if len(word) >= SHORTEST_SLIP and word not in lemmas]
    near: list[str] = []
    for most, words in ((1, [w for w in unknown if len(w) < LONG]), (2, [w for w in unknown if len(w) >= LONG])):
        for start in range(0, len(words), 2000):
            block = words[start : start + 2000]
            distances = process.cdist(block, targets, scorer=OSA.distance, score_cutoff=most, dtype="uint8", workers=-1)
            near += [word for word, least in zip(block, distances.min(axis=1), strict=True) if least <= most]
    return {"of": fingerprint(english.ours), "lemmas": dict(sorted(lemmas.items())), "ordinary": " ".join(sorted(near))}


def main() -> None:
    """Write the file anew."""
    from advisor.hearing.making import FOLDER
    from advisor.hearing.vocabulary import vocabulary_for
    from advisor.knowledge.load import shipped
    from advisor.places import rules_folder

    english = vocabulary_for(shipped()).english
    english.forms, english.ordinary = {}, frozenset()
    text = json.dumps(made(english), ensure_ascii=False, indent=0)
    (rules_folder() / FOLDER / FILE).write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
