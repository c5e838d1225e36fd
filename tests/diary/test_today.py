"""What is due today, by what was told: the sources of each rule stand in rules/today.toml."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from advisor.diary.due import DueList, due_list, is_south, settled, shipped_care_engine, week_list
from advisor.diary.due_lines import due_lines
from advisor.diary.entries import Entry, Told, Vessel, VesselKind
from advisor.diary.standing import Now, batch, standing
from advisor.diary.vessels import Record
from advisor.errors import HouseholdError
from advisor.knowledge.load import shipped
from advisor.knowledge.shapes import Due

KNOWLEDGE = shipped()
TODAY = date(2026, 6, 15)
AT = datetime(2026, 6, 15, 12)


def entry(ago: int, kind: str, vessel: str = "it", today: date = TODAY, **told: object) -> Entry:
    """An entry of so many days ago; `into` names where a batch went."""
    into = told.pop("into", "")
    day = today - timedelta(ago)
    data = {"number": 0, "vessel": vessel, "day": day, "at": AT, "kind": kind, "told": told, "said": "", "into": into}
    return Entry.model_validate(data)


def record(kind: VesselKind, *entries: Entry, others: tuple[Vessel, ...] = ()) -> Record:
    numbered = [one.model_copy(update={"number": number}) for number, one in enumerate(entries, 1)]
    numbered.sort(key=lambda one: (one.day, one.number))
    return Record((Vessel(name="it", kind=kind), *others), tuple(numbered))


def due(found: Record, now: Now | None = None) -> DueList:
    return due_list(found, now or Now(TODAY), KNOWLEDGE, shipped_care_engine(), most=99)


def names(found: Record, now: Now | None = None) -> set[str]:
    return {one.deed for one in due(found, now).deeds}


def wet(value: str) -> dict[str, object]:
    return {"signs": {"moisture": (value,)}}


def smell(value: str) -> dict[str, object]:
    return {"signs": {"smell": (value,)}}


CASES: list[tuple[str, VesselKind, list[Entry], set[str], set[str]]] = [
    # what it is, the vessel, its entries, what is due, what is not
    ("hot and cooling", "heap", [entry(9, "begun"), entry(4, "reading", degrees=64), entry(0, "reading", degrees=50)],
     {"turn-cooling"}, {"turn-heated", "start-it"}),
    ("hot for days", "heap", [entry(6, "begun"), entry(2, "reading", degrees=60), entry(0, "reading", degrees=62)],
     {"turn-heated"}, {"turn-cooling", "cool-it"}),
    ("turned meanwhile", "heap", [entry(9, "begun"), entry(4, "reading", degrees=64), entry(1, "turned")],
     set(), {"turn-cooling", "turn-heated", "turn-monthly"}),
    ("too hot", "heap", [entry(4, "begun"), entry(0, "reading", degrees=165, scale="F")], {"cool-it"}, {"turn-heated"}),
    ("never read", "heap", [entry(3, "begun")], {"feel-heat"}, {"turn-monthly"}),
    ("cold after two weeks", "heap", [entry(20, "begun"), entry(1, "reading", degrees=18)],
     {"start-it"}, {"feel-heat"}),
    ("not turned for a month", "heap", [entry(60, "begun"), entry(33, "turned")], {"turn-monthly"}, set()),
    ("dry", "heap", [entry(5, "begun"), entry(0, "reading", **wet("dry"))], {"wet-it"}, {"dry-it"}),
    ("dry, and watered since", "heap", [entry(5, "begun"), entry(2, "reading", **wet("dry")), entry(1, "watered")],
     set(), {"wet-it"}),
    ("wet", "tumbler", [entry(5, "begun"), entry(1, "reading", **wet("wet")), entry(1, "turned")], set(), {"dry-it"}),
    ("wet worms", "worm bin", [entry(5, "begun"), entry(1, "reading", **wet("wet"))], {"dry-it"}, {"wet-it"}),
    ("ammonia", "bin", [entry(2, "trouble", **smell("ammonia"))], {"ammonia-browns"}, set()),
    ("ammonia, and browns since", "bin", [entry(2, "trouble", **smell("ammonia")), entry(1, "went in")],
     set(), {"ammonia-browns"}),
    ("ammonia, and it smells of earth now", "bin",
     [entry(5, "trouble", **smell("ammonia")), entry(0, "reading", **smell("earthy"))], set(), {"ammonia-browns"}),
    ("a smell of a season ago", "bin", [entry(70, "trouble", **smell("ammonia")), entry(1, "turned")],
     set(), {"ammonia-browns"}),
    ("rats", "bin", [entry(1, "trouble", signs={"animals": ("rats",)})], {"rats-stop"}, set()),
    ("worms not fed for a week", "worm bin", [entry(50, "begun"), entry(8, "fed")], {"feed-worms"}, {"back-worms"}),
    ("worms fed lately", "worm bin", [entry(50, "begun"), entry(3, "fed")], set(), {"feed-worms", "look-worms"}),
    ("worms unheard of", "worm bin", [entry(90, "begun"), entry(30, "fed")], {"back-worms"}, {"feed-worms"}),
    ("castings", "worm bin", [entry(150, "begun"), entry(2, "fed")], {"worm-harvest"}, set()),
    ("a full bucket", "fermented bucket", [entry(9, "begun"), entry(1, "drained"), entry(0, "reading", filled=1)],
     {"seal-bucket"}, {"drain-bucket"}),
    ("a bucket closed for two weeks", "fermented bucket", [entry(40, "begun"), entry(15, "closed")],
     {"bury-bucket"}, {"store-bucket", "seal-bucket", "drain-bucket"}),
    ("a bucket that ferments", "fermented bucket", [entry(20, "begun"), entry(6, "closed"), entry(6, "drained")],
     {"drain-bucket"}, {"bury-bucket"}),
    ("buried a month ago", "fermented bucket", [entry(60, "closed"), entry(30, "buried")], {"plant-buried"}, set()),
    ("a drum that stands", "tumbler", [entry(9, "begun"), entry(4, "turned")], {"spin-it"}, set()),
    ("a drum that is full", "tumbler", [entry(9, "begun"), entry(1, "turned"), entry(0, "reading", filled=0.75)],
     {"close-tumbler"}, {"spin-it"}),
    ("a bin that is full", "bin", [entry(90, "begun"), entry(0, "reading", filled=1)], {"full-bin"}, set()),
    ("a heap left alone", "heap", [entry(200, "begun"), entry(100, "turned")], {"back-heap"}, {"turn-monthly"}),
    ("leaves in a dry summer", "leaf heap", [entry(240, "begun"), entry(40, "reading", **wet("right"))],
     {"wet-leaves"}, set()),
    ("looks ready", "heap",
     [entry(90, "begun"), entry(40, "turned"), entry(1, "reading", signs={"texture": ("crumbly",)})],
     {"test-it"}, {"turn-monthly"}),
    ("hot, and a month unturned: one turning", "heap",
     [entry(40, "begun"), entry(33, "turned"), entry(0, "reading", degrees=60)], {"turn-heated"}, {"turn-monthly"}),
    ("emptied", "heap", [entry(90, "begun"), entry(40, "turned"), entry(2, "emptied")], set(), {"turn-monthly"}),
]  # fmt: skip


@pytest.mark.parametrize(("what", "kind", "entries", "there", "absent"), CASES, ids=[case[0] for case in CASES])
def test_what_is_due(what: str, kind: VesselKind, entries: list[Entry], there: set[str], absent: set[str]) -> None:
    found = names(record(kind, *entries))
    assert there <= found, what
    assert not absent & found, what


WEATHER: list[tuple[str, VesselKind, set[str]]] = [
    ("hot", "worm bin", {"worms-hot"}),
    ("freezing", "worm bin", {"worms-cold"}),
    ("rainy", "heap", {"cover-it"}),
    ("hot", "tumbler", {"shade-tumbler"}),
    ("dry", "heap", {"water-weekly"}),
]


@pytest.mark.parametrize(("weather", "kind", "there"), WEATHER)
def test_the_weather_that_was_told_counts_for_ten_days(weather: str, kind: VesselKind, there: set[str]) -> None:
    told = {"signs": {"weather": (weather,)}}
    entries = [entry(20, "begun"), entry(8, "turned"), entry(2, "fed")]
    assert there <= names(record(kind, *entries, entry(1, "weather", "", **told)))
    assert not there & names(record(kind, *entries, entry(11, "weather", "", **told)))


def test_in_a_heat_wave_nothing_is_turned_and_no_worms_are_fed() -> None:
    """Leave it shut and damp: common practice, no source. Feed less: Keep cool and compost, Switch Your Thinking."""
    hot = entry(0, "weather", "", signs={"weather": ("hot",)})
    heap = [entry(9, "begun"), entry(4, "watered"), entry(1, "reading", degrees=60)]
    assert "turn-heated" in names(record("heap", *heap))
    assert "turn-heated" not in names(record("heap", *heap, hot))
    worms = [entry(60, "begun"), entry(9, "fed")]
    assert "feed-worms" in names(record("worm bin", *worms))
    assert "feed-worms" not in names(record("worm bin", *worms, hot))


SEASONS: list[tuple[date, bool, VesselKind, list[tuple[int, str]], str]] = [
    (date(2026, 11, 10), False, "heap", [(20, "begun")], "wrap-it"),
    (date(2026, 5, 10), True, "heap", [(20, "begun")], "wrap-it"),
    (date(2026, 3, 20), False, "heap", [(140, "begun"), (100, "turned")], "turn-thaw"),
    (date(2026, 9, 20), True, "heap", [(140, "begun"), (100, "turned")], "turn-thaw"),
    (date(2026, 4, 10), False, "bin", [(330, "begun"), (200, "turned")], "empty-spring"),
    (date(2026, 10, 10), True, "bin", [(330, "begun"), (200, "turned")], "empty-spring"),
    (date(2026, 10, 20), False, "browns", [(30, "went in")], "put-by-leaves"),
    (date(2026, 4, 20), True, "browns", [(30, "went in")], "put-by-leaves"),
    (date(2026, 1, 15), False, "fermented bucket", [(20, "closed")], "store-bucket"),
    (date(2026, 7, 15), True, "fermented bucket", [(20, "closed")], "store-bucket"),
]


@pytest.mark.parametrize(("today", "south", "kind", "told", "deed"), SEASONS)
def test_the_seasons_turn_round_south_of_the_equator(
    today: date, south: bool, kind: VesselKind, told: list[tuple[int, str]], deed: str
) -> None:
    found = record(kind, *(entry(ago, each, today=today) for ago, each in told))
    assert deed in names(found, Now(today, south))
    assert deed not in names(found, Now(today, not south))


@pytest.mark.parametrize(
    ("kind", "days", "deed"),
    [
        ("worm bin", 10, "away-worms"), ("worm bin", 21, "away-worms-weeks"), ("worm bin", 60, "away-worms-long"),
        ("heap", 14, "away-heap"), ("heap", 40, "away-heap-long"), ("bin", 14, "away-bin"),
        ("tumbler", 10, "away-tumbler"), ("tumbler", 30, "away-tumbler-long"), ("fermented bucket", 20, "away-bucket"),
    ],
)  # fmt: skip
def test_before_going_away(kind: VesselKind, days: int, deed: str) -> None:
    found = record(kind, entry(20, "begun"), entry(1, "went in"))
    assert deed in names(found, Now(TODAY, away=days))
    assert not any(one.startswith("away") for one in names(found))


def test_nothing_to_do_is_said_so() -> None:
    found = record("heap", entry(9, "begun"), entry(1, "turned"), entry(0, "reading", degrees=55))
    assert [*due_lines(due(found))] == ["There is nothing to do today for your heap or bin."]
    assert "diary holds no heap" in next(iter(due_lines(due(Record()))))


def test_no_more_than_five_deeds_the_most_needed_first() -> None:
    vessels = tuple(Vessel(name=f"bin {number}", kind="bin") for number in range(7))
    entries = [entry(1, "trouble", one.name, **smell("ammonia")) for one in vessels]
    hot = entry(0, "reading", degrees=75)
    found = due_list(record("heap", hot, *entries, others=vessels), Now(TODAY), KNOWLEDGE, shipped_care_engine())
    assert [one.deed for one in found.deeds] == ["cool-it", *["ammonia-browns"] * 4]
    assert found.more >= 3


def test_a_deed_says_why_with_the_day_and_its_source() -> None:
    (deed, *_) = due(record("worm bin", entry(50, "begun"), entry(10, "fed"))).deeds
    assert deed.reason.startswith("It was last fed 10 days ago.")
    assert deed.late == 3
    assert deed.why[0].sources and deed.why[0].rests_on
    assert all(name in KNOWLEDGE.sources for name in deed.why[0].sources)


@pytest.mark.parametrize("how", ["done", "put off", "skipped"])
def test_a_deed_that_is_settled_is_not_named_again_for_a_while(how: str) -> None:
    found = record("worm bin", entry(50, "begun"), entry(10, "fed"))
    deed = next(one for one in due(found).deeds if one.deed == "feed-worms")
    kept = settled(deed, how, TODAY, KNOWLEDGE, days=3)
    entries = [
        Entry.model_validate({"number": 90 + at, "at": AT, **one.model_dump(exclude={"vessel_kind", "into_kind"})})
        for at, one in enumerate(kept)
    ]
    after = Record(found.vessels, (*found.entries, *entries))
    assert "feed-worms" not in names(after)
    later = {"done": 6, "put off": 3, "skipped": 7}[how]
    assert "feed-worms" not in names(after, Now(TODAY + timedelta(later - 1)))
    if how == "put off":
        assert "feed-worms" in names(after, Now(TODAY + timedelta(later)))


def test_what_is_done_is_recorded_as_what_it_is() -> None:
    found = record("tumbler", entry(9, "begun"), entry(4, "turned"))
    deed = next(one for one in due(found).deeds if one.deed == "spin-it")
    assert [one.kind for one in settled(deed, "done", TODAY, KNOWLEDGE)] == ["turned", "done"]
    with pytest.raises(HouseholdError, match="1 to 366"):
        settled(deed, "put off", TODAY, KNOWLEDGE, days=0)


def test_the_week_tells_what_comes() -> None:
    found = record("tumbler", entry(9, "begun"), entry(0, "turned"))
    week = week_list(found, Now(TODAY), KNOWLEDGE, shipped_care_engine())
    assert [(one.deed, one.ahead) for one in week.deeds] == [("spin-it", 3)]
    assert "Thursday 18 June" in "\n".join(due_lines(week, week=True))


def test_a_batch_keeps_its_history_when_it_is_moved_or_joined() -> None:
    moved = entry(5, "moved", "bay 1", into="it")
    told = [entry(40, "begun", "bay 1"), entry(10, "reading", "bay 1", degrees=62), moved, entry(1, "watered")]
    found = record("bay", *told, others=(Vessel(name="bay 1", kind="bay"),))
    vessel = found.vessels[0]
    assert [one.kind for one in batch(found, vessel)] == ["begun", "reading", "moved", "watered"]
    facts = {fact.attribute: fact.value for fact in standing(found, vessel, Now(TODAY), KNOWLEDGE)}
    assert (facts["days_begun"], facts["hottest"], facts["days_turned"]) == (40, 62, 5)
    left = {fact.attribute: fact.value for fact in standing(found, found.vessels[1], Now(TODAY), KNOWLEDGE)}
    assert left["stage"] == "empty"


def test_two_vessels_that_were_tipped_into_each_other_have_an_end() -> None:
    entries = [entry(9, "moved", into="b"), entry(8, "moved", "b", into="it"), entry(7, "moved", into="b")]
    found = record("heap", *entries, others=(Vessel(name="b", kind="heap"),))
    assert due(found) is not None


def test_the_side_of_the_equator_is_as_told_last() -> None:
    assert not is_south(Record())
    told = [entry(0, "place", "", signs={"hemisphere": (side,)}) for side in ("north", "south")]
    assert is_south(record("heap", *told))


def test_every_deed_that_does_it_is_a_kind_of_entry_and_counts_what_is_declared() -> None:
    kinds = {*Entry.model_fields["kind"].annotation.__args__}  # type: ignore[union-attr]
    counted = KNOWLEDGE.kinds["record"].attributes
    for name, notice in KNOWLEDGE.notices["due"].items():
        assert isinstance(notice, Due), name
        assert set(notice.done) <= kinds, name
        assert not notice.counts or notice.counts in counted, name
        assert notice.again or not notice.done, name


def test_odd_entries_break_nothing() -> None:
    odd = [
        entry(-3, "turned"),
        entry(0, "reading", degrees=5000),
        entry(40000, "begun"),
        entry(1, "reading", signs={"moisture": ("soggy",), "smell": ("roses",)}),
        entry(1, "put off", deed="no-such-deed", until=TODAY),
    ]
    for kind in ("heap", "worm bin", "browns", "trench"):
        assert isinstance(due(record(kind, *odd)), DueList)  # type: ignore[arg-type]
    assert Told().celsius is None
