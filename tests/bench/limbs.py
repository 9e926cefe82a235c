"""What the lengths of forearms are worth, over bodies of many proportions, in one view.

    PYTHONPATH=. .venv/bin/python -m tests.bench.limbs --bodies 40

For every number the median ±, how many are refused and how many of the truths lie inside, by the posture
table alone and with lengths. Proportions vary as among people of one stature; all else errs as it states.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable

import numpy as np

from lessonpress.measure import Measured, Refusal, Survey
from lessonpress.records import View
from tests.bench.second_view import KINDS, LANDSCAPE, OTHER, Kind, told
from tests.chain.bodies import another_body, of_other_proportions
from tests.measure.twoviews import Filmed, filmed


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
    "tilt": KINDS["tilt"],
}


def row(view: View, bodies: int) -> list[str]:
    found: dict[tuple[str, bool], list[Measured | None]] = {}
    inside: dict[tuple[str, bool], list[bool]] = {}
    for seed in range(bodies):
        rng = np.random.default_rng([seed, 17])
        clip = filmed(of_other_proportions(another_body(rng), rng), view, rng, followed=(), **LANDSCAPE)  # type: ignore[arg-type]
        for lengths in (False, True):
            survey = clip.survey()
            if not lengths:
                survey.scene.limbs.knows = lambda at: False  # type: ignore[method-assign]
            for name, kind in ASKED.items():
                number = kind.ask(clip, survey)
                found.setdefault((name, lengths), []).append(number if isinstance(number, Measured) else None)
                if isinstance(number, Measured):
                    held = number.low <= kind.truth(clip) <= number.high
                    inside.setdefault((name, lengths), []).append(held)
    return [
        f"| {view} | {name} | "
        + " | ".join(told(found[name, way], inside.get((name, way), []), kind) for way in (False, True))
        + " |"
        for name, kind in ASKED.items()
    ]


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--bodies", type=int, default=40)
    given = asked.parse_args()
    print(
        "| view | number | postures | inside | with lengths | inside |\n| --- | --- | --- | --- | --- | --- |"
    )
    for view in OTHER:
        print("\n".join(row(view, given.bodies)), flush=True)


if __name__ == "__main__":
    main()
