"""Twenty thousand consultations in one process: no memory, no threads, no answers go astray."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

_HERE = Path(__file__).parent

# With many rules a consultation takes megabytes and gives them back. Unless told otherwise the C library keeps such a
# block in its heap, where a small one that settles in its place makes memory grow by a block, once: that is no leak.
_BIG_BLOCKS_GO_BACK = {"MALLOC_MMAP_THRESHOLD_": "65536"}


@pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="memory in use is read from /proc")
@pytest.mark.parametrize(("rules", "runs", "settings"), [("toy", 20_000, {}), ("shipped", 2_000, _BIG_BLOCKS_GO_BACK)])
def test_nothing_piles_up(rules: str, runs: int, settings: dict[str, str]) -> None:
    result = subprocess.run(
        [sys.executable, "-W", "ignore", str(_HERE / "consult_many.py"), rules, str(runs)],
        env={"PYTHONPATH": str(_HERE.parents[1]), "PATH": "", **settings},
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
    )
    assert result.returncode == 0, result.stderr
    found = json.loads(result.stdout)
    assert found["rules"] >= 50
    assert found["fired"] > runs
    assert found["odd"] == 0
    assert found["threads"] == 1
    assert found["grew_mb"] < 3
