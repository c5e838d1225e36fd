"""A line cut up: words with their lemmas and places, sentences, clauses."""

from __future__ import annotations

import re
import unicodedata

from advisor.hearing.english import English, listed
from advisor.records import dataclass

#: Nobody says more than this in one go: what is longer was pasted, and is read so far.
LONGEST = 2000

_TOKEN = re.compile(r"\d+(?:[.,]\d+)*(?:(?:st|nd|rd|th)(?![^\W\d_]))?|[^\W\d_]+(?:'[^\W\d_]+)*|\n|[^\w\s]")
_STRAIGHT = str.maketrans({"’": "'", "‘": "'", "ʼ": "'", "`": "'", "´": "'", "“": '"', "”": '"', "–": "-", "—": "-"})
_ENDS = frozenset(".!?;\n…")
#: Words that can begin a clause of its own behind "and" or a comma: somebody, something, or a verb with its helper.
_OPENERS = listed(
    "i it we they he she you there this that these those my our the a an his her its one now then is are "
    "was were has have had do does did can could should would will may must what how why when where which "
    "who not also still nothing nobody everything maybe perhaps please"
)
VERBS = listed(
    "is are was were be been am has have had do does did can could should would will shall may might must "
    "get got gets go goes going went smell smells stink stinks keep keeps come comes came look looks seem "
    "seems turn turned put said says say want need think feel feels make makes made take took run runs "
    "start started stop stopped"
)
_PARTING = listed(
    "but because cause since while whilst although though whereas so unless until before after if when "
    "which where who however whenever except plus"
)
#: Behind these "but" means "except": "nothing but leaves".
_BUT = frozenset({"nothing", "all", "anything", "none", "everything", "last"})
#: What a question begins with, what it asks about that was named before, and what it may judge it to be.
_ASKING = listed("is are can could should shall will would do does may")
#: Besides VERBS and pasts in "ed" (but not "seed") these tell that something has happened.
_HAPPENED = listed("gone done dug grown eaten found left gave grew broke fell sank rose died crept sits stays lies 's")
_QUESTION_WORDS = listed("what which who whose when where how why any")
_NAMED_BEFORE = listed("it they this that these those i we")
_JUDGED = listed(
    "ok okay alright normal good bad safe fine right wrong allowed dangerous harmful enough true compostable"
)
#: Behind one of these no new question begins: "only then did it heat", "what else can I do", "the trouble is that".
_LEADING_ON = listed(
    "not no never nor neither only so as than hardly rarely what which who whose when where how why if "
    "whether that all best and or but"
)
#: What is written out behind any noun.
_SHORTENED = {"ll": "will", "ve": "have", "re": "are"}
#: Behind these "on earth" only marvels.
_MARVELLED = listed(
    "what which who whose when where how why reason nothing anything anyone nobody way something no-one"
)
_LABELS = frozenset({":", "="})
_LABEL_WORDS, _VALUE_WORDS = 2, 4
#: In words. A longer part behind a comma is a clause, a shorter one without a verb is more of a list.
_LONGEST_LIST_PART = 4


@dataclass(frozen=True, slots=True)
class Word:
    """A word, a number or a mark.

    Attributes:
        form: in lower case, written out and put right.
        lemma: its dictionary form.
        start, end: its characters in the line.
        mark: whether it is a mark.
        slip: whether it was put right.
    """

    form: str
    lemma: str
    start: int
    end: int
    mark: bool = False
    slip: bool = False


@dataclass(frozen=True, slots=True)
class Clause:
    """Words from `start` up to `end`, in sentence number `sentence`; `joined` is the word that led to it, or empty."""

    start: int
    end: int
    sentence: int
    joined: str = ""


@dataclass(frozen=True, slots=True)
class Sentence:
    """Words from `start` up to `end`; `asks` if a question mark stands behind them."""

    start: int
    end: int
    asks: bool


