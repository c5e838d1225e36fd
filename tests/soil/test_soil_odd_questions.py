"""Questions of a suspicious gardener and of a soil surveyor: small and vast beds, slips of the pen, checks at odds."""

from datetime import date

import pytest

from advisor.errors import HouseholdError
from advisor.knowledge.load import shipped
from advisor.soil_counsel.checks import read_check
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground, area_m2, bed_told, check_told, length_cm
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.ready import Finished, ready_answer
from advisor.soil_counsel.seasons import seasons_answer
from advisor.soil_counsel.shapes import Answer, SeasonsAnswer
from advisor.soil_counsel.soil import soil_answer
from advisor.soil_counsel.spread import spread_answer

KNOWLEDGE = shipped()
ENGINE = shipped_soil_engine()


def told(text: str, on: date | None = None) -> CheckTold:
    return check_told(text, KNOWLEDGE, "test", "A", on)


def soil(*texts: str) -> str:
    ground = Ground("t", beds=(BedTold("A"),), checks=tuple(told(text) for text in texts))
    return words_of(soil_answer(ground, KNOWLEDGE, ENGINE))


def words_of(answer: Answer) -> str:
    return "\n".join(line.text for line in answer.lines())


def calendar(begins: date, last: tuple[int, int], first: tuple[int, int], **bed: object) -> SeasonsAnswer:
    ground = Ground("t", "", last, first, begins, beds=(BedTold("A", area_m2=5.0, **bed),))  # type: ignore[arg-type]
    return seasons_answer(ground, KNOWLEDGE, ENGINE, number=1)


# ---------------------------------------------------------------- areas and depths


@pytest.mark.parametrize(
    ("text", "square_metres"),
    [
        ("1 acre", 4046.86),
        ("1/4 acre", 1011.71),
        ("0.5 ac", 2023.43),
        ("2 acres", 8093.71),
        ("0.1 ha", 1000),
        ("10 sq yd", 8.361),
        ("3 x 2 yards", 5.017),
        ("0.2 m2", 0.2),
    ],
)
def test_areas_that_gardens_are_told_in(text: str, square_metres: float) -> None:
    """Definitions: an acre is 43,560 square feet, a hectare 10,000 square metres, a yard 0.9144 m."""
    assert area_m2(text, "t") == pytest.approx(square_metres, rel=1e-4)


@pytest.mark.parametrize("text", ["0 acre", "1/0 acre", "0.001 m2", "1000000 ha", "an acre or so", "none"])
def test_areas_that_are_none(text: str) -> None:
    with pytest.raises(HouseholdError, match="no area"):
        area_m2(text, "t")


@pytest.mark.parametrize("text", ["3 m", "60 cm", "2 ft"])
def test_a_dressing_is_no_heap(text: str) -> None:
    with pytest.raises(HouseholdError, match="heap and no dressing"):
        length_cm(text, "t")


def test_an_acre_and_a_window_box_both_get_an_answer() -> None:
    for bed in ("A, 1 acre, wants new", "A, 0.2 m2, wants upkeep"):
        answer = spread_answer(Ground("t", beds=(bed_told(bed, KNOWLEDGE, "t"),)), KNOWLEDGE, ENGINE, units="us")
        assert answer.heaps is not None and answer.heaps >= 1
        assert answer.beds[0].depth_cm > 0


# ---------------------------------------------------------------- spreading


def test_nothing_wanted_is_no_barrow() -> None:
    page = words_of(spread_answer(Ground("t", beds=(BedTold("A", 5.0, wants="none"),)), KNOWLEDGE, ENGINE))
    assert "barrow" not in page and "Rake" not in page
    assert "no compost at all" in page


def test_a_range_from_nothing_says_nothing_and_not_0_kg() -> None:
    page = words_of(spread_answer(Ground("t", beds=(BedTold("A", 0.2),)), KNOWLEDGE, ENGINE))
    assert "(nothing to " in page
    assert "0 kg" not in page


