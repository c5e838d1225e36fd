"""Questions about the talk itself that wait to be answered, before anything on the agenda."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from advisor.talk.asking import Asked
from advisor.talk.intents import TellRoom, Told
from advisor.talk.memory import Change

#: A question about words that were not clear is put so often; then the words are left out, and that is said.
_PUT_AT_MOST = 2


@dataclass
class _Waiting:
    asked: Asked
    put: int = 0


class Waiting:
    """The questions that wait, the first of them open."""

    def __init__(self) -> None:
        self._queue: list[_Waiting] = []

    @property
    def first(self) -> Asked | None:
        """The open one."""
        return self._queue[0].asked if self._queue else None

    def add(self, asked: Asked, *, at_once: bool = False) -> None:
        """Put a question, behind the others or before them; one that waits already is not put twice."""
        if all(waiting.asked.question.ask != asked.question.ask for waiting in self._queue):
            self._queue.insert(0 if at_once else len(self._queue), _Waiting(asked))

    def clear(self) -> None:
        """Ask none of them any more."""
        self._queue.clear()

    def answered(self) -> None:
        """The open one is answered."""
        if self._queue:
            del self._queue[0]

    def pass_over(self, put: Asked | None, made: Iterable[Change]) -> str:
        """Something else was said while `put` stood open: it is put once more if it is about words, and then left.

        Returns:
            What to say of it; empty if it goes on waiting, or is gone without loss.
        """
        if put is None or self.first is not put:
            return ""
        open_one = self._queue[0]
        open_one.put += 1
        settled = any(_settles(change, put) for change in made)
        if put.lasting and open_one.put < _PUT_AT_MOST and not settled:
            return ""
        self.answered()
        return put.dropped if put.lasting and not settled else ""


def _settles(change: Change, put: Asked) -> bool:
    if isinstance(change, Told):
        return change.attribute == put.key
    return isinstance(change, TellRoom) and put.key == "place.room"
