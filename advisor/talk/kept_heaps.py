"""The heaps that can be carried on with, on the shelf and in the diary, and the keeping of this talk's own."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from advisor.errors import HouseholdError
from advisor.household.shapes import Household
from advisor.talk import doors
from advisor.talk.account import Account
from advisor.talk.keeping import Keeping
from advisor.talk.old_files import take_over
from advisor.talk.replies import Reply
from advisor.talk.saying import upper
from advisor.talk.shelf import Keeper


class KeptHeaps:
    """Finds heaps that were kept, puts one in the place of this talk's, and keeps this one."""

    def __init__(self, keeper: Keeper, keeping: Keeping, account: Account, today: date | None) -> None:
        self._keeper, self._keeping, self._account, self._today = keeper, keeping, account, today

    @property
    def folder(self) -> Path:
        """Where heaps are kept."""
        return self._keeper.shelf.folder

    def found(self) -> doors.Kept:
        """What there is to carry on with. Heaps in files that the diary does not hold yet are taken over into it."""
        shelf, today = self._keeper.shelf, self._today or date.today()
        shelved = shelf.read()
        amiss = list(shelved.amiss)
        try:
            talks = self._keeping.talks()
            newer = doors.not_in_the_diary(shelved, talks)
            if newer and self._keeping.path is not None:
                if take_over(newer, shelf.knowledge, self._keeping.path, today):
                    talks = self._keeping.talks()
                newer = ()
        except HouseholdError as error:
            amiss.append(str(error))
            talks, newer = (), shelved.heaps
        return doors.kept_heaps(talks, newer, amiss, shelf.knowledge, today)

    def loaded(self) -> None:
        """The household of the account is another one from now on, which is kept as it is."""
        self._holds(self._account.household)
        self.begun_again()

    def _holds(self, saved: Household | None) -> None:
        """Bear in mind what is kept now."""
        self._account.course.now = replace(self._account.course.now, saved=saved)

    def begun_again(self) -> None:
        """The household of the account is another one from now on."""
        self._keeper.turns_to(self._account.household)

    def farewell(self) -> Reply:
        """The last words, with whether everything is kept."""
        unkept = self._account.plan is not None and self._account.household != self._account.course.now.saved
        safe = self._keeping.holds_all
        return doors.farewell(kept=safe and bool(self._account.moves), unkept=unkept and not safe)

    def carry_on(self, talk: int) -> list[Reply]:
        """Put a talk that was kept, by its number in the diary, in the place of this one."""
        try:
            found = next(kept for kept in self._keeping.talks() if kept.number == talk)
            replies = self._keeping.carry_on(found)
        except (HouseholdError, StopIteration) as error:
            return [Reply("lost", upper(f"{error or 'that heap is no longer in the diary'}."))]
        self._keeper.turns_to(self._account.household, found.seen + doors.SAME_TIME)
        self._holds(None)
        return replies

    def keep(self, name: str) -> Reply:
        """Keep this heap under a name, or under the one it has."""
        account = self._account
        if account.plan is None:
            if self._keeping.holds_all and account.moves:
                account.course.now = replace(account.course.now, name=name or account.name)
                called = f" as “{account.name}”" if account.name else ""
                return Reply("answer", f"All you said is kept{called}. Next time, carry on with it.")
            return Reply("answer", "There is no heap to keep yet; beds and checks go into the diary where you say so.")
        try:
            name, said = self._keeper.keep(account.household, name)
        except HouseholdError as error:
            return Reply("lost", upper(f"{error}."))
        account.course.now = replace(account.course.now, name=name)
        self._holds(account.household)
        account.work_out()
        return Reply("answer", said)
