"""By hand: how soon the first frame stands, and how soon an answer is on the screen. Not collected by pytest.

    python tests/bench_screens.py [another checkout of the program ...]

The first frame is taken in fresh interpreters, in turn with that of an app that shows one word, in the same run; the
best of several is kept for each, as the least disturbed.

Answers are timed over all shipped households, each in an interpreter of its own, as one person talks to it, and in turn
with other checkouts if there are any. The next answer follows after a pause, as a question has to be read; and once
more without one, which no person could do, so that nothing is ready ahead. "talk" is what the processor did beside the
screen's own thread. Nothing here is a test: a clock is no gate.
"""

from __future__ import annotations

import asyncio
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

RUNS = 9

#: Seconds between an answer and the next.
PAUSES = (0.5, 0.0)

_MEASURE = """
import asyncio, os
from textual.app import App
{build}
display = App._display
def displayed(self, screen, update):
    display(self, screen, update)
    if type(update).__name__ == "LayoutUpdate" and screen.children:
        os._exit(0)  # the first frame is handed to the terminal
App._display = displayed
async def main():
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause(10)
asyncio.run(main())
"""

_BARE = """
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("heapwright")
app = Bare()
"""

_OURS = """
from advisor.screens.app import HeapwrightApp
app = HeapwrightApp()
"""


def first_frames() -> tuple[list[float], list[float]]:
    """Seconds from starting an interpreter to the first frame: of a bare app, and of ours."""
    bare, ours = [], []
    for _ in range(RUNS):
        for build, found in ((_BARE, bare), (_OURS, ours)):
            code = _MEASURE.format(build=build)
            start = time.perf_counter()
            subprocess.run([sys.executable, "-c", code], check=True)
            found.append(time.perf_counter() - start)
    return bare, ours


def answers(tree: Path, household: str, pause: float) -> list[dict[str, Any]]:
    """What each answer of a shipped household took, in an interpreter of its own, by the program of a tree."""
    told = {**os.environ, "PYTHONPATH": str(tree), "HEAPWRIGHT_HOME": tempfile.mkdtemp()}
    words = [sys.executable, __file__, "--talk", household, str(pause)]
    return json.loads(subprocess.run(words, check=True, env=told, capture_output=True, text=True).stdout)


async def talked_through(stem: str, pause: float) -> list[dict[str, Any]]:
    """Milliseconds of each answer: on the clock until it is drawn, and of the processor, by the screen and the rest."""
    from advisor.household.files import read_household
    from advisor.knowledge.load import shipped
    from advisor.places import scenarios_folder
    from advisor.screens.app import HeapwrightApp
    from advisor.screens.picture import answer_to

    found = []
    app = HeapwrightApp()
    async with app.run_test(size=(120, 40)):
        screen = app.screen

        async def drawn() -> None:
            done = asyncio.Event()
            screen.call_after_refresh(done.set)
            await done.wait()

        await screen.opened.wait()
        household = read_household(scenarios_folder() / f"{stem}.toml", shipped())
        await asyncio.sleep(2 * pause)
        said = ", ".join(holding.said for holding in household.holdings)
        for number in range(9):
            start, by_all, by_screen = time.perf_counter(), time.process_time(), time.thread_time()
            await screen.hear(said)
            await screen.answered.wait()
            await drawn()
            clock, by_all = time.perf_counter() - start, time.process_time() - by_all
            by_screen = time.thread_time() - by_screen
            times = {"clock": clock, "screen": by_screen, "talk": by_all - by_screen}
            found.append(
                {"kind": "answer" if number else "have", **{name: 1000 * each for name, each in times.items()}}
            )
            await screen.jobs.join()
            await drawn()
            await asyncio.sleep(pause)
            question = screen.desk.state.question
            if question is None or screen.desk.state.plan is None:
                break
            said = answer_to(question, household)
    return found


def show(name: str, pause: float, found: list[dict[str, Any]]) -> None:
    """Print the middle, the ninth of ten and the worst of each kind."""
    for kind in ("have", "answer"):
        of_kind = [one for one in found if one["kind"] == kind]
        parts = []
        for what in ("clock", "talk", "screen"):
            times = sorted(one[what] for one in of_kind)
            parts.append(f"{what} {statistics.median(times):4.0f} {times[9 * len(times) // 10]:4.0f} {times[-1]:4.0f}")
        print(f"{name:<6} {kind:<6} of {len(of_kind):>3}, {pause:g} s between: {', '.join(parts)} ms")


def main(others: list[str]) -> None:
    """Measure and print."""
    here = Path(__file__).parents[1]
    os.environ["HEAPWRIGHT_HOME"] = tempfile.mkdtemp()
    bare, ours = first_frames()
    least, most = min(bare) * 1000, min(ours) * 1000
    print(f"first frame: bare {least:.0f} ms, ours {most:.0f} ms: {most / least:.2f} times")
    trees = {"here": here, **{f"other{number}": Path(other) for number, other in enumerate(others, 1)}}
    print("median, ninth of ten and worst, on the clock and of the processor:")
    for pause in PAUSES:
        found: dict[str, list[dict[str, Any]]] = {name: [] for name in trees}
        for path in sorted((here / "scenarios").glob("*.toml")):
            for name, tree in trees.items():
                found[name] += answers(tree, path.stem, pause)
        for name in trees:
            show(name, pause, found[name])


if __name__ == "__main__":
    if sys.argv[1:2] == ["--talk"]:
        print(json.dumps(asyncio.run(talked_through(sys.argv[2], float(sys.argv[3])))))
    else:
        main(sys.argv[1:])
