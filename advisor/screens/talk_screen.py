"""The talk to the left, the heap as it now stands to the right; one at a time where there is little room."""

from __future__ import annotations

import asyncio
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.containers import Horizontal, Vertical
from textual.events import ScreenResume
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, Static

from advisor.screens.actions import named
from advisor.screens.page import bindings
from advisor.screens.sayings import Saying, numbers_picked, shown_of
from advisor.screens.widgets.choices import Choices
from advisor.screens.widgets.foot_line import FootLine
from advisor.screens.widgets.heap_pane import HeapPane
from advisor.screens.widgets.hint_line import HintLine
from advisor.screens.widgets.holding_row import HoldingRow
from advisor.screens.widgets.say_line import SayLine, placeholder
from advisor.screens.widgets.standing_view import StandingView
from advisor.screens.widgets.summary_line import SummaryLine
from advisor.screens.widgets.transcript import Transcript
from advisor.screens.widgets.turn import Turn

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.binding import BindingType

    from advisor.counsel.plan import Line, Plan
    from advisor.diagnosis.shapes import Diagnosis
    from advisor.screens.actions import Place
    from advisor.screens.desk import Desk, Job
    from advisor.screens.diary_page import DiaryPage
    from advisor.screens.widgets.chart_view import ChartView
    from advisor.talk.replies import Option, Question, Reply

#: From so many columns both panes are shown; below, one at a time.
WIDE = 110
#: Less than this is too small to be of use.
FEWEST_COLUMNS, FEWEST_ROWS = 40, 12

TOO_SMALL = (
    f"This window is too small. Make it {FEWEST_COLUMNS} columns by {FEWEST_ROWS} rows or more;\n"
    "or leave with Ctrl+Q and try “heapwright talk --plain”."
)

_FIRST_WORDS = "Reading the rules; you can type already."
_ANSWERS_SHARE = 0.42  # of the height, at the most: `max-height` of Choices
_BELOW = 4  # rows for the question, the hint and the line to type in
_ECHO_AFTER = 0.1  # seconds; what is quicker than that seems to come at once


