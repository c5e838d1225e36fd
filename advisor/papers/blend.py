"""A mix as it was told, as a paper."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.own_mix_shapes import OwnMix, SampleSum
from advisor.papers.paper import Paper
from advisor.papers.sections import Section

_ADD = {"carbon-nitrogen": "To add, for the C:N", "moisture": "To add, for the moisture"}


def paper(answer: OwnMix | SampleSum) -> Paper:
    """The answer as a paper."""
    if isinstance(answer, SampleSum):
        return Paper("Your sample", (Section("What it comes to", answer.said),))
    return Paper("The mix as you told it", tuple(sections(answer)))


def sections(answer: OwnMix) -> Iterator[Section]:
    """The parts of the answer that have something to say, in the order they are read."""
    found = [
        Section("In short", (answer.verdict,)),
        Section("What is in it", tuple(part.line for part in answer.parts)),
        Section("What it comes to", (*(gauge.line for gauge in answer.gauges), answer.water)),
        *(
            Section(title, tuple(one.line for one in answer.additions if one.goal == goal))
            for goal, title in _ADD.items()
        ),
        Section("In a container", answer.filled),
        Section("To check", answer.notes),
    ]
    yield from (section for section in found if section.lines)
