"""What the lengths of forearms and of the club are worth, over bodies of many proportions, in one view.

    PYTHONPATH=. .venv/bin/python -m tests.bench.limbs --bodies 40

For every number the median ±, how many are refused and how many of the truths lie inside: by the posture
table alone, with the lengths of forearms, and on a card that says how long the club is. Proportions vary as
among people of one stature, the club and where it is held by CLUB_U; all else errs as it states.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from lessonpress.measure import Measured, Refusal, Survey
from lessonpress.records import View
from tests.bench.second_view import KINDS, OTHER, Kind, ask_for_pictures, pictures, told
from tests.measure.twoviews import Filmed, filmed
from tests.studio.variation import another_body, of_other_proportions


def inside_angle(event: str, *marks: str) -> Kind:
    def ask(clip: Filmed, survey: Survey) -> Measured | Refusal:
        a, v, b = (clip.at(mark, event) for mark in marks)
        return survey.angle(a, v, b)

    a, v, b = marks
    truth: Callable[[Filmed], float] = lambda clip: clip.truth.angle(a, v, b, clip.when(event))  # noqa: E731
    return Kind(ask, truth, "°")


ASKED: dict[str, Kind] = {
    "trail wrist, top": KINDS["wrist angle"],
    "trail elbow, top": inside_angle("top", "trail-shoulder", "trail-elbow", "trail-wrist"),
    "lead elbow, top": inside_angle("top", "lead-shoulder", "lead-elbow", "lead-wrist"),
    "lead wrist, impact": inside_angle("impact", "lead-elbow", "lead-wrist", "implement-head"),
    "hands, setup to top": Kind(
        lambda c, s: s.shift(c.at("lead-wrist", "setup"), c.at("lead-wrist", "top")),
        lambda c: c.truth.shift("lead-wrist", c.when("setup"), c.when("top")),
        " in",
    ),
    "lead arm to shaft, top": inside_angle("top", "lead-shoulder", "lead-wrist", "implement-head"),
    "tilt": KINDS["tilt"],
}
CLUB_U = 0.02  # m, of the length on the card and of how far down the handle is held
WAYS = ("postures", "forearms", "club")


def surveyed(clip: Filmed, way: str) -> Survey:
    if way == "club":
        return clip.survey()
    survey = replace(clip, setting=replace(clip.setting, implement_length=None)).survey()
    if way == "postures":
        survey.scene.limbs.linked = lambda ats: {}  # type: ignore[method-assign]
    return survey


def rows(view: View, bodies: int, stream: int, how: dict[str, object]) -> list[str]:
    found: dict[tuple[str, str], list[Measured | None]] = {}
    inside: dict[tuple[str, str], list[bool]] = {}
    for seed in range(bodies):
        rng = np.random.default_rng([seed, stream])
        body = of_other_proportions(another_body(rng), rng)
        clip = filmed(body, view, rng, followed=(), club_u=CLUB_U, **how)  # type: ignore[arg-type]
        for way in WAYS:
            survey = surveyed(clip, way)
            for name, kind in ASKED.items():
                number = kind.ask(clip, survey)
                found.setdefault((name, way), []).append(number if isinstance(number, Measured) else None)
                if isinstance(number, Measured):
                    held = number.low <= kind.truth(clip) <= number.high
                    inside.setdefault((name, way), []).append(held)
    return [
        f"| {view} | {name} | "
        + " | ".join(told(found[name, way], inside.get((name, way), []), kind) for way in WAYS)
        + " |"
        for name, kind in ASKED.items()
    ]


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--bodies", type=int, default=40)
    asked.add_argument("--stream", type=int, default=17, help="another set of bodies")
    ask_for_pictures(asked)
    given = asked.parse_args()
    print("| view | number | postures | inside | forearms | inside | and the club | inside |")
    print("| --- | --- | --- | --- | --- | --- | --- | --- |")
    for view in OTHER:
        print("\n".join(rows(view, given.bodies, given.stream, pictures(given))), flush=True)


if __name__ == "__main__":
    main()
