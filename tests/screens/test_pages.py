"""The pages over the talk: the plan, the reasons, help, the command list; and saving."""

from __future__ import annotations

from pathlib import Path

import pytest
from driving import NARROW, WIDE, driven
from textual.command import CommandPalette

from advisor.counsel.plan import Because, Line
from advisor.knowledge.load import shipped
from advisor.papers.markdown import markdown
from advisor.papers.paper import paper_of
from advisor.screens.actions import at
from advisor.screens.help_page import SAYINGS, HelpPage
from advisor.screens.plan_page import PlanPage
from advisor.screens.reasons import as_text, cited, tree
from advisor.screens.saving import SaveAs
from advisor.screens.themes import DAYLIGHT, DUSK
from advisor.screens.why_page import WhyPage
from advisor.screens.widgets.plan_lines import PlanLines
from advisor.screens.widgets.reason_tree import ReasonTree

HAVE = "3 sacks of leaves, 1 bucket of coffee grounds, 2 buckets of grass"


@pytest.mark.asyncio
async def test_before_anything_is_said_there_is_no_page() -> None:
    async with driven(NARROW) as driver:
        for key in ("f3", "f4"):
            await driver.press(key)
            await driver.pilot.pause()
            assert driver.app.screen is driver.talk


@pytest.mark.asyncio
async def test_the_plan_can_be_scrolled_and_asked_why() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("f4")
        page = driver.app.screen
        assert isinstance(page, PlanPage)
        lines = page.query_one(PlanLines)
        assert lines.pointed is not None and lines.pointed.id == "h1"
        assert "Not said yet" in markdown(paper_of(page._answer, shipped().sources)), (
            "the page has what is still missing"
        )
        await driver.press("end")
        last = lines.pointed.text
        assert last.split()[0] in driver.shown()
        await driver.press("home", "down", "down", "down")
        assert lines.pointed.id == "m1"
        await driver.press("enter")
        why = driver.app.screen
        assert isinstance(why, WhyPage)
        await driver.pilot.pause()
        assert why.query_one(ReasonTree).pointed.lead == "m1"
        assert "because" in driver.shown() and "source" in driver.shown()
        await driver.press("escape")
        assert driver.app.screen is page
        await driver.press("escape")
        assert driver.app.screen is driver.talk


@pytest.mark.asyncio
async def test_the_plan_opens_when_it_is_asked_for_in_words() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.say("show the plan")
        assert isinstance(driver.app.screen, PlanPage)


@pytest.mark.asyncio
@pytest.mark.parametrize("keys", [("f4",), ("f3",), ("f4", "f3"), ("f4", "enter"), ("f1",), ("f4", "f1"), ("f2",)])
async def test_what_is_typed_over_a_page_goes_into_the_line_of_the_talk(keys: tuple[str, ...]) -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press(*keys)
        assert driver.app.focused is not driver.line
        await driver.say("copy one bale of straw, old or new")  # with every letter that was ever a key
        assert driver.app.screen is driver.talk
        assert driver.app.focused is driver.line and driver.talk.query_one("#talk").display
        assert "copy one bale of straw, old or new" in driver.said
        assert driver.app.clipboard == ""


@pytest.mark.asyncio
@pytest.mark.parametrize("size", [(160, 50), (240, 60)])
async def test_no_line_of_text_is_longer_than_can_be_read(size: tuple[int, int]) -> None:
    async with driven(size) as driver:
        await driver.say(HAVE)
        await driver.say("help")
        rows = driver.shown("#transcript").splitlines()
        for key in ("f4", "f3"):
            await driver.press(key)
            rows += driver.shown("PlanLines" if key == "f4" else "ReasonTree").splitlines()
            await driver.press("f7") if key == "f3" else None
        rows += driver.shown("ReasonTree").splitlines()
        assert max(len(row.rstrip(" ▂▃▄▅▆▇█▁")) for row in rows) <= 94


@pytest.mark.asyncio
async def test_reasons_fold_and_unfold() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("f3")
        reasons = driver.app.screen.query_one(ReasonTree)
        folded = reasons.option_count
        assert folded == len(driver.state.plan.lines())
        await driver.press("right")
        opened = reasons.option_count
        assert opened > folded
        await driver.press("right")
        assert reasons.pointed.depth == 1
        await driver.press("left")
        assert reasons.pointed.depth == 0
        await driver.press("left")
        assert reasons.option_count == folded
        await driver.press("f7")
        assert reasons.option_count > 4 * folded
        await driver.press("f7")
        assert reasons.option_count == folded


@pytest.mark.asyncio
async def test_a_line_of_the_talk_is_asked_why_with_the_mouse() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        await driver.say("can I put in citrus?")
        turn = next(turn for turn in reversed(driver.turns) if turn.lines)
        rows = turn.render().plain.split("\n")
        row = next(place for place, shown in enumerate(rows) if shown.strip().startswith(turn.lines[0].text[:20]))
        await driver.pilot.click(turn, offset=(8, row))
        await driver.settled()
        assert isinstance(driver.app.screen, WhyPage)
        await driver.pilot.pause()
        assert driver.app.screen.query_one(ReasonTree).pointed.lead == turn.lines[0].id


