"""By hand: what five hundred local rules cost, beside the shipped rules alone. Prints seconds of processor time.

.venv/bin/python tests/bench_local.py
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parents[1]))

from advisor.counsel.consult import consult
from advisor.household.files import read_household
from advisor.inference.compile import compiled
from advisor.inference.engine import Engine
from advisor.inference.spread import spread
from advisor.knowledge.load import shipped
from advisor.knowledge.parts import planning
from advisor.places import scenarios_folder

#: Copies are drawn from these strata: whatever they conclude may be concluded twice.
STRATA = ("safety", "build", "situation", "method")


def least(work: Callable[[], object], times: int = 3) -> float:
    found = []
    for _ in range(times):
        start = process_time()
        work()
        found.append(process_time() - start)
    return min(found)


def main() -> None:
    knowledge = shipped()
    rules, kinds = planning(knowledge)
    households = [read_household(path, knowledge) for path in sorted(scenarios_folder().glob("*.toml"))]
    alone = 0.0
    for number in (0, 20, 100, 500, 1000):
        drawn = random.Random(1).choices([one for one in rules if one.stratum in STRATA], k=number)
        every = [*rules, *(one._replace(id=f"local-{at}", folder="copies") for at, one in enumerate(drawn))]
        shares = max(spread([compiled(one) for one in every]).values()) + 1
        compiling = least(lambda every=every: Engine(every, kinds))
        engine = Engine(every, kinds)
        plans = least(lambda engine=engine: [consult(one, knowledge, engine, with_doubts=False) for one in households])
        alone = alone or plans
        told = f"{shares} shares, compiled in {compiling:.3f}, {plans / len(households):.3f} a plan"
        print(f"{number:>5} local rules: {told}, {plans / alone:.2f} times the shipped rules alone")


if __name__ == "__main__":
    main()
