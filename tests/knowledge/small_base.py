"""A rule base in miniature, in which neither loader nor lint finds anything, and the means to break it.

Its figures are made up; nothing in it is advice.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

FILES: Mapping[str, str] = {
    "sources.toml": """
[book]
title = "A book"
publisher = "A press"
year = 1990
place = "p. 1"
standing = "read"
[hearsay]
title = "What somebody recalled"
publisher = "somebody"
standing = "memory"
""",
    "facts.toml": """
[place]
about = "where"
[place.attributes.space]
about = "what space there is"
origin = "answer"
words = { flat = "a flat", yard = "a yard", garden = "a garden" }
[place.attributes.pests]
about = "animals seen"
origin = "answer"
many = true
words = { none = "none", rats = "rats", foxes = "foxes" }
[place.attributes.room]
about = "free ground"
origin = "answer"
number = [0, 100]

[holding]
about = "a material on hand"
subjects = "materials"
[holding.attributes.trait]
about = "what it is apt to do"
origin = "computed"
many = true
words = { smells = "smells", mats = "mats" }
[holding.attributes.share]
about = "its share"
origin = "computed"
number = [0, 100]
[holding.attributes.barred_from]
about = "where it stays out"
origin = "concluded"
many = true
words = { bin = "a bin", heap = "a heap", all = "everything" }
[holding.attributes.share_cap]
about = "the most of it"
origin = "concluded"
many = true
number = [0, 100]

[method]
about = "a way of composting"
subjects = "methods"
[method.attributes.favour]
about = "what speaks for it"
origin = "concluded"
many = true
number = [-5, 5]
[method.attributes.ruled_out]
about = "it will not do"
origin = "concluded"
words = { yes = "ruled out" }

[plan]
about = "what is settled"
[plan.attributes.method]
about = "the method"
origin = "computed"
words = { bin = "bin", heap = "heap" }
[plan.attributes.aim]
about = "how it is to work"
origin = "concluded"
words = { hot = "hot", slow = "slow" }

[target]
about = "a window"
subjects = ["moisture"]
[target.attributes.low]
about = "its lower edge"
origin = "concluded"
number = [0, 100]

[heap]
about = "the body"
[heap.attributes.litres]
about = "its volume"
origin = "computed"
number = [0, 10000]

[caution]
about = "a caution"
subjects = "notices"
[caution.attributes.stands]
about = "it applies"
origin = "concluded"
words = { yes = "applies" }
""",
    "measures.toml": """
[bucket]
name = "bucket"
aliases = ["pail"]
[bucket.litres]
range = [8, 10, 12]
published = ["8-12 book"]
""",
    "methods.toml": """
[bin]
name = "bin"
about = "a box"
form = "stacked"
heats = true
[bin.weeks]
range = [10, 20, 30]
published = ["10-30 book"]
[bin.shrinks_to]
range = [30, 40, 50]
published = ["30-50 book"]

[heap]
name = "heap"
about = "a pile"
form = "stacked"
heats = true
[heap.weeks]
range = [10, 20, 30]
published = ["10-30 book", "200 outlier book"]
[heap.shrinks_to]
range = [30, 40, 50]
published = ["30-50 book"]
""",
    "figures.toml": """
[film]
range = [1, 2, 3]
published = ["1-3 hearsay"]
""",
    "materials/greens.toml": """
[clippings]
name = "clippings"
aliases = ["mowings"]
role = "green"
structure = "matting"
traits = ["smells", "mats"]
keeps = "days"
[clippings.nitrogen]
range = [2, 3, 4]
published = ["2-4 book", "0.6 as-received book"]
[clippings.carbon_nitrogen]
range = [12, 15, 18]
published = ["12-18 book"]
[clippings.moisture]
range = [70, 80, 90]
published = ["70-90 book"]
[clippings.density]
range = [150, 200, 300]
published = ["150-300 book"]
""",
    "materials/browns.toml": """
[leaves]
name = "leaves"
role = "brown"
structure = "medium"
traits = ["mats"]
keeps = "years"
[leaves.nitrogen]
range = [0.5, 0.9, 1.5]
published = ["0.5-1.5 book"]
[leaves.carbon_nitrogen]
range = [40, 54, 80]
published = ["40-80 book"]
[leaves.moisture]
range = [10, 35, 50]
published = ["10-50 book"]
[leaves.density]
range = [60, 100, 200]
published = ["60-200 book"]
""",
    "questions.toml": """
