"""Whether a line answers the question that stands open, and which of its options it picks."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import zip_longest

from advisor.hearing.cutting import cut
from advisor.hearing.english import listed
from advisor.hearing.figures import figures, kinds_asked
from advisor.hearing.finding import Finder
from advisor.hearing.meanings import Vocabulary
from advisor.hearing.options import ORDINALS, SMALL, Option, forms_of, named_in, numbered_in
from advisor.hearing.questions import asking
from advisor.hearing.shapes import Asked, Fact
from advisor.hearing.stance import Taken, stance, triggers
from advisor.household.names import Same
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

_STRONG = ("sign.", "deed.", "place.", "wish.", "household.", "limit.", "body.")
_DENIALS = listed("not no never nor neither without none")  # words without a meaning of their own
_PIECES = re.compile(r",|;|&|\band\b|\bplus\b")
_LEAST_SHARE = 0.3
_SURE_SHARE = 0.51  # most of it
_SHORT = 4  # words of a bare "yes, there are some"


@dataclass(frozen=True, slots=True)
class Answer:
    """What a line answers.

    Attributes:
        fits: whether the whole line is an answer.
        options: the numbers, from 1, of the options it picks.
        unknown: whether it says that it does not know.
        yes: whether it says yes or no; None if neither.
        named: whether it is nothing but an option's own words, or numbers of options.
        sure: whether the options are what most of it speaks of.
        numbered: whether the options are picked by their numbers.
    """

    fits: bool = False
    options: tuple[int, ...] = ()
    unknown: bool = False
    yes: bool | None = None
    named: bool = False
    sure: bool = False
    numbered: bool = False


#: Reads the facts of another text: of the open question and of its options.
Reader = Callable[[str], Sequence[Fact]]


def answered(
    finder: Finder, open_question: Asked, facts: Sequence[Fact], taken: Sequence[Taken], read: Reader
) -> Answer:
    """What a line answers to the open question; nothing if none is open or the line is something else.

    A number counts only if nothing else is said; a digit inside a longer line, a ratio, a size or a date picks nothing.
    """
    if not (open_question.question or open_question.options):
        return Answer()
    words = [word for word in finder.line.words if not word.mark]
    if not words:
        return Answer()
    asks = [asking(finder.line, clause) for clause in finder.line.clauses]
    only_asks = bool(asks) and all(asks)
    unknown = not only_asks and _begins("answer-unknown", finder, anywhere=True)
    yes = _yes(finder)
    options = [
        Option(_finder(text, finder), tuple(_finder(one, finder) for one in also))
        for text, also in zip_longest(open_question.options, open_question.also, fillvalue=())
        if isinstance(text, str)
    ]
    named = named_in(finder, options, many=open_question.many)
    if named:
        numbered = named == numbered_in(finder, len(options))
        return Answer(True, named, unknown, yes, named=True, sure=True, numbered=numbered)
    picks: tuple[int, ...] = ()
    sure = False
    if options and not (only_asks and len(words) > 2):
        said = _Said(finder, facts, taken, yes, unknown)
        picks = _picked(said, open_question, options, read)
        sure = picks == _picked(said, open_question, options, read, _SURE_SHARE) != ()
    if picks or unknown or (yes is not None and not any(asks)):
        return Answer(True, picks, unknown, yes, sure=sure)
    return Answer(not any(asks) and _is_about(finder, open_question, facts, read), (), False, yes)


def _is_about(finder: Finder, open_question: Asked, facts: Sequence[Fact], read: Reader) -> bool:
    """Whether what a line tells is of what is asked: a figure or a fact of its kind, or nothing of another kind."""
    question = _finder(open_question.question, finder)
    kinds = kinds_asked(question)
    if any(figure.kind in kinds for figure in figures(finder)):
        return True
    told = [fact for fact in facts if fact.stance in ("told", "denied") and fact.name.startswith(_STRONG)]
    wanted = {fact.name for text in (open_question.question, *open_question.options) for fact in read(text)}
    if wanted & {fact.name for fact in told}:
        return True
    end = _first_piece(finder)  # an answer comes first; what else is told comes behind it
    return not any(fact.start < end for fact in told) and not any(finder.things("acts-did", at) for at in range(1))


def _first_piece(finder: Finder) -> int:
    """The character at which the first piece of a line ends: its first clause, or what stands before a comma."""
    words, first = finder.line.words, finder.line.clauses[0]
    mark = next((word for word in words[1 : first.end] if word.mark and word.form == ","), None)
    return mark.start if mark is not None else words[first.end - 1].end


@dataclass(frozen=True)
class _Said:
    """A line that may answer: its facts, what changes their stance, and whether it says yes, no or "I don't know"."""

    finder: Finder
    facts: Sequence[Fact]
    taken: Sequence[Taken]
    yes: bool | None
    unknown: bool


def _picked(
    said: _Said, open_question: Asked, options: Sequence[Option], read: Reader, least: float = _LEAST_SHARE
) -> tuple[int, ...]:
    """The options that a line picks by what it means; `least` is the share of its words that must speak of one."""
    not_known = [number for number, option in enumerate(options, 1) if _begins("answer-unknown", option.own)]
    if said.unknown:
        return tuple(not_known[:1])
    none = [number for number, option in enumerate(options, 1) if option.own.line.words and _is_none(option.own)]
    real = [number for number in range(1, len(options) + 1) if number not in not_known]
    some = [number for number in real if number not in none]
    gathered = _gathered(said, options, some) if open_question.many else ()
    pick = gathered or _by_yes(options, said.yes)
    if not pick and not _is_of_a_heap(said.facts, open_question):
        pick = _by_figure(said.finder, options)
    if pick:
        return pick
    told = _by_facts(open_question, said.facts, read)
    pieces = _in_pieces(said, open_question, options, real, read)  # of some pieces no fact may be known
    return (pieces if len(pieces) > len(told) else told) or _by_words(said, options, real, least=least)


def _is_of_a_heap(facts: Sequence[Fact], open_question: Asked) -> bool:
    """Whether a line reads a heap's heat, and the open question is of something else: of the climate, say."""
    of_signs = not open_question.attribute or open_question.attribute.startswith("sign.")
    return not of_signs and any(fact.name == "sign.degrees" and fact.stance == "told" for fact in facts)


