"""Advice from checks, readiness, dressings and calendars, for shipped grounds and for any."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.errors import HouseholdError
from advisor.knowledge.load import shipped
from advisor.places import scenarios_folder
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground, check_told, read_ground
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.ready import Finished, ready_answer
from advisor.soil_counsel.seasons import seasons_answer
from advisor.soil_counsel.shapes import Answer, ReadyAnswer, SeasonsAnswer, SoilAnswer
from advisor.soil_counsel.soil import soil_answer
from advisor.soil_counsel.spread import spread_answer

KNOWLEDGE = shipped()
ENGINE = shipped_soil_engine()
GROUNDS = {path.stem: read_ground(path, KNOWLEDGE) for path in sorted((scenarios_folder() / "soil").glob("*.toml"))}


def check(text: str, on: date | None = None) -> CheckTold:
    return check_told(text, KNOWLEDGE, "test", "A", on)


def soil(*texts: str, **bed: object) -> SoilAnswer:
    told = BedTold("A", facts=tuple(bed.items()))  # type: ignore[arg-type]
    ground = Ground("test", beds=(told,), checks=tuple(check(text) for text in texts))
    return soil_answer(ground, KNOWLEDGE, ENGINE)


def ready(*texts: str, **words: str) -> ReadyAnswer:
    return ready_answer(Finished(words, checks=tuple(check(text) for text in texts)), KNOWLEDGE, ENGINE)


def words_of(answer: Answer) -> str:
    return "\n".join(line.text for line in answer.lines())


# ---------------------------------------------------------------- soil


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("spade scores=4 5 depths=8 12", "compacted"),
        ("slake seconds=3 4 5 6", "crusting"),
        ("looks seen=crust", "crusting"),
        ("percolation fell=1 in hours=3", "waterlogged"),
        ("hole hours=30", "waterlogged"),
        ("percolation fell=12 in hours=2", "thirsty"),
        ("jar sand=9.2 silt=9.6 top=10", "thirsty"),
        ("laboratory ph=5.2", "sour"),
        ("laboratory ph=7.9", "limy"),
        ("laboratory salt=5", "salty"),
        ("laboratory phosphorus=180", "phosphorus-full"),
        ("laboratory organic_matter=9", "full-of-humus"),
        ("laboratory organic_matter=1.5", "lean"),
        ("laboratory lead=300", "leaded"),
    ],
)
def test_what_a_check_shows(text: str, found: str) -> None:
    assert found in soil(text).found["A"]


def test_good_structure_with_worms_is_left_be() -> None:
    answer = soil("spade scores=1.5 2 depths=10 10", "worms counts=12 16 11")
    assert answer.found["A"] == ("lively",)
    assert answer.dressing["A"] == "full"


@pytest.mark.parametrize(
    ("text", "dressing"),
    [
        ("laboratory phosphorus=40", "full"),
        ("laboratory phosphorus=80", "thin"),
        ("laboratory phosphorus=101", "none"),
        ("laboratory salt=3", "thin"),
        ("laboratory salt=4.5", "none"),
    ],
)
def test_compost_is_held_back(text: str, dressing: str) -> None:
    assert soil(text).dressing["A"] == dressing


def test_lead_comes_first_and_is_grave() -> None:
    answer = soil("laboratory lead=450", crop="leaves")
    assert answer.parts[0].grave
    assert "no food at all" in answer.parts[0].lines[0].text
    assert "elsewhere" in words_of(answer)


@pytest.mark.parametrize(("ppm", "food"), [(101, True), (400, True), (401, False), (900, False)])
def test_too_much_lead_leaves_no_food_to_recommend(ppm: int, food: bool) -> None:
    """Lead-safe soil brochure (read): 100 to 400 ppm fruiting crops, above 400 no food in that soil."""
    page = words_of(soil(f"laboratory lead={ppm}", crop="leaves"))
    assert ("here grow tomatoes" in page) == food
    assert ("Grow nothing to eat in this soil" in page) != food


def _leaded_calendar(ppm: int) -> SeasonsAnswer:
    bed = BedTold("A", area_m2=6.0, step=3, crops=("roots",))
    ground = Ground("t", "", (4, 20), (10, 15), date(2026, 3, 1), beds=(bed,))
    reported = replace(ground, checks=(check(f"laboratory lead={ppm}", date(2026, 2, 1)),))
    return seasons_answer(reported, KNOWLEDGE, ENGINE, number=5)


def test_the_calendar_plants_nothing_to_eat_where_no_food_may_grow() -> None:
    answer = _leaded_calendar(520)
    assert not any(task.what == "plant" for year in answer.years for task in year.tasks)
    assert "nothing to eat is grown in it" in words_of(answer)


def test_the_calendar_of_soil_with_some_lead_has_fruiting_crops_alone() -> None:
    """The brochure's fruiting crops: no carrots, cabbages or potatoes."""
    answer = _leaded_calendar(220)
    planted = [task for year in answer.years for task in year.tasks if task.what == "plant"]
    assert {task.family for task in planted} == {"legumes", "gourds", "nightshades", "grasses"}
    lines = " ".join(task.line.text for task in planted)
    assert "carrot" not in lines and "cabbage" not in lines and "potato," not in lines


