"""Dangers of a line: close forms, and sets of words over all that it states. Suppositions are feared, not told.

A danger is taken more readily than a fact: what somebody fears has happened, or was told by one who was there, counts
as told. Ways of saying that leave a danger told stand in the classes danger-heeded and danger-granted of rules/words/.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.likening import is_likened_thing, seems_so
from advisor.hearing.meanings import Danger, Mention, Part
from advisor.hearing.questions import asking
from advisor.hearing.shapes import Fact, HeardDanger
from advisor.hearing.stance import Taken, stance

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
    "hurt",  # somebody hurt or ill, whatever from
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

#: Of one kind these come first, in this order; the others follow by their names.
GRAVER = (
    *(
        "overcome-by-gas",
        "into-a-tank",
        "mixed-cleaners",
        "bitten-animal",
        "venomous-bite",
        "eaten-by-person",
        "ill-animal",
        "eye",
    ),
    *("fever-and-cough", "ill-after-dust", "wound-inflamed"),
)

#: Hotter than this, in °C, a heap can char and catch fire. USDA, National Engineering Handbook part 637 chapter 2,
#: Composting, 2000: spontaneous combustion follows heating beyond about 80 °C (180 °F).
CHARS_ABOVE = 80.0

_ASKED = ("asked", "supposed")
_TOO_HOT = "hot-enough-to-char"
_BURNS = frozenset({"fire", "smoke", "embers"})
_HEAT = frozenset({("sign.warmth", "smoking"), ("sign.warmth", "burning")})
#: A clause of so few words that ends with a question mark asks for what it names: "Aminopyralid?"
_SHORT = 3
#: What binds a clause to the one before it: "how long after fresh muck can I eat the salad?"
_BINDING = frozenset({"after", "before", "when", "while", "once", "where", "if", "until", "since"})
_TELLING = frozenset({"had", "has", "was", "were"})
_THEY = frozenset({"they", "them"})
_LEAVE = frozenset({"can", "could", "may", "should", "shall"})
_SUBJECTS = frozenset({"i", "you", "he", "she", "it", "we", "they", "this", "that", "there"})
Both = tuple[tuple[HeardDanger, ...], tuple[HeardDanger, ...]]


def dangers(finder: Finder, facts: Sequence[Fact], taken: Sequence[Taken]) -> Both:
    """The dangers of a line, the gravest first.

    Returns:
        What can hurt somebody now or has just hurt somebody; and what the line asks after, fears or supposes, without
        the kinds that it tells.
    """
    told = [(finder.vocabulary.dangers[_TOO_HOT], said) for said in _too_hot(finder, facts)]
    feared: list[tuple[Danger, str]] = []
    parts: dict[Danger, dict[int, list[tuple[Hit, Clause]]]] = {}
    for hit, clause in _hits(finder):
        if _is_of_another_sense(finder, hit):
            continue
        if isinstance(hit.of, Part):
            if _is_name_of_stuff(finder, hit) or _is_they_of_things(finder, hit) or _is_of_a_plant(finder, hit, clause):
                continue
            parts.setdefault(hit.of.danger, {}).setdefault(hit.of.number, []).append((hit, clause))
            continue
        how = _stance(finder, hit, clause, taken)
        said = finder.line.said(hit.start, hit.end)
        if isinstance(hit.of, Danger):
            if how == "told":
                told.append((hit.of, said))
            elif how in _ASKED:
                feared.append((hit.of, said))
        elif isinstance(hit.of, Mention) and _is_asked_after(finder, clause, how):
            feared.append((hit.of.danger, said))
    for danger, sets in parts.items():
        if len(sets) == danger.groups:
            how, said = _together(finder, danger, [sets[number] for number in sorted(sets)], taken)
            if how:
                (told if how == "told" else feared).append((danger, said))
    kept_told = _gravest(told, finder)
    kinds = {one.kind for one in kept_told}
    return kept_told, _gravest([one for one in feared if one[0].kind not in kinds], finder)


def without_false_heat(facts: Sequence[Fact], told: Sequence[HeardDanger]) -> list[Fact]:
    """The facts without told smoke and fire where no danger of it is told: "smoking like a chimney, only steam"."""
    if any(danger.kind in _BURNS for danger in told):
        return list(facts)
    return [fact for fact in facts if fact.stance != "told" or (fact.name, fact.value) not in _HEAT]


def is_over(finder: Finder) -> bool:
    """Whether a line says that a danger is past: help came, the fire is out, everybody is well."""
    return bool(finder.where("danger-over")) and not finder.where("danger-not-over")


def _together(
    finder: Finder, danger: Danger, sets: Sequence[Sequence[tuple[Hit, Clause]]], taken: Sequence[Taken]
) -> tuple[str, str]:
    """The stance of a danger that several ways tell, one of each set, and what says it; empty if one is denied."""
    stance_of_all, said = "told", []
    # "curled" is no wisp and its rising at once; other dangers one word may tell twice: "mulched with painted chips"
    taken_up: set[tuple[int, int]] = set()
    for number, every in enumerate(sets):
        found = [one for one in every if (one[0].start, one[0].end) not in taken_up]
        hows = []
        for hit, clause in found:
            how = _stance(finder, hit, clause, taken)
            asks = _is_in_a_question(finder, clause) and not _is_asked_of(finder, hit, clause)
            counts = number in danger.anyhow and how not in ("denied", "other")
            hows.append("told" if counts else "asked" if how == "told" and asks else how)
            if hows[-1] == "told":
                break
        best = next((how for how in ("told", *_ASKED) if how in hows), "")
        if not best:
            return "", ""
        if best != "told":
            stance_of_all = best
        hit = found[hows.index(best)][0]
        if danger.kind in _BURNS:
            taken_up.add((hit.start, hit.end))
        said.append(finder.line.said(hit.start, hit.end))
    return stance_of_all, " ... ".join(said)


def _gravest(found: Sequence[tuple[Danger, str]], finder: Finder) -> tuple[HeardDanger, ...]:
    """Each danger once, the gravest first, without those that the line says to be none."""
    none = {danger.name for danger, _ in found if _is_none(danger, finder)}
    kept = [HeardDanger(_plain(danger), danger.kind, said) for danger, said in found if danger.name not in none]
    named = {one.name: one for one in reversed(kept)}
    return tuple(sorted(named.values(), key=_gravity))


def _gravity(danger: HeardDanger) -> tuple[int, int, str]:
    """By this dangers are put in order, the gravest first."""
    kind = KINDS.index(danger.kind) if danger.kind in KINDS else len(KINDS)
    return kind, GRAVER.index(danger.name) if danger.name in GRAVER else len(GRAVER), danger.name


def _plain(danger: Danger) -> str:
    """The name of a danger without the part after a stroke: "smoke/underfoot" is one more way to tell smoke."""
    return danger.name.partition("/")[0]


def _hits(finder: Finder) -> Iterator[tuple[Hit, Clause]]:
    for clause in finder.line.clauses:
        for hit in finder.hits(finder.vocabulary.danger_index, clause.start, clause.end):
            yield hit, clause


def _is_name_of_stuff(finder: Finder, hit: Hit) -> bool:
    """Whether an animal is named only for what is of it: "hen muck", "a chicken carcass", "half a roast chook"."""
    victim = isinstance(hit.of, Part) and hit.of.danger.kind == "poison"
    if not victim or not finder.things("danger-beast", hit.start):
        return False  # dog muck on the beds is a danger of its own
    before, behind = hit.start - 1, max(finder.things("danger-beast", hit.start))
    is_cooked = before >= 0 and bool(finder.things("danger-cooked", before))
    of_it = behind < len(finder.line.words) and bool(finder.things("danger-of-beast", behind))
    inside = any(named.start <= hit.start and hit.end < named.end for named in finder.materials.values())
    return is_cooked or of_it or inside


def _is_of_another_sense(finder: Finder, hit: Hit) -> bool:
    """Whether a word means something else where it stands: "fire ants", "fire it all in a heap", "I sowed peppers"."""
    return any(
        start <= hit.start and hit.end <= end
        for start in finder.where("danger-otherwise")
        for end in finder.things("danger-otherwise", start)
    )


def _is_of_a_plant(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether an illness is a plant's, which no vet treats: "oak trees drop ...", "my peppers: each one lay dead"."""
    poisons = isinstance(hit.of, Part) and hit.of.danger.kind == "poison"
    if not poisons or not any(finder.things(name, hit.start) for name in ("danger-ill", "danger-fits")):
        return False
    grown = [at for at in finder.where("danger-grown") if at < hit.start]
    if not grown or finder.names("danger-somebody", grown[-1], hit.start):
        return False
    of_its_clause = grown[-1] >= clause.start and not finder.names("danger-somebody", clause.start, grown[-1])
    return of_its_clause or not finder.names("danger-somebody", 0, grown[-1])


