"""The cautions that the rules of safety raise over what was recommended."""

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
    standing = sorted(talk.about("caution", "stands"), key=lambda name: (declared[name].order, name))
    for letter, group in (
        ("g", [name for name in standing if declared[name].grave]),
        ("c", [name for name in standing if not declared[name].grave]),
    ):
        for number, name in enumerate(group, 1):
            reasons = why.reasons(talk, Fact("caution", "stands", name, "yes").key, knowledge)
            source = why.computed(f"wording of {name.replace('-', ' ')}", sources=declared[name].source)
            text = fill(declared[name].say, figures or {}, units)
            yield Line(id=f"{letter}{number}", text=text, why=(*reasons, source))


def together(plans: Iterable[Plan]) -> Iterator[Line]:
    """The cautions of several plans, each once, the grave ones first."""
    every = {line.text: line for plan in plans for line in plan.cautions}
    for letter in ("g", "c"):
        found = [line for line in every.values() if line.id.startswith(letter)]
        for number, line in enumerate(found, 1):
            yield line.model_copy(update={"id": f"{letter}{number}"})
