"""The shipped rule base and its engine, for the tests of the counsel."""

from __future__ import annotations

import pytest

from advisor.counsel.consult import shipped_engine
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import shipped


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return shipped()


@pytest.fixture(scope="session")
def engine() -> Engine:
    return shipped_engine()
