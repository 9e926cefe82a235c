"""What is printed beside what was aimed at, by one view and by two, on pictures of one size.

    PYTHONPATH=. .venv/bin/python -m tests.bench.goals --bodies 40 --upright

One view is with the club on the card; two views show the same swing. Proportions of bodies vary, and every
input errs as it states. For each number the goal, the median ±, how many are refused and how many of the
truths lie inside; hubs, which take far longer, of the first of the bodies alone.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from lessonpress.measure import Measured
from lessonpress.records import View
from tests.bench.limbs import ASKED, CLUB_U
from tests.bench.second_view import KINDS, OTHER, SAME, Kind, ask_for_pictures, pictures, told
from tests.measure.twoviews import filmed
from tests.studio.variation import another_body, of_other_proportions


@dataclass(frozen=True)
class Goal:
    """views: how many. pm: what was aimed at, in the unit of its kind."""

    views: str
    number: str
    kind: Kind
    pm: float


GOALS = (
    Goal("one", "trail wrist, top", ASKED["trail wrist, top"], 6),
    Goal("one", "lead wrist, impact", ASKED["lead wrist, impact"], 6),
    Goal("one", "tilt", KINDS["tilt"], 2.2),
    Goal("two", "trail wrist, top", ASKED["trail wrist, top"], 3),
    Goal("two", "lead wrist, impact", ASKED["lead wrist, impact"], 3),
    Goal("two", "tilt", KINDS["tilt"], 1.5),
    Goal("two", "shift", KINDS["shift"], 0.5),
    Goal("two", "hub", KINDS["hub"], 2),
)


def rows(view: View, bodies: int, hubs: int, stream: int, how: dict[str, object]) -> Iterator[str]:
    found: dict[Goal, list[Measured | None]] = {goal: [] for goal in GOALS}
    inside: dict[Goal, list[bool]] = {goal: [] for goal in GOALS}
    for seed in range(bodies):
        rng = np.random.default_rng([seed, stream])
        body = of_other_proportions(another_body(rng), rng)
        way = ("lead-wrist",) if seed < hubs else ()
        clip = filmed(body, view, rng, followed=way, club_u=CLUB_U, **how)  # type: ignore[arg-type]
        second = filmed(body, OTHER[view], rng, followed=way, same=SAME, **how)  # type: ignore[arg-type]
        surveys = {"one": clip.survey(), "two": clip.survey(second)}
        for goal in GOALS:
            if goal.kind.followed and not way:
                continue
            number = goal.kind.ask(clip, surveys[goal.views])
            found[goal].append(number if isinstance(number, Measured) else None)
            if isinstance(number, Measured):
                inside[goal].append(number.low <= goal.kind.truth(clip) <= number.high)
    for goal in GOALS:
        aim, said = f"± {goal.pm:g}{goal.kind.unit}", told(found[goal], inside[goal], goal.kind)
        yield f"| {view} | {goal.views} | {goal.number} | {aim} | {said} |"


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--bodies", type=int, default=40)
    asked.add_argument("--hubs", type=int, default=12, help="of how many bodies hubs are measured")
    asked.add_argument("--stream", type=int, default=17, help="another set of bodies")
    ask_for_pictures(asked)
    given = asked.parse_args()
    print("| view | views | number | goal | ± | inside |\n| --- | --- | --- | --- | --- | --- |")
    for view in OTHER:
        for row in rows(view, given.bodies, given.hubs, given.stream, pictures(given)):
            print(row, flush=True)


if __name__ == "__main__":
    main()