def _is_they_of_things(finder: Finder, hit: Hit) -> bool:
    """Whether "they" or "them" is not of people or animals: stuff is named before it, and nobody."""
    if not any(word.form in _THEY for word in finder.line.words[hit.start : hit.end]):
        return False
    stuff = any(named.start < hit.start for named in finder.materials.values())
    whom = ("danger-child", "danger-adult", "danger-beast")
    return stuff and not any(finder.things(name, at) for name in whom for at in range(hit.start))


def _is_asked_after(finder: Finder, clause: Clause, how: str) -> bool:
    """Whether a danger that is named is asked after, or named with a word of worry."""
    if how == "past":
        return False
    if how in _ASKED or (how != "other" and finder.names("danger-worry", clause.start, clause.end)):
        return True
    return any(asking(finder.line, one) for one in finder.line.clauses if one.sentence == clause.sentence)


def _is_in_a_question(finder: Finder, clause: Clause) -> bool:
    """Whether a clause is of a question: it asks leave, or asks with a mark, or is bound to one that does."""
    line = finder.line
    asks_leave = asking(line, clause) == "whether" or clause.start + 1 in finder.materials
    if asks_leave and line.words[clause.start].form in _LEAVE:
        return True  # "can pallet ash go in, the pallets were painted"
    if not line.sentences[clause.sentence].asks:
        return False
    before = [one for one in line.clauses if one.sentence == clause.sentence and one.end <= clause.start]
    bound = bool(before) and clause.joined in _BINDING and bool(asking(line, before[-1]))
    return bool(asking(line, clause)) or bound