@pytest.mark.parametrize("method", list(KNOWLEDGE.methods))
def test_every_method_gives_an_answer_or_a_reason(method: str) -> None:
    ground = Ground("t", method=method, beds=(BedTold("A", 5.0),))
    if KNOWLEDGE.methods[method].shrinks_to.typical > 0:
        assert spread_answer(ground, KNOWLEDGE, ENGINE).raw_litres is not None
    else:
        with pytest.raises(HouseholdError, match="leaves nothing to spread"):
            spread_answer(ground, KNOWLEDGE, ENGINE)


def test_a_heap_of_a_cup_is_none() -> None:
    with pytest.raises(HouseholdError, match="does not rot"):
        spread_answer(Ground("t", heap_litres=0.5, beds=(BedTold("A", 5.0),)), KNOWLEDGE, ENGINE)


# ---------------------------------------------------------------- figures that were not measured


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("ring width=6 in water=444 ml minutes=0.01", "beside the ring"),
        ("spade scores=2.5 depths=200", "no spade lifts"),
        ("spade scores=2 3 depths=30 40 in", "no spade lifts"),
        ("worms counts=10000", "cannot be"),
        ("jar sand=1 silt=2 top=300", "no jar"),
        ("percolation fell=2 m hours=1", "cannot fall further"),
        ("hole hours=0", "0.1"),
        ("slake soft=1.5", "whole numbers"),
        ("slake soft=-1", "whole numbers"),
        ("radish sown=15.5 grown=12", "whole numbers"),
        ("weed-seeds seedlings=2.6 litres=1 L", "whole numbers"),
        ("cress sown=10 sprouted=-1 roots=3 control_sprouted=10 control_roots=20", "whole numbers"),
        ("flask room=20 peak=15", "colder than the room"),
    ],
)
def test_slips_of_the_pen_are_asked_about(text: str, said: str) -> None:
    check = told(text)
    with pytest.raises(HouseholdError, match=said):
        read_check(check.guide, check.values, KNOWLEDGE, "metric")


@pytest.mark.parametrize(
    "text",
    [
        "ring width=6 in water=444 ml minutes=0.5 0.5",  # coarse sand: gone in half a minute
        "spade scores=2 depths=50",
        "worms counts=80",
        "percolation fell=12 in hours=1",
        "hole hours=0.1",
        "flask room=20 peak=19",
        "worms counts=10.5",  # a mean of blocks
    ],
)
def test_what_is_only_unusual_is_read(text: str) -> None:
    check = told(text)
    assert read_check(check.guide, check.values, KNOWLEDGE, "us").text


# ---------------------------------------------------------------- checks at odds


@pytest.mark.parametrize(
    "texts",
    [
        ("spade scores=1 depths=20", "ring width=15 water=444 ml minutes=900 1000"),
        ("spade scores=5 depths=20", "ring width=15 water=444 ml minutes=3 4"),
        ("slake left=100 100", "looks seen=crust"),
        ("texture sand=90 silt=5 clay=5", "percolation fell=1 cm hours=2"),
    ],
)
def test_checks_at_odds_are_to_be_done_again(texts: tuple[str, ...]) -> None:
    assert "Two of these checks disagree" in soil(*texts)
    for alone in texts:
        assert "disagree" not in soil(alone)


def test_a_laboratory_stands_over_a_jar_whenever_it_was() -> None:
    """A jar is read by eye; a laboratory weighs."""
    for texts in (("jar sand=1 silt=2 top=10", "texture sand=90 silt=5 clay=5"),) * 2:
        for order in (texts, texts[::-1]):
            ground = Ground("t", beds=(BedTold("A"),), checks=tuple(told(text) for text in order))
            assert soil_answer(ground, KNOWLEDGE, ENGINE).found["A"] == ("thirsty",)


