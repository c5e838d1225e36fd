"""The family of errors a person may be shown: one clear line each, with where, what, and the nearest right thing."""

from __future__ import annotations

from advisor.safe_text import one_line

#: A message is read in one glance; what somebody typed may be longer.
_LONGEST = 400


class HeapwrightError(Exception):
    """Base of everything heapwright raises on purpose.

    Attributes:
        message: what is wrong, in words for the person who typed it.
        where: file, table and key, or the words typed; empty if it has no place.
        hint: the nearest right thing to do; empty if there is none.
    """

    exit_code = 1

    def __init__(self, message: str, *, where: str = "", hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.where = where
        self.hint = hint

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        advice = f" ({self.hint})" if self.hint else ""
        return one_line(f"{place}{one_line(self.message, _LONGEST)}{advice}")


class OtherFile(HeapwrightError):
    """Where a file is to be written there is something else, which is not to be lost."""


class UsageError(HeapwrightError):
    """The command line asked for something that is not there."""

    exit_code = 2


class HouseholdError(HeapwrightError):
    """A household file, or words about one, cannot be understood."""

    exit_code = 2


class RuleBaseError(HeapwrightError):
    """The knowledge in rules/ is not in order; `problems` lists every fault found, not only the first."""

    exit_code = 3

    def __init__(self, problems: tuple[str, ...]) -> None:
        self.problems = problems
        first = problems[0] if problems else "the rule base cannot be read"
        more = len(problems) - 1
        super().__init__(first + (f" (and {more} more; `heapwright check` lists them)" if more > 0 else ""))


class InferenceFault(HeapwrightError):
    """A rule broke while it was firing, or the engine refused a fact: a fault of ours, never swallowed."""

    exit_code = 4


class EngineMissing(HeapwrightError):
    """The rule engine is not installed, or was built without the flag that newer Pythons need."""

    exit_code = 4