def _stance(finder: Finder, hit: Hit, clause: Clause, taken: Sequence[Taken]) -> str:
    """The stance of a danger: what was long ago is past; a plea, a report or a fear that it happened leaves it told."""
    if _is_long_ago(finder, hit, clause):
        return "past"
    if _is_compared(finder, hit, clause):
        return "other"
    granted = finder.names("danger-granted", clause.start, hit.start)
    weighed = [one for one in taken if not finder.things("danger-heeded", one.start) and _weighs(finder, one)]
    if granted:
        weighed = [one for one in weighed if one.trigger.stance != "supposed" or one.start >= hit.start]
    how = stance(finder, hit.start, hit.end, clause, weighed).name
    if how == "told" and clause.end - clause.start <= _SHORT and asking(finder.line, clause):
        return "asked"
    if how == "asked" and (granted or _goes_on_telling(finder, clause) or _is_asked_of(finder, hit, clause)):
        return "told"
    return how


def _is_compared(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether a danger only names what something is like; what smells of burning may burn."""
    # "as | if someone emptied an ashtray": a clause begins at "if", and "as" goes before it
    first = clause.start - 1 if clause.start and finder.line.words[clause.start - 1].form == "as" else clause.start
    if any(first <= at < hit.start and not seems_so(finder, at) for at in finder.where("danger-likened")):
        return True
    danger = hit.of if isinstance(hit.of, Danger) else hit.of.danger if isinstance(hit.of, (Part, Mention)) else None
    if danger is None or danger.kind in _BURNS:
        return False
    return is_likened_thing(finder, hit.start, smelt=danger.kind == "food")


def _is_long_ago(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether a clause tells of long ago, or tells in the pluperfect of what its sentence puts there."""
    if finder.names("danger-long-ago", clause.start, clause.end):
        return True
    before = any(word.form == "had" for word in finder.line.words[clause.start : hit.start])
    sentence = finder.line.sentences[clause.sentence]
    return before and finder.names("danger-long-ago", sentence.start, sentence.end)


def _weighs(finder: Finder, one: Taken) -> bool:
    """Whether a trigger counts for dangers: what happens to somebody else's heap or dog is one, hearsay is none."""
    return one.trigger.stance != "other" or finder.names("danger-hearsay", one.start, one.end)


def _is_asked_of(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether a clause tells, and the sentence asks of it behind a comma: "the lid has domed up, safe to open it?"."""
    words = finder.line.words
    first = next(at for at in range(clause.start, hit.start + 1) if not words[at].mark)
    last = finder.line.sentences[clause.sentence].end
    states = finder.names("danger-states", hit.start, hit.end) or any(
        word.form.endswith(("ed", "ing")) for word in words[hit.start : hit.end]
    )
    begins_a_question = bool(finder.things("danger-asks", first))
    return states and not begins_a_question and any(word.form == "," for word in words[hit.end : last])


def _goes_on_telling(finder: Finder, clause: Clause) -> bool:
    """Whether a clause that begins with a helper tells more: "my little one, who is two, had a fistful of ..."."""
    words = finder.line.words[clause.start : clause.end]
    inside = clause.start > finder.line.sentences[clause.sentence].start
    return inside and len(words) > 1 and words[0].form in _TELLING and words[1].form not in _SUBJECTS


def _is_none(danger: Danger, finder: Finder) -> bool:
    return bool(danger.unless) and finder.stands(danger.unless, 0, len(finder.line.words))


def _too_hot(finder: Finder, facts: Sequence[Fact]) -> Iterator[str]:
    """What is said of a temperature at which a heap chars."""
    if finder.where("danger-other-heat"):
        return
    for fact in facts:
        if fact.name == "sign.degrees" and fact.stance == "told" and float(fact.value) > CHARS_ABOVE:
            yield fact.said