def test_a_laboratory_is_not_advised_for_what_it_has_just_measured() -> None:
    tested = words_of(soil("laboratory phosphorus=240 salt=1.1 organic_matter=9.2", dressed_years=10.0))
    assert "A laboratory test is worth its price" not in tested
    untested = words_of(soil("laboratory organic_matter=9.2", dressed_years=10.0))
    assert "A laboratory test is worth its price" in untested


def test_a_place_that_may_hold_lead() -> None:
    assert soil(place="old-house").parts[0].grave


def test_a_year_later_the_later_check_stands() -> None:
    ground = Ground(
        "test",
        beds=(BedTold("A"),),
        checks=(
            check("spade scores=2 depths=20", date(2027, 4, 1)),
            check("spade scores=5 depths=20", date(2026, 4, 1)),
        ),
    )
    answer = soil_answer(ground, KNOWLEDGE, ENGINE)
    assert "compacted" not in answer.found["A"]
    (trend,) = answer.trends
    assert trend.direction == "better"
    assert [mark.value for mark in trend.marks] == [5, 2]


# ---------------------------------------------------------------- ready


GOOD = ("radish sown=15 grown=14", "bag smell=earthy")


def test_ready_for_everything() -> None:
    assert ready(*GOOD, smell="earthy", looks="crumbly", reheats="no").fit == ("seeds", "pots", "beds", "mulch")


@pytest.mark.parametrize(
    ("texts", "words", "fit"),
    [
        ((), {"smell": "earthy", "looks": "crumbly"}, ("beds", "mulch")),  # no seed test
        (GOOD, {"reheats": "yes"}, ("mulch",)),
        (GOOD, {"smell": "ammonia"}, ()),  # its fumes burn what it is laid round
        (GOOD, {"smell": "rotten"}, ()),
        (GOOD, {"looks": "recognised"}, ("mulch",)),
        (("radish sown=15 grown=11",), {}, ("beds", "mulch")),
        ((*GOOD, "flask room=20 peak=67"), {}, ("mulch",)),  # a rise of 47 °C is class I (memory; figures made up)
        ((*GOOD, "flask room=20 peak=45"), {}, ("beds", "mulch")),
        ((*GOOD, "weed-seeds seedlings=7 litres=3 L"), {}, ("beds", "mulch")),
        (("cress sown=20 sprouted=8 roots=10 control_sprouted=20 control_roots=25",), {}, ("mulch",)),
    ],
)
def test_ready_for_some(texts: tuple[str, ...], words: dict[str, str], fit: tuple[str, ...]) -> None:
    assert ready(*texts, **words).fit == fit


def test_sprayed_stuff_is_fit_for_nothing() -> None:
    told = Finished({}, holds=("suspect-herbicide",), checks=tuple(check(text) for text in GOOD))
    answer = ready_answer(told, KNOWLEDGE, ENGINE)
    assert answer.fit == ()
    assert "beans" in words_of(answer)
    assert answer.parts[0].grave


def test_a_sour_smell_is_right_in_a_fermented_bucket() -> None:
    """Souring is what it is for (common practice): it is buried, neither aired nor cured nor sown in."""
    told = Finished({"method": "fermented-bucket", "smell": "sour"}, weeks=1)
    page = words_of(ready_answer(told, KNOWLEDGE, ENGINE))
    assert "bury them" in page
    for wrong in ("Air it", "let it cure", "radishes"):
        assert wrong not in page


def test_a_row_of_hot_days_that_broke_off_is_not_said_to_lack_the_rest() -> None:
    """40 CFR 503 (memory): fifteen days in a row. After four and a cool one it takes fifteen, not eleven more."""
    answer = ready("heat days=1 2 3 4 5 degrees=58 60 57 56 50 turned=2")
    windrow = next(one for one in answer.heat if one.rule == "us-windrow")
    assert "4 of 15 days in a row" in windrow.line.text
    assert "1 turning." in f"{answer.results[0].line.text}."


