"""The rule base in use: what is shipped, with the local files of `--local` or of the data folder laid over it.

A local file with a fault is left out as a whole, and so is what needs it; everything else works. What was found is
kept as the shipped rules are, under a sum of both, so that only a changed file is looked through again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import cache
from pathlib import Path

from advisor.household.names import Same
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge, Problem, Rule
from advisor.knowledge.kept import keep, kept
from advisor.knowledge.load import shipped
from advisor.knowledge.shapes import Kind
from advisor.places import local_folder, rules_folder

#: The check that a fault belongs to where no other names it.
_TOGETHER = "Together with the shipped rules this file brings a fault"


def in_use() -> Knowledge:
    """The rule base in use. It is read once in the life of a program.

    Raises:
        RuleBaseError: a file of the shipped rules is not in order.
    """
    folder = local_folder()
    return shipped() if folder is None else _with(folder)


#: A part of the rule base for an engine (advisor/knowledge/parts.py): its rules and its fact kinds.
Part = Callable[[Knowledge], tuple[tuple[Rule, ...], Mapping[str, Kind]]]


def engine_of(part: Part) -> Engine:
    """The engine with a part of the rule base in use, compiled once."""
    return _engine_of(part, Same(in_use()))


@cache
def _engine_of(part: Part, knowledge: Same[Knowledge]) -> Engine:
    return Engine(*part(knowledge.value))


@cache
def _with(folder: Path) -> Knowledge:
    with suppress(OSError):
        found = kept(rules_folder(), folder)
        if found is not None:
            return found
    knowledge = laid_over(shipped(), folder)
    with suppress(OSError):
        keep(rules_folder(), knowledge, folder)
    return knowledge


def laid_over(base: Knowledge, folder: Path) -> Knowledge:
    """A rule base with the sound files of a local folder laid over it; `local.left_out` has what ails the others."""
    from advisor.knowledge.local import read_local

    left: dict[str, list[Problem]] = {}
    while True:
        knowledge, found = read_local(base, folder, left)
        assert knowledge.local is not None, "what is read with local files names them"
        label = knowledge.local.folder
        problems = list(found) or list(_faults(base, knowledge))
        if not problems:
            told = tuple(problem for file in sorted(left) for problem in left[file])
            return replace(knowledge, local=replace(knowledge.local, left_out=told))
        by_file = _by_file(problems, label)
        if not by_file:  # the fault shows in a shipped file, and one of the local ones brings it
            by_file = _brought(base, folder, left, knowledge, problems[0], label)
        left.update(by_file)


def _by_file(problems: Iterable[Problem], label: str) -> dict[str, list[Problem]]:
    found: dict[str, list[Problem]] = {}
    for problem in problems:
        folder, _, file = problem.file.partition("/")
        if folder == label and file:
            found.setdefault(file, []).append(problem)
    return found


def _brought(
    base: Knowledge, folder: Path, left: Mapping[str, object], knowledge: Knowledge, fault: Problem, label: str
) -> dict[str, list[Problem]]:
    """The local files without any one of which a fault in a shipped file is gone; all of them if there is none such."""
    from advisor.knowledge.local import read_local

    assert knowledge.local is not None
    files = {rule.file for rule in knowledge.rules if rule.folder == label}
    files |= {file.partition("/")[2] for file in knowledge.local.files.values()}
    message = f"{_TOGETHER}: {fault.file}: {fault.place}: {fault.message}"
    guilty = []
    for file in sorted(files):
        other, amiss = read_local(base, folder, {*left, file})
        if not amiss and fault not in _faults(base, other):
            guilty.append(file)
    return {file: [Problem(fault.check, f"{label}/{file}", "", message)] for file in guilty or sorted(files)}


def _faults(base: Knowledge, knowledge: Knowledge) -> Iterator[Problem]:
    """What the lint finds in a rule base with local files, and what the engine or the reader of words cannot bear."""
    from advisor.inference.limits import limits
    from advisor.knowledge.lint import faults_of

    assert knowledge.local is not None
    label = knowledge.local.folder
    own = [rule for rule in knowledge.rules if rule.folder == label]
    unfit = [Problem("engine-limits", rule.place, rule.id, line) for rule in own for line in limits([rule])]
    yield from unfit
    if not unfit:
        yield from faults_of(knowledge, rules_folder())
        yield from _muffled(base, knowledge)


def _muffled(base: Knowledge, knowledge: Knowledge) -> Iterator[Problem]:
    """Local names that would keep a danger from being heard."""
    from advisor.hearing.vocabulary import vocabulary_for
    from advisor.household.names import key_words

    assert knowledge.local is not None
    named: tuple[tuple[str, Mapping[str, object], Mapping[str, object]], ...] = (
        ("materials", knowledge.materials, base.materials),
        ("measures", knowledge.measures, base.measures),
    )
    words = vocabulary_for(base)
    lines = [
        (line, frozenset(key_words(line))) for name, line, holds in words.examples if holds and name in words.dangers
    ]
    for table, things, before in named:
        for key, thing in things.items():
            if thing is before.get(key):
                continue
            file = knowledge.local.files.get((table, key)) or knowledge.local.files.get(("names", key), "")
            for name in (getattr(thing, "name", ""), *getattr(thing, "aliases", ())):
                own = frozenset(key_words(name))
                for line, said in lines:
                    if own and own <= said and _dangers(line, knowledge) != _dangers(line, base):
                        message = f"with the name '{name}' a danger is not heard any more: '{line}'; take another name"
                        yield Problem("hides-danger", file, key, message)


def _dangers(line: str, knowledge: Knowledge) -> Sequence[str]:
    from advisor.hearing.hear import hear

    return [danger.name for danger in hear(line, knowledge).dangers]


def local_lines(knowledge: Knowledge) -> tuple[str, ...]:
    """What an answer says of local rules: that they are in use, and which of their files are left out."""
    local = knowledge.local
    if local is None:
        return ()
    lines = [f"Local rules of {local.name} are in use. “why” shows where they count."] if _holds_any(knowledge) else []
    files = list(dict.fromkeys(problem.file for problem in local.left_out))
    if files:
        first = local.left_out[0]
        rest = f" {len(files)} files are left out in all." if len(files) > 1 else ""
        lines.append(f"The local file {first.file} is left out, for it has a fault. {_told(first)}{rest}")
        lines.append("“heapwright check” lists every fault of the local files.")
    return tuple(lines)


def _told(problem: Problem) -> str:
    text = f"{problem.place}: {problem.message}" if problem.place else problem.message
    return f"{text[:1].upper()}{text[1:]}."


def _holds_any(knowledge: Knowledge) -> bool:
    return knowledge.local is not None and bool(knowledge.local.files or knowledge.local.rules)


def local_rules(knowledge: Knowledge) -> tuple[Rule, ...]:
    """The rules of local files."""
    local = knowledge.local
    return tuple(rule for rule in knowledge.rules if local is not None and rule.folder == local.folder)
