"""From signs to causes to the cure: rules decide, the arithmetic adds up and measures out, the words are put together.

A diagnosis is a pure function of its signs (and of what went in and is on hand): the same signs, in whatever order, get
the same answer.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from advisor.counsel.cautions import raised
from advisor.counsel.in_use import engine_of
from advisor.counsel.plan import Because, Line
from advisor.counsel.wording import joined
from advisor.diagnosis.account import account
from advisor.diagnosis.asking import Prospect, belief_in, prospects
from advisor.diagnosis.doses import Apothecary
from advisor.diagnosis.foresight import Foresight
from advisor.diagnosis.reasons import because_of, voice_because, voice_text, weighed_because
from advisor.diagnosis.shapes import AnswerOffered, Cure, Diagnosis, NextQuestion, Sign, Suspect
from advisor.diagnosis.signs import Read
from advisor.diagnosis.weighing import Standing, Weighed, best_guess, causes_of, weigh
from advisor.household.shapes import Holding, Household
from advisor.inference.engine import Consultation, Engine
from advisor.inference.facts import Fact, written
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.knowledge.parts import troubles
from advisor.knowledge.shapes import Notice, Remedy
from advisor.units import Units, fill

Signs = Mapping[str, tuple[Value, ...]]

#: Suspicions named when nothing is settled.
_SUSPECTS_SHOWN = 8
#: Kinds of notices that a rule may withdraw.
_WITHDRAWN = frozenset({"remedy", "avoid", "caution"})
#: After so many questions the best guess is told, and no more is asked.
QUESTIONS_AT_MOST = 5


def diagnose(
    signs: Signs,
    knowledge: Knowledge,
    engine: Engine,
    *,
    household: Household | None = None,
    went_in: Sequence[Holding] = (),
    units: Units = "metric",
    declined: Collection[str] = (),
    asked: int = 0,
    read: Iterable[Read] = (),
    unplaced: Iterable[str] = (),
) -> Diagnosis:
    """What is wrong, or that nothing is, and what to do.

    Args:
        signs: what is seen, by attribute of the fact kind `sign`.
        engine: with the rules of troubles at least (`diagnosis_engine`).
        household: what is on hand for a cure. If `went_in` is empty, what it holds now is taken for what went in,
            but for what is said to lie beside the heap.
        went_in: what the heap was made of, so that amounts can be worked out.
        declined: attributes of `sign` that were asked about in vain; they are not asked about again.
        asked: how many questions were put so far; after `QUESTIONS_AT_MOST` the best guess is told.
        read, unplaced: the words the signs were read from, and those that were not understood, to be handed on.

    Raises:
        InferenceFault: a sign that is not declared, or two values where only one can hold.
    """
    with engine.consultation() as talk:
        talk.tell(
            [Fact("sign", attribute, "", value) for attribute, values in signs.items() for value in values],
            "you said so",
        )
        standing = weigh(talk, knowledge)
        if asked >= QUESTIONS_AT_MOST:
            standing = best_guess(standing, causes_of(knowledge))
        talk.close_answers()  # a cure may rest on what nobody has told: no reading, no size
        talk.tell(
            [
                Fact("case", "verdict", "", standing.verdict),
                *(Fact("cause", "stands", name, "yes") for name in standing.stands),
            ],
            "what the signs come to",
        )
        writer = _Writer(talk, knowledge, standing, units)
        felt = frozenset(str(value) for value in talk.values("state", "found"))
        made_of = went_in or _inside(household)
        apothecary = Apothecary(
            account(made_of, household, knowledge, felt),
            _to_hand(household),
            knowledge,
            units,
            frozenset(standing.stands),
            frozenset(str(value) for value in signs.get("holds", ())),
        )
        sure, questions = _asked_next(signs, standing, knowledge, declined, asked)
        return Diagnosis(
            household=household.name if household is not None else "",
            verdict=standing.verdict,
            sure=sure,
            summary=writer.summary(),
            signs=tuple(_signs(signs, knowledge, read)),
            unplaced=tuple(unplaced),
            cautions=writer.cautions(),
            causes=writer.suspects(),
            questions=questions,
            remedies=writer.cures(apothecary),
            avoid=writer.avoid(),
        )


def shipped_diagnosis_engine() -> Engine:
    """The engine with the rules of troubles in use, compiled once."""
    return engine_of(troubles)


def diagnosis_engine(knowledge: Knowledge) -> Engine:
    """An engine with the rules of troubles alone. Make one and keep it."""
    return Engine(*troubles(knowledge))


def _inside(household: Household | None) -> tuple[Holding, ...]:
    """What went into the heap once, as nothing says that it lies beside it."""
    held = household.holdings if household is not None else ()
    return tuple(holding for holding in held if holding.quantity.per == "once" and not holding.beside)


def _to_hand(household: Household | None) -> Household | None:
    """The household with what lies beside the heap alone, where anything was said to."""
    beside = tuple(holding for holding in household.holdings if holding.beside) if household is not None else ()
    return replace(household, holdings=beside) if household is not None and beside else household


def _signs(signs: Signs, knowledge: Knowledge, read: Iterable[Read]) -> Iterable[Sign]:
    said = {(one.attribute, one.value): one.said for one in read}
    for attribute, values in signs.items():
        declared = knowledge.kinds["sign"].attributes[attribute]
        for value in values:
            word = declared.words.get(str(value), f"{written(value)} {declared.unit}".strip())
            text = f"{declared.about}: {word}"
            yield Sign(attribute=attribute, value=value, text=text, said=said.get((attribute, value), ""))


# ---------------------------------------------------------------- what to ask


_FORESIGHT: dict[int, Foresight] = {}


def foresight_of(knowledge: Knowledge) -> Foresight:
    """The rules ready to be run ahead; built once for each rule base."""
    found = _FORESIGHT.get(id(knowledge))
    if found is None or found.knowledge is not knowledge:
        found = _FORESIGHT[id(knowledge)] = Foresight(knowledge)
    return found


def _asked_next(
    signs: Signs, standing: Standing, knowledge: Knowledge, declined: Collection[str], asked: int
) -> tuple[bool, tuple[NextQuestion, ...]]:
    """Whether the verdict is sure, and what to ask if it is not."""
    foresight = foresight_of(knowledge)
    causes = causes_of(knowledge)
    seen = foresight.seen(signs)
    belief = belief_in(seen, [name for name in causes if not (standing.unexplained and causes[name].find)])
    settled = standing.verdict in ("settled", "normal")
    sure = knowledge.figures["verdict-sure-pct"].typical / 100
    if settled and sum(belief.get(name, 0.0) for name in standing.stands) >= sure:
        return True, ()
    if asked >= QUESTIONS_AT_MOST:
        return False, ()
    found = prospects(signs, seen, belief, foresight, knowledge, passing_over=declined)
    return False, tuple(_question(one, knowledge) for one in found)


def _question(prospect: Prospect, knowledge: Knowledge) -> NextQuestion:
    question = prospect.question
    declared = knowledge.kinds["sign"].attributes[question.attribute.partition(".")[2]]
    return NextQuestion(
        attribute=question.attribute,
        ask=question.ask,
        why=question.why,
        ease=question.ease,
        settles=round(prospect.bits, 4),
        answers=tuple(AnswerOffered(value=word, text=text) for word, text in declared.words.items()),
        unit=declared.unit,
    )


# ---------------------------------------------------------------- the words


class _Writer:
    """Puts a consultation into lines."""

    def __init__(self, talk: Consultation, knowledge: Knowledge, standing: Standing, units: Units) -> None:
        self.talk, self.knowledge, self.standing, self.units = talk, knowledge, standing, units
        self.causes = causes_of(knowledge)

    def summary(self) -> Line:
        standing = self.standing
        why = tuple(
            each
            for one in standing.ranked
            if one.cause in (standing.stands or standing.rivals)
            for each in weighed_because(one, self.talk, self.knowledge)
        )
        return Line(id="v1", text=self._verdict(), why=why)

    def _verdict(self) -> str:
        standing = self.standing
        named = [self.causes[name].name for name in standing.stands]
        if standing.verdict == "normal":
            return f"Nothing is wrong: {joined(named)}."
        if standing.verdict == "settled":
            first, *others = named
            also = f" Also: {joined(others)}." if others else ""
            return f"Most likely: {first}.{also}"
        if standing.verdict == "guessed":
            return f"My best guess: {named[0]}. Start with that, and tell me what changes."
        if standing.verdict == "tied":
            either = joined([self.causes[name].name for name in standing.rivals], "or")
            return f"It may be {either}. One more answer will tell them apart."
        suspected = [self.causes[one.cause].name for one in standing.ranked[:4] if one.cause not in standing.stands]
        if not suspected:
            return "I can't tell yet what is wrong. Answer a question or two."
        return f"I can't tell yet. It may be {joined(suspected, 'or')}. An answer or two will tell."

    def suspects(self) -> tuple[Suspect, ...]:
        shown = self.standing.ranked[:_SUSPECTS_SHOWN]
        return tuple(self._suspect(f"k{number}", one) for number, one in enumerate(shown, 1))

    def _suspect(self, line_id: str, one: Weighed) -> Suspect:
        cause = self.causes[one.cause]
        return Suspect(
            cause=one.cause,
            name=cause.name,
            score=one.score,
            normal=cause.normal,
            stands=one.cause in self.standing.stands,
            line=Line(
                id=line_id,
                text=fill(f"{cause.name}: {cause.say}", {}, self.units),
                why=weighed_because(one, self.talk, self.knowledge),
            ),
            speaks_for=self._voices(f"{line_id}f", one, 1),
            speaks_against=self._voices(f"{line_id}a", one, -1),
            tell=fill(cause.tell, {}, self.units),
        )

    def _voices(self, prefix: str, one: Weighed, sign: int) -> tuple[Line, ...]:
        voices = [voice for voice in one.voices if voice.weight * sign > 0]
        return tuple(
            Line(
                id=f"{prefix}{number}",
                text=voice_text(voice, self.talk, self.knowledge),
                why=voice_because(voice, self.talk, self.knowledge),
            )
            for number, voice in enumerate(voices, 1)
        )

    def cautions(self) -> tuple[Line, ...]:
        found = self._notices("caution")
        grave = [pair for pair in found if pair[1].grave]
        rest = [pair for pair in found if not pair[1].grave]
        lines = [self._line("caution", f"g{number}", *pair) for number, pair in enumerate(grave, 1)]
        return (*lines, *(self._line("caution", f"c{number}", *pair) for number, pair in enumerate(rest, 1)))

    def avoid(self) -> tuple[Line, ...]:
        return tuple(self._line("avoid", f"n{number}", *pair) for number, pair in enumerate(self._notices("avoid"), 1))

    def cures(self, apothecary: Apothecary) -> tuple[Cure, ...]:
        provisos = self._provisos()
        return tuple(
            self._cure(f"m{number}", name, notice, apothecary, provisos.get(name, ()))
            for number, (name, notice) in enumerate(self._advised(), 1)
        )

    def _advised(self) -> list[tuple[str, Remedy]]:
        """The remedies that are worth doing and that nothing has withdrawn; "do nothing" only where that is all."""
        found = [(name, notice) for name, notice in self._notices("remedy") if isinstance(notice, Remedy)]
        return [(name, notice) for name, notice in found if not notice.alone] or found

    def _cure(
        self, line_id: str, name: str, notice: Remedy, apothecary: Apothecary, provisos: Sequence[tuple[str, Notice]]
    ) -> Cure:
        dose = apothecary.dose(notice.dose)
        why = because_of(self.talk, Fact("remedy", "stands", name, "yes").key, self.knowledge)
        measured = (
            (Because(statement=f"{dose.text} {dose.rests_on}".strip(), origin="computed"),)
            if dose and dose.known
            else ()
        )
        say = notice.moot if dose and dose.moot and notice.moot else notice.say
        text = fill(say, {"dose": dose.text} if dose else {}, self.units)
        text = f"{text} {dose.rests_on}" if dose and not (dose.moot and notice.moot) else text
        return Cure(
            remedy=name,
            line=Line(id=line_id, text=text, why=(*why, *measured)),
            dose=dose,
            expect=fill(notice.expect, {}, self.units),
            look_again_days=notice.days,
            otherwise=fill(notice.otherwise, {}, self.units),
            provisos=tuple(
                self._line("proviso", f"{line_id}p{number}", *pair) for number, pair in enumerate(provisos, 1)
            ),
        )

    def _provisos(self) -> dict[str, list[tuple[str, Notice]]]:
        """The provisos of each remedy: those whose rule saw an effect of it."""
        found: dict[str, list[tuple[str, Notice]]] = {}
        for name, notice in self._notices("proviso"):
            for firing in self.talk.concluding(Fact("proviso", "stands", name, "yes").key):
                for key in firing.matched:
                    fact = self.talk.known[key]
                    if fact.kind == "remedy" and (name, notice) not in found.get(fact.subject, []):
                        found.setdefault(fact.subject, []).append((name, notice))
        return found

    def _notices(self, kind: str) -> list[tuple[str, Notice]]:
        named = self.knowledge.notices[kind]
        withdrawn = {name for name in named if kind in _WITHDRAWN and self.talk.values(kind, "withdrawn", name)}
        return [(name, named[name]) for name in raised(self.talk, kind, self.knowledge) if name not in withdrawn]

    def _line(self, kind: str, line_id: str, name: str, notice: Notice) -> Line:
        why = because_of(self.talk, Fact(kind, "stands", name, "yes").key, self.knowledge)
        return Line(id=line_id, text=fill(notice.say, {}, self.units), why=why)
