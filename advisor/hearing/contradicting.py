"""Whether a line contradicts what was said or understood, and so puts it right.

By what somebody says of the telling ("nobody said it was hot", "for the last time", "whatever you have been told"), or
by form alone: "not this, it is that", one word in capitals near a denial, something never done that "was my sister's".
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.hearing.cutting import Clause, Word
from advisor.hearing.english import listed
from advisor.hearing.facts import VESSELS, things_in
from advisor.hearing.finding import Finder
from advisor.hearing.questions import Asking
from advisor.hearing.shapes import Fact

_DENIALS = listed("not never nothing no nobody none")
_BE = listed("is are was were be")
_IT = listed("it that this they those these there he she")
_BUT = listed("but however only though")
_OWNERS = listed("my our the his her their")
_WEAKENED = listed("just only actually all really simply merely probably")
_EMPHATIC = listed("is are was were did does do not meant supposed never have has had will")
_BEFORE_THIS = listed("a its mind never bad on mean meant i")
_JOINING = listed("and or but if the for with")
_MOST_BETWEEN = 6  # words of what a thing is not
_REACH = 3  # words between the denial at the start of a clause and its verb
_SHORT = 9  # words: a line of "this, not that"
_NO = listed("no nope nah sorry wait oops whoops")
_RATHER = listed("more rather")
_MOST_TAG = 3
_LEAST_CAPITALS = 3  # letters
_NO_WORDS = listed("compost ph npk rhs uk usa diy hoa pvc mdf pla led ec om")
_SAID = listed("said say told again time meant")
_HELPERS = listed("is are was were do does did have has had can could will would should")
_THAT = listed("that those it they")


def contradicts(finder: Finder, facts: Sequence[Fact], asks: Mapping[int, Asking]) -> Clause | None:
    """The clause that contradicts; nothing if none does, or the line asks for something.

    Args:
        finder, facts: of the line.
        asks: how each clause asks, by its first word.
    """
    clauses = finder.line.clauses
    insists = next(iter(finder.where("con-insists")), None)
    against = any(finder.where(name) for name in ("con-insists", "con-unsaid", "con-told"))
    if any(_asks(finder, clause, asks, against=against) for clause in clauses):
        return None
    for clause in clauses:
        if _unsaid(finder, clause, facts) or _told_otherwise(finder, clause, facts):
            return clause
        if _is_not_but_is(finder, clause, facts) or _was_of_others(finder, clause):
            return clause
    first = clauses[0] if clauses else None
    if first is None:
        return None
    if _begins_with_no(finder) or _did_another(finder) or _slip_then_not(finder) or finder.where("con-mistake"):
        return first
    if insists is not None and (
        _denies(finder, 0, insists) or (insists == 0 and any(_named(finder, one, facts) for one in clauses))
    ):
        return first
    if _is_emphatic(finder) or _opens_with_not(finder, facts) or _this_not_that(finder) or _is_no_vessel(finder):
        return first
    return None


def _asks(finder: Finder, clause: Clause, asks: Mapping[int, Asking], *, against: bool) -> bool:
    """Whether a clause asks in earnest: no "what are you on about", and no tag in a line that speaks of the telling."""
    if not asks[clause.start]:
        return False
    if any(finder.names(name, clause.start, clause.end) for name in ("con-insists", "con-unsaid")):
        return False
    if not against:
        return True
    place = finder.line.clauses.index(clause)
    return not any(_is_tag(finder, one) for one in finder.line.clauses[place : place + 2])


def _is_tag(finder: Finder, clause: Clause) -> bool:
    """Whether a clause begins with a tag behind a statement: "weren't they", "is it"."""
    words = finder.line.words[clause.start : clause.end]
    tag = [word.form for word in words[:_MOST_TAG]]
    at = 2 if tag[1:2] == ["not"] else 1
    ends = at + 1 >= len(words) or words[at + 1].mark
    return clause.start > 0 and tag[0] in _HELPERS and len(tag) > at and tag[at] in _IT and ends


def _denies(finder: Finder, start: int, end: int) -> bool:
    return any(word.form in _DENIALS for word in finder.line.words[start:end])


def _named(finder: Finder, clause: Clause, facts: Sequence[Fact], start: int | None = None) -> bool:
    """Whether a clause from a word on names something of ours: a fact of any stance, stuff, a thing, a figure."""
    words = finder.line.words
    begin = clause.start if start is None else start
    if begin >= clause.end:
        return False
    first, last = words[begin].start, words[clause.end - 1].end
    if any(first <= fact.start < last for fact in facts):
        return True
    if any(begin <= at < clause.end for at in (*finder.materials, *finder.numbers)):
        return True
    return any(begin <= hit.start for hit in things_in(finder, clause))


def _sentence(finder: Finder, clause: Clause) -> list[Clause]:
    return [one for one in finder.line.clauses if one.sentence == clause.sentence]


def _unsaid(finder: Finder, clause: Clause, facts: Sequence[Fact]) -> bool:
    """Whether it was never said: "nobody said it was too hot", "I never said eggs"."""
    for at in range(clause.start, clause.end):
        ends = finder.things("con-unsaid", at)
        if ends:
            behind = [one for one in _sentence(finder, clause) if one.end > max(ends)]
            return any(_named(finder, one, facts, max(one.start, max(ends))) for one in behind)
    return False


def _told_otherwise(finder: Finder, clause: Clause, facts: Sequence[Fact]) -> bool:
    """Whether what was told is told otherwise: "I told you leaves, but they were needles"."""
    words = finder.line.words
    for at in range(clause.start, min(clause.start + _REACH, clause.end)):
        ends = finder.things("con-told", at)
        if not ends or not _named(finder, clause, facts, max(ends)) or words[max(ends)].form in ("to", "i", "so"):
            continue
        later = [one for one in finder.line.clauses if one.start >= clause.end]
        return any(
            one.joined in _BUT or words[one.start].form in _BUT or _says_it_was(finder, one) for one in later[:1]
        )
    return False


def _says_it_was(finder: Finder, clause: Clause) -> bool:
    """Whether a clause says in short what it was: "it was two", "there were nine"."""
    words = finder.line.words[clause.start : clause.end]
    short = len([word for word in words if not word.mark]) <= _MOST_BETWEEN
    return short and len(words) > 2 and words[0].form in (*_IT, "there") and words[1].form in ("was", "were", "is")


def _is_not_but_is(finder: Finder, clause: Clause, facts: Sequence[Fact]) -> bool:
    """Whether it is said what something is not, and then what it is: "those are not mites, it is poppy seed"."""
    words = finder.line.words
    at = next((at for at in range(clause.start, clause.end - 1) if words[at].form in _BE), None)
    if at is None or words[at + 1].form != "not" or at - clause.start > _REACH or clause.joined in ("if", "because"):
        return False
    if not 1 <= clause.end - at - 2 <= _MOST_BETWEEN or words[at + 2].form in ("that", "as", "so", "sure", "only"):
        return False
    if words[clause.start].form not in (*_IT, *_OWNERS, "mine") or not _named(finder, clause, facts, at + 2):
        return False
    if at - clause.start > 1 and not _is_noun(finder, at + 2, clause, facts):
        return False
    place = finder.line.clauses.index(clause) + 1
    if place >= len(finder.line.clauses):
        return False
    other = finder.line.clauses[place]
    if (
        other.joined in ("but", "and", "because", "so")
        or words[other.start].form not in _IT
        or other.end - other.start < 3
    ):
        return False
    if words[other.start + 1].form not in _BE or words[other.start + 2].form == "not":
        return False
    return not _is_trouble(finder, other, facts)


def _is_noun(finder: Finder, at: int, clause: Clause, facts: Sequence[Fact]) -> bool:
    """Whether what stands from a word on is a thing and no quality: maggots, mould, smoke, not wet or dark."""
    words = finder.line.words
    if at in finder.materials or any(hit.start >= at for hit in things_in(finder, clause)):
        return True
    first, last = words[at].start, words[clause.end - 1].end
    return any(first <= fact.start < last and fact.name in _THINGS for fact in facts)


def _is_trouble(finder: Finder, clause: Clause, facts: Sequence[Fact]) -> bool:
    words = finder.line.words
    first, last = words[clause.start].start, words[clause.end - 1].end
    concepts = finder.vocabulary.concepts
    return any(
        first <= fact.start < last and fact.stance == "told" and fact.concept in concepts and concepts[fact.concept].bad
        for fact in facts
    )


def _was_of_others(finder: Finder, clause: Clause) -> bool:
    """Whether what was never done was somebody else's doing: "I never emptied it. That was my sister's"."""
    words = finder.line.words
    forms = [word.form for word in words[clause.start : clause.end] if not word.mark]
    if len(forms) < 3 or forms[0] not in ("i", "we") or not {"never", "not"} & set(forms[1:4]):
        return False
    later = finder.line.clauses[finder.line.clauses.index(clause) + 1 :]
    for one in later[:1]:
        said = [word.form for word in words[one.start : one.end] if not word.mark]
        if len(said) > 2 and said[0] in _THAT and said[1] in _BE and (said[2] in _OWNERS or "'s" in said):
            return True
    return False


