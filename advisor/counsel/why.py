"""The reasons of a plan's lines, from the trace of the rules and from the figures the arithmetic used."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from advisor.counsel.plan import Because, Origin
from advisor.counsel.wording import plainly
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.inference.trace import Reason, tree
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Figure, Material

#: Says a fact in words; and with the words in which it was told, if there are any.
Words = Callable[[Fact, Knowledge, str], str]


def _with_said(fact: Fact, knowledge: Knowledge, said: str) -> str:
    return f"{plainly(fact, knowledge)} — {said}" if said else plainly(fact, knowledge)


def reasons(
    talk: Consultation,
    key: str,
    knowledge: Knowledge,
    *,
    only: frozenset[str] = frozenset(),
    words: Words = _with_said,
) -> tuple[Because, ...]:
    """Why a fact holds, one entry for each rule that concluded it (each told of the facts it saw).

    Args:
        only: rules to keep; all of them if empty.
        words: how the facts are said.
    """
    root = tree(talk, key)
    branches = (root, *root.also) if root.rule or not root.said else root.also
    found = [_because(branch, talk, knowledge, words) for branch in branches]
    kept = [because for because in found if not only or because.rule in only]
    once = {because.rule: because for because in reversed(kept)}
    return tuple(because for because in kept if once[because.rule] is because)


def barred(talk: Consultation, material: str, method: str, knowledge: Knowledge) -> tuple[Because, ...]:
    """Why a material stays out of a method, each reason once; empty if it does not."""
    keys = [
        Fact("holding", "barred_from", material, word).key
        for word in talk.values("holding", "barred_from", material)
        if word in ("all", method)
    ]
    found = [because for key in keys for because in reasons(talk, key, knowledge)]
    return tuple({because.because: because for because in found}.values())


def brief(talk: Consultation, rule_id: str, statement: str) -> Because:
    """A rule's reason without the facts it saw."""
    rule = talk.rules[rule_id]
    return Because(
        statement=statement,
        origin="rule",
        rule=rule.id,
        because=rule.because,
        sources=rule.source,
        evidence=rule.evidence,
    )


def told(statement: str, *rests_on: Because) -> Because:
    """What the household said."""
    return Because(statement=statement, origin="told", rests_on=rests_on)


def computed(statement: str, *rests_on: Because, sources: Iterable[str] = (), because: str = "") -> Because:
    """What the arithmetic worked out."""
    return Because(statement=statement, origin="computed", because=because, sources=tuple(sources), rests_on=rests_on)


def figure(name: str, value: Figure, unit: str) -> Because:
    """A figure of the knowledge with its spread and the sources it was taken from."""
    spread = (
        f"{value.typical:g}{unit}"
        if value.low == value.high
        else f"{value.typical:g} ({value.low:g} to {value.high:g}){unit}"
    )
    sources = dict.fromkeys(published.source for published in value.published)
    return computed(f"{name}: {spread}", sources=sources, because=value.note)


def properties(material: Material) -> Because:
    """What the arithmetic took a material to be."""
    parts = [figure("nitrogen, of dry mass", material.nitrogen, " %")]
    if material.carbon_nitrogen is not None:
        parts.append(figure("carbon to nitrogen", material.carbon_nitrogen, ""))
    if material.feeds is not None:
        parts.append(figure("share of its carbon that feeds microbes while a heap works", material.feeds, " %"))
    parts.append(figure("moisture as it comes", material.moisture, " %"))
    parts.append(figure("weight of a cubic metre, loose", material.density, " kg"))
    return computed(f"what {material.name} {'are' if material.name.endswith('s') else 'is'} made of", *parts)


def _because(reason: Reason, talk: Consultation, knowledge: Knowledge, words: Words) -> Because:
    fact = talk.known[reason.statement]
    if reason.again:
        return Because(statement=f"{words(fact, knowledge, '')} (explained above)", origin=_origin(reason))
    return Because(
        statement=words(fact, knowledge, reason.said if reason.origin != "unanswered" else ""),
        origin=_origin(reason),
        rule=reason.rule,
        because=reason.because,
        sources=reason.source,
        evidence=reason.evidence or "",
        rests_on=tuple(_because(child, talk, knowledge, words) for child in reason.children),
    )


def _origin(reason: Reason) -> Origin:
    return "told" if reason.origin == "unanswered" else reason.origin
