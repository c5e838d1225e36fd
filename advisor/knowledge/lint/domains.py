"""The values that a test lets through: a set of words or a span of numbers, and how two such domains lie."""

from __future__ import annotations

from typing import TypeAlias

from advisor.knowledge.conditions import Test
from advisor.knowledge.shapes import Attribute
from advisor.records import dataclass

Domain: TypeAlias = "Words | Span"


@dataclass(frozen=True, slots=True)
class Words:
    """A set of words."""

    words: frozenset[str]

    @property
    def empty(self) -> bool:
        return not self.words

    def both(self, other: Domain) -> Domain:
        """What lies in this and in the other."""
        return Words(self.words & other.words) if isinstance(other, Words) else self

    def within(self, other: Domain) -> bool:
        """Whether every value of this lies in the other."""
        return isinstance(other, Words) and self.words <= other.words


@dataclass(frozen=True, slots=True)
class Span:
    """The numbers between two edges; an open edge does not belong to it."""

    low: float
    high: float
    low_open: bool = False
    high_open: bool = False

    @property
    def empty(self) -> bool:
        return self.low > self.high or (self.low == self.high and (self.low_open or self.high_open))

    def both(self, other: Domain) -> Domain:
        """What lies in this and in the other."""
        if not isinstance(other, Span):
            return self
        low, low_open = max((self.low, self.low_open), (other.low, other.low_open))
        high, high_closed = min((self.high, not self.high_open), (other.high, not other.high_open))
        return Span(low, high, low_open, not high_closed)

    def within(self, other: Domain) -> bool:
        """Whether every value of this lies in the other."""
        return isinstance(other, Span) and (self.empty or self.both(other) == self)


def declared(attribute: Attribute) -> Domain:
    """Everything the attribute may hold."""
    if attribute.number is None:
        return Words(frozenset(attribute.words))
    return Span(*attribute.number)


def passing(test: Test, attribute: Attribute) -> Domain:
    """The values of the attribute that pass the test."""
    whole = declared(attribute)
    if isinstance(whole, Words):
        return Words(frozenset(word for word in whole.words if test.holds(word)))
    bound = float(test.values[0])
    return {
        "<": Span(whole.low, bound, high_open=True),
        "<=": Span(whole.low, bound),
        ">": Span(bound, whole.high, low_open=True),
        ">=": Span(bound, whole.high),
    }[test.operator]


def passing_all(tests: tuple[Test, ...], attribute: Attribute) -> Domain:
    """The values of the attribute that pass every test."""
    domain = declared(attribute)
    for test in tests:
        domain = domain.both(passing(test, attribute))
    return domain
