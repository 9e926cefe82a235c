"""A ruler on the wall, a camera that looks down, a lens that bends: numbers and lines are put right.

The plane's correction is that of similar triangles: what a camera at D from the golfer shows on a wall at W
looks D / W as large as it would before the golfer.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from lessonpress.records.measure import Measure
from tests.chain.asked import MOVED, STILL
from tests.chain.chain import (
    Asked,
    bodies,
    figure,
    frame,
    holds,
    numbers,
    root_of,
    sight,
    sound,
    told,
    write_lesson,
    write_site,
)
from tests.chain.chance import tries
from tests.chain.lines import UP, astray
from tests.reading import read_and_bind
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import MadeClip, frame_times, make_clip, write_yaml
from tests.studio.room import Room
from tests.studio.swingers import DUNE

GRID = {"grid": ["wall-a", "wall-b", "wall-c", "wall-d"], "size": ["48 in", "36 in"], "within": "0.2 in"}
KINDS = [*STILL, *MOVED]
LENGTHS = [one for one in KINDS if one.id.startswith(("distance", "shift"))]
FOOT = 12 * 0.0254


def filmed_by(root: Path, camera: Camera, card: Mapping[str, Any], room: Room | None = None) -> MadeClip:
    times = frame_times(1.2, 20)
    clip = make_clip(root, DUNE, camera, 20, times=times, card=card, room=room or Room())
    write_lesson(root, "kinds", clip.name, *map(frame, KINDS))
    place(clip, None)
    return clip


def place(clip: MadeClip, seed: int | None) -> None:
    frames = [clip.events[event] for event in ("setup", "top", "impact")]
    sight(clip, dict.fromkeys(bodies(clip), frames), {}, seed)


def with_card(clip: MadeClip, changes: Mapping[str, Any]) -> None:
    path = clip.folder / "clip.yaml"
    write_yaml(path, {**yaml.safe_load(path.read_text(encoding="utf-8")), **changes})


def misses(clip: MadeClip, asked: list[Asked]) -> list[str]:
    found = numbers(root_of(clip), "kinds")
    truths = {one.id: one.truth(clip) for one in asked}
    return [told(found[name], true) for name, true in truths.items() if not holds(found[name], true)]


# a ruler on the wall


@pytest.fixture
def walled(tmp_path: Path) -> MadeClip:
    """A wall 1.6 m behind the golfer carries the only known length; the card knows both distances."""
    camera = looking_at((0.05, 0.92, 0), (0.05, 1.05, 14 * FOOT), Camera(focal=1250.0))
    return filmed_by(write_site(tmp_path), camera, {"scale": [{**GRID, "plane": "wall"}]})


def test_a_wall_scale_with_distances_gives_the_bodys_own_lengths(walled: MadeClip) -> None:
    assert not misses(walled, LENGTHS)


@pytest.mark.parametrize("seed", tries(6))
def test_a_wall_scale_holds_the_truth_with_the_error_of_clicks(walled: MadeClip, seed: int) -> None:
    place(walled, seed)
    found = numbers(root_of(walled), "kinds")
    shift = next(one for one in MOVED if one.id == "shift")
    assert holds(found["shift"], shift.truth(walled)), told(found["shift"], shift.truth(walled))


def test_a_wall_scale_taken_for_the_golfers_own_is_wrong_by_the_ratio_of_distances(walled: MadeClip) -> None:
    """A level shift comes out W / D times too long, 1.37 here, and its ± does not hold the truth."""
    right = numbers(root_of(walled), "kinds")["shift"]
    with_card(walled, {"scale": [{**GRID, "plane": "subject"}]})
    wrong = numbers(root_of(walled), "kinds")["shift"]
    ratio = walled.camera.distance_to(np.array([0, 0, -1.6])) / walled.camera.distance
    assert ratio == pytest.approx(1.375, abs=0.001)
    assert wrong.value is not None and right.value is not None
    assert wrong.value / right.value == pytest.approx(ratio, rel=0.01)
    shift = next(one for one in MOVED if one.id == "shift")
    assert not holds(wrong, shift.truth(walled))


def test_a_wall_scale_without_distances_is_refused_with_the_size_of_the_mistake(walled: MadeClip) -> None:
    """(4 + 1) / 4 = 1.25: a wall 1 m behind a golfer 4 m away makes lengths 25 % too long."""
    with_card(walled, {"camera": {"still": True}})
    reading = read_and_bind(root_of(walled))
    bound = reading.lesson("kinds")
    for one in LENGTHS:
        measure: Measure = bound.measures[one.id]
        assert measure.value is None and measure.refused is not None and measure.way_out is not None
        assert (
            "a wall 1 m behind a golfer 4 m away makes every length of the body 25 % too long"
            in measure.refused
        )
        assert "distance and wall under camera" in measure.way_out
    assert holds(bound.measures["tilt"], next(one for one in STILL if one.id == "tilt").truth(walled))


# pitch and lens

EDGE = "tilt: [wall-c, wall-b]\nas: edge"
STANDING_AT = ("lead-hip", "head", "door-top", "trail-toe")
DOWN = Camera((0.05, 1.35, 4.2672), pitch=6.0, focal=1000.0)
CAMERAS = {
    "looking 6° down": DOWN,
    "looking 6° up": replace(DOWN, pitch=-6.0, position=(0.05, 0.6, 4.2672)),
    "a lens of k1 −0.15": replace(
        looking_at((0.05, 0.92, 0), (0.05, 1.05, 4.2672), Camera(focal=1100.0)), k1=-0.15
    ),
    "both, and rolled": replace(DOWN, k1=-0.15, roll=2.0),
}


@pytest.fixture(scope="session", params=CAMERAS)
def bent(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    root = write_site(tmp_path_factory.mktemp("bent"))
    return filmed_by(root, CAMERAS[request.param], {})


def test_pitched_cameras_and_bending_lenses_keep_the_truth_inside(bent: MadeClip) -> None:
    assert not misses(bent, KINDS)


def test_drawn_verticals_lie_on_the_rooms_own_within_a_pixel(bent: MadeClip) -> None:
    """They converge as the camera looks down or up, and bend with its lens, over the whole picture."""
    lines = [f"vertical: {mark}" for mark in STANDING_AT]
    write_lesson(
        root_of(bent), "lines", bent.name, figure("frame", "lines", "at: setup\ncrop: whole", *lines)
    )
    bound = sound(root_of(bent)).lesson("lines")
    for mark, drawn in zip(STANDING_AT, bound.plates[0].panels[0].drawn, strict=True):
        room = Room().marks
        spot = room[mark] if mark in room else bent.truth.world(mark, bent.seconds("setup"))
        assert astray(drawn, bent.camera, spot, UP) < 1.0, mark
    (root_of(bent) / "lessons" / "lines.md").unlink()


@pytest.mark.parametrize("seed", tries(4))
def test_they_hold_it_with_the_error_of_clicks(bent: MadeClip, seed: int) -> None:
    place(bent, seed)
    shift = next(one for one in MOVED if one.id == "shift")
    tilt = next(one for one in STILL if one.id == "tilt")
    assert not misses(bent, [shift, tilt])


def test_a_plumb_line_at_the_side_takes_pitch_for_roll_and_a_second_one_mends_it(tmp_path: Path) -> None:
    """Where a camera looks 6° down, a plumb line φ off its axis leans by atan(tan φ sin 6°) in the picture.

    That is 1.6° for the cord, 15° to one side, which alone is taken for roll, and 0.6° the other way for the
    upright edge of the taped rectangle, 6° to the other side: their sum is what its tilt comes out as. Its ±
    holds the truth, 0°; with a second plumb line it is 0° itself.
    """
    clip = filmed_by(write_site(tmp_path), DOWN, {"plumb": [["cord-top", "cord-foot"]]})
    write_lesson(root_of(clip), "kinds", clip.name, figure("frame", "wall", "at: setup", EDGE))
    one_line = numbers(root_of(clip), "kinds")["edge"]
    with_card(clip, {"plumb": [["cord-top", "cord-foot"], ["door-top", "door-foot"]]})
    two_lines = numbers(root_of(clip), "kinds")["edge"]
    off = [abs(np.arctan2(clip.px[mark][0][0] - 640, 1000.0)) for mark in ("cord-foot", "wall-c")]
    seen = sum(float(np.degrees(np.arctan(np.tan(phi) * np.sin(np.radians(6))))) for phi in off)
    assert one_line.value is not None and two_lines.value is not None
    assert abs(one_line.value) == pytest.approx(seen, abs=0.15)
    assert holds(one_line, 0.0), told(one_line, 0.0)
    assert abs(two_lines.value) < 0.02
    assert any("pitch 0°" in assumed for assumed in one_line.assumed)
