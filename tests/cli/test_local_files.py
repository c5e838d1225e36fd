# ruff: noqa: E501  cases stand in rows
"""Local files: what they may add, how a fault is named, and that nothing shipped is taken away by them."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from local_folders import CAUTION, SOURCES, folder_of, from_readme, rule

from advisor.counsel.consult import consult
from advisor.counsel.in_use import laid_over, local_lines
from advisor.hearing.hear import hear
from advisor.hearing.vocabulary import vocabulary_for
from advisor.household.files import read_household
from advisor.inference.engine import Engine
from advisor.knowledge.base import LOCAL_SOURCE, Knowledge
from advisor.knowledge.kept import keep, kept
from advisor.knowledge.lint import faults_of
from advisor.knowledge.load import shipped
from advisor.knowledge.local import read_local
from advisor.knowledge.parts import planning
from advisor.places import rules_folder, scenarios_folder

SHIPPED = shipped()
_FIGURE = 'published = ["40-80 place-club"]\n'


def test_the_folder_of_the_readme_is_sound(tmp_path: Path) -> None:
    knowledge, problems = read_local(SHIPPED, from_readme(tmp_path / "wexcombe"))
    assert not problems
    assert knowledge.local is not None
    assert knowledge.local.name == "Wexcombe Garden Club"
    assert set(knowledge.local.replaced) == {("materials", "cow-manure"), ("figures", "weeks-steady-heap")}
    assert knowledge.materials["cow-manure"].moisture.typical == 78
    assert knowledge.materials["cow-manure"].nitrogen == SHIPPED.materials["cow-manure"].nitrogen
    assert "wheat tops" in knowledge.materials["straw"].aliases
    assert knowledge.figures["weeks-steady-heap"].typical == 34
    assert knowledge.climates["wexcombe"].months[6] == 16
    assert [one.place for one in knowledge.rules if one.id == "town-fence-distance"] == ["wexcombe/town.toml"]


def test_the_checks_of_the_whole_rule_base_find_nothing_in_it(tmp_path: Path) -> None:
    knowledge, _ = read_local(SHIPPED, from_readme(tmp_path / "wexcombe"))
    assert not faults_of(knowledge, rules_folder())


def test_no_shipped_source_looks_local() -> None:
    assert not [name for name in SHIPPED.sources if name.startswith(LOCAL_SOURCE)]


@pytest.mark.parametrize(
    ("files", "file", "place", "says"),
    [
        ({"town": "[[rule"}, "town.toml", "end of document", "not TOML"),
        ({"town": rule("a", '"plan.frm == \'stacked\'"', "{ caution = 'testby' }", more=CAUTION)}, "town.toml", "a", "form"),
        ({"town": rule("a", '"plan.form == \'stakked\'"', "{ caution = 'testby' }", more=CAUTION)}, "town.toml", "a", "stacked"),
        ({"town": rule("a", '"plan.form == \'stacked\'"', "{ caution = 'testbi' }", more=CAUTION)}, "town.toml", "a", "testby"),
        ({"town": CAUTION.replace("place-club", "common-practice")}, "town.toml", "testby", "cite place-club"),
        ({"sources": SOURCES.replace("place-club", "club")}, "sources.toml", "club", "[place-club]"),
        ({"measures": f"[tub]\nname = 'tub'\nlitre = 5\nlitres = {{ range = [40, 50, 80], {_FIGURE.strip()} }}"}, "measures.toml", "tub", "litres"),
        ({"names": "[strow]\nsays = ['wheat tops']"}, "names.toml", "strow", "straw"),
        ({"dangers": "[x]"}, "dangers.toml", "", "may hold sources.toml"),
        ({"sources": "\x00"}, "sources.toml", "line 1", "not TOML"),
    ],
)  # fmt: skip
def test_a_fault_has_its_file_its_place_and_the_nearest_right_thing(
    tmp_path: Path, files: dict[str, str], file: str, place: str, says: str
) -> None:
    _, problems = read_local(SHIPPED, folder_of(tmp_path / "testby", **files))
    first = problems[0]
    assert first.file == f"testby/{file}"
    assert place in first.place
    assert says in first.message


def test_a_file_with_a_fault_is_left_out_whole_and_the_rest_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("advisor.counsel.in_use._faults", lambda *_: ())  # the form alone is looked at here
    sound = rule("sound", "\"plan.form == 'stacked'\"", "{ caution = 'testby' }", more=CAUTION)
    half = rule("half-good", "\"plan.form == 'drum'\"", "{ caution = 'testby' }") + "[[rule]]\nid = 'half-bad'\n"
    leans = rule("leans", "\"holding['tub-stuff'].litres > 1\"", "{ caution = 'testby' }")
    tub = "[tub-stuff]\nname = 'tub stuff'\nrole = 'gren'\n"
    folder = folder_of(tmp_path / "testby", sound=sound, half=half, leans=leans, materials=tub)
    knowledge = laid_over(SHIPPED, folder)
    assert {one.id for one in knowledge.rules if one.folder == "testby"} == {"sound"}
    assert knowledge.local is not None
    left = {problem.file for problem in knowledge.local.left_out}
    assert left == {"testby/half.toml", "testby/leans.toml", "testby/materials.toml"}
    told = local_lines(knowledge)
    assert "Local rules of Testby are in use" in told[0]
    assert "half.toml is left out" in told[1]
    assert "3 files" in told[1]


# ---------------------------------------------------------------- nothing shipped is taken away

_HOGWEED = "[giant-hogweed]\n"


@pytest.mark.parametrize(
    ("files", "says"),
    [
        # what concludes that a caution, a cure or a warning does not apply
        ({"town": rule("a", "\"plan.form == 'stacked'\"", "{ caution = 'hot-core', withdrawn = 'yes' }")}, "takes no shipped"),
        ({"town": rule("a", "\"sign.warmth == 'hot'\"", "{ remedy = 'cool-it-down', withdrawn = 'yes' }", stratum="remedies")}, "takes no shipped"),
        ({"town": rule("a", "\"sign.warmth == 'hot'\"", "{ cause = 'overheated', ruled_out = 'yes' }", stratum="causes")}, "takes no shipped"),
        ({"town": rule("a", "\"sign.warmth == 'hot'\"", "{ cause = 'overheated', favour = -5 }", stratum="causes")}, "takes no shipped"),
        # a caution of the same name with milder words
        ({"town": '[caution.fire]\nsay = "It is never as bad as they say."\nsource = "place-club"\nstratum = "safety"'}, "taken"),
        # a material that loses what cautions go by
        ({"materials": f"{_HOGWEED}role = 'green'"}, "stays never"),
        ({"materials": "[cow-manure]\nkeeps = 'years'"}, "stays weeks"),
        # a figure that keeps people safe, made looser
        ({"figures": "[manure-wait-splash-days]\nrange = [10, 20, 120]\npublished = ['10-120 place-club']"}, "at least 120"),
        ({"figures": "[salt-limit-g-per-m2]\nrange = [20, 90, 400]\npublished = ['20-400 place-club']"}, "at most"),
        ({"figures": "[manure-wait-splash-days]\nrange = [120, 130, 140]\nguards = ''\npublished = ['120-140 place-club']"}, "keeps people safe"),
        # the windows of the blend, which shipped rules set
        ({"town": rule("a", "\"plan.form == 'stacked'\"", "{ target = 'moisture', high = 90 }", stratum="target")}, "target.shift"),
        # a deed of the day that would push out one that cannot wait
        ({"town": '[due.look]\norder = 1\nname = "Look"\nsay = "Look at it once."\nagain = 5\nsource = "place-club"\n'}, "20 or more"),
    ],
)  # fmt: skip
def test_it_takes_no_caution_away(tmp_path: Path, files: dict[str, str], says: str) -> None:
    name = next(iter(SHIPPED.notices["cause"]))
    files = {file: text.replace("'overheated'", f"'{name}'") for file, text in files.items()}
    _, problems = read_local(SHIPPED, folder_of(tmp_path / "testby", **files))
    assert any(says in problem.message for problem in problems), problems


def test_traits_of_a_shipped_material_only_grow(tmp_path: Path) -> None:
    folder = folder_of(tmp_path / "testby", materials="[cow-manure]\ntraits = ['salty']\naliases = ['moor muck']")
    knowledge, problems = read_local(SHIPPED, folder)
    assert not problems
    now, before = knowledge.materials["cow-manure"], SHIPPED.materials["cow-manure"]
    assert set(now.traits) == {*before.traits, "salty"}
    assert set(now.aliases) == {*before.aliases, "moor muck"}


def test_a_stricter_figure_may_stand(tmp_path: Path) -> None:
    figures = "[manure-wait-splash-days]\nrange = [120, 150, 180]\npublished = ['120-180 place-club']"
    knowledge, problems = read_local(SHIPPED, folder_of(tmp_path / "testby", figures=figures))
    assert not problems
    assert knowledge.figures["manure-wait-splash-days"].typical == 150


def test_with_local_rules_households_keep_their_cautions(tmp_path: Path) -> None:
    """Local rules that add cautions, notes and bans of their own, in numbers, over shipped households."""
    text = [CAUTION]
    for number, name in enumerate(sorted(SHIPPED.materials)):
        text.append(
            f'[note.note-{number}]\nsay = "A word of Testby on it."\nsource = "place-club"\n'
            + rule(f"says-{number}", f"\"holding['{name}'].litres > 3\"", f"{{ note = 'note-{number}' }}").split(
                "\n", 1
            )[1]
        )
    text.append(
        rule("all", "\"plan.form in ('stacked', 'drum', 'worms')\"", "{ caution = 'testby' }").split("\n", 1)[1]
    )
    folder = folder_of(tmp_path / "testby", town='stratum = "safety"\n' + "\n".join(text))
    knowledge, problems = read_local(SHIPPED, folder)
    assert not problems
    before, after = Engine(*planning(SHIPPED)), Engine(*planning(knowledge))
    said = 0
    for path in sorted(scenarios_folder().glob("*.toml"))[::3]:
        household = read_household(path, SHIPPED)
        alone = consult(household, SHIPPED, before, with_doubts=False)
        local = consult(household, knowledge, after, with_doubts=False)
        assert {line.text for line in alone.cautions} <= {line.text for line in local.cautions}
        assert {line.text for line in alone.stays_out} <= {line.text for line in local.stays_out}
        own = [line for line in local.cautions if "Testby" in line.text]
        said += len(own)
        assert all(any(because.local == "local rule" for because in line.why) for line in own)
    assert said > 3


def test_the_program_asks_for_the_rule_base_in_use() -> None:
    """Whoever calls `shipped()` passes local rules over; only these may."""
    allowed = {"knowledge/load.py", "counsel/in_use.py", "hearing/kept_lemmas.py"}
    package = rules_folder().parent / "advisor"
    asking = {
        str(path.relative_to(package))
        for path in package.rglob("*.py")
        if re.search(r"\bshipped\(\)", path.read_text(encoding="utf-8"))
    }
    assert asking <= allowed, "use advisor.counsel.in_use.in_use"


# ---------------------------------------------------------------- names and dangers


@pytest.mark.parametrize("name", ["flames", "bleach"])
def test_a_local_name_keeps_no_danger_from_being_heard(tmp_path: Path, name: str) -> None:
    knowledge, problems = read_local(SHIPPED, folder_of(tmp_path / "testby", names=f"[straw]\nsays = ['{name}']"))
    assert not problems
    lines = [
        line for _, line, holds in vocabulary_for(SHIPPED).examples if holds and set(name.split()) <= set(line.split())
    ]
    told = [[one.name for one in hear(line, knowledge).dangers] for line in lines[:6]]
    assert told == [[one.name for one in hear(line, SHIPPED).dangers] for line in lines[:6]]
    assert any(told)


def test_a_local_name_that_did_would_be_left_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def deaf(line: str, knowledge: Knowledge) -> list[str]:
        return [] if knowledge.local is not None and "bleach" in line else ["a danger"]

    monkeypatch.setattr("advisor.counsel.in_use._dangers", deaf)
    monkeypatch.setattr("advisor.knowledge.lint.faults_of", lambda *_: ())
    folder = folder_of(tmp_path / "testby", names="[straw]\nsays = ['bleach']\n[hay]\nsays = ['moor grass']")
    local = laid_over(SHIPPED, folder).local
    assert local is not None
    assert local.left_out[0].file == "testby/names.toml"
    assert "'bleach'" in local.left_out[0].message
    assert not local.files.get(("names", "hay")), "a file is left out whole"


# ---------------------------------------------------------------- five hundred


def test_five_hundred_local_rules_are_borne(tmp_path: Path) -> None:
    """Every rule asks for a little more of the same figure, so that one fact passes them all."""
    rules = [
        f"[[rule]]\nid = 'more-{number}'\nwhen = ['stock.litres > {number / 2}']\nthen = [{{ note = 'word' }}]\n"
        "because = 'The depot takes no more than it can turn.'\nsource = 'place-club'\nevidence = 'tradition'\n"
        for number in range(500)
    ]
    word = "stratum = 'build'\n[note.word]\nsay = 'Ask at the depot.'\nsource = 'place-club'\n"
    knowledge, problems = read_local(SHIPPED, folder_of(tmp_path / "testby", town=word + "\n".join(rules)))
    assert not problems
    household = read_household(scenarios_folder() / "six-hens.toml", SHIPPED)
    plan = consult(household, knowledge, Engine(*planning(knowledge)), with_doubts=False)
    [line] = [line for line in plan.notes if line.text == "Ask at the depot."]
    assert len([because for because in line.why if because.rule.startswith("more-")]) == 500


# ---------------------------------------------------------------- what is kept


def test_what_was_found_is_kept_until_a_local_file_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.kept_objects.cache_folder", lambda: tmp_path / "cache")
    folder = from_readme(tmp_path / "wexcombe")
    knowledge, _ = read_local(SHIPPED, folder)
    assert kept(rules_folder(), folder) is None
    keep(rules_folder(), knowledge, folder)
    assert kept(rules_folder(), folder) == knowledge
    assert kept(rules_folder()) is None, "what is kept with local files is not the shipped rules"
    town = folder / "town.toml"
    town.write_text(town.read_text(encoding="utf-8") + "\n# changed\n", encoding="utf-8")
    assert kept(rules_folder(), folder) is None
    assert replace(knowledge, local=None) != SHIPPED