def _is_emphatic(finder: Finder) -> bool:
    """Whether one word stands in capitals in a line that denies or says again: "it is STEAM, not smoke"."""
    line = finder.line
    written = [(word, line.text[word.start : word.end]) for word in line.words if not word.mark]
    loud = [word for word, said in written if _is_loud(word, said)]
    if not loud or len(loud) > 2 or len(written) < 4:
        return False
    if any(word.form in _EMPHATIC for word in loud):
        return True
    return any(word.form in _SAID or word.form in ("not", "never") for word, _ in written)


def _is_loud(word: Word, said: str) -> bool:
    if not (said.isalpha() and said.isupper() and word.form not in _NO_WORDS | _JOINING):
        return False
    return len(said) >= _LEAST_CAPITALS or word.form in _EMPHATIC


def _opens_with_not(finder: Finder, facts: Sequence[Fact]) -> bool:
    """Whether a line begins with what is not so, and then says what is: "not wet. damp."."""
    words = finder.line.words
    at = 1 if words and words[0].form in ("no", "nah", "nope") and len(words) > 1 else 0
    at += at < len(words) and words[at].mark
    if at >= len(words) or words[at].form != "not":
        return False
    denied = [fact for fact in facts if fact.stance == "denied" and fact.start >= words[at].start]
    told = [fact for fact in facts if fact.stance == "told"]
    names = {fact.name for fact in denied}
    if denied and any(word.form in _RATHER for word in words[at + 2 :]):
        return True  # "not ammonia now I smell it again, more like pear drops"
    return any(one.name in names and one.start > denied[0].start for one in told)


