"""Whether a material may go in: one clear line for the vessel that is meant, what to do, where else it may go."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from advisor.counsel.material import MaterialPart, MaterialVerdict, PartKind
from advisor.counsel.plan import Line
from advisor.counsel.wording import joined
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.saying import a, upper

#: Of several things that a word may mean so many are named one by one.
_MOST_ALIKE = 4
_SHOWN = 4
#: What most people mean by "the heap" while nobody has said what they have.
_USUAL = ("open-heap", "bin")


@dataclass(frozen=True, slots=True)
class MaterialAnswer:
    """An answer about materials: the first line, the lines below it, and those kept for "more"."""

    first: str
    shown: tuple[Line, ...] = ()
    kept: tuple[Line, ...] = ()


def one_material(verdict: MaterialVerdict, method: str, knowledge: Knowledge) -> MaterialAnswer:
    """The answer about one material.

    Args:
        method: the way of composting that is meant; empty if none is named or planned.
    """
    name = upper(verdict.name)
    if verdict.never:
        told = [part for part in verdict.parts if part.kind in ("out", "nature")]
        return MaterialAnswer(f"{name}: no, not in any compost.", _as_said(told[:_SHOWN]), verdict.lines)
    ways = (method,) if method in knowledge.methods else _USUAL
    good = [way for way in ways if way in verdict.goes_into]
    deeds = [part for way in good[:1] for part in (*_of(verdict, "first", way), *_of(verdict, "most", way))]
    if good:
        where = _ways(good, knowledge)
        if len(good) == len(ways) and not method and not verdict.stays_out_of:
            where = "any heap, bin or box"
        first = f"{name}: yes, in {where}.{f' {upper(deeds[0].say)}' if deeds else ''}"
        shown = [part.line.model_copy(update={"text": part.reason}) for part in deeds[:1] if part.reason]
        shown += _as_said(deeds[1:])
    else:
        barred = [part for way in ways[:1] for part in _of(verdict, "out", way)]
        first = f"{name}: no, not in {_ways(ways, knowledge)}. {' '.join(part.say for part in barred[:1])}".strip()
        why = barred[0].line.why if barred else ()
        shown = [Line(id="", text=f"{upper(_ways(verdict.goes_into, knowledge))} takes it.", why=why)]
        shown += _as_said(part for way in verdict.goes_into[:1] for part in _of(verdict, "first", way))
    shown += _as_said(_cautions(verdict))
    if good:
        shown += _as_said(_of(verdict, "nature", ""))
        if verdict.stays_out_of:
            out = [part for part in verdict.parts if part.kind == "out"]
            text = f"Keep it out of {_ways(verdict.stays_out_of, knowledge)}."
            shown.append(Line(id="", text=text, why=tuple(because for part in out for because in part.line.why)))
    return MaterialAnswer(first, tuple(shown[:_SHOWN]), verdict.lines)


def several_materials(verdicts: Sequence[MaterialVerdict], method: str, knowledge: Knowledge) -> MaterialAnswer:
    """The answer about a word that may mean several materials: which of them may go in, and which may not."""
    ways = (method,) if method in knowledge.methods else _USUAL
    good = [one for one in verdicts if set(ways) & set(one.goes_into)]
    bad = [one for one in verdicts if one not in good]
    where = _ways(ways, knowledge)
    first = f"That depends on what it is: for {where} there is a yes and a no."
    if not bad:
        first = f"Yes, in {where}, whichever it is: {_names(good)}."
    elif not good:
        first = f"No, not in {where}, whichever it is: {_names(bad)}."
    told = []
    if good and bad:
        told = [f"Yes: {_names(good)}.", f"No: {_names(bad)}."]
    for one in bad[:2]:
        told += [f"{upper(one.name)}: {part.say}" for part in _of(one, "out", ways[0])][:1]
    for one in good[:2]:
        told += [f"{upper(one.name)}: {part.say}" for part in _of(one, "first", ways[0])][:1]
    told.append("Say which of them it is, and I tell you more.")
    return MaterialAnswer("\n".join([first, *told]))


def narrowed(materials: Sequence[str], text: str, knowledge: Knowledge) -> tuple[str, ...]:
    """Of several materials that a word may mean, those whose names hold most of the words of the line.

    A material that shares a word with them, and two with the line, counts too: "we have a cat, can the litter go in".
    """
    if len(materials) < 2:
        return tuple(materials)
    said = set(re.findall(r"[a-z]+", text.lower()))
    named = {word for name in materials for word in _words_of(name, knowledge)} & said
    near = [
        name
        for name in knowledge.materials
        if name not in materials and named & _words_of(name, knowledge) and len(said & _words_of(name, knowledge)) > 1
    ]
    counts = {name: len(said & _words_of(name, knowledge)) for name in (*materials, *near)}
    most = max(counts.values())
    return tuple(name for name, count in counts.items() if count == most)


def _words_of(material: str, knowledge: Knowledge) -> set[str]:
    return set(re.findall(r"[a-z]+", knowledge.materials[material].name.lower())) - {"or", "and", "with", "of"}


def _names(verdicts: Sequence[MaterialVerdict]) -> str:
    names = [one.name for one in verdicts[:_MOST_ALIKE]]
    left = len(verdicts) - len(names)
    return joined([*names, *([f"{left} more"] if left else [])])


def _of(verdict: MaterialVerdict, kind: PartKind, method: str) -> Iterator[MaterialPart]:
    for part in verdict.parts:
        if part.kind == kind and (not part.methods or method in part.methods):
            yield part


def _cautions(verdict: MaterialVerdict) -> Iterator[MaterialPart]:
    """Every grave caution, or else the first."""
    every = [part for part in verdict.parts if part.kind == "care"]
    grave = [part for part in every if part.grave]
    yield from grave or every[:1]


def _as_said(parts: Iterable[MaterialPart]) -> tuple[Line, ...]:
    return tuple(
        part.line.model_copy(update={"text": f"{'Take care: ' if part.kind == 'care' else ''}{upper(part.say)}"})
        for part in parts
    )


def _ways(methods: Iterable[str], knowledge: Knowledge) -> str:
    return joined([a(knowledge.methods[method].name) for method in methods], "or")
