"""Drawn clips for the coverage tests: a golfer in a room, every input drawn from its stated uncertainty.

Each clip differs from the plain one in what its card says and how it was filmed; all of what is not known is
drawn anew for every repeat.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import cv2
import numpy as np

from lessonpress.measure import (
    Camera,
    Depth,
    KnownLength,
    Lens,
    Motion,
    Setting,
    Standing,
    Survey,
    WallGrid,
)
from lessonpress.measure.body.depths import BODY_BENDS_IN, DOUBLE_BEND
from lessonpress.measure.body.posture import posture
from lessonpress.records.view import View
from tests.measure.studio import SIZE, Room, TrueCamera, rectangular

STATURE, STATURE_U = 1.80, 0.02
DISTANCE, WITHIN = 4.30, 0.15
WALL, WALL_WITHIN = 6.0, 0.2
IMPACT = 30  # after every frame here
STICK, STICK_WITHIN = 0.9144, 0.0025
# mark and frame -> level and up from the axis, m: a golfer drawn for this test, beside the picture's middle
GOLFER: dict[tuple[str, int], tuple[float, float]] = {
    ("navel", 0): (0.25, -0.25),
    ("c7", 0): (0.15, 0.20),
    ("head", 0): (0.12, 0.40),
    ("lead-hip", 0): (0.40, -0.30),
    ("trail-hip", 0): (0.10, -0.28),
    ("lead-knee", 0): (0.45, -0.70),
    ("trail-knee", 0): (0.05, -0.68),
    ("lead-ankle", 0): (0.55, -1.05),
    ("trail-ankle", 0): (-0.05, -1.05),
    ("lead-shoulder", 0): (0.32, 0.15),
    ("trail-shoulder", 0): (-0.02, 0.12),
    ("lead-elbow", 0): (0.36, -0.12),
    ("trail-elbow", 0): (0.05, -0.15),
    ("lead-wrist", 0): (0.32, -0.36),
    ("trail-wrist", 0): (0.30, -0.35),
    ("navel", 9): (0.14, -0.26),
    ("implement-head", 9): (-0.75, 0.85),
    ("trail-wrist", 9): (-0.20, 0.25),
    ("trail-elbow", 9): (-0.22, 0.00),
}


class Clip:
    """The plain clip: face-on, still, one plumb line, a stick in the subject plane."""

    view: View = "face-on"
    roll_u, pitch_u = 2.0, 3.0  # deg

    def __init__(self, generator: np.random.Generator) -> None:
        self.generator = generator
        self.stature = generator.normal(STATURE, STATURE_U)
        self.room = Room(self.camera(), generator)
        self.shared: dict[str, float] = {}
        self.put_room()
        self.put_golfer()

    def camera(self) -> TrueCamera:
        """Held as well as may be; the lens is chosen so that the golfer fills the picture."""
        distance = self.distance()
        roll, pitch = self.generator.normal(0, self.roll_u), self.generator.normal(0, self.pitch_u)
        return TrueCamera(math.radians(roll), math.radians(pitch), 325 * distance, distance)

    def distance(self) -> float:
        return rectangular(self.generator, DISTANCE, WITHIN)

    def put_room(self) -> None:
        self.put_stick()
        self.put_door("door", -1.2)

    def put_stick(self) -> None:
        length = rectangular(self.generator, STICK, STICK_WITHIN)
        self.room.put("stick-foot", 0, 0.9, -1.1)
        self.room.put("stick-top", 0, 0.9 + 0.1 * length, -1.1 + math.sqrt(0.99) * length)

    def put_door(self, name: str, x: float) -> None:
        lean = math.radians(self.generator.normal(0, 0.3))
        self.room.put(f"{name}-foot", 0, x, -1.0, -0.8)
        self.room.put(f"{name}-top", 0, x + 2.0 * math.tan(lean), 1.0, -0.8)

    def put_golfer(self) -> None:
        for (mark, frame), (x, y) in GOLFER.items():
            self.room.put(mark, frame, x, y, self.depth(mark) + self.own_depth(mark))

    def depth(self, mark: str) -> float:
        """What a mark's depth is in all frames: the posture's for this stature, and this golfer's own."""
        row = posture(mark, self.view)
        if mark not in self.shared:
            self.shared[mark] = self.generator.normal(0, row.shared * STATURE)
        return row.depth * self.stature + self.shared[mark]

    def own_depth(self, mark: str) -> float:
        return float(self.generator.normal(0, posture(mark, self.view).per_frame * STATURE))

    def setting(self) -> Setting:
        """The card."""
        return Setting(
            "drawn",
            SIZE,
            view=self.view,
            target_right=1,
            impact=IMPACT,
            camera=Camera(DISTANCE, WITHIN, still=True),
            plumb=(("door-top", "door-foot"),),
            scales=(KnownLength(("stick-top", "stick-foot"), STICK, STICK_WITHIN),),
            stature=STATURE,
            room=frozenset(mark for mark, _ in self.room.true if mark.split("-")[0] in ROOM_NAMES),
            middles={"pelvis": ("lead-hip", "trail-hip")},
        )

    def survey(self) -> Survey:
        """Depths are drawn mark by mark, so that no forearm has a length: `test_limbs.py` draws bodies."""
        survey = Survey(self.setting(), self.room.sighted())
        survey.scene.limbs.linked = lambda ats: {}  # type: ignore[method-assign]
        return survey

    def true(self, mark: str, frame: int) -> np.ndarray:
        """The orthographic truth: level and up, m."""
        if mark == "pelvis":
            return (self.true("lead-hip", frame) + self.true("trail-hip", frame)) / 2
        return np.array(self.room.true[mark, frame][:2])


