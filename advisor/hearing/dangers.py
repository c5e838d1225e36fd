"""Dangers of a line: close forms, and sets of words over all that it states. Suppositions and general questions are none.

A danger is taken more readily than a fact: what somebody fears has happened, or was told by one who was there, counts as
told. Ways of saying that leave a danger as it is stand in the classes danger-heeded and danger-granted of rules/words/.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.finding import Finder
from advisor.hearing.questions import asking
from advisor.hearing.shapes import Fact, HeardDanger
from advisor.hearing.stance import Taken, stance
from advisor.hearing.vocabulary import Danger, Mention, Part

#: The gravest first.
KINDS = (
    "fire",  # flames, embers, something glowing
    "fumes",  # somebody overcome by gas, or chemicals that give off gas
    "crush",  # somebody under a heap, a wall, a lid
    "electric",  # a cable that was hit
    "breath",  # somebody who cannot breathe, or whose face swells
    "poison",  # something eaten, drunk or licked
    "smoke",  # smoke, charring, heat that chars
    "burn",  # lime or a cleaner in the eye or on the skin, a scald
    "embers",  # ash or coals tipped in before they were cold
    "gas",  # a closed vessel under pressure
    "wound",  # cuts, bites, needles, glass
    "sting",  # stings and venomous bites
    "chemical",  # fuel, oil, poison, paint, batteries in the heap
    "spores",  # illness after dust, or dust breathed by somebody who must not
    "food",  # raw manure, sewage or pet waste on what is eaten
    "germs",  # pet waste or manure handled in pregnancy
    "carcass",  # dead animals
    "stock",  # poisonous clippings where animals can eat them
    "asbestos",
    "treated",  # ash or dust of painted or treated wood, coal ash
    "plants",  # weedkiller in hay, straw or manure
    "lead",  # metals in the soil
)

#: Hotter than this, in °C, a heap can char and catch fire. USDA, National Engineering Handbook part 637 chapter 2,
#: Composting, 2000: spontaneous combustion follows heating beyond about 80 °C (180 °F).
CHARS_ABOVE = 80.0

_ASKED = ("asked", "supposed")


def dangers(finder: Finder, facts: Sequence[Fact], taken: Sequence[Taken]) -> tuple[HeardDanger, ...]:
    """What can hurt somebody now or has just hurt somebody, the gravest first."""
    said = [danger for danger, how in _said(finder, taken) if how == "told"]
    return _gravest([*said, *_together(finder, taken, ("told",)), *_too_hot(finder, facts)])


def feared(finder: Finder, told: Sequence[HeardDanger], taken: Sequence[Taken]) -> tuple[HeardDanger, ...]:
    """What a line asks after, fears or supposes, the gravest first; a kind of danger that it tells is left out."""
    said = [danger for danger, how in _said(finder, taken) if how in _ASKED]
    kinds = {one.kind for one in told}
    found = [*said, *_together(finder, taken, ("told", *_ASKED)), *_mentioned(finder, taken)]
    return _gravest([one for one in found if one.kind not in kinds])


def _gravest(found: Sequence[HeardDanger]) -> tuple[HeardDanger, ...]:
    named = {one.name: one for one in reversed(found)}
    order = {kind: place for place, kind in enumerate(KINDS)}
    return tuple(sorted(named.values(), key=lambda one: (order.get(one.kind, len(KINDS)), one.name)))


def _said(finder: Finder, taken: Sequence[Taken]) -> Iterator[tuple[HeardDanger, str]]:
    """Dangers that are said in a close form, each with its stance."""
    for clause in finder.line.clauses:
        for hit in finder.hits(finder.vocabulary.danger_index, clause.start, clause.end):
            danger = hit.of
            if isinstance(danger, Danger) and not _is_none(danger, finder):
                found = HeardDanger(danger.name, danger.kind, finder.line.said(hit.start, hit.end))
                yield found, _stance(finder, hit.start, hit.end, clause, taken)


def _together(finder: Finder, taken: Sequence[Taken], stances: Sequence[str]) -> Iterator[HeardDanger]:
    """Dangers of which the line says one way of every set, in one of these stances."""
    said: dict[Danger, dict[int, str]] = {}
    for clause in finder.line.clauses:
        for hit in finder.hits(finder.vocabulary.danger_index, clause.start, clause.end):
            part = hit.of
            if isinstance(part, Part) and _stance(finder, hit.start, hit.end, clause, taken) in stances:
                said.setdefault(part.danger, {}).setdefault(part.number, finder.line.said(hit.start, hit.end))
    for danger, parts in said.items():
        if len(parts) == danger.groups and not _is_none(danger, finder):
            yield HeardDanger(danger.name, danger.kind, " ... ".join(parts[number] for number in sorted(parts)))


def _mentioned(finder: Finder, taken: Sequence[Taken]) -> Iterator[HeardDanger]:
    """Dangers that are named in a question, or with a word of worry."""
    for clause in finder.line.clauses:
        worried = _stands(finder, "danger-worry", clause.start, clause.end)
        for hit in finder.hits(finder.vocabulary.danger_index, clause.start, clause.end):
            named = hit.of
            if not isinstance(named, Mention) or _is_none(named.danger, finder):
                continue
            how = _stance(finder, hit.start, hit.end, clause, taken)
            if how in _ASKED or asking(finder.line, clause) or (worried and how != "past"):
                said = finder.line.said(hit.start, hit.end)
                yield HeardDanger(named.danger.name, named.danger.kind, said)


def _stance(finder: Finder, start: int, end: int, clause: Clause, taken: Sequence[Taken]) -> str:
    """The stance of a danger: what was long ago is past, and a plea, a report or a fear that it happened leaves it told."""
    if _stands(finder, "danger-long-ago", clause.start, clause.end):
        return "past"
    heeded = [one for one in taken if not finder.things("danger-heeded", one.start)]
    granted = _stands(finder, "danger-granted", clause.start, start)
    if granted:
        heeded = [one for one in heeded if one.trigger.stance != "supposed" or one.start >= start]
    how = stance(finder, start, end, clause, heeded).name
    return "told" if granted and how == "asked" else how


def _stands(finder: Finder, name: str, start: int, end: int) -> bool:
    """Whether a way of a class begins in a stretch."""
    return any(finder.things(name, at) for at in range(start, end))


def _is_none(danger: Danger, finder: Finder) -> bool:
    return bool(danger.unless) and finder.stands(danger.unless, 0, len(finder.line.words))


def _too_hot(finder: Finder, facts: Sequence[Fact]) -> Iterator[HeardDanger]:
    if _stands(finder, "danger-other-heat", 0, len(finder.line.words)):
        return
    for fact in facts:
        if fact.name == "sign.degrees" and fact.stance == "told" and float(fact.value) > CHARS_ABOVE:
            yield HeardDanger("hot-enough-to-char", "smoke", fact.said)
