"""What a second view of the same swing is worth, over many bodies, and whether a wrong one is found.

    PYTHONPATH=. .venv/bin/python -m tests.bench.second_view --bodies 60

For every kind of number: the median ±, and how many of the truths lie inside it, by one view and by two.
Every input errs as it states: clicks, tape, stick, stature, camera, and which point is taken for a joint.
With --wrong second views that are none: another body's swing, marks of another instant, a known length that
is off. One shows where it moves a number by more than its ±; of those the share that is refused is given.
With --floor what no knowledge of depths can better: every depth given to the clip as it is, to a tenth of a
millimetre, so that only clicks and the camera are left.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from lessonpress.measure import Depth, KnownLength, Measured, Refusal, Survey
from lessonpress.records import View
from tests.measure.twoviews import FOLLOWED, STICK, WITHIN_STICK, Filmed, filmed
from tests.studio.variation import another_body

SAME = 0.02  # m: as the program takes it
EXACT = 1e-4  # m
INCH = 0.0254
LANDSCAPE: dict[str, object] = {"size": (1280, 720), "fill": 260.0}
UPRIGHT: dict[str, object] = {"size": (1080, 1920), "fill": 560.0}
LARGE: dict[str, object] = {"size": (2160, 3840), "fill": 1120.0}
OTHER: dict[View, View] = {"face-on": "down-the-line", "down-the-line": "face-on"}


@dataclass(frozen=True)
class Kind:
    ask: Callable[[Filmed, Survey], Measured | Refusal]
    truth: Callable[[Filmed], float]
    unit: str
    followed: bool = False

    @property
    def size(self) -> float:
        return INCH if self.unit == " in" else 1.0


def _hub(clip: Filmed) -> float:
    events, times = clip.setting.events, np.array(clip.setting.times)
    way = clip.start + times[events["top"] : events["impact"] + 1]
    centre, _ = clip.truth.circle("lead-wrist", way)
    return float(np.hypot(*(centre - clip.truth.flat("c7", clip.when("impact")))))


def _circle(clip: Filmed, survey: Survey) -> Measured | Refusal:
    events = clip.setting.events
    return survey.circle("lead-wrist", events["top"], events["impact"], near=clip.at("c7", "impact"))


WRIST = ("trail-elbow", "trail-wrist", "implement-head")
KINDS: dict[str, Kind] = {
    "wrist angle": Kind(
        lambda c, s: s.angle(*(c.at(mark, "top") for mark in WRIST)),
        lambda c: c.truth.angle(*WRIST, c.when("top")),
        "°",
    ),
    "tilt": Kind(
        lambda c, s: s.tilt(c.at("navel", "impact"), c.at("c7", "impact")),
        lambda c: c.truth.tilt("navel", "c7", c.when("impact")),
        "°",
    ),
    "distance": Kind(
        lambda c, s: s.distance(c.at("lead-knee", "impact"), c.at("lead-shoulder", "impact")),
        lambda c: c.truth.distance("lead-knee", "lead-shoulder", c.when("impact")),
        " in",
    ),
    "shift": Kind(
        lambda c, s: s.shift(c.at("navel", "setup"), c.at("navel", "top")),
        lambda c: c.truth.shift("navel", c.when("setup"), c.when("top")),
        " in",
    ),
    "hub": Kind(_circle, _hub, " in", followed=True),
}


def right(view: View, bodies: int, how: dict[str, object], stream: int) -> Iterator[str]:
    """A row a kind: refused, median ± and inside, by one view and by two."""
    found: dict[tuple[str, str], list[Measured | None]] = {}
    inside: dict[tuple[str, str], list[bool]] = {}
    for seed in range(bodies):
        rng = np.random.default_rng([seed, stream])
        body = another_body(rng)
        clip = filmed(body, view, rng, **how)  # type: ignore[arg-type]
        second = filmed(body, OTHER[view], rng, same=SAME, **how)  # type: ignore[arg-type]
        for views, survey in (("one", clip.survey()), ("two", clip.survey(second))):
            for name, kind in KINDS.items():
                if kind.followed and not how.get("followed", FOLLOWED):
                    continue
                number = kind.ask(clip, survey)
                measured = number if isinstance(number, Measured) else None
                found.setdefault((name, views), []).append(measured)
                if measured is not None:
                    held = measured.low <= kind.truth(clip) <= measured.high
                    inside.setdefault((name, views), []).append(held)
    for name, kind in KINDS.items():
        if (name, "one") in found:
            cells = [
                told(found[name, views], inside.get((name, views), []), kind) for views in ("one", "two")
            ]
            yield f"| {view} | {name} | {' | '.join(cells)} |"


def told(found: list[Measured | None], inside: list[bool], kind: Kind) -> str:
    pm = [one.uncertainty / kind.size for one in found if one is not None]
    if not pm:
        return "refused | –"
    refused = len(found) - len(pm)
    more = f", {refused} refused" if refused else ""
    return f"± {np.median(pm):.1f}{kind.unit}{more} | {sum(inside)} of {len(inside)}"


def with_its_depths(clip: Filmed) -> Filmed:
    """The clip with a card that says the true depth of every mark on every picture."""
    depths: dict[str, dict[int, Depth]] = {}
    for seen in clip.observations:
        if seen.mark not in clip.setting.room:
            when = clip.start + (clip.setting.times or ())[seen.frame]
            depths.setdefault(seen.mark, {})[seen.frame] = Depth(clip.truth.depth(seen.mark, when), EXACT)
    return replace(clip, setting=replace(clip.setting, depth=depths))


def floor(view: View, bodies: int, how: dict[str, object]) -> Iterator[str]:
    """A row a kind: median ± where every depth is known, and the part of its variance that clicks bring."""
    found: dict[str, list[Measured]] = {}
    for seed in range(bodies):
        rng = np.random.default_rng([seed, 17])
        clip = with_its_depths(filmed(another_body(rng), view, rng, **{**how, "followed": ()}))  # type: ignore[arg-type]
        survey = clip.survey()
        for name, kind in KINDS.items():
            number = None if kind.followed else kind.ask(clip, survey)
            if isinstance(number, Measured):
                found.setdefault(name, []).append(number)
    for name, numbers in found.items():
        kind = KINDS[name]
        pm = np.median([one.uncertainty / kind.size for one in numbers])
        clicks = np.median([_of_clicks(one) for one in numbers])
        yield f"| {view} | {name} | ± {pm:.1f}{kind.unit} | {100 * clicks:.0f} % |"


def _of_clicks(number: Measured) -> float:
    return sum(share.share for share in number.budget.shares if share.words.startswith("click on"))


def wrong(name: str, bodies: int) -> tuple[int, int, int]:
    """How many wrong second views show, how many of those are refused, and how many are in all."""
    shows = refused = found = 0
    for seed in range(bodies):
        rng = np.random.default_rng([seed, 23])
        body = another_body(rng)
        clip = filmed(body, "face-on", rng, followed=())
        true = filmed(body, "down-the-line", rng, followed=(), same=SAME)
        false = WRONG[name](true, seed)
        best, led = clip.survey(true), clip.survey(false)
        is_refused = led.second_refused is not None
        second = led.scene.second
        assert second is not None
        second.__dict__["refused"] = None  # what would have been printed
        far = any(_far(kind, clip, best, led) for kind in KINDS.values() if not kind.followed)
        shows, refused, found = shows + far, refused + (far and is_refused), found + is_refused
    return shows, refused, found


def _far(kind: Kind, clip: Filmed, best: Survey, led: Survey) -> bool:
    one, other = kind.ask(clip, best), kind.ask(clip, led)
    if not isinstance(one, Measured) or not isinstance(other, Measured):
        return False
    return abs(one.value - other.value) > other.uncertainty


def _another(true: Filmed, seed: int) -> Filmed:
    rng = np.random.default_rng([seed, 99])
    return filmed(another_body(rng), "down-the-line", rng, followed=(), same=SAME)


def _exchanged(first: str, second: str) -> Callable[[Filmed, int], Filmed]:
    """The marks of one instant are those of another."""

    def made(true: Filmed, seed: int) -> Filmed:
        one, other = (true.setting.events[event] for event in (first, second))
        of = {one: other, other: one}
        return replace(
            true,
            observations=tuple(
                replace(seen, frame=of.get(seen.frame, seen.frame)) for seen in true.observations
            ),
        )

    return made


def _longer(by: float) -> Callable[[Filmed, int], Filmed]:
    def made(true: Filmed, seed: int) -> Filmed:
        stick = KnownLength(("stick-top", "stick-foot"), STICK * by, WITHIN_STICK)
        return replace(true, setting=replace(true.setting, scales=(stick,)))

    return made


WRONG: dict[str, Callable[[Filmed, int], Filmed]] = {
    "the right one": lambda true, seed: true,
    "another body's swing": _another,
    "setup and top exchanged": _exchanged("setup", "top"),
    "top and impact exchanged": _exchanged("top", "impact"),
    "a known length 10 % off": _longer(1.1),
    "a known length 30 % off": _longer(1.3),
}


def ask_for_pictures(asked: argparse.ArgumentParser) -> None:
    which = asked.add_mutually_exclusive_group()
    which.add_argument("--upright", action="store_true", help="pictures of 1080 × 1920 px")
    which.add_argument("--large", action="store_true", help="pictures of 2160 × 3840 px")


def pictures(given: argparse.Namespace) -> dict[str, object]:
    return LARGE if given.large else UPRIGHT if given.upright else LANDSCAPE


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--bodies", type=int, default=60)
    asked.add_argument("--stream", type=int, default=17, help="another set of bodies")
    asked.add_argument("--followed", action="store_true", help="also along a motion, which takes far longer")
    ask_for_pictures(asked)
    asked.add_argument("--wrong", action="store_true", help="wrong second views instead")
    asked.add_argument("--floor", action="store_true", help="what is left where every depth is known")
    given = asked.parse_args()
    if given.wrong:
        _print_wrong(given.bodies)
        return
    how: dict[str, object] = dict(pictures(given))
    if not given.followed:
        how["followed"] = ()
    if given.floor:
        print("| view | number | depths known | of clicks |\n| --- | --- | --- | --- |")
        for view in OTHER:
            print("\n".join(floor(view, given.bodies, how)), flush=True)
        return
    print("| view | number | one view | inside | two views | inside |\n| --- | --- | --- | --- | --- | --- |")
    for view in OTHER:
        for row in right(view, given.bodies, how, given.stream):
            print(row, flush=True)


def _print_wrong(bodies: int) -> None:
    print("| second view | shows | of those refused | refused in all |\n| --- | --- | --- | --- |")
    for name in WRONG:
        shows, refused, found = wrong(name, bodies)
        print(f"| {name} | {shows} of {bodies} | {refused} | {found} |", flush=True)


if __name__ == "__main__":
    main()
