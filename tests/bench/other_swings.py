"""What other swings of the same golfer are worth, filmed from the other side after one another.

    PYTHONPATH=. .venv/bin/python -m tests.bench.other_swings --bodies 60

For every number the median ±, how many are refused and how many of the truths lie inside, by one view, with
one other swing and with three. How unlike a golfer's swings are is drawn for each, from 0.7 to 2 times what
the studio takes for usual. With --wrong swings of another golfer are given for the same one's.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence

import numpy as np

from lessonpress.measure import Measured, Refusal, Survey
from lessonpress.records import View
from tests.bench.limbs import ASKED
from tests.bench.second_view import KINDS, LANDSCAPE, OTHER, SAME, WRONG, Kind, told
from tests.measure.twoviews import FOLLOWED, Filmed, filmed
from tests.studio.variation import another_body, of_other_proportions, swung_again

UNLIKE = 0.7, 2.0
COUNTS = (0, 1, 3)
SLIPS = ("setup and top exchanged", "top and impact exchanged", "a known length 30 % off")


def in_space(event: str, *marks: str) -> Kind:
    """Of two marks the distance, of three the angle."""

    def ask(clip: Filmed, survey: Survey) -> Measured | Refusal:
        ats = [clip.at(mark, event) for mark in marks]
        return survey.angle_in_space(*ats) if len(ats) == 3 else survey.distance_in_space(*ats)

    def truth(clip: Filmed) -> float:
        places = [clip.truth.world(mark, clip.when(event)) for mark in marks]
        if len(places) == 2:
            return float(np.linalg.norm(places[1] - places[0]))
        p, q = places[0] - places[1], places[2] - places[1]
        return float(np.degrees(np.arccos(p @ q / np.linalg.norm(p) / np.linalg.norm(q))))

    return Kind(ask, truth, "°" if len(marks) == 3 else " in")


NUMBERS: dict[str, Kind] = {
    **ASKED,
    "shift": KINDS["shift"],
    "distance": KINDS["distance"],
    "hub": KINDS["hub"],
    "trail wrist in space, top": in_space("top", "trail-elbow", "trail-wrist", "implement-head"),
    "hands from navel in space, impact": in_space("impact", "navel", "lead-wrist"),
}


def swings_of(seed: int, view: View, stream: int, *, followed: bool) -> tuple[Filmed, list[Filmed], Filmed]:
    """A clip, other swings of its golfer from the other side, and another golfer's swing from there."""
    rng = np.random.default_rng([seed, stream])
    body, stranger = another_body(rng), another_body(rng)
    body = of_other_proportions(body, rng)
    unlike = float(rng.uniform(*UNLIKE))
    way = FOLLOWED if followed else ()
    clip = filmed(swung_again(body, rng, unlike), view, rng, followed=way, **LANDSCAPE)  # type: ignore[arg-type]
    state = rng.integers(1 << 30)
    others = []
    for number in range(max(COUNTS)):
        again = swung_again(body, rng, unlike)
        # one person marks them all, and takes the same point for a joint in each
        other = filmed(again, OTHER[view], rng, followed=(), same=SAME, mistaken=int(state), **LANDSCAPE)  # type: ignore[arg-type]
        others.append(other.named(f"other-{number}"))
    return clip, others, filmed(stranger, OTHER[view], rng, followed=(), same=SAME, **LANDSCAPE)  # type: ignore[arg-type]


def rows(view: View, bodies: int, stream: int, *, followed: bool) -> list[str]:
    found: dict[tuple[str, int], list[Measured | None]] = {}
    inside: dict[tuple[str, int], list[bool]] = {}
    of_no_use = dict.fromkeys(COUNTS, 0)
    for seed in range(bodies):
        clip, others, _ = swings_of(seed, view, stream, followed=followed)
        for count in COUNTS:
            survey = clip.survey(swings=others[:count])
            of_no_use[count] += len(survey.swings_refused)
            for name, kind in NUMBERS.items():
                if kind.followed and not followed:
                    continue
                number = kind.ask(clip, survey)
                found.setdefault((name, count), []).append(number if isinstance(number, Measured) else None)
                if isinstance(number, Measured):
                    held = number.low <= kind.truth(clip) <= number.high
                    inside.setdefault((name, count), []).append(held)
    told_rows = [
        f"| {view} | {name} | {_cells(name, found, inside)} |" for name in NUMBERS if (name, 0) in found
    ]
    return [*told_rows, f"of no use: {of_no_use}"]


def _cells(
    name: str, found: dict[tuple[str, int], list[Measured | None]], inside: dict[tuple[str, int], list[bool]]
) -> str:
    return " | ".join(
        told(found[name, count], inside.get((name, count), []), NUMBERS[name]) for count in COUNTS
    )


def wrong(view: View, bodies: int, stream: int) -> list[str]:
    """Of wrong clips given for the golfer's other swing: how many show, of those refused, and refused in all.

    One shows that takes a number so far that its ± leaves the truth out where the clip alone does not.
    """
    counts = {name: [0, 0, 0] for name in ("the right one", "another golfer's swing", *SLIPS)}
    for seed in range(bodies):
        clip, others, stranger = swings_of(seed, view, stream, followed=False)
        alone = clip.survey()
        given = {"the right one": others[0], "another golfer's swing": stranger}
        given |= {name: WRONG[name](others[0], seed) for name in SLIPS}
        for name, other in given.items():
            led = clip.survey(swings=[other])
            assert led.scene.swings is not None
            found = bool(led.swings_refused)
            led.scene.swings.__dict__["views"] = led.scene.swings.each  # what would have been printed
            far = any(_missed(kind, clip, led) and not _missed(kind, clip, alone) for kind in ASKED.values())
            counts[name] = [
                count + one for count, one in zip(counts[name], (far, far and found, found), strict=True)
            ]
    return [f"| {view} | {name} | {' | '.join(map(str, count))} |" for name, count in counts.items()]


def _missed(kind: Kind, clip: Filmed, survey: Survey) -> bool:
    number = kind.ask(clip, survey)
    return isinstance(number, Measured) and not number.low <= kind.truth(clip) <= number.high


def main(arguments: Sequence[str] | None = None) -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--bodies", type=int, default=40)
    asked.add_argument("--stream", type=int, default=61, help="another set of bodies")
    asked.add_argument("--followed", action="store_true", help="also along a motion, which takes far longer")
    asked.add_argument("--wrong", action="store_true", help="swings of another golfer instead")
    given = asked.parse_args(arguments)
    for view in OTHER:
        if given.wrong:
            print("\n".join(wrong(view, given.bodies, given.stream)), flush=True)
        else:
            print("\n".join(rows(view, given.bodies, given.stream, followed=given.followed)), flush=True)


if __name__ == "__main__":
    main()
