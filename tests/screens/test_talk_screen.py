"""The talk on screen: typing, answers to pick, the heap beside it, and what goes wrong."""

from __future__ import annotations

import pytest
from driving import NARROW, WIDE, driven
from textual import events

from advisor.errors import HouseholdError
from advisor.household.files import read_household
from advisor.knowledge.load import shipped
from advisor.places import data_folder, scenarios_folder
from advisor.screens.talk_screen import placeholder
from advisor.screens.widgets.choices import Choices
from advisor.screens.widgets.heap_pane import HeapPane
from advisor.screens.widgets.holding_row import HoldingRow
from advisor.screens.widgets.say_line import SayLine
from advisor.talk.session import Talk

pytestmark = pytest.mark.asyncio

SPACES = list(shipped().kinds["place"].attributes["space"].words)
HAVE = "3 sacks of leaves, 1 bucket of coffee grounds, 2 buckets of grass"


async def test_the_first_screen_offers_doors_and_a_line_to_type_in() -> None:
    async with driven(NARROW) as driver:
        shown = driver.shown()
        for door in ("Start a heap", "Something is wrong with my heap", "I have no manure"):
            assert door in shown
        assert driver.app.focused is driver.line
        assert driver.line.placeholder == placeholder(driver.state.question)


async def test_what_is_typed_before_the_rules_are_read_is_not_lost() -> None:
    from advisor.screens.app import HeapwrightApp

    app = HeapwrightApp()
    async with app.run_test(size=NARROW) as pilot:
        for sign in "2 sacks of leaves":
            app.post_message(events.Key(sign, sign))
        app.post_message(events.Key("enter", None))
        await pilot.pause()
        await app.screen.opened.wait()
        await app.screen.jobs.join()
        assert [holding.material for holding in app.screen.desk.state.household.holdings] == ["dry-leaves"]


async def test_said_back_and_shown_in_the_heap() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        assert driver.turns[2].kind == "you" and driver.turns[2].said == HAVE
        assert "Heard: 3 sacks of dry autumn leaves" in "\n".join(driver.said)
        heap = driver.shown("#heap")
        for words in ("dry autumn leaves", "coffee grounds", "grass clippings", "wanted 25 to", "Moisture"):
            assert words in heap
        assert driver.state.plan.choice.name.casefold() in driver.shown("#summary").casefold()


async def test_a_question_joins_the_talk_when_it_is_answered_and_only_once() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        asked = driver.state.question.ask
        assert asked in driver.shown("#asked").replace("\n", " ")
        assert asked not in driver.said
        await driver.say("why")
        await driver.say("why do you ask")
        await driver.say(str(len(driver.state.question.options)))
        assert driver.said.count(asked) == 1
        assert driver.said.index(asked) < driver.said.index("why")


async def test_a_digit_points_and_enter_takes() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        choices = driver.talk.query_one(Choices)
        wanted = choices.offered[1]
        await driver.press("2")
        assert choices.highlighted == 1 and driver.line.value == "2"
        await driver.press("enter")
        assert wanted.label in driver.said
        assert wanted.value in driver.state.household.answers.get("place.space", ())


async def test_arrows_go_into_the_answers_and_out_again() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        choices = driver.talk.query_one(Choices)
        await driver.press("down")
        assert driver.app.focused is choices and choices.highlighted == 0
        await driver.press("up")
        assert driver.app.focused is driver.line
        await driver.press("tab")
        assert driver.app.focused is choices
        await driver.press("escape")
        assert driver.app.focused is driver.line
        await driver.press("down", "down", "down", "enter")
        assert driver.state.household.answers["place.space"] == (SPACES[2],)


async def test_letters_typed_over_the_answers_go_into_the_line() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("down")
        await driver.type("a garden")
        await driver.settled()
        assert driver.app.focused is driver.line
        assert driver.line.value == "a garden"


async def until_asked_for_several(driver) -> None:
    while not driver.state.question.many:
        await driver.say(str(len(driver.state.question.options)))


