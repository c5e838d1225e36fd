"""A diary of the test's own, and a person who talks to it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from conversing import opened


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The file of the diary, which is not there yet."""
    return tmp_path / "diary.sqlite3"


@pytest.fixture
def say(path: Path) -> Callable[[str], str]:
    """Says a line on Monday 30 November 2026 and gives back all that was said to it."""
    talk, _ = opened(path)
    return lambda line: "\n".join(reply.text for reply in talk.hear(line))
