"""By hand: `python tests/diagnosis/report.py` prints how the case book fares, the part held apart on its own."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2])]

from book import among_three, cases, first_or_tied  # noqa: E402


def main() -> None:
    parts = {
        "published, seen": [case for case in cases() if case.published and not case.held_apart],
        "published, held apart": [case for case in cases() if case.held_apart],
        "from memory": [case for case in cases() if not case.published],
    }
    for name, part in parts.items():
        told = [case for case in part if case.causes]
        found = {case: case.diagnosis() for case in part}
        first = [case for case in told if first_or_tied(case, found[case])]
        three = [case for case in told if among_three(case, found[case])]
        warned = [case for case in part if {cure.remedy for cure in found[case].remedies} & set(case.never)]
        print(
            f"{name}: {len(part)} cases; first or tied {len(first)} of {len(told)}; among three {len(three)}; "
            f"advised against the source {len(warned)}"
        )
        for case in told:
            if case not in first:
                named = ", ".join(f"{one.cause} {one.score:g}" for one in found[case].causes[:4])
                print(f"   {case.id} {case.said}\n      wanted {', '.join(case.causes)}; found {named or 'nothing'}")


if __name__ == "__main__":
    main()
