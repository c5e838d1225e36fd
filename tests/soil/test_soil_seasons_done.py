"""What the diary says was spread is taken off the seasons' plan, and told as done."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from advisor.knowledge.load import shipped
from advisor.soil_counsel.ground import Ground, SpreadOn, bed_told
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.seasons import seasons_answer
from advisor.soil_counsel.shapes import SeasonsAnswer

KNOWLEDGE = shipped()
BARE = Ground(
    "beds",
    last_frost=(4, 20),
    first_frost=(10, 10),
    starts=date(2027, 3, 1),
    beds=(bed_told("A, 10 m2", KNOWLEDGE, ""), bed_told("B, 10 m2", KNOWLEDGE, "")),
)


def planned(*spread: SpreadOn) -> SeasonsAnswer:
    return seasons_answer(replace(BARE, spread=spread), KNOWLEDGE, shipped_soil_engine(), number=2)


def litres(answer: SeasonsAnswer, bed: str, year: int) -> float:
    of_bed = next(one for one in answer.years if (one.bed, one.year) == (bed, year))
    return sum(task.litres for task in of_bed.tasks if task.what == "spread")


def by_diary(answer: SeasonsAnswer) -> list[str]:
    texts = [line.text for part in answer.parts for line in part.lines]
    return [text for text in texts if text.startswith("By your diary")]


def test_a_dressing_that_is_on_is_done_and_the_next_year_is_as_it_was() -> None:
    plain = planned()
    wanted = litres(plain, "A", 1)
    assert wanted > 0
    done = planned(SpreadOn("A", date(2027, 4, 3), wanted))
    assert litres(done, "A", 1) == 0
    assert [litres(done, "A", 2), litres(done, "B", 1)] == [litres(plain, "A", 2), litres(plain, "B", 1)]
    (said,) = by_diary(done)
    assert "went on A on 3 April 2027" in said
    assert said.endswith("are done.")
    assert by_diary(plain) == []


def test_half_a_dressing_leaves_the_other_half_and_its_depth() -> None:
    wanted = litres(planned(), "A", 1)
    half = planned(SpreadOn("A", date(2027, 4, 3), wanted / 4), SpreadOn("A", date(2027, 4, 9), wanted / 4))
    assert litres(half, "A", 1) == pytest.approx(wanted / 2)
    (task,) = (one for year in half.years if (year.bed, year.year) == ("A", 1) for one in year.tasks if one.litres)
    assert task.depth_cm * 10 * 10 == pytest.approx(task.litres)  # 1 cm on 1 m2 is 10 L
    assert "3 April 2027 and 9 April 2027" in by_diary(half)[0]


def test_what_went_on_before_the_season_is_no_part_of_it() -> None:
    plain, old = planned(), planned(SpreadOn("A", date(2026, 9, 1), 500))
    assert litres(old, "A", 1) == litres(plain, "A", 1)
    assert by_diary(old) == []
