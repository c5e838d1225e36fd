"""What a question asks, decided by its form and by what the line names: the table of rules/words/acts-decided.toml."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.meanings import Decision
from advisor.hearing.questions import Asking
from advisor.hearing.shapes import Fact

_TAG, _FRAGMENT = 3, 4  # words
#: What a household has and wants; signs of these kinds tell of no trouble.
_OF_PLACE = ("place.", "wish.", "household.", "limit.")
_NO_SIGN = ("sign.holds", "sign.weather", "sign.age", "sign.origin", "sign.mix", "sign.bedding", "sign.degrees")
_VERBS = listed(
    "is are was were am do does did can could should shall will would may might must have has had go goes put get make"
)


def decided(finder: Finder, clause: Clause, asks: Mapping[int, Asking], facts: Sequence[Fact] = ()) -> Decision | None:
    """The first row of the table that fits a clause of a line; nothing if none does.

    Args:
        facts: of the line.
        clause: the clause that asks, or any clause of a line that asks nothing by its form.
        asks: how each clause asks, by its first word.
    """
    how = asks[clause.start]
    others = {one.start for one in finder.line.clauses if asks[one.start] and one != clause}
    own = [clause]
    if clause.end - clause.start <= _TAG:  # "the bucket will take that, right?"
        own = [one for one in finder.line.clauses if one.sentence == clause.sentence]
    line = [one for one in finder.line.clauses if one.start not in others]
    every = finder.line.clauses
    for row in finder.vocabulary.decisions:
        if (
            (how or row.stated)
            and all(_has(finder, feature, own, how, facts) for feature in row.asks)
            and all(_has(finder, feature, line, how, facts) for feature in row.names)
            and not any(_has(finder, feature, every, how, facts) for feature in row.never)
        ):
            return row
    return None


def _has(finder: Finder, text: str, clauses: Sequence[Clause], how: Asking, facts: Sequence[Fact]) -> bool:
    """Whether some clauses have one of the features "a|b"."""
    return any(_is(finder, feature, clauses, how, facts) for feature in text.split("|"))


def _is(finder: Finder, feature: str, clauses: Sequence[Clause], how: Asking, facts: Sequence[Fact]) -> bool:
    words = finder.line.words
    if feature == "sign":
        return any(is_sign(fact) for fact in facts)
    if feature == "place":
        return any(fact.name.startswith(_OF_PLACE) and fact.stance in ("told", "denied") for fact in facts)
    if feature == "several":
        return len([at for at in finder.materials if not _is_earth(finder, at)]) > 1
    if feature == "whether":
        return how == feature
    if feature == "either":
        return any(words[at].form == "or" for one in clauses for at in range(one.start, one.end))
    if feature == "fragment":
        said = [words[at].form for one in clauses for at in range(one.start, one.end) if not words[at].mark]
        return len(said) <= _TAG or (len(said) <= _FRAGMENT and not _VERBS & set(said))
    if feature == "number":
        return any(one.start <= at < one.end for one in clauses for at in finder.numbers)
    if feature in ("stuff", "waste"):
        return any(
            one.start <= at < one.end and not _is_earth(finder, at) and (feature == "stuff" or not _grows(finder, at))
            for one in clauses
            for at in finder.materials
        )
    return any(finder.names(feature, one.start, one.end) for one in clauses)


def is_sign(fact: Fact) -> bool:
    """Whether a fact tells how a heap does, and not only what went in, when, or what the weather is."""
    return fact.stance == "told" and fact.name.startswith("sign.") and fact.name not in _NO_SIGN


def _is_earth(finder: Finder, at: int) -> bool:
    """Whether a material is soil or compost by its own name or by the noun it ends with: "half rotted compost"."""
    end = finder.materials[at].end
    return any(finder.things(name, at) or finder.things(name, end - 1) for name in ("compost", "soil"))


def _grows(finder: Finder, at: int) -> bool:
    """Whether a material is called by the name of a crop alone: "carrots", but not "carrot tops"."""
    return max(finder.things("d-plot", at), default=0) >= finder.materials[at].end
