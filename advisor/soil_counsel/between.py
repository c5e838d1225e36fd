"""What may live between the rows of a bed, by its crops, its step and its soil: the rules choose, this asks them."""

from __future__ import annotations

from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.soil.season_layout import Step
from advisor.soil_counsel.judging import Judged, Why, judge
from advisor.soil_counsel.soil import Bed

#: From this step on there are rows to grow something between; before it the whole bed is green manure.
FIRST_ROWS = 3

_ORIGIN = "the calendar"


class BetweenRows:
    """Living mulches of a ground's beds. Beds of which the same is known share one consultation."""

    def __init__(self, knowledge: Knowledge, engine: Engine) -> None:
        self._knowledge, self._engine = knowledge, engine
        self._judged: dict[tuple[object, ...], Judged] = {}

    def fitting(self, bed: Bed, step: Step, family: str) -> tuple[str, ...]:
        """Those that suit and are not barred, the best first. The family is empty for a bed that stands."""
        judged = self._judge(bed, step, family)
        return tuple(name for name in judged.between if name not in judged.barred_between)

    def why(self, bed: Bed, step: Step, family: str, name: str) -> Why:
        """Why one of them suits; for "straw", why nothing living does: what bars those that else might."""
        judged = self._judge(bed, step, family)
        if name in judged.between:
            return judged.between[name]
        reasons = {because.rule: because for why in judged.barred_between.values() for because in why}
        return tuple(reasons.values())

    def _judge(self, bed: Bed, step: Step, family: str) -> Judged:
        told = [*bed.facts, (Fact("bed", "step", "", float(step)), _ORIGIN)]
        if family:
            told.append((Fact("bed", "family", "", family), _ORIGIN))
        key = (tuple(sorted(fact.key for fact, _ in told)),)
        if key not in self._judged:
            self._judged[key] = judge(told, self._knowledge, self._engine)
        return self._judged[key]
