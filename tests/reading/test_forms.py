"""The kept lemmas against the dictionary they were taken from: simplemma, a general library for lemmas of words."""

from __future__ import annotations

import json
from typing import Any

import pytest
from simplemma import lemmatize

from advisor.hearing.kept_lemmas import FILE, fingerprint
from advisor.hearing.making import FOLDER
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.load import shipped
from advisor.places import rules_folder


def _kept() -> dict[str, Any]:
    return json.loads((rules_folder() / FOLDER / FILE).read_text(encoding="utf-8"))


def test_the_kept_lemmas_are_of_these_words() -> None:
    english = vocabulary_for(shipped()).english
    assert _kept()["of"] == fingerprint(english.ours), "write them anew: python -m advisor.hearing.kept_lemmas"


@pytest.mark.parametrize("form", ["leaves", "smells", "steaming", "maggots", "bins", "dried", "rotting"])
def test_a_kept_lemma_is_that_of_the_dictionary(form: str) -> None:
    assert _kept()["lemmas"][form] == lemmatize(form, lang="en")