async def test_several_answers_are_marked_and_taken_together() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await until_asked_for_several(driver)
        attribute, options = driver.state.question.attribute, driver.state.question.options
        await driver.press("down", "down", "space", "3")
        assert driver.shown("#choices").count("[x]") == 2
        await driver.press("enter")
        assert set(driver.state.household.answers[attribute]) == {options[1].value, options[2].value}


async def test_several_numbers_may_be_typed() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await until_asked_for_several(driver)
        attribute, options = driver.state.question.attribute, driver.state.question.options
        await driver.say("2 3")
        assert set(driver.state.household.answers[attribute]) == {options[1].value, options[2].value}


async def test_not_knowing_stands_alone() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await until_asked_for_several(driver)
        last = len(driver.state.question.options)
        await driver.press("down", "space", *("down" for _ in range(last - 1)), "space")
        marks = [row for row in driver.shown("#choices").splitlines() if "[x]" in row]
        assert len(marks) == 1 and "don't know" in marks[0]
        attribute = driver.state.question.attribute
        await driver.press("enter")
        assert attribute not in driver.state.household.answers


async def test_several_answers_are_ticked_and_sent_with_the_mouse_alone() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await until_asked_for_several(driver)
        attribute, options = driver.state.question.attribute, driver.state.question.options
        assert "Enter send" in driver.shown("#hints")
        for row in (1, 2):
            await driver.pilot.click(Choices, offset=(6, row))
            await driver.settled()
        assert "Enter send the 2 ticked" in driver.shown("#hints")
        await driver.pilot.click("#hints", offset=(driver.shown("#hints").index("send") + 2, 0))
        await driver.settled()
        assert set(driver.state.household.answers[attribute]) == {options[1].value, options[2].value}


async def test_a_list_folds_while_a_long_answer_is_read_and_comes_back_when_it_is_gone_to() -> None:
    async with driven(NARROW) as driver:
        choices = driver.talk.query_one(Choices)
        assert choices.display
        await driver.say("help")
        assert not choices.display and "answers to pick from" in driver.shown("#hints")
        assert "more to read below" in driver.shown("#hints")
        await driver.press("2")
        assert choices.display and choices.highlighted == 1
        await driver.press("enter")
        await driver.say("help")
        assert not choices.display
        await driver.press("down")
        assert choices.display and driver.app.focused is choices


async def test_a_long_list_leaves_more_than_half_of_a_small_screen() -> None:
    async with driven(NARROW) as driver:
        await driver.say("check my soil")
        choices = driver.talk.query_one(Choices)
        assert len(choices.offered) > 12
        assert choices.outer_size.height < NARROW[1] / 2 - 2
        assert "more answers below" in driver.shown("#hints")
        for _ in choices.offered:
            await driver.press("down")
        assert "I don't know" in driver.shown("#choices") and "more answers" not in driver.shown("#hints")


async def test_what_is_folded_of_an_answer_stands_under_its_beginning() -> None:
    async with driven((46, 24)) as driver:
        await driver.say("check my soil")
        rows = [row for row in driver.shown("#choices").splitlines() if row.strip()]
        assert any(row.startswith(" " * 4) for row in rows), "one is folded"
        assert all(row.startswith("    ") or row.split()[0].isdecimal() for row in rows)


LONG = (
    "what can I use instead of 2 barrows of horse manure",
    "it stinks of ammonia and is slimy",
    "actually I keep hens and have rats, it is a paved yard, and it is for a flat",
    "help",
)


@pytest.mark.parametrize("size", [NARROW, (60, 20), WIDE])
async def test_an_answer_rests_at_its_top(size: tuple[int, int]) -> None:
    async with driven(size) as driver:
        await driver.say(HAVE)
        for words in LONG:
            await driver.say(words)
            await driver.pilot.pause()
            transcript = driver.talk.query_one("#transcript")
            last = max(place for place, turn in enumerate(driver.turns) if turn.kind == "you")
            turn = driver.turns[last]
            below = sum(each.outer_size.height + 1 for each in driver.turns[last:])
            if below > transcript.size.height:
                assert turn.region.y - transcript.region.y <= 4, words  # the question it answers may stand above
            else:
                assert not transcript.more_below, words


