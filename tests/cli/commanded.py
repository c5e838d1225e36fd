"""Commands as a person types them. Most run within the process of the tests, where the rules have been read already."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from typing import NamedTuple
from unittest.mock import patch

from advisor.cli import main


class Done(NamedTuple):
    """What a command left behind: its exit code, and what it wrote to either output."""

    returncode: int
    stdout: str
    stderr: str


def heapwright(*words: str, **environment: str) -> Done:
    """Run a command, with its words and some variables of the environment."""
    out, fault = io.StringIO(), io.StringIO()
    with patch.dict(os.environ, environment), redirect_stdout(out), redirect_stderr(fault):
        code = main(words)
    return Done(code, out.getvalue(), fault.getvalue())


def in_a_process(*words: str, **environment: str) -> Done:
    """Run a command in an interpreter of its own, as the shell does."""
    done = subprocess.run(
        [sys.executable, "-m", "advisor", *words],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, **environment},
        timeout=120,
    )
    return Done(done.returncode, done.stdout, done.stderr)
