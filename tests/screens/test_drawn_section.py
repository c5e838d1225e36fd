"""The heap in section: every layer to be seen, in build order, in the outline of its body."""

from __future__ import annotations

import math

import pytest
from shipped_plans import NAMES, plan_for, roles, shipped_plan

from advisor.counsel.plan import Body, Line, Spread
from advisor.heap.solids import truncated_pyramid
from advisor.heap.standing import lean
from advisor.knowledge.load import shipped
from advisor.papers.vessels import VESSELS
from advisor.screens.drawing.outlines import allot, outline
from advisor.screens.drawing.section import rows_wanted, section
from advisor.screens.drawing.swatches import assign, swatches

WIDTH = 52


def drawn(plan, width: int = WIDTH, extra: int = 0) -> list[str]:
    grid = section(plan, swatches(plan, roles()), width, rows_wanted(plan) + extra)
    return grid.text().splitlines() if grid is not None else []


@pytest.mark.parametrize("name", NAMES)
def test_every_layer_has_a_row_and_they_stand_in_build_order(name: str) -> None:
    plan = shipped_plan(name)
    told = swatches(plan, roles())
    rows = [row for row in drawn(plan) if " cm " in row and "wide" not in row.split()] if plan.layers else []
    assert len(rows) == len(plan.layers)
    for row, layer in zip(rows, reversed(plan.layers), strict=True):
        assert told[layer.material].pattern in row.split("cm")[0]
        if not layer.forked:
            assert told[layer.material].letter in row.split("cm")[0]


@pytest.mark.parametrize("name", NAMES)
def test_the_layers_are_together_as_thick_as_the_body_is_high(name: str) -> None:
    plan = shipped_plan(name)
    if plan.layers:
        assert sum(layer.thickness_cm for layer in plan.layers) == pytest.approx(plan.body.height_m * 100)


@pytest.mark.parametrize("name", NAMES)
def test_what_the_plan_bids_to_mix_in_is_drawn_mixed_and_never_as_a_thick_layer(name: str) -> None:
    plan = shipped_plan(name)
    told = swatches(plan, roles())
    thin = shipped().kinds["holding"].attributes["prepare"].words["mix-thinly"]
    bidden = {
        line.material
        for line in plan.recipe.lines
        for told_to in plan.prepare
        if thin in told_to.text and line.name in told_to.text.casefold()
    }
    for layer in plan.layers:
        if (
            layer.material in bidden and layer.thickness_cm > 4 and len(plan.layers) > 1
        ):  # two fingers laid side by side
            assert layer.forked, layer
    patterns = {swatch.pattern: material for material, swatch in told.items()}
    forked = {layer.material for layer in plan.layers if layer.forked}
    for row in drawn(plan):
        inside = {patterns[sign] for sign in row.split("cm")[0] if sign in patterns}
        assert not (len(inside) == 1 and inside <= forked and " cm " in row), row
    assert not forked or len(plan.layers) > 1


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width", [20, 38, 52, 90])
def test_a_drawing_keeps_within_its_sheet(name: str, width: int) -> None:
    plan = shipped_plan(name)
    rows = drawn(plan, width, extra=3)
    assert all(len(row) <= width for row in rows)
    assert len(rows) <= rows_wanted(plan) + 3


def body_of(shape: str, width: float, height: float, litres: float) -> Body:
    nothing = Line(id="b1", text="")
    left = Spread(low=1, typical=1, high=1)
    return Body(
        shape=shape,
        length_m=width,
        width_m=width,
        height_m=height,
        litres=litres,
        fits=True,
        heats="yes",
        finished_litres=left,
        line=nothing,
    )


@pytest.mark.parametrize("run", [0.0, 0.2, 0.3, 0.6])
def test_a_heap_leans_in_as_much_as_its_volume_says(run: float) -> None:
    body = body_of("heap", 1.6, 1.2, truncated_pyramid(1.6, 1.6, 1.2, run))
    assert lean(1.6, 1.6, 1.2, body.litres) == pytest.approx(run, abs=1e-9)
    inside = outline(body, 12, 48).inside
    assert list(inside) == sorted(inside, reverse=True)
    # the row in the middle of the height is as wide as the middle of the heap
    assert inside[6] / inside[0] == pytest.approx(1 - run * 1.2 / 1.6, abs=0.1)