def test_of_two_bags_the_later_stands_and_both_are_shown() -> None:
    for order, unfit in ((("earthy", "bad"), True), (("bad", "earthy"), False)):
        checks = tuple(told(f"bag smell={smell}") for smell in order)
        answer = ready_answer(Finished(checks=checks), KNOWLEDGE, ENGINE)
        assert ("Shut in, unfinished compost" in words_of(answer)) == unfit
        assert len(answer.results) == 2


# ---------------------------------------------------------------- lead between the bands


@pytest.mark.parametrize(("ppm", "caution"), [(31, False), (32, True), (100, True), (101, False)])
def test_moderate_lead_has_a_caution_of_its_own(ppm: int, caution: bool) -> None:
    """Lead-safe soil brochure (read): 31 to 100 is moderate; its copy gives both middle bands one advice."""
    page = soil(f"laboratory lead={ppm}")
    assert ("more than most soil holds" in page) == caution
    assert ("There is lead in it." in page) == (ppm > 100)


# ---------------------------------------------------------------- seasons


def test_begun_in_a_southern_november_the_ground_is_not_left_bare_all_summer() -> None:
    """Too late for oats: buckwheat has the summer, and something stands or lies in every month from the start."""
    answer = calendar(date(2026, 11, 25), (9, 25), (4, 30))
    sown = [crop for task in answer.years[0].tasks for crop in task.seed_grams]
    assert sown[0] == "buckwheat"
    first = next(task for task in answer.years[0].tasks if task.what == "sow")
    assert first.opens == date(2026, 11, 25)


def test_compost_has_a_week_to_be_spread_in() -> None:
    answer = calendar(date(2026, 11, 25), (9, 25), (4, 30))
    (spread,) = (task for task in answer.years[0].tasks if task.what == "spread")
    assert (spread.closes - spread.opens).days >= 7


def test_lawn_is_not_mulched_with_straw() -> None:
    answer = calendar(date(2026, 3, 1), (4, 20), (10, 10), wants="lawn")
    page = words_of(answer)
    assert "brush it in among the grass" in page
    assert "straw" not in "\n".join(task.line.text for task in answer.years[0].tasks)
    assert "sow" not in {task.what for task in answer.years[0].tasks}


def test_pots_are_not_rebuilt_with_oats() -> None:
    answer = calendar(date(2026, 3, 1), (4, 20), (10, 10), facts=(("kind", "pots"),))
    assert answer.years[0].step == 5
    assert not {"oats", "buckwheat"} & {crop for task in answer.years[0].tasks for crop in task.seed_grams}
    assert any("no soil to rebuild" in because.because for line in answer.lines() for because in line.why)


def test_the_crop_told_is_the_crop_grown() -> None:
    """Marrows and onions are no part of the usual four, and are grown all the same, the next first."""
    ground = Ground(
        "t", "", (4, 20), (10, 10), date(2026, 3, 1), beds=(BedTold("A", 5.0, 3, crops=("gourds", "onions")),)
    )
    answer = seasons_answer(ground, KNOWLEDGE, ENGINE, number=4)
    grown = [task.family for year in answer.years for task in year.tasks if task.what == "plant"]
    assert grown[:2] == ["gourds", "onions"]
    assert len(set(grown)) == 4


def test_carrots_after_rye_wait_the_longer() -> None:
    """Rye holds back small seed for three to four weeks, plants for the shorter (general extension figures, memory)."""

    def opens(*crops: str) -> date:
        bed = BedTold("A", 5.0, 3, crops=crops)
        ground = Ground("t", "", (4, 20), (10, 10), date(2026, 3, 1), beds=(bed,))
        year = seasons_answer(ground, KNOWLEDGE, ENGINE, number=2).years[1]
        return next(task.opens for task in year.tasks if task.what == "plant")

    assert (opens("legumes", "roots") - opens("legumes", "cabbages")).days == 7
