"""Run many consultations in this process, and print as JSON what came of it: `consult_many.py toy|shipped RUNS`."""

from __future__ import annotations

import json
import random
import sys
import threading
from collections.abc import Mapping
from pathlib import Path

import toy_garden as toy

from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.knowledge.shapes import Kind

_TELLINGS = 50
_WARM = 1_000
_SUBJECTS = ("grass-clippings", "hay", "wood-ash", "leaves-mixed")


def main(which: str, runs: int) -> dict[str, float]:
    """Consult over and over on fifty sets of facts; memory is counted from the thousandth on."""
    rules, kinds = (toy.many_rules(20), toy.KINDS) if which == "toy" else toy.shipped()
    engine, chance = Engine(rules, kinds), random.Random(7)
    tellings = [_drawn(kinds, chance) for _ in range(_TELLINGS)]
    answers: dict[int, object] = {}
    odd = fired = 0
    early = 0.0
    for number in range(runs):
        if number == _WARM:
            early = _resident_mb()
        with engine.consultation() as talk:
            talk.tell(tellings[number % _TELLINGS], "told")
            talk.close_answers()
        answer = (talk.firings, tuple(talk.known))
        odd += answers.setdefault(number % _TELLINGS, answer) != answer
        fired += len(talk.firings)
    grown = _resident_mb() - early
    return {"rules": len(rules), "fired": fired, "odd": odd, "grew_mb": grown, "threads": threading.active_count()}


def _drawn(kinds: Mapping[str, Kind], chance: random.Random) -> list[Fact]:
    told = [(k, a) for k, kind in kinds.items() for a, shape in kind.attributes.items() if shape.origin != "concluded"]
    facts = {}
    for _ in range(8):
        kind, name = chance.choice(told)
        attribute, subjects = kinds[kind].attributes[name], kinds[kind].subjects
        subject = chance.choice(_SUBJECTS if subjects == "materials" else subjects) if subjects else ""
        words, bounds = sorted(attribute.words), attribute.number
        value = round(chance.uniform(*bounds), 1) if bounds else chance.choice(words)
        facts[kind, name, subject, value if attribute.many else None] = Fact(kind, name, subject, value)
    return list(facts.values())


def _resident_mb() -> float:
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * 4096 / 1e6


if __name__ == "__main__":
    print(json.dumps(main(sys.argv[1], int(sys.argv[2]))))
