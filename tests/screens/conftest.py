"""Screens are tested away from the home folder, without blinking, and with the colours of a dark terminal."""

from __future__ import annotations

from pathlib import Path

import pytest
from driving import DRAWN_EVERY
from textual import screen
from textual.widgets import Input


@pytest.fixture(autouse=True)
def quiet_terminal(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HEAPWRIGHT_HOME", str(tmp_path / "kept"))
    monkeypatch.setenv("TERM", "xterm-256color")
    for name in ("NO_COLOR", "COLORFGBG"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(Input, "cursor_blink", False)
    monkeypatch.setattr(screen, "UPDATE_PERIOD", DRAWN_EVERY)
    monkeypatch.chdir(tmp_path)