@pytest.mark.asyncio
async def test_the_plan_is_written_to_a_file_and_never_over_another_unasked(tmp_path: Path) -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("f4")
        plan = driver.app.screen._answer
        target = tmp_path / "ours.md"
        target.write_text("precious", encoding="utf-8")
        await driver.press("f5")
        assert isinstance(driver.app.screen, SaveAs)
        await driver.press("ctrl+u")
        await driver.type(str(target))
        await driver.press("enter")
        assert target.read_text(encoding="utf-8") == "precious"
        assert "such a file already" in driver.shown()
        await driver.press("enter")
        await driver.pilot.pause()
        assert target.read_text(encoding="utf-8").startswith(markdown(paper_of(plan, shipped().sources)))
        assert [path.name for path in tmp_path.iterdir() if path.suffix == ".md"] == ["ours.md"]


@pytest.mark.asyncio
@pytest.mark.parametrize(
    ("typed", "told"), [("", "Type a name"), ("/no/such/folder/x.md", "no folder"), (".", "folder")]
)
async def test_a_name_that_cannot_be_is_told_of(typed: str, told: str) -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("f4", "f5", "ctrl+u")
        await driver.type(typed)
        await driver.press("enter")
        assert told in driver.shown()
        await driver.press("escape")
        assert isinstance(driver.app.screen, PlanPage)


@pytest.mark.asyncio
async def test_the_plan_and_the_reasons_can_be_copied() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("f4", "f6")
        assert "The mix" in driver.app.clipboard
        await driver.press("f3", "f6")
        assert driver.app.clipboard.startswith("h1 ")


@pytest.mark.asyncio
@pytest.mark.parametrize("place", ["talk", "heap", "plan", "why", "diary"])
async def test_help_fits_a_small_screen_and_names_every_key(place: str) -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press(*{"talk": (), "heap": ("f2",), "plan": ("f4",), "why": ("f3",), "diary": ("f8",)}[place])
        await driver.press("f1")
        assert isinstance(driver.app.screen, HelpPage)
        shown = driver.shown()
        for action in at(place):
            if action.key:
                assert action.shown_key in shown
        for words, does in SAYINGS:
            assert words in shown and does in shown
        await driver.press("escape")
        assert not isinstance(driver.app.screen, HelpPage)


@pytest.mark.asyncio
async def test_what_help_says_can_be_said_is_understood() -> None:
    async with driven(NARROW) as driver:
        for words, _ in SAYINGS:
            await driver.say("start again")
            await driver.say("2 sacks of leaves, 1 bag of straw")
            await driver.say(words)
            lost = [turn.said for turn in driver.turns if turn.kind in ("lost", "fault")]
            assert lost == [], words


@pytest.mark.asyncio
async def test_commands_are_those_of_the_place() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        for keys, place in ((("escape",), "talk"), (("f4",), "plan")):
            await driver.press(*keys)
            titles = {command.title for command in driver.app.get_system_commands(driver.app.screen)}
            assert titles == {action.label for action in at(place) if action.listed}


@pytest.mark.asyncio
async def test_a_command_found_by_its_name_is_run() -> None:
    async with driven(NARROW) as driver:
        await driver.say(HAVE)
        await driver.press("ctrl+p")
        assert isinstance(driver.app.screen, CommandPalette)
        await driver.pilot.press(*"US un")
        await driver.pilot.pause(0.3)
        await driver.pilot.press("enter")
        await driver.pilot.pause(0.2)
        await driver.settled()
        assert driver.state.plan.units == "us"


@pytest.mark.asyncio
async def test_the_colours_that_were_chosen_are_there_another_day(monkeypatch: pytest.MonkeyPatch) -> None:
    async with driven(NARROW) as driver:
        first = driver.app.theme
        await driver.press("f9")
        chosen = driver.app.theme
        assert chosen != first
    async with driven(NARROW) as driver:
        assert driver.app.theme == chosen

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_text", full)
    async with driven(NARROW) as driver:
        await driver.press("f9")
        assert driver.app.theme == first


@pytest.mark.asyncio
async def test_light_and_dark_by_a_key() -> None:
    async with driven(NARROW) as driver:
        assert driver.app.theme == DUSK
        await driver.press("f9")
        assert driver.app.theme == DAYLIGHT


def test_a_tree_shows_the_chain_down_to_its_sources() -> None:
    seen = Because(statement="you have straw", origin="told")
    unsaid = Because(statement="nobody has said how often", origin="told")
    source = next(iter(shipped().sources))
    why = Because(
        statement="a heap",
        origin="rule",
        rule="r",
        because="It is so.",
        sources=(source,),
        evidence="measured",
        rests_on=(seen, unsaid),
    )
    roots = tree(
        [Line(id="m1", text="A heap.", why=(why,)), Line(id="m2", text="Bare.")], shipped().sources, opened="m1"
    )
    text = as_text(roots)
    assert text.splitlines()[0] == "m1 A heap."
    for row in ("rule: a heap", "because It is so.", "you said: you have straw", "rule r (measured)"):
        assert f"  {row}" in text
    assert "you said: nobody" not in text
    assert cited(source, shipped().sources) in text
    assert text.splitlines()[-1] == "m2 Bare."


def test_a_source_recalled_is_said_to_be_recalled() -> None:
    recalled = next(name for name, source in shipped().sources.items() if source.standing == "memory")
    assert cited(recalled, shipped().sources).endswith("recalled, to be confirmed")
    assert cited("no-such-source", shipped().sources) == "no-such-source"
