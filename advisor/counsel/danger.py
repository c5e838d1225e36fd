"""What is answered to a danger: a warning if it is told, an answer if it is feared, a next step when it is past."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.hearing.shapes import HeardDanger
from advisor.knowledge.shapes import DangerAnswer
from advisor.units import Units, fill

Answers = Mapping[str, DangerAnswer]


def danger_reply(danger: HeardDanger, answers: Answers, units: Units = "metric") -> tuple[str, ...]:
    """What to do about a danger that is told as present: first what to do now, then at most four short lines.

    Raises:
        KeyError: neither the danger nor its kind has an answer; the lint sees to it that none is shipped so.
    """
    return tuple(fill(line, {}, units) for line in answer_to(danger, answers).warning)


def feared_reply(danger: HeardDanger, answers: Answers, units: Units = "metric") -> tuple[str, ...]:
    """The answer to a danger that is feared or asked about: one to three lines. Raises KeyError as `danger_reply`."""
    return tuple(fill(line, {}, units) for line in answer_to(danger, answers).answer)


def meanwhile_reply(danger: HeardDanger, answers: Answers, units: Units = "metric") -> tuple[str, ...]:
    """What to say to whatever is said next, while a danger may last; none if the talk goes on as usual after it.

    Raises KeyError as `danger_reply`.
    """
    return tuple(fill(line, {}, units) for line in answer_to(danger, answers).meanwhile)


def past_reply(danger: HeardDanger, answers: Answers, units: Units = "metric") -> str:
    """What to say when a danger is past: the next step, or the one question. Raises KeyError as `danger_reply`."""
    return fill(answer_to(danger, answers).followup, {}, units)


def answer_to(danger: HeardDanger, answers: Answers) -> DangerAnswer:
    """The answer to a danger: its own, else its kind's. Raises KeyError if there is neither."""
    return answers.get(danger.name) or answers[danger.kind]
