"""What the talk says back: plain values that any screen can show."""

from __future__ import annotations

from typing import Literal

from advisor.counsel.plan import Line, Plan
from advisor.knowledge.conditions import Value
from advisor.papers.charts.shapes import Chart
from advisor.records import dataclass
from advisor.safe_text import safe_text


@dataclass(frozen=True, slots=True)
class Option:
    """Something to pick. `say` is what picking it means if typed."""

    label: str
    say: str
    value: Value | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """A question, one at a time. "I don't know" is always the last of its options.

    With `figures`, numbers answer it by themselves and pick none of the options.
    """

    attribute: str  # empty when it is about the talk itself ("straw, or hay?")
    ask: str
    why: str
    options: tuple[Option, ...]
    many: bool = False
    figures: bool = False


#: `heard` says back what was understood; `lost` names what was not; `answer` answers something asked of the talk;
#: `question` asks; `verdict` says what now stands; `caution` must not be missed; `plan` carries the whole plan,
#: `diary` opens the diary.
ReplyKind = Literal[
    "greeting", "heard", "lost", "answer", "question", "verdict", "caution", "plan", "diary", "farewell"
]


@dataclass(frozen=True, slots=True)
class DiaryShown:
    """The diary of vessels is to be shown: of one of them, or of all if none is named.

    Attributes:
        lines: its newest entries, for a screen that has no page for it.
    """

    vessel: str = ""
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reply:
    """One thing said to the person. `lines` belong below the text, each to be asked why by its name; charts follow."""

    kind: ReplyKind
    text: str
    lines: tuple[Line, ...] = ()
    question: Question | None = None
    plan: Plan | None = None
    charts: tuple[Chart, ...] = ()
    diary: DiaryShown | None = None

    def __post_init__(self) -> None:
        """Nothing said may hold signs that are no writing, whoever's words, file or folder it names."""
        object.__setattr__(self, "text", safe_text(self.text))