async def test_an_answer_can_be_clicked() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        choices = driver.talk.query_one(Choices)
        assert not choices.many
        await driver.pilot.click(Choices, offset=(6, 4))
        await driver.settled()
        assert driver.state.household.answers["place.space"] == (SPACES[4],)


async def test_what_was_typed_comes_back_with_the_arrow() -> None:
    async with driven(NARROW) as driver:
        await driver.say("2 sacks of leaves")
        await driver.say("a garden")
        await driver.type("half a li")
        await driver.press("up")
        assert driver.line.value == "a garden"
        await driver.press("up")
        assert driver.line.value == "2 sacks of leaves"
        await driver.press("down", "down")
        assert driver.line.value == "half a li"


async def test_words_that_failed_go_back_into_the_line(monkeypatch: pytest.MonkeyPatch) -> None:
    async with driven(NARROW) as driver:

        def refuse(*_: object) -> None:
            raise HouseholdError("that is more than a thousand sacks", hint="a smaller number")

        monkeypatch.setattr(Talk, "hear", refuse)
        await driver.say("9999 sacks of straw")
        assert driver.turns[-1].kind == "fault"
        assert "more than a thousand sacks (a smaller number)" in driver.said[-1]
        assert driver.line.value == "9999 sacks of straw"


async def test_a_fault_of_ours_is_told_kept_and_ends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    async with driven(NARROW) as driver:
        hear = Talk.hear

        def broken(*_: object) -> None:
            raise ZeroDivisionError("of all things")

        monkeypatch.setattr(Talk, "hear", broken)
        await driver.say(HAVE)
        assert "A fault of this program, not of your words (ZeroDivisionError: of all things)" in driver.said[-1]
        assert [type(fault) for fault in driver.app.faults] == [ZeroDivisionError]
        monkeypatch.setattr(Talk, "hear", hear)
        await driver.press("enter")
        assert driver.state.plan is not None
        driver.app.faults.clear()


HOSTILE = {
    "digits": "99999999999999999999",
    "nothing": "",
    "blanks": "   ",
    "emoji": "🍂🍂🍂 and 🐔💩",
    "right to left": "שלושה שקי עלים",
    "markup": "[bold]3 sacks[/bold] of [@click=app.bell]leaves[/]",
    "braces": "{15 cm} {water} %s %(x)d",
    "long": "leaves " * 400,
    "wide": "三袋落葉、コーヒーかす",
    "joined": "a\u0301e\u0301\u200d\u200b\ufeff",
}


async def test_whatever_is_typed_the_talk_goes_on() -> None:
    async with driven(NARROW) as driver:
        for name, text in HOSTILE.items():
            driver.line.value = text
            driver.line.focus()
            await driver.press("enter")
            assert not [turn for turn in driver.turns if turn.kind == "fault"], name
            if text.strip():
                assert text in driver.said, name
        driver.line.focus()
        driver.line.value = ""
        await driver.say("2 sacks of leaves")
        assert "dry-leaves" in {holding.material for holding in driver.state.household.holdings}


async def test_to_start_again_empties_the_heap() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        await driver.say("start again")
        assert driver.state.plan is None
        assert "Nothing to go on yet" in driver.shown("#heap")
        assert "coffee" not in driver.shown("#heap").replace("a bucket of coffee grounds", "")
        await driver.say("2 sacks of leaves")
        assert len(driver.talk.query(HoldingRow)) == 1


async def test_a_pasted_page_is_one_line_with_every_word() -> None:
    async with driven(NARROW) as driver:
        driver.line.post_message(events.Paste("3 sacks of leaves\r\n\x1b[31m2 buckets\x07 of grass\n\n  1 bale straw"))
        await driver.settled()
        assert driver.line.value == "3 sacks of leaves; [31m2 buckets  of grass; 1 bale straw"


