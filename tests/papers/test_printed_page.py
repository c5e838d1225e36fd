"""The page to print, read back by the parser of the standard library."""

from __future__ import annotations

import shutil
import subprocess
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
from given import KNOWLEDGE, PLANS, a_cure, a_year, plan_of, seasons
from hypothesis import given
from hypothesis import strategies as st

from advisor.counsel.plan import Plan
from advisor.papers.paper import Paper, Table, paper_of
from advisor.papers.print.elements import add, element, written
from advisor.papers.print.page import SIZES, printed_page
from advisor.papers.sections import Section

#: Elements that have no end (HTML Living Standard, WHATWG, section 13.1.2, void elements; from memory).
VOID = {"meta"}
#: Elements and attributes that fetch something.
FETCHING = {"script", "link", "img", "iframe", "object", "embed", "image", "use", "base", "form", "audio", "video"}


class Read(HTMLParser):
    """A page as it is understood: its texts with the elements around them, and whether every element is closed."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.stack: list[tuple[str, str]] = []
        self.seen: list[tuple[str, dict[str, str]]] = []
        self.texts: list[tuple[tuple[str, ...], str]] = []
        self.items: list[tuple[str, str]] = []  # class and text of each entry of a list
        self.feed(page)
        self.close()
        assert self.stack == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        self.seen.append((tag, found))
        if tag not in VOID:
            self.stack.append((tag, found.get("class", "")))
        if tag == "li":
            self.items.append((found.get("class", ""), ""))

    def handle_endtag(self, tag: str) -> None:
        assert self.stack.pop()[0] == tag

    def handle_data(self, data: str) -> None:
        data = data.replace("\u00a0", " ")  # between a figure and its unit
        if "li" in (tag for tag, _ in self.stack):
            kind, text = self.items[-1]
            self.items[-1] = (kind, text + data)
        self.texts.append((tuple(f"{tag}.{kind}" for tag, kind in self.stack), data))

    def all_in(self, place: str) -> list[str]:
        return [text for around, text in self.texts if place in around]


def page_of(answer: object, size: str = "a4") -> str:
    return printed_page(paper_of(answer, KNOWLEDGE.sources), size)  # type: ignore[arg-type]


ANSWERS = [
    *(pytest.param(lambda n=name: plan_of(n), id=name) for name in PLANS),
    pytest.param(a_year, id="year"),
    pytest.param(a_cure, id="cure"),
    pytest.param(lambda: seasons("allotment-six-beds"), id="seasons"),
    pytest.param(lambda: seasons("dead-clay"), id="seasons-of-one-bed"),
]


@pytest.mark.parametrize("answer", ANSWERS)
def test_every_line_stands_on_the_page_and_nothing_is_fetched(answer: object) -> None:
    made = answer()  # type: ignore[operator]
    paper = paper_of(made, KNOWLEDGE.sources)
    read = Read(printed_page(paper))
    items = [" ".join(text.split()) for _, text in read.items]
    for part in paper.parts:
        if isinstance(part, Section):
            assert part.title.strip() in read.all_in("h2.")
            for line in part.lines:
                assert " ".join(line.text.split()) in items
    assert not {tag for tag, _ in read.seen} & FETCHING
    for _, attributes in read.seen:
        assert not {"src", "href", "xlink:href", "style", "onload", "onclick", "action"} & attributes.keys()
        assert all("url(" not in value or value.startswith("url(#") for value in attributes.values())
    assert "@import" not in (style := "".join(read.all_in("style."))) and "url(" not in style


@pytest.mark.parametrize("size", SIZES)
def test_the_page_is_for_that_paper(size: str) -> None:
    read = Read(page_of(a_cure(), size))
    assert f"size: {'A4' if size == 'a4' else size} portrait" in "".join(read.all_in("style."))


def test_what_is_to_be_done_has_a_box_and_what_is_so_has_none() -> None:
    plan = plan_of("six-hens")
    kinds = {text: kind for kind, text in Read(page_of(plan)).items}
    for line in (*plan.steps, *plan.needs, *plan.prepare, *(each.line for each in plan.recipe.lines)):
        assert kinds[line.text] == "to-do"
    for line in (plan.choice.line, *(each.line for each in plan.recipe.gauges), *plan.notes, *plan.cautions):
        assert kinds[line.text] == "line"
    cure = a_cure()
    kinds = {text: kind for kind, text in Read(page_of(cure)).items}
    assert [kind for text, kind in kinds.items() if kind == "to-do"] == ["to-do"] * len(cure.remedies)
    years = seasons("dead-clay")
    kinds = {text: kind for kind, text in Read(page_of(years)).items}
    tasks = {task.line.text for year in years.years for task in year.tasks}
    assert {text for text, kind in kinds.items() if kind == "to-do"} == tasks


def test_cautions_are_set_apart_and_the_grave_ones_stand_before_the_first_deed() -> None:
    plan = plan_of("six-hens")
    read = Read(page_of(plan))
    grave = [line.text for line in plan.cautions if line.id.startswith("g")]
    others = [line.text for line in plan.cautions if not line.id.startswith("g")]
    assert grave and others
    assert read.all_in("section.grave") == ["First of all", *grave]
    assert read.all_in("section.care") == ["Take care", *others]
    texts = [text for _, text in read.texts]
    assert texts.index(grave[0]) < texts.index(plan.steps[0].text)


def test_the_layers_are_drawn_to_scale_from_the_ground_up() -> None:
    plan = plan_of("six-hens")
    read = Read(page_of(plan))
    drawn = [one for tag, one in read.seen if tag == "rect" and one.get("stroke-width") == "0.8"]
    assert len(drawn) == len(plan.layers)
    heights = [float(one["height"]) for one in drawn]
    total = sum(layer.thickness_cm for layer in plan.layers)
    for high, layer in zip(heights, plan.layers, strict=True):
        assert high / sum(heights) == pytest.approx(layer.thickness_cm / total, rel=0.01)
    tops = [float(one["y"]) for one in drawn]
    assert tops == sorted(tops, reverse=True)
    fills = {(one["fill"], layer.material) for one, layer in zip(drawn, plan.layers, strict=True)}
    assert len(fills) == len({fill for fill, _ in fills}) == len({layer.material for layer in plan.layers})
    names = [text for text in read.all_in("text.") if any(layer.name in text for layer in plan.layers)]
    assert [name.split(" (")[0].split(" ", 2)[2] for name in names] == [layer.name for layer in plan.layers]


def test_no_name_of_a_layer_lies_upon_another() -> None:
    for name in PLANS:
        read = Read(page_of(plan_of(name)))
        places: dict[str, list[float]] = {}
        for tag, one in read.seen:
            if tag == "text" and "text-anchor" not in one:
                places.setdefault(one["x"], []).append(float(one["y"]))
        for rows in places.values():
            rows.sort()
            assert all(later - earlier >= 12 for earlier, later in pairwise(rows)), name


def test_the_drawing_is_black_on_white() -> None:
    for answer in (plan_of("stable-yard"), a_year(), seasons("allotment-six-beds")):
        for _, one in Read(page_of(answer)).seen:
            for paint in (one.get("fill", "none"), one.get("stroke", "none")):
                assert paint in ("none", "#000", "#fff") or paint.startswith("url(#fill-")


def test_the_months_are_a_table_that_says_what_its_columns_are() -> None:
    year = a_year()
    paper = paper_of(year, KNOWLEDGE.sources)
    tables = [part for part in paper.parts if isinstance(part, Table)]
    assert [len(table.rows) for table in tables] == [12, 52]
    assert all(len(row) == len(table.head) for table in tables for row in table.rows)
    read = Read(page_of(year))
    assert [one["scope"] for tag, one in read.seen if tag == "th"].count("row") == 64


def test_figures_and_their_units_stay_in_one_line() -> None:
    page = written(element("p", "between 13 °C and 25 °C, 0.69 m² and 3½ L, 9 cm or 57 % of 4 sacks in 2 months"))
    kept = ["13\u00a0°C", "25\u00a0°C", "0.69\u00a0m²", "3½\u00a0L", "9\u00a0cm", "57\u00a0%", "4 sacks", "2 months"]
    assert all(each in page for each in kept)


@pytest.mark.parametrize("name", ["balcony-scraps", "flat-nothing-outdoors"])
def test_what_is_no_heap_is_drawn_as_such_things_are(name: str) -> None:
    plan = plan_of(name)
    from advisor.papers.vessels import VESSELS

    drawn = "".join(Read(page_of(plan)).all_in("pre."))
    says = [said for _, said in VESSELS[plan.choice.method] if said]
    assert says and all(said in drawn for said in says)


def test_sources_stand_at_the_end_each_once() -> None:
    paper = paper_of(plan_of("six-hens"), KNOWLEDGE.sources)
    read = Read(printed_page(paper))
    listed = [text for kind, text in read.items][-len(paper.sources) :]
    assert listed == list(paper.sources) and len(set(listed)) == len(listed) > 5
    cited = {source for line in plan_of("six-hens").lines() for why in line.why for source in why.sources}
    for source in cited:
        assert any(text.startswith(KNOWLEDGE.sources[source].title) for text in listed)


def test_what_people_type_cannot_become_markup() -> None:
    hostile = "</title><script>alert(1)</script><b>&amp;\"'\x1b[31m\u202e"
    plan: Plan = plan_of("coffee-shop").model_copy(update={"household": hostile})
    read = Read(page_of(plan))
    wanted = "Compost for </title><script>alert(1)</script><b>&amp;\"' [31m"
    assert [text.strip() for text in read.all_in("h1.")] == [wanted] == [t.strip() for t in read.all_in("title.")]
    assert "script" not in {tag for tag, _ in read.seen}


@given(st.text(max_size=80))
def test_any_text_shows_as_it_was_typed_and_drives_nothing(text: str) -> None:
    body = element("p")
    add(body, "span", text, title=text)
    page = written(body)
    read = Read(page)
    shown = read.all_in("span.")
    assert "".join(shown).split() == read.seen[-1][1]["title"].split()
    assert not any(ord(sign) < 32 or 127 <= ord(sign) < 160 for sign in page.replace("\n", ""))


def test_every_kind_of_answer_can_be_put_on_paper() -> None:
    """A kind of answer that a command shows and that no paper knows would be found only by whoever asks for it."""
    from importlib import import_module

    from advisor.papers.paper import _PAPERS

    for module in _PAPERS.values():
        assert callable(import_module(f"advisor.papers.{module}").paper)
    empty = Paper("Nothing", ())
    assert Read(printed_page(empty)).all_in("h1.") == ["Nothing"]


BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")


@pytest.mark.skipif(BROWSER is None, reason="no browser here")
@pytest.mark.parametrize(("size", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_a_browser_prints_it_on_that_paper(size: str, points: tuple[int, int], tmp_path: Path) -> None:
    """A4 is 210 by 297 mm (ISO 216:2007), Letter 8.5 by 11 in (ANSI Y14.1); a point is 1/72 in."""
    import re

    page, printed = tmp_path / "page.html", tmp_path / "page.pdf"
    page.write_text(page_of(a_cure(), size), encoding="utf-8")
    flags = "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    flags += "--disable-component-update --disable-sync"
    command = [str(BROWSER), *flags.split(), f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={printed}"]
    subprocess.run([*command, page.as_uri()], check=True, timeout=60, capture_output=True)
    box = re.search(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)", printed.read_bytes())
    assert box is not None
    assert (round(float(box[1])), round(float(box[2]))) == points
