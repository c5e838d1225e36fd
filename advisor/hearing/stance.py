"""The stance of what is said: told, denied, asked, supposed, past, or somebody else's.

Triggers have a scope that ends with their clause, after the method published for clinical notes: Chapman and others, A
simple algorithm for identifying negated findings and diseases in discharge summaries, Journal of Biomedical Informatics
34, 2001 (NegEx); Harkema and others, ConText, Journal of Biomedical Informatics 42, 2009.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import VERBS, Clause, Line
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.meanings import Trigger
from advisor.hearing.questions import asking, inverted
from advisor.records import dataclass

#: Where several apply, the first of these wins.
_ORDER = ("denied", "supposed", "other", "past", "asked")

#: A clause that begins so says when: what it says is asked with the clause before it.
_WHEN = frozenset({"while", "whilst", "when", "once", "until", "before", "whenever"})

_ADDING = frozenset({"and", "&", "or"})
_WITHOUT_SUBJECT = listed("do does did not never still have has had can could will would should is are was were")
_SUBJECTS = listed("i we you it they he she that this there the my our your")


@dataclass(frozen=True, slots=True)
class Taken:
    """A trigger that stands in a line, with its clause."""

    start: int
    end: int
    trigger: Trigger
    clause: Clause


@dataclass(frozen=True, slots=True)
class Stance:
    """A stance, and the words that make it so."""

    name: str
    because: str = ""


def triggers(finder: Finder) -> tuple[Taken, ...]:
    """Every trigger of a line, longest first where they overlap."""
    found: list[Taken] = []
    for clause in finder.line.clauses:
        hits = list(finder.hits(finder.vocabulary.trigger_index, clause.start, clause.end))
        for hit in sorted(hits, key=lambda one: (one.start - one.end, one.start)):
            if isinstance(hit.of, Trigger) and not any(each(finder, hit) for each in (_answers, _likens, _refuses)):
                inside = any(
                    kept.start <= hit.start and hit.end <= kept.end and kept.clause == clause for kept in found
                )
                if not inside:
                    found.append(Taken(hit.start, hit.end, hit.of, clause))
    found += _across(finder)
    return tuple(found)


def _answers(finder: Finder, hit: Hit) -> bool:
    """Whether a "no" is an answer to what was asked, and denies nothing of what comes behind: "no, a balcony"."""
    words = finder.line.words
    behind = words[hit.end].form if hit.end < len(words) else ""
    return hit.start == 0 and hit.end == 1 and words[0].form == "no" and behind == ","


def _likens(finder: Finder, hit: Hit) -> bool:
    """Whether an "if" only likens: "it smells as if something had died in it"."""
    words = finder.line.words
    return hit.start > 0 and words[hit.start].form == "if" and words[hit.start - 1].form == "as"


def _refuses(finder: Finder, hit: Hit) -> bool:
    """Whether a "will" supposes nothing, as a heap that "won't get hot" does not get hot now."""
    words = finder.line.words
    refused = hit.end < len(words) and words[hit.end].form == "not"
    return hit.end == hit.start + 1 and words[hit.start].form == "will" and refused


def _across(finder: Finder) -> Iterator[Taken]:
    """Triggers with the scope of a sentence that stand across two clauses: "what | if it smells"."""
    for sentence in finder.line.sentences:
        for hit in finder.hits(finder.vocabulary.trigger_index, sentence.start, sentence.end):
            if isinstance(hit.of, Trigger) and hit.of.scope == "sentence":
                for clause in finder.line.clauses:
                    if clause.start <= hit.start < clause.end < hit.end:
                        yield Taken(hit.start, hit.end, hit.of, clause)


def stance(finder: Finder, start: int, end: int, clause: Clause, taken: Sequence[Taken]) -> Stance:
    """The stance of words from `start` up to `end` in a clause."""
    line = finder.line
    found: dict[str, str] = {}
    wrapped: Stance | None = None
    for one in taken:
        if one.start >= start and one.end <= end:
            continue  # the way of saying holds it: "does not smell" is no denial of "does not smell"
        if _reaches(one, start, end, clause) and not _has_its_object(finder, one, start):
            found.setdefault(one.trigger.stance, line.said(one.start, one.end))
            if one.trigger.scope == "sentence" and one.trigger.stance in ("other", "supposed"):
                wrapped = wrapped or Stance(one.trigger.stance, line.said(one.start, one.end))
    if wrapped is not None:
        return wrapped  # "is it true that it never heats" denies nothing
    if "told" in found and "denied" not in found and "past" not in found:
        return Stance("told", found["told"])  # "how do I get rid of the rats" takes the rats for granted
    if is_asked(finder, clause):
        found.setdefault("asked", line.said(clause.start, min(clause.start + 2, clause.end)))
    for name in _ORDER:
        if name in found:
            return Stance(name, found[name])
    return _of_the_clause_before(finder, clause, taken)


def _of_the_clause_before(finder: Finder, clause: Clause, taken: Sequence[Taken]) -> Stance:
    """The stance of a clause without a verb or a subject of its own: "will I come home to flies | and a stink?"."""
    line = finder.line
    words = line.words[clause.start : clause.end]
    goes_on = words[0].form in _WITHOUT_SUBJECT and not any(word.form in _SUBJECTS for word in words[:2])
    if clause.joined in _ADDING and (goes_on or not any(word.form in VERBS for word in words)):
        before = next((one for one in line.clauses if one.end + 1 == clause.start), None)
        if before is not None and before.sentence == clause.sentence:
            how = stance(finder, before.end - 1, before.end, before, taken)
            if how.name in ("supposed", "other", "asked") or (how.name == "denied" and clause.joined == "or"):
                return how
    return Stance("told")


def is_asked(finder: Finder, clause: Clause) -> bool:
    """Whether what a clause says is asked and not stated."""
    line = finder.line
    return finder.once(
        ("is asked", clause.start),
        lambda: (asking(line, clause) in ("whether", "what") and inverted(line, clause)) or _is_bound(line, clause),
    )


def _is_bound(line: Line, clause: Clause) -> bool:
    """Whether a clause says when, in a question: "do I turn it | while it is hot?" tells of no heat."""
    if clause.joined not in _WHEN:
        return False
    before = [one for one in line.clauses if one.sentence == clause.sentence and one.end <= clause.start]
    return bool(before) and asking(line, before[-1]) in ("whether", "what") and inverted(line, before[-1])


def _reaches(one: Taken, start: int, end: int, clause: Clause) -> bool:
    scope = one.trigger.scope
    if scope == "sentence":
        return one.clause.sentence == clause.sentence and one.start < end
    if scope == "line":
        return True
    if scope == "back":
        return one.clause.sentence == clause.sentence and one.start >= end
    if one.clause != clause:
        return False
    if scope == "clause":
        return True
    return one.end <= start if scope == "behind" else one.start >= end


def _has_its_object(finder: Finder, one: Taken, start: int) -> bool:
    """Whether a denial denies something of its own and ends there.

    "Can't lift anything, allotment, lots of weeds"; "no lawn, peelings and leaves", where a lawn is no stuff and no
    list of stuff goes on behind it.
    """
    behind = [word.form for word in finder.line.words[one.end : start]]
    if one.trigger.stance != "denied" or one.trigger.scope != "behind" or "," not in behind:
        return False
    at = behind.index(",")
    if at and behind[at - 1] in _ANYTHING:
        return True
    if finder.line.words[one.start].form not in _NONE:
        return False
    last = len(behind) - behind[::-1].index(",")
    if last < len(behind) and (behind[last] in _ANEW or behind[last].isdigit()):
        return True
    if one.end + last == start and (finder.line.words[start].form in _ANEW or finder.line.words[start].form.isdigit()):
        return True
    stuff = any(place in finder.materials for place in range(one.end, one.end + at))
    return start in finder.materials and not stuff and not {"or", "nor"} & set(behind)


_NONE = listed("no without")
#: What begins something new behind a comma: "no shredder, three rabbits".
_ANEW = listed("a an the my our two three four five six seven eight nine ten twelve twenty several some lots plenty")
#: What is denied of all there is, or altogether: no list goes on behind it.
_ANYTHING = listed("anything much it them that this anyone anybody heavy far all")


def is_hit_in(hit: Hit, other: Hit) -> bool:
    """Whether a way of saying lies within another, longer one."""
    return other.start <= hit.start and hit.end <= other.end and (other.end - other.start) > (hit.end - hit.start)
