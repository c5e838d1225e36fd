"""A name that is given to a heap tells nothing of it."""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped


@pytest.mark.parametrize(
    "line",
    [
        "save it as Front garden",
        "please save this as Rat palace",
        "save the heap under the name of Smoking dry leaves",
        "ok, save my bin as 62 C in the middle",
        "keep it as Stinky grass",
        "save as my dog ate it",
    ],
)
def test_it_is_a_name_and_nothing_else(line: str) -> None:
    heard = hear(line, shipped())
    assert heard.acts == ("save",)
    assert heard.text == line
    assert not (heard.facts or heard.materials or heard.amounts or heard.dangers or heard.feared)


def test_what_stands_behind_a_mark_is_heard() -> None:
    heard = hear("save it as Front garden, it smells of ammonia", shipped())
    assert [(one.name, one.value) for one in heard.told if one.name == "sign.smell"] == [("sign.smell", "ammonia")]


@pytest.mark.parametrize("line", ["keep it as dry as you can, it is soaking wet", "save the leaves, it is bone dry"])
def test_other_lines_give_no_name(line: str) -> None:
    assert any(one.name == "sign.moisture" for one in hear(line, shipped()).told)
