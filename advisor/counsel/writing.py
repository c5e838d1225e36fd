"""The plan, written line by line from what the rules concluded and the arithmetic worked out."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from datetime import timedelta

from advisor.blend.own import odd
from advisor.counsel import mixture, texts, why
from advisor.counsel.blending import Blended
from advisor.counsel.cautions import cautions, notice_line, raised
from advisor.counsel.ingredients import Ingredient
from advisor.counsel.plan import (
    Because,
    Body,
    Event,
    Heard,
    Layer,
    Line,
    Plan,
    Recipe,
    Spread,
    spread_of,
)
from advisor.counsel.settle import Settled, is_barred
from advisor.counsel.stock import Lot
from advisor.counsel.verdict import Verdict
from advisor.counsel.wording import capital, counted, joined, with_article
from advisor.heap import layers as layering
from advisor.heap.course import ReadyBy, ready_by, turnings
from advisor.heap.geometry import HeapBody
from advisor.heap.standing import as_they_stand
from advisor.household.own_figures import own_text
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Figure
from advisor.units import Units, length_text, mass_text, volume_text

_SHAPES = {"heap": "a heap", "box": "a box", "drum": "a drum", "windrow": "a row", "ring": "a ring of netting"}
_WARMTH = {"yes": "big enough to heat", "barely": "on the edge of heating", "no": "too small to run hot"}

#: Less of a measure than this is said in litres: counted in halves it would be none.
_LEAST_COUNTED = 0.25


class Writer:
    """Writes one plan. The consultation must have settled the method and the blend."""

    def __init__(
        self,
        talk: Consultation,
        household: Household,
        knowledge: Knowledge,
        settled: Settled,
        blended: Blended,
        units: Units,
    ) -> None:
        self.talk, self.household, self.knowledge = talk, household, knowledge
        self.settled, self.blended, self.units = settled, blended, units
        self.method = knowledge.methods[settled.method]
        self.mixture = mixture.Mixture(talk, household, knowledge, settled, blended, units)
        self.figures = self._figures()

    def plan(self) -> Plan:
        """The whole plan, without its doubts."""
        return Plan(
            household=self.household.name,
            units=self.units,
            heard=tuple(self.heard()),
            choice=Verdict(self.talk, self.knowledge, self.settled).choice(),
            recipe=self.mixture.recipe() if self.settled.method != "collection" else Recipe(status="none"),
            body=self.body(),
            layers=self.layers(),
            needs=tuple(self.notices("need", "n")),
            steps=tuple(self.notices("step", "s")),
            stays_out=tuple(self.stays_out()),
            prepare=tuple(self.prepare()),
            left_over=tuple(self.left_over()),
            events=tuple(self.events()),
            built=self.household.start.isoformat() if self.household.start is not None else "",
            ready=self.ready(),
            ready_date=self.ready_date(),
            ready_weeks=self.ready_weeks(),
            notes=tuple(self.notices("note", "w")),
            cautions=tuple(cautions(self.talk, self.knowledge, self.units, self.figures)),
            doubts=(),
        )

    # ------------------------------------------------------------ what was heard, and the choice

    def heard(self) -> Iterator[Heard]:
        for number, lot in enumerate(self.settled.lots, 1):
            amount = f"{volume_text(lot.litres.typical, self.units)}, {mass_text(lot.kilograms.typical, self.units)}"
            each = " a week" if lot.weekly else ""
            name = lot.material.name
            line = Line(
                id=f"h{number}",
                text=f"{lot.holding.said}: {name}, about {amount}{each}{self._own(lot)}",
                why=(
                    why.computed(
                        f"{amount}{each}, and 8 times out of 10 between {volume_text(lot.litres.low, self.units)} "
                        f"and {volume_text(lot.litres.high, self.units)}",
                        why.told(f"you said: {lot.holding.said}"),
                        *self._measure(lot),
                        why.properties(lot.material),
                        because="The measure times its usual size, and the weight of a litre of the stuff.",
                    ),
                ),
            )
            yield Heard(
                said=lot.holding.said,
                material=lot.material_id,
                name=name,
                litres=spread_of(lot.litres),
                kilograms=spread_of(lot.kilograms),
                weekly=lot.weekly,
                line=line,
            )

    def _own(self, lot: Lot) -> str:
        """That a person's own figures were used, and a question about those far outside the tables."""
        own = self.household.own.get(lot.material_id)
        if own is None:
            return ""
        asked = [
            f" You gave {one.what} {one.value:g}{one.unit}; tables print {one.low:g} to {one.high:g}. Is it right?"
            for one in odd(self.knowledge.materials[lot.material_id], own)
        ]
        return f", by your own figures ({own_text(own)}).{''.join(asked)}"

    def _measure(self, lot: Lot) -> tuple[Because, ...]:
        size = lot.portion.litres
        if size is None:
            return ()
        return (why.figure(f"what a {self.knowledge.measures[lot.portion.measure].name} holds", size, " L"),)

    # ------------------------------------------------------------ the heap's body

    def body(self) -> Body | None:
        heap = self.blended.body
        if heap is None:
            return None
        left = self.method.shrinks_to
        finished = Spread(
            low=heap.litres * left.low / 100,
            typical=heap.litres * left.typical / 100,
            high=heap.litres * left.high / 100,
        )
        reasons = [
            why.computed("shape and size", because="Geometry of the volume in the room given."),
            why.figure("smallest heap that heats", self.knowledge.figures["smallest-hot-heap-litres"], " L"),
            why.figure("what is left of it in the end", left, " %"),
        ]
        return Body(
            shape=heap.shape,
            length_m=heap.length_m,
            width_m=heap.width_m,
            height_m=heap.height_m,
            litres=heap.litres,
            fits=heap.fits,
            heats=heap.heats,
            finished_litres=finished,
            line=Line(id="b1", text=self._body_text(heap, finished), why=tuple(reasons)),
        )

    def _body_text(self, heap: HeapBody, finished: Spread) -> str:
        length, width, height = (length_text(side, self.units) for side in (heap.length_m, heap.width_m, heap.height_m))
        warmth = _WARMTH[heap.heats] if self.method.heats else "it need not heat"
        if self.method.heats and heap.heats == "no" and self.blended.poor:
            warmth = "too poor in nitrogen to heat"
        litres = volume_text(heap.litres, self.units)
        low, high = volume_text(finished.low, self.units), volume_text(finished.high, self.units)
        text = (
            f"{litres} as {_SHAPES[heap.shape]}, {length} long, {width} wide and {height} high as built: {warmth}. "
            f"It shrinks to {low} to {high} of finished compost."
        )
        if self.blended.cages > 1:
            ring = length_text(self.knowledge.figures["leaf-cage-side-m"].typical, self.units)
            text += f" In rings of {ring}, {self.blended.cages} of them."
        return text if heap.fits else f"{text} It holds no more than {volume_text(heap.most_litres, self.units)}."

    def layers(self) -> tuple[Layer, ...]:
        heap = self.blended.body
        if heap is None or not self.knowledge.methods[self.settled.method].stacked:
            return ()
        lines = [
            layering.Line(
                name,
                litres,
                ingredient.material.structure,
                ingredient.material.role,
                ingredient.material.moisture.typical,
            )
            for name, litres in self.blended.used_litres.items()
            if (ingredient := self.blended.ingredients[name]) and litres > 0
        ]
        if not lines:
            return ()
        laid = layering.layers(lines, max(heap.footprint_m2, 0.01), self.knowledge.figures)
        laid = as_they_stand(laid, heap.shape, heap.length_m, heap.width_m, heap.height_m)
        forked = self._forked(laid)
        return tuple(
            Layer(
                material=layer.material,
                name=self.knowledge.materials[layer.material].name
                + (", forked in" if layer.material in forked else ""),
                forked=layer.material in forked,
                litres=layer.litres,
                thickness_cm=layer.thickness_cm,
                place=layer.place,
            )
            for layer in laid
        )

    def _forked(self, laid: Sequence[layering.Layer]) -> frozenset[str]:
        """The materials to be forked through what lies beside them: what mats, and what a rule bids to mix in."""
        return frozenset(
            layer.material
            for layer in laid
            if len(laid) > 1
            and (
                layer.mixed
                or (
                    layer.thickness_cm > self.knowledge.figures["two-fingers-cm"].typical
                    and "mix-thinly" in self.talk.values("holding", "prepare", layer.material)
                )
            )
        )

    # ------------------------------------------------------------ notices

    def _scraps(self) -> list[Lot]:
        """The kitchen scraps that may go into the method."""
        return [
            lot
            for lot in self.settled.lots
            if "kitchen" in lot.material.traits and not is_barred(self.talk, lot.material_id, self.settled.method)
        ]

    def _fill_days(self) -> int:
        """Days from the start to the last filling, where that is not one day's work."""
        if self.settled.method != "fermented-bucket":
            return 0
        return texts.fill_days(self._scraps(), self.household, self.knowledge)

    def _figures(self) -> dict[str, str]:
        water = self.blended.recipe.water_l if self.blended.recipe is not None else 0.0
        return {
            **texts.body_texts(self.blended.body, self.knowledge, self.units),
            **texts.water_texts(water, self.knowledge, self.units),
            **texts.load_texts(self.mixture.loads.load_phrases()),
            **texts.vessel_texts(self._scraps(), self.household, self.knowledge, self.units),
        }

    def notices(self, kind: str, letter: str) -> Iterator[Line]:
        """The notices of a kind that apply, in their order."""
        for number, name in enumerate(raised(self.talk, kind, self.knowledge), 1):
            yield self._notice(kind, name, f"{letter}{number}")

    def _notice(self, kind: str, name: str, line_id: str) -> Line:
        return notice_line(self.talk, kind, name, line_id, self.knowledge, self.units, self.figures)

    def events(self) -> Iterator[Event]:
        found: list[Event] = []
        declared = self.knowledge.notices["event"]
        for name in self.talk.about("event", "stands"):
            line = self._notice("event", name, "")
            day = declared[name].order + (self._fill_days() if declared[name].after_filling else 0)
            found.append(Event(day=day, what=name, line=line))
        found += self._turnings()
        for number, event in enumerate(sorted(found, key=lambda one: (one.day, one.line.text)), 1):
            on = ""
            if self.household.start is not None:
                on = (self.household.start + timedelta(days=event.day)).isoformat()
            yield event.model_copy(update={"date": on, "line": event.line.model_copy(update={"id": f"e{number}"})})

    def _turnings(self) -> Iterator[Event]:
        edges = {name: self.talk.number("turning", name) for name in ("first_day", "every_days", "times")}
        first, every, times = edges["first_day"], edges["every_days"], edges["times"]
        if first is None or every is None or times is None:
            return
        reasons = why.reasons(self.talk, Fact("turning", "times", "", times).key, self.knowledge)
        if self.settled.method == "tumbler":
            text = f"Roll it now and every {every:g} days, {times:g} times in all."
            line = Line(id="", text=text, why=reasons)
            yield Event(day=int(first), what="roll", every_days=int(every), times=int(times), line=line)
            return
        for turning in turnings(first, every, times):
            outside = "outside to the middle, and water what is dry" if turning.number == 1 else "outside to the middle"
            line = Line(id="", text=f"Turn it ({turning.number} of {times:g}): {outside}.", why=reasons)
            yield Event(day=turning.day, what=f"turn-{turning.number}", line=line)

    def ready(self) -> Line:
        if self.settled.method == "collection":
            return Line(id="e0", text="Nothing to wait for.", why=())
        weeks = self.weeks()
        span = self._ready_by()
        when = f"in about {weeks_text(weeks.typical)}" if span.likely is None else f"about {span.likely.isoformat()}"
        text = f"Ready {when}; between {weeks_text(weeks.low)} and {weeks_text(weeks.high)} from the last filling."
        return Line(id="e0", text=text, why=(why.figure("weeks from the last filling", weeks, ""),))

    def ready_date(self) -> str:
        """The day on which it is likely to be ready, in ISO form; empty where that cannot be told."""
        likely = self._ready_by().likely if self.settled.method != "collection" else None
        return likely.isoformat() if likely is not None else ""

    def _ready_by(self) -> ReadyBy:
        start = self.household.start
        return ready_by(self.weeks(), start + timedelta(days=self._fill_days()) if start else None)

    def ready_weeks(self) -> Spread | None:
        """Weeks from the last filling until it is ready; None where nothing is waited for."""
        if self.settled.method == "collection":
            return None
        weeks = self.weeks()
        return Spread(low=weeks.low, typical=weeks.typical, high=weeks.high)

    def weeks(self) -> Figure:
        """Weeks until it is ready: by the way a heap is worked, where it is a heap."""
        heap = self.blended.body
        aim = self.talk.word("plan", "aim")
        if self.knowledge.methods[self.settled.method].stacked:
            every = self.talk.number("turning", "every_days")
            if aim == "hot" and every is not None and every <= self.knowledge.figures["often-turned-days"].typical:
                small = heap is not None and heap.heats == "no"
                return self.knowledge.figures["weeks-small-turned-heap" if small else "weeks-hot-heap"]
            return self.knowledge.figures["weeks-fungal-heap" if aim == "fungal" else "weeks-steady-heap"]
        return self.method.weeks

    # ------------------------------------------------------------ what stays out, and what is left

    def stays_out(self) -> Iterator[Line]:
        names = dict.fromkeys(lot.material_id for lot in self.settled.lots)
        method = self.settled.method
        for number, name in enumerate((one for one in names if is_barred(self.talk, one, method)), 1):
            reasons = why.barred(self.talk, name, method, self.knowledge)
            said = " ".join(because.because for because in reasons)
            text = f"{capital(self.knowledge.materials[name].name)}: {said}{self._elsewhere(name)}"
            yield Line(id=f"o{number}", text=text, why=reasons)

    def _elsewhere(self, material: str) -> str:
        """Where it may go instead."""
        if is_barred(self.talk, material, "all"):
            return ""
        places = [
            self.knowledge.methods[one.method].name
            for one in self.settled.standings
            if not one.ruled_out and one.method != "collection" and not is_barred(self.talk, material, one.method)
        ][:2]
        if not places:
            return " The local collection may take it; ask."
        return f" It could go into {joined([with_article(place) for place in places], 'or')}."

    def prepare(self) -> Iterator[Line]:
        words = self.knowledge.kinds["holding"].attributes["prepare"].words
        names = [*self.blended.used_litres, *(lot.material_id for lot in self.blended.extras)]
        number = 0
        for name in dict.fromkeys(names):
            asked = self.talk.values("holding", "prepare", name)
            if not asked:
                continue
            number += 1
            reasons = tuple(
                because
                for word in asked
                for because in why.reasons(self.talk, Fact("holding", "prepare", name, word).key, self.knowledge)
            )
            what = "; ".join(words[str(word)] for word in asked)
            yield Line(id=f"p{number}", text=f"{capital(self.knowledge.materials[name].name)}: {what}.", why=reasons)

    def left_over(self) -> Iterator[Line]:
        number = 0
        for name, ingredient in self.blended.ingredients.items():
            text = self._left_over(name, ingredient)
            if text:
                number += 1
                yield Line(id=f"l{number}", text=text, why=self.mixture.why_left(name))
        yield from self.notices("keep", "k")

    def _left_over(self, name: str, ingredient: Ingredient) -> str:
        """What is left of a material. The rest of a measure that goes in is not named; what stays out whole is."""
        if not ingredient.lots or ingredient.offer.poured:
            return ""
        litres, unused = self.blended.left_over(name), name not in self.blended.used_litres
        if litres > 0 and (unused or litres >= 1.0):
            count, volume = litres / ingredient.unit.litres, volume_text(litres, self.units)
            if count < _LEAST_COUNTED:
                return f"{volume} of {ingredient.material.name}"
            return f"{counted(count, ingredient.unit.name)} of {ingredient.material.name}, {volume}"
        weekly = sum(lot.litres.typical for lot in ingredient.lots if lot.weekly)
        if unused and weekly > 0 and self.settled.method != "collection":
            return f"{volume_text(weekly, self.units)} of {ingredient.material.name} a week"
        return ""


def weeks_text(weeks: float) -> str:
    """Weeks, or months once they make a year."""
    return f"{weeks:g} weeks" if weeks < 52 else f"{math.floor(weeks / 4.345 + 0.5)} months"
