"""The plan, or the cure of a heap that ails, as a page to scroll, to copy and to save; Enter on a line asks why."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.widgets import Static

from advisor.errors import HeapwrightError
from advisor.screens.page import Page, bindings
from advisor.screens.saving import SaveAs
from advisor.screens.why_page import WhyPage
from advisor.screens.widgets.plan_lines import PlanLines
from advisor.text_files import place_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from textual.binding import BindingType
    from textual.widget import Widget

    from advisor.counsel.plan import Plan
    from advisor.diagnosis.shapes import Diagnosis
    from advisor.knowledge.shapes import Source
    from advisor.screens.actions import Place


class PlanPage(Page):
    """Every line of an answer under its heading: of the plan, or of the cure while the heap ails."""

    PLACE: ClassVar[Place] = "plan"
    BINDINGS: ClassVar[list[BindingType]] = bindings("plan")

    def __init__(self, answer: Plan | Diagnosis, sources: Mapping[str, Source], local: tuple[str, ...] = ()) -> None:
        super().__init__()
        self._answer, self._sources, self._local = answer, sources, local

    def contents(self) -> Iterable[Widget]:
        """The title and the lines."""
        from advisor.papers.paper import paper_of
        from advisor.papers.sections import Section

        paper = paper_of(self._answer, self._sources, self._local)
        parts = [part for part in paper.parts if isinstance(part, Section) and part.lines]
        yield Static(f"{paper.title} (Enter on a line: why)", classes="title", markup=False)
        yield PlanLines(parts, id="plan-lines")

    def on_mount(self) -> None:
        """The cursor is in the lines."""
        self.query_one(PlanLines).focus()

    @on(PlanLines.Asked)
    def _asked(self, event: PlanLines.Asked) -> None:
        self._open_why(event.line.id)

    def action_why(self) -> None:
        """The reasons of the line the cursor is on."""
        line = self.query_one(PlanLines).pointed
        self._open_why(line.id if line is not None else "")

    def _open_why(self, name: str) -> None:
        self.app.push_screen(WhyPage(self._answer.lines(), self._sources, opened=name))

    def action_copy(self) -> None:
        """Copy the whole page as plain text."""
        from advisor.papers.page import page

        self.app.copy_to_clipboard(page(self._answer, width=80, local=self._local))
        self.notify("The whole page is on the clipboard, if this terminal allows it.", title="Copied")

    @work(exclusive=True, group="saving")
    async def action_save_plan(self) -> None:
        """Ask for a file name and write the plan there, as what the end of the name says: a page, Markdown, dates."""
        from datetime import datetime

        from advisor.counsel.plan import Plan
        from advisor.papers.handing import Handed, kind_named

        what = "plan" if isinstance(self._answer, Plan) else "cure"
        asked = f"The {what} as a page to print (.html), its dates as a calendar (.ics), or Markdown (.md)"
        path: Path | None = await self.app.push_screen_wait(SaveAs(asked, f"heap-{what}.html"))
        if path is None:
            return
        handed = Handed(self._answer, self._sources, datetime.now().astimezone(), local=self._local)
        try:
            # whoever was asked twice means it
            target = handed.write(kind_named(path), path, overwrite=True)
        except HeapwrightError as error:
            self.notify(str(error), title="Not saved", severity="error", markup=False)
        else:
            self.notify(place_of(target), title="Saved", markup=False)