ROOM_NAMES = ("stick", "door", "post", "wall")


class AlongTheLine(Clip):
    """Down the line: lead marks lie behind the plane, trail marks before it."""

    view: View = "down-the-line"


class StanceEndOn(AlongTheLine):
    """One ankle is behind the other: seen down the line they are no distance apart."""

    def put_golfer(self) -> None:
        for mark in ("lead-ankle", "trail-ankle"):
            self.room.put(mark, 0, 0.05, -1.05, self.depth(mark) + self.own_depth(mark))


class UnstatedDistance(Clip):
    """The card does not say how far away the camera was."""

    def distance(self) -> float:
        return max(float(self.generator.normal(4.0, 1.0)), 1.5)

    def setting(self) -> Setting:
        return replace(super().setting(), camera=Camera(still=True))


class NoPlumbLine(Clip):
    """Nothing in the room hangs or stands upright."""

    def setting(self) -> Setting:
        return replace(super().setting(), plumb=())


class TwoPlumbLines(Clip):
    """A camera that looks well up or down, and two plumb lines that give its pitch away."""

    pitch_u = 7.0

    def put_room(self) -> None:
        super().put_room()
        self.put_door("post", 1.4)

    def setting(self) -> Setting:
        return replace(super().setting(), plumb=(("door-top", "door-foot"), ("post-foot", "post-top")))


class OnTheWall(Clip):
    """The only scale is a grid on the wall, carried to the golfer by the camera's distances."""

    def put_room(self) -> None:
        self.put_door("door", -1.2)
        self.wall = rectangular(self.generator, WALL, WALL_WITHIN)
        width = rectangular(self.generator, 1.2, 0.005)
        height = rectangular(self.generator, 0.9, 0.005)
        depth = self.room.camera.distance - self.wall
        for mark, x, y in (
            ("wall-a", 0, height),
            ("wall-b", width, height),
            ("wall-c", width, 0),
            ("wall-d", 0, 0),
        ):
            self.room.put(mark, 0, x - 0.5, y - 0.2, depth)

    def setting(self) -> Setting:
        grid = WallGrid(("wall-a", "wall-b", "wall-c", "wall-d"), (1.2, 0.9), 0.005)
        camera = Camera(DISTANCE, WITHIN, WALL, WALL_WITHIN, still=True)
        return replace(super().setting(), scales=(grid,), camera=camera)


