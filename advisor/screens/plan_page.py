"""The plan as a page to scroll, to copy and to save; Enter on a line asks why."""

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
    from advisor.knowledge.shapes import Source
    from advisor.screens.actions import Place


class PlanPage(Page):
    """Every line of the plan under its heading."""

    PLACE: ClassVar[Place] = "plan"
    BINDINGS: ClassVar[list[BindingType]] = bindings("plan")

    def __init__(self, plan: Plan, sources: Mapping[str, Source]) -> None:
        super().__init__()
        self._plan, self._sources = plan, sources

    def contents(self) -> Iterable[Widget]:
        """The title and the lines."""
        from advisor.papers.sections import sections

        yield Static(f"Compost for {self._plan.household} (Enter on a line: why)", classes="title", markup=False)
        yield PlanLines(sections(self._plan), id="plan-lines")

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
        self.app.push_screen(WhyPage(self._plan.lines(), self._sources, opened=name))

    def action_copy(self) -> None:
        """Copy the whole plan as plain text."""
        from advisor.papers.page import page

        self.app.copy_to_clipboard(page(self._plan, width=80))
        self.notify("The whole plan is on the clipboard, if this terminal allows it.", title="Copied")

    @work(exclusive=True, group="saving")
    async def action_save_plan(self) -> None:
        """Ask for a file name and write the plan there, as what the end of the name says: a page, Markdown, dates."""
        from datetime import datetime

        from advisor.papers.handing import Handed, kind_named

        asked = "The plan as a page to print (.html), its dates as a calendar (.ics), or Markdown (.md)"
        path: Path | None = await self.app.push_screen_wait(SaveAs(asked, "heap-plan.html"))
        if path is None:
            return
        handed = Handed(self._plan, self._sources, datetime.now().astimezone())
        try:
            # whoever was asked twice means it
            target = handed.write(kind_named(path), path, overwrite=True)
        except HeapwrightError as error:
            self.notify(str(error), title="Not saved", severity="error", markup=False)
        else:
            self.notify(place_of(target), title="Saved", markup=False)
