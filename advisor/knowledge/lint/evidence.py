"""Grades of evidence: none is higher than the sources bear, and what is held by custom neither forbids nor promises."""

from __future__ import annotations

import re
from collections.abc import Iterator

from advisor.knowledge.base import NOTICE_KINDS, Rule
from advisor.knowledge.lint.tables import BANS_OF_PLAIN_SENSE, HARD_BANS
from advisor.knowledge.lint.view import Finding, View

#: Words that promise. A prohibition may say "never"; custom may not say that something always works.
_PROMISE = re.compile(
    r"\b(always|guarantee\w*|ensures?|surely|certainly|proven|without fail|cannot fail"
    r"|will (?:heat|rot|work|cure|stop|kill|keep|rid|feed|double|speed)\w*)\b",
    re.IGNORECASE,
)


def measured_unmeasured(view: View) -> Iterator[Finding]:
    """A rule graded measured that cites no trial and no standard."""
    for rule in view.knowledge.rules:
        cited = [view.knowledge.sources[name] for name in rule.source if name in view.knowledge.sources]
        if rule.evidence == "measured" and not any(
            source.kind and source.standing in ("read", "memory") for source in cited
        ):
            yield view.at_rule(rule, "is graded measured, and cites no source that is a trial or a standard")


def graded_too_high(view: View) -> Iterator[Finding]:
    """A rule that rests on nothing but custom, or on an estimate of ours, and is graded as more than tradition."""
    for rule in view.knowledge.rules:
        standings = {view.knowledge.sources[name].standing for name in rule.source if name in view.knowledge.sources}
        if rule.evidence != "tradition" and standings and standings <= {"practice", "none"}:
            yield view.at_rule(rule, f"is graded {rule.evidence}, and no publication stands behind it: tradition")


def ban_on_tradition(view: View) -> Iterator[Finding]:
    """A hard ban by custom alone, with neither a caution that says what is to be feared nor plain sense behind it."""
    for rule in view.knowledge.rules:
        bans = [f"{then.kind}.{then.attribute}" for then in rule.then if f"{then.kind}.{then.attribute}" in HARD_BANS]
        cautioned = any(then.kind == "caution" for then in rule.then)
        if rule.evidence == "tradition" and bans and not cautioned and rule.id not in BANS_OF_PLAIN_SENSE:
            message = f"sets {bans[0]} by tradition alone; say in a caution what is to be feared, or cite a ban"
            yield view.at_rule(rule, message)
    known = {rule.id for rule in view.knowledge.rules}
    for name in BANS_OF_PLAIN_SENSE:
        if name not in known and _is_whole(view):
            yield Finding("advisor/knowledge/lint/tables.py", name, "is excused from ban-on-tradition and is no rule")


def promise_on_tradition(view: View) -> Iterator[Finding]:
    """A reason held by custom, or a text that custom alone puts before people, that promises what no trial shows."""
    told_by: dict[tuple[str, str], list[Rule]] = {}
    for rule in view.knowledge.rules:
        if rule.evidence == "tradition" and (found := _PROMISE.search(rule.because)):
            yield view.at_rule(rule, f"promises '{found[0]}' on tradition alone")
        for then in rule.then:
            if then.kind in NOTICE_KINDS:
                told_by.setdefault((then.kind, then.subject), []).append(rule)
    for (kind, name), rules in told_by.items():
        notice = view.knowledge.notices.get(kind, {}).get(name)
        if notice is None or any(rule.evidence != "tradition" for rule in rules):
            continue
        if found := _PROMISE.search(notice.say):
            yield view.at_notice(kind, name, f"promises '{found[0]}', and tradition alone stands behind it")


def _is_whole(view: View) -> bool:
    """Whether this is the program's own rule base and not one in miniature: the excuses are for its rules."""
    return any(rule.id in BANS_OF_PLAIN_SENSE for rule in view.knowledge.rules)
