"""What the conditions of a rule claim of the world, and how the claims of two rules lie to each other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import product

from advisor.knowledge.conditions import Condition
from advisor.knowledge.lint.domains import Domain, Words, passing_all
from advisor.knowledge.shapes import Attribute, Kind
from advisor.records import dataclass

#: Words that stand alone where several could hold at once.
ALONE = frozenset({"none", "nothing"})


@dataclass(frozen=True, slots=True)
class Claim:
    """Attribute `kind.attribute` has a value in the domain; without a domain, nobody has told it.

    `subjects` are those named; empty for a kind that has none, and for "the one that the other
    conditions are about".
    """

    kind: str
    attribute: str
    subjects: tuple[str, ...]
    domain: Domain | None


Situation = tuple[Claim, ...]


def claim(condition: Condition, kinds: Mapping[str, Kind]) -> Claim:
    """The claim that one condition makes."""
    attribute = kinds[condition.kind].attributes[condition.attribute]
    domain = None if condition.unknown else passing_all(condition.tests, attribute)
    return Claim(condition.kind, condition.attribute, condition.subjects, domain)


def joined(claims: Iterable[Claim], kinds: Mapping[str, Kind]) -> Situation | None:
    """The claims with those on one and the same fact drawn together; None if they cannot all hold."""
    together: list[Claim] = []
    for new in claims:
        attribute = kinds[new.kind].attributes[new.attribute]
        if new.domain is not None and new.domain.empty:
            return None
        for index, old in enumerate(together):
            if not same_fact(old, new):
                continue
            if clash(old, new, attribute):
                return None
            if not attribute.many and old.domain is not None and new.domain is not None:
                together[index] = Claim(new.kind, new.attribute, new.subjects, old.domain.both(new.domain))
                break
            if old == new:
                break
        else:
            together.append(new)
    return tuple(together)


def clash(one: Claim, other: Claim, attribute: Attribute) -> bool:
    """Whether two claims on one and the same fact cannot both hold."""
    if one.domain is None or other.domain is None:
        return one.domain is not other.domain
    if attribute.many:
        return _alone(one.domain, other.domain) or _alone(other.domain, one.domain)
    return one.domain.both(other.domain).empty


def _alone(one: Domain, other: Domain) -> bool:
    """Whether the one says "none", beside which the other cannot stand."""
    return isinstance(one, Words) and isinstance(other, Words) and one.words <= ALONE and not one.words & other.words


def same_fact(one: Claim, other: Claim) -> bool:
    named_alike = one.subjects == other.subjects and len(one.subjects) < 2
    return (one.kind, one.attribute) == (other.kind, other.attribute) and named_alike


def compatible(one: Situation, other: Situation, kinds: Mapping[str, Kind], same: frozenset[str] = frozenset()) -> bool:
    """Whether two situations can be one household's.

    `same` names the many-subject kinds of which both speak of one subject; of others, each may have its own.
    """
    for mine, yours in product(one, other):
        kind = kinds[mine.kind]
        if not same_fact(mine, yours) or (kind.subjects and not mine.subjects and mine.kind not in same):
            continue
        if clash(mine, yours, kind.attributes[mine.attribute]):
            return False
    return True


def implies(narrow: Situation, wide: Situation) -> bool:
    """Whether the wide situation holds wherever the narrow one does, by their claims alone."""
    free = sorted({claim.kind for claim in wide if not claim.subjects})
    scopes = [
        sorted({mine.subjects for mine in narrow if mine.kind == kind and len(mine.subjects) < 2}) for kind in free
    ]
    return any(
        all(_supported(yours, narrow, dict(zip(free, choice, strict=True))) for yours in wide)
        for choice in product(*scopes)
    )


def _supported(wanted: Claim, narrow: Situation, scope: Mapping[str, tuple[str, ...]]) -> bool:
    for mine in narrow:
        if (mine.kind, mine.attribute) != (wanted.kind, wanted.attribute):
            continue
        if wanted.subjects:
            meant = bool(mine.subjects) and set(mine.subjects) <= set(wanted.subjects)
        else:
            meant = mine.subjects == scope[wanted.kind]
        if not meant:
            continue
        if mine.domain is None or wanted.domain is None:
            if mine.domain is wanted.domain:
                return True
        elif mine.domain.within(wanted.domain):
            return True
    return False