class SeveralScales(Clip):
    """A short length before the golfer, the standing golfer, and the stick, weighed together."""

    def put_room(self) -> None:
        super().put_room()
        length = rectangular(self.generator, 0.30, 0.002)
        depth = rectangular(self.generator, 0.75, 0.08)
        self.room.put("mat-left", 0, -0.3, -1.05, depth)
        self.room.put("mat-right", 0, -0.3 + length, -1.05, depth)
        upright = [self.generator.normal(0, 0.04) for _ in range(2)]
        self.room.put("crown", 5, 0.2, -1.1 + self.stature, upright[0])
        self.room.put("lead-heel", 5, 0.2, -1.1, upright[1])

    def setting(self) -> Setting:
        mat = KnownLength(("mat-left", "mat-right"), 0.30, 0.002, depth=Depth(0.75, 0.08))
        standing = Standing(("crown", "lead-heel"), 5)
        return replace(super().setting(), scales=(mat, standing, *super().setting().scales))


class KnownLens(Clip):
    """A lens whose bending and focal length the card gives; the focal length to 2 %."""

    k1, k2 = -0.12, 0.02

    def camera(self) -> TrueCamera:
        camera = super().camera()
        camera.k1, camera.k2 = self.k1, self.k2
        self.stated_focal = camera.focal / (1 + self.generator.normal(0, 0.02))
        return camera

    def setting(self) -> Setting:
        lens = Lens(self.k1, self.k2, self.room.camera.focal)
        return replace(super().setting(), lens=lens)


class InTheHand(Clip):
    """Frame 9 was filmed by a camera that had turned and swayed; the wall shows how it turned."""

    residual = 0.4  # px

    def __init__(self, generator: np.random.Generator) -> None:
        super().__init__(generator)
        first = self.room.camera
        self.wall = rectangular(generator, WALL, WALL_WITHIN)
        sway = tuple(float(generator.uniform(-0.05, 0.05)) for _ in range(3))
        turn = [math.radians(generator.normal(0, 1)) for _ in range(3)]
        later = replace(first, roll=first.roll + turn[0], pitch=first.pitch + turn[1], yaw=turn[2], sway=sway)
        self.room.moved[9] = later
        depth = first.distance - self.wall
        corners = [(x, y + self.room.aim, depth) for x, y in ((-2, 1), (2, 1), (2, -1), (-2, -1))]
        carry = cv2.getPerspectiveTransform(
            later.project(corners).astype(np.float32), first.project(corners).astype(np.float32)
        )
        slip = np.eye(3)
        slip[:2, 2] = generator.normal(0, self.residual, 2)
        self.motion = Motion(
            np.stack([*[np.eye(3)] * 9, slip @ carry]), np.array([0.0] * 9 + [self.residual])
        )

    def setting(self) -> Setting:
        camera = Camera(DISTANCE, WITHIN, WALL, WALL_WITHIN)
        return replace(super().setting(), camera=camera, motion=self.motion)


class OnACircle(Clip):
    """The lead wrist goes round c7's neighbourhood, tracked over frames 0 to 23 at 240 pictures a second."""

    frames = 24
    rate = 240.0
    centre, radius = (0.05, 0.05), 0.60
    first, turned = math.radians(200), math.radians(-200)
    readout_u = 1 / 240

    def put_golfer(self) -> None:
        self.room.put("c7", 12, 0.18, 0.28, self.depth("c7") + self.own_depth("c7"))
        self.room.carried_from["lead-wrist"] = 0
        depths = self.depths()
        readout = float(self.generator.uniform(0, self.readout_u))
        for frame in range(self.frames):
            depth = depths[frame]
            late = 0.0
            for _ in range(4):  # a row is read when the mark is where that row shows it
                x, y = self.at(frame + late)
                self.room.put("lead-wrist", frame, x, y, depth)
                row = self.room.camera.project([self.room.true["lead-wrist", frame]])[0][1]
                late = readout * self.rate * row / SIZE[1]

    def depths(self) -> np.ndarray:
        """The wrist's depth on every frame: its own at both ends, and bent between."""
        common, ends = self.depth("lead-wrist"), [self.own_depth("lead-wrist") for _ in range(2)]
        return common + np.linspace(*ends, self.frames) + self.bent(self.frames, math.sqrt(0.5))

    def bent(self, count: int, full: float) -> np.ndarray:
        """How a depth bends over `count` frames, m. full: of the per-frame u, where there is time enough."""
        u = full * posture("lead-wrist", self.view).per_frame * STATURE
        part, seconds = np.linspace(0, 1, count), (count - 1) / self.rate
        bow = u * min(1, (seconds / BODY_BENDS_IN) ** 2)
        double = DOUBLE_BEND * u * min(1, (seconds / 2 / BODY_BENDS_IN) ** 2)
        return self.generator.normal(0, bow) * np.sin(math.pi * part) + self.generator.normal(
            0, double
        ) * np.sin(2 * math.pi * part)

    def at(self, frame: float) -> tuple[float, float]:
        turn = self.first + self.turned * frame / (self.frames - 1)
        return self.centre[0] + self.radius * math.cos(turn), self.centre[1] + self.radius * math.sin(turn)

    def speed(self) -> float:
        return self.radius * abs(self.turned) / (self.frames - 1) * self.rate

    def way(self) -> float:
        places = [self.true("lead-wrist", frame) for frame in range(self.frames)]
        return float(sum(np.hypot(*(b - a)) for a, b in pairwise(places)))

    def from_c7(self) -> float:
        return float(np.hypot(*(self.true("c7", 12) - np.array(self.centre) - np.array([0, self.room.aim]))))

    def setting(self) -> Setting:
        times = tuple(frame / self.rate for frame in range(self.frames))
        return replace(super().setting(), times=times)


