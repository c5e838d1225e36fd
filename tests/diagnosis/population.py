"""A population of troubled heaps whose true cause is known, and people who answer questions about them.

What people see of each cause is written here from the troubleshooting tables of the handbooks (from memory: On-Farm
Composting Handbook 1992, Cornell Composting 1996, extension leaflets, Worms Eat My Garbage, leaflets on fermenting) and
from common practice, in shares of people who would give an answer. It owes nothing to the weights in rules/. Whatever a
cause does not touch is answered from the background. People err, and often do not know.

By hand: `python tests/diagnosis/population.py` prints accuracy against the number of questions, for the questions as
advised, in the order of the file, and at random.
"""

from __future__ import annotations

import random
import statistics
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from advisor.diagnosis.asking import is_open
from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis
from advisor.knowledge.load import shipped

Shares = Mapping[str, float]

#: What people with nothing in particular the matter answer.
BACKGROUND: Mapping[str, Shares] = {
    "smell": {"none": 5, "earthy": 3, "foul": 1},
    "warmth": {"cold": 3, "lukewarm": 3, "warm": 3, "hot": 1},
    "heat_before": {"never-hot": 4, "was-hot": 4, "reheats": 1},
    "moisture": {"right": 6, "wet": 2, "dry": 2},
    "texture": {"coarse": 3, "crumbly": 3, "clumped": 1},
    "looks": {"dark": 4, "unchanged": 2, "white-threads": 1},
    "liquid": {"none": 8, "some": 2},
    "animals": {"none": 4, "crawlers": 3, "earthworms": 2, "fruit-flies": 1},
    "plants": {"seedlings": 1},
    "progress": {"slow": 4, "going-well": 4, "sinking": 2},
    "holds": {"kitchen": 5, "grass": 3, "leaves": 3, "woody": 2, "paper": 2, "manure": 1},
    "origin": {"known-clean": 7, "unsure": 3},
    "mix": {"balanced": 6, "mostly-green": 2, "mostly-brown": 2},
    "size": {"small": 3, "middling": 6, "large": 1},
    "pieces": {"large": 2, "mixed": 7, "fine": 1},
    "age": {"days": 1, "weeks": 4, "months": 4, "year": 1},
    "turned": {"never": 3, "not-lately": 4, "lately": 3},
    "built": {"at-once": 3, "bit-by-bit": 5, "layers": 2},
    "weather": {"mild": 6, "rainy": 2, "hot": 1, "dry": 1},
    "cover": {"open": 5, "covered": 5},
    "scraps": {"buried": 5, "on-top": 3, "none": 2},
    "access": {"gaps": 5, "proof": 5},
    "drained": {"regular": 7, "seldom": 3},
    "bran": {"plenty": 7, "little": 2, "stale": 1},
    "lid": {"tight": 8, "leaky": 2},
    "stage": {"filling": 5, "closed": 5},
    "feeding": {"light": 6, "heavy": 4},
    "bedding": {"plenty": 6, "little": 4},
    "place": {"ground": 8, "balcony": 1, "puddle": 1},
    "extent": {"specks": 4, "all-over": 6},
    "packed": {"pressed": 6, "loose": 4},
    "worms": {"settled": 8, "new": 2},
    "danger": {"none": 1},
}


@dataclass(frozen=True)
class Trouble:
    """A true cause (or several together): what people see of it, and what they come with."""

    causes: tuple[str, ...]
    method: str
    comes_with: Shares  # attribute=value of the complaint
    sees: Mapping[str, Shares]


def _of(causes: str, complaint: str, sees: str, method: str = "open-heap") -> Trouble:
    """From lines such as "smell: ammonia 8 foul 2; mix: mostly-green 9 balanced 1"."""
    table: dict[str, Shares] = {}
    for part in sees.split(";"):
        attribute, _, shares = part.strip().partition(":")
        words = shares.split()
        table[attribute] = {word: float(share) for word, share in zip(words[::2], words[1::2], strict=True)}
    given = complaint.split()
    comes = {each: float(share) for each, share in zip(given[::2], given[1::2], strict=True)}
    return Trouble(tuple(causes.split()), method, comes, table)


