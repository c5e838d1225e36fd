"""Every named check against a rule base in miniature that is sound but for one fault."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest
from small_base import rule, written

from advisor.knowledge.answers import cited_by_answers
from advisor.knowledge.base import Problem
from advisor.knowledge.lint import FAULTS, REMARKS, Report, lint, listed
from advisor.knowledge.lint.tables import CARBON_PCT
from advisor.knowledge.load import read, shipped
from advisor.places import rules_folder

Change = tuple[str, str, str]


class Bad(NamedTuple):
    """Changes that bring in one fault, and what the lint must say of it."""

    check: str
    changes: tuple[Change, ...]
    file: str
    place: str
    words: str
    also: frozenset[str] = frozenset()  # other checks that rightly speak too


#: A third way of composting, of which no rule and no fact kind knows.
METHOD = """
[row]
name = "row"
about = "a long pile"
form = "stacked"
heats = true
[row.weeks]
range = [10, 20, 30]
published = ["10-30 book"]
[row.shrinks_to]
range = [30, 40, 50]
published = ["30-50 book"]
"""

#: A guided check whose step names a figure that no guide is given.
STORM = """
[storm]
warning = ["Go indoors now.", "Stay away from trees."]
answer = ["Yes, it can strike a heap."]
followup = "Is it over?"
source = "book"
"""

#: A class of decay that holds fresh greens and nothing else.
DECAY = """
[fresh]
name = "fresh greens"
roles = ["green"]
degradable = { range = [60, 70, 80], published = ["60-80 book"] }
fast = { range = [50, 60, 70], published = ["50-70 book"] }
fast_per_day = { range = [0.1, 0.2, 0.3], published = ["0.1-0.3 book"] }
slow_per_day = { range = [0.01, 0.02, 0.03], published = ["0.01-0.03 book"] }
"""

LIVING_MULCH = """
[moss]
name = "moss"
clear_cm = { range = [5, 10, 15], published = ["5-15 book"] }
after_crop_weeks = [1, 2]
after_frost_weeks = 0
before_frost_weeks = 4
start = "let it come"
keep_down = "cut it to {height}"
keep_down_weeks = [4, 6]
takes = "nothing"
not_where = "not in the sun"
lives = "years"
end = "it stays"
source = "book"
"""

GUIDE = """
[hole]
name = "a hole"
of = "soil"
about = "How water leaves."
steps = ["Dig it {depth} deep."]
source = "book"
[hole.inputs.hours]
ask = "Hours until it was empty"
"""

#: Rules of the stratum between target and safety.
BUILD = """
group = "build"
stratum = "build"
[caution.lifting]
say = "Bend your knees."
source = "book"
"""


def attribute(kind: str, name: str, origin: str) -> str:
    """An attribute that holds a number, as TOML."""
    return f'[{kind}.attributes.{name}]\nabout = "made up"\norigin = "{origin}"\nnumber = [0, 9]\n'


def more(file: str, text: str) -> Change:
    return (file, "", text)


LONG_LIST = ", ".join(f'{{ method = ["heap", "bin"], favour = {weight} }}' for weight in (1, 2, 3, -1, -2, -3))

#: A source that nothing cites.
DUSTY = """
[dusty]
title = "Never opened"
publisher = "A press"
undated = true
place = "p. 9"
standing = "read"
"""

BAD = (
    # ---------------------------------------------------------------- sources and reasons
    Bad(
        "no-source",
        (("safety.toml", '{water} to build."\nsource = "book"', '{water} to build."\nsource = []'),),
        "rules/safety.toml",
        "caution.fire",
        "cites no source",
    ),
    Bad(
        "unknown-source",
        (
            more(
                "method.toml",
                rule("x", ["place.room > 60"], '{ method = "bin", favour = 1 }', source='"boook"'),
            ),
        ),
        "rules/method.toml",
        "x",
        "sources.toml has no 'boook'; did you mean 'book'?",
    ),
    Bad(
        "unknown-source",
        (("materials/greens.toml", '"12-18 book"', '"12-18 paper"'),),
        "rules/materials/greens.toml",
        "clippings.carbon_nitrogen",
        "sources.toml has no 'paper'",
    ),
    Bad(
        "unused-source",
        (
            more(
                "sources.toml",
                DUSTY,
            ),
        ),
        "rules/sources.toml",
        "dusty",
        "nothing cites it",
    ),
    Bad(
        "source-incomplete",
        (("sources.toml", 'publisher = "A press"\nyear = 1990\n', ""),),
        "rules/sources.toml",
        "book",
        "it needs a publisher and a year (or undated = true)",
    ),
    Bad(
        "source-incomplete",
        (("sources.toml", 'publisher = "somebody"\n', ""),),
        "rules/sources.toml",
        "hearsay",
        "it needs a publisher",
    ),
    Bad(
        "derived-unmarked",
        (("materials/greens.toml", 'published = ["12-18 book"]', 'published = ["12-18 book"]\nnote = "Worked out."'),),
        "rules/materials/greens.toml",
        "clippings.carbon_nitrogen",
        "mark the value 'derived'",
    ),
    Bad(
        "no-because",
        (
            more(
                "method.toml",
                rule("x", ["place.room > 60"], '{ method = "bin", favour = 1 }', because="It is so."),
            ),
        ),
        "rules/method.toml",
        "x",
        "'It is so.' is no reason",
    ),
    # ---------------------------------------------------------------- names
    Bad(
        "duplicate-id",
        (more("safety.toml", rule("a-heap-is-hot", ["heap.litres > 9000"], '{ caution = "fire" }')),),
        "rules/target.toml",
        "a-heap-is-hot",
        "this id is taken, in rules/safety.toml",
    ),
    Bad(
        "duplicate-id",
        (
            more(
                "questions.toml",
                '[[question]]\nattribute = "place.space"\nask = "Again?"\nwhy = "To be sure."\n',
            ),
        ),
        "rules/questions.toml",
        "place.space",
        "is asked twice",
    ),
    Bad(
        "alias-twice",
        (("materials/browns.toml", 'name = "leaves"', 'name = "leaves"\naliases = ["Mowings"]'),),
        "rules/materials/greens.toml",
        "clippings",
        "'mowings' is also a name of leaves, in rules/materials/browns.toml",
    ),
    Bad(
        "alias-twice",
        (("methods.toml", 'name = "heap"', 'name = "heap"\naliases = ["pail"]'),),
        "rules/methods.toml",
        "heap",
        "'pail' is also a name of bucket, in rules/measures.toml",
    ),
    Bad(
        "alias-repeated",
        (("measures.toml", '["pail"]', '["builders-bucket", "builders bucket"]'),),
        "rules/measures.toml",
        "bucket",
        "is called 'builders bucket' twice",
    ),
    Bad(
        "unknown-trait",
        (("materials/browns.toml", 'traits = ["mats"]', 'traits = ["mats", "smels"]'),),
        "rules/materials/browns.toml",
        "leaves",
        "holding.trait in facts.toml has no 'smels'; did you mean 'smells'?",
    ),
    Bad(
        "method-words",
        (("facts.toml", 'heap = "a heap", all', 'row = "a row", heap = "a heap", all'),),
        "rules/facts.toml",
        "holding.barred_from",
        "has the word 'row', but methods.toml has no such method",
        frozenset({"idle-word"}),
    ),
    Bad(
        "method-words",
        (more("methods.toml", METHOD),),
        "rules/facts.toml",
        "plan.method",
        "lacks the word 'row'",
        frozenset({"method-without-rules"}),
    ),
    # ---------------------------------------------------------------- conditions of one rule
    Bad(
        "constant-condition",
        (more("method.toml", rule("x", ["place.room >= 0"], '{ method = "bin", favour = 1 }')),),
        "rules/method.toml",
        "x",
        'every value there can be passes ">= 0" in "place.room >= 0"',
    ),
    Bad(
        "constant-condition",
        (more("method.toml", rule("x", ["0 <= place.room < 5"], '{ method = "bin", favour = 1 }')),),
        "rules/method.toml",
        "x",
        '">= 0" in "0 <= place.room < 5"',
    ),
    Bad(
        "constant-condition",
        (
            more(
                "method.toml",
                rule("x", ["place.space in ('flat', 'yard', 'garden')"], '{ method = "bin", favour = 1 }'),
            ),
        ),
        "rules/method.toml",
        "x",
        "every value there can be passes",
    ),
    Bad(
        "impossible-condition",
        (
            more(
                "method.toml",
                rule("x", ["place.room < 5", "place.room >= 5"], '{ method = "bin", favour = 1 }'),
            ),
        ),
        "rules/method.toml",
        "x",
        '"place.room < 5" and "place.room >= 5" cannot both hold',
    ),
    Bad(
        "impossible-condition",
        (more("method.toml", rule("x", ["place.room > 100"], '{ method = "bin", favour = 1 }')),),
        "rules/method.toml",
        "x",
        'no value passes "place.room > 100"',
    ),
    Bad(
        "impossible-condition",
        (
            more(
                "method.toml",
                rule(
                    "x",
                    [
                        "place.space in ('flat', 'yard')",
                        "place.space in ('yard', 'garden')",
                        "place.space != 'yard'",
                    ],
                    '{ method = "bin", favour = 1 }',
                ),
            ),
        ),
        "rules/method.toml",
        "x",
        "its conditions cannot all hold at once",
    ),
    Bad(
        "impossible-condition",
        (
            more(
                "method.toml",
                rule("x", ["unknown(place.room)", "place.room > 5"], '{ method = "bin", favour = 1 }'),
            ),
        ),
        "rules/method.toml",
        "x",
        '"unknown(place.room)" and "place.room > 5" cannot both hold',
    ),
    Bad(
        "impossible-condition",
        (
            more(
                "method.toml",
                rule("x", ["place.pests == 'none'", "place.pests == 'rats'"], '{ method = "bin", favour = 1 }'),
            ),
        ),
        "rules/method.toml",
        "x",
        "cannot both hold",
    ),
    Bad(
        "impossible-condition",
        (
            more(
                "method.toml",
                rule("x", ["holding.share > 50", "holding.share < 20"], '{ holding = "same", share_cap = 40 }'),
            ),
        ),
        "rules/method.toml",
        "x",
        "cannot both hold",
    ),
    Bad(
        "redundant-condition",
        (
            more(
                "method.toml",
                rule("x", ["place.room > 60", "place.room > 70"], '{ method = "bin", favour = 1 }'),
            ),
        ),
        "rules/method.toml",
        "x",
        '"place.room > 60" adds nothing to "place.room > 70"',
    ),
    Bad(
        "unlike-one-of-many",
        (more("method.toml", rule("x", ["place.pests != 'rats'"], '{ method = "heap", favour = 1 }')),),
        "rules/method.toml",
        "x",
        "true as soon as place.pests has any other value too",
    ),
    # ---------------------------------------------------------------- two rules
    Bad(
        "duplicate-rule",
        (more("safety.toml", rule("x", ["plan.aim == 'hot'", "heap.litres >= 3000"], '{ caution = "fire" }')),),
        "rules/safety.toml",
        "x",
        "says the same as 'big-heaps-can-burn' in rules/safety.toml",
    ),
    Bad(
        "list-twice",
        (
            more(
                "method.toml",
                rule("w", ["place.space == 'garden'"], LONG_LIST) + rule("x", ["place.room > 50"], LONG_LIST),
            ),
        ),
        "rules/method.toml",
        "x",
        "has all 12 conclusions of 'w' in rules/method.toml",
    ),
    Bad(
        "mergeable-rules",
        (
            more(
                "method.toml",
                rule(
                    "x",
                    ["place.space == 'yard'"],
                    '{ method = "heap", favour = 1 }',
                    because="A bin is tidy and small.",
                ),
            ),
        ),
        "rules/method.toml",
        "x",
        "has the conditions and the reason of 'a-yard-suits-a-bin'",
    ),
    Bad(
        "subsumed-rule",
        (
            more(
                "safety.toml",
                rule(
                    "x",
                    ["plan.aim == 'hot'", "heap.litres > 5000", "place.pests == 'rats'"],
                    '{ caution = "fire" }',
                ),
            ),
        ),
        "rules/safety.toml",
        "x",
        "adds nothing: wherever it fires, 'big-heaps-can-burn' in rules/safety.toml says as much",
    ),
    Bad(
        "contradiction",
        (
            more(
                "method.toml",
                rule(
                    "x",
                    ["place.space == 'garden'", "place.pests in ('rats',)", "place.room > 50"],
                    '{ method = "heap", favour = 4 }',
                ),
            ),
        ),
        "rules/method.toml",
        "x",
        "method.favour = 4 for heap can never stand: 'rats-rule-out-a-heap' in rules/method.toml",
    ),
    Bad(
        "contradiction",
        (
            more(
                "method.toml",
                rule(
                    "x",
                    ["holding.trait == 'smells'", "place.space == 'flat'", "holding.share > 5"],
                    '{ holding = "same", share_cap = 10 }',
                ),
            ),
        ),
        "rules/method.toml",
        "x",
        "holding.share_cap = 10 for the same holding can never stand: 'smelly-stuff-indoors'",
    ),
    Bad(
        "two-targets",
        (
            more(
                "target.toml",
                rule("x", ["plan.aim == 'hot'", "place.room > 5"], '{ target = "moisture", low = 55 }'),
            ),
        ),
        "rules/target.toml",
        "x",
        "sets low of target moisture to 55, 'hot-and-damp' in rules/target.toml to 50, and both can fire",
    ),
    Bad(
        "two-targets",
        (
            more(
                "target.toml",
                rule("x", ["plan.method == 'heap'", "place.pests == 'rats'"], '{ plan = { aim = "slow" } }'),
            ),
        ),
        "rules/target.toml",
        "x",
        "sets aim of plan to slow, 'a-heap-is-hot' in rules/target.toml to hot, and both can fire",
    ),
    # ---------------------------------------------------------------- the flow of facts
    Bad(
        "never-fires",
        (
            ("facts.toml", 'mats = "mats" }', 'mats = "mats", burns = "burns" }'),
            more("method.toml", rule("x", ["holding.trait == 'burns'"], '{ holding = "same", share_cap = 1 }')),
        ),
        "rules/method.toml",
        "x",
        "never fires: nothing can make \"holding.trait == 'burns'\" true",
        frozenset({"idle-word"}),
    ),
    Bad(
        "never-fires",
        (
            more(
                "method.toml",
                rule("x", ["holding['leaves'].trait == 'smells'"], '{ holding = "same", share_cap = 1 }'),
            ),
        ),
        "rules/method.toml",
        "x",
        "nothing can make \"holding['leaves'].trait == 'smells'\" true",
    ),
    Bad(
        "never-fires",
        (
            ("materials/greens.toml", 'traits = ["smells", "mats"]', 'traits = ["smells"]'),
            more(
                "method.toml",
                rule(
                    "x",
                    ["holding.trait == 'smells'", "holding.trait == 'mats'"],
                    '{ holding = "same", share_cap = 1 }',
                ),
            ),
        ),
        "rules/method.toml",
        "x",
        "no holding meets all its conditions at once",
    ),
    Bad(
        "never-fires",
        (more("safety.toml", rule("x", ["method['heap'].favour > 4"], '{ caution = "fire" }')),),
        "rules/safety.toml",
        "x",
        "nothing can make \"method['heap'].favour > 4\" true",
    ),
    Bad(
        "never-fires",
        (
            more(
                "safety.toml",
                rule("x", ["plan.aim == 'hot'", "plan.method == 'bin'"], '{ caution = "fire" }'),
            ),
        ),
        "rules/safety.toml",
        "x",
        "what its conditions follow from cannot hold together with the rest",
    ),
    Bad(
        "dead-conclusion",
        (more("safety.toml", '[caution.lifting]\nsay = "Bend your knees."\nsource = "book"\n'),),
        "rules/safety.toml",
        "caution.lifting",
        "no rule concludes it",
    ),
    Bad(
        "dead-conclusion",
        (
            (
                "facts.toml",
                "[target]\n",
                attribute("plan", "mood", "concluded") + "[target]\n",
            ),
            more("target.toml", rule("x", ["place.room > 60"], "{ plan = { mood = 3 } }")),
        ),
        "rules/target.toml",
        "x",
        "concludes plan.mood, which no rule reads and the program does not show",
    ),
    Bad(
        "never-let-in",
        (
            ("materials/browns.toml", 'role = "brown"', 'role = "never"'),
            more(
                "method.toml",
                rule(
                    "x",
                    ["holding['leaves'].trait == 'mats'", "place.space == 'flat'"],
                    '{ holding = "same", barred_from = "all" }',
                ),
            ),
        ),
        "rules/materials/browns.toml",
        "leaves",
        "has the role 'never', but no rule bars it from all composting",
    ),
    Bad(
        "method-without-rules",
        (
            (
                "method.toml",
                '{ method = "heap", favour = 3 }, { method = "bin", favour = 1 }',
                '{ method = "heap", favour = -3 }',
            ),
        ),
        "rules/methods.toml",
        "heap",
        "no rule favours it",
    ),
    Bad(
        "cycle",
        (more("target.toml", rule("x", ["target['moisture'].low > 48"], '{ plan = { aim = "hot" } }')),),
        "rules/target.toml",
        "",
        "feeds itself by way of others: ",
    ),
    Bad(
        "cycle",
        (
            more(
                "method.toml",
                rule("x", ["holding.barred_from == 'all'"], '{ holding = "same", barred_from = "all" }'),
            ),
        ),
        "rules/method.toml",
        "x",
        "feeds itself: what it concludes is one of its own conditions",
    ),
    Bad(
        "stratum-order",
        (more("method.toml", rule("x", ["plan.method == 'bin'"], '{ method = "heap", favour = 1 }')),),
        "rules/method.toml",
        "x",
        "is of stratum method, but plan.method is known only from target on",
    ),
    Bad(
        "stratum-order",
        (
            more(
                "target.toml",
                rule("x", ["caution['fire'].stands == 'yes'"], '{ target = "moisture", low = 50 }'),
            ),
        ),
        "rules/target.toml",
        "x",
        "is of stratum target, but \"caution['fire'].stands == 'yes'\" is concluded only in safety",
    ),
    Bad(
        "stratum-order",
        (
            (
                "facts.toml",
                "[caution]\n",
                '[weather]\nabout = "made up"\n' + attribute("weather", "rain", "computed") + "[caution]\n",
            ),
            more("safety.toml", rule("x", ["weather.rain > 3"], '{ caution = "fire" }')),
        ),
        "rules/safety.toml",
        "x",
        "does not say from when weather.rain is known",
    ),
    Bad(
        "partly-later",
        (
            more("build.toml", BUILD),
            more(
                "build.toml",
                rule("x", ["heap.litres > 500", "place.pests == 'rats'"], '{ caution = "fire" }'),
            ),
            more("build.toml", rule("y", ["caution['fire'].stands == 'yes'"], '{ caution = "lifting" }')),
        ),
        "rules/build.toml",
        "y",
        "reads \"caution['fire'].stands == 'yes'\", which a later stratum also concludes: big-heaps-can-burn",
    ),
    Bad(
        "late-conclusion",
        (more("safety.toml", rule("x", ["place.pests == 'rats'"], '{ method = "bin", favour = 1 }')),),
        "rules/safety.toml",
        "x",
        "is of stratum safety, but method.favour is put to use right after method",
    ),
    Bad(
        "late-conclusion",
        (more("method.toml", rule("x", ["holding.share > 90"], '{ holding = "same", barred_from = "all" }')),),
        "rules/method.toml",
        "x",
        "holding.barred_from = all settles what holding.share counts, so it may not rest on it",
    ),
    Bad(
        "idle-word",
        (("facts.toml", 'slow = "slow" }', 'slow = "slow", odd = "odd" }'),),
        "rules/facts.toml",
        "plan.aim",
        "no rule ever concludes 'odd'",
    ),
    Bad(
        "idle-word",
        (("facts.toml", 'mats = "mats" }', 'mats = "mats", burns = "burns" }'),),
        "rules/facts.toml",
        "holding.trait",
        "no material is 'burns'",
    ),
    Bad(
        "unread-fact",
        (
            (
                "facts.toml",
                "[caution]\n",
                attribute("heap", "height", "computed") + "[caution]\n",
            ),
        ),
        "rules/facts.toml",
        "heap.height",
        "none reads it",
    ),
    # ---------------------------------------------------------------- figures
    Bad(
        "outside-published",
        (("materials/greens.toml", '"12-18 book"', '"12-18 book", "9 hearsay"'),),
        "rules/materials/greens.toml",
        "clippings.carbon_nitrogen",
        "12 to 18 does not span the 9 of hearsay",
    ),
    Bad(
        "outside-published",
        (
            (
                "methods.toml",
                'range = [10, 20, 30]\npublished = ["10-30 book"]',
                'range = [10, 20, 25]\npublished = ["10-30 book"]',
            ),
        ),
        "rules/methods.toml",
        "bin.weeks",
        "10 to 25 does not span the 10-30 of book",
    ),
    Bad(
        "impossible-share",
        (("materials/greens.toml", "range = [2, 3, 4]", "range = [2, 3, 104]"),),
        "rules/materials/greens.toml",
        "clippings.nitrogen",
        "2 to 104 % cannot be a share",
    ),
    Bad(
        "beyond-published",
        (("methods.toml", 'published = ["10-30 book"]', 'published = ["10-25 book"]'),),
        "rules/methods.toml",
        "bin.weeks",
        "10 to 30 reaches beyond the 10 to 25 that are cited",
    ),
    Bad(
        "outside-published",
        (("figures.toml", '"1-3 hearsay"', '"1-3 outlier hearsay"'),),
        "rules/figures.toml",
        "film",
        "sets every published value aside",
    ),
    Bad(
        "carbon-implausible",
        (
            ("materials/greens.toml", "range = [12, 15, 18]", 'range = [12, 15, 18]\nnote = ""'),
            ("materials/greens.toml", "range = [2, 3, 4]", "range = [1, 1.2, 4]"),
        ),
        "rules/materials/greens.toml",
        "clippings",
        "1.2 % N x 15 = 18 % carbon, outside 20 to 62 % of dry mass",
    ),
    # ---------------------------------------------------------------- questions and texts
    Bad(
        "question-without-attribute",
        (
            more(
                "questions.toml",
                '[[question]]\nattribute = "place.spaces"\nask = "Where?"\nwhy = "To know."\n',
            ),
        ),
        "rules/questions.toml",
        "place.spaces",
        "is no attribute of facts.toml that people answer; did you mean 'place.space'?",
    ),
    Bad(
        "question-unread",
        (
            (
                "facts.toml",
                "[holding]\n",
                attribute("place", "view", "answer") + "[holding]\n",
            ),
            more(
                "questions.toml",
                '[[question]]\nattribute = "place.view"\nask = "A view?"\nwhy = "We like one."\n',
            ),
        ),
        "rules/questions.toml",
        "place.view",
        "no rule reads the answer",
    ),
    Bad(
        "unanswerable",
        (
            (
                "questions.toml",
                '[[question]]\nattribute = "place.pests"\n'
                'ask = "Have you seen any animals?"\nwhy = "They come for scraps."\n',
                "",
            ),
        ),
        "rules/method.toml",
        "rats-rule-out-a-heap",
        "reads place.pests, which no question asks",
    ),
    Bad(
        "unknown-field",
        (("safety.toml", "{water} to build", "{watre} to build"),),
        "rules/safety.toml",
        "caution.fire",
        "nothing fills {watre}; did you mean 'water'?",
    ),
    Bad(
        "unknown-field",
        (("safety.toml", "{3 m}", "{3 cubits}"),),
        "rules/safety.toml",
        "caution.fire",
        "3 cubits",
    ),
    Bad(
        "guide-unsayable",
        (more("guides.toml", GUIDE),),
        "rules/guides.toml",
        "hole",
        "nothing fills {depth} in a guide",
    ),
    Bad(
        "living-mulch-unsayable",
        (more("living-mulches.toml", LIVING_MULCH),),
        "rules/living-mulches.toml",
        "moss",
        "nothing fills {height} in a living mulch",
    ),
    Bad(
        "danger-without-answer",
        (more("words/dangers.toml", '[danger.lightning]\nkind = "storm"\nsays = ["lightning"]\n'),),
        "rules/words/dangers.toml",
        "danger.lightning",
        "no answer to the kind 'storm'",
    ),
    Bad(
        "answer-without-danger",
        (more("dangers.toml", STORM),),
        "rules/dangers.toml",
        "storm",
        "no such danger",
    ),
    Bad(
        "danger-unsayable",
        (
            more("words/dangers.toml", '[danger.lightning]\nkind = "storm"\nsays = ["lightning"]\n'),
            more("dangers.toml", STORM.replace("indoors now", "{distance} away")),
        ),
        "rules/dangers.toml",
        "storm",
        "nothing fills {distance} in an answer to a danger",
    ),
    # ---------------------------------------------------------------- the heat of a heap
    Bad(
        "decay-unclassed",
        (more("decay.toml", DECAY),),
        "rules/decay.toml",
        "leaves",
        "no class holds this material",
    ),
    Bad(
        "decay-misnamed",
        (more("decay.toml", DECAY.replace('roles = ["green"', 'materials = ["clipings"]\nroles = ["green", "brown"')),),
        "rules/decay.toml",
        "fresh",
        "no material 'clipings'; did you mean 'clippings'?",
    ),
    Bad(
        "decay-misnamed",
        (
            more(
                "decay.toml",
                DECAY.replace("roles", 'materials = ["leaves"]\nroles')
                + DECAY.replace("[fresh]", "[dry]").replace('roles = ["green"]', 'materials = ["leaves"]'),
            ),
        ),
        "rules/decay.toml",
        "dry",
        "leaves is named by more than one class",
    ),
)

GOOD = {
    "no-rats-is-what-it-says": rule("x", ["place.pests != 'none'"], '{ method = "bin", favour = 1 }'),
    "a-lone-word-counts-as-known": rule("x", ["method['heap'].ruled_out == 'yes'"], '{ method = "bin", favour = 1 }'),
    "touching-intervals-do-not-overlap": rule("x", ["place.room < 10"], '{ method = "heap", ruled_out = "yes" }'),
    "a-ban-may-be-the-exception-to-advice": rule(
        "x", ["place.space == 'yard'", "place.pests == 'rats'"], '{ method = "bin", ruled_out = "yes" }'
    ),
    "advice-against-what-is-banned-is-no-contradiction": rule(
        "x", ["place.space == 'garden'", "place.pests == 'rats'"], '{ method = "heap", favour = -2 }'
    ),
    "favours-add-up-so-a-narrower-one-counts": rule(
        "x", ["place.space == 'yard'", "place.room < 5"], '{ method = "bin", favour = 3 }'
    ),
    "two-pests-may-both-be-about": rule(
        "x", ["place.pests == 'rats'", "place.pests == 'foxes'"], '{ method = "bin", favour = 1 }'
    ),
    "different-holdings-named-may-differ": rule(
        "x",
        ["holding['leaves'].share > 60", "holding['clippings'].share < 20"],
        '{ method = "heap", favour = 1 }',
    ),
    "one-reason-each": rule("x", ["place.space == 'yard'"], '{ method = "heap", favour = -1 }'),
    "caps-are-collected": rule("x", ["holding.trait == 'mats'"], '{ holding = "same", share_cap = 60 }'),
}


def linted(folder: Path, *changes: Change) -> Report:
    knowledge, problems = read(written(folder, *changes))
    assert problems == ()
    return lint(knowledge, folder)


def found(report: Report) -> tuple[Problem, ...]:
    return report.faults + report.remarks


def test_a_sound_rule_base_has_neither_faults_nor_remarks(tmp_path: Path) -> None:
    assert found(linted(tmp_path)) == ()


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: f"{bad.check}: {bad.words[:40]}")
def test_each_check_finds_its_fault_and_no_other_check_speaks(bad: Bad, tmp_path: Path) -> None:
    report = linted(tmp_path, *bad.changes)
    mine = [problem for problem in found(report) if problem.check == bad.check]
    assert any(
        problem.file == bad.file and bad.place in problem.place and bad.words in problem.message for problem in mine
    ), [str(problem) for problem in found(report)]
    assert {problem.check for problem in found(report)} - bad.also == {bad.check}


@pytest.mark.parametrize("text", GOOD.values(), ids=GOOD)
def test_what_is_sound_is_let_be(text: str, tmp_path: Path) -> None:
    assert [str(problem) for problem in found(linted(tmp_path, more("method.toml", text)))] == []


def test_a_material_that_must_stay_out_is_barred_by_what_it_is(tmp_path: Path) -> None:
    report = linted(
        tmp_path,
        ("materials/browns.toml", 'role = "brown"', 'role = "never"'),
        more(
            "method.toml", rule("x", ["holding['leaves'].trait == 'mats'"], '{ holding = "same", barred_from = "all" }')
        ),
    )
    assert found(report) == ()


def test_every_check_has_a_bad_example() -> None:
    assert {bad.check for bad in BAD} == set(FAULTS) | set(REMARKS)


def test_faults_and_remarks_are_told_apart(tmp_path: Path) -> None:
    report = linted(
        tmp_path,
        more(
            "sources.toml",
            DUSTY,
        ),
        more("method.toml", rule("x", ["place.room >= 0"], '{ method = "bin", favour = 1 }')),
    )
    assert [problem.check for problem in report.faults] == ["constant-condition"]
    assert [problem.check for problem in report.remarks] == ["unused-source"]


def test_a_problem_names_file_rule_and_check(tmp_path: Path) -> None:
    report = linted(tmp_path, more("method.toml", rule("x", ["place.room >= 0"], '{ method = "bin", favour = 1 }')))
    assert str(report.faults[0]) == (
        'rules/method.toml: x: every value there can be passes ">= 0" in "place.room >= 0" [constant-condition]'
    )


def test_further_checks_are_faults_under_their_own_name(tmp_path: Path) -> None:
    knowledge, _ = read(written(tmp_path))
    report = lint(knowledge, tmp_path, extra=[listed("engine-limits", lambda rules: [f"{len(rules)} rules"])])
    assert report.faults == (Problem("engine-limits", "rules", "", "10 rules"),)


def test_the_carbon_check_lets_sugar_and_cellulose_pass() -> None:
    """Cellulose, (C6H10O5)n, by the standard atomic weights (IUPAC 2021, abridged): 12.011, 1.008, 15.999."""
    cellulose_pct = 100 * 6 * 12.011 / (6 * 12.011 + 10 * 1.008 + 5 * 15.999)
    assert CARBON_PCT[0] < cellulose_pct < CARBON_PCT[1]


def test_the_tally_counts_values_by_their_best_source(tmp_path: Path) -> None:
    report = linted(
        tmp_path,
        more("sources.toml", '[guess]\ntitle = "Our own guess"\nstanding = "none"\n'),
        more("sources.toml", '[habit]\ntitle = "What the trade does"\nstanding = "practice"\n'),
        ("measures.toml", '"8-12 book"', '"8-12 guess"'),
        ("figures.toml", '"1-3 hearsay"', '"1-3 hearsay", "2 habit", "2 guess"'),
    )
    tally = report.tally
    assert (tally.materials, tally.measures, tally.methods, tally.questions) == (2, 1, 2, 3)
    assert tally.notices["caution"] == 1
    assert tally.values == {"read": 12, "memory": 1, "practice": 0, "none": 1}
    assert (tally.values_in_all, tally.values_without_source, tally.values_from_memory) == (14, 1, 1)
    assert tally.values_of_common_practice == 0
    assert (tally.indirect, tally.undated) == (0, 0)
    assert tally.rules == {"read": 9, "memory": 1, "practice": 0, "none": 0}
    assert tally.by_evidence == {"measured": 0, "guidance": 9, "tradition": 1}
    assert tally.by_group == {"method": 5, "safety": 1, "target": 4}
    assert tally.sources == {"read": 1, "memory": 1, "practice": 1, "none": 1}


def test_every_answer_of_the_talk_is_asked_for_its_sources() -> None:
    """Answers to questions, things seen, circumstances, signs of readiness and conditions of materials alike."""
    cited, amiss = cited_by_answers(rules_folder())
    names = {name for name, _ in cited}
    assert not amiss
    assert {"how-long", "tetanus-when", "household.strength=weak"} <= names
    assert any(name.startswith("sign.") for name in names)
    assert {source for _, sources in cited for source in sources} <= shipped().sources.keys()
