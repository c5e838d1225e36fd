"""The order of building: what every recipe keeps to, and a few heaps read as a gardener would."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.heap.layers import MOST_LAYERS, Line, layers

STRUCTURES = ("coarse", "medium", "fine", "matting")

LEAVES = Line("leaves", 400, "medium", "brown", 30)
STRAW = Line("straw", 600, "coarse", "brown", 12)
CHIPS = Line("chips", 100, "coarse", "brown", 35)
GRASS = Line("grass", 150, "matting", "green", 80)
SCRAPS = Line("scraps", 100, "medium", "green", 75)
MANURE = Line("manure", 300, "fine", "green", 70)
ASH = Line("ash", 3, "mineral", "mineral", 5)

recipes = st.lists(
    st.builds(
        Line,
        st.sampled_from([f"stuff-{number}" for number in range(9)]),
        st.floats(0.5, 800),
        st.sampled_from(STRUCTURES),
        st.sampled_from(["green", "green", "brown", "brown", "mineral", "starter", "liquid"]),
        st.floats(5, 95),
        st.sampled_from([0.0, 0.0, 0.5, 2.0, 11.0]),
    ),
    min_size=1,
    max_size=9,
    unique_by=lambda line: line.material,
)
grounds = st.floats(0.2, 6)


def stack(lines, ground, figures):
    return [(layer.place, layer.material) for layer in layers(lines, ground, figures)]


@given(recipes, grounds)
def test_litres_of_every_material_are_those_of_the_recipe(figures, recipe, ground):
    built = layers(recipe, ground, figures)
    for line in recipe:
        laid = math.fsum(layer.litres for layer in built if layer.material == line.material)
        assert laid == pytest.approx(line.litres, rel=1e-12)
    assert all(layer.litres > 0 for layer in built)


@given(recipes, grounds)
def test_thickness_is_volume_over_ground(figures, recipe, ground):
    for layer in layers(recipe, ground, figures):
        # 1 L on 1 m2 lies 1 mm deep, by definition of the litre
        assert layer.thickness_cm == pytest.approx(layer.litres / ground / 10)


@given(recipes, grounds)
def test_it_can_be_read_with_a_fork_in_hand(figures, recipe, ground):
    assert len(layers(recipe, ground, figures)) <= MOST_LAYERS


@given(recipes, grounds)
def test_it_starts_with_the_base_and_ends_with_the_cover(figures, recipe, ground):
    built = layers(recipe, ground, figures)
    order = ["base", "body", "cover"]
    places = [order.index(layer.place) for layer in built]
    assert places == sorted(places)
    if any(line.role == "brown" for line in recipe) and len(recipe) > 1:
        roles = {line.material: line.role for line in recipe}
        assert roles[built[-1].material] == "brown"
    structures = {line.material: line.structure for line in recipe}
    assert all(structures[layer.material] == "coarse" for layer in built if layer.place == "base")


@given(recipes, grounds)
def test_no_layer_lies_on_more_of_the_same(figures, recipe, ground):
    built = layers(recipe, ground, figures)
    assert all(lower.material != upper.material for lower, upper in pairwise(built))


@given(recipes, grounds)
def test_stuff_that_mats_is_thin_or_forked_in(figures, recipe, ground):
    # common practice: no more than 5 cm at a time, else mix it through
    mats = {line.material for line in recipe if line.structure == "matting" and line.role in ("green", "brown")}
    built = layers(recipe, ground, figures)
    for layer in built:
        if layer.thickness_cm == pytest.approx(5, rel=1e-6):
            continue  # 5 cm to rounding: either is right
        thick = layer.material in mats and layer.place == "body" and layer.thickness_cm > 5
        assert layer.mixed == (thick and len(built) > 1)


@given(recipes, grounds, st.randoms(use_true_random=False))
def test_the_order_of_the_recipe_does_not_matter(figures, recipe, ground, random):
    shuffled = list(recipe)
    random.shuffle(shuffled)
    assert layers(shuffled, ground, figures) == layers(recipe, ground, figures)


def test_leaves_and_greens_in_turn(figures):
    built = layers([SCRAPS, GRASS, LEAVES], 1.0, figures)
    assert [layer.material for layer in built] == ["leaves", "grass", "scraps"] * 3 + ["leaves"]
    assert built[-1].place == "cover"
    # common practice: no more than 5 cm of grass at a time, other layers 10 to 20 cm
    assert {round(layer.thickness_cm, 1) for layer in built if layer.material == "grass"} == {5.0}
    assert {10 <= layer.thickness_cm <= 20 for layer in built[:-1] if layer.material == "leaves"} == {True}


def test_brush_goes_to_the_bottom(figures):
    # an experiment station's recipe puts 10 to 15 cm of brush at the foot
    built = layers([CHIPS, LEAVES, MANURE], 0.8, figures)
    assert (built[0].place, built[0].material) == ("base", "chips")
    assert 10 <= built[0].thickness_cm <= 15
    assert "base" not in {layer.place for layer in built[1:]}


def test_browns_alone_lie_in_turn(figures):
    assert stack([STRAW, LEAVES], 1.0, figures)[:3] == [("base", "straw"), ("body", "leaves"), ("body", "straw")]
    scant = Line("leaves", 30, "medium", "brown", 30)
    assert stack([STRAW, scant], 1.0, figures) == [("base", "straw"), ("cover", "leaves")]


def test_some_brown_is_kept_for_the_top(figures):
    stalks, twigs = Line("stalks", 10, "coarse", "brown", 20), Line("twigs", 10, "coarse", "brown", 20)
    built = layers([stalks, twigs, MANURE], 1.0, figures)
    assert [layer.place for layer in built] == ["base", "base", "body", "cover"]


def test_straw_and_manure_end_in_straw(figures):
    built = layers([STRAW, MANURE], 1.0, figures)
    assert [layer.material for layer in built] == ["straw", "manure"] * 3 + ["straw"]
    assert all(layer.thickness_cm <= 20 for layer in built)


def test_the_wettest_green_lies_on_the_driest_brown(figures):
    dry = Line("sawdust", 100, "fine", "brown", 10)
    damp = Line("leaves", 150, "medium", "brown", 40)
    wet = Line("melon", 100, "fine", "green", 90)
    drier = Line("prunings", 100, "medium", "green", 50)
    order = [layer.material for layer in layers([damp, drier, dry, wet], 1.0, figures)][:4]
    assert order == ["sawdust", "melon", "leaves", "prunings"]


def test_a_great_deal_of_grass_is_forked_in(figures):
    much = Line("grass", 600, "matting", "green", 80)
    built = layers([STRAW, much], 1.0, figures)
    assert len(built) <= MOST_LAYERS
    assert all(layer.mixed for layer in built if layer.material == "grass")
    assert not any(layer.mixed for layer in built if layer.material == "straw")


def test_ash_is_scattered_through_the_rounds(figures):
    built = layers([LEAVES, GRASS, ASH], 1.0, figures)
    scattered = [layer for layer in built if layer.material == "ash"]
    assert len(scattered) == 3
    assert all(layer.thickness_cm < 0.2 for layer in scattered)


def test_layers_come_in_whole_buckets(figures):
    bucket = 11.0
    leaves = Line("leaves", 37 * bucket, "medium", "brown", 30, bucket)
    grass = Line("grass", 13 * bucket, "matting", "green", 80, bucket)
    for layer in layers([leaves, grass], 1.0, figures):
        assert layer.litres / bucket == pytest.approx(round(layer.litres / bucket))


def test_buckets_are_shared_out_evenly(figures):
    grass = Line("grass", 14 * 11.0, "matting", "green", 80, 11.0)
    dealt = [layer.litres / 11 for layer in layers([LEAVES, grass], 1.0, figures) if layer.material == "grass"]
    assert dealt == pytest.approx([4, 4, 3, 3])


def test_the_cover_is_a_hands_breadth_of_the_softest_and_most(figures):
    # common practice: 5 to 15 cm of dry browns on top
    chips = Line("chips", 500, "coarse", "brown", 35)
    cover = layers([chips, LEAVES, Line("paper", 20, "medium", "brown", 32), MANURE], 1.0, figures)[-1]
    assert (cover.place, cover.material) == ("cover", "leaves")
    assert cover.thickness_cm == pytest.approx(8)


def test_one_bucket_is_not_split(figures):
    scraps = Line("scraps", 11, "medium", "green", 75, 11.0)
    built = layers([LEAVES, GRASS, scraps], 1.0, figures)
    assert [layer.litres for layer in built if layer.material == "scraps"] == [11]


def test_a_single_material_is_a_single_layer(figures):
    for line in (LEAVES, STRAW, GRASS, ASH):
        assert stack([line], 1.0, figures) == [("body", line.material)]


def test_nothing_is_built_of_nothing(figures):
    assert layers([], 1.0, figures) == ()
    assert layers([Line("leaves", 0, "medium", "brown", 30)], 1.0, figures) == ()


@pytest.mark.parametrize(
    ("lines", "ground", "fault"),
    [
        ([LEAVES], 0, "needs ground"),
        ([Line("glass", 5, "medium", "never", 0)], 1, "glass has no place in compost"),
        ([Line("leaves", -1, "medium", "brown", 30)], 1, "leaves: -1 L"),
        ([LEAVES, LEAVES], 1, "leaves stands in the recipe twice"),
    ],
)
def test_what_cannot_be_laid_is_refused(figures, lines, ground, fault):
    with pytest.raises(ValueError, match=fault):
        layers(lines, ground, figures)