class TalkScreen(Screen[None]):
    """Everything said goes to the talk in its order, in a thread of its own; what comes back is shown here."""

    AUTO_FOCUS = "#say"
    HORIZONTAL_BREAKPOINTS = [(0, "-cramped"), (FEWEST_COLUMNS, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-flat"), (FEWEST_ROWS, "-low"), (18, "-high")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = bindings("talk", "heap")

    @dataclass
    class Broke(Message):
        """A fault of ours, which the app keeps for the end."""

        error: Exception

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.jobs: asyncio.Queue[Saying] = asyncio.Queue()
        """What was said and not yet answered."""
        self.opened = asyncio.Event()
        """Set once the talk has said its first words."""
        self.answered = asyncio.Event()
        """Set while all that was said is answered on the screen."""
        self._open = ""
        self._reading: DiaryPage | None = None
        self._put_last = ""
        self._summary = SummaryLine(id="summary")

    def compose(self) -> ComposeResult:
        """The parts, from the top."""
        yield self._summary
        with Horizontal(id="panes"):
            with Vertical(id="talk"):
                yield Transcript(id="transcript")
                yield Static(id="asked", markup=False)
                yield Choices(id="choices")
                yield HintLine(id="hints")
                yield SayLine(placeholder=_FIRST_WORDS, id="say")
            yield HeapPane(id="heap")
        yield Static(TOO_SMALL, id="too-small", markup=False)
        yield FootLine("talk", id="foot")

    def on_mount(self) -> None:
        """Begin the talk once the first frame is drawn."""
        self.call_after_refresh(self._serve)

    @property
    def place(self) -> Place:
        """Where the person is: over the talk or in the heap."""
        focused = self.focused
        heap = self.query_one(HeapPane)
        return "heap" if focused is not None and heap in focused.ancestors_with_self else "talk"

    @property
    def is_wide(self) -> bool:
        """Whether both panes are shown."""
        return self.has_class("-wide")

    # ------------------------------------------------------------ what is said, and what comes back

    @work(exclusive=True, group="talk")
    async def _serve(self) -> None:
        """Open the talk, then answer one thing after another, for as long as the screen lives."""
        await self._answer(Saying("", "", None))
        self.opened.set()
        # while the first words are read; what fails, or is not come to, is done and told of where it is needed
        for prepare in (self.desk.prepare, self.query_one(HeapPane).furnish):
            with suppress(Exception):
                if self.jobs.empty():
                    await prepare()
        while True:
            saying = await self.jobs.get()
            try:
                await self._answer(saying)
                if self.jobs.empty():
                    self.answered.set()
                    # the two threads take turns: what is still missing would keep the answer from being drawn
                    await self.wait_for_refresh()
                    self.query_one(HeapPane).show_missing(await self.desk.finish())
            finally:
                self.jobs.task_done()
            # while the question is read
            with suppress(Exception):
                await self.desk.look_ahead(self.jobs.empty)

    async def _answer(self, saying: Saying) -> None:
        # what is answered at once is drawn at once, words and answer together
        slow = self.set_timer(_ECHO_AFTER, lambda: self._echo(saying))
        try:
            replies = await (self.desk.open() if saying.job is None else self.desk.do(saying.job))
        except Exception as error:
            # whatever broke must neither end the talk nor lose the words
            await self._echo(saying)
            await self._amiss(error)
            self.query_one(SayLine).give_back(saying.text)
            return
        finally:
            slow.stop()
            self._summary.busy = False
        await self._show(saying, replies)

    async def _echo(self, saying: Saying) -> None:
        """Put up what the person said, while it is being worked out."""
        self._summary.busy = True
        await self.query_one(Transcript).add(self._turns_of(saying))

    def _turns_of(self, saying: Saying) -> list[Turn]:
        """What the person said, with the question it answers, unless they stand there already."""
        if saying.echoed or not saying.shown:
            return []
        saying.echoed = True
        turns = [Turn("you", saying.shown)]
        if self._open and self._open != self._put_last:
            turns.insert(0, Turn("question", self._open))
            self._put_last = self._open
        return turns

    async def _amiss(self, error: Exception) -> None:
        from advisor.errors import HeapwrightError

        text = str(error)
        if not isinstance(error, HeapwrightError):
            self.post_message(self.Broke(error))
            text = (
                f"A fault of this program, not of your words ({type(error).__name__}: {error}). "
                "What you said before still stands."
            )
        await self.query_one(Transcript).add([Turn("fault", text)])

    async def _show(self, saying: Saying, replies: tuple[Reply, ...]) -> None:
        """Put up what was said back, and let every part follow what now stands."""
        state = self.desk.state
        transcript = self.query_one(Transcript)
        with self.app.batch_update():
            waited = saying.echoed
            turns = self._turns_of(saying)
            # the open question stands below the transcript, and joins it when it is answered
            said = [widget for reply in replies if reply.kind != "question" for widget in shown_of(reply)]
            self._ask(state.question, planned=state.plan is not None)
            if saying.job is not None and not self._has_room_for([*turns, *said]):
                self.query_one(Choices).shut()
            await transcript.add([*turns, *said], to_latest=waited)
            self._summary.plan, self._summary.cure = state.plan, state.cure
            await self.query_one(HeapPane).show(state)
            self.query_one(StandingView).beds = state.beds
        for reply in replies:
            if reply.kind == "lost" and not saying.shown and self.place == "heap":
                self.notify(reply.text, title="Left as it was", severity="warning", markup=False)
            if reply.kind == "plan" and reply.plan is not None:
                self._open_plan(reply.plan)
            elif reply.kind == "diary":
                self._open_diary(reply.diary.vessel if reply.diary is not None else "")
            elif reply.kind == "farewell":
                self.app.exit(message=reply.text)

    def _has_room_for(self, turns: list[Turn | ChartView]) -> bool:
        """Whether turns can be seen whole above the answers to pick from."""
        choices, room = self.query_one(Choices), self.query_one("#talk").size
        if not choices.display or not room.height:
            return True
        answers = min(choices.get_content_height(room, room, room.width - 3), round(room.height * _ANSWERS_SHARE))
        return self.query_one(Transcript).rows_of(turns) <= room.height - answers - _BELOW

    def _ask(self, question: Question | None, *, planned: bool = False) -> None:
        self._open = question.ask if question is not None else ""
        asked = self.query_one("#asked", Static)
        asked.update(self._open)
        asked.display = bool(self._open)
        self.query_one(Choices).ask(question)
        self.query_one(SayLine).placeholder = placeholder(question, planned=planned)

    @on(Choices.Changed)
    @on(Transcript.Shifted)
    def _hint(self) -> None:
        more = self.query_one(Transcript).more_below
        self.query_one(HintLine).show(self.query_one(Choices), more_to_read=more)

    async def _put(self, text: str, shown: str, job: Job) -> None:
        self.answered.clear()
        await self.jobs.put(Saying(text, shown, job))

    # ------------------------------------------------------------ from the line and the answers

    @on(SayLine.Said)
    async def _said(self, event: SayLine.Said) -> None:
        text = event.text
        marked = self.query_one(Choices)
        if not text.strip():
            self.action_choose()
            return
        numbers = numbers_picked(text, marked)
        await (self.take(tuple(marked.offered[number - 1] for number in numbers)) if numbers else self.hear(text))

    async def hear(self, text: str) -> None:
        """Say something, as if it had been typed."""
        await self._put(text, text, lambda talk: talk.hear(text))

    @on(Input.Changed, "#say")
    def _typing(self, event: Input.Changed) -> None:
        choices = self.query_one(Choices)
        choices.point_at(numbers_picked(event.value, choices))

    @on(Choices.Taken)
    async def _taken(self, event: Choices.Taken) -> None:
        self.query_one(SayLine).focus()
        await self.take(event.options)

    async def take(self, options: tuple[Option, ...]) -> None:
        """Say the answers that were picked."""
        question = self.desk.state.question
        attribute = question.attribute if question is not None else ""
        values = [option.value for option in options if option.value is not None]
        words = ", ".join(option.say for option in options)
        shown = "; ".join(option.label for option in options)
        if attribute and len(values) == len(options) > 1:
            # by its values, for the words of several answers may hold commas of their own
            await self._put(words, shown, lambda talk: talk.set_answer(attribute, values))
        else:
            await self._put(words, shown, lambda talk: talk.hear(words))

    def takes(self, sign: str, *, over_a_page: bool) -> bool:
        """Whether a sign that is typed belongs to the line, though something else has the focus.

        Args:
            over_a_page: whether a page lies over the talk.
        """
        if sign.isspace():
            return False
        if over_a_page or self.focused is None:
            return True
        if isinstance(self.focused, Choices):
            return not self.focused.picks(sign)
        return not isinstance(self.focused, Input)

    def begin(self) -> None:
        """To the line at once, as a letter is on its way to it."""
        self.remove_class("-heap")
        self.app.stylesheet.update(self)  # what is out of sight cannot have the focus
        self.set_focus(self.query_one(SayLine))

    @on(Choices.Above)
    def _above(self) -> None:
        self.query_one(SayLine).focus()

    @on(SayLine.Below)
    def _below(self) -> None:
        if self.query_one(Choices).offered:
            self.action_choose()
        else:
            self.focus_next()

    # ------------------------------------------------------------ from the heap

    @on(HoldingRow.AmountGiven)
    async def _amount_given(self, event: HoldingRow.AmountGiven) -> None:
        await self._put("", "", lambda talk: talk.set_amount(event.material, event.text))

    @on(HoldingRow.Removed)
    async def _removed(self, event: HoldingRow.Removed) -> None:
        await self._put("", "", lambda talk: talk.remove(event.material))
        self.notify(f"{event.name} taken off. {named('undo').shown_key} brings it back.", title="On hand", markup=False)

    @on(Turn.Asked)
    def _line_asked(self, event: Turn.Asked) -> None:
        self._open_why(event.line.id, event.line)

    # ------------------------------------------------------------ actions

    async def action_say(self, name: str) -> None:
        """Say the words of an action of the table."""
        await self.hear(named(name).say)

    def action_choose(self) -> None:
        """Into the answers to pick from, if there are any."""
        choices = self.query_one(Choices)
        choices.open()
        if choices.display:
            choices.focus()

    def action_send(self) -> None:
        """Send the answers that are ticked."""
        self.query_one(Choices).take_marked()

    def action_swap(self) -> None:
        """From the talk to the heap, or back."""
        if self.place == "heap" or (not self.is_wide and self.has_class("-heap")):
            self.action_back()
            return
        self.add_class("-heap")
        self.query_one(HeapPane).focus()
        # where its table lies is known once the pane has been laid out, and laid out again to its width
        self.call_after_refresh(self.call_after_refresh, self._enter_heap)

    def _enter_heap(self) -> None:
        """The heap is shown from its top; its table has the focus if it can be seen there, or else is a Tab away."""
        heap = self.query_one(HeapPane)
        heap.scroll_home(animate=False)
        rows = heap.query(HoldingRow)
        if rows and heap.region.contains_region(rows.first().region):
            rows.first().focus(scroll_visible=False)

    def action_back(self) -> None:
        """To the talk."""
        self.remove_class("-heap")
        self.query_one(SayLine).focus()

    def action_earlier(self) -> None:
        """Up a page in what was said."""
        self.query_one(Transcript).scroll_page_up(animate=False)

    def action_later(self) -> None:
        """Down a page again."""
        self.query_one(Transcript).scroll_page_down(animate=False)

    def action_why(self) -> None:
        """The reasons for every line of the plan."""
        self._open_why("")

    @work(exclusive=True, group="plan")
    async def action_plan(self) -> None:
        """The plan as a page."""
        state = await self.desk.finish()
        if state.cure is not None:
            self._open_plan(state.cure)
        elif state.plan is None:
            self.notify("There is no plan yet. Say what you have first.", title="The plan")
        else:
            self._open_plan(state.plan)

    def action_diary(self) -> None:
        """The diary of heaps, bins and beds."""
        self._open_diary()

    def _open_diary(self, vessel: str = "") -> None:
        if not self.opened.is_set():
            return
        from advisor.screens.diary_page import DiaryPage

        page = DiaryPage(self.desk, vessel)
        self.app.push_screen(page)
        self._reading = page

    @on(ScreenResume)
    async def _diary_left(self) -> None:
        """What is due may be other things now, if the diary was put right."""
        page, self._reading = self._reading, None
        if page is not None and page.changed:
            await self._put("", "", lambda talk: talk.diary_changed())

    def _open_plan(self, plan: Plan | Diagnosis) -> None:
        from advisor.counsel.in_use import local_lines
        from advisor.screens.plan_page import PlanPage

        knowledge = self.desk.state.knowledge
        if knowledge is None:
            self.app.push_screen(PlanPage(plan, {}))
        else:
            self.app.push_screen(PlanPage(plan, knowledge.sources, local_lines(knowledge)))

    def _open_why(self, name: str, line: Line | None = None) -> None:
        """The page of reasons, at a line of that name: one of the plan, or another that was spoken of."""
        state = self.desk.state
        others = tuple(each for each in state.lines if each.why)
        if state.knowledge is None or (state.plan is None and line is None and not others):
            self.notify("There is nothing to give reasons for yet. Say what you have first.", title="Why")
            return
        from advisor.screens.why_page import WhyPage

        lines = (*others, *(state.plan.lines() if state.plan is not None else ()))
        if line is not None and line not in lines:
            lines = (line, *(each for each in lines if each.id != line.id))
        self.app.push_screen(WhyPage(lines, state.knowledge.sources, opened=name))

    def on_descendant_focus(self) -> None:
        """The footer shows the keys of the place."""
        place = self.place
        self.query_one("#foot", FootLine).show(place, {"swap": "Talk" if place == "heap" else "Heap"})

    def on_resize(self) -> None:
        """What had the focus may be out of sight now; then the line has it."""
        self.call_after_refresh(self._keep_focus)

    def _keep_focus(self) -> None:
        if self.focused is None:
            self.query_one(SayLine).focus()

    def on_unmount(self) -> None:
        """The talk ends with its screen."""
        self.desk.close()
