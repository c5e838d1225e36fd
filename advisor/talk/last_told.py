"""What the last answer left out: its reasons for "why", and the rest of it for "more"."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.counsel.plan import Line
from advisor.records import dataclass
from advisor.talk.replies import Reply

_NOTHING_MORE = "That is all I have on it. Ask me something else, or say “show the plan”."


@dataclass(frozen=True, slots=True)
class LastTold:
    """What kind of answer was given last, and on which sources it rests.

    Attributes:
        kind: "verdict" of a diagnosis, "answer", or nothing.
        sources: each as a line.
    """

    kind: str = ""
    sources: tuple[str, ...] = ()

    @staticmethod
    def more(kept: Sequence[Line]) -> Reply:
        """The rest of the last answer, as lines that can be asked why."""
        if not kept:
            return Reply("answer", _NOTHING_MORE)
        return Reply("answer", "There is this too:", tuple(kept))

    def why(self, reasons: Sequence[Line]) -> tuple[Reply, ...]:
        """The reasons of a diagnosis or of a straight answer; nothing if the last answer was another."""
        if self.kind == "verdict" and reasons:
            return (Reply("answer", "Because of what you told me:", tuple(reasons)),)
        if self.kind == "answer" and self.sources:
            return (Reply("answer", "\n".join(["That comes from:", *(f"  {one}" for one in self.sources)])),)
        return ()


def last_told(replies: Iterable[Reply], sources: Sequence[str]) -> LastTold:
    """What is to be borne in mind of an answer.

    Args:
        sources: where straight answers among the replies come from, each as a line.
    """
    kinds = [reply.kind for reply in replies]
    return LastTold("verdict" if "verdict" in kinds else "answer" if "answer" in kinds else "", tuple(sources))
