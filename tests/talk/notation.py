"""What was understood, written so that a person can read it and a test can compare it.

have straw 2 sack           also "2 (1-3) sack", "a week", "packed", and "more" if it comes on top
not straw                   there is none; "not #farm-manure" is all with a trait, "not @brown" all of a role
less straw 1 sack           so much is gone; "less straw 0.5" is half of it
vague straw                 a material without a usable amount; "vague straw 25 (5-100) L" has a guess,
                            and "vague eggs !" cannot be taken as it stands
unclear straw | hay         one of several materials; with an amount, "unclear straw | hay 2 sack"
place.pests = rats, none    an answer
place.season = spring ?     either of several answers: "place.season = autumn ? spring"
room 1.2 x 1.2              a ground plan in metres; "x 2" behind it is the height
measure bucket 12           the size of a measure of their own, in litres
may bread                   whether a material may go in; "may spent-flowers | cut-flowers"
why r2                      of a line; "why" alone of what stands
if {...}                    what if
swap straw > hay
ask back                    a request to the talk itself
enter trouble               a door
pick 2
lost "words"
-                           nothing but small talk
"""

from __future__ import annotations

from collections.abc import Iterable

from advisor.household.shapes import Holding, Quantity, Room
from advisor.knowledge.base import Knowledge
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Enter,
    Have,
    HaveNot,
    Intent,
    Less,
    Lost,
    Pick,
    Swap,
    TellMeasure,
    TellRoom,
    Told,
    Unclear,
    Vague,
    WhatIf,
    Which,
)


def written(intents: Iterable[Intent], knowledge: Knowledge) -> str:
    """Intents in the notation, parted by semicolons."""
    return "; ".join(_one(intent, knowledge) for intent in intents) or "-"


def _one(intent: Intent, knowledge: Knowledge) -> str:
    match intent:
        case Have():
            return f"have {_holding(intent.holding)}" + (" more" if intent.more else "")
        case HaveNot():
            return f"not {_materials(intent.materials, knowledge)}"
        case Less(material, taken, _):
            return f"less {material} {_quantity(taken) if isinstance(taken, Quantity) else format(taken, '.3g')}"
        case Told():
            return f"{intent.attribute} = {', '.join(_value(value) for value in intent.values)}"
        case Which():
            return f"{intent.attribute} = {' ? '.join(_value(value) for value in intent.values)}"
        case TellRoom():
            return f"room {_room(intent.room)}"
        case TellMeasure():
            return f"measure {intent.measure} {intent.litres:g}"
        case AskMaterial():
            return f"may {_some(intent.materials)}"
        case AskWhy():
            return f"why {intent.about}".strip()
        case WhatIf():
            return "if {" + written(intent.changes, knowledge) + "}"
        case Swap():
            return f"swap {intent.old} > {intent.new}"
        case Ask():
            return f"ask {intent.request}"
        case Enter():
            return f"enter {intent.door}"
        case Pick():
            return f"pick {intent.number}"
        case Unclear():
            amount = f" {_amount(intent.holding)}" if intent.holding is not None else ""
            return f"unclear {_some(intent.readings)}{amount}"
        case Vague():
            guess = f" {_amount(intent.holding)}" if intent.holding is not None else ""
            return f"vague {intent.material}{guess}" + (" !" if intent.trouble else "")
        case Lost():
            return f'lost "{intent.words}"'


def _holding(holding: Holding) -> str:
    return f"{holding.material} {_amount(holding)}"


def _amount(holding: Holding) -> str:
    return _quantity(holding.quantity)


def _quantity(quantity: Quantity) -> str:
    spread = "" if quantity.low == quantity.high else f" ({quantity.low:.3g}-{quantity.high:.3g})"
    per = "" if quantity.per == "once" else f" a {quantity.per}"
    packed = " packed" if quantity.packed else ""
    return f"{quantity.count:.4g}{spread} {quantity.measure}{per}{packed}"


def _room(room: Room) -> str:
    sides = [room.length_m, room.width_m, *([room.height_m] if room.height_m is not None else [])]
    return " x ".join(f"{side:.2f}".rstrip("0").rstrip(".") for side in sides)


def _value(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _some(materials: tuple[str, ...]) -> str:
    """The first three, and a sign that there are more."""
    return " | ".join(materials[:3]) + (" | ..." if len(materials) > 3 else "")


def _materials(materials: tuple[str, ...], knowledge: Knowledge) -> str:
    if len(materials) == 1:
        return materials[0]
    named = set(materials)
    for trait in sorted({trait for id_ in materials for trait in knowledge.materials[id_].traits}):
        if named == {id_ for id_, material in knowledge.materials.items() if trait in material.traits}:
            return f"#{trait}"
    roles = {knowledge.materials[id_].role for id_ in materials}
    for role in sorted(roles):
        if named == {id_ for id_, material in knowledge.materials.items() if material.role == role}:
            return f"@{role}"
    return _some(materials)
