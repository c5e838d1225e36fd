"""What was changed in the diary of vessels during this talk, so that it can be undone and done again."""

from __future__ import annotations

from pathlib import Path

from advisor.diary.vessels import Changed, change
from advisor.errors import HouseholdError
from advisor.talk.replies import Reply
from advisor.talk.saying import upper


class DiaryChanges:
    """The changes of one talk, the latest last.

    Attributes:
        alone: whether the last thing that was said or done changed the diary and nothing else.
        count: how often the diary was changed, back and forth.
    """

    def __init__(self, path: Path | None) -> None:
        self._path = path
        self._made: list[Changed] = []
        self._undone: list[Changed] = []
        self.alone = False
        self.count = 0

    def made(self, changed: Changed, *, alone: bool) -> None:
        """Bear in mind what was changed."""
        self._made.append(changed)
        self._undone.clear()
        self.alone = alone
        self.count += 1

    def undo(self) -> Reply | None:
        """Undo the latest change; nothing if there is none."""
        return self._turn(self._made, self._undone)

    def redo(self) -> Reply | None:
        """Make the change again that was undone last; nothing if none was."""
        found = self._turn(self._undone, self._made)
        self.alone = found is not None
        return found

    def _turn(self, source: list[Changed], goal: list[Changed]) -> Reply | None:
        self.alone = False
        if not source:
            return None
        latest = source.pop()
        turned = latest.reversed
        try:
            change(turned, self._path)
        except HouseholdError as error:
            source.append(latest)
            return Reply("lost", upper(f"{error.message}."))
        goal.append(turned)
        self.count += 1
        if turned.kept and turned.taken:
            return Reply("answer", "Your diary is as it was before.")
        return Reply("answer", "I put it back into your diary." if turned.kept else "I took that out of the diary.")
