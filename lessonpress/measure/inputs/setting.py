"""How one clip was filmed: what a card and its footage say, in metres, seconds and px.

Limits called `within` are half-widths of a rectangular distribution (JCGM 100:2008, 4.3.7).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from lessonpress.records import Hand, SuggestedErrors, View, level_goal, positive_right

ASSUMED_FOCAL = 0.9  # of the picture's longer side: a lens of which nothing is said


@dataclass(frozen=True, order=True)
class At:
    """A point by name at a frame: a mark, one of the card's middles, or a mark of the room."""

    mark: str
    frame: int


@dataclass(frozen=True)
class Depth:
    """How far toward the camera a point lies from the subject plane: best value and half-width, m."""

    toward: float
    within: float


@dataclass(frozen=True)
class Camera:
    """Level distances from the lens to the subject plane and to the wall, m; None where not stated.

    still: the card says that the camera was on a stand; otherwise points of two frames need its motion.
    """

    distance: float | None = None
    within: float | None = None
    wall: float | None = None
    wall_within: float | None = None
    still: bool = False


@dataclass(frozen=True)
class Lens:
    """Radial distortion, distorted = x (1 + k1 r² + k2 r⁴), r in focal lengths; focal in px.

    centre: where the axis meets the picture, px; None for the picture's centre. straight: marks that lie on
    one straight line of the room each, from which the bending is solved instead of being stated.
    """

    k1: float = 0.0
    k2: float = 0.0
    focal: float | None = None
    centre: tuple[float, float] | None = None
    straight: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True)
class KnownLength:
    """Two marks a known length apart, m. plane: where both lie unless `depth` says it."""

    between: tuple[str, str]
    length: float
    within: float = 0.0
    depth: Depth | None = None
    plane: Literal["subject", "wall"] = "subject"
    frame: int | None = None


@dataclass(frozen=True)
class WallGrid:
    """Four marks at the corners of an upright rectangle, clockwise from top left; size (width, height), m."""

    corners: tuple[str, str, str, str]
    size: tuple[float, float]
    within: float = 0.0
    depth: Depth | None = None
    plane: Literal["subject", "wall"] = "wall"
    frame: int | None = None


@dataclass(frozen=True)
class Standing:
    """The golfer upright at `frame`, from crown to heel as tall as the stature."""

    between: tuple[str, str]
    frame: int


Scale = KnownLength | WallGrid | Standing


@dataclass(frozen=True)
class Motion:
    """The camera's motion: homographies, shape (n, 3, 3), from frame i to the reference frame, px.

    residual: standard uncertainty in px of a background point so carried, shape (n,). still: the pictures
    show that the camera was still, so that it did not sway either.
    """

    to_reference: NDArray[np.float64]
    residual: NDArray[np.float64]
    reference: int = 0
    still: bool = False


@dataclass(frozen=True)
class Setting:
    """Everything about a clip that its measures rest on.

    size: width and height of the picture, px. target_right: +1 when the level axis (toward the target, or
    toward the ball where the target lies into or out of the picture) runs to the right of the picture, -1 to
    the left; None takes it from view and hand. plumb: pairs of marks that are upright. depth: better
    than the posture table, one for all frames or by frame. times: real seconds since frame 0, one a frame.
    readout: s from the picture's first row to its last. shutter: s of exposure. pace_within: by what fraction
    the pace of all times may be off (half-width); None where there is no even pace. middles: name to members.
    room: marks that do not move. impact: its frame, None where the card has none. events: the frame of each
    instant that the card names. implement_length: m from the handle's end to the sole. sway: m that a camera
    in the hand may have moved. suggested: how errors of suggested places go together; None for not at all.
    """

    clip: str
    size: tuple[int, int]
    view: View = "face-on"
    hand: Hand = "right"
    target_right: int | None = None
    camera: Camera = field(default_factory=Camera)
    plumb: tuple[tuple[str, str], ...] = ()
    scales: tuple[Scale, ...] = ()
    stature: float | None = None
    implement_length: float | None = None
    depth: Mapping[str, Depth | Mapping[int, Depth]] = field(default_factory=dict)
    lens: Lens = field(default_factory=Lens)
    middles: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    room: frozenset[str] = frozenset()
    times: tuple[float, ...] | None = None
    readout: float | None = None
    shutter: float | None = None
    pace_within: float | None = 0.0
    impact: int | None = None
    events: Mapping[str, int] = field(default_factory=dict)
    motion: Motion | None = None
    sway: float | None = None
    suggested: SuggestedErrors | None = None

    @property
    def positive_right(self) -> int:
        """+1 where the level axis is positive to the right of the picture, -1 to the left."""
        if self.target_right is not None:
            return self.target_right
        return positive_right(self.view, self.hand)

    @property
    def goal(self) -> Literal["target", "ball"]:
        """What the level axis runs toward."""
        return level_goal(self.view)

    @property
    def centre(self) -> tuple[float, float]:
        """Where the camera's axis meets the picture, px."""
        return self.lens.centre or (self.size[0] / 2, self.size[1] / 2)

    @property
    def plane(self) -> str:
        """The plane of every number of this clip, in words."""
        return f"subject plane, {self.view}"
