"""What the commands of the soil are told in the same words: a soil file, beds, checks, dates; and how they answer."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from advisor.commands.terminal import width

if TYPE_CHECKING:
    import argparse

    from advisor.knowledge.base import Knowledge
    from advisor.services.shapes import Circumstances
    from advisor.soil_counsel.ground import BedTold, Ground

FILE_HELP = "a soil file with beds, frosts and checks, or the name of one that comes with the program"

#: What a soil file looks like, for the end of --help.
FILE_EPILOG = (
    "A soil file is TOML: name, last_frost and first_frost (as '04-20') or frost_free = true, starts (a date), "
    "a [heap] with method, holds, finished and lot, a [[bed]] for each bed (name, area, step, wants, depth, crops, "
    "kind, place, grows, dressed_years) and a [[check]] for each check (bed, on, kind, and what its guide asks for)."
)


def add_beds(parser: argparse.ArgumentParser) -> None:
    """A file, or beds by hand."""
    parser.add_argument("file", nargs="?", help=FILE_HELP)
    parser.add_argument(
        "--bed",
        metavar="BED",
        action="append",
        default=[],
        help="a bed: 'A, 1.2 x 6 m, wants new, crops cabbages, step 2'; as often as there are beds",
    )
    parser.add_argument(
        "--diary", action="store_true", help="the beds, frosts and checks of your diary; of the beds named, if any are"
    )
    from advisor.places import scenarios_folder

    shipped = ", ".join(sorted(path.stem for path in (scenarios_folder() / "soil").glob("*.toml")))
    parser.epilog = f"{FILE_EPILOG} There come with the program: {shipped}."


def ground_told(arguments: argparse.Namespace, knowledge: Knowledge, *, any_bed: bool = False) -> Ground:
    """The beds of the file, of the options or of the diary; with `any_bed` one without a name if none are given.

    Raises:
        UsageError: no beds are given, or a file and beds are.
    """
    from advisor.errors import UsageError
    from advisor.soil_counsel.ground import BedTold, Ground

    if arguments.diary:
        return _of_diary(arguments, knowledge)
    if arguments.file is not None:
        if arguments.bed:
            raise UsageError("give a soil file or beds, not both", hint="copy the file and change it there")
        return ground_named(arguments.file, knowledge)
    if not arguments.bed:
        if any_bed:
            return Ground("Your soil", beds=(BedTold("the bed"),))
        raise UsageError("a bed is needed", hint="name a soil file, or say --bed 'A, 1.2 x 6 m'")
    return Ground("your beds", beds=_beds_told(arguments.bed, knowledge))


def _beds_told(texts: Sequence[str], knowledge: Knowledge) -> tuple[BedTold, ...]:
    from advisor.errors import UsageError
    from advisor.soil_counsel.ground import bed_told

    beds = tuple(bed_told(text, knowledge, "--bed") for text in texts)
    names = [bed.name for bed in beds]
    if len(set(names)) < len(names):
        raise UsageError("two beds have one name", hint="call each by a name of its own")
    return beds


def _of_diary(arguments: argparse.Namespace, knowledge: Knowledge) -> Ground:
    """The diary; of the beds named, if any are, with what is told of them now in the place of what was kept."""
    from dataclasses import replace

    from advisor.diary.store import Diary
    from advisor.errors import UsageError
    from advisor.soil_counsel.ground import BedTold

    if arguments.file is not None:
        raise UsageError("give a soil file or --diary, not both")
    found = Diary(knowledge).read()
    for one in found.amiss:
        print(f"in the diary, what cannot be read: {one}", file=sys.stderr)
    ground = found.ground
    if not arguments.bed:
        if not ground.beds:
            raise UsageError("the diary is empty", hint="`heapwright soil --bed A --check ... --keep` begins it")
        return ground
    kept = {bed.name: bed for bed in ground.beds}
    told = _beds_told(arguments.bed, knowledge)
    beds = tuple(kept.get(bed.name, bed) if bed == BedTold(bed.name) else bed for bed in told)
    names = {bed.name for bed in beds}
    return replace(ground, beds=beds, checks=tuple(check for check in ground.checks if check.bed in names))


def ground_named(name: str, knowledge: Knowledge) -> Ground:
    """A soil file as it stands, or a shipped one by its name."""
    from advisor.places import scenarios_folder
    from advisor.soil_counsel.ground import read_ground
    from advisor.text_files import named_file

    shipped = {each.stem: each for each in sorted((scenarios_folder() / "soil").glob("*.toml"))}
    listing = f"there are {', '.join(shipped)}, or name a file"
    return read_ground(named_file(name, shipped, "soil file", listing), knowledge)


def day_told(text: str | None, option: str, knowledge: Knowledge) -> date | None:
    """A day that has been, in any words: "2026-04-01", "1 April", "yesterday". Raises HouseholdError."""
    from datetime import date

    from advisor.hearing.days import read_day

    return None if text is None else read_day(text, option, knowledge, date.today())


def may_keep(arguments: argparse.Namespace, given: Mapping[str, object]) -> None:
    """Refuse to keep what is no check of a bed. Raises UsageError."""
    from advisor.errors import UsageError

    if arguments.file is not None or not arguments.bed or "check" not in given:
        hint = "for instance --bed plot --check 'hole hours=5' --keep"
        raise UsageError("--keep keeps a --check of a --bed", hint=hint)


def keep(texts: Sequence[str], at: Circumstances) -> None:
    """Keep the checks of the options, which have been read and judged by now."""
    from dataclasses import replace

    from advisor.diary.store import Diary
    from advisor.services.soil_answers import checked
    from advisor.soil_counsel.ground import BedTold
    from advisor.soil_counsel.inputs import read_check_text

    diary = Diary(at.knowledge)
    ground = checked(at, at.told)
    bed = ground.beds[0]
    if bed != BedTold(bed.name):  # a bare name does not wipe out what is known of the bed
        diary.keep_bed(bed)
    for text, check in zip(texts, ground.checks[-len(texts) :], strict=True):
        made = check if check.on is not None else replace(check, on=at.today)
        diary.keep_check(made, read_check_text(text, at.knowledge.guides, "--check", at.units)[1])
    print(f"Kept in {diary.path}.", file=sys.stderr)


def show_guide(names: Sequence[str], of: str, units: str) -> int:
    """Print a guided check, or the list of them if none is named."""
    from typing import cast

    from advisor.counsel.in_use import in_use
    from advisor.errors import UsageError
    from advisor.knowledge.hints import hint
    from advisor.papers.ground import guide_page
    from advisor.units import Units

    guides = in_use().guides
    if not names:
        for name, guide in guides.items():
            if guide.of == of:
                print(f"{name:<12} {guide.about}")
        return 0
    for name in names:
        if name not in guides:
            raise UsageError(f"there is no guide '{name}'", hint=hint(name, guides))
    sys.stdout.write("\n".join(guide_page(guides[name], units=cast("Units", units), width=width()) for name in names))
    return 0
