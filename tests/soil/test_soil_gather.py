"""Backwards from beds to heaps to sacks, and what builds up."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.blend.mix import carbon_nitrogen
from advisor.blend.shapes import Composition, Part, Range
from advisor.blend.spread import typical
from advisor.heap.ranges import exactly
from advisor.knowledge.load import shipped
from advisor.soil.spreading import depth_cm, from_heaps, phosphate_balance
from advisor.soil_counsel.gather import BROWNS, GREENS, Goal, goal_for, recipe
from advisor.soil_counsel.ground import BedTold, Ground
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.shapes import SpreadAnswer
from advisor.soil_counsel.spread import spread_answer
from advisor.units import Units

KNOWLEDGE = shipped()
ENGINE = shipped_soil_engine()
GOAL = Goal(30.0, 57.0)


def spread(ground: Ground, units: Units = "metric", *, screened: bool = False) -> SpreadAnswer:
    return spread_answer(ground, KNOWLEDGE, ENGINE, units=units, screened=screened)


def words_of(answer: SpreadAnswer) -> str:
    return "\n".join(line.text for line in answer.lines())


# ---------------------------------------------------------------- the recipe


@pytest.mark.parametrize("brown", BROWNS)
def test_a_recipe_is_thirty_to_one(brown: str) -> None:
    """Thirty to one (art-and-science-table-1).

    Checked by hand: carbon and nitrogen of each part from its dry mass, summed, and divided once."""
    found = recipe(exactly(1000), KNOWLEDGE.materials[brown], [KNOWLEDGE.materials[name] for name in GREENS], GOAL)
    carbon = nitrogen = 0.0
    for material, litres in [(found.brown, found.brown_litres), *((each, found.green_litres) for each in found.greens)]:
        own = typical(material)
        dry = litres.typical / 1000 * own.density_kg_m3 * (1 - own.moisture_pct / 100)
        carbon += dry * own.carbon_pct
        nitrogen += dry * own.nitrogen_pct
    assert carbon / nitrogen == pytest.approx(30)
    assert found.carbon_nitrogen == pytest.approx(30)


def test_the_goal_is_that_of_the_rules_for_a_hot_heap() -> None:
    assert goal_for("open-heap", KNOWLEDGE) == GOAL


def test_grass_and_leaves_of_a_worked_example() -> None:
    """Grass of 2.4 % nitrogen and 45 % carbon at 77 % water takes 3.5 kg of leaves (0.75 and 50 % at 35 %) to 10 kg for
    30 to 1 (composting school of a university, from memory; the balance is exact)."""
    grass, leaves = Composition(2.4, 45, 77, 210), Composition(0.75, 50, 35, 100)
    assert carbon_nitrogen([Part(grass, 10), Part(leaves, 3.474)]) == pytest.approx(30, abs=0.01)


@given(litres=st.floats(50, 20_000), brown=st.sampled_from(BROWNS))
def test_browns_and_greens_fill_the_heap(litres: float, brown: str) -> None:
    raw = Range(litres * 0.8, litres, litres * 1.5)
    found = recipe(raw, KNOWLEDGE.materials[brown], [KNOWLEDGE.materials[name] for name in GREENS], GOAL)
    for end in ("low", "typical", "high"):
        filled = getattr(found.brown_litres, end) + len(found.greens) * getattr(found.green_litres, end)
        assert filled == pytest.approx(getattr(raw, end))
    assert found.water_litres >= 0


def test_no_greens_no_recipe() -> None:
    with pytest.raises(ValueError, match="green"):
        recipe(exactly(100), KNOWLEDGE.materials["dry-leaves"], [], GOAL)


# ---------------------------------------------------------------- there and back


@given(
    areas=st.lists(st.floats(0.2, 4047), min_size=1, max_size=4),
    wants=st.sampled_from(["new", "upkeep", "mulch", "rebuild-first"]),
    method=st.sampled_from(["open-heap", "bin", "leaf-heap"]),
    heap=st.floats(200, 2000),
    screened=st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_from_beds_to_sacks_and_back_to_the_beds(
    areas: list[float], wants: str, method: str, heap: float, screened: bool
) -> None:
    """From 0.2 m2 to an acre: the browns and greens gathered, shrunk again, cover the beds as deep as was asked."""
    beds = tuple(BedTold(f"bed {number}", area, wants=wants) for number, area in enumerate(areas))
    answer = spread(Ground("t", method=method, heap_litres=heap, beds=beds), screened=screened)
    assert answer.raw_litres is not None and answer.heaps is not None
    raw = answer.raw_litres.typical
    for found in answer.gather:
        assert found.brown_litres.typical + 2 * found.green_litres.typical == pytest.approx(raw)
    assert (answer.heaps - 1) * heap <= raw <= answer.heaps * heap * 1.002
    back = from_heaps(exactly(raw), KNOWLEDGE.methods[method].shrinks_to, KNOWLEDGE.figures, screened=screened)
    assert depth_cm(back.typical, sum(areas)) == pytest.approx(answer.beds[0].depth_cm)


@given(feet=st.tuples(st.floats(1, 200), st.floats(1, 200)), inches=st.floats(0.1, 6))
@settings(max_examples=25, deadline=None)
def test_told_in_feet_or_in_metres_it_is_the_same(feet: tuple[float, float], inches: float) -> None:
    """An inch is 2.54 cm and a foot 0.3048 m by definition."""
    from advisor.soil_counsel.ground import bed_told

    us = bed_told(f"A, {feet[0]:.3f} x {feet[1]:.3f} ft, depth {inches:.3f} in", KNOWLEDGE, "t")
    metres = [float(f"{side:.3f}") * 0.3048 for side in feet]
    metric = BedTold("A", metres[0] * metres[1], depth_cm=float(f"{inches:.3f}") * 2.54)
    one, other = (spread(Ground("t", beds=(bed,)), units) for bed, units in ((us, "us"), (metric, "metric")))  # type: ignore[arg-type]
    assert one.beds[0].litres == pytest.approx(other.beds[0].litres)
    assert one.beds[0].nitrogen_kg.high == pytest.approx(other.beds[0].nitrogen_kg.high)
    assert one.heaps == other.heaps


# ---------------------------------------------------------------- words


def test_sacks_and_buckets_are_named() -> None:
    answer = spread(Ground("t", heap_litres=1000, beds=(BedTold("A", 20.0, wants="new"),)))
    page = words_of(answer)
    assert "garden sacks" in page and "dry autumn leaves" in page and "grass clippings" in page
    assert "For each of the 2 heaps" in page
    assert "With straw instead" in page


def test_only_what_is_short_is_gathered() -> None:
    """1 m2 under 5 cm is 50 L; with 20 L there 30 are short, and with 60 nothing is fetched."""
    bed = (BedTold("A", 1.0, depth_cm=5.0, wants="new"),)
    none, some, enough = (
        spread(Ground("t", heap_litres=1000, beds=bed, finished_litres=there)) for there in (None, 20.0, 60.0)
    )
    assert none.raw_litres is not None and some.raw_litres is not None
    assert some.raw_litres.typical == pytest.approx(none.raw_litres.typical * 30 / 50)
    assert enough.raw_litres is None and enough.gather == ()
    assert "left over" in words_of(enough) and "as built" not in words_of(enough)


def test_manure_waits_and_what_is_sieved_gives_dust() -> None:
    """7 CFR 205.203: 120 and 90 days; Queensland and New South Wales on legionella and potting mix."""
    bed = Ground("t", beds=(BedTold("A", 2.0),))
    plain, sieved = words_of(spread(bed)), words_of(spread(bed, screened=True))
    for page in (plain, sieved):
        assert "120 days" in page and "90 days" in page
    assert "spores" in sieved and "spores" not in plain


def test_leaf_mould_takes_leaves_alone() -> None:
    answer = spread(Ground("t", method="leaf-heap", beds=(BedTold("A", 2.0),)))
    assert answer.gather == ()
    assert "of leaves, and nothing else" in words_of(answer)


def test_a_worm_bin_is_fed_and_not_built() -> None:
    answer = spread(Ground("t", method="worm-bin", beds=(BedTold("A", 2.0),)))
    assert answer.heaps is None and answer.raw_litres is not None
    assert "of scraps, fed as they come" in words_of(answer)
    assert "Towns limit heaps" not in words_of(answer)


def test_mixes_by_share_of_the_volume() -> None:
    """At most a third of a potting mix (Chester, read), 20 to 30 % of made topsoil (Michigan, read): 25 and 30 %
    of 100 and 1000 L; both are served before the bed."""
    ground = Ground("t", finished_litres=340.0, beds=(BedTold("A", 10.0, wants="upkeep"),))
    answer = spread_answer(ground, KNOWLEDGE, ENGINE, pots_litres=100, raised_mix_litres=1000)
    page = words_of(answer)
    assert "100 L of potting mix: 25 L of compost (20 L to 33 L)" in page
    assert "of fill for framed beds: 300 L of compost (200 L to 500 L), sieved, and 700 L of mineral soil" in page
    assert answer.beds[0].litres == pytest.approx(340 - 25 - 300)


def test_who_comes_first_is_said_by_name() -> None:
    beds = (
        BedTold("lawn", 5.0, wants="lawn"),
        BedTold("kale", 5.0, crops=("cabbages",)),
        BedTold("new", 2.0, wants="new"),
    )
    answer = spread(Ground("t", beds=beds, finished_litres=90.0))
    assert "here new, then kale, then lawn" in words_of(answer)


# ---------------------------------------------------------------- what builds up


def test_a_yearly_half_inch_brings_more_phosphate_than_crops_take() -> None:
    """13 mm at 600 kg/m3 and 3 kg/t (RB209 table 2.17, read) are 23 g/m2; 40 t/ha of a crop of 1 kg/t take 4
    (RB209 offtakes, memory): six times."""
    brought = 0.013 * 600 * 3
    assert brought == pytest.approx(23.4)
    assert phosphate_balance(brought / 1000, 1, KNOWLEDGE.figures) == pytest.approx(brought / 4)


def test_build_up_is_said_of_upkeep_and_not_of_a_thin_or_single_dressing() -> None:
    def page(**bed: object) -> str:
        return words_of(spread(Ground("t", beds=(BedTold("A", 10.0, **bed),))))  # type: ignore[arg-type]

    assert "the phosphate that crops carry off" in page()
    assert "the phosphate that crops carry off" not in page(wants="upkeep", depth_cm=0.2)
    assert "the phosphate that crops carry off" not in page(wants="new")
