"""The diary as a file and back, without loss."""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.diary.carrying import as_csv, as_json, bring, carried, read_carried
from advisor.diary.entries import ENTRY_KINDS, VESSEL_KINDS, MaterialTold, ToKeep, Told
from advisor.diary.vessels import Record, keep, read_record, take_back
from advisor.errors import HouseholdError

AT = datetime(2026, 11, 30, 17, 5)
_WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12)
_TOLD = st.builds(
    Told,
    materials=st.lists(
        st.builds(MaterialTold, material=_WORDS, name=_WORDS, count=st.none() | st.integers(0, 99), measure=_WORDS),
        max_size=2,
    ).map(tuple),
    degrees=st.none() | st.floats(-60, 700).map(lambda each: round(each, 1)),
    scale=st.sampled_from(["C", "F", None]),
    depth_cm=st.none() | st.integers(0, 100),
    filled=st.none() | st.sampled_from([0.0, 0.5, 1.0]),
    signs=st.dictionaries(_WORDS, st.lists(_WORDS, min_size=1, max_size=2).map(tuple), max_size=2),
    until=st.none() | st.dates(date(2000, 1, 1), date(2100, 1, 1)),
)
_ENTRY = st.builds(
    ToKeep,
    vessel=st.sampled_from(["north heap", "bay 1", "Wurmkiste ß", ""]),
    vessel_kind=st.just("heap"),
    into=st.sampled_from(["", "bay 2"]),
    into_kind=st.just("heap"),
    day=st.dates(date(1999, 1, 1), date(2099, 12, 31)),
    kind=st.sampled_from(ENTRY_KINDS),
    told=_TOLD,
    said=st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=30),
)


def whole(path: Path) -> Record:
    return read_record(path, taken_back=True)


@settings(max_examples=8, deadline=None)
@given(st.lists(_ENTRY, min_size=1, max_size=6))
def test_a_diary_comes_back_without_loss(tmp_path_factory: pytest.TempPathFactory, entries: list[ToKeep]) -> None:
    folder = tmp_path_factory.mktemp("carried")
    numbers = keep(entries, folder / "a.sqlite3", at=AT)
    take_back(numbers[0], folder / "a.sqlite3")
    keep([entries[0]], folder / "a.sqlite3", at=AT, corrects=numbers[-1]) if len(numbers) > 1 else None
    before = whole(folder / "a.sqlite3")
    for name, text in (("b", as_json(carried(before))), ("c", as_csv(carried(before)))):
        bring(read_carried(text, "a file"), Record(), folder / f"{name}.sqlite3")
        after = whole(folder / f"{name}.sqlite3")
        assert after.entries == before.entries
        plain = [(one.name, one.kind) for one in before.vessels]
        assert sorted((one.name, one.kind) for one in after.vessels) == sorted(plain)
    assert {one.begun for one in whole(folder / "b.sqlite3").vessels} == {one.begun for one in before.vessels}


def turned(vessel: str, **more: object) -> ToKeep:
    return ToKeep.model_validate({"vessel": vessel, "day": date(2026, 11, 30), "kind": "turned", "said": "x", **more})


def test_one_vessel_comes_with_those_that_its_batches_went_to(tmp_path: Path) -> None:
    entries = [turned("bay 1", vessel_kind="bay"), turned("bay 1", kind="moved", into="bay 2", into_kind="bay")]
    keep([*entries, turned("tumbler", vessel_kind="tumbler")], tmp_path / "a.sqlite3")
    what = carried(whole(tmp_path / "a.sqlite3"), "bay 1")
    assert [one.name for one in what.vessels] == ["bay 1", "bay 2"]
    assert len(what.entries) == 2
    bring(what, Record(), tmp_path / "b.sqlite3")
    assert whole(tmp_path / "b.sqlite3").of("bay 1") == whole(tmp_path / "a.sqlite3").of("bay 1")


def test_what_is_there_already_is_not_there_twice(tmp_path: Path) -> None:
    path = tmp_path / "a.sqlite3"
    keep([turned("north heap"), turned("north heap", kind="watered")], path, at=AT)
    what = carried(whole(path))
    assert bring(what, whole(path), path).entries == 0
    keep([turned("shed bin", vessel_kind="bin")], path, at=AT)
    other = tmp_path / "b.sqlite3"
    keep([turned("tumbler", vessel_kind="tumbler")], other, at=AT)
    brought = bring(carried(whole(path)), whole(other), other)
    assert (brought.vessels, brought.entries) == (2, 3)
    assert len({one.number for one in whole(other).entries}) == 4


def test_a_name_that_means_another_kind_is_one_line_and_changes_nothing(tmp_path: Path) -> None:
    keep([turned("it", vessel_kind="bin")], tmp_path / "a.sqlite3")
    keep([turned("it", vessel_kind="tumbler")], tmp_path / "b.sqlite3")
    with pytest.raises(HouseholdError, match="is a tumbler here and a bin there"):
        bring(carried(whole(tmp_path / "a.sqlite3")), whole(tmp_path / "b.sqlite3"), tmp_path / "b.sqlite3")
    assert len(whole(tmp_path / "b.sqlite3").entries) == 1


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "hello", "a,b\n1,2", '{"vessels": 3}', '{"entries": [{"number": 1}]}', '{"heapwright_diary": 99}',
     "vessel,day,kind\nheap,yesterday,turned", "vessel,day,kind\nheap,2026-11-30,sung", '{"x": ' + "[" * 100_000,
     "vessel,day,kind,told\nheap,2026-11-30,turned,{"],
)  # fmt: skip
def test_what_is_no_diary_is_one_line(text: str) -> None:
    with pytest.raises(HouseholdError) as caught:
        read_carried(text, "a file")
    assert "a file" in str(caught.value) and "\n" not in str(caught.value)


def test_a_table_of_few_columns_is_enough() -> None:
    found = read_carried("vessel,vessel_kind,day,kind\nshed bin,bin,2026-11-30,turned\n", "a file")
    assert [(one.name, one.kind) for one in found.vessels] == [("shed bin", "bin")]
    assert found.entries[0].kind == "turned"


def test_signs_that_are_no_writing_do_not_come_in() -> None:
    vessel = {"name": "plot\x1b[2J", "kind": "heap"}
    found = read_carried(json.dumps({"vessels": [vessel]}), "a file")
    assert "\x1b" not in found.vessels[0].name


def test_every_kind_of_vessel_can_be_carried(tmp_path: Path) -> None:
    keep([turned(f"my {kind}", vessel_kind=kind) for kind in VESSEL_KINDS], tmp_path / "a.sqlite3")
    text = as_json(carried(whole(tmp_path / "a.sqlite3")))
    assert [one.kind for one in read_carried(text, "a file").vessels] == list(VESSEL_KINDS)