TROUBLES: tuple[Trouble, ...] = (
    _of(
        "too-wet",
        "moisture=wet 5 smell=foul 3 liquid=much 2",
        "moisture: wet 9 right 1; smell: foul 4 none 3 sour 2; "
        "warmth: cold 6 lukewarm 3; liquid: much 5 some 3 none 2; weather: rainy 7 mild 3; cover: open 8 covered 2; "
        "texture: clumped 3 compacted 2 slimy 2 crumbly 1",
    ),
    _of(
        "too-wet airless",
        "smell=rotten-egg 4 smell=foul 4 texture=slimy 2",
        "moisture: wet 9 right 1; smell: rotten-egg 5 "
        "sour 2 foul 3; texture: slimy 5 compacted 4; turned: never 6 not-lately 4; warmth: cold 6 lukewarm 4; "
        "liquid: much 3 smelly 3 some 2 none 2",
    ),
    _of(
        "airless",
        "smell=rotten-egg 5 smell=sour 3 smell=putrid 2",
        "smell: rotten-egg 5 sour 3 foul 2; texture: compacted 6 "
        "matted 2 slimy 1; turned: never 7 not-lately 3; moisture: wet 5 right 5; pieces: fine 5 mixed 5",
    ),
    _of(
        "too-dry",
        "progress=nothing 5 warmth=cold 3 animals=ants 2",
        "moisture: dry 8 dry-core 1 right 1; warmth: cold 7 "
        "lukewarm 3; animals: ants 4 none 6; "
        "smell: none 8 musty 2; weather: dry 4 hot 4 mild 2; progress: nothing 7 slow 3; "
        "looks: unchanged 6 ash-bloom 2",
    ),
    _of(
        "too-rich",
        "smell=ammonia 8 smell=foul 2",
        "smell: ammonia 8 foul 2; mix: mostly-green 9 balanced 1; warmth: hot 5 "
        "warm 4 lukewarm 1; holds: grass 5 manure 3 no-browns 2; "
        "moisture: right 5 wet 5; animals: house-flies 3 none 7",
    ),
    _of(
        "too-rich airless",
        "smell=foul 6 texture=slimy 4",
        "smell: ammonia 4 putrid 3 rotten-egg 2 foul 1; mix: mostly-green 9 "
        "balanced 1; texture: slimy 5 compacted 3 matted 2; moisture: wet 8 right 2; holds: grass 6 kitchen 4",
    ),
    _of(
        "too-lean",
        "progress=slow 5 warmth=cold 5",
        "mix: mostly-brown 9 balanced 1; warmth: cold 7 lukewarm 3; moisture: right 8 "
        "dry 2; smell: none 6 earthy 4; holds: leaves 4 woody 4 hay-straw 2; "
        "progress: slow 6 nothing 4; size: middling 8 small 2",
    ),
    _of(
        "too-small",
        "warmth=cold 7 warmth=warm-core 3",
        "size: small 9 middling 1; warmth: warm-core 4 cold 4 lukewarm 2; "
        "moisture: right 8 dry 2; smell: none 6 earthy 4; progress: slow 8 nothing 2; mix: balanced 9 mostly-green 1",
    ),
    _of(
        "too-small too-dry",
        "warmth=cold 6 progress=nothing 4",
        "size: small 9 middling 1; moisture: dry 9 right 1; warmth: cold 9 "
        "lukewarm 1; mix: balanced 8 mostly-brown 2; smell: none 9 musty 1; progress: nothing 6 slow 4",
    ),
    _of(
        "cold-weather",
        "warmth=frozen 4 warmth=cold 6",
        "weather: freezing 9 mild 1; warmth: frozen 5 cold 5; size: middling 7 "
        "small 3; smell: none 9 earthy 1; moisture: right 8 wet 2",
    ),
    _of(
        "cold-weather too-small",
        "warmth=frozen 5 warmth=cold 5",
        "weather: freezing 9 mild 1; warmth: frozen 6 cold 4; size: small 9 "
        "middling 1; smell: none 9 earthy 1; moisture: right 8 wet 2",
    ),
    _of(
        "matted",
        "texture=matted 5 texture=clumped 3 progress=nothing 2",
        "texture: matted 6 clumped 2 layered 2; holds: leaves 5 "
        "grass 4 paper 1; built: layers 8 at-once 2; turned: never 7 not-lately 3; looks: unchanged 7 dark 3",
    ),
    _of(
        "overheated",
        "warmth=too-hot 10",
        "warmth: too-hot 9 hot 1; size: large 7 middling 3; mix: mostly-green 6 balanced 4",
    ),
    _of(
        "coarse-pieces",
        "progress=pieces-left 7 progress=slow 3",
        "pieces: large 9 mixed 1; progress: pieces-left 8 slow 2; holds: woody 8 "
        "leaves 2; smell: earthy 6 none 4; age: months 5 year 5",
    ),
    _of(
        "spent-heat",
        "progress=stalled 5 warmth=cold 5",
        "heat_before: was-hot 9 never-hot 1; turned: not-lately 6 never 4; warmth: cold 4 "
        "lukewarm 6; looks: unchanged 6 dark 4; age: weeks 9 months 1; smell: none 9 foul 1",
    ),
    _of(
        "slow-by-design",
        "warmth=cold 6 progress=slow 4",
        "built: bit-by-bit 9 layers 1; heat_before: never-hot 9 was-hot 1; smell: earthy 4 "
        "none 6; warmth: cold 6 lukewarm 4; moisture: right 8 wet 1 dry 1; mix: balanced 8 mostly-green 2",
    ),
    _of(
        "finished",
        "warmth=cold 5 progress=looks-ready 5",
        "looks: dark 9 unchanged 1; smell: earthy 9 none 1; texture: crumbly 9 coarse 1; "
        "heat_before: no-reheat 5 was-hot 4 never-hot 1; animals: earthworms 6 crawlers 3 none 1; age: months 4 year 6",
    ),
    _of(
        "unripe",
        "effects=plants-yellow 6 effects=seedlings-die 4",
        "effects: plants-yellow 6 seedlings-die 4; heat_before: reheats 6 was-hot 4; "
        "progress: pieces-left 7 looks-ready 3; age: weeks 7 months 3",
    ),
    _of(
        "herbicide-residue",
        "effects=leaves-twist 8 effects=seedlings-die 2",
        "effects: leaves-twist 8 seedlings-die 2; holds: hay-straw 4 manure 4 "
        "sprayed 2; origin: unsure 9 known-clean 1",
    ),
    _of(
        "exposed-scraps",
        "animals=fruit-flies 6 animals=house-flies 4",
        "animals: fruit-flies 6 house-flies 3 maggots 1; scraps: on-top 9 buried 1; "
        "holds: kitchen 9 grass 1; cover: open 6 covered 4",
    ),
    _of(
        "open-to-animals exposed-scraps",
        "animals=rats 5 animals=scavengers 5",
        "animals: rats 5 mice 2 scavengers 3; access: gaps 9 proof 1; "
        "scraps: on-top 7 buried 3; holds: kitchen 8 meat 2",
    ),
    _of(
        "wrong-stuff",
        "smell=putrid 6 animals=rats 4",
        "holds: meat 6 dairy-fat 3 kitchen 1; smell: putrid 7 rancid 3; animals: rats 4 maggots 3 scavengers 2 none 1",
    ),
    _of(
        "live-seeds",
        "plants=seedlings 5 effects=weeds-come-up 5",
        "holds: seeding-weeds 7 leaves 3; heat_before: never-hot 8 was-hot 2; "
        "effects: weeds-come-up 10; plants: seedlings 10; warmth: cold 6 lukewarm 4",
    ),
    _of(
        "threads",
        "looks=white-threads 10",
        "looks: white-threads 9 ash-bloom 1; smell: earthy 6 none 4; holds: woody 6 leaves 4",
    ),
    _of(
        "small-life",
        "animals=crawlers 7 animals=specks 3",
        "animals: crawlers 7 specks 3; smell: earthy 5 none 5; moisture: right 9 wet 1",
    ),
    _of(
        "soldier-flies",
        "animals=soldier-fly-larvae 10",
        "animals: soldier-fly-larvae 9 maggots 1; holds: kitchen 9 grass 1",
    ),
    _of("brown-liquid", "liquid=some 10", "liquid: some 9 much 1; smell: none 7 earthy 3"),
    _of(
        "heat-at-work",
        "looks=steam 6 warmth=hot 4",
        "warmth: hot 8 warm 2; looks: steam 9 white-threads 1; smell: none 5 earthy 5; age: days 5 weeks 5",
    ),
    _of(
        "bucket-failed",
        "smell=putrid 5 looks=coloured-mould 5",
        "smell: putrid 7 foul 3; looks: coloured-mould 9 white-mould 1; "
        "bran: little 5 stale 2 plenty 3; lid: leaky 5 tight 5; drained: seldom 5 regular 5",
        "fermented-bucket",
    ),
    _of(
        "bucket-undrained",
        "smell=foul 6 liquid=much 4",
        "drained: seldom 8 no-tap 2; liquid: much 7 smelly 3; smell: foul 8 sour 2; looks: droplets 5 white-mould 5",
        "fermented-bucket",
    ),
    _of(
        "bucket-white-mould",
        "looks=white-mould 7 looks=mould 3",
        "looks: white-mould 10; smell: sour 9 none 1",
        "fermented-bucket",
    ),
    _of(
        "bucket-air",
        "looks=coloured-mould 7 looks=mould 3",
        "looks: coloured-mould 8 mould 2; lid: leaky 9 tight 1; smell: sour 5 none 3 foul 2; bran: plenty 9 little 1",
        "fermented-bucket",
    ),
    _of(
        "worms-overfed",
        "smell=foul 6 animals=fruit-flies 4",
        "feeding: heavy 9 light 1; smell: foul 7 sour 2 none 1; animals: fruit-flies 7 "
        "potworms 2 none 1; moisture: wet 6 right 4",
        "worm-bin",
    ),
    _of(
        "worms-hot",
        "animals=worms-dying 5 animals=worms-fleeing 5",
        "warmth: hot 6 warm 4; weather: hot 9 mild 1; animals: worms-dying 6 "
        "worms-fleeing 4; moisture: right 7 dry 3; smell: none 6 foul 4",
        "worm-bin",
    ),
)

