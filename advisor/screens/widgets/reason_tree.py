"""Reasons as a tree on the screen, folded and unfolded."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets.option_list import Option as Row

from advisor.screens.painting import style_of
from advisor.screens.widgets.folded_list import FoldedList

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.events import Resize
    from textual.widgets import OptionList

    from advisor.screens.reasons import Node

_OPEN, _SHUT, _LEAF = "▾ ", "▸ ", "  "
_STEP = 2  # columns of each fold
_STYLES = {"line": "", "told": "$told", "rule": "", "computed": "", "label": style_of("label")}


class ReasonTree(FoldedList):
    """Enter or a click opens and shuts; right opens, left shuts or goes up to what it belongs to."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right", "open", "Open", show=False),
        Binding("left", "shut", "Shut, or up", show=False),
        Binding("space", "select", "Open or shut", show=False),
    ]

    def __init__(self, roots: Sequence[Node], *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.roots = list(roots)
        self._shown: list[Node] = []

    def on_resize(self, event: Resize) -> None:
        """Fold the words to the width."""
        del event
        self._fill(self.pointed)

    @property
    def pointed(self) -> Node | None:
        """The node the cursor is on."""
        place = self.highlighted
        return self._shown[place] if place is not None and place < len(self._shown) else None

    def go_to(self, node: Node | None) -> None:
        """Put the cursor on a node that can be seen."""
        if node is not None and node in self._shown:
            self.highlighted = self._shown.index(node)
            self.scroll_to_highlight(top=True)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open or shut."""
        event.stop()
        node = self._shown[event.option_index]
        if node.children:
            node.open = not node.open
            self._fill(node)

    def action_open(self) -> None:
        """Open; go into what is open."""
        node = self.pointed
        if node is None or not node.children:
            return
        if node.open:
            self.go_to(node.children[0])
        else:
            node.open = True
            self._fill(node)

    def action_shut(self) -> None:
        """Shut; go up from what is shut."""
        node = self.pointed
        if node is None:
            return
        if node.open and node.children:
            node.open = False
            self._fill(node)
        elif node.parent is not None:
            self.highlighted = self._shown.index(node.parent)

    def open_all(self) -> None:
        """Open everything, or shut it all if it is open."""
        nodes = [node for root in self.roots for node in root.all() if node.children]
        wanted = not all(node.open for node in nodes)
        for node in nodes:
            node.open = wanted
        pointed = self.pointed
        while pointed is not None and pointed.parent is not None and not wanted:
            pointed = pointed.parent
        self._fill(pointed)

    def _fill(self, pointed: Node | None) -> None:
        self._shown = [node for root in self.roots for node in root.visible()]
        at = self._shown.index(pointed) if pointed in self._shown else 0
        offset = self.scroll_offset.y
        self.set_options([Row(self._words(node)) for node in self._shown])
        self.scroll_to(y=offset, animate=False, immediate=True)
        self.highlighted = at if self._shown else None

    def _words(self, node: Node) -> Content:
        mark = (_OPEN if node.open else _SHUT) if node.children else _LEAF
        indent = " " * (_STEP * node.depth)
        lead = f"{node.lead} " if node.lead else ""
        start = len(indent) + len(mark)
        content = Content(f"{indent}{mark}{self.folded(lead + node.text, start)}").stylize(
            _STYLES.get(node.ink, ""), start
        )
        return (
            content.stylize("bold" if node.ink == "line" else "$quiet", start, start + len(lead.rstrip()))
            if lead
            else content
        )
