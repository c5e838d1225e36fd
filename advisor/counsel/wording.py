"""Facts said plainly, and amounts in measures."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.inference.facts import ABSENCE, Fact, written
from advisor.knowledge.base import Knowledge

#: Fact kinds that are said by the name of their subject alone.
_NOTICES = frozenset({"step", "caution", "event", "keep", "need", "note"})


def plainly(fact: Fact, knowledge: Knowledge) -> str:
    """A fact in words: "grass clippings: packs into wet layers", "free ground for a heap: 1.4 m2"."""
    if fact.kind == ABSENCE:
        kind, _, attribute = fact.subject.partition(".")
        return f"nobody has said {knowledge.kinds[kind].attributes[attribute].about}"
    declared = knowledge.kinds[fact.kind].attributes[fact.attribute]
    if fact.kind in _NOTICES:
        return f"{fact.kind}: {fact.subject.replace('-', ' ')}"
    if declared.number is None:
        value = declared.words[str(fact.value)]
    else:
        unit = f" {declared.unit}" if declared.unit else ""
        value = f"{_rounded(float(fact.value))}{unit}"
    if fact.kind == "method":
        name = knowledge.methods[fact.subject].name
        return f"{name}: {value}" if declared.number is None else f"{name}: {_weight(float(fact.value))}"
    if fact.kind == "pace":
        name = f"the {fact.subject} heap"
        if declared.number is None:
            return f"{name}: {value}"
        return f"{name}: {_weight(float(fact.value))}" if declared.many else f"{name}, {declared.about}: {value}"
    if fact.kind == "holding":
        name = knowledge.materials[fact.subject].name
        return f"{name}: {value}" if declared.number is None else f"{name}, {declared.about}: {value}"
    if fact.kind == "target":
        return f"{fact.subject.replace('-', ' ')}, {declared.about}: {value}"
    return f"{declared.about}: {value}"


def _weight(favour: float) -> str:
    strength = {1: "a little", 2: "somewhat", 3: "strongly", 4: "very strongly", 5: "decisively"}[
        min(5, max(1, round(abs(favour))))
    ]
    return f"speaks {'for' if favour > 0 else 'against'} it {strength} ({favour:+g})"


def _rounded(value: float) -> str:
    return written(round(value, 1) if abs(value) < 100 else round(value))


def counted(count: float, noun: str) -> str:
    """ "1 bucket", "2½ buckets", "¼ sack": to the nearest quarter."""
    whole, quarters = divmod(round(4 * count), 4)
    part = ("", "¼", "½", "¾")[quarters]
    figure = f"{whole}{part}" if whole else part or "0"
    return f"{figure} {noun if 4 * whole + quarters <= 4 else plural(noun)}"


def plural(noun: str) -> str:
    """The plural of a measure's name: its last word takes the ending, before any "of" or bracket."""
    head, *tail = noun.split(" of ", 1)
    rest = f" of {tail[0]}" if tail else ""
    if head.endswith(("s", "x", "ch", "sh")):
        return f"{head}es{rest}"
    if head.endswith("y") and head[-2:-1] not in "aeiou":
        return f"{head[:-1]}ies{rest}"
    if head.endswith("ful"):
        return f"{head}s{rest}"
    return f"{head}s{rest}"


def joined(parts: Sequence[str], word: str = "and") -> str:
    """ "a", "a and b", "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {word} {parts[-1]}"


def with_article(name: str) -> str:
    """The name of a method with its article."""
    if name == "hand it on":
        return "handing it on"
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def capital(text: str) -> str:
    """The text with a capital at its head."""
    return text[:1].upper() + text[1:]
