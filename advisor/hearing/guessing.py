"""Whether a question only guesses at the cause of what was told before it.

"It stinks, is it the orange peel?", "nothing comes up, bad seed?", "they have stopped eating, are they poorly?". Such a
question asks for the cause. What it names is no subject of its own: nobody wants to hear of orange peel, or of seed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.questions import CAUSES, Asking
from advisor.hearing.shapes import Fact

_LONGEST_FRAGMENT = 4  # words
_LONGEST = 10  # words
_SHORTEST_TAG = 3  # words: "are they poorly"
_NO_TROUBLE = ("sign.weather", "sign.degrees", "sign.size", "sign.age", "sign.holds", "sign.bran")
_LEADS = listed("so and but or then well oh um er only just maybe perhaps because is")
_BE = listed("is was are were")
_MAY = listed("could can might may would will must")
_IT = listed("it that this they these those there")
_WHO = listed("somebody someone anybody anyone something")
#: What is put forward as the cause.
_PUT_FORWARD = listed("because due down from the a an some my our too lack not just only really all")
#: Whatever goes before them, these put no cause forward: they ask for a verdict, a time or a deed.
_OTHERWISE = listed(
    "ok okay alright right fine good bad safe dangerous harmful harm poisonous toxic allowed possible enough "
    "true worth useful use usual ready done finished late soon early time sign idea thing problem point way better "
    "best worse any what which how who when where why compostable edible help advice tips thoughts ideas risk danger "
    "verdict opinion opinions salvageable no yes nope normal need needed needs want wants should shall must instead or"
)
#: Something is done or has happened, and the question says by whom.
_HAVE_I = (("am", "i"), ("have", "i"), ("did", "i"), ("have", "we"), ("did", "we"))


def guesses(finder: Finder, facts: Sequence[Fact], asks: Mapping[int, Asking]) -> frozenset[int]:
    """Where the clauses begin that only guess at a cause: those behind a sign of trouble, or an animal, that is told.

    Args:
        finder, facts: of the line.
        asks: how each clause asks, by its first word.
    """
    concepts = finder.vocabulary.concepts
    told = [
        fact.end
        for fact in facts
        if fact.stance in ("told", "past") and fact.concept in concepts and fact.name not in _NO_TROUBLE
        if concepts[fact.concept].bad or fact.name == "sign.animals"
    ]
    words = finder.line.words
    first = min(told, default=len(finder.line.text) + 1)
    return frozenset(
        clause.start
        for clause in finder.line.clauses
        if asks[clause.start] and first <= words[clause.start].start and _guesses(finder, clause)
    )


def _guesses(finder: Finder, clause: Clause) -> bool:
    forms = [word.form for word in finder.line.words[clause.start : clause.end] if not word.mark]
    while forms and forms[0] in _LEADS - {"is"}:
        forms = forms[1:]
    if not forms or len(forms) > _LONGEST or any(form.isdecimal() for form in forms):
        return False
    if finder.names("soil", clause.start, clause.end):
        return False  # "water stands in the bed, is it the soil?" is for the soil checks
    if forms[0] in _BE and forms[1:2] == ["they"] and len(forms) <= _SHORTEST_TAG:
        return not _OTHERWISE & set(forms)
    if forms[0] in _BE | _MAY and forms[1:2] and forms[1] in _IT:
        named = clause.start + 2 in finder.materials or any(
            finder.names(name, clause.start, clause.end) for name in ("animals", "weather")
        )
        rest = forms[3:] if forms[0] in _MAY else forms[2:]
        if not rest:  # "is it | because I put no straw in"
            return any(one.start == clause.end and one.joined in CAUSES for one in finder.line.clauses)
        put_forward = rest[0] in _PUT_FORWARD or named
        return put_forward and not _OTHERWISE & set(rest[:4])
    if tuple(forms[:2]) in _HAVE_I or (forms[0] in ("has", "is", "did") and forms[1:2] and forms[1] in _WHO):
        return not _OTHERWISE & set(forms)
    helpers = _BE | _MAY | {"do", "does", "did", "has", "have", "had", "am"}
    judges = forms[0] in _OTHERWISE - {"bad"} or _OTHERWISE.issuperset(forms)
    return len(forms) <= _LONGEST_FRAGMENT and not judges and not helpers & set(forms)