class NamedOnACircle(OnACircle):
    """The card names the wrist's depth at three instants, far enough apart for a full bend between them."""

    rate = 80.0
    readout_u = 1 / 80
    named, within = (0, 12, 23), 0.05

    def depths(self) -> np.ndarray:
        true = [posture("lead-wrist", self.view).depth * STATURE + d for d in (0.1, -0.1, 0.05)]
        self.stated = [rectangular(self.generator, depth, self.within) for depth in true]
        found = np.interp(np.arange(self.frames), self.named, true)
        for first, last in pairwise(self.named):
            found[first : last + 1] += self.bent(last - first + 1, math.sqrt(1.5))
        return found

    def setting(self) -> Setting:
        depths = [Depth(depth, self.within) for depth in self.stated]
        return replace(super().setting(), depth={"lead-wrist": dict(zip(self.named, depths, strict=True))})


class Turning(Clip):
    """A line across the body, nearly square at frame 0, has turned by 55° at frame 9."""

    ends, half, square_u = ("trail-hip", "lead-hip"), 0.16, 5.0
    tips_then = tips_now = 0.0  # deg to either side

    def put_golfer(self) -> None:
        self.turn = self.turned()
        square = self.generator.normal(0, self.square_u)
        for frame, turned, tips in ((0, square, self.tips_then), (9, square + self.turn, self.tips_now)):
            tip = math.radians(self.generator.uniform(-tips, tips))
            reach = self.half * math.cos(tip) * math.cos(math.radians(turned))
            rise = self.half * math.sin(tip)
            for mark, side in zip(self.ends, (-1, 1), strict=True):
                depth = self.depth(mark) + self.own_depth(mark)
                self.room.put(mark, frame, 0.1 + side * reach, -0.3 + side * rise, depth)

    def turned(self) -> float:
        return 55.0


class TippedHips(Turning):
    """The line leans by up to 40° either way when it has turned, and a little at first."""

    tips_then, tips_now = 15.0, 40.0

    def turned(self) -> float:
        return float(self.generator.uniform(25, 80))


class TippedShoulders(TippedHips):
    """The same of shoulders, which turn farther, past where they are seen end on."""

    ends, half, square_u = ("trail-shoulder", "lead-shoulder"), 0.22, 8.0

    def turned(self) -> float:
        return float(self.generator.uniform(25, 110))


class HipsTippedOnly(TippedHips):
    """Tipped without any turn."""

    def turned(self) -> float:
        return 0.0


class ShouldersTippedOnly(TippedShoulders):
    """Tipped without any turn."""

    def turned(self) -> float:
        return 0.0


class ShouldersTurnedALittle(TippedShoulders):
    """Tipped, and turned by so little that it may be none."""

    def turned(self) -> float:
        return float(self.generator.uniform(0, 25))
