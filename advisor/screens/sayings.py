"""What is said to the talk from the screen, and what is shown of what it says back."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.screens.widgets.turn import Turn

if TYPE_CHECKING:
    from advisor.screens.desk import Job
    from advisor.screens.widgets.chart_view import ChartView
    from advisor.screens.widgets.choices import Choices
    from advisor.talk.replies import Reply

_NUMBERS = re.compile(r"\s*\d{1,2}(?:[\s,]+\d{1,2})*\s*")


@dataclass
class Saying:
    """Something said: the words to give back should it fail, those to show, and what to ask of the talk."""

    text: str
    shown: str
    job: Job | None
    echoed: bool = False


def numbers_picked(text: str, choices: Choices) -> tuple[int, ...]:
    """The answers, from 1, that a line of nothing but numbers picks; none if there are no such answers."""
    numbers = tuple(dict.fromkeys(map(int, re.findall(r"\d+", text)))) if _NUMBERS.fullmatch(text) else ()
    if choices.figures:
        return ()
    fits = all(1 <= number <= len(choices.offered) for number in numbers) and (len(numbers) < 2 or choices.many)
    return numbers if fits else ()


def shown_of(reply: Reply) -> list[Turn | ChartView]:
    """The words of a reply, with its charts below them."""
    shown: list[Turn | ChartView] = [Turn(reply.kind, reply.text, reply.lines)] if reply.text or reply.lines else []
    if reply.charts:
        from advisor.screens.widgets.chart_view import ChartView

        shown += [ChartView(chart) for chart in reply.charts]
    return shown
