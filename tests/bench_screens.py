"""By hand: how soon the first frame stands, and how soon an answer is on the screen. Not collected by pytest.

    python tests/bench_screens.py

The first frame is taken in fresh interpreters, in turn with that of an app that shows one word, in the same run; the
best of several is kept for each, as the least disturbed. Nothing here is a test: a clock is no gate.
"""

from __future__ import annotations

import asyncio
import os
import statistics
import subprocess
import sys
import tempfile
import time

RUNS = 9

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


async def answers() -> list[tuple[str, float]]:
    """Seconds from an answer until the screen shows what follows from it, over all shipped households."""
    from advisor.household.files import read_household
    from advisor.knowledge.load import shipped
    from advisor.places import scenarios_folder
    from advisor.screens.app import HeapwrightApp
    from advisor.screens.picture import answer_to

    found = []
    for path in sorted(scenarios_folder().glob("*.toml")):
        household = read_household(path, shipped())
        app = HeapwrightApp()
        async with app.run_test(size=(120, 40)):
            screen = app.screen
            await screen.opened.wait()
            said = ", ".join(holding.said for holding in household.holdings)
            for number in range(9):
                start = time.perf_counter()
                await screen.hear(said)
                await screen.answered.wait()
                drawn = asyncio.Event()
                screen.call_after_refresh(drawn.set)
                await drawn.wait()
                found.append(("have" if number == 0 else "answer", time.perf_counter() - start))
                await screen.jobs.join()
                question = screen.desk.state.question
                if question is None or screen.desk.state.plan is None:
                    break
                said = answer_to(question, household)
    return found


def main() -> None:
    """Measure and print."""
    os.environ["HEAPWRIGHT_HOME"] = tempfile.mkdtemp()
    bare, ours = first_frames()
    least, most = min(bare) * 1000, min(ours) * 1000
    print(f"first frame: bare {least:.0f} ms, ours {most:.0f} ms: {most / least:.2f} times")
    timed = asyncio.run(answers())
    for kind in ("have", "answer"):
        times = [seconds * 1000 for what, seconds in timed if what == kind]
        print(f"{kind}: median {statistics.median(times):.0f} ms, worst {max(times):.0f} ms, of {len(times)}")


if __name__ == "__main__":
    main()