async def test_f2_goes_to_the_heap_and_back() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        heap = driver.talk.query_one(HeapPane)
        assert not heap.display
        await driver.press("f2")
        assert heap.display and isinstance(driver.app.focused, HoldingRow)
        assert "F2 Talk" in driver.shown("#foot")
        assert not driver.talk.query_one("#talk").display
        await driver.press("f2")
        assert not heap.display and driver.app.focused is driver.line
        assert "F2 Heap" in driver.shown("#foot")
        await driver.press("f2", "escape")
        assert driver.app.focused is driver.line


async def test_f2_goes_to_the_heap_even_when_there_is_none_yet() -> None:
    async with driven(NARROW) as driver:
        await driver.press("f2")
        assert "Nothing to go on yet" in driver.shown("#heap")
        await driver.press("f2")
        assert driver.app.focused is driver.line


async def test_a_table_out_of_sight_has_no_focus_until_it_is_gone_to() -> None:
    household = read_household(scenarios_folder() / "coffee-shop.toml", shipped())
    async with driven(NARROW, household=household) as driver:
        await driver.press("f2")
        heap = driver.talk.query_one(HeapPane)
        assert driver.app.focused is heap
        await driver.press("delete")
        assert len(driver.state.household.holdings) == len(household.holdings)
        await driver.press("tab")
        await driver.pilot.wait_for_scheduled_animations()  # it scrolls there
        await driver.pilot.pause()
        assert isinstance(driver.app.focused, HoldingRow)
        assert heap.region.contains_region(driver.app.focused.region)


async def test_an_amount_is_changed_where_it_stands() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        before = driver.state.plan.heard[0].litres.typical
        await driver.press("f2", "enter", "ctrl+u")
        await driver.type("6 sacks")
        await driver.press("enter")
        leaves = next(heard for heard in driver.state.plan.heard if heard.material == "dry-leaves")
        assert leaves.litres.typical == pytest.approx(2 * before)
        assert isinstance(driver.app.focused, HoldingRow)
        assert "6 sacks" in driver.shown("#on-hand")


async def test_an_amount_left_with_escape_stays_as_it_was() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        household = driver.state.household
        await driver.press("f2", "enter", "9", "escape")
        assert driver.state.household is household
        assert isinstance(driver.app.focused, HoldingRow)
        await driver.press("escape")
        assert driver.app.focused is driver.line


async def test_words_that_are_no_amount_are_refused_and_the_old_one_stays() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        await driver.press("f2", "enter", "ctrl+u")
        await driver.type("purple")
        await driver.press("enter")
        assert driver.turns[-1].kind == "lost"
        assert "3 sacks" in driver.shown("#on-hand")


async def test_a_line_is_taken_off_with_delete() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        await driver.press("f2", "down", "delete")
        assert "coffee-grounds" not in {holding.material for holding in driver.state.household.holdings}
        assert len(driver.talk.query(HoldingRow)) == 2
        assert isinstance(driver.app.focused, HoldingRow)


async def test_the_mark_stays_with_its_row_so_that_no_neighbour_is_taken_off() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        await driver.press("f2", "enter", "ctrl+u")
        await driver.type("6 sacks")
        await driver.press("enter")
        marked = driver.app.focused
        assert isinstance(marked, HoldingRow) and marked.stock.material == "dry-leaves"
        await driver.press("delete")
        assert [held.material for held in driver.state.household.holdings] == ["coffee-grounds", "grass-clippings"]
        await driver.press("ctrl+z")
        assert driver.state.household.holdings[0].material == "dry-leaves"


async def test_what_is_taken_off_is_told_of_with_the_way_back() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("f2", "down", "delete")
        (notice,) = driver.app._notifications
        assert notice.message == "coffee grounds taken off. Ctrl+Z brings it back."
        await driver.press("ctrl+z")
        assert "coffee-grounds" in {held.material for held in driver.state.household.holdings}