@pytest.mark.parametrize(("weeks", "fit"), [(1.0, ()), (3.0, ("beds",))])
def test_fermented_scraps(weeks: float, fit: tuple[str, ...]) -> None:
    told = Finished({"method": "fermented-bucket"}, weeks=weeks)
    assert ready_answer(told, KNOWLEDGE, ENGINE).fit == fit


def test_heat_is_a_record_and_never_a_certificate() -> None:
    days = " ".join(str(day) for day in range(15))
    degrees = " ".join(["57"] * 15)
    answer = ready(f"heat days={days} degrees={degrees} turned=2 5 8 11 14")
    assert {one.rule for one in answer.heat if one.reached} >= {"us-windrow", "nop-windrow", "eu-55", "de-55"}
    assert "not that every part was clean" in words_of(answer)
    for word in ("safe", "certified", "guarantee", "sanitised"):
        assert word not in words_of(answer).lower()


def test_a_plain_heap_is_not_measured_by_the_rules_of_vessels() -> None:
    plain = ready("heat days=1 2 3 degrees=60 60 60")
    vessel = ready("heat days=1 2 3 degrees=60 60 60 vessel=yes")
    assert not any(one.reached for one in plain.heat)
    assert {one.rule for one in vessel.heat if one.reached} == {"us-vessel", "nop-vessel"}


@given(st.permutations([*GOOD, "flask room=20 peak=45", "weed-seeds seedlings=1 litres=3 L"]))
@settings(max_examples=10, deadline=None)
def test_the_order_of_the_tests_does_not_matter(texts: list[str]) -> None:
    assert ready(*texts).fit == ready(*sorted(texts)).fit


# ---------------------------------------------------------------- spreading


def test_six_beds_and_half_the_compost() -> None:
    """What is being built and hungry crops are full; mulch gets nothing; nothing is made or lost."""
    answer = spread_answer(GROUNDS["allotment-six-beds"], KNOWLEDGE, ENGINE)
    by_bed = {one.bed: one for one in answer.beds}
    for full in ("1", "2", "5"):
        assert by_bed[full].litres == pytest.approx(by_bed[full].wanted_litres)
    assert by_bed["3"].litres < by_bed["3"].wanted_litres
    assert by_bed["6"].litres == 0
    assert sum(one.litres for one in answer.beds) == pytest.approx(450)


def test_a_bed_full_of_phosphorus_gets_none() -> None:
    answer = spread_answer(GROUNDS["sand-too-much-phosphorus"], KNOWLEDGE, ENGINE)
    by_bed = {one.bed: one for one in answer.beds}
    assert by_bed["north"].litres == 0
    assert by_bed["south"].depth_cm == pytest.approx(KNOWLEDGE.figures["dressing-upkeep-cm"].low)
    assert "clover" in words_of(answer)


def test_mixes_are_served_before_beds() -> None:
    ground = Ground("test", beds=(BedTold("A", area_m2=10.0),), finished_litres=20.0)
    answer = spread_answer(ground, KNOWLEDGE, ENGINE, pots_litres=40.0)
    assert answer.beds[0].litres == pytest.approx(10)
    assert answer.finished_litres == pytest.approx(20)


def test_more_than_can_be_mixed_in_is_said() -> None:
    ground = Ground("test", beds=(BedTold("A", area_m2=10.0, depth_cm=9.0),))
    assert "more than" in words_of(spread_answer(ground, KNOWLEDGE, ENGINE))


def test_no_bed_no_answer() -> None:
    with pytest.raises(HouseholdError, match="no bed"):
        spread_answer(Ground("test"), KNOWLEDGE, ENGINE)
    with pytest.raises(HouseholdError, match="how big"):
        spread_answer(Ground("test", beds=(BedTold("A"),)), KNOWLEDGE, ENGINE)


# ---------------------------------------------------------------- seasons


def test_dead_clay_stays_then_moves_on() -> None:
    """Poor structure after the first year keeps it in step 1, fair structure lets it on."""
    answer = seasons_answer(GROUNDS["dead-clay"], KNOWLEDGE, ENGINE)
    assert [year.step for year in answer.years] == [1, 1, 2, 3, 4]
    assert "the spade shows poor structure" in words_of(answer)


