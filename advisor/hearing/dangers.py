"""Dangers of a line: close forms, and sets of words over all that it states. Suppositions and general questions are none.

A danger is taken more readily than a fact: what somebody fears has happened, or was told by one who was there, counts as
told. Ways of saying that leave a danger as it is stand in the classes danger-heeded and danger-granted of rules/words/.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.finding import Finder, Hit
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
#: A clause of so few words that ends with a question mark asks for what it names: "Aminopyralid?"
_SHORT = 3
_TELLING = frozenset({"had", "has", "was", "were"})
_SUBJECTS = frozenset(
    ["i", "you", "he", "she", "it", "we", "they", "this", "that", "there", "anybody", "anyone", "somebody", "someone"]
)

Both = tuple[tuple[HeardDanger, ...], tuple[HeardDanger, ...]]


def dangers(finder: Finder, facts: Sequence[Fact], taken: Sequence[Taken]) -> Both:
    """The dangers of a line, the gravest first.

    Returns:
        What can hurt somebody now or has just hurt somebody; and what the line asks after, fears or supposes, without
        the kinds that it tells.
    """
    told = list(_too_hot(finder, facts))
    feared: list[HeardDanger] = []
    parts: dict[Danger, dict[int, tuple[str, bool]]] = {}
    for hit, clause in _hits(finder):
        found, said = hit.of, finder.line.said(hit.start, hit.end)
        how = _stance(finder, hit, clause, taken)
        if isinstance(found, Danger):
            if how == "told":
                told.append(HeardDanger(found.name, found.kind, said))
            elif how in _ASKED:
                feared.append(HeardDanger(found.name, found.kind, said))
        elif isinstance(found, Mention):
            if _is_asked_after(finder, clause, how):
                feared.append(HeardDanger(found.danger.name, found.danger.kind, said))
        elif isinstance(found, Part) and how in ("told", *_ASKED):
            is_told = how == "told" and not (
                asking(finder.line, clause) and finder.line.sentences[clause.sentence].asks
            )
            kept = parts.setdefault(found.danger, {}).get(found.number)
            if kept is None or (is_told and not kept[1]):
                parts[found.danger][found.number] = (said, is_told)
    for danger, sets in parts.items():
        if len(sets) == danger.groups:
            said = " ... ".join(sets[number][0] for number in sorted(sets))
            (told if all(is_told for _, is_told in sets.values()) else feared).append(
                HeardDanger(danger.name, danger.kind, said)
            )
    kept_told = _gravest(told, finder)
    kinds = {one.kind for one in kept_told}
    return kept_told, _gravest([one for one in feared if one.kind not in kinds], finder)


def _gravest(found: Sequence[HeardDanger], finder: Finder) -> tuple[HeardDanger, ...]:
    """Each danger once, the gravest first, without those that the line says to be none."""
    named = {one.name: one for one in reversed(found)}
    known = finder.vocabulary.dangers
    order = {kind: place for place, kind in enumerate(KINDS)}
    kept = [one for one in named.values() if not _is_none(known[one.name], finder)]
    return tuple(sorted(kept, key=lambda one: (order.get(one.kind, len(KINDS)), one.name)))


def _hits(finder: Finder) -> Iterator[tuple[Hit, Clause]]:
    for clause in finder.line.clauses:
        for hit in finder.hits(finder.vocabulary.danger_index, clause.start, clause.end):
            yield hit, clause


def _is_asked_after(finder: Finder, clause: Clause, how: str) -> bool:
    """Whether a danger that is named is asked after, or named with a word of worry."""
    if how in ("past", "other"):
        return False
    return (
        how in _ASKED or bool(asking(finder.line, clause)) or _stands(finder, "danger-worry", clause.start, clause.end)
    )


def _stance(finder: Finder, hit: Hit, clause: Clause, taken: Sequence[Taken]) -> str:
    """The stance of a danger: what was long ago is past, and a plea, a report or a fear that it happened leaves it told."""
    if _stands(finder, "danger-long-ago", clause.start, clause.end):
        return "past"
    if _stands(finder, "danger-likened", clause.start, hit.start):
        return "other"
    granted = _stands(finder, "danger-granted", clause.start, hit.start)
    weighed = [one for one in taken if not finder.things("danger-heeded", one.start)]
    if granted:
        weighed = [one for one in weighed if one.trigger.stance != "supposed" or one.start >= hit.start]
    how = stance(finder, hit.start, hit.end, clause, weighed).name
    if how == "told" and clause.end - clause.start <= _SHORT and asking(finder.line, clause):
        return "asked"
    if how == "asked" and (granted or _goes_on_telling(finder, clause)):
        return "told"
    return how


def _goes_on_telling(finder: Finder, clause: Clause) -> bool:
    """Whether a clause that begins with a helper tells more of who was spoken of: "my little one, who is two, had a ..."."""
    words = finder.line.words[clause.start : clause.end]
    inside = clause.start > finder.line.sentences[clause.sentence].start
    return inside and len(words) > 1 and words[0].form in _TELLING and words[1].form not in _SUBJECTS


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
