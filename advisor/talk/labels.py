"""The program's own words typed back when their question is not open: what is offered anywhere is understood."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import cast

from advisor.counsel.doubts import attribute_of
from advisor.knowledge.base import Knowledge
from advisor.talk.asking import NOWHERE
from advisor.talk.doors import DOORS
from advisor.talk.intents import Door, Enter, Intent, Told
from advisor.talk.sheets.playing import bared

#: Words that say too little by themselves.
_SHORT = frozenset({"yes", "no", "none", "unsure", "other"})


class Labels:
    """The labels of one rule base, gathered when the first is asked for."""

    def __init__(self, knowledge: Knowledge) -> None:
        self._knowledge = knowledge

    def meant(self, text: str) -> tuple[Intent, ...]:
        """What picking the option of these very words would do; nothing if there is none, or two mean differently."""
        return self._meant.get(bared(text), ())

    @cached_property
    def _meant(self) -> Mapping[str, tuple[Intent, ...]]:
        found: dict[str, set[Intent]] = {}
        for label, intent in (*_doors(self._knowledge), *_answers(self._knowledge)):
            if bared(label) not in _SHORT:
                found.setdefault(bared(label), set()).add(intent)
        return {label: tuple(each) for label, each in found.items() if len(each) == 1}


def _doors(knowledge: Knowledge) -> Iterator[tuple[str, Intent]]:
    from advisor.talk.sheets.checking import short
    from advisor.talk.sheets.menus import MORE, SOIL

    for door, label in (*DOORS.items(), *SOIL.items(), *MORE.items()):
        yield label, Enter(cast("Door", door), NOWHERE)
    for guide in knowledge.guides.values():
        into: Door = "check" if guide.of == "soil" else "ready"
        yield f"{guide.name}: {short(guide.about)}", Enter(into, NOWHERE)
        yield guide.name, Enter(into, NOWHERE)


def _answers(knowledge: Knowledge) -> Iterator[tuple[str, Intent]]:
    asked = (question.attribute for question in (*knowledge.questions, *knowledge.sign_questions))
    for attribute in dict.fromkeys(asked):
        if attribute == "sign.method":
            continue  # "a bin" by itself tells what there is, and of no trouble
        for value, words in attribute_of(attribute, knowledge).words.items():
            yield words, Told(attribute, (value,), NOWHERE)