#: Shares of answers that are not known, and of those given that are wrong.
UNKNOWN, WRONG = 0.15, 0.10
#: Nobody answers more than this.
PATIENCE = 10


@dataclass(frozen=True)
class Person:
    """Somebody with a troubled heap. The same seed always gives the same answers, in whatever order they are asked."""

    trouble: Trouble
    seed: int

    def complaint(self) -> dict[str, tuple[str, ...]]:
        drawn = _drawn(self.trouble.comes_with, random.Random(f"{self.seed} complaint"))
        attribute, _, value = drawn.partition("=")
        signs = {attribute: (value,)}
        return {"method": (self.trouble.method,), **signs}

    def answer(self, attribute: str) -> str | None:
        dice = random.Random(f"{self.seed} {attribute}")
        background = BACKGROUND.get(attribute)
        if background is None or dice.random() < UNKNOWN:
            return None
        if dice.random() < WRONG:
            return _drawn(background, dice)
        if attribute == "effects" and attribute not in self.trouble.sees:
            return None
        return _drawn(self.trouble.sees.get(attribute, background), dice)


def _drawn(shares: Shares, dice: random.Random) -> str:
    return dice.choices(list(shares), weights=list(shares.values()))[0]


#: From a diagnosis and what was asked already to the next attribute to ask, or None.
Order = Callable[[Diagnosis, frozenset[str], random.Random], str | None]


