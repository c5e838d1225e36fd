"""How things that were told are said back: amounts, answers, rooms and measures, in a few words each."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.counsel.stock import Lot, lots
from advisor.counsel.wording import joined, plural
from advisor.household.shapes import Holding, Household, Quantity, Room
from advisor.inference.facts import written
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.talk.intents import Have, HaveNot, Less, TellMeasure, TellRoom, Told, Unsaid
from advisor.talk.memory import Change, Entered, Filled, Forget, Fresh, Guess, Load, Mended, Skip
from advisor.units import Units, length_text, mass_text, volume_text

#: What an answer is about, in front of it. An attribute without an entry is called by its name.
_ABOUT = {
    "place.space": "",
    "place.digging": "",
    "place.container": "",
    "place.season": "",
    "place.climate": "climate: ",
    "place.pests": "animals that raid scraps: ",
    "place.neighbours": "neighbours: ",
    "place.local_limits": "",
    "place.holds": "the container holds ",
    "wish.aim": "what matters: ",
    "wish.turning": "turning: ",
    "wish.crop": "for ",
    "wish.care": "weak lungs, weak immunity or small children: ",
    "wish.sanitise": "seeds or disease to be killed by heat: ",
    "household.animals": "animals kept: ",
    "household.people": "people who eat there: ",
    "household.strength": "",
    "wish.money": "",
    "wish.away": "",
    "wish.without": "",
    "place.tools": "tools: ",
}
_PARTS = {0.25: "¼", 0.5: "½", 0.75: "¾", 1 / 3: "⅓", 2 / 3: "⅔"}


def number(value: float) -> str:
    """ "3", "2½", "¾", "0.4"."""
    whole = int(value)
    for part, sign in _PARTS.items():
        if abs(value - whole - part) < 0.01 and whole < 20:
            return f"{whole or ''}{sign}"
    return f"{value:.0f}" if abs(value - round(value)) < 0.05 or value >= 20 else f"{value:.2g}"


def amount(quantity: Quantity, knowledge: Knowledge, units: Units) -> str:
    """How much, without what: "3 sacks", "40 L", "½ bucket"."""
    if quantity.measure == "L":
        return volume_text(quantity.count, units)
    if quantity.measure == "kg":
        return mass_text(quantity.count, units)
    name = knowledge.measures[quantity.measure].name
    return f"{number(quantity.count)} {name if quantity.count <= 1 else plural(name)}"


def rate(quantity: Quantity) -> str:
    """How often: " a week", or nothing."""
    return "" if quantity.per == "once" else f" a {quantity.per}"


def holding(held: Holding, household: Household, knowledge: Knowledge, units: Units) -> str:
    """ "3 sacks of dry autumn leaves (about 230 L)"; with the range where the words were loose."""
    name = knowledge.materials[held.material].name
    quantity = held.quantity
    found = lots(Household("", (held,), measures=household.measures), knowledge)
    if not found:
        return f"no {name}"
    lot = found[0]
    said = amount(quantity, knowledge, units)
    measure = "" if quantity.measure in ("L", "kg") else knowledge.measures[quantity.measure].name
    about = _worth(lot, quantity, units)
    inside = f" ({about[0]})" if about else ""
    inside += ", to hand" if held.beside else ""
    if measure.split(" ")[0] in name.split(" ") and " " in measure:  # "a kitchen caddy of mixed kitchen scraps a week"
        return f"{said}{rate(quantity)} of {name}{inside}"
    return f"{said} of {name}{rate(quantity)}{inside}"


def _worth(lot: Lot, quantity: Quantity, units: Units) -> list[str]:
    each = " a week" if quantity.per in ("day", "month") else ""
    litres = lot.litres
    told = [] if quantity.measure == "L" and not each else [f"about {volume_text(litres.typical, units)}{each}"]
    if quantity.high > quantity.low:
        told.append(f"anything from {volume_text(litres.low, units)} to {volume_text(litres.high, units)}")
    return [", ".join(told)] if told else []


def answer(attribute: str, values: Sequence[Value], knowledge: Knowledge, units: Units) -> str:
    """An answer with what it answers: "a garden", "turning: about once a month", "soil to dig in"."""
    kind, _, name = attribute.partition(".")
    declared = knowledge.kinds[kind].attributes[name]
    about = _ABOUT.get(attribute, f"{name.replace('_', ' ')}: ")
    if attribute == "place.room":
        return room_of(float(values[0]), units)
    if declared.number is not None:
        figure = float(values[0])
        text = volume_text(figure, units) if declared.unit == "L" else f"{written(figure)} {declared.unit}".strip()
        return f"{about}{text}"
    return f"{about}{joined([declared.words[str(value)] for value in values])}"


def room_of(area_m2: float, units: Units) -> str:
    """Ground of which only the area is known, which is taken as a square."""
    if area_m2 <= 0:
        return "no free ground"
    side = length_text(area_m2**0.5, units)
    return f"free ground, taken as a square of {side} each way"


def room(ground: Room, units: Units) -> str:
    """ "1.2 m by 1.5 m of free ground"."""
    if ground.length_m <= 0 or ground.width_m <= 0:
        return "no free ground"
    sides = [length_text(ground.length_m, units), length_text(ground.width_m, units)]
    height = f", {length_text(ground.height_m, units)} overhead" if ground.height_m is not None else ""
    return f"{' by '.join(sides)} of free ground{height}"


def change(made: Change, household: Household, knowledge: Knowledge, units: Units) -> str:
    """A change in a few words, as it is listed and taken back; empty if it says nothing."""
    match made:
        case Have(held, _, more):
            return ("another " if more else "") + holding(held, household, knowledge, units)
        case Guess(held):
            return f"{holding(held, household, knowledge, units)}, at a guess"
        case HaveNot(materials, _):
            return none_of(materials, knowledge)
        case Told(attribute, values, _):
            return answer(attribute, values, knowledge, units)
        case TellRoom(ground, _):
            return room(ground, units)
        case TellMeasure(measure, litres, _):
            return f"a {knowledge.measures[measure].name} holds {volume_text(litres, units)}"
        case Skip(key):
            return f"left open: {topic(key, knowledge)}"
        case Forget(attribute):
            return f"no longer said: {topic(attribute, knowledge)}"
        case Unsaid(attribute, value, _):
            return f"gone: {answer(f'sign.{attribute}', (value,), knowledge, units)}"
        case Load(kept):
            return f"the heap kept as “{kept.name}”"
        case Fresh():
            return "the start of it all over again"
        case Filled(text) | Mended(_, text):
            return f"“{text}”" if text else ""
        case Entered():
            return ""


def taken_words(less: Less, knowledge: Knowledge, units: Units) -> str:
    """ "1 sack of dry autumn leaves", "½ of the dry autumn leaves"."""
    name = knowledge.materials[less.material].name
    if isinstance(less.taken, Quantity):
        return f"{amount(less.taken, knowledge, units)} of {name}{rate(less.taken)}"
    return f"{number(less.taken)} of the {name}"


def none_of(materials: Sequence[str], knowledge: Knowledge) -> str:
    """ "no straw"; of a whole class, a few of them."""
    names = [knowledge.materials[name].name for name in materials]
    shown = names if len(names) <= 3 else [*names[:2], f"{len(names) - 2} more of the kind"]
    return f"no {joined(shown, 'or')}"


def topic(key: str, knowledge: Knowledge) -> str:
    """What a question is about: of an attribute, of "materials", or of "amount:" and a material."""
    if key == "materials":
        return "what there is to compost"
    if key.startswith("amount:"):
        return f"how much {knowledge.materials[key.partition(':')[2]].name} there is"
    kind, _, name = key.partition(".")
    return knowledge.kinds[kind].attributes[name].about.replace("the person is", "you are")


def upper(text: str) -> str:
    """With a capital in front."""
    return text[:1].upper() + text[1:]


def lower(text: str) -> str:
    """With a small letter in front, unless the first word is all capitals or "I"."""
    first = text.split(" ", 1)[0]
    return text if first[1:2].isupper() or first == "I" else text[:1].lower() + text[1:]


def a(name: str) -> str:
    """A method with its article: "an open heap"."""
    if name == "hand it on":
        return "handing it on"
    return f"{'an' if name[:1] in 'aeiou' else 'a'} {name}"
