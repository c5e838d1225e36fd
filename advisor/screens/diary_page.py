"""The diary as a page: every heap, bin and bed with its entries by day, to correct and to take back."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.binding import Binding
from textual.content import Content
from textual.style import Style
from textual.widgets import Static

from advisor.errors import HeapwrightError
from advisor.screens.actions import named
from advisor.screens.correcting import Correct
from advisor.screens.page import Page, bindings
from advisor.screens.widgets.diary_rows import DiaryRows

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from textual.binding import BindingType
    from textual.widget import Widget

    from advisor.diary.by_day import Row
    from advisor.screens.actions import Place
    from advisor.screens.desk import Desk
    from advisor.talk.diary_book import DiaryView
    from advisor.talk.replies import Reply
    from advisor.talk.session import Talk

EMPTY = (
    "Nothing is kept yet. Say in the talk what you did or saw, as in\n"
    "“turned the heap on Sunday, 58 C” or “fed the worms 1 litre of scraps”."
)
_ALL = "all"


class DiaryPage(Page):
    """Entries by day, the newest first; of all vessels, or of one."""

    PLACE: ClassVar[Place] = "diary"
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings("diary"),
        Binding("left", "vessel(-1)", "The heap before", show=False),
        Binding("right", "vessel(1)", "The next heap", show=False),
    ]

    def __init__(self, desk: Desk, vessel: str = "") -> None:
        """Make it.

        Args:
            desk: where the talk lives, whose diary is shown.
            vessel: of which entries are shown at first; of all if none is named.
        """
        super().__init__()
        self._desk, self._vessel = desk, vessel
        self._view: DiaryView | None = None
        self._changed = False

    def contents(self) -> Iterable[Widget]:
        """What it is of, the entries, and the words of the one that the cursor is on."""
        yield Static("Diary: one moment", classes="title", id="diary-title", markup=False)
        yield Static("", id="vessels", markup=False)
        yield DiaryRows(id="rows")
        yield Static(EMPTY, id="empty", markup=False)
        yield Static("", id="as-said", markup=False)
        yield Static("", id="did", markup=False)

    def on_mount(self) -> None:
        """The cursor is in the entries."""
        for name in ("#empty", "#did"):
            self.query_one(name).display = False
        self.query_one(DiaryRows).focus()
        self._read()

    def action_back(self) -> None:
        """Back to the talk, which is told whether the diary is another now."""
        self.dismiss(None)

    @property
    def changed(self) -> bool:
        """Whether anything was put right or taken back here."""
        return self._changed

    # ------------------------------------------------------------ what is shown

    @work(exclusive=True, group="diary")
    async def _read(self) -> None:
        await self._show()

    async def _show(self) -> None:
        try:
            self._view = view = await self._desk.ask(lambda talk: talk.book.view(self._vessel))
        except HeapwrightError as error:
            self.notify(str(error), title="The diary", severity="error", markup=False)
            return
        if not self.is_attached:
            return  # it was left meanwhile
        rows = self.query_one(DiaryRows)
        rows.show(view, of_one=bool(self._vessel))
        count = "1 entry" if len(view.rows) == 1 else f"{len(view.rows)} entries"
        of = f" of {self._vessel}" if self._vessel else ""
        self.query_one("#diary-title", Static).update(f"Diary{of}: {count}, the newest first")
        self.query_one("#vessels", Static).update(self._vessels(view))
        self.query_one("#empty").display = not view.rows
        rows.display = bool(view.rows)
        for line in view.amiss:
            self.notify(f"This cannot be read, and stays as it is: {line}", title="The diary", markup=False)

    def _vessels(self, view: DiaryView) -> Content:
        """The names to choose from, the chosen one set off; those around it where not all fit."""
        names = ["", *(one.name for one in view.vessels)]
        at = names.index(self._vessel) if self._vessel in names else 0
        room = max(self.size.width - 12, 20)
        first = at
        while first > 0 and sum(len(name) + 3 for name in names[first - 1 : at + 1]) < room * 0.7:
            first -= 1
        parts = [Content.styled("←→ ‹ " if first else "←→ ", "$quiet")]
        used = 5
        for place, name in enumerate(names[first:], first):
            label = name or _ALL
            label = label if len(label) <= room // 2 else f"{label[: room // 2 - 1]}…"
            if used + len(label) + 3 > room and place > at:
                parts.append(Content.styled("›", "$quiet"))
                break
            used += len(label) + 3
            style = "bold reverse" if place == at else "$accent"
            label_shown = Content.styled(f" {label} ", style)
            parts.append(label_shown.stylize(Style.from_meta({"@click": f"screen.vessel_at({place})"})))
            parts.append(Content(" "))
        return Content("").join(parts)

    def on_resize(self) -> None:
        """As many names as there is room for."""
        if self._view is not None:
            self.query_one("#vessels", Static).update(self._vessels(self._view))

    @on(DiaryRows.Pointed)
    def _pointed(self, event: DiaryRows.Pointed) -> None:
        said = f"You said: “{event.row.said}”" if event.row is not None and event.row.said else ""
        self.query_one("#as-said", Static).update(said)

    def action_vessel(self, step: int) -> None:
        """The entries of the next vessel, or of the one before; of all between the last and the first."""
        if self._view is not None:
            names = ["", *(one.name for one in self._view.vessels)]
            at = names.index(self._vessel) if self._vessel in names else 0
            self.action_vessel_at((at + step) % len(names))

    def action_vessel_at(self, place: int) -> None:
        """The entries of a vessel by its place in the line of names; 0 is all of them."""
        if self._view is not None:
            self._vessel = ["", *(one.name for one in self._view.vessels)][place]
            self._read()

    # ------------------------------------------------------------ what is changed

    @on(DiaryRows.Chosen)
    def _chosen(self, event: DiaryRows.Chosen) -> None:
        self._correct(event.row)

    def action_correct(self) -> None:
        """Correct the entry that the cursor is on."""
        row = self.query_one(DiaryRows).pointed
        if row is not None:
            self._correct(row)

    @work(exclusive=True, group="correcting")
    async def _correct(self, row: Row) -> None:
        if self._view is None:
            return
        said = await self.app.push_screen_wait(Correct(self._desk, row, self._view.today))
        if said is not None:
            await self._did(said)

    def action_take_back(self) -> None:
        """Take the entry back that the cursor is on."""
        row = self.query_one(DiaryRows).pointed
        if row is not None:
            self._do(lambda talk: talk.book.take_back(row))

    def action_say(self, name: str) -> None:
        """Do here what an action of the table says in the talk: undo what was changed in the diary last."""
        if name == "undo":
            self._do(lambda talk: talk.book.undo(), undoes=True)

    @work(group="diary")
    async def _do(self, deed: Callable[[Talk], Reply], *, undoes: bool = False) -> None:
        await self._did(await self._desk.ask(deed), undoes=undoes)

    async def _did(self, said: Reply, *, undoes: bool = False) -> None:
        """Tell what was done, and how to undo it if it was not an undoing."""
        lost = said.kind == "lost"
        self._changed = self._changed or not lost
        await self._show()
        if not self.is_attached:
            return
        did = self.query_one("#did", Static)
        did.update(said.text if lost or undoes else f"{said.text} {named('undo').shown_key} undoes it.")
        did.set_class(lost, "-lost")
        did.display = True
