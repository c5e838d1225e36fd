"""What a rule adds, as written under `then` in rules/, checked against the declared fact kinds.

{ method = ["bin", "tumbler"], favour = 2 }     several subjects, one attribute
{ holding = "same", barred_from = "worm-bin" }  the subject that the conditions matched
{ plan = { aim = "hot" } }                      a kind there is only one of
{ caution = "spores" }                          a notice: it applies
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from advisor.knowledge.base import Conclusion
from advisor.knowledge.conditions import Condition, Value
from advisor.knowledge.hints import hint
from advisor.knowledge.shapes import Attribute, Kind

_SAME = "same"


class Vocabulary(NamedTuple):
    """The words rules are written in: the fact kinds, and the subjects there are of each."""

    kinds: Mapping[str, Kind]
    subjects: Mapping[str, frozenset[str]]


def conclude(
    item: Mapping[str, object], words: Vocabulary, when: tuple[Condition, ...] | None
) -> tuple[list[Conclusion], list[str]]:
    """The conclusions of one entry of `then`, and what is wrong with it.

    `when` is None if the rule's conditions could not be read: then "same" is taken on trust.
    """
    if not item:
        return [], ["concludes nothing"]
    (kind, target), *rest = item.items()
    declared = words.kinds.get(kind)
    if declared is None:
        return [], [f"concludes '{kind}', which facts.toml does not declare; {hint(kind, words.kinds)}"]
    named: list[str] = [""]
    if declared.subjects:
        pairs: dict[str, object] = dict(rest) or {"stands": "yes"}
        named, faults = _subjects(target, kind, words, when)
    elif rest or not isinstance(target, dict) or not target:
        return [], [f"write {{ {kind} = {{ attribute = value }} }}, one kind an entry"]
    else:
        pairs, faults = dict(target), []
    good: list[tuple[str, Value]] = []
    for attribute, value in pairs.items():
        values, misfits = _values(declared, kind, attribute, value)
        faults += misfits
        good += [(attribute, each) for each in values]
    found = [
        Conclusion(kind, attribute, "" if subject == _SAME else subject, subject == _SAME, value)
        for subject in named
        for attribute, value in good
    ]
    return found, faults


def _values(kind: Kind, name: str, attribute: str, value: object) -> tuple[list[Value], list[str]]:
    declared = kind.attributes.get(attribute)
    if declared is None:
        return [], [f"'{name}' has no '{attribute}'; {hint(attribute, kind.attributes)}"]
    if declared.origin != "concluded":
        return [], [f"{name}.{attribute} is {_ORIGINS[declared.origin]}, so no rule may conclude it"]
    if isinstance(value, list) and not declared.many:
        return [], [f"{name}.{attribute} holds one value at a time"]
    listed = value if isinstance(value, list) else [value]
    if not listed:
        return [], [f"gives {name}.{attribute} no value"]
    values: list[Value] = []
    faults = []
    for each in listed:
        fault = _misfit(declared, f"{name}.{attribute}", each)
        plain = float(each) if isinstance(each, int | float) else str(each)
        if not fault and plain in values:
            fault = f"gives {name}.{attribute} the value {each!r} twice"
        if fault:
            faults.append(fault)
        else:
            values.append(plain)
    return values, faults


def _subjects(
    target: object, kind: str, words: Vocabulary, when: tuple[Condition, ...] | None
) -> tuple[list[str], list[str]]:
    listed = target if isinstance(target, list) else [target]
    named, faults = [], []
    if not listed:
        faults.append(f"names no {kind}")
    for name in listed:
        if not isinstance(name, str):
            faults.append(f"a {kind} is a name in quotes, not {name!r}")
        elif name in named:
            faults.append(f"names {kind} '{name}' twice")
        elif name == _SAME and when is not None and not any(condition.kind == kind for condition in when):
            faults.append(f"says {kind} = 'same', but no condition is about a {kind}")
        elif name != _SAME and name not in words.subjects[kind]:
            faults.append(f"no {kind} '{name}'; {hint(name, sorted(words.subjects[kind]))}")
        else:
            named.append(name)
    return named, faults


def _misfit(declared: Attribute, name: str, value: object) -> str:
    if declared.number is None:
        if isinstance(value, str) and value in declared.words:
            return ""
        return f"{name} is never {value!r}; {hint(str(value), declared.words)}"
    if isinstance(value, bool) or not isinstance(value, int | float):
        return f"{name} is a number, not {value!r}"
    low, high = declared.number
    return "" if low <= value <= high else f"{name} lies between {low:g} and {high:g}; {value:g} is outside"


_ORIGINS = {"answer": "what people answer", "computed": "computed"}