@dataclass(frozen=True)
class Line:
    """A line cut up."""

    text: str
    words: tuple[Word, ...]
    sentences: tuple[Sentence, ...]
    clauses: tuple[Clause, ...]

    def said(self, start: int, end: int) -> str:
        """What was typed from one word up to another."""
        return self.text[self.words[start].start : self.words[end - 1].end] if start < end else ""

    def clause_of(self, at: int) -> Clause:
        """The clause in which a word stands; of a mark between two clauses, the one behind it."""
        return next((clause for clause in self.clauses if at < clause.end), self.clauses[-1])


def cut(text: str, english: English) -> Line:
    """Cut a line up. Signs that cannot be seen are passed over; what lies beyond 2,000 characters is not read."""
    plain = _visible(text[:LONGEST]).translate(_STRAIGHT)
    words = tuple(_exclaimed(_labelled(_words(plain, english))))
    sentences = tuple(_sentences(words))
    return Line(plain, words, sentences, tuple(_clauses(words, sentences)))


def _visible(text: str) -> str:
    """The text with a blank for every sign that cannot be seen, so that places stay the same."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_seen(sign) for sign in text)


def _seen(sign: str) -> str:
    if sign in "\n\u2028\u2029\x85":
        return "\n"
    return " " if unicodedata.category(sign)[0] == "C" or sign == "\u00a0" else sign


def _words(text: str, english: English) -> list[Word]:
    found: list[Word] = []
    for match in _TOKEN.finditer(text):
        token, start, end = match.group().lower(), match.start(), match.end()
        if not token[0].isalnum():
            found.append(Word(token, token, start, end, mark=token != "&"))
            continue
        for form in _parts(token, english):
            meant = english.meant(form)
            found.append(Word(meant, english.lemma(meant), start, end, slip=meant != form))
    return found


def _labelled(words: list[Word]) -> list[Word]:
    """A label and its value read as a sentence: "odour: nil" as "odour is nil"."""
    for at, word in enumerate(words):
        if word.mark and word.form in _LABELS and _is_label(words, at):
            words[at] = Word("is", "be", word.start, word.end)
    return words


def _exclaimed(words: list[Word]) -> list[Word]:
    """With "on earth" that only marvels read so: "what on earth is it" asks of no soil."""
    for at in range(1, len(words) - 1):
        if (words[at].form, words[at + 1].form) == ("on", "earth") and words[at - 1].form in _MARVELLED:
            for place in (at, at + 1):
                words[place] = Word("ever", "ever", words[place].start, words[place].end)
    return words


def _is_label(words: list[Word], at: int) -> bool:
    """Whether a colon or "=" stands between a label of a word or two and a value of a few words, and nothing more."""
    first, last = at, at + 1
    while first > 0 and not words[first - 1].mark:
        first -= 1
    while last < len(words) and not words[last].mark:
        last += 1
    if at + 1 >= len(words) or (words[at + 1].start == words[at].end and words[at].form == ":"):
        return False  # 30:1, C:N
    return 1 <= at - first <= _LABEL_WORDS and 1 <= last - at - 1 <= _VALUE_WORDS and words[first].form.isalpha()


def _parts(token: str, english: English) -> tuple[str, ...]:
    full = english.full.get(token)
    if full is not None:
        return full
    head, mark, tail = token.partition("'")
    if not mark:
        return (token,)
    if tail == "s":
        return (*english.written_out(head), "'s")
    joined = english.full.get(head + tail)
    if joined is not None:
        return joined
    return (head, *((_SHORTENED.get(tail, tail),) if len(tail) > 1 else ()))  # "what gauge'll stop a rat"


def _sentences(words: tuple[Word, ...]) -> list[Sentence]:
    found: list[Sentence] = []
    start = at = 0
    while at < len(words):
        if not (words[at].mark and words[at].form in _ENDS):
            at += 1
            continue
        end, asks = at, False
        while at < len(words) and words[at].mark and words[at].form in _ENDS:
            asks = asks or words[at].form == "?"
            at += 1
        if end > start:
            found.append(Sentence(start, end, asks))
        start = at
    if start < len(words):
        found.append(Sentence(start, len(words), False))
    return found


#: What such a word brings behind a comma stands against what was said before: "no smoke, just steam".
_INSTEAD = frozenset({"just", "only", "merely"})


def _clauses(words: tuple[Word, ...], sentences: tuple[Sentence, ...]) -> list[Clause]:
    found: list[Clause] = []
    for number, sentence in enumerate(sentences):
        start, joined = sentence.start, ""
        at = start
        while at < sentence.end:
            parts, skip = _cuts(words, at, sentence)
            if parts:
                if at > start:
                    found.append(Clause(start, at, number, joined))
                joined = words[at].form
                start = at + skip
                at = start
            at += 1
        if start < sentence.end:
            found.append(Clause(start, sentence.end, number, joined))
    return found


def _cuts(words: tuple[Word, ...], at: int, sentence: Sentence) -> tuple[bool, int]:
    """Whether a clause ends before a word, and how many words lie between it and the next."""
    word = words[at]
    if at == sentence.start or at + 1 >= sentence.end:
        return False, 0
    following = words[at + 1].form
    if word.mark:
        if word.form in ':()"':
            return True, 1
        if word.form == "-" and word.start > words[at - 1].end:
            return True, 1
        parts = (
            following in _INSTEAD
            or not _goes_on_listing(words, at + 1, sentence.end)
            or _asks_behind(words, at, sentence)
        )
        return (True, 1) if word.form == "," and parts else (False, 0)
    if _asks_on(words, at, sentence):
        return True, 0
    if word.form == "so" and following not in _OPENERS:
        return False, 0  # "so wet", "not so much as"
    if word.form in _PARTING:
        return not (word.form == "but" and words[at - 1].form in _BUT), 0
    if word.form in ("and", "&", "or", "then"):
        return (True, 1) if following in _OPENERS and not words[at - 1].mark else (False, 0)
    return False, 0


def _asks_behind(words: tuple[Word, ...], at: int, sentence: Sentence) -> bool:
    """Whether only the words after a comma ask: "it has gone pale since the sawdust | too much sun?"."""
    if not sentence.asks or any(word.mark for word in words[at + 1 : sentence.end]):
        return False
    before = words[sentence.start : at]
    if any(word.form == "," for word in before) or any(word.form in _QUESTION_WORDS | _ASKING for word in before[:2]):
        return False
    return any(
        word.form in VERBS | _HAPPENED or (word.form.endswith("ed") and word.lemma != word.form) for word in before
    )


def _asks_on(words: tuple[Word, ...], at: int, sentence: Sentence) -> bool:
    """Whether a question begins at a word without a mark before it: "hoover dust | can it be composted"."""
    if words[at].form not in _ASKING or at + 2 >= sentence.end or words[at + 1].form not in _NAMED_BEFORE:
        return False
    if words[at].form in ("is", "are") and words[at + 2].form not in _JUDGED:
        return False
    if words[at].form == "may" and words[at + 1].form not in ("i", "we"):
        return False  # "the first of May it was"
    first = at
    while first > sentence.start and not words[first - 1].mark:
        first -= 1
    before = {word.form for word in words[first:at]}
    return at - first > 1 and not before & _LEADING_ON


def _goes_on_listing(words: tuple[Word, ...], at: int, end: int) -> bool:
    """Whether what follows a comma is one more of a list, and no clause of its own."""
    length = 0
    while at < end and not (words[at].mark and words[at].form in ",:-()"):
        form = words[at].form
        if form in VERBS or form in _PARTING or (length == 0 and form in _OPENERS - {"a", "an", "the", "my", "our"}):
            return False
        length += 1
        at += 1
    return length <= _LONGEST_LIST_PART
