"""Which of some options is meant: by its words, by its number, or by the words in which people speak of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from advisor.errors import HouseholdError
from advisor.household.tokens import shown, singular

#: What is meant, and how it is said on the screen.
Options = Mapping[str, str]
#: What is meant, and other words for it.
Near = Mapping[str, Sequence[str]]

_NUMBERS = re.compile(r"\d{1,2}(?:[ ,;]+(?:and )?\d{1,2})*")
_SHORT = {
    "yes": frozenset({"y", "yes", "yeah", "yep", "yup", "sure", "ok", "okay", "aye", "please"}),
    "no": frozenset({"n", "no", "nope", "nah", "not"}),
}
#: Words that turn round what stands beside them, so that it cannot be taken for an option.
_TURNS = frozenset({"no", "not", "never", "none", "without", "hardly", "neither", "nor", "cannot"})
#: Words that tell no option from another.
_IDLE = frozenset([
    "against", "before", "behind", "beside", "between", "near", "next", "over", "under",
    "a", "about", "after", "all", "also", "am", "an", "and", "any", "are", "as", "at", "be", "been", "bit", "but",
    "by", "can", "did", "do", "does", "for", "from", "get", "got", "had", "has", "have", "i", "in", "is", "it",
    "it's", "its", "just", "kind", "like", "looks", "lot", "lots", "made", "me", "mine", "more", "most", "mostly",
    "my", "of", "ok", "on", "one", "or", "our", "out", "please", "pretty", "quite", "rather", "really", "smell",
    "smells", "so", "some", "sorry", "sort", "still", "that", "that's", "the", "their", "them", "there", "there's",
    "these", "they", "thing", "things", "think", "this", "those", "to", "up", "us", "very", "was", "we", "well",
    "what", "when", "with", "would", "you", "your",
])  # fmt: skip
_WORDS = re.compile(r"[^\W\d_]+(?:'[a-z]+)?")
_FEW = 3


def bared(text: str) -> str:
    """Words as they are compared: small letters, single spaces, no stops at the ends."""
    return " ".join(text.casefold().replace("’", "'").strip(" .!?,").split())


def one_named(said: str, words: Options) -> str | None:
    """The option whose words these are, or the only one that begins with them."""
    bare = bared(said)
    for value, text in words.items():
        if bare in (bared(text), bared(value), bared(value.replace("-", " "))):
            return value
    opening = [value for value, text in words.items() if bare and bared(text).startswith(bare)]
    if len(opening) == 1:
        return opening[0]
    return next((value for value, short in _SHORT.items() if bare in short and value in words), None)


def several_named(said: str, words: Options) -> tuple[str, ...] | None:
    """All the options of a list, by their words or by their numbers; None if any of it is something else."""
    whole = one_named(said, words)
    if whole is not None:
        return (whole,)
    rest = bared(said)
    if _NUMBERS.fullmatch(rest):
        places = [int(number) for number in re.findall(r"\d+", rest)]
        if all(1 <= place <= len(words) for place in places):
            return tuple(dict.fromkeys(list(words)[place - 1] for place in places))
    found: list[str] = []
    by_length = sorted(((bared(text), value) for value, text in words.items()), key=lambda pair: -len(pair[0]))
    by_length += [(bared(value.replace("-", " ")), value) for value in words]
    while rest:
        match = next(((text, value) for text, value in by_length if rest.startswith(text)), None)
        if match is None:
            return None
        found.append(match[1])
        rest = rest[len(match[0]) :].lstrip(" ,;.").removeprefix("and ").lstrip()
    return tuple(dict.fromkeys(found))


def nearest_named(said: str, words: Options, near: Near) -> str | None:
    """The one option that speaks of most of what was said, if it speaks of more than half of it.

    What holds a number, or a word that turns its sense round, names none.

    Raises:
        HouseholdError: two options are as near.
    """
    spoken = _WORDS.findall(bared(said))
    if {"yes", "no"} <= set(words) and spoken:
        return next((value for value, short in _SHORT.items() if spoken[0] in short), None)
    if "none" in words and spoken and spoken[0] in ("no", "none", "nothing", "neither"):
        return "none"
    if any(sign.isdigit() for sign in said) or any(word in _TURNS or word.endswith("n't") for word in spoken):
        return None
    told = _content(spoken)
    if not told:
        return None
    scores = {value: len(told & _content(_WORDS.findall(bared(text)))) for value, text in words.items()}
    for value, phrases in near.items():
        known = {word for phrase in phrases for word in _content(_WORDS.findall(bared(phrase)))}
        own = _content(_WORDS.findall(bared(words.get(value, ""))))
        scores[value] = len(told & (known | own)) + (told in [_content(phrase.split()) for phrase in phrases])
    most = max(scores.values())
    if most * 2 <= len(told):
        return None
    best = [value for value, score in scores.items() if score == most]
    if len(best) == 1:
        return best[0]
    if len(best) <= _FEW:
        either = " or ".join(f"“{words[value]}”" for value in best)
        raise HouseholdError(f"“{shown(said)}” may be {either}", hint="pick a number")
    return None


def none_of_these(said: str) -> HouseholdError:
    """What there is to say of words that name no option."""
    return HouseholdError(f"“{shown(said)}” is none of these", hint="pick a number, or say “I don't know”")


def _content(words: Iterable[str]) -> frozenset[str]:
    return frozenset(singular(word) for word in words if word not in _IDLE and len(word) > 1)
