"""Benchmarks, run by hand: `python tests/bench.py`, or `python tests/bench.py starts` for the starts alone, and
`python tests/bench.py starts FOLDER` for those of another checkout beside them. Every number is a median here, beside
something else timed in the same run; the ratios carry over to other machines, the milliseconds do not. pytest does not
collect this file.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage

ROUNDS = 30


def milliseconds(action: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Median time of an action."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        action()
        times.append(1000 * (time.perf_counter() - start))
    return statistics.median(times)


#: What a start is measured against: the interpreter with four modules that most programs of this sort import.
PLAIN = ("-c", "import argparse, json, pathlib, re")

#: Starts, each in a process of its own. What is timed is all of it, to the end of the process.
STARTS = {
    "heapwright --version": ("-m", "advisor", "--version"),
    "heapwright plan six-hens": ("-m", "advisor", "plan", "six-hens"),
    "heapwright hear 'it stinks'": ("-m", "advisor", "hear", "it stinks"),
    "heapwright materials": ("-m", "advisor", "materials"),
}

#: Parts of a start, each timed within a process of its own, from its first import on.
PARTS = {
    "the first words of a talk": """
from advisor.counsel.consult import shipped_engine
from advisor.knowledge.load import shipped
from advisor.talk.session import Talk
start = 0.0
Talk(shipped(), shipped_engine()).open()
""",
    "the words, once the rules are there": """
from advisor.knowledge.load import shipped
knowledge = shipped()
start = time.process_time()
from advisor.hearing.hear import hear
from advisor.hearing.vocabulary import vocabulary_for
vocabulary_for(knowledge)
""",
}


#: Bytecode is kept, as it is where the program is installed.
_KEPT = {"PYTHONPYCACHEPREFIX": str(Path(tempfile.gettempdir(), "heapwright-bench"))}
_TOLD = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"} | _KEPT


def processor(folder: Path, *words: str) -> float:
    """The processor time, in ms, of a run of the interpreter in a folder."""
    before = getrusage(RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL, cwd=folder, env=_TOLD)
    after = getrusage(RUSAGE_CHILDREN)
    return 1000 * (after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)


def within(folder: Path, code: str) -> float:
    """The processor time, in ms, of a part of a start."""
    whole = f"import time\n{code}\nprint(time.process_time() - start)"
    done = subprocess.run(
        [sys.executable, "-c", whole], check=True, stdout=subprocess.PIPE, text=True, cwd=folder, env=_TOLD
    )
    return 1000 * float(done.stdout)


def starts(*folders: Path, rounds: int = 7) -> None:
    """Time the starts of one or more checkouts by turns, so that whatever else the machine does falls on all alike."""
    found: dict[tuple[str, Path], list[float]] = {}
    for number in range(rounds + 1):
        for folder in folders:
            timed = {"plain Python with four modules": processor(folder, *PLAIN)}
            timed |= {name: processor(folder, *words) for name, words in STARTS.items()}
            timed |= {name: within(folder, code) for name, code in PARTS.items()}
            for name, value in timed.items() if number else ():  # the first time all is still to be kept
                found.setdefault((name, folder), []).append(value)
    base = statistics.median(value for folder in folders for value in found["plain Python with four modules", folder])
    for folder in folders:
        print(f"{folder}: processor time")
        for name in ("plain Python with four modules", *STARTS, *PARTS):
            row(name, statistics.median(found[name, folder]), base, "plain Python")
        print()


def row(name: str, value: float, base: float, base_name: str) -> None:
    print(f"{name:<46} {value:8.1f} ms   {value / base:6.2f} x {base_name}")


def main() -> None:
    here = Path(__file__).parents[1]
    if sys.argv[1:2] == ["starts"]:
        starts(here, *(Path(name).resolve() for name in sys.argv[2:]))
        return
    starts(here)
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
