"""For all tests: how many processes share them, and a place of its own for what each might keep."""

from __future__ import annotations

import gc
import os
from itertools import count
from pathlib import Path

import pytest
from hypothesis import settings

# Properties are not timed: a busy machine is no fault of the arithmetic. The suite tries the same examples each time;
# `--hypothesis-profile=roaming` tries others, which is for looking for faults by hand.
settings.register_profile("same-each-time", deadline=None, derandomize=True)
settings.register_profile("roaming", deadline=None)
settings.load_profile("same-each-time")

#: Commands are run in interpreters of their own by the hundred: what they import is compiled once, not by each of them.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

_NUMBERS = count(1)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """A process for each core, for the whole suite; less than that is done in one before others have begun.

    `-n 0` or `-n 4` on the command line settles it by hand.
    """
    whole = (Path(__file__).parent, Path(__file__).parents[1])
    part = not all(Path(config.invocation_params.dir, name).resolve() in whole for name in config.args)
    chosen = any(config.getoption(name, False) for name in ("keyword", "markexpr", "lf"))
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return cores if cores > 1 and not part and not chosen else 0


def pytest_collection_finish() -> None:
    """What is there before the first test stays to the end, and need not be looked through for rubbish again.

    Nor need what comes after it be often: rules and words are read by the first test that needs them, and stay too.
    """
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


@pytest.fixture(scope="session")
def _kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("kept")


@pytest.fixture(autouse=True)
def own_home(_kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is kept in the home folder, nor where another test would find it. The folder is made by who writes."""
    monkeypatch.setenv("HEAPWRIGHT_HOME", str(_kept / str(next(_NUMBERS))))