def as_advised(found: Diagnosis, asked: frozenset[str], _: random.Random) -> str | None:
    names = (question.attribute.partition(".")[2] for question in found.questions)
    return next((name for name in names if name not in asked), None)


def in_file_order(found: Diagnosis, asked: frozenset[str], _: random.Random) -> str | None:
    return next((name for name in _open(found) if name not in asked), None)


def at_random(found: Diagnosis, asked: frozenset[str], dice: random.Random) -> str | None:
    left = [name for name in _open(found) if name not in asked]
    return dice.choice(left) if left else None


def _open(found: Diagnosis) -> Sequence[str]:
    """Every question that fits the kind of compost, in the order of the file."""
    method = next(str(sign.value) for sign in found.signs if sign.attribute == "method")
    return [
        question.attribute.partition(".")[2]
        for question in shipped().sign_questions
        if (not question.when or f"'{method}'" in question.when[0]) and question.attribute != "sign.degrees"
    ]


@dataclass(frozen=True)
class Outcome:
    trouble: Trouble
    found: Diagnosis
    questions: int

    @property
    def right(self) -> bool:
        """A true cause stands, or is tied for the first place."""
        best = self.found.causes[0].score if self.found.causes else 0.0
        first = {one.cause for one in self.found.causes if one.stands or one.score == best}
        return bool(first & set(self.trouble.causes))

    @property
    def settled(self) -> bool:
        return self.found.sure