def test_a_bin_stands_upright_and_a_row_is_half_round() -> None:
    assert len(set(outline(body_of("box", 1, 1, 1000), 10, 48).inside)) == 1
    inside = outline(body_of("windrow", 2.4, 1.2, 5000), 10, 60).inside
    # at half the height of a half circle its width is the root of three quarters of the foot
    assert inside[5] / inside[0] == pytest.approx(0.75**0.5, abs=0.07)


def test_a_ring_is_drawn_mixed() -> None:
    plan = shipped_plan("coffee-shop").model_copy(update={"layers": ()})
    patterns = {swatches(plan, roles())[line.material].pattern for line in plan.recipe.lines}
    ring = drawn(plan.model_copy(update={"body": body_of("ring", 1.2, 1.2, 1300)}))
    assert all("¦" in row for row in ring[1:-1])
    assert patterns <= set("".join(ring))


@pytest.mark.parametrize("width", [20, 38, WIDTH, 90])
def test_a_tumbler_is_drawn_as_the_shares_of_its_load(width: int) -> None:
    plan = shipped_plan("tumbler-owner")
    told = swatches(plan, roles())
    first, *bars = drawn(plan, width)
    # a cylinder holds pi/4 of the box around it
    body = plan.body
    full = body.litres / (body.length_m * body.width_m * body.height_m * 1000 * math.pi / 4)
    assert width < WIDTH or abs(float(first.split("about ")[1].split(" %")[0]) / 100 - full) <= 0.025
    total = sum(line.litres for line in plan.recipe.lines)
    lines = sorted(plan.recipe.lines, key=lambda line: -line.litres)
    assert len(bars) == len(lines)
    for bar, line in zip(bars, lines, strict=True):
        assert f" {line.litres / total * 100:.0f} %" in bar
        assert bar.startswith((told[line.material].pattern, told[line.material].letter))
    lengths = [len(bar.split(" ")[0]) for bar in bars]
    assert lengths == sorted(lengths, reverse=True)


@pytest.mark.parametrize("method", sorted(VESSELS))
def test_a_vessel_shows_what_is_put_in_by_its_letter(method: str) -> None:
    plan = shipped_plan("flat-nothing-outdoors")
    choice = plan.choice.model_copy(update={"method": method})
    rows = drawn(plan.model_copy(update={"choice": choice}))
    told = swatches(plan, roles())
    fresh = [told[line.material] for line in plan.recipe.lines if roles()[line.material] == "green"]
    assert any(f"{swatch.letter}{swatch.pattern}" in row for swatch in fresh for row in rows)
    assert len(rows) == len(VESSELS[method])


def test_nothing_is_drawn_of_nothing() -> None:
    plan = plan_for()
    assert rows_wanted(plan) == 0
    assert section(plan, {}, WIDTH, 10) is None


def test_rows_are_shared_out_by_thickness_and_none_goes_without() -> None:
    assert allot(10, [1.0, 1.0, 8.0]) == [1, 1, 8]
    assert allot(3, [0.1, 50.0, 0.1]) == [1, 1, 1]
    assert allot(2, [1.0, 9.0, 5.0]) == [0, 1, 1]
    assert allot(5, []) == []
    assert sum(allot(17, [3.0, 3.0, 3.0, 3.0])) == 17


def test_letters_and_patterns_tell_materials_apart_without_colour() -> None:
    named = [("a", "straw"), ("b", "sawdust"), ("c", "seaweed"), ("d", "soil, sieved"), ("e", "spent hops")]
    told = assign(named, {"a": "brown", "b": "brown", "c": "green", "e": "green", "d": "mineral"})
    assert len({swatch.letter for swatch in told.values()}) == 5
    assert len({swatch.pattern for swatch in told.values()}) == 5


def test_twenty_six_materials_all_have_a_letter_of_their_own() -> None:
    told = assign([(f"m{number}", "straw") for number in range(26)], {})
    assert len({swatch.letter for swatch in told.values()}) == 26


def test_a_tumbler_with_one_material_is_drawn_as_well() -> None:
    plan = shipped_plan("tumbler-owner")
    recipe = plan.recipe.model_copy(update={"lines": plan.recipe.lines[:1]})
    _, bar = drawn(plan.model_copy(update={"recipe": recipe}))
    assert "100 %" in bar
