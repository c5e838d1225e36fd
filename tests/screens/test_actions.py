"""One table of actions and keys: no clashes, a short footer, and keys that leave typing alone."""

from __future__ import annotations

from collections import Counter

import pytest
from textual.widgets import Input

from advisor.screens.actions import ACTIONS, MOST_IN_FOOTER, at, footer, named, shown
from advisor.screens.app import HeapwrightApp
from advisor.screens.diary_page import DiaryPage
from advisor.screens.help_page import HelpPage
from advisor.screens.plan_page import PlanPage
from advisor.screens.talk_screen import TalkScreen
from advisor.screens.why_page import WhyPage

PLACES = ("talk", "heap", "plan", "why", "diary", "help")
SCREENS = {
    "talk": TalkScreen,
    "heap": TalkScreen,
    "plan": PlanPage,
    "why": WhyPage,
    "diary": DiaryPage,
    "help": HelpPage,
}


@pytest.mark.parametrize("place", PLACES)
def test_no_key_means_two_things_in_one_place(place: str) -> None:
    keys = Counter(action.key for action in at(place) if action.key)
    assert [key for key, times in keys.items() if times > 1] == []


def test_a_key_has_one_meaning_wherever_one_is() -> None:
    meanings: dict[str, set[str]] = {}
    for action in ACTIONS:
        if action.key:
            meanings.setdefault(action.key, set()).add(action.name)
    assert {key: names for key, names in meanings.items() if len(names) > 1} == {}


def test_names_are_told_once() -> None:
    assert [name for name, times in Counter(action.name for action in ACTIONS).items() if times > 1] == []


@pytest.mark.parametrize("place", PLACES)
def test_a_footer_is_short_and_fits_eighty_columns(place: str) -> None:
    actions = footer(place)
    assert 0 < len(actions) <= MOST_IN_FOOTER
    assert len("   ".join(f"{action.shown_key} {action.label}" for action in actions)) <= 78
    assert sum(1 for action in at(place) if action.footer and action.key) <= MOST_IN_FOOTER + 1


def test_no_key_of_the_talk_is_one_that_edits_a_line() -> None:
    editing = {key for binding in Input.BINDINGS for key in binding.key.split(",")}  # type: ignore[union-attr]
    taken = {action.key for place in ("talk", "heap") for action in at(place) if action.key}
    assert taken & editing == set()


def test_no_letter_is_a_key_anywhere_for_letters_are_typed() -> None:
    assert [action.name for action in ACTIONS if len(action.key) == 1] == []


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.name)
def test_every_action_is_there_to_be_run(action) -> None:
    if action.say:
        assert hasattr(TalkScreen, "action_say")
        return
    for place in action.places:
        owner = HeapwrightApp if action.everywhere else SCREENS[place]
        assert hasattr(owner, f"action_{action.name}"), f"{owner.__name__} cannot {action.name}"


def test_what_cannot_be_listed_has_a_key() -> None:
    assert [action.name for action in ACTIONS if not action.listed and not action.key] == []


def test_keys_are_printed_as_on_keyboards() -> None:
    assert [shown(key) for key in ("f1", "ctrl+s", "escape", "c")] == ["F1", "Ctrl+S", "Esc", "C"]
    assert named("plan").shown_key == "F4"
    with pytest.raises(KeyError):
        named("nothing of the kind")