[[question]]
attribute = "place.space"
ask = "What space is there?"
why = "It decides what can stand there."

[[question]]
attribute = "place.pests"
ask = "Have you seen any animals?"
why = "They come for scraps."

[[question]]
attribute = "place.room"
ask = "How much ground is free?"
why = "It sets the size."
when = ["place.space in ('yard', 'garden')", "place.pests != 'none'"]
""",
    "method.toml": """
group = "method"
stratum = "method"

[[rule]]
id = "a-yard-suits-a-bin"
when = ["place.space == 'yard'"]
then = [{ method = "bin", favour = 3 }]
because = "A bin is tidy and small."
source = "book"

[[rule]]
id = "a-garden-suits-a-heap"
when = ["place.space == 'garden'", "10 <= place.room < 50"]
then = [{ method = "heap", favour = 3 }, { method = "bin", favour = 1 }]
because = "There is room to turn it."
source = "book"

[[rule]]
id = "rats-rule-out-a-heap"
when = ["place.space == 'garden'", "place.pests == 'rats'"]
then = [{ method = "heap", ruled_out = "yes" }]
because = "An open heap feeds the rats."
source = "hearsay"

[[rule]]
id = "matting-stuff-in-small-parts"
when = ["holding.trait == 'mats'", "holding.share > 20"]
then = [{ holding = "same", share_cap = 50 }]
because = "It packs into airless layers."
source = "book"
evidence = "tradition"

[[rule]]
id = "smelly-stuff-indoors"
when = ["holding.trait == 'smells'", "place.space == 'flat'"]
then = [{ holding = "same", barred_from = "all" }, { holding = "same", barred_from = ["bin", "heap"] }]
because = "Nobody wants that in a flat."
source = "book"
""",
    "target.toml": """
group = "target"
stratum = "target"

[[rule]]
id = "a-heap-is-hot"
when = ["plan.method == 'heap'"]
then = [{ plan = { aim = "hot" } }]
because = "A big heap keeps its heat."
source = "book"

[[rule]]
id = "a-bin-is-slow"
when = ["plan.method == 'bin'"]
then = [{ plan = { aim = "slow" } }]
because = "A bin is filled little by little."
source = "book"

[[rule]]
id = "hot-and-damp"
when = ["plan.aim == 'hot'"]
then = [{ target = "moisture", low = 50 }]
because = "A hot heap loses water."
source = "book"

[[rule]]
id = "slow-and-less-damp"
when = ["plan.aim == 'slow'"]
then = [{ target = "moisture", low = 45 }]
because = "A cold bin keeps its water."
source = "book"
""",
    "safety.toml": """
group = "safety"
stratum = "safety"

[caution.fire]
say = "Keep a big heap {3 m} away from wooden walls; it takes {water} to build."
source = "book"

[[rule]]
id = "big-heaps-can-burn"
when = ["heap.litres >= 3000", "plan.aim == 'hot'"]
then = [{ caution = "fire" }]
because = "Heat gathers faster than it leaves."
source = "book"
""",
}


def written(folder: Path, *changes: tuple[str, str, str]) -> Path:
    """Write the miniature rule base into a folder, changed.

    Each change is (file, old, new). With an empty `old`, `new` is appended to the file, which is made if it
    is not there; any other `old` must be there once.
    """
    files = dict(FILES)
    for file, old, new in changes:
        text = files.get(file, "")
        if old:
            assert text.count(old) == 1, f"{old!r} is {text.count(old)} times in {file}"
            files[file] = text.replace(old, new)
        else:
            files[file] = text + new
    for file, text in files.items():
        path = folder / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def rule(
    rule_id: str,
    when: list[str],
    then: str,
    *,
    because: str = "There is a good reason for it.",
    source: str = '"book"',
) -> str:
    """A rule as TOML."""
    conditions = ", ".join(f'"{line}"' for line in when)
    return f"""
[[rule]]
id = "{rule_id}"
when = [{conditions}]
then = [{then}]
because = "{because}"
source = {source}
"""
