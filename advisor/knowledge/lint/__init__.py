"""The lint of the rule base: named checks over everything in rules/, beyond what reading it already refuses.

Lives here: the checks, a module for each family; `FAULTS`, `TROUBLES`, `EVIDENCE` and `REMARKS` name them. tables.py
holds what the rules cannot say themselves, with reasons. May not: know the engine (its limits come in as `extra`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from advisor.knowledge.base import Knowledge, Problem, Rule
from advisor.knowledge.lint import (
    asking,
    citing,
    conditions,
    dangers,
    evidence,
    flow,
    heat,
    naming,
    pairs,
    troubles,
    values,
)
from advisor.knowledge.lint.report import Report, Tally
from advisor.knowledge.lint.tallying import tally
from advisor.knowledge.lint.view import Finding, View

__all__ = [
    "EVIDENCE",
    "FAULTS",
    "REMARKS",
    "TROUBLES",
    "Check",
    "Extra",
    "Report",
    "Tally",
    "faults_of",
    "lint",
    "listed",
    "tally",
]

Check = Callable[[View], Iterator[Finding]]
Extra = Callable[[Sequence[Rule]], Iterable[Problem]]

#: What must be mended before the rule base is fit for use.
FAULTS: Mapping[str, Check] = {
    "no-source": citing.no_source,
    "unknown-source": citing.unknown_source,
    "source-incomplete": citing.source_incomplete,
    "no-because": citing.no_because,
    "duplicate-id": naming.duplicate_id,
    "alias-twice": naming.alias_twice,
    "unknown-trait": naming.unknown_trait,
    "method-words": naming.method_words,
    "constant-condition": conditions.constant_condition,
    "impossible-condition": conditions.impossible_condition,
    "unlike-one-of-many": conditions.unlike_one_of_many,
    "duplicate-rule": pairs.duplicate_rule,
    "contradiction": pairs.contradiction,
    "list-twice": pairs.list_twice,
    "two-targets": pairs.two_targets,
    "never-fires": flow.never_fires,
    "dead-conclusion": flow.dead_conclusion,
    "never-let-in": flow.never_let_in,
    "method-without-rules": flow.method_without_rules,
    "cycle": flow.cycle,
    "stratum-order": flow.stratum_order,
    "late-conclusion": flow.late_conclusion,
    "outside-published": values.outside_published,
    "impossible-share": values.impossible_share,
    "beyond-published": values.beyond_published,
    "derived-unmarked": values.derived_unmarked,
    "question-without-attribute": asking.question_without_attribute,
    "question-unread": asking.question_unread,
    "unanswerable": asking.unanswerable,
    "unknown-field": asking.unknown_field,
    "guide-unsayable": asking.guide_unsayable,
    "living-mulch-unsayable": asking.living_mulch_unsayable,
    "danger-without-answer": dangers.danger_without_answer,
    "answer-without-danger": dangers.answer_without_danger,
    "danger-unsayable": dangers.danger_unsayable,
    "decay-unclassed": heat.decay_unclassed,
    "decay-misnamed": heat.decay_misnamed,
}

#: The same, of signs, causes and remedies.
TROUBLES: Mapping[str, Check] = {
    "cause-unreached": troubles.cause_unreached,
    "cause-without-counter": troubles.cause_without_counter,
    "cause-without-remedy": troubles.cause_without_remedy,
    "causes-alike": troubles.causes_alike,
    "speaks-against-nothing": troubles.speaks_against_nothing,
    "unknown-neighbour": troubles.unknown_neighbour,
    "sign-without-meaning": troubles.sign_without_meaning,
    "silent-side-effect": troubles.silent_side_effect,
}

#: The same, of how good the evidence is.
EVIDENCE: Mapping[str, Check] = {
    "measured-unmeasured": evidence.measured_unmeasured,
    "graded-too-high": evidence.graded_too_high,
    "ban-on-tradition": evidence.ban_on_tradition,
    "promise-on-tradition": evidence.promise_on_tradition,
}

#: What is worth a thought, and may be right as it stands.
REMARKS: Mapping[str, Check] = {
    "unused-source": citing.unused_source,
    "alias-repeated": naming.alias_repeated,
    "redundant-condition": conditions.redundant_condition,
    "mergeable-rules": pairs.mergeable_rules,
    "subsumed-rule": pairs.subsumed_rule,
    "partly-later": flow.partly_later,
    "idle-word": flow.idle_word,
    "unread-fact": flow.unread_fact,
    "carbon-implausible": values.carbon_implausible,
}


def lint(knowledge: Knowledge, folder: Path, extra: Iterable[Extra] = ()) -> Report:
    """Run every check.

    Args:
        knowledge: the rule base as read.
        folder: where it was read, for the file of each finding.
        extra: further checks of the rules, whose findings count as faults (the limits of the engine).
    """
    further = [problem for check in extra for problem in check(knowledge.rules)]
    remarks = _run(REMARKS, View(knowledge, folder))
    return Report((*faults_of(knowledge, folder), *further), tuple(remarks), tally(knowledge))


def faults_of(knowledge: Knowledge, folder: Path) -> tuple[Problem, ...]:
    """What must be mended in a rule base that was read in a folder, by every check but those of the engine."""
    view = View(knowledge, folder)
    return (*_run(FAULTS, view), *_run(TROUBLES, view), *_run(EVIDENCE, view))


def listed(name: str, lines: Callable[[Sequence[Rule]], Iterable[str]]) -> Extra:
    """A further check made of plain lines: `lint(..., extra=[listed("engine-limits", limits)])`."""
    return lambda rules: [Problem(name, "rules", "", line) for line in lines(rules)]


def _run(checks: Mapping[str, Check], view: View) -> Iterator[Problem]:
    for name, check in checks.items():
        for finding in check(view):
            yield Problem(name, *finding)
