"""Benchmarks, run by hand: `python tests/bench.py`. Every number is a median here, beside something else timed in the
same run; the ratios carry over to other machines, the milliseconds do not. pytest does not collect this file.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable

ROUNDS = 30


def milliseconds(action: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Median time of an action."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        action()
        times.append(1000 * (time.perf_counter() - start))
    return statistics.median(times)


def process(*words: str) -> Callable[[], object]:
    """A run of the interpreter with these arguments."""
    return lambda: subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL)


def row(name: str, value: float, base: float, base_name: str) -> None:
    print(f"{name:<46} {value:8.1f} ms   {value / base:6.2f} x {base_name}")


def main() -> None:
    bare = milliseconds(process("-c", "pass"))
    row("python -c pass", bare, bare, "itself")
    row("heapwright --version", milliseconds(process("-m", "advisor", "--version")), bare, "python -c pass")
    row(
        "heapwright plan six-hens",
        milliseconds(process("-m", "advisor", "plan", "six-hens"), 5),
        bare,
        "python -c pass",
    )

    from advisor.blend.spread import figures
    from advisor.counsel.blending import blend
    from advisor.counsel.consult import consult, shipped_engine
    from advisor.counsel.settle import settle
    from advisor.counsel.stock import lots
    from advisor.household.files import read_household
    from advisor.inference.engine import Engine
    from advisor.knowledge.load import read, shipped
    from advisor.places import rules_folder, scenarios_folder

    load = milliseconds(lambda: read(rules_folder()), 5)
    knowledge = shipped()
    engine = shipped_engine()
    row("reading the rule base", load, load, "itself")
    row(
        "compiling the rules of planning",
        milliseconds(lambda: Engine(list(engine.rules.values()), engine.kinds), 3),
        load,
        "reading",
    )

    print()
    households = [read_household(path, knowledge) for path in sorted(scenarios_folder().glob("*.toml"))]
    inference, recipe, whole, doubtful, spread = [], [], [], [], []
    for household in households:
        held = lots(household, knowledge)
        consult(household, knowledge, engine)

        def rules_only(household=household, held=held) -> None:
            with engine.consultation() as talk:
                settle(talk, household, knowledge, held)

        def up_to_the_recipe(household=household, held=held) -> None:
            with engine.consultation() as talk:
                blend(talk, settle(talk, household, knowledge, held), household, knowledge)

        inference.append(milliseconds(rules_only, 10))
        recipe.append(milliseconds(up_to_the_recipe, 10) - inference[-1])
        whole.append(milliseconds(lambda h=household: consult(h, knowledge, engine, with_doubts=False), 10))
        doubtful.append(milliseconds(lambda h=household: consult(h, knowledge, engine), 5))
        spread.append(milliseconds(lambda held=held: figures([lot.portion for lot in held]), 10))
    base = statistics.median(whole)
    for name, values in (
        ("rules up to the method", inference),
        ("recipe, with its rules", recipe),
        ("ranges of one blend", spread),
        ("a whole consultation", whole),
        ("the same, and what each open question would change", doubtful),
    ):
        row(f"{name} (median of {len(values)})", statistics.median(values), base, "a whole consultation")
        row("    slowest household", max(values), base, "a whole consultation")


if __name__ == "__main__":
    main()
