"""Whether a line answers the question that stands open, and which of its options it picks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from advisor.hearing.cutting import cut
from advisor.hearing.english import listed
from advisor.hearing.figures import figures, kinds_asked
from advisor.hearing.finding import Finder
from advisor.hearing.questions import asking
from advisor.hearing.shapes import Asked, Fact

_ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8}
_ORDINALS |= {"1st": 1, "2nd": 2, "3rd": 3, "4th": 4, "5th": 5, "6th": 6, "last": -1, "one": 1, "two": 2, "three": 3}
_ORDINALS |= {"four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "former": 1, "latter": -1}
_ONLY_BEFORE = listed("one option kind choice answer")
_SMALL = listed(
    "the a an of is it its i think guess suppose say would said reckon maybe probably just um er well number option no. "
    "please one s that this more like kind kinda sort bit 's to be id my me in on at and or with out so some about "
    "do does are was has have there you your we kind-of really very quite choice answer id go for"
)
_DENIALS = listed("not no never nor neither without")
_STRONG = ("sign.", "deed.", "place.", "wish.", "household.", "limit.", "body.")
_LEAST_SHARE = 0.3
_SHORT = 4  # words of a bare "yes, there are some"


@dataclass(frozen=True, slots=True)
class Answer:
    """What a line answers.

    Attributes:
        fits: whether the whole line is an answer.
        options: the numbers, from 1, of the options it picks.
        unknown: whether it says that it does not know.
        yes: whether it says yes or no; None if neither.
        numbered: whether the options are picked by their numbers.
    """

    fits: bool = False
    options: tuple[int, ...] = ()
    unknown: bool = False
    yes: bool | None = None
    numbered: bool = False


#: Reads the facts of another text: of the open question and of its options.
Reader = Callable[[str], Sequence[Fact]]


def answered(finder: Finder, open_question: Asked, facts: Sequence[Fact], read: Reader) -> Answer:
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
    options = () if only_asks and len(words) > 2 else _picked(finder, open_question, facts, read, yes, unknown=unknown)
    if options or unknown or (yes is not None and not any(asks)):
        numbered = bool(options) and options == _numbered(finder, len(open_question.options))
        return Answer(True, options, unknown, yes, numbered)
    return Answer(not any(asks) and _is_about(finder, open_question, facts, read), (), False, yes)


def _is_about(finder: Finder, open_question: Asked, facts: Sequence[Fact], read: Reader) -> bool:
    """Whether what a line tells is of what is asked: a figure of its kind, a fact of its kind, or nothing of another kind."""
    question = _finder(open_question.question, finder)
    kinds = kinds_asked(question)
    if any(figure.kind in kinds for figure in figures(finder)):
        return True
    told = {fact.name for fact in facts if fact.stance in ("told", "denied") and fact.name.startswith(_STRONG)}
    wanted = {fact.name for text in (open_question.question, *open_question.options) for fact in read(text)}
    if told & wanted:
        return True
    return not told and not any(finder.things("acts-did", at) for at in range(1))


def _picked(
    finder: Finder, open_question: Asked, facts: Sequence[Fact], read: Reader, yes: bool | None, *, unknown: bool
) -> tuple[int, ...]:
    options = [_finder(option, finder) for option in open_question.options]
    if not options:
        return ()
    said = _plain(finder)
    for number, option in enumerate(options, 1):
        if said == _plain(option):
            return (number,)
    exact = _numbered(finder, len(options))
    if exact:
        return exact
    not_known = [number for number, option in enumerate(options, 1) if _begins("answer-unknown", option)]
    if unknown:
        return tuple(not_known[:1])
    none = [number for number, option in enumerate(options, 1) if option.line.words and _is_none(option)]
    real = [number for number in range(1, len(options) + 1) if number not in not_known]
    for pick in (
        _gathered(finder, options, [one for one in real if one not in none]),
        _by_yes(options, yes),
        _by_figure(finder, options),
    ):
        if pick:
            return pick
    return _by_facts(open_question, facts, read) or _by_words(finder, options, real)


def _is_none(option: Finder) -> bool:
    """Whether an option says that it is none of the others."""
    return option.line.words[0].form in ("no", "none", "neither", "nothing") or bool(option.things("answer-none", 0))


# ------------------------------------------------------------ by number, and all of them or none


def _numbered(finder: Finder, many: int) -> tuple[int, ...]:
    """Options picked by number or ordinal, if nothing else is said: "2", "the second one", "1 and 3", "the second but smaller"."""
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


def _gathered(finder: Finder, options: Sequence[Finder], real: Sequence[int]) -> tuple[int, ...]:
    """All, all but some, or both; none of them picks nothing."""
    if _begins("answer-all", finder):
        forms = [word.form for word in finder.line.words]
        out = {
            place for place, form in enumerate(forms) if finder.things("answer-but", place) and form not in ("a", "the")
        }
        if not out:
            return tuple(real) if len(forms) <= 6 else ()
        behind = forms[min(out) + 1 :]
        left_out = {len(options) if _ORDINALS.get(form) == -1 else _ORDINALS.get(form, 0) for form in behind}
        left_out |= set(_by_words(finder, options, real, from_word=min(out) + 1))
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
    if at >= len(words):
        return None
    no, yes = finder.things("answer-no", at), finder.things("answer-yes", at)
    said = [word for word in words[at:] if not word.mark]
    if yes and not no and max(yes) - at > 1 and len(said) > _SHORT:
        return None  # "there are rats in it" says more than "there are"
    if no and max(no) >= max(yes, default=0):
        return False
    return True if yes else None


def _by_yes(options: Sequence[Finder], yes: bool | None) -> tuple[int, ...]:
    if yes is None:
        return ()
    for number, option in enumerate(options, 1):
        if option.line.words and option.line.words[0].form == ("yes" if yes else "no"):
            return (number,)
    return ()


# ------------------------------------------------------------ by a figure, a fact, words


def _by_figure(finder: Finder, options: Sequence[Finder]) -> tuple[int, ...]:
    """The one option whose span holds a figure of the line."""
    spans = [next(iter(figures(option)), None) for option in options]
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


def _by_words(finder: Finder, options: Sequence[Finder], real: Sequence[int], from_word: int = 0) -> tuple[int, ...]:
    """The one option whose telling words the line holds, or the one that is left when it denies the others."""
    said, denied = _meanings(finder, from_word)
    telling = [set().union(*_meanings(option, 0)) for option in options]
    common = set.intersection(*telling) if len(telling) > 1 else set()
    own = [words - common for words in telling]
    shares = {number: len(said & own[number - 1]) / max(1, len(own[number - 1])) for number in real}
    best = max(shares.values(), default=0.0)
    if best > 0:
        winners = [number for number, share in shares.items() if share == best]
        covered = len(said & telling[winners[0] - 1]) / max(1, len(said))
        alone = sum(share > 0 for share in shares.values()) == 1
        if len(winners) == 1 and (covered >= _LEAST_SHARE or (alone and len(said) <= 14)):
            return (winners[0],)
        return ()
    out = [number for number in real if denied & own[number - 1]]
    left = [number for number in real if number not in out]
    return tuple(left) if out and len(left) == 1 else ()


def _meanings(finder: Finder, from_word: int) -> tuple[set[str], set[str]]:
    """What the words of a text mean: lemmas and classes of words of one meaning; and those that stand behind a denial."""
    said: set[str] = set()
    denied: set[str] = set()
    words = finder.line.words
    names = [name for name in finder.vocabulary.classes if name.startswith("answer-") and name not in _NO_MEANING]
    for at in range(from_word, len(words)):
        word = words[at]
        if word.mark or word.form in _SMALL or word.form in _DENIALS or word.form in _ORDINALS:
            continue
        into = denied if _DENIALS & {before.form for before in words[max(from_word, at - 2) : at]} else said
        if word.form.isalpha():
            into.add(word.lemma)
        into.update(name for name in names if finder.things(name, at))
    return said, denied


_NO_MEANING = listed("answer-unknown answer-yes answer-no answer-all answer-both answer-none answer-but")


def _plain(finder: Finder) -> str:
    return " ".join(word.form for word in finder.line.words if not word.mark and word.form not in _SMALL)


def _finder(text: str, finder: Finder) -> Finder:
    return Finder(cut(text, finder.vocabulary.english), finder.vocabulary, finder.knowledge)
