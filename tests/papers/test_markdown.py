"""The plan as Markdown, read back by markdown-it, a reference implementation of CommonMark."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from advisor.counsel.consult import consult, shipped_engine
from advisor.counsel.plan import Plan
from advisor.household.files import read_household
from advisor.knowledge.load import shipped
from advisor.papers.markdown import escaped
from advisor.papers.markdown import markdown as paper_markdown
from advisor.papers.paper import paper_of
from advisor.papers.sections import sections
from advisor.places import scenarios_folder

NAMES = sorted(path.stem for path in scenarios_folder().glob("*.toml"))
PARSER = MarkdownIt("commonmark").enable("table")


@cache
def plan_of(name: str) -> Plan:
    household = read_household(scenarios_folder() / f"{name}.toml", shipped())
    return consult(household, shipped(), shipped_engine())


def markdown(plan: Plan) -> str:
    return paper_markdown(paper_of(plan, shipped().sources))


def texts(page: str) -> list[str]:
    """The words of every paragraph, heading and cell as a reader sees them."""
    return [
        "".join(part.content for part in token.children or []) for token in PARSER.parse(page) if token.type == "inline"
    ]


@pytest.mark.parametrize("name", NAMES)
def test_every_line_of_a_plan_is_on_the_page_as_it_stands(name: str) -> None:
    plan = plan_of(name)
    shown = "\n".join(texts(markdown(plan)))
    for section in sections(plan):
        assert section.title in shown
        for line in section.lines:
            assert " ".join(line.text.split()) in shown


@pytest.mark.parametrize("name", NAMES)
def test_the_sections_hold_every_line_once(name: str) -> None:
    plan = plan_of(name)
    held = [line.id for section in sections(plan) for line in section.lines]
    assert sorted(held) == sorted(line.id for line in plan.lines())


def test_layers_are_a_table_from_the_top_down() -> None:
    plan = plan_of("coffee-shop")
    cells = [token.content for token in PARSER.parse(markdown(plan)) if token.type == "inline"]
    start = cells.index("from the top") + 3
    names = cells[start : start + 3 * len(plan.layers) : 3]
    assert names == [layer.name for layer in reversed(plan.layers)]


def test_what_people_type_cannot_become_markup() -> None:
    plan = plan_of("coffee-shop").model_copy(update={"household": "# <b>*Ours*</b> [x](y) `z` &amp; |_"})
    assert texts(markdown(plan))[0] == "Compost for # <b>*Ours*</b> [x](y) `z` &amp; |_"


@given(st.text(alphabet=st.characters(blacklist_categories=("Cc", "Cs")), max_size=60))
def test_any_text_shows_as_it_was_typed(text: str) -> None:
    wanted = " ".join(text.split())
    shown = texts(f"- `x` {escaped(text)}")
    assert shown == [f"x {wanted}".rstrip() if not wanted else f"x {wanted}"]
