"""Whether a clause asks, and how: by its form, since people leave the question mark out."""

from __future__ import annotations

from typing import Literal

from advisor.hearing.cutting import Clause, Line

#: "" is no question; "whether" asks if something is so; "what" asks for something; "why" takes what follows for granted.
Asking = Literal["", "whether", "what", "why"]

_HELPERS = frozenset(
    [
        "is",
        "are",
        "was",
        "were",
        "am",
        "do",
        "does",
        "did",
        "can",
        "could",
        "should",
        "shall",
        "will",
        "would",
        "may",
        "might",
        "must",
        "has",
        "have",
        "had",
        "need",
        "ought",
    ]
)
_SUBJECTS = frozenset(
    [
        "i",
        "it",
        "he",
        "she",
        "we",
        "they",
        "you",
        "u",
        "this",
        "that",
        "these",
        "those",
        "there",
        "the",
        "a",
        "an",
        "my",
        "our",
        "your",
        "his",
        "her",
        "its",
        "their",
        "anybody",
        "anyone",
        "any",
        "somebody",
        "someone",
        "something",
        "one",
        "mine",
        "people",
        "worm",
        "worms",
        "compost",
    ]
)
_WORDS = frozenset(["what", "which", "who", "whose", "when", "where"])
_LEADS = frozenset(
    [
        "so",
        "and",
        "but",
        "or",
        "well",
        "right",
        "ok",
        "okay",
        "now",
        "then",
        "please",
        "hi",
        "hello",
        "hey",
        "also",
        "anyway",
        "anyroad",
        "morning",
        "evening",
        "question",
        "quick",
        "just",
        "yes",
        "no",
        "yeah",
        "oh",
        "um",
        "er",
        "hmm",
        "sorry",
        "mate",
        "love",
        "thanks",
        "cheers",
        "tell",
        "me",
        "but,",
        "&",
        "still",
        "otherwise",
    ]
)
_MANNERS = frozenset(
    [
        "much",
        "many",
        "long",
        "often",
        "big",
        "deep",
        "high",
        "tall",
        "hot",
        "warm",
        "wet",
        "far",
        "soon",
        "late",
        "early",
        "old",
        "thick",
        "wide",
        "fast",
    ]
)
_LONGEST_LEAD = 4


def asking(line: Line, clause: Clause) -> Asking:
    """How a clause asks."""
    words = line.words
    marked = line.sentences[clause.sentence].asks
    last = clause.end == line.sentences[clause.sentence].end
    at = clause.start
    while at < clause.end - 1 and at - clause.start < _LONGEST_LEAD and (words[at].mark or words[at].form in _LEADS):
        at += 1
    forms = [word.form for word in words[at : clause.end]]
    if clause.joined in ("which", "who", "when", "where", "if", "since", "because") and clause.start == at:
        forms = forms[1:] if forms and forms[0] == clause.joined else forms
    if not forms:
        return ""
    first, second = forms[0], forms[1] if len(forms) > 1 else ""
    if first == "why" or (first == "how" and second == "come") or (first == "what" and "for" in forms[-1:]):
        return "why"
    if first == "how":
        return "what" if second in _MANNERS or _HELPERS & set(forms[1:5]) or marked or len(forms) > 1 else ""
    if first == "what" and second in ("if", "about"):
        return "what"
    if first in _WORDS and (marked or _HELPERS & set(forms[1:4])) and not (clause.joined and not marked):
        return "what"
    if first in _HELPERS and (second in _SUBJECTS or (second == "not" and len(forms) > 2)):
        return "whether"
    if first in _HELPERS and marked and len(forms) > 1:
        return "whether"
    if marked and last:
        return "whether" if _HELPERS & set(forms) & {"can", "could", "should", "may"} else "what"
    if "wonder" in forms or ("know" in forms and {"if", "whether"} & set(forms)):
        return "whether"
    return ""


def inverted(line: Line, clause: Clause) -> bool:
    """Whether a helper stands before its subject at the start, so that what is said is asked and not stated."""
    words = [word.form for word in line.words[clause.start : clause.end] if not word.mark]
    while words and words[0] in _LEADS:
        words = words[1:]
    if words and (words[0] in _WORDS or words[0] == "how"):
        return True
    return len(words) > 1 and words[0] in _HELPERS
