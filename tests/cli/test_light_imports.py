"""A command loads only what it uses. A list of modules fails the same way on every machine; a clock does not."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("textual", "plotext", "highspy", "numpy", "pydantic", "durable", "rapidfuzz", "argparse")

FIRST_WORDS = """
from advisor.counsel.consult import shipped_engine
from advisor.knowledge.load import shipped
from advisor.talk.session import Talk
assert Talk(shipped(), shipped_engine()).open()
"""


def loaded_by(statement: str) -> set[str]:
    """The heavy modules in memory after a statement in a fresh interpreter."""
    code = f"import sys\n{statement}\nprint(*[m for m in {HEAVY!r} if m in sys.modules], file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    return set(done.stderr.split())


@pytest.mark.parametrize(
    ("statement", "allowed"),
    [
        ("from advisor.cli import main; main(['--version'])", set()),
        ("from advisor.cli import main; main(['rules', 'citrus-and-worms'])", {"argparse", "pydantic"}),
        ("import advisor.inference", set()),
        ("import advisor.blend.mix", set()),
        ("import advisor.papers.charts, advisor.talk.replies", {"pydantic"}),
        ("from advisor.cli import main; main(['hear', 'it stinks'])", {"argparse", "pydantic"}),
        (FIRST_WORDS, {"pydantic"}),
        (
            "from advisor.cli import main; main(['plan', 'balcony-scraps', '--json'])",
            {"argparse", "pydantic", "durable", "numpy", "rapidfuzz"},
        ),
        (
            "from advisor.cli import main; main(['plan', 'six-hens', '--json'])",
            {"argparse", "pydantic", "durable", "numpy", "rapidfuzz", "highspy"},
        ),
    ],
)
def test_only_what_is_used(statement: str, allowed: set[str]) -> None:
    assert loaded_by(statement) <= allowed