async def test_an_amount_that_is_refused_is_told_of_where_the_talk_is_out_of_sight() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("f2", "enter", "ctrl+u")
        await driver.type("purple")
        await driver.press("enter")
        (notice,) = driver.app._notifications
        assert "no amount" in notice.message


async def test_loose_words_are_shown_as_loose() -> None:
    async with driven(WIDE) as driver:
        await driver.say("lots of leaves, 1 bucket of coffee grounds")
        loose, firm = (row for row in driver.shown("#on-hand").splitlines()[1:] if row.strip())
        assert "about " in loose and " to " in loose
        assert "about " not in firm and " to " not in firm


async def test_a_line_is_changed_and_taken_off_with_the_mouse() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        await driver.pilot.click("HoldingRow .amount")
        await driver.settled()
        assert driver.talk.query(HoldingRow).first().has_class("-editing")
        await driver.press("escape")
        await driver.pilot.click("HoldingRow .cross")
        await driver.settled()
        assert len(driver.talk.query(HoldingRow)) == 2


async def test_ctrl_z_takes_back_the_last_thing_said() -> None:
    async with driven(NARROW) as driver:
        await driver.say("2 sacks of leaves")
        await driver.say("1 bucket of coffee grounds")
        assert len(driver.state.household.holdings) == 2
        await driver.press("ctrl+z")
        assert [holding.material for holding in driver.state.household.holdings] == ["dry-leaves"]


async def test_ctrl_s_keeps_the_heap_and_it_can_be_carried_on_with() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        told = driver.state.household.holdings
        await driver.press("ctrl+s")
        kept = list(data_folder().rglob("*.toml"))
        assert len(kept) == 1
        assert read_household(kept[0], shipped()).holdings == told
    async with driven(NARROW, household=read_household(kept[0], shipped())) as driver:
        assert driver.state.household.holdings == told
        assert driver.state.plan is not None


async def test_what_was_said_is_offered_again_before_all_else() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        told = driver.state.household
        driver.app.exit()  # without a word
    async with driven(NARROW) as driver:
        assert "1 Carry on with your heap of dry autumn leaves, coffee grounds" in driver.shown("#choices")
        await driver.press("1", "enter")
        assert driver.state.household == told
        assert "Carrying on with your heap" in driver.shown("#transcript")
        assert driver.state.plan is not None


async def test_a_shipped_household_to_begin_with_shows_its_heap_at_once() -> None:
    household = read_household(scenarios_folder() / "coffee-shop.toml", shipped())
    async with driven(WIDE, household=household) as driver:
        assert "coffee grounds" in driver.shown("#heap")


async def test_long_answers_are_shown_from_their_start_and_paged() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.say("help")
        await driver.pilot.pause()
        shown = driver.shown("#transcript")
        assert "You: help" in shown
        assert "bye" not in shown
        await driver.press("pagedown")
        assert "“bye”" in driver.shown("#transcript")
        await driver.press("pageup")
        assert "You: help" in driver.shown("#transcript")


async def test_units_can_be_changed_on_the_way() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        await driver.say("US units")
        assert driver.state.plan.units == "us"
        assert " in " in driver.shown("#section") or "ft" in driver.shown("#section")
        assert "gal" in driver.shown("#on-hand") or "lb" in driver.shown("#on-hand")


async def test_ctrl_q_says_good_bye_and_leaves() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("ctrl+q")
        assert driver.app._exit
        assert driver.app._exit_renderables, "the farewell is left on the terminal"


async def test_placeholders_follow_the_question() -> None:
    async with driven(NARROW) as driver:
        first = driver.line.placeholder
        await driver.say(HAVE)
        await until_asked_for_several(driver)
        assert driver.line.placeholder != first
        assert "2, 3" in driver.line.placeholder
        assert "3 sacks" in placeholder(None)


async def test_the_line_remembers_no_blank_line() -> None:
    async with driven(NARROW) as driver:
        line = driver.talk.query_one(SayLine)
        await driver.say("2 sacks of leaves")
        await driver.press("enter")
        driver.line.focus()
        await driver.press("up")
        assert line.value == "2 sacks of leaves"
