"""Where the talk lives: a thread of its own, so that nothing it works out ever holds up the screen."""

from __future__ import annotations

import asyncio
import gc
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from advisor.records import dataclass

if TYPE_CHECKING:
    from advisor.counsel.plan import Line, Plan
    from advisor.diagnosis.shapes import Diagnosis
    from advisor.household.shapes import Household
    from advisor.knowledge.base import Knowledge
    from advisor.talk.bed_notes import BedNote
    from advisor.talk.replies import Question, Reply
    from advisor.talk.session import Talk
    from advisor.units import Units

    #: Something asked of the talk.
    Job = Callable[[Talk], tuple[Reply, ...]]


Answer = TypeVar("Answer")


@dataclass(frozen=True)
class State:
    """What stands after something was said: all that the screen shows beside the words."""

    units: Units
    plan: Plan | None = None
    household: Household | None = None
    question: Question | None = None
    knowledge: Knowledge | None = None
    lines: tuple[Line, ...] = ()
    """Lines outside the plan that can be asked why."""
    whole: bool = False
    """Whether the plan has its doubts."""
    beds: tuple[BedNote, ...] = ()
    """The beds of the diary with their latest checks."""
    cure: Diagnosis | None = None
    """What ails the heap, and what to do, while it is in trouble: then nothing of a plan is shown."""


class Desk:
    """Holds the talk and does one thing with it at a time, in the order asked.

    The rules are read, the engine is built and the talk goes on in one thread, whichever task of the screen asks.
    """

    def __init__(self, units: Units, household: Household | None = None, *, keeps: bool = True) -> None:
        self._units = units
        self._household = household
        self._keeps = keeps
        self._talk: Talk | None = None
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="talk")
        self._closed = False
        self.state = State(units)

    async def open(self) -> tuple[Reply, ...]:
        """Read the rules, begin the talk, and return its first words."""
        return await self._in_thread(self._begin)

    async def do(self, job: Job) -> tuple[Reply, ...]:
        """Ask something of the talk and return what it says.

        Raises:
            HeapwrightError: what was asked cannot be done.
        """
        return await self._in_thread(lambda: self._asked(job))

    async def ask(self, question: Callable[[Talk], Answer]) -> Answer:
        """Ask the talk something that leaves its plan as it is, after all that was said before.

        Raises:
            HeapwrightError: what was asked cannot be done.
        """

        def asked() -> Answer:
            assert self._talk is not None, "the talk is opened before anything is asked of it"
            return question(self._talk)

        return await asyncio.get_running_loop().run_in_executor(self._thread, asked)

    async def prepare(self) -> None:
        """Read and compile what the first words of the talk had no need of."""
        await asyncio.get_running_loop().run_in_executor(self._thread, self._prepare)

    async def finish(self) -> State:
        """Add to the plan what is still missing, which may take longer than an answer should; returns what stands."""
        return await asyncio.get_running_loop().run_in_executor(self._thread, self._finish)

    async def look_ahead(self, idle: Callable[[], bool]) -> None:
        """Work out what each answer to the open question would bring, for as long as nothing else is to do."""
        await asyncio.get_running_loop().run_in_executor(self._thread, self._look_ahead, idle)

    def close(self) -> None:
        """Stop; what is being worked out is left to end by itself."""
        self._closed = True
        self._thread.shutdown(wait=False, cancel_futures=True)

    async def _in_thread(self, work: Callable[[], tuple[Reply, ...]]) -> tuple[Reply, ...]:
        return await asyncio.get_running_loop().run_in_executor(self._thread, work)

    def _begin(self) -> tuple[Reply, ...]:
        # imported here: the first frame shows nothing of them
        from advisor.counsel.consult import shipped_engine
        from advisor.counsel.in_use import in_use
        from advisor.diary.talks import TalkBook
        from advisor.talk.session import Talk

        book = TalkBook() if self._keeps else None
        self._talk = Talk(in_use(), shipped_engine(), units=self._units, household=self._household, book=book)
        return self._asked(lambda talk: talk.open())

    def _prepare(self) -> None:
        if self._talk is not None:
            self._talk.prepare()
        if not gc.get_freeze_count():
            # rules and words stay for good; looking through them all for rubbish would hold up an answer
            gc.freeze()

    def _look_ahead(self, idle: Callable[[], bool]) -> None:
        steps = self._talk.look_ahead() if self._talk is not None else iter(())
        while not self._closed and idle() and next(steps, self) is None:
            pass

    def _finish(self) -> State:
        from advisor.counsel.doubts import doubts

        state, talk = self.state, self._talk
        if talk is not None and state.plan is not None and state.household is not None and not state.whole:
            found = doubts(state.household, talk.knowledge, talk.engine)
            self.state = replace(state, plan=state.plan.model_copy(update={"doubts": found}), whole=True)
        return self.state

    def _asked(self, job: Job) -> tuple[Reply, ...]:
        talk = self._talk
        assert talk is not None, "the talk is opened before anything is asked of it"
        replies = job(talk)
        self.state = State(
            talk.units,
            talk.plan,
            talk.household,
            talk.question,
            talk.knowledge,
            talk.other_lines,
            beds=talk.beds,
            cure=talk.cure,
        )
        return replies