def test_good_structure_before_the_start_goes_straight_to_vegetables() -> None:
    ground = Ground(
        "test", "", (4, 20), (10, 10), date(2026, 3, 1), beds=(BedTold("A", area_m2=5.0),),
        checks=(check("spade scores=2 depths=20", date(2026, 2, 20)),),
    )  # fmt: skip
    assert [year.step for year in seasons_answer(ground, KNOWLEDGE, ENGINE, number=2).years] == [3, 4]


def test_both_hemispheres_of_a_shipped_ground() -> None:
    """Frosts and start moved by half a year move every task by as much, give or take the odd day of the calendar."""
    from dataclasses import replace

    north = replace(
        GROUNDS["allotment-six-beds"], checks=(), last_frost=(4, 1), first_frost=(10, 1), starts=date(2026, 3, 1)
    )
    south = replace(north, last_frost=(10, 1), first_frost=(4, 1), starts=date(2026, 8, 31))
    for here, there in zip(
        seasons_answer(north, KNOWLEDGE, ENGINE, number=3).years,
        seasons_answer(south, KNOWLEDGE, ENGINE, number=3).years,
        strict=True,
    ):
        assert (here.bed, here.step) == (there.bed, there.step)
        assert [task.what for task in here.tasks] == [task.what for task in there.tasks]
        for one, other in zip(here.tasks, there.tasks, strict=True):
            assert abs(other.opens - one.opens - timedelta(days=183)) <= timedelta(days=2)
            assert one.litres == pytest.approx(other.litres)


def test_compost_held_back_leaves_the_calendar_too() -> None:
    answer = seasons_answer(GROUNDS["sand-too-much-phosphorus"], KNOWLEDGE, ENGINE, number=2)
    spread_on = {year.bed for year in answer.years for task in year.tasks if task.what == "spread"}
    assert spread_on == {"south", "new"}


@pytest.mark.parametrize("change", [{"starts": None}, {"beds": ()}])
def test_what_a_calendar_needs(change: dict[str, object]) -> None:
    from dataclasses import replace

    with pytest.raises(HouseholdError):
        seasons_answer(replace(GROUNDS["dead-clay"], **change), KNOWLEDGE, ENGINE)  # type: ignore[arg-type]


# ---------------------------------------------------------------- every answer


def every_answer(units: str) -> list[Answer]:
    found: list[Answer] = [ready(*GOOD, method="bin")]
    for ground in GROUNDS.values():
        found.append(soil_answer(ground, KNOWLEDGE, ENGINE, units=units))  # type: ignore[arg-type]
        found.append(spread_answer(ground, KNOWLEDGE, ENGINE, units=units))  # type: ignore[arg-type]
        found.append(seasons_answer(ground, KNOWLEDGE, ENGINE, units=units))  # type: ignore[arg-type]
    return found


@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_line_has_a_name_of_its_own_and_known_sources(units: str) -> None:
    def walk(becauses: object) -> None:
        for because in becauses:  # type: ignore[attr-defined]
            assert set(because.sources) <= KNOWLEDGE.sources.keys()
            walk(because.rests_on)

    for answer in every_answer(units):
        names = [line.id for line in answer.lines()]
        assert len(names) == len(set(names)), answer.name
        for line in answer.lines():
            assert line.text and "{" not in line.text and not line.text.endswith((":", ","))
            walk(line.why)


def test_both_unit_systems_agree() -> None:
    """The figures are the same; only the texts differ."""
    for metric, us in zip(every_answer("metric"), every_answer("us"), strict=True):
        one, other = metric.model_dump(exclude={"units", "parts"}), us.model_dump(exclude={"units", "parts"})
        assert _figures(one) == pytest.approx(_figures(other))


def _figures(value: object, name: str = "") -> list[float]:
    """Every figure that does not depend on the units asked for: the marks and slopes of a trend do."""
    if name == "trends":
        return []
    if isinstance(value, dict):
        return [figure for key, each in sorted(value.items()) for figure in _figures(each, key)]
    if isinstance(value, list | tuple):
        return [figure for each in value for figure in _figures(each)]
    return [float(value)] if isinstance(value, int | float) and not isinstance(value, bool) else []


@given(
    ph=st.floats(2, 12),
    phosphorus=st.floats(0, 400),
    salt=st.floats(0, 12),
    lead=st.floats(0, 900),
    organic=st.floats(0, 20),
)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_report_gets_an_answer_and_no_advice_is_void(
    ph: float, phosphorus: float, salt: float, lead: float, organic: float
) -> None:
    report = f"laboratory ph={ph:.2f} phosphorus={phosphorus:.1f} salt={salt:.2f} lead={lead:.0f}"
    report += f" organic_matter={organic:.2f}"
    answer = soil(report)
    names = set(answer.found["A"])
    assert not {"sour", "limy"} <= names
    assert not {"lean", "full-of-humus"} <= names
    if round(lead) > 100:
        assert answer.parts[0].grave
    if round(phosphorus, 1) > 100:
        assert answer.dressing["A"] == "none"


