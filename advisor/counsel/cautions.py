"""The notices that the rules raise, in their order; and the cautions of safety among them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from advisor.counsel import why
from advisor.counsel.plan import Line, Plan
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.units import Units, fill


def cautions(
    talk: Consultation, knowledge: Knowledge, units: Units, figures: Mapping[str, str] | None = None
) -> Iterator[Line]:
    """Grave ones first, named g; the others c. `figures` are the texts that their words leave room for."""
    declared = knowledge.notices["caution"]
    names = raised(talk, "caution", knowledge)
    for letter, grave in (("g", True), ("c", False)):
        for number, name in enumerate((name for name in names if declared[name].grave is grave), 1):
            yield notice_line(talk, "caution", name, f"{letter}{number}", knowledge, units, figures)


def raised(talk: Consultation, kind: str, knowledge: Knowledge) -> list[str]:
    """The notices of a kind that the rules have raised, in their order."""
    declared = knowledge.notices[kind]
    return sorted(talk.about(kind, "stands"), key=lambda name: (declared[name].order, name))


def notice_line(
    talk: Consultation,
    kind: str,
    name: str,
    line_id: str,
    knowledge: Knowledge,
    units: Units,
    figures: Mapping[str, str] | None = None,
) -> Line:
    """A notice as a line: why it stands, and where its wording is from. `figures` as in `cautions`."""
    notice = knowledge.notices[kind][name]
    reasons = why.reasons(talk, Fact(kind, "stands", name, "yes").key, knowledge)
    source = why.computed(f"wording of {name.replace('-', ' ')}", sources=notice.source)
    return Line(id=line_id, text=fill(notice.say, figures or {}, units), why=(*reasons, source))


def together(plans: Iterable[Plan]) -> Iterator[Line]:
    """The cautions of several plans, each once, the grave ones first."""
    every = {line.text: line for plan in plans for line in plan.cautions}
    for letter in ("g", "c"):
        found = [line for line in every.values() if line.id.startswith(letter)]
        for number, line in enumerate(found, 1):
            yield line.model_copy(update={"id": f"{letter}{number}"})
