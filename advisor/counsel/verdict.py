"""The method that stands, in words: what spoke for it, what came second, and what decided between them."""

from __future__ import annotations

from advisor.counsel import why
from advisor.counsel.choose import Standing
from advisor.counsel.plan import Because, Choice, Line, Ranked
from advisor.counsel.settle import Settled
from advisor.counsel.wording import capital, with_article
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge

#: How many reasons a method's line shows; all of them are in the ranking.
_REASONS_SHOWN = 3


class Verdict:
    """Writes the choice of one plan."""

    def __init__(self, talk: Consultation, knowledge: Knowledge, settled: Settled) -> None:
        self.talk, self.knowledge, self.settled = talk, knowledge, settled
        self.method = knowledge.methods[settled.method]

    def choice(self) -> Choice:
        best, rival = self.settled.standings[0], self.settled.runner_up
        aim = self.talk.word("plan", "aim") or "cold"
        meaning = self.knowledge.kinds["plan"].attributes["aim"].words[aim]
        how = f", worked as {meaning}" if self.method.balanced else ""
        reasons = self._votes(best, positive=True)
        text = f"{capital(with_article(self.method.name))}{how}: {self.method.about}."
        if reasons:
            text += " " + " ".join(self._shown(best))
        else:
            text += " Nothing was said that speaks for another way."
        aims = why.reasons(self.talk, Fact("plan", "aim", "", aim).key, self.knowledge)
        line = Line(id="m1", text=text, why=(*reasons, *self._votes(best, positive=False), *aims))
        return Choice(
            method=best.method,
            name=self.method.name,
            aim=aim,
            line=line,
            runner_up=self._ranked(rival) if rival else None,
            runner_up_line=self._runner_up(best, rival) if rival else None,
            ranking=tuple(self._ranked(one) for one in self.settled.standings),
        )

    def _runner_up(self, best: Standing, rival: Standing) -> Line:
        """What decided between the first and the second: the rules whose weights for the two differ most."""
        ours, theirs = best.weights, rival.weights
        lead = {rule: ours.get(rule, 0.0) - theirs.get(rule, 0.0) for rule in ours | theirs}
        deciding = sorted((rule for rule, by in lead.items() if by > 0), key=lambda rule: (-lead[rule], rule))
        own = sorted((rule for rule, by in lead.items() if by < 0), key=lambda rule: (lead[rule], rule))
        # a rule that is merely less against a method than against another gives no reason for it
        own = [rule for rule in own if theirs.get(rule, 0.0) > 0]
        shown = self._shown(best)
        tips = [rule for rule in deciding if ours.get(rule, 0.0) > 0 and self.talk.rules[rule].because not in shown]
        margin = best.score - rival.score
        close = (
            "it would do as well" if margin <= 0 else "it would do nearly as well" if margin <= 1 else "it came second"
        )
        text = f"Next best, {with_article(rival_name := self.knowledge.methods[rival.method].name)}: {close}."
        own = [rule for rule in own if self.talk.rules[rule].because not in shown]
        if own:
            text += f" For it: {self.talk.rules[own[0]].because}"
        if tips and margin > 0:
            name = with_article(self.method.name)
            text += f" What tipped it to {name}: {' '.join(self.talk.rules[rule].because for rule in tips[:2])}"
        reasons = (*self._votes(rival, positive=True), *self._votes(rival, positive=False))
        tipped = tuple(
            why.brief(self.talk, rule, f"{lead[rule]:+g} for {self.method.name} over {rival_name}") for rule in deciding
        )
        return Line(id="m2", text=text, why=(*tipped, *reasons))

    def _shown(self, best: Standing) -> tuple[str, ...]:
        """The reasons that the line of the method gives, each once."""
        reasons = (because.because for because in self._votes(best, positive=True))
        return tuple(dict.fromkeys(reasons))[:_REASONS_SHOWN]

    def _votes(self, standing: Standing, *, positive: bool) -> tuple[Because, ...]:
        """The reasons of the rules that spoke, strongest first, with the facts they saw."""
        found: list[Because] = []
        for vote in standing.votes:
            if (vote.weight > 0) is positive:
                found += why.reasons(self.talk, vote.key, self.knowledge, only=frozenset({vote.rule}))[:1]
        return tuple({because.rule: because for because in found}.values())

    def _ranked(self, standing: Standing) -> Ranked:
        name = self.knowledge.methods[standing.method].name
        reasons = tuple(
            why.brief(self.talk, vote.rule, f"{name}: {'ruled out' if vote.weight == 0 else f'{vote.weight:+g}'}")
            for vote in standing.votes
        )
        return Ranked(
            method=standing.method, name=name, score=standing.score, ruled_out=standing.ruled_out, why=reasons
        )
