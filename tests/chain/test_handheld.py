"""A camera in the hand that moves as well as turns: lines stay on the room, shifts keep their ±.

A camera on a stand needs no word on the card: the pictures show that it is still. One that sways does not.

The studio's camera moves 5 cm, turns and rolls by 2° while the swing is filmed, so that the wall drifts by
some 20 px; where the room truly is in each picture is computed from that camera.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pytest

from tests.chain.asked import MOVED
from tests.chain.chain import (
    CLICK_U,
    Points,
    bodies,
    figure,
    filmed,
    frame,
    holds,
    numbers,
    root_of,
    sight,
    sound,
    told,
    write_lesson,
    write_site,
    wrongs,
)
from tests.chain.chance import TIMES, tries
from tests.chain.lines import ACROSS, UP, astray
from tests.reading import read_and_bind
from tests.studio.camera import Camera, Sway, looking_at
from tests.studio.clip import STUDIO_CAMERA, MadeClip, frame_times, make_clip
from tests.studio.room import Room
from tests.studio.swingers import DUNE

SECONDS = 1.13  # to impact and a picture past it


@dataclass(frozen=True)
class Drift(Sway):
    """A hand that carries the camera steadily: `by` m along (r, y, d); `turned`: yaw, pitch, roll in deg."""

    by: tuple[float, float, float] = (0.04, -0.02, 0.022)
    turned: tuple[float, float, float] = (0.5, -0.3, 2.0)

    def at(self, t: float) -> tuple[Points, Points]:
        share = (t / SECONDS) ** 2
        return share * np.array(self.by), share * np.array(self.turned)


@dataclass(frozen=True)
class Pan(Sway):
    """A camera that is turned away within one picture."""

    def at(self, t: float) -> tuple[Points, Points]:
        return np.zeros(3), np.array([70.0 if t > 0.5 else 0.0, 0.0, 0.0])


@pytest.fixture(scope="session")
def handheld(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    root = write_site(tmp_path_factory.mktemp("handheld"))
    camera = replace(STUDIO_CAMERA, sway=Drift())
    clip = make_clip(root, DUNE, camera, times=frame_times(SECONDS, 30), rate=30)
    place(clip, None)
    return clip


def place(clip: MadeClip, seed: int | None) -> None:
    frames = [clip.events[event] for event in ("setup", "top", "impact")]
    sight(clip, dict.fromkeys(bodies(clip), frames), {}, seed)


def on_the_wall(clip: MadeClip, mark: str, t: float) -> Points:
    """Where the sight line through a mark's place in the picture meets wall or floor, view coordinates."""
    camera = clip.camera.at(t)
    start = np.array(camera.position)
    through = Room().marks[mark] if mark in Room().marks else clip.truth.world(mark, t)
    way = through - start
    wall = (-1.6 - start[2]) / way[2]
    floor = -start[1] / way[1] if way[1] < 0 else np.inf
    return np.asarray(start + min(wall, floor) * way)


STANDING = ("door-top", "cord-foot", "wall-b", "trail-hip", "navel", "lead-hip", "head")


def test_the_studio_moves_its_camera_as_asked(handheld: MadeClip) -> None:
    """5 cm, 2° of roll and some 20 px of drift at the picture's middle, for a spot of the wall."""
    first, last = handheld.camera.at(0.0), handheld.camera.at(handheld.seconds("impact"))
    spot = np.array([0.05, 1.0, -1.6])
    assert np.linalg.norm(np.subtract(first.position, last.position)) == pytest.approx(0.05, abs=0.003)
    assert last.roll - first.roll == pytest.approx(2.0, abs=0.15)
    assert 15 <= np.linalg.norm(first.project(spot) - last.project(spot)) <= 25


# px, at the edges: the golfer covers the middle of what shows how the camera moved
ASTRAY = 2.0


