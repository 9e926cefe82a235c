"""What a remedy promises comes true when it is carried out.

Each row measures a drawn clip as it is, takes the ± that its remedy promises, and measures the same clip
again with the remedy carried out on its card or film. The two agree within TOLERANCE: a remedy cannot know
how long a plumb line will be or how far apart two are, and counts on little.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from uncertainties import ufloat

from lessonpress.measure import At, Camera, Depth, Measured, Survey
from lessonpress.measure.numbers.units import in_units
from lessonpress.measure.remedies import LINE_U, larger, narrower
from lessonpress.measure.uncertainty.propagation import FirstOrder
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.records import View
from tests.bench.second_view import LANDSCAPE, UPRIGHT
from tests.measure.clips import Clip, InTheHand, NoPlumbLine, OnACircle
from tests.measure.twoviews import Filmed, filmed
from tests.studio.swingers import DUNE

TOLERANCE = 0.12
DRAWN = 0.25  # by how much more a number narrows that was drawn
Asked = Callable[[Survey], object]


class NoLines(NoPlumbLine):
    """Nothing on the card hangs upright, though two posts do."""

    def put_room(self) -> None:
        super().put_room()
        self.put_door("post", 1.4)


class WithBall(Clip):
    """The plain clip with a ball on its tee."""

    def put_golfer(self) -> None:
        super().put_golfer()
        self.room.put("ball", 0, 0.3, -1.1, self.depth("ball"))


class ByHand(OnACircle):
    """Every place of the wrist placed by hand."""

    def put_golfer(self) -> None:
        super().put_golfer()
        self.room.carried_from.clear()


def tilt(survey: Survey) -> object:
    return survey.tilt(At("navel", 0), At("c7", 0))


def height(survey: Survey) -> object:
    return survey.distance(At("lead-knee", 0), At("head", 0), "plumb")


def shift(survey: Survey) -> object:
    return survey.shift(At("navel", 0), At("navel", 9))


def below(survey: Survey) -> object:
    return survey.distance(At("lead-ankle", 0), At("ball", 0), "plumb")


def speed(survey: Survey) -> object:
    return survey.speed(At("lead-wrist", 12))


@dataclass(frozen=True)
class Promise:
    """asked: the number. before, after: keys of the setting. as_if: the clip measured after, if another.

    within: how nearly it comes true; what leaves nothing to guess does so nearly.
    """

    words: str
    asked: Asked
    kind: type[Clip]
    before: dict[str, Any]
    after: dict[str, Any]
    as_if: type[Clip] | None = None
    within: float = TOLERANCE


ONE_LINE = (("door-top", "door-foot"),)
TWO_LINES = (*ONE_LINE, ("post-foot", "post-top"))
TAPED = Camera(4.3, 0.0508, still=True)
FROM_THE_FILM = Depth(0.05, 0.0762)
PROMISES = [
    Promise("a plumb line", tilt, NoPlumbLine, {}, {"plumb": ONE_LINE}),
    Promise("two plumb lines, one near each side of the picture", tilt, NoLines, {}, {"plumb": TWO_LINES}),
    Promise("the stature on the card", below, WithBall, {"stature": None}, {"stature": 1.80}),
    Promise(
        "the camera's distance on the card, good to 2 in",
        height,
        Clip,
        {"camera": Camera(still=True)},
        {"camera": TAPED},
    ),
    Promise(
        "the depth of navel on the card, good to 3 in",
        tilt,
        Clip,
        {},
        {"depth": {"navel": {0: FROM_THE_FILM}}},
    ),
    Promise("a camera on a tripod", shift, InTheHand, {}, {"motion": None, "camera": TAPED}, Clip),
    Promise("a shutter of 1/2000 s, stated on the card", speed, ByHand, {}, {"shutter": 0.0005}),
]


def measured(promise: Promise, kind: type[Clip], changes: dict[str, Any]) -> Measured:
    clip = kind(np.random.default_rng(3))
    found = promise.asked(Survey(replace(clip.setting(), **changes), clip.room.sighted()))
    assert isinstance(found, Measured), str(found)
    return found


@pytest.mark.parametrize("promise", PROMISES, ids=[promise.words for promise in PROMISES])
def test_a_promise_comes_true_when_its_remedy_is_carried_out(promise: Promise) -> None:
    now = measured(promise, promise.kind, promise.before)
    promised = {in_units(one.words, "in"): one.uncertainty for one in now.narrower}
    after = measured(promise, promise.as_if or promise.kind, {**promise.before, **promise.after})
    assert promise.words in promised, promised
    least = 1 - (promise.within if now.k else DRAWN)
    assert least <= after.uncertainty / promised[promise.words] <= 1 + promise.within
    assert after.uncertainty < now.uncertainty


def bent(clip: Filmed, survey: Survey) -> object:
    return survey.angle(*(clip.at(mark, "impact") for mark in ("lead-hip", "lead-knee", "lead-ankle")))


def leaning(clip: Filmed, survey: Survey) -> object:
    return survey.tilt(clip.at("navel", "impact"), clip.at("c7", "impact"))


def travelled(clip: Filmed, survey: Survey) -> object:
    return survey.shift(clip.at("lead-hip", "setup"), clip.at("lead-hip", "top"))


@pytest.mark.parametrize("ask", [bent, leaning, travelled])
@pytest.mark.parametrize(
    ("views", "words"),
    [
        (("face-on", "down-the-line"), "the same swing filmed down the line at once"),
        (("down-the-line", "face-on"), "the same swing filmed face-on at once"),
    ],
)
def test_a_second_view_narrows_as_promised(
    ask: Callable[[Filmed, Survey], object], views: tuple[View, View], words: str
) -> None:
    """Where it is not promised it narrows by little."""
    rng = np.random.default_rng(8)
    clip, second = (filmed(DUNE, view, rng, followed=()) for view in views)
    now, after = ask(clip, clip.survey()), ask(clip, clip.survey(second))
    assert isinstance(now, Measured) and isinstance(after, Measured)
    promised = {one.words: one.uncertainty for one in now.narrower}.get(words, now.uncertainty)
    least = 1 - (TOLERANCE if now.k else DRAWN)
    assert least <= after.uncertainty / promised <= 1 + TOLERANCE, now.uncertainty
    assert not {words} & {one.words for one in after.narrower}


FILLING_WORDS = "the golfer filling the picture"
UPRIGHT_WORDS = "the camera held upright, so that the golfer fills the picture"
HALF_WORDS = "the golfer half as large again in the picture"


@pytest.mark.parametrize("ask", [leaning, travelled])
@pytest.mark.parametrize("view", ["face-on", "down-the-line"])
def test_a_camera_held_upright_narrows_as_promised(
    ask: Callable[[Filmed, Survey], object], view: View
) -> None:
    """Where a swing fills an upright picture already it is promised no more."""
    lying, standing = (
        filmed(DUNE, view, np.random.default_rng(8), followed=(), **how)  # type: ignore[arg-type]
        for how in (LANDSCAPE, UPRIGHT)
    )
    now, after = ask(lying, lying.survey()), ask(standing, standing.survey())
    assert isinstance(now, Measured) and isinstance(after, Measured)
    promised = {one.words: one.uncertainty for one in now.narrower}[UPRIGHT_WORDS]
    assert 1 - TOLERANCE <= after.uncertainty / promised <= 1 + TOLERANCE, now.uncertainty
    assert promised < now.uncertainty
    assert not {UPRIGHT_WORDS, HALF_WORDS, FILLING_WORDS} & {one.words for one in after.narrower}


def test_a_small_golfer_in_an_upright_picture_is_to_fill_it() -> None:
    small = {"size": (1080, 1920), "fill": 300.0}
    clip = filmed(DUNE, "face-on", np.random.default_rng(8), followed=(), **small)  # type: ignore[arg-type]
    now = leaning(clip, clip.survey())
    assert isinstance(now, Measured)
    promised = {one.words: one.uncertainty for one in now.narrower}
    assert promised[FILLING_WORDS] < 0.8 * now.uncertainty


def test_a_clubhead_that_is_followed_is_not_to_leave_the_picture() -> None:
    """On its way down it goes farther to the sides than an upright picture shows."""
    followed = filmed(DUNE, "face-on", np.random.default_rng(8), followed=("implement-head",))
    impact = followed.setting.events["impact"]
    found = followed.survey().path("implement-head", impact - 30, impact)
    assert isinstance(found, Measured)
    assert UPRIGHT_WORDS not in {one.words for one in found.narrower}


def test_a_larger_golfer_is_promised_no_more_than_an_eye_can_define() -> None:
    """U' = U √(1 − (1 − (u'/u)²)), worked by hand: of one click of 2 px no less than 1.5 px is left."""
    click = Quantity("clip/click/navel/0/x", "", 0, 2.0, "px", least=1.5)
    estimate = FirstOrder(0.0, {click: 1.0}, ufloat(0.0, 2.0))
    promised = {
        one.words: one.uncertainty for one in narrower(estimate, 4.0, larger=larger((1280, 720), 100.0))
    }
    assert promised[UPRIGHT_WORDS] == pytest.approx(4.0 * 1.5 / 2.0)


def test_in_a_picture_that_is_nearly_square_a_swing_is_to_fit_in_height() -> None:
    """720 × 800 px at 277 px a metre show 2.6 m across and 2.9 m in height, of which 2.4 m are wanted."""
    click = Quantity("clip/click/navel/0/x", "", 0, 2.0, "px")
    estimate = FirstOrder(0.0, {click: 1.0}, ufloat(0.0, 2.0))
    (found,) = narrower(estimate, 4.0, larger=larger((720, 800), 277.0))
    assert (found.words, found.uncertainty) == (FILLING_WORDS, pytest.approx(4.0 * 2.4 * 277 / 800))


def test_a_golfer_whose_size_is_not_known_may_be_half_as_large_again() -> None:
    click = Quantity("clip/click/navel/0/x", "", 0, 2.0, "px")
    found = narrower(FirstOrder(0.0, {click: 1.0}, ufloat(0.0, 2.0)), 4.0, larger=larger((1280, 720)))
    assert [(one.words, one.uncertainty) for one in found] == [(HALF_WORDS, pytest.approx(4.0 / 1.5))]


@pytest.mark.parametrize("ask", [leaning, travelled])
def test_another_swing_narrows_at_least_as_promised(ask: Callable[[Filmed, Survey], object]) -> None:
    """It is promised less than the same swing is, and by one depth for all marks, the worst of the body."""
    rng = np.random.default_rng(8)
    clip, other = (filmed(DUNE, view, rng, followed=()) for view in ("down-the-line", "face-on"))
    now, after = ask(clip, clip.survey()), ask(clip, clip.survey(swings=[other.named("other")]))
    assert isinstance(now, Measured) and isinstance(after, Measured)
    promised = {one.words: one.uncertainty for one in now.narrower}
    like, same = promised["another swing filmed face-on"], promised["the same swing filmed face-on at once"]
    assert same < like < now.uncertainty
    assert 0.8 * like < after.uncertainty < (1 + TOLERANCE) * like
    assert "another swing filmed face-on" not in {one.words for one in after.narrower}


@pytest.mark.parametrize(
    "marks",
    [("lead-shoulder", "lead-wrist", "implement-head"), ("trail-elbow", "trail-wrist", "implement-head")],
)
def test_the_length_of_the_club_narrows_at_least_as_promised(marks: tuple[str, ...]) -> None:
    """How much shorter a club is seen is not known before: less is promised than mostly comes true."""
    clip = filmed(DUNE, "face-on", np.random.default_rng(8), followed=(), club_u=0.0)
    without = replace(clip, setting=replace(clip.setting, implement_length=None))
    now, after = (one.survey().angle(*(one.at(mark, "top") for mark in marks)) for one in (without, clip))
    assert isinstance(now, Measured) and isinstance(after, Measured)
    words = "the length of the club on the card, and its grip marked"
    promised = {one.words: one.uncertainty for one in now.narrower}[words]
    assert 0.7 * promised < after.uncertainty < (1 + TOLERANCE) * promised
    assert promised < now.uncertainty
    assert words not in {one.words for one in after.narrower}


def test_the_length_of_the_club_is_worth_nothing_to_a_clubhead_alone() -> None:
    clip = filmed(DUNE, "face-on", np.random.default_rng(8), followed=())
    went = clip.survey().shift(clip.at("implement-head", "setup"), clip.at("implement-head", "top"))
    assert isinstance(went, Measured)
    assert not any("the length of the club" in one.words for one in went.narrower)


def test_first_order_promises_what_the_budget_says() -> None:
    """U' = U √(1 − Σ share (1 − (u'/u)²)), worked by hand: shares ¾ and ¼, the first bettered to u/2."""
    roll, click = (
        Quantity("clip/roll", "roll", 0, 2 * LINE_U, "rad"),
        Quantity("clip/click/a/0/x", "", 0, 1, "px"),
    )
    estimate = FirstOrder(0.0, {roll: math.sqrt(3) / (2 * LINE_U), click: 1.0}, ufloat(0.0, 2.0))
    found = {one.words: one.uncertainty for one in narrower(estimate, 4.0)}
    assert found["a plumb line"] == pytest.approx(4 * math.sqrt(1 - 0.75 * 0.75))


def test_shares_that_are_not_those_of_the_printed_number_promise_nothing() -> None:
    roll = Quantity("clip/roll", "roll", 0, 1.0, "rad")
    assert not narrower(FirstOrder(0.0, {roll: 1.0}, ufloat(0.0, 1.0)), 4.0)
