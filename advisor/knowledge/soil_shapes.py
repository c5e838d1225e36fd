"""The shapes of what rules/ holds about soil and finished compost: scales, green and living mulches, crops, guides."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from advisor.knowledge.shapes import Figure, Id, Shape, Sources, Text, Word


class Band(Shape):
    """One class of a published scale. Values `below` a limit, or `upto` and including it; the last band has neither."""

    below: float | None = None
    upto: float | None = None
    word: Word
    say: Text

    def holds(self, value: float) -> bool:
        """Whether a value that lies above the band before this one falls into it."""
        if self.below is not None:
            return value < self.below
        return self.upto is None or value <= self.upto


class Scale(Shape):
    """A published table of classes, from the least value up; every value has one class."""

    about: Text
    unit: str
    source: Sources
    bands: tuple[Band, ...] = Field(min_length=2)
    note: str = ""

    @model_validator(mode="after")
    def _rises(self) -> Scale:
        *limited, last = self.bands
        if last.below is not None or last.upto is not None:
            raise ValueError("the last band has no limit")
        if any((band.below is None) == (band.upto is None) for band in limited):
            raise ValueError("each band but the last says either below or upto")
        limits = [limit for band in limited for limit in (band.below, band.upto) if limit is not None]
        if limits != sorted(set(limits)):
            raise ValueError("the limits of the bands rise")
        return self

    def of(self, value: float) -> Band:
        """The class of a value."""
        return next(band for band in self.bands if band.holds(value))


class GreenManure(Shape):
    """A crop grown to be cut for the soil. Rates in g/m2 broadcast; weeks count to or from a frost."""

    name: Text
    aliases: tuple[str, ...] = ()
    grams_per_m2: Figure
    fixes: bool  # takes nitrogen from the air
    sow: Literal["spring", "summer", "autumn"]  # which window the weeks below belong to
    sow_from_week: int  # weeks after the last frost (spring, summer) or after the first frost (autumn); below 0: before
    sow_until_week: int  # the same, counted from the first frost for summer and autumn, from the last for spring
    cut: Text  # when to cut it
    cut_days: tuple[int, int] | None = None  # days from sowing to cutting; None: not before next spring
    wait_weeks: tuple[int, int]  # from cutting and working in to sowing the next crop
    dies_in_frost: bool = False
    source: Sources
    note: str = ""

    @model_validator(mode="after")
    def _in_order(self) -> GreenManure:
        for span in (self.cut_days, self.wait_weeks):
            if span is not None and not 0 <= span[0] <= span[1]:
                raise ValueError(f"a span runs from the lesser to the greater, got {span[0]} to {span[1]}")
        return self


class LivingMulch(Shape):
    """Something low let live between the rows. Rates to the m2 it covers; `{8 cm}` in a text goes into either units.

    It has seed, or plants to set out, or neither, if it comes by itself. Weeks are counted as the fields say; below 0
    is before.
    """

    name: Text
    aliases: tuple[str, ...] = ()
    grams_per_m2: Figure | None = None
    plants_per_m2: Figure | None = None
    clear_cm: Figure  # kept free to each side of the crop
    after_crop_weeks: tuple[int, int]  # first and last, after the crop is set out or has come up
    after_frost_weeks: int  # never sooner, after the last frost
    before_frost_weeks: int  # never later, before the first frost
    start: Text
    keep_down: Text
    keep_down_weeks: tuple[int, int]
    takes: Text  # what it competes for
    not_where: Text
    lives: Literal["season", "years"]
    end: Text
    source: Sources
    note: str = ""

    @model_validator(mode="after")
    def _in_order(self) -> LivingMulch:
        for span in (self.after_crop_weeks, self.keep_down_weeks):
            if not 0 <= span[0] <= span[1]:
                raise ValueError(f"a span runs from the lesser to the greater, got {span[0]} to {span[1]}")
        if self.grams_per_m2 is not None and self.plants_per_m2 is not None:
            raise ValueError("it is sown or set out, not both")
        return self


class CropFamily(Shape):
    """Crops that share pests and hunger, and so follow one another badly."""

    name: Text
    crops: tuple[str, ...] = Field(min_length=1)
    hunger: Literal["hungry", "middling", "light"]
    ground: bool  # what is eaten touches the soil or its splash
    small_seed: bool = False  # sown in place, from small seed
    source: Sources


class GuideInput(Shape):
    """Something a guided check asks for: a number, a length or volume with its unit, or words."""

    ask: Text
    kind: Literal["number", "length", "volume", "temperature", "words"] = "number"
    unit: str = ""  # of a bare number: min, s, h, %, cm, °C, days
    many: bool = False  # several, one after another
    default: str = ""  # taken if nothing is said; empty: it has to be said, unless `optional`
    optional: bool = False
    words: dict[Word, str] = Field(default_factory=dict)


class Guide(Shape):
    """A check that a person can do at home, step by step. `{15 cm}` in a text is shown in the person's units."""

    name: Text
    about: Text
    of: Literal["soil", "compost"]
    every_bed: bool = False  # worth doing on any bed, whatever is known of it
    again_months: int | None = Field(default=None, gt=0)  # worth doing again after so long; None: once is enough
    when: str = ""
    needs: tuple[Text, ...] = ()
    steps: tuple[Text, ...] = Field(min_length=1)
    inputs: dict[str, GuideInput] = Field(min_length=1)
    source: Sources


class HeatRule(Shape):
    """What a rule of an authority asks of a heap's heat. Nought or None means that it does not ask.

    `days` are days with no reading below `celsius`, in a row if `running`; with `times` there are so many such rows, a
    turning between one and the next. `hours` may add up over the whole time, and are at `hours_celsius` if that is set.
    """

    id: Id
    name: Text
    celsius: float
    days: int = 0
    hours: float = 0.0
    hours_celsius: float | None = None
    running: bool = True
    times: int = 0
    turnings: int = 0
    turnings_apart_days: float = 0.0
    weeks_in_all: int = 0
    not_above_celsius: float | None = None
    turned_heaps: bool = True
    closed_vessels: bool = True
    sanitises: bool = True  # meant to make compost fit to be spread; if not, it is for something less
    note: str = ""
    source: Sources
