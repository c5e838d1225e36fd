"""What the levels of evidence mean, and that what is harmless never hides what is not."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.counsel.choose import Vote
from advisor.diagnosis.diagnose import diagnose, foresight_of, shipped_diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis
from advisor.diagnosis.weighing import POINTS, STANDS_FROM, Thresholds, Weighed, best_guess, causes_of, points, stand
from advisor.knowledge.conditions import Value
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()
CAUSES = causes_of(KNOWLEDGE)
THRESHOLDS = Thresholds.of(KNOWLEDGE)
SIGNS = KNOWLEDGE.kinds["sign"].attributes
METHODS = tuple(SIGNS["method"].words)
WORDS = [(name, word) for name, attribute in SIGNS.items() if name != "method" for word in attribute.words]


def weighed(cause: str, *levels: int) -> Weighed:
    voices = tuple(Vote(f"{cause} {place}", level, "", frozenset()) for place, level in enumerate(levels))
    return Weighed(cause, sum(points(level) for level in levels), ruled_out=False, voices=voices)


def told(**signs: str | float | tuple[Value, ...]) -> Diagnosis:
    given = {name: value if isinstance(value, tuple) else (value,) for name, value in signs.items()}
    return diagnose(given, KNOWLEDGE, shipped_diagnosis_engine())


def first(found: Diagnosis) -> str:
    return found.causes[0].cause


@pytest.mark.parametrize("level", [2, 3, 4, 5])
def test_a_sign_outranks_a_weaker_one_and_a_hint(level: int) -> None:
    strong, weak = weighed("too-dry", level), weighed("too-wet", level - 1, 1)
    assert [one.cause for one in stand([weak, strong], CAUSES, THRESHOLDS).ranked] == ["too-dry", "too-wet"]


def test_two_good_signs_weigh_as_much_as_a_strong_one_and_the_strong_one_comes_first() -> None:
    strong, good = weighed("too-dry", 3), weighed("too-wet", 2, 2)
    assert strong.score == good.score == STANDS_FROM
    assert [one.cause for one in stand([good, strong], CAUSES, THRESHOLDS).ranked] == ["too-dry", "too-wet"]


#: Two causes that often come together, two that may or may not, and one that is harmless.
_BESIDE = next((one, other) for one in CAUSES for other in CAUSES[one].beside if not CAUSES[one].find)
_FIND = next(name for name, cause in CAUSES.items() if cause.find)


@pytest.mark.parametrize(("levels", "both"), [((5,), True), ((5, 2), False)])
def test_a_strong_sign_stands_beside_proof_but_not_beside_proof_and_a_good_sign(
    levels: tuple[int, ...], *, both: bool
) -> None:
    best, other = _BESIDE
    assert stand([weighed(best, *levels), weighed(other, 3)], CAUSES, THRESHOLDS).stands == (
        (best, other) if both else (best,)
    )


@pytest.mark.parametrize(("level", "before"), [(4, False), (5, True)])
def test_a_harmless_find_comes_before_a_strong_sign_of_trouble_only_with_proof(level: int, *, before: bool) -> None:
    ranked = stand([weighed(_FIND, level), weighed("too-dry", 3)], CAUSES, THRESHOLDS).ranked
    assert (ranked[0].cause == _FIND) == before


@pytest.mark.parametrize(("levels", "tied"), [((3,), True), ((3, 1), False)])
def test_two_that_explain_one_sign_are_tied_until_a_hint_parts_them(levels: tuple[int, ...], *, tied: bool) -> None:
    one, other = weighed("too-rich", *levels), weighed("too-small", 3)
    shared = replace(other, voices=(replace(other.voices[0], rule=one.voices[0].rule),))
    assert (stand([one, shared], CAUSES, THRESHOLDS).verdict == "tied") == tied


@pytest.mark.parametrize("level", [1, 2, 3, 4, 5])
def test_a_sign_against_weighs_as_much_as_one_for(level: int) -> None:
    assert points(-level) == -points(level) == -POINTS[level]


@pytest.mark.parametrize("method", [None, *METHODS])
def test_one_thing_seen_speaks_once_for_a_cause(method: str | None) -> None:
    """Two rules that need the same one sign, and no other, do not both speak for a cause, nor both against it."""
    rules = {rule.id: rule for rule in KNOWLEDGE.rules}
    foresight = foresight_of(KNOWLEDGE)
    vessel: dict[str, tuple[Value, ...]] = {} if method is None else {"method": (method,)}
    beforehand = foresight.seen(vessel).fired
    numbers: list[tuple[str, Value]] = [("degrees", 3.0), ("degrees", 32.0), ("degrees", 55.0), ("degrees", 80.0)]
    for name, word in [*WORDS, *numbers, ("moisture_pct", 20.0), ("moisture_pct", 75.0)]:
        seen = foresight.seen({**vessel, name: (word,)})
        spoken = Counter(
            (then.subject, then.value > 0)
            for rule in seen.fired - beforehand
            for then in rules[rule].then
            if then.kind == "cause" and isinstance(then.value, float) and then.subject not in seen.ruled_out
        )
        assert not [pair for pair, times in spoken.items() if times > 1], (method, name, word)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(METHODS), st.lists(st.sampled_from(WORDS), max_size=7))
def test_a_harmless_find_closes_a_case_only_where_every_trouble_seen_is_accounted_for(
    method: str, pairs: list[tuple[str, str]]
) -> None:
    signs: dict[str, tuple[Value, ...]] = {"method": (method,)}
    for name, word in pairs:
        signs[name] = (*signs.get(name, ()), word) if SIGNS[name].many else (word,)
    signs = {name: tuple(dict.fromkeys(words)) for name, words in signs.items()}
    found = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine())
    if found.verdict != "normal":
        return
    assert all(one.normal for one in found.standing)
    assert "worms-fleeing" not in signs.get("animals", ())
    assert "worms-dying" not in signs.get("animals", ())
    assert not {"rats", "mice", "bears"} & set(signs.get("animals", ()))
    assert not {"ammonia", "rotten-egg", "putrid", "rancid", "burnt"} & set(signs.get("smell", ()))
    assert not {"seedlings-die", "plants-yellow", "leaves-twist", "bag-stinks"} & set(signs.get("effects", ()))


@pytest.mark.parametrize(
    "signs",
    [
        {"method": "worm-bin", "liquid": "some", "animals": "worms-fleeing"},
        {"liquid": "some", "animals": "worms-fleeing"},
        {"warmth": "cold", "looks": "mushrooms"},
        {"progress": "nothing", "animals": "crawlers"},
        {"looks": "white-threads", "smell": "rotten-egg"},
        {"method": "fermented-bucket", "looks": "white-mould", "smell": "putrid"},
        {"progress": "looks-ready", "effects": "seedlings-die"},
        {"progress": "looks-ready", "smell": "ammonia"},
        {"built": "bit-by-bit", "smell": "putrid"},
    ],
)
def test_what_is_amiss_is_not_explained_away(signs: dict[str, str]) -> None:
    assert told(**signs).verdict != "normal"


@pytest.mark.parametrize(
    ("signs", "harm"),
    [
        ({"progress": "looks-ready", "effects": "seedlings-die"}, "unripe"),
        ({"looks": "dark", "texture": "crumbly", "effects": "leaves-twist"}, "herbicide-residue"),
        ({"progress": "looks-ready", "effects": "bag-stinks"}, "unripe"),
        ({"looks": "dark", "smell": ("earthy",), "effects": "plants-yellow"}, "unripe"),
    ],
)
def test_harm_outranks_looks(signs: dict[str, str], harm: str) -> None:
    found = told(**signs)
    assert first(found) == harm
    assert "finished" not in {one.cause for one in found.standing}
    assert "rest-and-use" not in {cure.remedy for cure in found.remedies}


# By elimination: what is left when the rest is known to be right. Composting quiz and FAQ, University of Florida IFAS
# Extension, Sarasota County; NRCS job sheet 317 (both through a summary); otherwise common practice, no source.
@pytest.mark.parametrize(
    ("signs", "cause"),
    [
        ({"warmth": "cold", "size": "middling", "mix": "balanced", "turned": "lately"}, "too-dry"),
        ({"warmth": "cold", "moisture": "right", "size": "middling"}, "too-lean"),
        ({"smell": "foul", "heat_before": "was-hot"}, "airless"),
        ({"heat_before": "was-hot", "weather": "freezing", "progress": "stalled"}, "cold-weather"),
        ({"smell": "foul", "turned": "lately"}, "too-wet"),
        ({"progress": "nothing", "moisture": "right", "holds": ("woody",)}, "too-lean"),
        ({"method": "worm-bin", "animals": "worms-fleeing", "feeding": "light"}, "worms-crowded"),
        ({"method": "tumbler", "texture": "clumped", "holds": ("kitchen",), "moisture": "wet"}, "too-wet"),
    ],
)
def test_what_is_left_when_the_rest_is_right(signs: dict[str, str], cause: str) -> None:
    assert first(told(**signs)) == cause


def test_cold_alone_names_five_and_settles_on_none() -> None:
    found = told(warmth="cold")
    assert found.verdict == "unsettled"
    assert {"too-dry", "too-lean", "airless", "too-small", "cold-weather"} <= {one.cause for one in found.causes}
    assert len({one.score for one in found.causes}) == 1
    assert found.questions[0].attribute == "sign.moisture"


def test_an_unclear_case_gets_a_best_guess_after_five_questions() -> None:
    signs: dict[str, tuple[Value, ...]] = {"warmth": ("cold",), "looks": ("unchanged",)}
    asked = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine(), asked=4)
    guessed = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine(), asked=5)
    assert (asked.verdict, bool(asked.questions)) == ("unsettled", True)
    assert (guessed.verdict, guessed.questions, guessed.sure) == ("guessed", (), False)
    assert [one.cause for one in guessed.standing] == [guessed.causes[0].cause]
    assert guessed.remedies
    assert "guess" in guessed.summary.text


def test_a_guess_is_a_trouble_where_a_harmless_find_leaves_something_unexplained() -> None:
    signs: dict[str, tuple[Value, ...]] = {"method": ("worm-bin",), "liquid": ("some",), "animals": ("worms-fleeing",)}
    found = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine(), asked=5)
    assert found.verdict == "guessed"
    assert not any(one.normal for one in found.standing)


def test_what_is_settled_is_no_guess() -> None:
    settled = stand([weighed("too-dry", 4)], CAUSES, THRESHOLDS)
    assert best_guess(settled, CAUSES) is settled


@pytest.mark.parametrize(
    "signs",
    [
        {"effects": "seedlings-die", "looks": "salt-crust"},
        {"effects": ("seedlings-die", "leaf-scorch")},
        {"effects": "plants-yellow", "holds": "salty"},
        {"effects": "seedlings-die", "holds": "salty"},
    ],
)
def test_no_plant_feed_where_salt_may_have_scorched(signs: dict[str, str | tuple[Value, ...]]) -> None:
    # Most plant feeds are salts and add to an excess of salt (common practice, no source).
    found = told(**signs)
    assert "salty" in [one.cause for one in found.causes if one.stands]
    assert "feed-what-suffers" not in {cure.remedy for cure in found.remedies}
    assert "feed-what-suffers" in {cure.remedy for cure in told(effects="plants-yellow").remedies}


def test_white_strings_beside_creeping_weeds_are_their_roots() -> None:
    # Roots of bindweed and couch are white and stringy, and grow again from bits (common practice, no source).
    for seen in ({"looks": "white-threads"}, {"plants": "tree-roots"}):
        found = told(holds="spreading-weeds", **seen)
        assert found.causes[0].cause == "creeping-roots"
        assert "threads" not in [one.cause for one in found.causes if one.stands]


@pytest.mark.parametrize(("method", "grave"), [("fermented-bucket", 1), ("tumbler", 1), ("open-heap", 0), ("bin", 0)])
def test_the_gas_of_rotten_eggs_is_grave_where_a_lid_shuts_it_in(method: str, grave: int) -> None:
    # Hydrogen sulphide gathers where air does not pass (general advice of extension services, from memory).
    said = [line for line in told(method=method, smell="rotten-egg").cautions if "poisonous" in line.text]
    assert sum(line.grave for line in said) == grave
    assert any("Never climb into a pit" in line.text and not line.grave for line in said)
