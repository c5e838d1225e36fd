"""The checks of the soil, guided: what it takes, what to do, what was found, and how it goes over the years."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import replace
from typing import Any

from advisor.errors import HouseholdError
from advisor.household.tokens import singular
from advisor.knowledge.soil_shapes import Guide, GuideInput
from advisor.services.soil_answers import soil
from advisor.soil_counsel.asking import check_order, which_checks
from advisor.soil_counsel.checks import read_check
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground
from advisor.soil_counsel.inputs import bare_unit, in_units, read_values
from advisor.talk.replies import Reply
from advisor.talk.sheets.beds import ITS_NAME, about_bed
from advisor.talk.sheets.playing import (
    Blank,
    Keep,
    KeepCheck,
    Say,
    Script,
    bared,
    choice,
    figure,
    telling,
    yes_or_no,
)
from advisor.talk.sheets.reading import name_said
from advisor.talk.sheets.world import World, amiss, circumstances, of_bed, replies_of, with_bed, with_check
from advisor.units import fill, length_text, temperature_text, volume_text

#: What a guide was told, by the names of its inputs; nothing if it cannot be read without what is not known.
Told = Generator["Blank | Say | Keep", Any, "dict[str, str] | None"]

_NEW_BED = "another bed"
_NEXT = {
    "same": "another check of this bed",
    "other": "a check of another bed",
    "done": "no more for now",
}
_EMPTY = "Your diary holds no check of the soil yet. Make one, and I set the next beside it."
_UNREAD = "While your diary can't be read, I can't say how its checks go. You can still make a check."
_KEEP_WHY = "Then the next one can be set beside it, to see whether it gets better."
#: Words in the names of guides that set none of them apart.
_COMMON = frozenset(
    {"a", "and", "best", "by", "compost", "count", "do", "it", "of", "on", "soil", "test", "that", "there", "water"}
)


def check(world: World) -> Script:
    """Check after check, until it is enough."""
    ground, bed, said = world.ground, "", world.said
    while True:
        name = guide_named(said, world, "soil") or (yield _which(world, ground, bed))
        said = ""
        if name is None:
            return
        if not bed:
            ground, bed = yield from _bed(world, ground)
        guide = world.knowledge.guides[name]
        yield telling(how_to(guide, world))
        told = yield from inputs(world, name)
        if told is not None:
            ground = yield from _made(world, ground, bed, name, told)
        after = yield choice("What next?", "Every check tells another side of the soil.", _NEXT)
        if after in (None, "done"):
            return
        bed = "" if after == "other" else bed


def _made(
    world: World, ground: Ground, bed: str, name: str, told: dict[str, str]
) -> Generator[Blank | Say | Keep, Any, Ground]:
    """A check with its figures: its day, what it shows, and whether it is to be kept."""
    on = yield choice(
        "On which day was it done?",
        "Checks of other years are set beside it.",
        {"today": "today", "yesterday": "yesterday"},
        also=world.day,
    )
    day = on if on is not None and not isinstance(on, str) else world.day(on or "today")
    guide = world.knowledge.guides[name]
    made = CheckTold(bed, day, name, read_values(told, guide, guide.name))
    ground = with_check(ground, made)
    yield Say(lambda: _answer(world, of_bed(ground, bed)))
    wanted = yield yes_or_no(
        "Shall I keep this check in your diary?",
        "Then the next one can be set beside it, to see whether it gets better.",
    )
    if wanted == "yes":
        yield KeepCheck(ground.bed(bed), made, told)
    return ground


def trends(world: World) -> Script:
    """What the diary holds: each bed as its checks show it."""
    ground = world.ground
    with_checks = {made.bed for made in ground.checks}
    checked = [bed for bed in ground.beds if bed.name in with_checks]
    if not checked:
        text = _UNREAD if world.unread else _EMPTY
        yield Say(lambda: (Reply("answer", text),))
        return
    words = {bed.name: bed.name for bed in checked}
    name = checked[0].name
    if len(checked) > 1:
        name = (yield choice("Of which bed?", "Each is judged by itself.", words)) or name
    yield Say(lambda: _answer(world, of_bed(ground, name)))
    yield Say(lambda: _due(world, ground, name))


def _due(world: World, ground: Ground, bed: str) -> tuple[Reply, ...]:
    if world.unread:
        return ()
    found = which_checks(of_bed(ground, bed), world.knowledge, world.today)
    if not found:
        return (Reply("answer", "No check is due just now."),)
    named = "\n".join(f"  {world.knowledge.guides[guide].name}: {reason}" for guide, reason in found)
    return (Reply("answer", f"Worth doing next:\n{named}"),)


def _answer(world: World, ground: Ground) -> tuple[Reply, ...]:
    return replies_of(soil(circumstances(world, ground=ground), {}), world.knowledge)


# ---------------------------------------------------------------- which check, and of which bed


def guide_named(said: str, world: World, of: str) -> str:
    """The guide that some words name: "a jar test", "count the earthworms"; empty if none does best."""
    words = {singular(word) for word in bared(said).replace("-", " ").split()}
    best: dict[str, tuple[int, int]] = {}
    for name, guide in world.knowledge.guides.items():
        if guide.of == of:
            own = {singular(word) for word in f"{guide.name} {name}".replace("-", " ").split()} - _COMMON
            by_id = len(words & {singular(word) for word in name.split("-")} - _COMMON)
            best[name] = (len(words & own), by_id)
    most = max(best.values())
    named = [name for name, score in best.items() if score == most]
    return named[0] if most[0] and len(named) == 1 else ""


def _which(world: World, ground: Ground, bed: str) -> Blank:
    asked = of_bed(ground, bed) if bed else ground
    found = () if world.unread else which_checks(asked, world.knowledge, world.today)
    due = dict(reversed(found))
    order = [*(name for name in check_order(world.knowledge, "soil") if name in due)]
    order += [name for name in check_order(world.knowledge, "soil") if name not in due]
    guides = world.knowledge.guides
    words = {name: f"{guides[name].name}: {short(guides[name].about)}" for name in order}
    why = "Those worth doing next come first: " + "; ".join(
        f"{guides[name].name}, {reason}" for name, reason in due.items()
    )
    return choice("Which check?", f"{why}." if due else "Each tells another side of the soil.", words)


def short(about: str) -> str:
    """What a guide is about, as part of a sentence."""
    return about[:1].lower() + about[1:].rstrip(".")


def _bed(world: World, ground: Ground) -> Generator[Blank | Say | Keep, Any, tuple[Ground, str]]:
    names = [bed.name for bed in ground.beds]
    if names:
        found = yield choice(
            "Of which bed?",
            "Each is judged by itself.",
            {**{name: name for name in names}, _NEW_BED: _NEW_BED},
            also=name_said,
        )
        if found is None:
            found = names[0]
        if found in names:
            return ground, found
        name = "" if found == _NEW_BED else found
    else:
        name = ""
    if not name:
        name = (yield figure(ITS_NAME, "Its checks are kept by it.", name_said, free=True)) or "the bed"
    if name in names:
        return ground, name
    bed = yield from about_bed(world, BedTold(name), ("place", "grows"))
    return with_bed(ground, bed), name


# ---------------------------------------------------------------- a guide


def how_to(guide: Guide, world: World) -> Reply:
    """How a check is done, step by step."""
    told = [f"{guide.name[:1].upper()}{guide.name[1:]}: {short(guide.about)}."]
    if guide.when:
        told.append(f"When: {guide.when}")
    if guide.needs:
        told.append(f"It takes {', '.join(guide.needs)}.")
    told += [f"  {number}. {step}" for number, step in enumerate(guide.steps, 1)]
    return Reply("answer", "\n".join(fill(line, {}, world.units) for line in told))


def inputs(world: World, name_of: str) -> Told:
    """What a guide asks for, one after another, until it can be read."""
    guide = world.knowledge.guides[name_of]
    while True:
        told: dict[str, str] = {}
        for name, asked in guide.inputs.items():
            said = yield _input(name, asked, guide, world)
            if said:
                told[name] = said
            elif not (asked.optional or asked.default):
                text = f"Without that the {guide.name} cannot be read. You can come back to it when you know."
                yield telling(Reply("answer", text))
                return None
        try:
            values = read_values(told, guide, guide.name)
            read_check(name_of, values, world.knowledge, world.units)
        except HouseholdError as error:
            yield telling(amiss(error), Reply("answer", "Let us take its figures again."))
            continue
        return told


def _input(name: str, asked: GuideInput, guide: Guide, world: World) -> Blank:
    ask = asked.ask.rstrip(".?") + ("" if asked.kind == "words" else _in_unit(asked, world))
    why = f"The {guide.name} is read from it."
    only = guide.model_copy(update={"inputs": {name: asked}})

    def read(said: str) -> str:
        text = in_units({name: said.strip()}, only, world.units)[name]
        read_values({name: text}, only, guide.name)
        return text

    if asked.kind == "words":
        weeds = world.knowledge.kinds["check"].attributes["weeds"].words
        words = {word: word.replace("-", " ") if meaning in weeds else meaning for word, meaning in asked.words.items()}
        blank = choice(f"{ask}?" if not ask.endswith("?") else ask, why, words, many=asked.many)
        inner = blank.read
        return replace(blank, read=lambda said: " ".join(_listed(inner(said))))
    # no options: a number typed would pick one
    return Blank(ask, why, read, heard=lambda text: _heard(text, name, only, world))


def _listed(found: str | tuple[str, ...]) -> tuple[str, ...]:
    return (found,) if isinstance(found, str) else found


def _in_unit(asked: GuideInput, world: World) -> str:
    parts = []
    if asked.kind == "volume":
        parts.append("as in 450 ml" if world.units == "metric" else "as in 2 cups or 15 fl oz")
    elif asked.unit:
        parts.append(
            f"in {_unit(asked, world)}, if you say no other" if asked.kind == "length" else f"in {_unit(asked, world)}"
        )
    if asked.many:
        parts.append("one after another")
    if asked.default:
        default = f"{asked.default} {asked.unit}".strip()
        if asked.kind == "length" and asked.default != "0":
            default = fill(f"{{{default}}}", {}, world.units)
        parts.append(f"{default} if you don't know")
    elif asked.optional:
        parts.append("or “I don't know”")
    return f" ({'; '.join(parts)})" if parts else ""


def _unit(asked: GuideInput, world: World) -> str:
    unit = bare_unit(asked, world.units)
    return "inches" if unit == "in" else unit


def _heard(text: str, name: str, guide: Guide, world: World) -> str:
    asked = guide.inputs[name]
    values = read_values({name: text}, guide, guide.name)[name]
    if asked.kind == "length":
        return ", ".join(length_text(float(value) / 1000, world.units) if value else "nothing" for value in values)
    if asked.kind == "volume":
        return volume_text(float(values[0]), world.units)
    if asked.kind == "temperature":
        return ", ".join(temperature_text(float(value), world.units) for value in values)
    return ""
