"""What the last answer left out: its reasons for "why", and the rest of it for "more"."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.counsel.plan import Line
from advisor.talk.replies import Reply

_NOTHING_MORE = "That is all I have on it. Ask me something else, or say “show the plan”."


class LastTold:
    """Remembers what kind of answer was given last, and on which sources it rests."""

    def __init__(self) -> None:
        self._kind = ""  # "verdict" of a diagnosis, "answer", or nothing
        self._sources: tuple[str, ...] = ()

    def remember(self, replies: Iterable[Reply], sources: Sequence[str]) -> None:
        """Take note of an answer.

        Args:
            sources: where straight answers among the replies come from, each as a line.
        """
        kinds = [reply.kind for reply in replies]
        self._kind = "verdict" if "verdict" in kinds else "answer" if "answer" in kinds else ""
        self._sources = tuple(sources)

    def more(self, kept: Sequence[Line]) -> Reply:
        """The rest of the last answer, as lines that can be asked why."""
        if not kept:
            return Reply("answer", _NOTHING_MORE)
        return Reply("answer", "There is this too:", tuple(kept))

    def why(self, reasons: Sequence[Line]) -> tuple[Reply, ...]:
        """The reasons of a diagnosis or of a straight answer; nothing if the last answer was another."""
        if self._kind == "verdict" and reasons:
            return (Reply("answer", "Because of what you told me:", tuple(reasons)),)
        if self._kind == "answer" and self._sources:
            return (Reply("answer", "\n".join(["That comes from:", *(f"  {one}" for one in self._sources)])),)
        return ()