def consult(person: Person, order: Order) -> Outcome:
    knowledge, engine = shipped(), shipped_diagnosis_engine()
    # an order that picks for itself has no use for what would be asked next, which takes longest to find out
    passed_over = frozenset() if order is as_advised else frozenset(knowledge.kinds["sign"].attributes)
    signs: dict[str, tuple[str, ...]] = person.complaint()
    dice = random.Random(f"{person.seed} order")
    asked = frozenset(name for name in signs if not is_open(name, signs))
    questions = 0
    while True:
        found = diagnose(signs, knowledge, engine, declined=asked | passed_over)
        if found.sure or questions == PATIENCE:
            return Outcome(person.trouble, found, questions)
        attribute = order(found, asked, dice)
        if attribute is None:
            return Outcome(person.trouble, found, questions)
        asked |= {attribute}
        questions += 1
        answer = person.answer(attribute)
        if answer is not None:
            signs = {**signs, attribute: (answer,)}


def people(each: int) -> list[Person]:
    return [Person(trouble, 1000 * place + seed) for place, trouble in enumerate(TROUBLES) for seed in range(each)]


def summary(outcomes: Sequence[Outcome]) -> dict[str, float]:
    asked = [outcome.questions for outcome in outcomes]
    followed = [outcome.questions for outcome in outcomes if outcome.questions]
    return {
        "right": sum(outcome.right for outcome in outcomes) / len(outcomes),
        "settled": sum(outcome.settled for outcome in outcomes) / len(outcomes),
        "median": statistics.median(asked),
        "median of those asked": statistics.median(followed) if followed else 0.0,
        "mean": statistics.mean(asked),
    }


def main() -> None:
    crowd = people(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
    print(f"{len(crowd)} people, {len(TROUBLES)} troubles, {UNKNOWN:.0%} unknown, {WRONG:.0%} wrong")
    for name, order in (("as advised", as_advised), ("order of the file", in_file_order), ("at random", at_random)):
        outcomes = [consult(person, order) for person in crowd]
        print(f"{name}: " + ", ".join(f"{key} {value:.2f}" for key, value in summary(outcomes).items()))
        for most in (0, 1, 2, 3, 4, 6, PATIENCE):
            done = [outcome for outcome in outcomes if outcome.settled and outcome.questions <= most]
            right = sum(outcome.right for outcome in done)
            share = right / len(done) if done else 0.0
            print(f"   within {most} questions: {len(done) / len(outcomes):.0%} settled, {share:.0%} of these right")
        if order is as_advised:
            for trouble in TROUBLES:
                those = [outcome for outcome in outcomes if outcome.trouble is trouble]
                asked = statistics.mean(outcome.questions for outcome in those)
                right = sum(outcome.right for outcome in those) / len(those)
                print(f"   {' + '.join(trouble.causes):<32} right {right:.0%}, {asked:.1f} questions")


if __name__ == "__main__":
    main()
