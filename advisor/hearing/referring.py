"""What a question asks that names nothing of its own: of the stuff or the soil that was named before it.

"The wife dyes her hair, does that matter?", "clay like iron, would gypsum do it?", "he swears peel kills worms. Is he
right?" A trouble told before such a question goes first, so that the question is of that.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.deciding import is_sign
from advisor.hearing.english import listed
from advisor.hearing.facts import things_in
from advisor.hearing.finding import Finder
from advisor.hearing.questions import Asking
from advisor.hearing.shapes import Fact

#: What a question may seem to ask that only refers back.
REPLACED = frozenset({"ask_fact", "ask_material", "what_if"})
_STAND_FOR = listed("it that this they them those these one ones both two")
_WHO = listed("he she they i we you")
_IF = listed("if suppose supposing imagine when without unless instead")
_MODES = listed("much many long often deep high hot soon late when where which who why how what")
_PERFECT = listed("has have had did was were")
_LONGEST = 9  # words
_EARTH = ("soil", "acts-earth")


def refers_to(finder: Finder, clause: Clause, facts: Sequence[Fact], asks: Mapping[int, Asking]) -> str:
    """Return the kind of question that a clause asks of what was named before it; empty if it asks something else."""
    words = finder.line.words
    if asks[clause.start] not in ("whether", "what") or not _names_nothing(finder, clause):
        return ""
    forms = [word.form for word in words[clause.start : clause.end] if not word.mark]
    verdict = finder.names("refers-verdict", clause.start, clause.end)
    if forms[0] in _PERFECT and not verdict:
        return ""  # "has it gone off?" asks how it is
    if len(forms) > _LONGEST or _MODES & set(forms[:3]) or (_IF & set(forms) and not verdict):
        return ""
    if not (verdict or (asks[clause.start] == "whether" and _STAND_FOR & set(forms[:5]) and not _WHO & set(forms[:3]))):
        return ""
    before = [one for one in finder.line.clauses if one.end <= clause.start and not asks[one.start]]
    if not before or any(is_sign(fact) for fact in facts):
        return ""
    if any(word.form in _IF for one in before for word in words[one.start : one.start + 1]):
        return ""
    return _named(finder, before)


def _names_nothing(finder: Finder, clause: Clause) -> bool:
    """Whether a clause names no stuff, no vessel and nothing else of ours."""
    if any(clause.start <= at < clause.end for at in finder.materials):
        return False
    return not things_in(finder, clause)


def _named(finder: Finder, clauses: Sequence[Clause]) -> str:
    """What clauses name last: stuff to compost, or soil; empty if neither."""
    for clause in reversed(clauses):
        span = range(clause.start, clause.end)
        stuff = [
            at
            for at in finder.materials
            if at in span and not any(finder.things(name, at) for name in (*_EARTH, "compost"))
        ]
        earth = any(finder.things(name, at) for name in _EARTH for at in span)
        if stuff:
            return "ask_soil" if earth and finder.things("soil-improver", stuff[-1]) else "ask_material"
        if earth:
            return "ask_soil"
    return ""
