"""The method that stands, and the one that came second."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

if TYPE_CHECKING:
    from advisor.counsel.plan import Plan
    from advisor.diagnosis.shapes import Diagnosis
    from advisor.household.shapes import Household
    from advisor.talk.bed_notes import BedNote

#: So many remedies are shown beside the talk; the page of the cure has all.
_DEEDS = 2

NOTHING_YET = "Nothing to go on yet. Say what you have: “3 sacks of leaves, a bucket of coffee grounds”."


class StandingView(Static):
    """What it comes to so far: the method, the runner-up, the size against the room, and whether it will heat."""

    DEFAULT_CSS = """
    StandingView { height: auto; }
    """

    plan: reactive[Plan | None] = reactive(None)
    """What stands; an invitation is shown if None."""

    household: reactive[Household | None] = reactive(None)
    """What was told, for the room there is."""

    beds: reactive[tuple[BedNote, ...]] = reactive(())
    """The beds of the diary, shown while no heap stands."""

    cure: reactive[Diagnosis | None] = reactive(None)
    """What ails the heap; it is shown in the place of the plan."""

    def on_mount(self) -> None:
        """Show the invitation from the start."""
        self._show()

    def watch_plan(self) -> None:
        """Another plan, other words."""
        self._show()

    def watch_cure(self) -> None:
        """The heap is ill, or well again."""
        self._show()

    def watch_household(self) -> None:
        """Room may have been told."""
        self._show()

    def watch_beds(self) -> None:
        """A check was kept, or taken out."""
        self._show()

    def _show(self) -> None:
        plan = self.plan
        if self.cure is not None:
            self.update(_ailing(self.cure))
            return
        if plan is None:
            self.update(_beds(self.beds) if self.beds else Content.styled(NOTHING_YET, "$quiet"))
            return
        from advisor.screens.wording import room, size, standing, warmth

        lines = [Content.styled(standing(plan), "bold $primary")]
        second = plan.choice.runner_up
        if second is not None and not second.ruled_out:
            lines[0] += Content.styled(f"   next best: {second.name}", "$quiet")
        if plan.body is not None and plan.body.litres > 0:
            facts = [size(plan.body, plan.units), room(plan, self.household), warmth(plan)]
            lines.append(Content("; ".join(fact for fact in facts if fact)))
        self.update(Content("\n").join(lines))


def _ailing(cure: Diagnosis) -> Content:
    """What it is, what to do today, and when to look again for what."""
    from advisor.counsel.wording import capital
    from advisor.screens.wording import ails, look_again

    lines = [Content.styled(capital(ails(cure)), "bold $primary")]
    for number, remedy in enumerate(cure.remedies[:_DEEDS]):
        lines += [Content(""), Content.styled("Then: " if number else "Today: ", "bold") + Content(remedy.line.text)]
    if cure.remedies and look_again(cure):
        first = cure.remedies[0]
        lines += [Content(""), Content.styled(f"{capital(look_again(cure))}: ", "bold") + Content(first.expect)]
        lines += [Content(f"If not: {first.otherwise}")]
    lines += [Content(""), Content.styled("F4 has the whole of it.", "$quiet")]
    return Content("\n").join(lines)


def _beds(beds: tuple[BedNote, ...]) -> Content:
    """Each bed with the latest of its checks."""
    from advisor.talk.recap import day_text

    lines = [Content.styled("The beds in your diary", "bold $primary")]
    for bed in beds:
        lines += [Content(""), Content.styled(bed.name, "bold")]
        lines += [
            Content(f"  {check.name}: {check.showed}")
            + Content.styled(f"  {day_text(check.on, date.today())}", "$quiet")
            for check in bed.checks
        ] or [Content.styled("  no check yet", "$quiet")]
    return Content("\n").join(lines)
