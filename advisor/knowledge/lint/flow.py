"""From facts to conclusions: nothing waits in vain, runs in a ring, comes too late, or leads nowhere."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.knowledge.base import STRATA, Stratum
from advisor.knowledge.lint.tables import (
    BEFORE_THE_STOCK,
    KNOWN_FROM,
    MATERIAL_WORDS,
    NEEDED_BY,
    SHOWN,
    entry,
)
from advisor.knowledge.lint.view import Finding, View


def never_fires(view: View) -> Iterator[Finding]:
    """A rule that waits for what nothing concludes and nobody can tell."""
    for rule, lack in view.reach.idle.items():
        yield view.at_rule(rule, f"never fires: {lack}")
    if view.chains.cycles():
        return  # the ways round a ring are not followed to their end
    for rule in view.reach.firing:
        if not view.chains.situations(rule):
            yield view.at_rule(rule, "never fires: what its conditions follow from cannot hold together with the rest")


def dead_conclusion(view: View) -> Iterator[Finding]:
    """A notice that no rule puts before the gardener, or a conclusion that is neither read nor shown."""
    concluded = {(then.kind, then.subject) for rule in view.knowledge.rules for then in rule.then}
    for kind, named in view.knowledge.notices.items():
        for name in named:
            if (kind, name) not in concluded:
                yield view.at_notice(kind, name, "no rule concludes it, so nobody will ever read it")
    for rule in view.knowledge.rules:
        for name in dict.fromkeys(f"{then.kind}.{then.attribute}" for then in rule.then):
            if name not in view.readers and entry(SHOWN, *name.split(".")) is None:
                yield view.at_rule(rule, f"concludes {name}, which no rule reads and the program does not show")


def never_let_in(view: View) -> Iterator[Finding]:
    """A material that must never be composted, and that no rule bars whatever else there is."""
    barred: set[str] = set()
    for rule in view.live:
        nature_alone = all(
            condition.kind == "holding" and condition.attribute in MATERIAL_WORDS for condition in rule.when
        )
        for then in rule.then:
            if nature_alone and (then.kind, then.attribute, then.value) == ("holding", "barred_from", "all"):
                barred |= view.reach.concluded_of(rule, then)
    for name, material in view.knowledge.materials.items():
        if material.role == "never" and name not in barred:
            message = "has the role 'never', but no rule bars it from all composting by its role or traits alone"
            yield Finding(view.file_of("materials", name), name, message)


def method_without_rules(view: View) -> Iterator[Finding]:
    """A method that no rule speaks for can never be recommended."""
    favoured = {
        then.subject
        for rule in view.live
        for then in rule.then
        if (then.kind, then.attribute) == ("method", "favour") and isinstance(then.value, float) and then.value > 0
    }
    for name in view.knowledge.methods:
        if name not in favoured:
            yield Finding("rules/methods.toml", name, "no rule favours it, so it is never recommended")


def cycle(view: View) -> Iterator[Finding]:
    """Rules that feed each other in a ring: the last is a reason for the first."""
    for ring in view.chains.cycles():
        if ring[0] is ring[-1] and len(ring) == 2:
            yield view.at_rule(ring[0], "feeds itself: what it concludes is one of its own conditions")
        else:
            yield view.at_rule(ring[0], f"feeds itself by way of others: {' -> '.join(rule.id for rule in ring)}")


def stratum_order(view: View) -> Iterator[Finding]:
    """A rule that reads what is settled only after it."""
    for rule in view.live:
        for condition in rule.when:
            origin = view.attribute(condition).origin
            if condition.unknown or origin == "answer":
                continue
            if origin == "computed":
                known = entry(KNOWN_FROM, condition.kind, condition.attribute)
                if known is None:
                    message = f"the lint's table KNOWN_FROM does not say from when {condition.name} is known"
                    yield view.at_rule(rule, message)
                elif _later(known, rule.stratum):
                    message = f"is of stratum {rule.stratum}, but {condition.name} is known only from {known} on"
                    yield view.at_rule(rule, message)
                continue
            feeders = [feeder for feeder, _ in view.chains.feeders(rule, condition)]
            if feeders and all(_later(feeder.stratum, rule.stratum) for feeder in feeders):
                first = min(feeders, key=lambda feeder: STRATA.index(feeder.stratum))
                late = f"is concluded only in {first.stratum}, by {first.id}"
                yield view.at_rule(rule, f'is of stratum {rule.stratum}, but "{condition.text}" {late}')


def partly_later(view: View) -> Iterator[Finding]:
    """A rule that reads what is partly settled only after it, so that it sees a part."""
    for rule in view.live:
        for condition in rule.when:
            later = {
                feeder for feeder, _ in view.chains.feeders(rule, condition) if _later(feeder.stratum, rule.stratum)
            }
            sooner = {feeder for feeder, _ in view.chains.feeders(rule, condition)} - later
            if later and sooner:
                names = ", ".join(sorted(feeder.id for feeder in later))
                yield view.at_rule(rule, f'reads "{condition.text}", which a later stratum also concludes: {names}')


def late_conclusion(view: View) -> Iterator[Finding]:
    """A rule that concludes what the arithmetic has already made use of."""
    early, value, unknown_yet = BEFORE_THE_STOCK
    for rule in view.live:
        if any(f"{then.kind}.{then.attribute}" == early and then.value == value for then in rule.then):
            claims = {claim for way in view.chains.situations(rule) for claim in way}
            for name in sorted({f"{claim.kind}.{claim.attribute}" for claim in claims}):
                if name in unknown_yet or name.split(".")[0] in unknown_yet:
                    yield view.at_rule(rule, f"{early} = {value} settles what {name} counts, so it may not rest on it")
        for name in dict.fromkeys(f"{then.kind}.{then.attribute}" for then in rule.then):
            needed = entry(NEEDED_BY, *name.split("."))
            if needed is not None and _later(rule.stratum, needed):
                message = f"is of stratum {rule.stratum}, but {name} is put to use right after {needed}"
                yield view.at_rule(rule, message)


def idle_word(view: View) -> Iterator[Finding]:
    """A word that rules may conclude, or a trait that materials may have, and never do."""
    for kind, declared in view.knowledge.kinds.items():
        for name, attribute in declared.attributes.items():
            if attribute.origin != "concluded":
                continue
            given = {value for values in view.reach.supply.get((kind, name), {}).values() for value in values}
            for word in attribute.words:
                if word not in given and kind not in view.knowledge.notices:
                    yield Finding("rules/facts.toml", f"{kind}.{name}", f"no rule ever concludes '{word}'")
            if attribute.number is not None and not given:
                yield Finding("rules/facts.toml", f"{kind}.{name}", "no rule ever concludes it")
    holding = view.knowledge.kinds.get("holding")
    if holding is not None and "trait" in holding.attributes:
        carried = {trait for material in view.knowledge.materials.values() for trait in material.traits}
        for word in holding.attributes["trait"].words:
            if word not in carried:
                yield Finding("rules/facts.toml", "holding.trait", f"no material is '{word}'")


def unread_fact(view: View) -> Iterator[Finding]:
    """A fact that is computed for rules, and that no rule reads."""
    for kind, declared in view.knowledge.kinds.items():
        for name, attribute in declared.attributes.items():
            if attribute.origin == "computed" and f"{kind}.{name}" not in view.readers:
                yield Finding("rules/facts.toml", f"{kind}.{name}", "is computed for the rules, but none reads it")


def _later(one: Stratum, other: Stratum) -> bool:
    return STRATA.index(one) > STRATA.index(other)
