"""The reasons of lines as a tree that can be folded: plain values, no screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from advisor.papers.sources import cited

if TYPE_CHECKING:
    from advisor.counsel.plan import Because, Line
    from advisor.knowledge.shapes import Source

#: Where a fact comes from, in a word or two before it.
ORIGINS = {"told": "you said", "computed": "worked out", "rule": "rule"}

# how the reasons of rules word what is unknown, and what was said
_UNSAID, _SAID_SO = "nobody has said", " — you said so"

#: How good the evidence behind a rule is.
EVIDENCE = {"measured": "measured", "guidance": "published guidance", "tradition": "what gardeners hold"}


@dataclass
class Node:
    """A fold of the tree: a few words before it, its text, and what it rests on."""

    lead: str
    text: str
    depth: int
    ink: str = ""
    children: list[Node] = field(default_factory=list)
    open: bool = False
    parent: Node | None = None

    def visible(self) -> Iterator[Node]:
        """This node and all below it that are not folded away."""
        yield self
        if self.open:
            for child in self.children:
                yield from child.visible()

    def all(self) -> Iterator[Node]:
        """This node and all below it."""
        yield self
        for child in self.children:
            yield from child.all()


def tree(lines: Iterable[Line], sources: Mapping[str, Source], *, opened: str = "") -> list[Node]:
    """A node for each line, with its reasons, the facts they saw, and their sources below it.

    Args:
        opened: the name of the line whose reasons are shown from the start, two folds deep; none if empty.
    """
    roots = []
    for line in lines:
        root = Node(line.id, line.text, 0, ink="line")
        for because in line.why:
            _hang(root, because, sources)
        if not line.why:
            _leaf(root, "", "Nothing more stands behind this line.")
        if line.id == opened:
            root.open = True
            for child in root.children:
                child.open = True
        roots.append(root)
    return roots


def _hang(parent: Node, because: Because, sources: Mapping[str, Source]) -> None:
    unsaid = because.origin == "told" and because.statement.startswith(_UNSAID)
    lead = "" if unsaid else f"{ORIGINS[because.origin]}:"
    statement = because.statement.removesuffix(_SAID_SO) if lead else because.statement
    node = _leaf(parent, lead, statement, ink="" if unsaid else because.origin)
    if because.because:
        _leaf(node, "because", because.because)
    for child in because.rests_on:
        _hang(node, child, sources)
    if because.rule:
        evidence = EVIDENCE.get(because.evidence, because.evidence)
        _leaf(node, because.local or "rule", f"{because.rule}{f' ({evidence})' if evidence else ''}", ink="label")
    elif because.local:
        _leaf(node, "", because.local, ink="label")
    for source in because.sources:
        _leaf(node, "source", cited(source, sources), ink="label")


def _leaf(parent: Node, lead: str, text: str, ink: str = "") -> Node:
    node = Node(lead, text, parent.depth + 1, ink=ink, parent=parent)
    parent.children.append(node)
    return node


def as_text(nodes: Iterable[Node]) -> str:
    """What can be seen of the tree as plain text, indented."""
    return "\n".join(
        f"{'  ' * node.depth}{node.lead}{' ' if node.lead else ''}{node.text}"
        for root in nodes
        for node in root.visible()
    )
