"""`heapwright rules`: the rules, or one of them."""

from __future__ import annotations

import argparse
import textwrap
from typing import TYPE_CHECKING

from advisor.commands.terminal import width
from advisor.safe_text import json_text

if TYPE_CHECKING:
    from advisor.knowledge.base import Conclusion, Knowledge, Rule


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("id", nargs="?", help="the rule to show; all of them, a line each, if left out")
    parser.add_argument("--group", metavar="NAME", help="only the rules of one group")
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(arguments: argparse.Namespace) -> int:
    """Print the rules."""
    from advisor.counsel.in_use import in_use, local_lines
    from advisor.errors import UsageError

    knowledge = in_use()
    chosen = list(knowledge.rules)
    if arguments.group:
        chosen = [rule for rule in chosen if rule.group == arguments.group]
        if not chosen:
            groups = dict.fromkeys(rule.group for rule in knowledge.rules)
            raise UsageError(f"no group '{arguments.group}'", hint=f"there are {', '.join(groups)}")
    if arguments.id:
        chosen = [rule for rule in chosen if rule.id == arguments.id]
        if not chosen:
            raise UsageError(f"no rule '{arguments.id}'", hint=_nearest(arguments.id, [r.id for r in knowledge.rules]))
    if arguments.json:
        print(json_text([_plain(rule) for rule in chosen]))
    elif arguments.id:
        print(_whole(chosen[0], knowledge))
    else:
        for rule in chosen:
            print(textwrap.shorten(f"{rule.id}: {rule.because}", width(), placeholder=" …"))
    if not arguments.json:
        for line in local_lines(knowledge):
            print(textwrap.fill(line, width()))
    return 0


def _plain(rule: Rule) -> dict[str, object]:
    return {
        "id": rule.id,
        "group": rule.group,
        "stratum": rule.stratum,
        "when": [condition.text for condition in rule.when],
        "then": [_then(conclusion) for conclusion in rule.then],
        "because": rule.because,
        "source": list(rule.source),
        "evidence": rule.evidence,
        "file": rule.file,
    }


def _whole(rule: Rule, knowledge: Knowledge) -> str:
    lines = [f"{rule.id}   ({rule.place}, {rule.stratum})", ""]
    lines += [f"  {'when' if place == 0 else ' and'}  {condition.text}" for place, condition in enumerate(rule.when)]
    lines += [
        f"  {'then' if place == 0 else ' and'}  {_then(conclusion)}" for place, conclusion in enumerate(rule.then)
    ]
    lines += ["", *textwrap.wrap(rule.because, width(), initial_indent="  because  ", subsequent_indent=" " * 11)]
    for name in rule.source:
        source = knowledge.sources[name]
        about = ", ".join(part for part in (source.title, source.publisher, source.place, _year(source.year)) if part)
        standing = {"read": "", "memory": " (from memory)", "practice": "", "none": " (no source)"}[source.standing]
        lines += textwrap.wrap(
            f"[{name}] {about}{standing}", width(), initial_indent="  source   ", subsequent_indent=" " * 11
        )
    lines.append(f"  evidence {rule.evidence}")
    return "\n".join(lines)


def _year(year: int | None) -> str:
    return str(year) if year else ""


def _then(conclusion: Conclusion) -> str:
    subject = "the same" if conclusion.same else conclusion.subject
    about = f"{conclusion.kind} {subject}".strip()
    value = f"{conclusion.value:g}" if isinstance(conclusion.value, float) else conclusion.value
    return f"{about}: {conclusion.attribute.replace('_', ' ')} {value}"


def _nearest(word: str, names: list[str]) -> str:
    from difflib import get_close_matches

    close = get_close_matches(word, names, n=1, cutoff=0.4)
    return f"did you mean {close[0]}?" if close else "`heapwright rules` lists them"