def _in_pieces(
    said: _Said, open_question: Asked, options: Sequence[Option], real: Sequence[int], read: Reader
) -> tuple[int, ...]:
    """Where several options may hold: those of each piece of a list, if every piece picks one."""
    pieces = [piece for piece in _PIECES.split(said.finder.line.text) if piece and piece.strip()]
    if not open_question.many or len(pieces) < 2:
        return ()
    found: list[int] = []
    for piece in pieces:
        finder = _finder(piece, said.finder)
        part = _Said(finder, read(piece), triggers(finder), None, unknown=False)
        picks = named_in(finder, options, many=False) or _by_words(part, options, real)
        if not picks:
            return ()
        found += picks
    return tuple(dict.fromkeys(found))


def _is_none(option: Finder) -> bool:
    """Whether an option says that it is none of the others."""
    return option.line.words[0].form in ("no", "none", "neither", "nothing") or bool(option.things("answer-none", 0))


# ------------------------------------------------------------ all of them or none


def _gathered(said: _Said, options: Sequence[Option], real: Sequence[int]) -> tuple[int, ...]:
    """All, all except some, or both; none of them picks nothing."""
    finder = said.finder
    if _begins("answer-all", finder):
        forms = [word.form for word in finder.line.words]
        out = {
            place for place, form in enumerate(forms) if finder.things("answer-but", place) and form not in ("a", "the")
        }
        if not out:
            return tuple(real) if len(forms) <= 6 and not _names_other(finder) else ()
        behind = forms[min(out) + 1 :]
        left_out = {len(options) if ORDINALS.get(form) == -1 else ORDINALS.get(form, 0) for form in behind}
        left_out |= set(_by_words(said, options, real, from_word=min(out) + 1))
        return tuple(number for number in real if number not in left_out)
    if len(real) == 2 and _begins("answer-both", finder):
        return tuple(real)
    return ()


def _names_other(finder: Finder) -> bool:
    """Whether a line names stuff, so that "all" is said of that: "it's all dry leaves"."""
    return bool(finder.materials)


def _begins(name: str, finder: Finder, *, anywhere: bool = False) -> bool:
    """Whether a text begins with one of a class, but for what leads up to it; or a clause of it does."""
    starts = [clause.start for clause in finder.line.clauses] if anywhere else [0]
    words = finder.line.words
    for start in starts:
        at = start
        while at < len(words) and at < start + 4:
            if finder.things(name, at):
                return True
            if not (words[at].mark or words[at].form in SMALL or words[at].form in ("oh", "god", "well", "honestly")):
                break
            at += 1
    return False


# ------------------------------------------------------------ yes and no


def _yes(finder: Finder) -> bool | None:
    """Whether a line begins with yes or no."""
    words = finder.line.words
    at = 0
    while at < len(words) and (words[at].mark or words[at].form in ("oh", "er", "um", "well", "god", "i", "think")):
        if finder.things("answer-no", at) or finder.things("answer-yes", at):
            break
        at += 1
    if at >= len(words) or [word.form for word in words[at : at + 2]] == ["never", "mind"]:
        return None  # "never mind" leaves the question
    no, yes = finder.things("answer-no", at), finder.things("answer-yes", at)
    said = [word for word in words[at:] if not word.mark]
    if yes and not no and max(yes) - at > 1 and len(said) > _SHORT:
        return None  # "there are rats in it" says more than "there are"
    if no and max(no) >= max(yes, default=0):
        return False
    return True if yes else None


def _by_yes(options: Sequence[Option], yes: bool | None) -> tuple[int, ...]:
    """The option that says yes or no, or none where nothing holds."""
    for word in () if yes is None else ("yes",) if yes else ("no", "none"):
        for number, option in enumerate(options, 1):
            if forms_of(option.own)[:1] == [word] or any(forms_of(other) == [word] for other in option.also):
                return (number,)
    return ()


