"""How rules are spread over copies of a fact, so that no one message of the engine has to pass too many tests.

durable-rules 2.0.28 bears 64 tests that one message passes at once, and the shipped rules use most of them. Local rules
therefore wait for messages of their own: those of a share look for `1/holding.trait` where the shipped ones look for
`holding.trait`, and a fact is asserted once for each share that has rules for its kind. So the shares are trees of
their own within one network and one state, and a rule still sees every fact, whoever concluded it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from advisor.inference.compile import Compare, Compiled, Pattern
from advisor.inference.limits import fit_together

#: The folder of the shipped rules, which the lint keeps within the limits of one tree.
_SHIPPED = "rules"


def spread(rules: Iterable[Compiled]) -> dict[str, int]:
    """The share of each rule, by its id: 0 for the shipped ones, and for all if they fit together."""
    every = list(rules)
    local = [one for one in every if one.rule.folder != _SHIPPED]
    if not local or fit_together(every):
        return {one.rule.id: 0 for one in every}
    shares = dict.fromkeys((one.rule.id for one in every), 0)
    for number, group in enumerate(_halved(local), 1):
        shares |= {one.rule.id: number for one in group}
    return shares


def _halved(rules: Sequence[Compiled]) -> list[Sequence[Compiled]]:
    """Rules in as few groups as halving gives, each of which fits together; neighbours go to different groups."""
    if len(rules) == 1 or fit_together(rules):
        return [rules]
    return [*_halved(rules[::2]), *_halved(rules[1::2])]


def in_share(pattern: Pattern, share: int) -> Pattern:
    """The pattern as it waits for the messages of a share."""
    tests = tuple(
        replace(test, constant=kind_in(str(test.constant), share))
        if isinstance(test, Compare) and test.part == "kind"
        else test
        for test in pattern.tests
    )
    return replace(pattern, tests=tests)


def kind_in(kind: str, share: int) -> str:
    """The kind of a message, as it is called in a share."""
    return f"{share}/{kind}" if share else kind


def shares_reading(rules: Iterable[Compiled], shares: Mapping[str, int]) -> dict[str, tuple[int, ...]]:
    """The shares beside the first that have rules for each kind of message."""
    found: dict[str, set[int]] = {}
    for one in rules:
        share = shares[one.rule.id]
        for pattern in one.patterns:
            for test in pattern.tests:
                if share and isinstance(test, Compare) and test.part == "kind":
                    found.setdefault(str(test.constant), set()).add(share)
    return {kind: tuple(sorted(numbers)) for kind, numbers in found.items()}