@pytest.mark.parametrize("report", ["phosphorus=200 organic_matter=9", "phosphorus=200 organic_matter=1", "salt=6"])
def test_where_compost_is_held_back_no_advice_brings_it(report: str) -> None:
    answer = soil(f"laboratory {report}", "texture sand=92 silt=5 clay=3", "spade scores=5 depths=20")
    assert answer.dressing["A"] == "none"
    for line in next(part for part in answer.parts if part.title == "What to do").lines:
        assert not any(words in line.text for words in ("give compost", "thin dressing", "spread compost"))


@given(st.lists(st.sampled_from([
    "spade scores=5 depths=20", "ring width=15 cm water=444 ml minutes=90", "worms counts=3 4", "slake soft=16",
    "laboratory phosphorus=200", "weeds names=moss", "looks seen=crust,sour-smell", "hole hours=40",
]), unique=True, min_size=1))  # fmt: skip
@settings(max_examples=25, deadline=None)
def test_the_order_of_the_checks_does_not_matter(texts: list[str]) -> None:
    one, other = soil(*texts), soil(*texts[::-1])
    assert one.found == other.found
    assert one.dressing == other.dressing
    assert [part for part in one.parts if part.title in ("What to do", "Take care")] == [
        part for part in other.parts if part.title in ("What to do", "Take care")
    ]


def test_sour_weeds_ask_for_a_ph_only_where_none_was_measured() -> None:
    assert "pH measured" in words_of(soil("weeds names=moss"))
    assert "pH measured" not in words_of(soil("weeds names=moss", "laboratory ph=5.2"))


@given(
    last=st.dates(date(2026, 1, 2), date(2026, 12, 30)),
    frost_free=st.integers(20, 340),
    later=st.integers(-120, 400),
    step=st.sampled_from([None, 1, 2, 3, 4, 5]),
)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_climate_gets_a_calendar_in_order(last: date, frost_free: int, later: int, step: int | None) -> None:
    first = last + timedelta(days=frost_free)
    starts = last + timedelta(days=later)
    bed = BedTold("A", area_m2=8.0, step=step)  # type: ignore[arg-type]
    ground = Ground("test", "", (last.month, last.day), (first.month, first.day), starts, beds=(bed,))
    answer = seasons_answer(ground, KNOWLEDGE, ENGINE, number=4)
    assert len(answer.years) == 4
    for year in answer.years:
        assert [task.opens for task in year.tasks] == sorted(task.opens for task in year.tasks)
        for task in year.tasks:
            assert task.opens <= task.closes
            if task.what in ("spread", "sow", "plant"):
                assert task.closes >= starts
        assert any(task.what == "cover" for task in year.tasks)


def test_nothing_is_said_of_compost_unseen() -> None:
    answer = ready(method="bin")
    assert answer.fit == ()
    assert "unseen" in words_of(answer)


def test_a_date_alone_gets_dates_alone() -> None:
    answer = ready_answer(Finished(manure_on=date(2026, 4, 1)), KNOWLEDGE, ENGINE)
    assert answer.harvest == {"touches-soil": date(2026, 7, 30), "clear-of-soil": date(2026, 6, 30)}
    assert len(answer.lines()) == 2


def test_a_laboratory_on_compost() -> None:
    """530 ppm ammonium to 7.5 ppm nitrate: immature (county laboratory report, read). 640 to "<1.0" is at least 640,
    and not the 5800 that was printed."""
    answer = ready(*GOOD, "report ammonium=530 nitrate=7.5")
    assert answer.fit == ("beds", "mulch")
    assert "70.7: immature" in words_of(answer)
    assert "640: immature" in words_of(ready("report ammonium=640 nitrate=1.0"))
    assert ready(*GOOD, "report salt=3").fit == ("pots", "beds", "mulch")
    for wrong in ("report", "report ammonium=3", "report ammonium=3 nitrate=0"):
        with pytest.raises(HouseholdError):
            ready(wrong)


def test_every_guide_has_a_reader() -> None:
    from advisor.soil_counsel.checks import READERS

    assert set(READERS) == set(KNOWLEDGE.guides)
