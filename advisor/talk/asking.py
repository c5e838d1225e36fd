"""Questions as they are put, each option with what picking it means."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from advisor.counsel.doubts import attribute_of, changes, possible
from advisor.counsel.wording import joined
from advisor.hearing.shapes import Asked as Put
from advisor.household.shapes import Holding, Quantity, Room
from advisor.household.tokens import shown
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass
from advisor.talk.agenda import Amount, Topic
from advisor.talk.intents import Have, Intent, TellRoom, Told, Unclear, Which
from advisor.talk.memory import Change, Guess, Skip
from advisor.talk.replies import Option, Question
from advisor.talk.saying import amount, number, rate, upper
from advisor.units import Units, length_text, volume_text

UNKNOWN = "I don't know"
NOWHERE = (0, 0)  # the place of what was picked and not typed

#: The key of the question what brings the person here.
FIRST = "doors"

#: What picking an option does.
Meaning = tuple["Intent | Change", ...]

#: Of all scraps of a kitchen, those of one kind; our own estimate.
_SHARE_OF_SCRAPS = 0.25

#: So many near readings are named in the question itself.
_FEW = 3

#: What most gardens and kitchens have, offered to those who do not know where to begin.
_COMMON = (
    "kitchen-scraps",
    "dry-leaves",
    "grass-clippings",
    "coffee-grounds",
    "cardboard",
    "prunings",
    "straw",
    "horse-manure",
)
#: How much there may be, largest last: counts of a measure.
_SIZES = ((1.0, "bucket"), (3.0, "bucket"), (2.0, "sack"), (6.0, "sack"), (1.0, "trailer"))
_WEEKLY_SIZES = ((1.0, "kitchen-caddy"), (2.0, "kitchen-caddy"), (1.0, "bucket"), (3.0, "bucket"))


@dataclass(frozen=True, slots=True)
class Asked:
    """A question that stands open, with what each of its options means, in their order.

    Attributes:
        key: what it settles: an attribute, "materials", "amount:" and a material, or empty if it is about the talk.
        because: what each answer would change, in lines; empty if nobody can say.
        plain: whether "yes" and "no" pick its first two options.
        settles: materials a word may name to answer it.
        dropped: what to say when the answer is that nobody knows, and nothing follows.
        lasting: whether it is put again when something else is said first.
        also: other words for each of the options, in their order.
    """

    question: Question
    meant: tuple[Meaning, ...]
    key: str = ""
    because: tuple[str, ...] = ()
    plain: bool = False
    settles: tuple[str, ...] = ()
    dropped: str = "Then it stays as it was."
    lasting: bool = False
    also: tuple[tuple[str, ...], ...] = ()

    @property
    def put(self) -> Put:
        """The question as the reader of words takes it. A number typed where a figure is asked picks nothing."""
        options = () if self.question.figures else self.question.options
        others = zip_longest(options, self.also[: len(options)], fillvalue=())
        also = tuple((option.say, *_word(option), *more) for option, more in others if isinstance(option, Option))
        labels = tuple(option.label for option in options)
        return Put(self.question.ask, labels, "", also, self.question.many, self.question.attribute)


def _word(option: Option) -> tuple[str, ...]:
    """The word of an option's value: "none" for “no container”."""
    return (option.value.replace("-", " "),) if isinstance(option.value, str) and option.value else ()


# ---------------------------------------------------------------- on the agenda


def topic_asked(topic: Topic, knowledge: Knowledge, units: Units) -> Asked:
    """A question of rules/questions.toml."""
    question = topic.prospect.question
    declared = attribute_of(question.attribute, knowledge)
    if declared.words:
        options = [Option(upper(words), words, value) for value, words in declared.words.items()]
        meant: list[Meaning] = [(Told(question.attribute, (value,), NOWHERE),) for value in declared.words]
    else:
        options, meant = [], []
        for value in possible(question.attribute, knowledge):
            text, meaning = _size(question.attribute, float(value), units)
            options.append(Option(f"About {text}", text, value))
            meant.append(meaning)
    options.append(Option(UNKNOWN, UNKNOWN))
    meant.append((Skip(question.attribute),))
    asked = Question(question.attribute, question.ask, question.why, tuple(options), declared.many)
    return Asked(asked, tuple(meant), question.attribute, tuple(_would_change(topic, knowledge)))


def _size(attribute: str, value: float, units: Units) -> tuple[str, Meaning]:
    if attribute == "place.room":
        side = value**0.5
        text = f"{length_text(side, units)} by {length_text(side, units)}"
        return text, (TellRoom(Room(side, side), NOWHERE),)
    return volume_text(value, units), (Told(attribute, (value,), NOWHERE),)


def _would_change(topic: Topic, knowledge: Knowledge) -> Iterator[str]:
    """What each answer would change: method, way and turnings, then what must be minded besides."""
    prospect = topic.prospect
    yield from (f"{upper(line)}." for line in changes(prospect, knowledge))
    declared = attribute_of(prospect.question.attribute, knowledge)
    for value, after in prospect.outcomes:
        new = sorted(after.notices - prospect.now.notices)
        if new and not after.differs(prospect.now):
            yield f"“{_answer(value, declared.words, declared.unit)}”: {joined([_notice(name) for name in new])}."


def _answer(value: Value, words: dict[str, str], unit: str) -> str:
    return words[value] if isinstance(value, str) else f"{number(value)} {unit}".strip()