def _begins_with_no(finder: Finder) -> bool:
    """Whether a line says "no" and then what something is or was: "no, it was the other bin"."""
    words = finder.line.words
    forms = [word.form for word in words if not word.mark]
    at = next((at for at, form in enumerate(forms) if form not in _NO), len(forms))
    return 0 < at < len(forms) - 1 and forms[0] != "sorry" and forms[at] in _IT and forms[at + 1] in _BE


def _slip_then_not(finder: Finder) -> bool:
    """Whether a line takes something back and says what it is not: "sorry, not the bin, it's the tumbler"."""
    words = finder.line.words
    at = 0
    while at < len(words) and (words[at].mark or words[at].form in _NO or finder.things("con-slip", at)):
        at = max(finder.things("con-slip", at), default=at + 1)
    if not 0 < at < len(words) - 1 or words[at].form != "not" or finder.line.sentences[0].asks:
        return False
    later = [one for one in finder.line.clauses if one.start > at]
    return any(
        words[one.start].form in _IT and words[one.start + 1].form in _BE for one in later if one.end - one.start > 1
    )


def _did_another(finder: Finder) -> bool:
    """Whether what somebody did not do was done by another: "my neighbour did not complain, I complain"."""
    words = finder.line.words
    for clause, other in zip(finder.line.clauses, finder.line.clauses[1:], strict=False):
        denied = next((at for at in range(clause.start, clause.end - 1) if words[at].form == "not"), None)
        if denied is None or words[denied - 1].lemma != "do" or other.end - other.start > _MOST_BETWEEN:
            continue
        verb = words[denied + 1].lemma
        same = any(word.lemma == verb for word in words[other.start + 1 : other.end])
        if same and not _denies(finder, other.start, other.end) and words[other.start].form != words[clause.start].form:
            return other.joined not in ("if", "because", "when", "and")
    return False


def _this_not_that(finder: Finder) -> bool:
    """Whether a short line says "this, not that" of two kinds of stuff, and commands nothing."""
    words = finder.line.words
    said = [at for at, word in enumerate(words) if not word.mark]
    if len(said) > _SHORT or words[0].lemma in ("make", "use", "put", "take", "give", "try", "have"):
        return False
    for at in said:
        behind = at + 1
        if words[at].form != "not" or behind not in finder.materials:
            continue
        before = [one.start for one in finder.materials.values() if at - 2 <= one.end <= at]
        if not before and at and not finder.vocabulary.english.is_ordinary(words[at - 1].form):
            before = [at - 1]  # a slip of the pen: "its gras not hay"
        if (
            before
            and finder.materials[behind].end >= len(words) - 1
            and all(_leads(finder, one) for one in range(before[0]))
        ):
            return True
    return False


def _leads(finder: Finder, at: int) -> bool:
    word = finder.line.words[at]
    leads = word.mark or word.form in _IT | _BE | _WEAKENED | _OWNERS | _BEFORE_THIS
    return leads or bool(finder.things("con-slip", at))


def _is_no_vessel(finder: Finder) -> bool:
    """Whether a line begins with a sentence that says which vessel it is not: "it's not a tumbler. ..."."""
    words = finder.line.words
    first = finder.line.sentences[0]
    said = [word.form for word in words[first.start : first.end] if not word.mark]
    if (
        len(said) < 4
        or said[0] not in ("it", "mine", "this", "that")
        or said[1:3] not in (["is", "not"], ["was", "not"])
    ):
        return False
    clause = finder.line.clauses[0]
    things = [hit for hit in things_in(finder, clause) if str(hit.of) in VESSELS]
    return clause.end >= first.end and said[3] in ("a", "an", "my", "the", "our") and bool(things) and len(said) <= 6


#: Facts that are said with a noun.
_THINGS = frozenset({"sign.animals", "sign.looks", "sign.steam", "sign.liquid", "sign.holds", "household.animals"})
