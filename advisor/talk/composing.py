"""In which order the replies to one line are said: cautions, the answer, the next step, what was heard, a question.

At most two straight answers are given to one line, so that a reply stays short.
"""

from __future__ import annotations

from collections.abc import Sequence

from advisor.talk.answering import Besides
from advisor.talk.replies import Reply

_MOST_ANSWERS = 2
#: A line that is one of these first asks: nothing is asked back of a plan that it does not change.
_ASKS = frozenset(
    [
        "ask_material",
        "ask_fact",
        "ask_how",
        "ask_why",
        "ask_ready",
        "ask_soil",
        "ask_use",
        "ask_year",
        "ask_what_now",
        "what_if",
    ]
)
#: Kinds of lines to which what was heard is the answer.
_SAID_BACK = frozenset({"stock", "circumstance", "correct", "answer", "undo", "start_over"})


def composed(besides: Besides, taken: Sequence[Reply], *, ails: bool, waits: bool) -> tuple[Reply, ...]:
    """All replies to one line, in their order.

    Args:
        besides: what there is to say to the line beyond what it changes.
        taken: what was said as it was taken in.
        ails: whether the line is about a heap in trouble.
        waits: whether a question waits that the line itself gave rise to.
    """
    heard = besides.heard
    first = heard.acts[0] if heard.acts else ""
    cautions = [reply for reply in taken if reply.kind == "caution"]
    asked = [reply for reply in taken if reply.kind == "question"]
    back = [reply for reply in taken if reply.kind == "heard"]
    rest = list(dict.fromkeys(reply for reply in taken if reply not in (*cautions, *asked, *back)))
    answers = _answers(besides, first, ails=ails, taken=bool(rest))
    if first in _ASKS and not ails and not waits and (rest or answers):
        asked = []
    noted = besides.noted()
    if ails:
        order = (
            [*cautions, *noted, *rest, *answers, *back]
            if first == "deed"
            else [*cautions, *rest, *answers, *noted, *back]
        )
    elif first in ("stock", "circumstance") and any(reply.kind == "verdict" for reply in rest):
        order = [*cautions, *rest, *answers, *back, *(noted if first != "circumstance" else ())]
    elif first in _SAID_BACK:
        order = [*back, *answers, *cautions, *rest, *(noted if first != "circumstance" else ())]
    elif noted and first in ("deed", "observation"):
        order = [*cautions, *noted, *answers, *rest, *back]
    elif heard.asked and answers and first != "ask_material":
        order = [*cautions, *answers, *rest, *noted, *back]
    elif first == "ask_material":
        drawn = besides.signs_asked(("sign.animals", "sign.smell"))  # "do coffee grounds draw flies"
        barred = besides.conditions(outright=True)
        said = [] if barred else [reply for reply in rest if reply.kind == "answer"]
        others = [one for one in rest if one.kind != "answer"]
        order = [*cautions, *drawn, *said[: 1 if drawn else _MOST_ANSWERS], *answers, *others, *noted, *back]
    else:
        order = [*cautions, *rest, *answers, *noted, *back]
    return tuple(dict.fromkeys((*order, *asked)))


def _answers(besides: Besides, first: str, *, ails: bool, taken: bool) -> list[Reply]:
    """Straight answers in their order."""
    heard = besides.heard
    if ails:
        return [*besides.questions(usual=False), *besides.feared()][:1] if heard.asked else []
    barred = besides.conditions(outright=True)
    conditions = barred or (
        [] if not first.startswith("ask_") or first == "ask_plan" else besides.conditions(outright=False)
    )
    if first in ("deed", "observation") and besides.put_in_with_a_condition:
        return besides.conditions(outright=False) or besides.next_steps()
    worries = conditions or besides.feared()
    if first == "ask_ready" and (ready := besides.ready()):
        return ready
    steps, seen = besides.next_steps(), besides.seen()
    # what is seen has an answer of its own, nearer than the usual one to a question that names nothing
    questions = besides.questions(usual=not taken and not seen)
    told = [*steps, *seen] if first == "deed" else [*seen, *steps]
    if first == "ask_material" or barred or (worries and not questions):
        found = [*worries, *(questions if not taken and not barred else ())]
    else:
        found = [*questions, *(worries if not conditions or not questions else ())]
    if not found or not questions or first in ("deed", "observation", "trouble"):
        found = [*told, *found]
    if not found and not taken:
        found = besides.signs_asked()
    if first in ("circumstance", "ask_plan") or ("circumstance" in heard.acts and not besides.planning):
        found = [*besides.heeded(), *(one for one in found if one not in steps)]
    return found[:_MOST_ANSWERS]
