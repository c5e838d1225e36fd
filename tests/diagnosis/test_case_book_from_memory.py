"""Troubles in the words people use, from memory of published columns and leaflets: the cause given there is found.

At first sight 47 of the first 64 had a published cause first or tied first, and 52 among the first three; what was
missed was nearly all words. After these had been mended a second lot of 40 was written: at first sight 34 and 35.
After that a third of 20: at first sight 15 and 15. What was missed is mended, so none of it is unseen any longer, and
three in four is the fair guess for words nobody has yet thought of. With one reader for all words, 93 of 124 have it
first or tied; those that are not heard yet are named below.
"""

from __future__ import annotations

import pytest
from book import Case, among_three, cases, first_or_tied

from advisor.diagnosis.signs import read_signs
from advisor.knowledge.load import shipped

CASES = cases("case_book_from_memory.toml")
#: Words in which nothing, or not the published cause, is heard yet: known misses, each counted by the share below.
NOT_YET_HEARD = frozenset(
    [
        "fm-010", "fm-018", "fm-022", "fm-024", "fm-034", "fm-037", "fm-039", "fm-040", "fm-044", "fm-045", "fm-048",
        "fm-051", "fm-057", "fm-061", "fm-118", "fm-121", "fm-123", "fm-133", "fm-134",
    ]
)  # fmt: skip


def _marked(case: Case) -> object:
    marks = [pytest.mark.xfail(reason="not yet heard", strict=True)] if case.id in NOT_YET_HEARD else []
    return pytest.param(case, id=case.id, marks=marks)


def test_every_case_names_real_things_and_its_source() -> None:
    notices = shipped().notices
    assert len(CASES) >= 45
    assert len({case.id for case in CASES}) == len(CASES)
    for case in CASES:
        assert case.causes and set(case.causes) <= set(notices["cause"]), case.id
        assert set(case.never) <= set(notices["remedy"]), case.id
        assert case.source.endswith("from memory"), case.id


def test_the_published_cause_is_first_or_tied_in_three_of_four() -> None:
    assert sum(first_or_tied(case, case.diagnosis()) for case in CASES) >= 0.75 * len(CASES)


@pytest.mark.parametrize("case", [_marked(case) for case in CASES])
def test_the_published_cause_is_among_the_first_three(case: Case) -> None:
    found = case.diagnosis()
    assert among_three(case, found), [(one.cause, one.score) for one in found.causes]


@pytest.mark.parametrize("case", [case for case in CASES if case.never], ids=lambda case: case.id)
def test_nothing_is_advised_that_the_source_warns_against(case: Case) -> None:
    assert not {cure.remedy for cure in case.diagnosis().remedies} & set(case.never)


@pytest.mark.parametrize(
    ("said", "celsius"),
    [
        ("it reads 131 degrees F", 55.0),
        ("it reads 131 °F", 55.0),
        ("55 degrees C in the middle", 55.0),
        ("it hit 150 degrees", 66.0),  # no compost is so hot in °C; 65.6 by the definition, kept in whole degrees
        ("it is at 60 degrees", 60.0),  # °C where no scale is named
    ],
)
def test_a_reading_in_degrees(said: str, celsius: float | None) -> None:
    signs, _ = read_signs(said, shipped())
    assert signs.get("degrees", (None,))[0] == celsius


def test_a_second_number_is_on_the_scale_of_the_first() -> None:
    signs, _ = read_signs("It was 150 degrees and now it is down to 90. Not turned.", shipped())
    assert (signs["degrees"], signs["heat_before"]) == ((32.0,), ("was-hot",))
    assert read_signs("It was 150 F and we mixed it 30 to 1 by weight", shipped())[0]["degrees"] == (66.0,)


def test_being_asked_about_spraying_is_not_having_sprayed() -> None:
    assert "holds" not in read_signs("Loads of woodlice in my heap. Should I spray?", shipped())[0]
    assert read_signs("the hay was sprayed", shipped())[0]["holds"] == ("sprayed", "hay-straw")


def test_a_cup_of_juice_is_no_cupped_leaf() -> None:
    assert "effects" not in read_signs("I get a cup of juice out of the bokashi every day", shipped())[0]
    assert read_signs("the leaves are cupped", shipped())[0]["effects"] == ("leaves-twist",)


def test_knotweed_is_never_sent_back_into_the_heap() -> None:
    knowledge = shipped()
    remedy = knowledge.notices["remedy"]["dry-roots-first"]
    assert "knotweed" in remedy.say
    case = Case("none", "There is Japanese knotweed in my heap.", ("creeping-roots",), (), "none")
    assert first_or_tied(case, case.diagnosis())


def test_straw_is_no_coat_for_a_heap_with_rats() -> None:
    case = Case("none", "The heap is cold and small and rats live in it.", (), (), "none")
    assert "insulate" not in {cure.remedy for cure in case.diagnosis().remedies}


def test_worms_in_a_heap_do_not_make_it_a_worm_bin() -> None:
    assert read_signs("worms in my heap", shipped())[0].get("method") is None
