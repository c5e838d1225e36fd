"""Whatever is written, reading it for the diary gives entries or one question, and never an error."""

from __future__ import annotations

from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.diary.entries import Entry, Vessel
from advisor.diary.from_words import noted
from advisor.diary.saying import kept_text
from advisor.diary.vessels import told_text
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()
VESSELS = (Vessel(name="north heap", kind="heap"), Vessel(name="worm bin", kind="worm bin"))
PARTS = st.sampled_from(
    ["north heap", "the worms", "bay 2", "tumbler", "turned", "watered", "fed", "58C", "140 F", "-5 C", "at 40 cm",
     "2 buckets of leaves", "10 L", "1e9 kg", "half full", "yesterday", "on 29 February", "a fortnight ago",
     "3 weeks old", "into", "and", ",", ".", ":", "?", "not", "if", "smells of ammonia", "dry", "moved", "joined",
     "with", "of", "\n", "on the 31st", "Sun:", "0", "99999", "½", "é", "the"]
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.lists(PARTS, max_size=9).map(" ".join) | st.text(max_size=40), st.booleans(), st.booleans())
def test_a_line_gives_entries_or_one_question(line: str, logging: bool, sure: bool) -> None:
    today = date(2028, 2, 29)
    read = noted(line, KNOWLEDGE, today, VESSELS, logging=logging, sure=sure)
    assert not (read.asks and read.entries)
    assert "\n" not in read.asks.strip()
    for one in read.entries:
        assert one.day <= today
        assert one.vessel or one.kind == "weather"
        assert Entry.model_fields["told"].annotation.model_validate_json(told_text(one.told)) == one.told  # type: ignore[union-attr]
    if read.entries:
        assert kept_text(read.entries, KNOWLEDGE, today).startswith("Kept for ")
