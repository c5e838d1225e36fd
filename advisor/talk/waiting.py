"""Questions about the talk itself that wait to be answered, before anything on the agenda."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from advisor.records import dataclass
from advisor.talk.asking import Asked
from advisor.talk.intents import TellRoom, Told
from advisor.talk.memory import Change

#: A question about words that were not clear is put so often; then the words are left out, and that is said.
_PUT_AT_MOST = 2


@dataclass(frozen=True, slots=True)
class Put:
    """A question that waits, and how often it was passed over."""

    asked: Asked
    passed: int = 0


@dataclass(frozen=True, slots=True)
class Waiting:
    """The questions that wait, the first of them open; none by default."""

    queue: tuple[Put, ...] = ()

    @property
    def first(self) -> Asked | None:
        """The open one."""
        return self.queue[0].asked if self.queue else None

    def add(self, asked: Asked, *, at_once: bool = False) -> Waiting:
        """With a question behind the others or before them; one that waits already is not put twice."""
        if any(put.asked.question.ask == asked.question.ask for put in self.queue):
            return self
        return Waiting((Put(asked), *self.queue) if at_once else (*self.queue, Put(asked)))

    def answered(self) -> Waiting:
        """Without the open one."""
        return Waiting(self.queue[1:])

    @property
    def lasting(self) -> Waiting:
        """The questions about words alone, which stand again once what followed them is taken back."""
        return Waiting(tuple(put for put in self.queue if put.asked.lasting))

    def passed_over(self, put: Asked | None, made: Iterable[Change]) -> tuple[Waiting, str]:
        """Something else was said while `put` stood open: it is put once more if it is about words, and then left.

        Returns:
            The questions that wait then, and what to say of it; empty if it goes on waiting, or is gone without loss.
        """
        if put is None or self.first is not put:
            return self, ""
        passed = self.queue[0].passed + 1
        settled = any(_settles(change, put) for change in made)
        if put.lasting and passed < _PUT_AT_MOST and not settled:
            return Waiting((replace(self.queue[0], passed=passed), *self.queue[1:])), ""
        return self.answered(), put.dropped if put.lasting and not settled else ""


def _settles(change: Change, put: Asked) -> bool:
    if isinstance(change, Told):
        return change.attribute == put.key
    return isinstance(change, TellRoom) and put.key == "place.room"
