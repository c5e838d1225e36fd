"""What the lint must be told, because it stands in no rule: where the program takes a hand, and why."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from advisor.knowledge.base import NOTICE_KINDS, Stratum
from advisor.knowledge.shapes import Material

_Entry = TypeVar("_Entry", bound=str)

#: Concluded attributes that the program itself reads, so that they are of use though no rule reads them.
#: A whole kind, or kind.attribute.
SHOWN: Mapping[str, str] = {
    "method.favour": "added up to rank the methods",
    "method.ruled_out": "takes a method out of the ranking",
    "target": "the windows of the recipe",
    "turning": "the turnings in the plan",
    "plan.aim": "said at the head of the plan",
    "pace.favour": "added up to say which heap suits",
    "pace.ruled_out": "takes a heap out of the comparison",
    "holding.barred_from": "keeps the material out of the recipe",
    "holding.share_cap": "limits the material in the recipe",
    "holding.prepare": "said beside the material in the recipe",
    "holding.reach": "makes the material one that may stand in for manure",
    "holding.lacks": "said of what stands in for manure",
    "holding.make_up": "said of what stands in for manure",
    "holding.risk": "said of what stands in for manure",
    "holding.supplies": "makes the material one that may make up for phosphate or potash",
    "holding.gives_off": "keeps what must not lie beside it out of what stands in for manure",
    "holding.not_beside": "keeps the material out of what stands in for manure",
    "holding.dose": "how much of an addition a heap is given",
    "holding.use": "said of an addition",
    "holding.mind": "said of an addition",
    "soil.dressing": "holds compost back from a bed",
    "soil.next_check": "asked for next",
    "between.fits": "sown between the rows",
    "between.barred": "kept from between the rows",
    "finish.unfit": "what is left is what it is ready for",
    **dict.fromkeys(NOTICE_KINDS, "printed for the gardener"),
}

#: Answers that the program itself uses, so that they are worth asking though no rule reads them.
ASKED_FOR_THE_PROGRAM: Mapping[str, str] = {
    "place.room": "the ground a heap may cover sets its size",
    "place.holds": "what the container holds sets the size of a batch",
}

#: The first stratum that can read a computed fact, for the arithmetic runs between strata. A kind, or
#: kind.attribute.
KNOWN_FROM: Mapping[str, Stratum] = {
    "place": "situation",  # from the answers, before any rule
    "holding": "situation",  # from what is on hand
    "stock": "situation",
    "replacing": "situation",  # asked for by the person
    "adding": "target",  # the size of the heap, and what goes into it
    "pace": "safety",  # both heaps have been planned
    "bedding": "safety",  # worked out from the animals and their bedding
    "plan.method": "target",  # the methods are ranked once the method rules have spoken
    "plan.form": "target",  # what kind of thing that method is
    "recipe": "build",  # mixed once the windows are settled
    "blend": "build",
    "heap": "build",
    "check": "soil",  # measured, before any rule of the soil
    "bed": "soil",  # told of the bed
    "finish": "soil",  # tests of finished compost, before any rule
    "cause.stands": "remedies",  # the causes are ranked once their rules have spoken
    "record": "care",  # the diary as it stands, before any rule of the day
    "case.verdict": "remedies",  # how the causes stand
}

#: The last stratum whose conclusions the arithmetic still hears. A kind, or kind.attribute.
NEEDED_BY: Mapping[str, Stratum] = {
    "method": "method",  # the ranking comes after it
    "target": "target",  # the recipe comes after it
    "cause.favour": "causes",  # their ranking comes after it
    "cause.ruled_out": "causes",
    "plan.aim": "target",
    "holding.share_cap": "target",
    "holding.barred_from": "target",
}

#: What stays out of all composting is not counted as on hand, so it must be known before the shares are.
#: Conclusion, its value, and the facts it may therefore not rest on.
BEFORE_THE_STOCK: tuple[str, str, frozenset[str]] = (
    "holding.barred_from",
    "all",
    frozenset({"stock", "holding.share"}),
)

#: Conclusion that advises, conclusion that forbids, each with the values meant: no advice may be void.
ADVISED_AND_BANNED: tuple[tuple[str, Callable[[object], bool], str, Callable[[object], bool]], ...] = (
    (
        "method.favour",
        lambda value: isinstance(value, float) and value > 0,
        "method.ruled_out",
        lambda _: True,
    ),
    (
        "holding.share_cap",
        lambda value: isinstance(value, float) and value > 0,
        "holding.barred_from",
        "all".__eq__,
    ),
    ("holding.prepare", lambda _: True, "holding.barred_from", "all".__eq__),
)

#: Conclusions that the program adds up, one by one for each rule that draws them.
ADDED_UP = frozenset({"method.favour", "pace.favour", "target.shift", "cause.favour"})

#: Attributes of a holding that are plain properties of its material.
MATERIAL_WORDS: Mapping[str, Callable[[Material], tuple[str, ...]]] = {
    "role": lambda material: (material.role,),
    "structure": lambda material: (material.structure,),
    "keeps": lambda material: (material.keeps,),
    "trait": lambda material: material.traits,
}

#: Carbon of organic stuff, in % of dry mass, within which nitrogen times C:N should fall: from carbohydrate
#: (cellulose is 44 % carbon by its formula, C6H10O5) half lost in mineral matter, up to stuff rich in lignin
#: (about 60 to 65 % carbon, from memory).
CARBON_PCT = (20.0, 62.0)

#: Two rules may say the same so many things, each with its own reason, as what is barred from all ways but a few.
#: Longer lists are copies, of which one will be forgotten.
LONGEST_LIST_TWICE = 10

#: Fewer words than this are no reason.
SHORTEST_REASON_WORDS = 5


def entry(table: Mapping[str, _Entry], kind: str, attribute: str) -> _Entry | None:
    """What a table says of kind.attribute, or else of its whole kind."""
    return table.get(f"{kind}.{attribute}", table.get(kind))


#: Conclusions that forbid outright, so that nothing is left to choose.
HARD_BANS = frozenset({"holding.barred_from", "method.ruled_out", "pace.ruled_out"})

#: Rules that forbid by tradition alone, with no caution, because anyone can see why.
BANS_OF_PLAIN_SENSE: Mapping[str, str] = {
    "plastics-stay-out": "it is no matter of opinion that plastic does not rot",
    "soil-and-buckets": "nothing is to be feared, only a bucket filled for nothing",
    "no-heap-on-a-balcony": "there is no ground for it to stand on",
    "half-a-square-metre-holds-no-heap": "it does not fit",
    "narrow-ground-takes-no-row": "it does not fit",
}

#: Signs that are evidence of nothing, with the word that says so: they are offered so that people can say them.
UNREMARKABLE_SIGNS: Mapping[str, frozenset[str]] = {
    "animals": frozenset({"none"}),  # nobody there is no evidence: most animals hide
    "age": frozenset({"weeks"}),  # neither early nor late
    "built": frozenset({"at-once"}),  # as a batch should be
    "cover": frozenset({"covered"}),  # as it should be
    "danger": frozenset({"none"}),  # nobody was hurt
}

#: Which causes a second effect of a remedy makes worse; a proviso must be said where such a cause stands.
WORSENED_BY: Mapping[str, frozenset[str]] = {
    "wetter": frozenset({"too-wet", "airless"}),
    "drier": frozenset({"too-dry"}),
    "richer": frozenset({"too-rich", "airless"}),
    "leaner": frozenset({"too-lean"}),
    "cooler": frozenset({"too-small", "cold-weather", "over-aired"}),
    "warmer": frozenset({"overheated", "smouldering"}),
    "closer": frozenset({"airless", "too-wet"}),
    "stirs-dust": frozenset({"too-dry", "fungi", "threads"}),
    "stirs-nests": frozenset({"nesting", "open-to-animals"}),
}
