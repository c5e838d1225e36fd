"""The answers to a question, as lines to pick from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option as Row

if TYPE_CHECKING:
    from advisor.talk.replies import Option, Question

_CHOSEN, _NOT_CHOSEN = "[x]", "[ ]"


class Choices(OptionList):
    """Numbered answers. A digit goes to one, Enter takes it, a click does both.

    Where several may hold, a digit or the space bar marks an answer and Enter takes all that are marked. "I don't know"
    is the last, and stands alone. Where figures are asked for, digits belong to the line below.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "mark", "Mark", show=False),
        Binding("up", "up", "Up, and out at the top", show=False),
    ]

    DEFAULT_CSS = """
    Choices {
        height: auto;
        max-height: 50%;
        border: none;
        padding: 0 1;
        scrollbar-size-vertical: 1;
        background: $background;
        display: none;
        &.-asking { display: block; }
        &:focus { border: none; background-tint: $foreground 0%; }
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

    @dataclass
    class Typed(Message):
        """A letter was typed here; it belongs to the line below."""

        text: str

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, markup=False)
        self._offered: tuple[Option, ...] = ()
        self._many = self._figures = False
        self._marked: set[int] = set()
        self._typing = False  # letters are on their way to the line below, and so is what comes after them

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

    def ask(self, question: Question | None) -> None:
        """Show the answers to a question; nothing if there is none or it has none to pick from."""
        offered = question.options if question is not None else ()
        kind = (question.many, question.figures) if question is not None else (False, False)
        if offered == self._offered and (question is None or kind == (self._many, self._figures)):
            return
        self._offered, self._marked = offered, set()
        self._many, self._figures = kind
        self.set_options([Row(self._line(place)) for place in range(len(offered))])
        self.set_class(bool(offered), "-asking")
        self.highlighted = None

    def point_at(self, numbers: tuple[int, ...]) -> None:
        """Follow numbers typed in the line below: highlight the last, mark them all where several may hold."""
        places = [number - 1 for number in numbers if 1 <= number <= len(self._offered)]
        if self._many:
            self._mark_only(set(places))
        self.highlighted = places[-1] if places else None

    def on_focus(self) -> None:
        """Point at the first answer, unless one is pointed at already."""
        self._typing = False
        if self.highlighted is None and self._offered:
            self.highlighted = 0

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
        """Digits pick; letters go to the line below."""
        sign = event.character
        if event.key == "escape":
            self.post_message(self.Above())
        elif self._typing and sign and sign.isprintable():
            self.post_message(self.Typed(sign))
        elif sign and sign.isdecimal() and 1 <= int(sign) <= len(self._offered) and not self._figures:
            self.highlighted = int(sign) - 1
            self.action_mark()
        elif sign and sign.isprintable() and sign != " ":
            self._typing = True
            self.post_message(self.Typed(sign))
        else:
            return
        event.stop()

    def _take(self, place: int) -> None:
        places = sorted(self._marked) or [place]
        if 0 <= place < len(self._offered):
            self.post_message(self.Taken(tuple(self._offered[each] for each in places)))

    def _mark_only(self, marked: set[int]) -> None:
        changed, self._marked = self._marked ^ marked, marked
        for place in changed:
            self.replace_option_prompt_at_index(place, self._line(place))

    def _line(self, place: int) -> Content:
        mark = f"{_CHOSEN if place in self._marked else _NOT_CHOSEN} " if self._many else ""
        lead = " - " if self._figures else f"{place + 1:>2} "
        return Content.assemble((lead, "bold"), mark, self._offered[place].label)
