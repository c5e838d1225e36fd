"""Whether a line answers the question that stands open, and which of its options it picks."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import zip_longest

from advisor.hearing.cutting import cut
from advisor.hearing.english import listed
from advisor.hearing.figures import figures, kinds_asked
from advisor.hearing.finding import Finder
from advisor.hearing.meanings import Vocabulary
from advisor.hearing.questions import asking
from advisor.hearing.shapes import Asked, Fact
from advisor.hearing.stance import Taken, stance, triggers
from advisor.household.names import Same
from advisor.knowledge.base import Knowledge

_ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8}
_ORDINALS |= {"1st": 1, "2nd": 2, "3rd": 3, "4th": 4, "5th": 5, "6th": 6, "last": -1, "one": 1, "two": 2, "three": 3}
_ORDINALS |= {"four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "former": 1, "latter": -1}
_ONLY_BEFORE = listed("one option kind choice answer")
_SMALL = listed(
    "the a an of is it its i think guess suppose say would said reckon maybe probably just um er well number option "
    "no. please one s that this more like kind kinda sort bit 's to be id my me in on at and or with out so some about "
    "do does are was has have there you your we kind-of really very quite choice answer id go for "
    "behind before beside near between against"
)
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


@dataclass(frozen=True)
class _Option:
    """An option cut up: as it is worded, and other words for it."""

    own: Finder
    also: tuple[Finder, ...] = ()

    @property
    def wordings(self) -> tuple[Finder, ...]:
        return (self.own, *self.also)


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
        _Option(_finder(text, finder), tuple(_finder(one, finder) for one in also))
        for text, also in zip_longest(open_question.options, open_question.also, fillvalue=())
        if isinstance(text, str)
    ]
    named = _named(finder, options, many=open_question.many)
    if named:
        numbered = named == _numbered(finder, len(options))
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
    said: _Said, open_question: Asked, options: Sequence[_Option], read: Reader, least: float = _LEAST_SHARE
) -> tuple[int, ...]:
    """The options that a line picks by what it means; `least` is the share of its words that must speak of one."""
    not_known = [number for number, option in enumerate(options, 1) if _begins("answer-unknown", option.own)]
    if said.unknown:
        return tuple(not_known[:1])
    none = [number for number, option in enumerate(options, 1) if option.own.line.words and _is_none(option.own)]
    real = [number for number in range(1, len(options) + 1) if number not in not_known]
    some = [number for number in real if number not in none]
    gathered = _gathered(said, options, some) if open_question.many else ()
    pick = gathered or _by_yes(options, said.yes) or _by_figure(said.finder, options)
    if pick:
        return pick
    told = _by_facts(open_question, said.facts, read)
    pieces = _in_pieces(said, open_question, options, real, read)  # of some pieces no fact may be known
    return (pieces if len(pieces) > len(told) else told) or _by_words(said, options, real, least=least)


def _in_pieces(
    said: _Said, open_question: Asked, options: Sequence[_Option], real: Sequence[int], read: Reader
) -> tuple[int, ...]:
    """Where several options may hold: those of each piece of a list, if every piece picks one."""
    pieces = [piece for piece in _PIECES.split(said.finder.line.text) if piece and piece.strip()]
    if not open_question.many or len(pieces) < 2:
        return ()
    found: list[int] = []
    for piece in pieces:
        finder = _finder(piece, said.finder)
        part = _Said(finder, read(piece), triggers(finder), None, unknown=False)
        picks = _named(finder, options, many=False) or _by_words(part, options, real)
        if not picks:
            return ()
        found += picks
    return tuple(dict.fromkeys(found))


# ------------------------------------------------------------ by their own words


def _named(finder: Finder, options: Sequence[_Option], *, many: bool) -> tuple[int, ...]:
    """The option whose words a line is, or the only one that begins with them; the options of a list; numbers."""
    said = _forms(finder)
    for form in (_forms, _telling):
        for number, option in enumerate(options, 1):
            if form(finder) and any(form(finder) == form(wording) for wording in option.wordings):
                return (number,)
    exact = _numbered(finder, len(options))
    if exact and (many or len(exact) == 1):
        return exact
    begun = [number for number, option in enumerate(options, 1) if said and _forms(option.own)[: len(said)] == said]
    if len(begun) == 1 and _telling(finder):
        return (begun[0],)
    return _listed(said, options) if many else ()


def _listed(said: list[str], options: Sequence[_Option]) -> tuple[int, ...]:
    """All the options of a list in their own words, which may hold an "and"; none if it holds anything else."""
    words = [(_forms(option.own), number) for number, option in enumerate(options, 1)]
    words.sort(key=lambda pair: -len(pair[0]))
    found: list[int] = []
    at = 0
    while at < len(said):
        if found and said[at] in ("and", "&", "plus"):
            at += 1
            continue
        match = next(((own, number) for own, number in words if own and said[at : at + len(own)] == own), None)
        if match is None:
            return ()
        found.append(match[1])
        at += len(match[0])
    return tuple(dict.fromkeys(found))


def _forms(finder: Finder) -> list[str]:
    return [word.form for word in finder.line.words if not word.mark]


def _telling(finder: Finder) -> list[str]:
    return [form for form in _forms(finder) if form not in _SMALL]


def _is_none(option: Finder) -> bool:
    """Whether an option says that it is none of the others."""
    return option.line.words[0].form in ("no", "none", "neither", "nothing") or bool(option.things("answer-none", 0))


# ------------------------------------------------------------ by number, and all of them or none


def _numbered(finder: Finder, many: int) -> tuple[int, ...]:
    """Options picked by number or ordinal, if nothing else is said: "2", "1 and 3", "the second one but smaller"."""
    words = [word.form for word in finder.line.words]
    forms = [form for form in words if form.isalnum() or form == "&"]
    start = 0
    while start < len(forms) and forms[start] in _SMALL and forms[start] not in _ORDINALS:
        start += 1
    found: list[int] = []
    for place, form in enumerate(forms[start:], start):
        number = int(form) if form.isdecimal() and len(form) < 3 else _ORDINALS.get(form, 0)
        number = many if number == -1 else number
        if form in (
            "and",
            "&",
            "or",
            "plus",
            "the",
            "number",
            "option",
            "please",
            "think",
            "probably",
            "maybe",
            "then",
        ):
            continue
        if found and form in _ONLY_BEFORE:
            continue
        if found and form in ("but", "except") and forms[place - 1] in _ONLY_BEFORE | _ORDINALS.keys():
            break
        if not 1 <= number <= many or (form == "one" and place > start):
            return ()
        found.append(number)
    joined = any(mark in words for mark in (":", "/", "x", "."))
    return () if joined and len(found) > 1 else tuple(dict.fromkeys(found))


def _gathered(said: _Said, options: Sequence[_Option], real: Sequence[int]) -> tuple[int, ...]:
    """All, all except some, or both; none of them picks nothing."""
    finder = said.finder
    if _begins("answer-all", finder):
        forms = [word.form for word in finder.line.words]
        out = {
            place for place, form in enumerate(forms) if finder.things("answer-but", place) and form not in ("a", "the")
        }
        if not out:
            return tuple(real) if len(forms) <= 6 else ()
        behind = forms[min(out) + 1 :]
        left_out = {len(options) if _ORDINALS.get(form) == -1 else _ORDINALS.get(form, 0) for form in behind}
        left_out |= set(_by_words(said, options, real, from_word=min(out) + 1))
        return tuple(number for number in real if number not in left_out)
    if len(real) == 2 and _begins("answer-both", finder):
        return tuple(real)
    return ()


def _begins(name: str, finder: Finder, *, anywhere: bool = False) -> bool:
    """Whether a text begins with one of a class, but for what leads up to it; or a clause of it does."""
    starts = [clause.start for clause in finder.line.clauses] if anywhere else [0]
    words = finder.line.words
    for start in starts:
        at = start
        while at < len(words) and at < start + 4:
            if finder.things(name, at):
                return True
            if not (words[at].mark or words[at].form in _SMALL or words[at].form in ("oh", "god", "well", "honestly")):
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


def _by_yes(options: Sequence[_Option], yes: bool | None) -> tuple[int, ...]:
    """The option that says yes or no, or none where nothing holds."""
    for word in () if yes is None else ("yes",) if yes else ("no", "none"):
        for number, option in enumerate(options, 1):
            if _forms(option.own)[:1] == [word] or any(_forms(other) == [word] for other in option.also):
                return (number,)
    return ()


# ------------------------------------------------------------ by a figure, a fact, words


def _by_figure(finder: Finder, options: Sequence[_Option]) -> tuple[int, ...]:
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
    said: _Said, options: Sequence[_Option], real: Sequence[int], from_word: int = 0, least: float = _LEAST_SHARE
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


def _all_meanings(option: _Option) -> set[str]:
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
        if word.mark or word.form in _SMALL or word.form in _DENIALS or word.form in _ORDINALS:
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