# ------------------------------------------------------------ by a figure, a fact, words


def _by_figure(finder: Finder, options: Sequence[Option]) -> tuple[int, ...]:
    """The one option whose span holds a figure of the line."""
    spans = [next(iter(figures(option.own)), None) for option in options]
    for figure in figures(finder):
        middle = (figure.low + min(figure.high, 10 * figure.low + 1)) / 2
        holds = [
            number
            for number, span in enumerate(spans, 1)
            if span is not None and span.kind == figure.kind and span.low <= middle <= span.high
        ]
        if len(holds) == 1:
            return (holds[0],)
    return ()


def _by_facts(open_question: Asked, facts: Sequence[Fact], read: Reader) -> tuple[int, ...]:
    """Options that state what the line tells."""
    told = {(fact.name, fact.value) for fact in facts if fact.stance == "told"}
    if not told:
        return ()
    stated = [{(fact.name, fact.value) for fact in read(option)} for option in open_question.options]
    return tuple(number for number, pairs in enumerate(stated, 1) if pairs & told)


def _by_words(
    said: _Said, options: Sequence[Option], real: Sequence[int], from_word: int = 0, least: float = _LEAST_SHARE
) -> tuple[int, ...]:
    """The one option whose telling words the line holds, or the one that is left when it denies the others."""
    told, denied = _meanings(said.finder, said.taken, from_word)
    telling = [_all_meanings(option) for option in options]
    counts = any(at >= from_word and not _is_in_word(said.finder, at) for at in said.finder.numbers)
    counts = counts and not any(option.own.numbers for option in options)
    if counts:
        return ()  # "3 sacks of earth" is no smell of earth
    common = set.intersection(*telling) if len(telling) > 1 else set()
    own = [words - common for words in telling]
    # each option is as wide as its own wording: other words for it make no share smaller
    wide = [max(1, len(_meaning(Same(option.own)) - common)) for option in options]
    shares = {number: len(told & own[number - 1]) / wide[number - 1] for number in real}
    best = max(shares.values(), default=0.0)
    if best > 0:
        winners = [number for number, share in shares.items() if share == best]
        covered = len(told & telling[winners[0] - 1]) / max(1, len(told))
        alone = sum(share > 0 for share in shares.values()) == 1
        if len(winners) == 1 and (covered >= least or (alone and least <= _LEAST_SHARE and len(told) <= 14)):
            return (winners[0],)
        return ()
    out = [number for number in real if denied & own[number - 1]]
    left = [number for number in real if number not in out]
    return tuple(left) if out and len(left) == 1 else ()


def _is_in_word(finder: Finder, at: int) -> bool:
    """Whether a figure is part of a word: the 2 of "H2S"."""
    words = finder.line.words
    return at > 0 and words[at - 1].end == words[at].start and words[at - 1].form.isalpha()


def _all_meanings(option: Option) -> set[str]:
    return set().union(*(_meaning(Same(wording)) for wording in option.wordings))


@lru_cache(maxsize=512)
def _meaning(wording: Same[Finder]) -> frozenset[str]:
    """What the words of an option mean."""
    said, denied = _meanings(wording.value, (), 0)
    return frozenset(said | denied)


@lru_cache(maxsize=4)
def _of_meaning(vocabulary: Same[Vocabulary]) -> tuple[str, ...]:
    """The classes of words of one meaning."""
    return tuple(name for name in vocabulary.value.classes if name.startswith("answer-") and name not in _NO_MEANING)


def _meanings(finder: Finder, taken: Sequence[Taken], from_word: int) -> tuple[set[str], set[str]]:
    """What the words of a text mean: lemmas and classes of words of one meaning; and those that are denied."""
    said: set[str] = set()
    denied: set[str] = set()
    words = finder.line.words
    names = _of_meaning(Same(finder.vocabulary))
    for at in range(from_word, len(words)):
        word = words[at]
        if word.mark or word.form in SMALL or word.form in _DENIALS or word.form in ORDINALS:
            continue
        clause = finder.line.clause_of(at) if taken else None
        out = clause is not None and stance(finder, at, at + 1, clause, taken).name == "denied"
        into = denied if out else said
        if word.form.isalpha():
            into.add(word.lemma)
        into.update(name for name in names if finder.things(name, at))
    return said, denied


_NO_MEANING = listed("answer-unknown answer-yes answer-no answer-all answer-both answer-none answer-but")


def _finder(text: str, finder: Finder) -> Finder:
    return _finder_kept(text, Same(finder.vocabulary), Same(finder.knowledge))


@lru_cache(maxsize=512)
def _finder_kept(text: str, vocabulary: Same[Vocabulary], knowledge: Same[Knowledge]) -> Finder:
    """A finder of a question or an option, which are asked again and again; it remembers what it found."""
    return Finder(cut(text, vocabulary.value.english), vocabulary.value, knowledge.value)