def _notice(name: str) -> str:
    kind, _, subject = name.partition(".")
    what = subject.replace("-", " ")
    return f"a caution about {what}" if kind == "caution" else f"you would need a {what}"


def materials_asked(knowledge: Knowledge) -> Asked:
    """The first of all: what there is."""
    names = [name for name in _COMMON if name in knowledge.materials]
    options = [
        Option(upper(knowledge.materials[name].name), f"some {knowledge.materials[name].name}") for name in names
    ]
    meant: list[Meaning] = [(Guess(guess(name, knowledge)),) for name in names]
    question = Question(
        "",
        "What have you got to compost, and about how much of each? For instance: 3 sacks of leaves, a bucket of "
        "coffee grounds a week.",
        "The mix is worked out from what there is. A guess will do: the figures come with a range.",
        (*options, Option(UNKNOWN, UNKNOWN)),
        many=True,
    )
    return Asked(question, (*meant, (Skip("materials"),)), "materials")


def amount_asked(topic: Amount, knowledge: Knowledge, units: Units) -> Asked:
    """How much of a material there is, where the guess may be too far out."""
    name = knowledge.materials[topic.material].name
    per = topic.holding.quantity.per
    options, meant = [], []
    for count, measure in _WEEKLY_SIZES if per == "week" else _SIZES:
        quantity = Quantity(count, count * 0.7, count * 1.4, measure, per)
        text = f"{amount(quantity, knowledge, units)}{rate(quantity)}"
        options.append(Option(f"About {text}", f"{text} of {name}"))
        meant.append((Have(Holding(topic.material, quantity, f"about {text} of {name}"), NOWHERE),))
    question = Question(
        "",
        f"Roughly how much {'comes in each week' if per == 'week' else 'is there'} of {name}?",
        "I took a guess, and a good deal more or less of it would change the advice.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, (*meant, (Skip(f"amount:{topic.material}"),)), f"amount:{topic.material}")


def guess(material: str, knowledge: Knowledge, people: float = 2.0, times: float = 1.0) -> Holding:
    """A holding for a material of which nobody said how much: our own estimates, and wide on purpose.

    Kitchen scraps are those of the people by the week; other scraps are a quarter of these, and anything else is a few
    buckets or sacks.

    Args:
        people: how many eat at home; two if nobody said.
        times: how many times as much of kitchen scraps the words told: 2 for "lots".
    """
    kind = knowledge.materials[material]
    if "kitchen" in kind.traits:
        each = knowledge.figures["kitchen-scraps-litres-per-person-week"]
        people *= times if material == "kitchen-scraps" else times * _SHARE_OF_SCRAPS
        quantity = Quantity(people * each.typical, people * each.low / 2, people * each.high * 1.5, "L", "week")
    elif kind.role == "brown":
        quantity = Quantity(2.0, 0.5, 6.0, "sack")
    elif kind.role == "green":
        quantity = Quantity(2.0, 0.5, 6.0, "bucket")
    else:
        quantity = Quantity(2.0, 0.5, 10.0, "L")
    return Holding(material, quantity, f"some {kind.name}")


# ---------------------------------------------------------------- about the talk itself


def reading_asked(unclear: Unclear, knowledge: Knowledge) -> Asked:
    """Which of several near materials was meant, with what tells them apart."""
    told = [knowledge.materials[name] for name in unclear.readings]
    options = []
    for material in told:
        ratio = material.carbon_nitrogen
        differs = f", carbon to nitrogen {ratio.typical:g}" if ratio is not None else ""
        options.append(Option(f"{upper(material.name)}{differs}", material.name))
    meant: list[Meaning] = [(_held(unclear, name, knowledge),) for name in unclear.readings]
    which = f"{joined([material.name for material in told], 'or')}?" if len(told) <= _FEW else "which of these?"
    question = Question(
        "",
        f"“{shown(unclear.words)}”: {which}",
        "They are not the same to a heap, and I would rather ask than guess.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    left_out = f"I leave “{shown(unclear.words)}” out for now."
    return Asked(question, (*meant, ()), settles=unclear.readings, dropped=left_out, lasting=True)


def _held(unclear: Unclear, material: str, knowledge: Knowledge) -> Have | Guess:
    if unclear.holding is None:
        return Guess(guess(material, knowledge))
    return Have(Holding(material, unclear.holding.quantity, unclear.holding.said), NOWHERE)


def which_asked(which: Which, knowledge: Knowledge) -> Asked:
    """Which of two near answers to a question was meant."""
    declared = attribute_of(which.attribute, knowledge)
    words = [_answer(value, declared.words, declared.unit) for value in which.values]
    options = [Option(upper(text), text, value) for text, value in zip(words, which.values, strict=True)]
    meant: list[Meaning] = [(Told(which.attribute, (value,), NOWHERE),) for value in which.values]
    question = Question(
        which.attribute,
        f"“{shown(which.words)}”: {joined(words, 'or')}?",
        f"It settles {declared.about}.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    left_out = f"I leave “{shown(which.words)}” out for now."
    return Asked(question, (*meant, (Skip(which.attribute),)), which.attribute, dropped=left_out, lasting=True)


def keep_asked(made: Sequence[Change]) -> Asked:
    """Whether to keep what was only tried."""
    question = Question(
        "",
        "Keep it so?",
        "Nothing is changed until you say yes.",
        (Option("Yes", "yes"), Option("No", "no"), Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, (tuple(made), (), ()), plain=True)
