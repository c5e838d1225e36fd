"""The answers to a question, as lines to pick from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option as Row

from advisor.screens.widgets.turn import BROADEST, wrapped

if TYPE_CHECKING:
    from textual.geometry import Size

    from advisor.talk.replies import Option, Question

_CHOSEN, _NOT_CHOSEN = "[x]", "[ ]"
_NARROWEST = 10
_AROUND = 3  # columns: the padding and the scroll bar
_FEW = 2  # answers that take no more room than a word that there are some


class Choices(OptionList):
    """Numbered answers. A digit goes to one, Enter takes it, a click does both.

    Where several may hold, a digit or the space bar marks an answer and Enter takes all that are marked. "I don't know"
    is the last, and stands alone. Where figures are asked for, digits belong to the line below. A long list can be put
    out of sight while something else is read; it comes back when it is gone to.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "mark", "Mark", show=False),
        Binding("up", "up", "Up, and out at the top", show=False),
    ]

    DEFAULT_CSS = """
    Choices {
        height: auto;
        max-height: 42%;
        border: none;
        padding: 0 1;
        scrollbar-size-vertical: 1;
        background: $background;
        &:focus { border: none; background-tint: $foreground 0%; max-height: 70%; }
        &>.option-list--option-highlighted { background: $panel; color: $foreground; text-style: none; }
        &:focus>.option-list--option-highlighted {
            background: $block-cursor-background;
            color: $block-cursor-foreground;
            text-style: bold;
        }
    }
    """

    @dataclass
    class Taken(Message):
        """Answers were taken: one, or several where several may hold."""

        options: tuple[Option, ...]

    class Above(Message):
        """The person went up past the first answer, or pressed Escape."""

    class Changed(Message):
        """Other answers are marked, seen, or out of sight."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, markup=False)
        self._offered: tuple[Option, ...] = ()
        self._many = self._figures = False
        self._marked: set[int] = set()
        self._folded_to = 0  # columns
        self.display = False

    @property
    def offered(self) -> tuple[Option, ...]:
        """The answers that can be picked now."""
        return self._offered

    @property
    def figures(self) -> bool:
        """Whether numbers answer the question by themselves."""
        return self._figures

    @property
    def many(self) -> bool:
        """Whether several may be marked."""
        return self._many

    @property
    def marked(self) -> int:
        """How many are marked."""
        return len(self._marked)

    @property
    def more_below(self) -> bool:
        """Whether there are answers below those that can be seen."""
        return self.display and self.scroll_y < self.max_scroll_y

    def ask(self, question: Question | None) -> None:
        """Show the answers to a question; nothing if there is none or it has none to pick from."""
        offered = question.options if question is not None else ()
        kind = (question.many, question.figures) if question is not None else (False, False)
        if offered != self._offered or (question is not None and kind != (self._many, self._figures)):
            self._offered, self._marked = offered, set()
            self._many, self._figures = kind
            self._fill()
            self.highlighted = None
            self.scroll_home(animate=False, immediate=True)
        self.open()

    def open(self) -> None:
        """Let the answers be seen, if there are any."""
        self.display = bool(self._offered)
        self.post_message(self.Changed())

    def shut(self) -> None:
        """Put a longer list out of sight, for something else that is to be read."""
        if len(self._offered) > _FEW and not self.has_focus:
            self.display = False
            self.post_message(self.Changed())

    def point_at(self, numbers: tuple[int, ...]) -> None:
        """Follow numbers typed in the line below: highlight the last, mark them all where several may hold."""
        places = [number - 1 for number in numbers if 1 <= number <= len(self._offered)]
        if places and not self.display:
            self.open()
        if self._many:
            self._mark_only(set(places))
        self.highlighted = places[-1] if places else None

    def on_focus(self) -> None:
        """Point at the first answer, unless one is pointed at already."""
        if self.highlighted is None and self._offered:
            self.highlighted = 0

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many rows as the answers take. A window that is being made smaller may leave it no width for a moment."""
        return super().get_content_height(container, viewport, max(width, _NARROWEST))

    def on_resize(self) -> None:
        """Fold the words to the width."""
        if self._room() != self._folded_to:
            place = self.highlighted
            self._fill()
            self.highlighted = place
        self.post_message(self.Changed())

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """Say so, for the hint of what is below."""
        super().watch_scroll_y(old_value, new_value)
        self.post_message(self.Changed())

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter or a click: take what is marked, or what is pointed at."""
        event.stop()
        self._take(event.option_index)

    async def _on_click(self, event: events.Click) -> None:
        place = event.style.meta.get("option")
        if place is None:
            return
        event.prevent_default()
        event.stop()
        self.highlighted = place
        # the last answer ("I don't know") is never one of several
        if self._many and place != len(self._offered) - 1:
            self.action_mark()
        else:
            self._take(place)

    def action_mark(self) -> None:
        """Mark the answer pointed at, or take the mark away."""
        place = self.highlighted
        if not self._many or place is None:
            return
        alone = len(self._offered) - 1
        marked = self._marked ^ {place}
        self._mark_only({place} if place == alone and alone in marked else marked - {alone})

    def action_up(self) -> None:
        """Up a line; from the first back to the line below."""
        if self.highlighted in (None, 0):
            self.post_message(self.Above())
        else:
            self.action_cursor_up()

    def on_key(self, event: events.Key) -> None:
        """Digits pick."""
        sign = event.character
        if event.key == "escape":
            self.post_message(self.Above())
        elif sign and self.picks(sign):
            self.highlighted = int(sign) - 1
            self.action_mark()
        else:
            return
        event.stop()

    def picks(self, sign: str) -> bool:
        """Whether a sign that is typed points at an answer."""
        return sign.isdecimal() and 1 <= int(sign) <= len(self._offered) and not self._figures

    def take_marked(self) -> None:
        """Take what is marked; if nothing is, what is pointed at."""
        if self._marked or self.highlighted is not None:
            self._take(self.highlighted or 0)

    def _take(self, place: int) -> None:
        places = sorted(self._marked) or [place]
        if 0 <= place < len(self._offered):
            self.post_message(self.Taken(tuple(self._offered[each] for each in places)))

    def _mark_only(self, marked: set[int]) -> None:
        changed, self._marked = self._marked ^ marked, marked
        for place in changed:
            self.replace_option_prompt_at_index(place, self._line(place))
        if changed:
            self.post_message(self.Changed())

    def _fill(self) -> None:
        self._folded_to = self._room()
        self.set_options([Row(self._line(place)) for place in range(len(self._offered))])

    def _room(self) -> int:
        """Columns for the words, with or without the scroll bar; those of what is around until it is laid out."""
        around = self.parent.size.width if isinstance(self.parent, Widget) else 0
        return (self.outer_size.width or around) - _AROUND

    def _line(self, place: int) -> Content:
        mark = f"{_CHOSEN if place in self._marked else _NOT_CHOSEN} " if self._many else ""
        lead = " - " if self._figures else f"{place + 1:>2} "
        room = max(min(self._folded_to, BROADEST) - len(lead) - len(mark), _NARROWEST)
        text = wrapped(self._offered[place].label, room, len(lead) + len(mark))
        return Content.assemble((lead, "bold"), mark, text)
