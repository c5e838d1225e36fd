"""The conversation: what is said comes in, what is answered goes out, and the plan is there at any time.

    talk = Talk(knowledge, engine)
    talk.open()
    talk.hear("3 sacks of leaves and a bucket of coffee grounds")
    talk.plan, talk.question

It knows no screen. All it knows of the household is the list of moves in its memory, so that anything said can be taken
back, changed or tried, and everything else follows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from advisor.counsel.in_use import local_lines
from advisor.counsel.plan import Line, Plan
from advisor.diagnosis.shapes import Diagnosis
from advisor.diary.store import Diary
from advisor.diary.talks import TalkBook
from advisor.hearing.cutting import LONGEST
from advisor.household.shapes import Household
from advisor.household.tokens import shown
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.places import data_folder
from advisor.safe_text import safe_text
from advisor.talk import doors
from advisor.talk.account import Account
from advisor.talk.asking import FIRST, NOWHERE
from advisor.talk.bed_notes import BedNote
from advisor.talk.diary_book import DiaryBook
from advisor.talk.diary_landing import DiaryLanding
from advisor.talk.following import Following
from advisor.talk.hearing import amount_told
from advisor.talk.intents import Context, HaveNot, Told, Understood
from advisor.talk.keeping import Keeping, kept_as_said
from advisor.talk.kept_heaps import KeptHeaps
from advisor.talk.memory import Forget, Memory
from advisor.talk.replies import Question, Reply
from advisor.talk.requests import Requests
from advisor.talk.shelf import NAMELESS, Keeper, Shelf
from advisor.talk.standing import Course, Standing
from advisor.talk.taking import Taking
from advisor.units import Units

#: So many characters are said back of where reading ended.
_READ_LAST = 40


class Talk:
    """One conversation about one household."""

    def __init__(
        self,
        knowledge: Knowledge,
        engine: Engine,
        *,
        units: Units = "metric",
        household: Household | None = None,
        save: Callable[[Household, str], Path] | None = None,
        shelf: Shelf | None = None,
        diary: Diary | None = None,
        book: TalkBook | None = None,
        today: date | None = None,
    ) -> None:
        """Begin.

        Args:
            household: what is known already; a heap to carry on with.
            save: keeps a household under a name and says where; by default it goes on the shelf.
            shelf: where heaps are kept; by default in the folder of advisor/places.py.
            diary: where beds and checks are kept; by default in the same folder.
            book: where every line is kept as it is said; nowhere if left out.
            today: the day; that of the clock if left out.
        """
        self.knowledge, self.engine = knowledge, engine
        start = household or Household(NAMELESS)
        self._course = Course(Standing(Memory(knowledge, start), units, saved=household))
        self._given = household
        self._account = Account(self._course, knowledge, engine, diary, today)
        self.keeping = Keeping(book, self._account, knowledge, household, today)
        self._landing = DiaryLanding(book.path if book is not None else None, knowledge, today)
        keeper = Keeper(shelf or Shelf(data_folder(), knowledge), save)
        self._heaps = KeptHeaps(keeper, self.keeping, self._account, today)
        requests = Requests(self._account, self._heaps, knowledge, engine, self._landing.due)
        self._taking = Taking(self._account, self._heaps, requests, knowledge)
        self._following = Following(self._account, self._taking, requests, knowledge)

    # ------------------------------------------------------------ what stands

    @property
    def household(self) -> Household:
        """Everything told so far."""
        return self._account.household

    @property
    def plan(self) -> Plan | None:
        """The plan as it stands, without its doubts; None before anything is known."""
        return self._account.plan

    @property
    def question(self) -> Question | None:
        """The question that stands open; none is shown behind a warning, and it comes back with the next line."""
        now = self._course.now
        asked = now.pending.asked if not now.warns else None
        return asked.question if asked is not None else None

    @property
    def exchanges(self) -> int:
        """How often something was said to the talk, or done on a screen."""
        return self._course.now.exchanges

    @property
    def cure(self) -> Diagnosis | None:
        """What ails the heap and what to do, while a heap in trouble is what the talk is about."""
        found = self._account.ailing.diagnosis
        return found if found is not None and found.causes and self._account.state.in_trouble else None

    @property
    def units(self) -> Units:
        """The units in which figures are said."""
        return self._account.units

    @property
    def changes(self) -> tuple[str, ...]:
        """What was told, move by move, in words."""
        return self._account.changes

    @property
    def other_lines(self) -> tuple[Line, ...]:
        """Lines outside the plan that were said last and can be asked why."""
        return (*self._account.lines.values(), *self._course.now.shown.lines.values())

    @property
    def beds(self) -> tuple[BedNote, ...]:
        """The beds of the diary with their latest checks, once the talk has been about what it holds."""
        return self._account.interview.beds(self._course.now.sheets, self.units)

    @property
    def book(self) -> DiaryBook:
        """The diary of vessels, to show it and to put it right."""
        return self._landing.book

    @property
    def context(self) -> Context:
        """What is expected just now."""
        return self._following.context

    # ------------------------------------------------------------ what is said

    def open(self) -> tuple[Reply, ...]:
        """The first words: a greeting with the doors; of a heap that is known already, what stands."""
        local = tuple(Reply("answer", text) for text in local_lines(self.knowledge))
        if self._given is not None:
            carrying = Reply("greeting", f"Carrying on with {self._given.name}.")
            return (carrying, *local, *self._account.news(), *self._taking.goes_on())
        found = self._heaps.found()
        due = self._landing.due.opening(self._account.units)
        self._course.now = self._course.now.put(self._landing.due.before(doors.doors_asked(found)))
        greeting = due or (Reply("greeting", doors.GREETING),)
        return (*greeting, *local, *doors.amiss_told(found), *self._taking.asks())

    def prepare(self) -> None:
        """Read the words and compile the rules, of which the first words had no need, so that an answer waits less.

        Raises:
            EngineMissing: durable-rules is not installed, or was built wrongly.
            RuleBaseError: a file of rules/words/ is not in order.
        """
        self._account.prepare()

    @kept_as_said(typed=True)
    def hear(self, text: str) -> tuple[Reply, ...]:
        """Something typed; signs that are no writing are heard as blanks.

        Raises:
            InferenceFault: a rule broke.
        """
        text = safe_text(text)
        replies = self._hears(text)
        if len(text) <= LONGEST:
            return replies
        read = shown(text[:LONGEST][-_READ_LAST:].strip())
        rest = f"That is long: I read as far as “… {read}”. Tell me the rest in a line of its own."
        return (Reply("lost", rest), *replies)

    def _hears(self, text: str) -> tuple[Reply, ...]:
        self._course.now = self._course.now.line_begins()
        heard = self._following.heard(text)
        if self._course.now.pending.waiting.first is None and self._account.on_a_sheet:
            return self._following.follows(text, heard)
        before, moves = self._landing.changes.count, len(self._account.moves)
        name, units = self._account.name, self._account.units
        replies = self._landing.before(text, heard, units, moves) or self._landing.answers(heard, name, units)
        if replies:
            self._course.now = self._course.now.counted()
        else:
            now = self._course.now
            batch = self._landing.batch_of(heard, name)
            self._course.now = replace(now, cure_told=replace(now.cure_told, batch=batch))
            follows = self._following.follows(text, heard)
            replies = self._landing.after(heard, follows, self._account.name, len(self._account.moves), units)
        return replies if self._landing.changes.count == before else self._doors_renewed(replies)

    def _doors_renewed(self, replies: tuple[Reply, ...]) -> tuple[Reply, ...]:
        """Replies to what changed the diary, with the first question anew if that stands open: less may be due now."""
        now = self._course.now
        asked = now.pending.waiting.first
        if asked is None or asked.key != FIRST:
            return replies
        renewed = self._landing.due.before(doors.doors_asked(self._heaps.found()))
        self._course.now = now.waits(now.pending.waiting.answered()).put(renewed, at_once=True)
        return (*(reply for reply in replies if reply.question is None), *self._taking.asks())

    def diary_changed(self) -> tuple[Reply, ...]:
        """What there is to say once the diary was put right on a screen: what is due may be other things now."""
        return self._doors_renewed(())

    def take(self, understood: Understood) -> tuple[Reply, ...]:
        """The same, understood already."""
        self._course.now = self._course.now.line_begins()
        return self._taking.take(understood)

    def look_ahead(self) -> Iterator[None]:
        """Work out what each answer to the open question would bring, one a step, so that it need not be waited for."""
        return self._account.reckoning.look_ahead()

    # ------------------------------------------------------------ what is done on a screen

    @kept_as_said(typed=False)
    def set_amount(self, material: str, text: str) -> tuple[Reply, ...]:
        """Put an amount in place of the one there is: "4 sacks", "none".

        Raises:
            KeyError: there is no such material.
        """
        self._course.now = self._course.now.line_begins().counted()
        told = amount_told(material, text, self.knowledge)
        return (Reply("lost", told),) if isinstance(told, str) else self._taking.done([told])

    @kept_as_said(typed=False)
    def set_answer(self, attribute: str, values: Sequence[Value]) -> tuple[Reply, ...]:
        """Put an answer in place of the one there is; none takes it away."""
        self._course.now = self._course.now.line_begins().counted()
        told = [Told(attribute, tuple(values), NOWHERE)] if values else []
        return self._taking.done(
            [Forget(attribute), *told] if attribute in self.household.answers or not told else told
        )

    @kept_as_said(typed=False)
    def remove(self, material: str) -> tuple[Reply, ...]:
        """Take a material away."""
        self._course.now = self._course.now.line_begins().counted()
        return self._taking.done([HaveNot((material,), NOWHERE)])
