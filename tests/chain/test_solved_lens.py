"""A lens of which nothing is known but straight things in the room: solved, and put right in every number.

The film is drawn through a lens of k1 −0.15 (the studio's camera, after Brown 1971), the card has no
coefficients and no focal length, only the crossings of the tape lines on the wall.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import yaml
from click.testing import CliRunner

from lessonpress.cli.commands import lessonpress
from lessonpress.records.measure import Measure
from tests.chain.asked import MOVED, STILL
from tests.chain.chain import (
    Asked,
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
)
from tests.chain.chance import tries
from tests.chain.lines import UP, astray
from tests.reading import read_and_bind
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import MadeClip, frame_times, make_clip, write_yaml
from tests.studio.room import INCH, Room
from tests.studio.swingers import DUNE

K1, FOCAL = -0.15, 700.0
WALL = 1.6  # m behind the golfer
COLUMNS = [-4.2 + 12 * INCH * k for k in (6, 9, 12, 15, 18, 21)]  # m, tape lines painted on the wall
ROWS = [12 * INCH * k for k in (8, 5, 1)]
NAMES = [[f"wall-{row}-{column}" for column in range(len(COLUMNS))] for row in range(len(ROWS))]
KINDS = [*STILL, *MOVED]


def written(clip: MadeClip, lens: object) -> None:
    """The card with this lens, or none."""
    path = clip.folder / "clip.yaml"
    card = yaml.safe_load(path.read_text(encoding="utf-8"))
    card["lens"] = lens
    card["room"] = [*Room(wall=WALL).marks, *(name for row in NAMES for name in row)]
    write_yaml(path, {key: value for key, value in card.items() if value is not None})


def place(clip: MadeClip, seed: int | None) -> None:
    frames = [clip.events[event] for event in ("setup", "top", "impact")]
    sight(clip, dict.fromkeys(bodies(clip), frames), {}, seed)


@pytest.fixture(scope="module")
def wide(tmp_path_factory: pytest.TempPathFactory) -> MadeClip:
    """Filmed from 9 ft by a wide lens, the golfer to the left of the picture."""
    camera = looking_at((0.75, 0.92, 0), (0.75, 1.05, 2.75), Camera(focal=FOCAL))
    root = write_site(tmp_path_factory.mktemp("wide"))
    clip = make_clip(root, DUNE, replace(camera, k1=K1), 20, times=frame_times(1.2, 20), room=Room(wall=WALL))
    for names, y in zip(NAMES, ROWS, strict=True):
        for name, x in zip(names, COLUMNS, strict=True):
            clip.px[name] = np.tile(clip.camera.project(np.array([x, y, -WALL])), (len(clip.times), 1))
    write_lesson(root, "kinds", clip.name, *map(frame, KINDS))
    written(clip, {"grid": NAMES})
    place(clip, None)
    return clip


def misses(clip: MadeClip, asked: list[Asked]) -> list[str]:
    found = numbers(root_of(clip), "kinds")
    truths = {one.id: one.truth(clip) for one in asked}
    return [told(found[name], true) for name, true in truths.items() if not holds(found[name], true)]


def test_numbers_hold_the_truth_with_straight_lines_alone(wide: MadeClip) -> None:
    place(wide, None)
    assert not misses(wide, KINDS)
    solved = filmed(root_of(wide), wide.name).survey.lens
    assert solved is not None and not solved.stated
    assert solved.k1 / solved.focal**2 == pytest.approx(K1 / FOCAL**2, rel=0.01)
    assert solved.residual < 0.1


@pytest.mark.parametrize("seed", tries(3))
def test_they_hold_it_with_the_error_of_clicks(wide: MadeClip, seed: int) -> None:
    place(wide, seed)
    assert not misses(wide, [one for one in KINDS if one.id in ("tilt", "angle", "shift")])


def test_without_the_lines_a_height_in_the_picture_is_wrong(wide: MadeClip) -> None:
    """The same marks through a lens that is taken for one that does not bend."""
    place(wide, None)
    written(wide, None)
    wrong = misses(wide, KINDS)
    written(wide, {"grid": NAMES})
    assert "distance-plumb" in {words.partition(":")[0] for words in wrong}


def test_drawn_verticals_bend_with_the_picture(wide: MadeClip) -> None:
    """Within a pixel and a half of the room's own, over the whole picture."""
    place(wide, None)
    marks = ("lead-hip", "head", "door-top")
    lines = [f"vertical: {mark}" for mark in marks]
    write_lesson(
        root_of(wide), "lines", wide.name, figure("frame", "lines", "at: setup\ncrop: whole", *lines)
    )
    bound = sound(root_of(wide)).lesson("lines")
    for mark, drawn in zip(marks, bound.plates[0].panels[0].drawn, strict=True):
        room = Room(wall=WALL).marks
        spot = room[mark] if mark in room else wide.truth.world(mark, wide.seconds("setup"))
        assert astray(drawn, wide.camera, spot, UP) < 1.5, mark
    (root_of(wide) / "lessons" / "lines.md").unlink()


def test_the_ledger_gives_the_coefficient_and_by_how_much_marks_miss_their_lines(wide: MadeClip) -> None:
    place(wide, 1)
    args = ["measure", "kinds", "--site", str(root_of(wide))]
    said = CliRunner().invoke(lessonpress, args).output
    line = next(line for line in said.splitlines() if "lens:" in line)
    assert f"{wide.name}, lens: k1 −" in line
    assert (
        "at a focal length of 1152 px, assumed, from 9 straight lines of 18 marks, which miss them by" in line
    )


def test_a_crossing_marked_off_its_lines_is_a_warning(wide: MadeClip) -> None:
    place(wide, None)
    marks = wide.folder / "marks.yaml"
    x, y = wide.px["wall-1-2"][0]
    text = marks.read_text(encoding="utf-8")
    marks.write_text(text.replace(f"[{x:.2f}, {y:.2f}]", f"[{x:.2f}, {y + 15:.2f}]"), encoding="utf-8")
    warnings = [problem.wrong for problem in read_and_bind(root_of(wide)).problems.collected]
    told_of = [words for words in warnings if "straight line" in words]
    assert len(told_of) == 1 and told_of[0].startswith("wall-1-0, wall-1-1, wall-1-2")


def test_lines_that_do_not_give_the_bending_refuse_the_numbers(wide: MadeClip) -> None:
    place(wide, None)
    written(wide, {"straight": [NAMES[1][2:5]]})
    reading = read_and_bind(root_of(wide))
    written(wide, {"grid": NAMES})
    bound = reading.lesson("kinds")
    measure: Measure = bound.measures["tilt"]
    assert measure.refused is not None and "do not tell how the lens bends" in measure.refused
    assert measure.way_out is not None and "near the picture's edges" in measure.way_out
