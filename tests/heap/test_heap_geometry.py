"""Solids against closed forms, numerical integration and published figures; bodies against handbooks."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad, quad

from advisor.heap.geometry import body, heats, leaf_cages, most_that_fits
from advisor.heap.solids import (
    box,
    cone,
    cylinder,
    half_round_windrow,
    parabolic_windrow,
    trapezoid_windrow,
    truncated_pyramid,
)
from advisor.household.shapes import Room
from advisor.knowledge.load import shipped

FOOT = 0.3048  # m, by definition
CUBIC_FOOT = 28.316846592  # L, by definition
CUBIC_YARD = 764.554857984  # L, by definition

HEAP_METHODS = [name for name, method in shipped().methods.items() if method.has_body]

lengths = st.floats(0.2, 20)
heights = st.floats(0.1, 3)
litres = st.floats(1, 50_000)


# ---------------------------------------------------------------- solids


def test_a_cubic_yard_is_27_cubic_feet():
    assert box(3 * FOOT, 3 * FOOT, 3 * FOOT) == pytest.approx(CUBIC_YARD)
    assert 27 * box(FOOT, FOOT, FOOT) == pytest.approx(CUBIC_YARD)


def test_three_feet_each_way_as_a_cube_and_as_a_cylinder():
    # Organic Gardener's Composting: 3 ft high and 3 ft across, which is 0.76 m3 square and 0.6 m3 round
    assert box(3 * FOOT, 3 * FOOT, 3 * FOOT) == pytest.approx(760, rel=0.01)
    assert cylinder(3 * FOOT, 3 * FOOT) == pytest.approx(600, rel=0.01)


def test_farmer_city_limit():
    # Farmer City, Illinois, Code of Ordinances 53.05: no more than 125 ft3 and 5 ft high
    assert box(5 * FOOT, 5 * FOOT, 5 * FOOT) == pytest.approx(125 * CUBIC_FOOT)


def test_half_round_windrow_of_the_new_jersey_manual():
    # area = pi h^2 / 2 and width = 2 h; a row 5 ft high has 39.27 ft2
    assert half_round_windrow(FOOT, 5 * FOOT) == pytest.approx(39.27 * CUBIC_FOOT, rel=1e-4)


@given(lengths, heights)
def test_half_round_windrow_by_integration(length, height):
    area, _ = quad(lambda x: math.sqrt(max(0.0, height**2 - x**2)), -height, height)
    assert half_round_windrow(length, height) == pytest.approx(1000 * area * length, rel=1e-6)


@given(lengths, lengths, heights)
def test_parabolic_windrow_by_integration(length, width, height):
    area, _ = quad(lambda x: height * (1 - (2 * x / width) ** 2), -width / 2, width / 2)
    assert parabolic_windrow(length, width, height) == pytest.approx(1000 * area * length, rel=1e-9)


@given(lengths, lengths, lengths, heights)
def test_trapezoid_windrow_by_integration(length, width, top, height):
    area, _ = quad(lambda z: width + (top - width) * z / height, 0, height)
    assert trapezoid_windrow(length, width, top, height) == pytest.approx(1000 * area * length, rel=1e-9)


@given(lengths, heights)
def test_cone_by_integration(across, height):
    volume, _ = quad(lambda z: math.pi / 4 * (across * (1 - z / height)) ** 2, 0, height)
    assert cone(across, height) == pytest.approx(1000 * volume, rel=1e-9)


@given(lengths, lengths, heights, st.floats(0, 1))
def test_truncated_pyramid_by_integration(length, width, height, leaning):
    run = leaning * min(length, width) / (2 * height)
    volume, _ = quad(lambda z: (length - 2 * run * z) * (width - 2 * run * z), 0, height)
    assert truncated_pyramid(length, width, height, run) == pytest.approx(1000 * volume, rel=1e-6, abs=1e-6)


def test_truncated_pyramid_from_its_surface():
    # the height over each spot of the ground, summed: an integration that knows nothing of slices
    def height_over(y, x):
        inwards = min(x, 3 - x, y, 2 - y)
        return min(1.2, inwards / 0.4)

    volume, _ = dblquad(height_over, 0, 3, 0, 2, epsabs=1e-4)
    assert truncated_pyramid(3, 2, 1.2, 0.4) == pytest.approx(1000 * volume, rel=1e-3)


@given(lengths, heights, st.floats(0, 0.99))
def test_truncated_pyramid_on_a_square_is_the_frustum_of_the_schoolbook(side, height, leaning):
    # V = h/3 (A + B + sqrt(A B)), A and B the areas of foot and top
    run = leaning * side / (2 * height)
    foot, top = side**2, (side - 2 * run * height) ** 2
    frustum = height / 3 * (foot + top + math.sqrt(foot * top))
    assert truncated_pyramid(side, side, height, run) == pytest.approx(1000 * frustum, rel=1e-9)


def test_a_full_pyramid_is_a_third_of_its_box():
    assert truncated_pyramid(2, 2, 1, 1) == pytest.approx(box(2, 2, 1) / 3)


def test_sides_that_meet_too_low_are_refused():
    with pytest.raises(ValueError, match="meet below"):
        truncated_pyramid(1, 1, 2, 0.5)


# ---------------------------------------------------------------- heat


def test_heat_by_volume_and_by_the_narrowest_side(figures):
    assert heats(CUBIC_YARD, 3 * FOOT, figures) == "yes"  # Organic Gardener's Composting: 3 ft each way
    assert heats(cylinder(3 * FOOT, 3 * FOOT), 3 * FOOT, figures) == "barely"
    assert heats(500, 0.9, figures) == "no"
    assert heats(5000, 0.8, figures) == "no"  # University of California rapid method: no side under 32 in
    assert heats(5000, 0.81, figures) == "barely"
    assert heats(760, 0.91, figures) == "yes"
    assert heats(1000, 1.0, figures) == "yes"  # FAO: at least 1 m3


# ---------------------------------------------------------------- bodies

GROUNDS = st.builds(
    Room,
    st.floats(0.3, 12),
    st.floats(0.3, 12),
    st.one_of(st.none(), st.floats(0.5, 3)),
)


@given(
    litres,
    st.sampled_from(["open-heap", "bin", "windrow", "leaf-heap", "tumbler"]),
    st.one_of(st.none(), GROUNDS),
)
def test_the_body_stays_within_the_room_and_what_fits(figures, volume, method, room):
    each = body(volume, method=method, figures=figures, room=room)
    assert each.litres <= volume * (1 + 1e-9)
    assert each.litres <= each.most_litres * (1 + 1e-9)
    assert each.fits == (volume <= each.most_litres * (1 + 1e-9))
    if each.fits:
        assert each.litres == pytest.approx(volume)
    if room is not None:
        longer, shorter = max(room.length_m, room.width_m), min(room.length_m, room.width_m)
        assert each.width_m <= shorter * (1 + 1e-9)
        assert each.length_m <= longer * (1 + 1e-9)
        assert room.height_m is None or each.height_m <= room.height_m * (1 + 1e-9)
    assert each.width_m <= each.length_m * (1 + 1e-9)


@given(litres, st.sampled_from(HEAP_METHODS), st.one_of(st.none(), GROUNDS))
def test_what_the_body_holds_comes_back_from_its_sides(figures, volume, method, room):
    each = body(volume, method=method, figures=figures, room=room)
    run = figures["heap-side-run-per-rise"].typical
    share = figures["tumbler-fill-share-pct"].typical / 100
    held = {
        "heap": lambda: truncated_pyramid(each.length_m, each.width_m, each.height_m, run),
        "box": lambda: box(each.length_m, each.width_m, each.height_m),
        "drum": lambda: share * cylinder(each.width_m, each.length_m),
        "windrow": lambda: half_round_windrow(each.length_m, each.height_m),
        "ring": lambda: cylinder(each.width_m, each.height_m),
    }[each.shape]()
    assert held == pytest.approx(each.litres, rel=1e-6)


@given(litres, litres, st.sampled_from(["open-heap", "bin", "windrow"]), st.one_of(st.none(), GROUNDS))
def test_more_is_never_lower_or_narrower(figures, one, two, method, room):
    less, more = (body(each, method=method, figures=figures, room=room) for each in sorted((one, two)))
    for side in ("length_m", "width_m", "height_m", "litres"):
        assert getattr(less, side) <= getattr(more, side) * (1 + 1e-9)
    assert ["no", "barely", "yes"].index(less.heats) <= ["no", "barely", "yes"].index(more.heats)


@given(litres, st.sampled_from(["open-heap", "bin", "windrow"]))
def test_in_the_open_it_heats_from_the_volume_that_is_needed(figures, volume, method):
    each = body(volume, method=method, figures=figures)
    if abs(volume - each.needed_litres) > 1e-6 * volume:
        assert (each.heats == "yes") == (volume > each.needed_litres)


@pytest.mark.parametrize("method", ["open-heap", "bin", "windrow", "leaf-heap"])
def test_a_hair_more_than_is_needed_heats_and_a_hair_less_does_not(figures, method):
    needed = body(100, method=method, figures=figures).needed_litres
    assert body(needed * 1.001, method=method, figures=figures).heats == "yes"
    assert body(needed * 0.999, method=method, figures=figures).heats == "barely"


@given(st.sampled_from(HEAP_METHODS), st.one_of(st.none(), GROUNDS), st.one_of(st.none(), st.floats(50, 2000)))
def test_the_most_that_fits_is_the_same_asked_either_way(figures, method, room, container):
    most = most_that_fits(room, container, method, figures)
    each = body(100.0, method=method, figures=figures, room=room, container_litres=container)
    assert each.most_litres == pytest.approx(most)
    if math.isfinite(most):
        assert body(most, method=method, figures=figures, room=room, container_litres=container).fits
        assert not body(most * 1.01, method=method, figures=figures, room=room, container_litres=container).fits


def test_a_free_heap_of_a_cubic_metre(figures):
    each = body(1000, method="open-heap", figures=figures)
    assert each.shape == "heap"
    assert each.length_m == each.width_m
    assert each.height_m / each.width_m == pytest.approx(0.75)  # Rutgers FS074: 3 ft high on 4 ft across
    assert each.heats == "yes"
    assert math.isinf(each.most_litres)


def test_a_big_heap_is_made_longer_rather_than_higher_or_wider(figures):
    each = body(20_000, method="open-heap", figures=figures)
    assert each.height_m == pytest.approx(5 * FOOT, abs=0.01)  # from memory: 5 ft before the middle lacks air
    assert each.width_m == figures["widest-still-heap-m"].typical
    assert each.length_m > 2 * each.width_m


def test_a_narrow_strip_keeps_a_heap_from_heating(figures):
    strip = Room(6, 1)
    each = body(2000, method="open-heap", figures=figures, room=strip)
    assert each.fits
    assert each.heats == "no"
    assert body(2000, method="bin", figures=figures, room=strip).heats == "yes"


def test_a_bin_that_is_there_already(figures):
    each = body(400, method="bin", figures=figures, container_litres=300, room=Room(0.1, 0.1))
    assert not each.fits
    assert each.litres == each.most_litres == 300
    assert each.heats == "no"
    half = body(150, method="bin", figures=figures, container_litres=300)
    assert half.height_m == pytest.approx(half.width_m / 2)


def test_three_feet_of_bin_hold_a_cubic_yard(figures):
    each = body(CUBIC_YARD, method="bin", figures=figures)
    assert (each.length_m, each.width_m, each.height_m) == pytest.approx((3 * FOOT,) * 3)
    assert each.heats == "yes"


def test_a_windrow_is_twice_as_wide_as_high(figures):
    each = body(9000, method="windrow", figures=figures)
    assert each.width_m == pytest.approx(2 * each.height_m)  # New Jersey manual
    assert each.width_m == pytest.approx(8 * FOOT, rel=0.02)  # common practice
    assert each.length_m == pytest.approx(9 / (math.pi / 2 * 1.2**2))


def test_a_tumbler_is_not_filled_to_the_top(figures):
    each = body(400, method="tumbler", figures=figures, container_litres=200)
    assert each.most_litres == pytest.approx(134)  # two thirds: common practice
    assert cylinder(each.width_m, each.length_m) == pytest.approx(200)
    assert not each.fits
    assert each.heats == "no"


def test_a_tumbler_to_be_bought_is_no_bigger_than_they_come(figures):
    each = body(1000, method="tumbler", figures=figures)
    assert each.most_litres == pytest.approx(0.67 * 400)  # common practice: home tumblers hold 100 to 400 L
    assert each.width_m**3 * math.pi / 4 == pytest.approx(0.4)
    small = body(67, method="tumbler", figures=figures)
    assert small.width_m**3 * math.pi / 4 == pytest.approx(0.1)


def test_a_ring_under_a_low_roof_is_wider(figures):
    each = body(1000, method="leaf-heap", figures=figures, room=Room(1.5, 1.5, 0.8))
    assert (each.shape, each.height_m) == ("ring", pytest.approx(0.8))
    assert cylinder(each.width_m, 0.8) == pytest.approx(1000)


def test_leaves_lie_in_a_ring_then_in_a_heap(figures):
    ring = body(1500, method="leaf-heap", figures=figures)
    assert ring.shape == "ring"
    assert 3 * FOOT <= ring.width_m <= 5 * FOOT  # from memory: leaf cages of 3 to 5 ft
    assert ring.height_m == pytest.approx(ring.width_m)
    heap = body(8000, method="leaf-heap", figures=figures)
    assert heap.shape == "heap"
    # Rutgers FS074: at least 4 ft across and 3 ft high, at most 10 ft across and 5 ft high
    assert 4 * FOOT <= heap.width_m <= 10 * FOOT + 0.01
    assert 3 * FOOT <= heap.height_m <= 5 * FOOT + 0.01
    assert body(900, method="leaf-heap", figures=figures, container="open-bin").shape == "box"


def test_the_maine_ring_of_wire(figures):
    # Maine DEP: a ring of about 3.7 m of wire, 1.2 m high, for a heap that works through the winter
    across = 3.7 / math.pi
    held = cylinder(across, 1.2)
    assert heats(held, min(across, 1.2), figures) == "yes"


def test_leaf_cages_are_as_few_as_will_do(figures):
    assert leaf_cages(0, figures).number == 1
    assert leaf_cages(2500, figures).number == 1
    two = leaf_cages(4000, figures)
    assert two.number == 2
    assert 2 * cylinder(two.across_m, two.height_m) == pytest.approx(4000)
    assert leaf_cages(100, figures).across_m == figures["leaf-cage-side-m"].low


@given(litres)
def test_leaf_cages_hold_the_leaves(figures, volume):
    cages = leaf_cages(volume, figures)
    assert cages.number * cylinder(cages.across_m, cages.height_m) == pytest.approx(volume)
    assert cages.height_m <= cages.across_m * (1 + 1e-9)
    assert cages.across_m <= figures["leaf-cage-side-m"].high * (1 + 1e-9)


@pytest.mark.parametrize("method", HEAP_METHODS)
def test_nothing_makes_an_empty_heap(figures, method):
    each = body(0, method=method, figures=figures, room=Room(2, 2))
    assert each.litres == 0
    assert each.fits
    assert each.heats == "no"


def test_what_is_no_heap_is_refused(figures):
    with pytest.raises(ValueError, match="worm-bin makes no heap"):
        body(100, method="worm-bin", figures=figures)
    for nonsense in (-1, math.nan, math.inf):
        with pytest.raises(ValueError, match="cannot hold"):
            body(nonsense, method="bin", figures=figures)
        with pytest.raises(ValueError, match="cannot hold"):
            leaf_cages(nonsense, figures)
