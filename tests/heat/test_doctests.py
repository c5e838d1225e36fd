"""The worked examples in the docstrings of the heat."""

from __future__ import annotations

import doctest
from types import ModuleType

import pytest

from advisor.heat import air, rates, weather


@pytest.mark.parametrize("module", [air, rates, weather])
def test_examples_in_docstrings(module: ModuleType) -> None:
    result = doctest.testmod(module)
    assert result.attempted > 0
    assert result.failed == 0