@pytest.mark.parametrize("event", ["top", "impact"])
def test_standing_lines_stay_within_two_pixels_of_the_room(handheld: MadeClip, event: str) -> None:
    """Verticals and levels placed at setup lie, later, where camera and wall truly are.

    A line is on what was behind its mark at setup: the room, which does not move.
    """
    root = root_of(handheld)
    lines = [f"{kind}: {mark}\nplaced: setup" for mark in STANDING for kind in ("vertical", "horizontal")]
    write_lesson(root, "lines", handheld.name, figure("frame", "lines", f"at: {event}\ncrop: whole", *lines))
    bound = sound(root).lesson("lines")
    (panel,) = bound.plates[0].panels
    camera, setup = handheld.camera.at(handheld.seconds(event)), handheld.seconds("setup")
    for number, drawn in enumerate(panel.drawn):
        mark = STANDING[number // 2]
        spot = on_the_wall(handheld, mark, setup)
        assert astray(drawn, camera, spot, UP if number % 2 == 0 else ACROSS) < ASTRAY, f"{drawn.kind} {mark}"


@pytest.mark.parametrize("seed", [None, *tries(6)])
def test_shifts_agree_with_the_truth_within_their_uncertainty(handheld: MadeClip, seed: int | None) -> None:
    place(handheld, seed)
    write_lesson(root_of(handheld), "lines", handheld.name, *map(frame, MOVED))
    found = numbers(root_of(handheld), "lines")
    for one in MOVED:
        assert holds(found[one.id], one.truth(handheld)), told(found[one.id], one.truth(handheld))
    place(handheld, None)


def test_what_the_camera_s_own_movement_could_do_is_in_the_budget(handheld: MadeClip) -> None:
    """The wall shows how the camera turned, not how far it moved: sway within 5 cm is an input of its own."""
    write_lesson(root_of(handheld), "lines", handheld.name, *map(frame, MOVED))
    shift = numbers(root_of(handheld), "lines")["shift"]
    assert shift.budget is not None
    assert any("sway" in share.words and share.share > 0.05 for share in shift.budget.shares)
    assert "camera held by hand: sway within 5 cm" in shift.assumed


def unsaid(root: Path, camera: Camera) -> MadeClip:
    """A clip whose card gives the camera's distance alone: no wall, and not that it was still."""
    card = {"camera": {"distance": "14 ft", "within": "6 in"}}
    made = make_clip(
        write_site(root), DUNE, camera, times=frame_times(1.25, 20), rate=20, card=card, noise=2.0
    )
    place(made, None)
    return made


@pytest.fixture(scope="session")
def on_a_stand(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    return unsaid(tmp_path_factory.mktemp("stand"), STUDIO_CAMERA)


def test_film_from_a_stand_gives_its_shifts_without_the_card_s_word(on_a_stand: MadeClip) -> None:
    """At least 92 % of truths lie inside their ±, to two standard deviations of a share of so many.

    Of the fifteen of a routine run three may lie outside, of thirty five.
    """
    write_lesson(root_of(on_a_stand), "lines", on_a_stand.name, *map(frame, MOVED))
    held = []
    for seed in tries(10):
        place(on_a_stand, seed)
        found = numbers(root_of(on_a_stand), "lines")
        held += [holds(found[one.id], one.truth(on_a_stand)) for one in MOVED]
    assert sum(held) / len(held) >= 0.92 - 2 * math.sqrt(0.92 * 0.08 / len(held)), held


def test_how_well_the_pictures_show_that_it_was_still_is_in_the_budget_and_no_sway(
    on_a_stand: MadeClip,
) -> None:
    place(on_a_stand, None)
    write_lesson(root_of(on_a_stand), "lines", on_a_stand.name, *map(frame, MOVED))
    shift = numbers(root_of(on_a_stand), "lines")["shift"]
    assert shift.budget is not None
    words = [share.words for share in shift.budget.shares]
    assert not any("sway" in one for one in words)
    survey = filmed(root_of(on_a_stand), on_a_stand.name).survey
    slips = [slip.u for at in shift.frames for slip in survey.scene.observations.slips(at)]
    assert max(slips) > 0 and all(u < 0.5 for u in slips)


# m of sway to one side that shifts the golfer against the wall by as much as a click may be off, from similar
# triangles: focal length × sway × (1/distance − 1/wall)
MATTERS = CLICK_U * 720 / (1250 * (1 / 4.267 - 1 / 5.867))


@dataclass(frozen=True)
class Aside(Sway):
    """A hand that carries the camera aside; with `back` it turns so that the wall's middle stays in place."""

    by: float = MATTERS
    back: bool = False

    def at(self, t: float) -> tuple[Points, Points]:
        moved = self.by * (t / SECONDS) ** 2
        yaw = -np.degrees(np.arctan(moved / 5.867)) if self.back else 0.0
        return np.array([moved, 0.0, 0.0]), np.array([yaw, 0.0, 0.0])


# a routine run leaves out the larger sway, which is seen more easily
@pytest.mark.parametrize("part", [1.0, 0.5] if TIMES >= 1 else [0.5])
@pytest.mark.parametrize("way", ["aside", "turned back", "every way"])
def test_a_sway_that_matters_and_half_of_it_do_not_pass_for_a_stand(
    tmp_path: Path, way: str, part: float
) -> None:
    """The card says nothing of the wall, so that a shift of such film has to be refused."""
    sways = {
        "aside": Aside(by=part * MATTERS),
        "turned back": Aside(by=part * MATTERS, back=True),
        "every way": Sway(metres=part * MATTERS, degrees=0.0),
    }
    made = unsaid(tmp_path, replace(STUDIO_CAMERA, sway=sways[way]))
    write_lesson(root_of(made), "lines", made.name, *map(frame, MOVED[:1]))
    shift = numbers(root_of(made), "lines")["shift"]
    assert shift.refused is not None and "held by hand" in shift.refused


def test_a_pan_that_cannot_be_registered_is_an_error_where_a_line_needs_it(tmp_path: Path) -> None:
    """Two pictures that share nothing of the room: the line is refused, at its place in the lesson."""
    root = write_site(tmp_path)
    small = looking_at((0.05, 0.92, 0), (0.05, 1.05, 4.2672), Camera(focal=625.0, size=(640, 360)))
    clip = make_clip(
        root, DUNE, replace(small, sway=Pan()), times=frame_times(1.25, 20), rate=20, at=("setup",)
    )
    before = figure("frame", "before", "at: setup", "vertical: navel", "vertical: door-top")
    after = figure("frame", "after", "at: top\ncrop: whole", "vertical: door-top\nplaced: setup")
    write_lesson(root, "pan", clip.name, before, after)
    reading = read_and_bind(root)
    assert len(reading.problems.errors) == 1, wrongs(reading.problems)
    (error,) = reading.problems.errors
    text = (root / "lessons" / "pan.md").read_text(encoding="utf-8").splitlines()
    assert (
        error.location.path == "lessons/pan.md" and text[error.location.line - 1] == "  - vertical: door-top"
    )
    assert error.location.line > text.index("id: after")
    assert f"frame {clip.events['top']} of {clip.name} cannot be laid on the room" in error.wrong
    assert error.right
