"""The worked examples in the docstrings of the arithmetic."""

from __future__ import annotations

import doctest
from types import ModuleType

import pytest

from advisor.blend import mix, sample


@pytest.mark.parametrize("module", [mix, sample])
def test_examples_in_docstrings(module: ModuleType) -> None:
    result = doctest.testmod(module)
    assert result.attempted > 10
    assert result.failed == 0


@pytest.mark.parametrize("module", [mix, sample])
def test_every_formula_has_an_example_and_a_source(module: ModuleType) -> None:
    for name, thing in vars(module).items():
        if name.startswith("_") or isinstance(thing, type) or getattr(thing, "__module__", "") != module.__name__:
            continue
        text = thing.__doc__ or ""
        assert ">>> " in text and "Source: " in text, name
