"""How the camera moved: every picture carried onto a reference picture by what does not move in the room.

Corners of the background are carried straight from the reference picture to each other one, beginning where
the neighbouring picture's motion puts them, so that errors do not add up along the clip. Where too few are
still in view, the last picture that was registered takes the reference's place (`links` counts how often).
Subject and clutter that follow no common motion are left out by random sample consensus (Fischler and Bolles
1981), then all that agree are fitted by least squares.

Points and matrices count from the outer corner of the first pixel; matrices carry (x, y, 1), px to px.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.camera.hulls import Points, background
from lessonpress.footage.tracking.flow import carried
from lessonpress.footage.tracking.frame_store import FrameStore
from lessonpress.footage.tracking.halfpixel import from_opencv

Matrix = NDArray[np.float64]
Model = Literal["similarity", "homography"]
Judged = Model | Literal["still"]
UNKNOWNS: dict[Model, int] = {"similarity": 4, "homography": 8}

FEATURES = 500
GOOD_RETURN = 0.4  # px that a corner may miss its start when carried back
AGREES = 1.5  # px from the common motion
FEWEST = 16  # corners that must agree
LEAST_SHARE = 0.3  # of the corners carried
LEAST_SPREAD = 0.08  # rms distance of the corners from their middle, in picture diagonals
RENEW_BELOW = 0.35  # share of the anchor's corners still followed at which a new anchor is taken
SHARED = 1.6  # errors of corners are not independent: see `CameraMotion.uncertainty`
CLEARLY_BETTER = 0.75  # rms ratio at which the richer model is worth its unknowns


@dataclass(frozen=True)
class Unregistered:
    """A picture whose camera motion is not known; false in a condition."""

    reason: str

    def __bool__(self) -> bool:
        return False


@dataclass(frozen=True)
class Registration:
    """How one picture lies on the reference.

    matrix: nine numbers, by rows, that carry points of the picture into the reference. residual: rms distance
    per axis of the corners from the common motion, px. corners: how many agree. middle, scatter: their mean
    point in px of the reference, and their variance across, covariance, variance down, px². links: anchors
    passed on the way, 0 if straight.
    """

    matrix: tuple[float, ...]
    residual: float
    corners: int
    middle: tuple[float, float]
    scatter: tuple[float, float, float]
    links: int


@dataclass(frozen=True)
class CameraMotion:
    """The camera's motion over a clip, relative to frame `reference`.

    model: "similarity" (shift, turn in the picture, zoom) or "homography" (a camera that also turns about
    other axes), one for the whole clip; "still" where it did not move by what can be measured, and every
    `residual` is a standard uncertainty (see `stillness`). size: (width, height) px.
    """

    reference: int
    model: Judged
    size: tuple[int, int]
    frames: dict[int, Registration | Unregistered]

    def to_reference(self, frame: int) -> Matrix | Unregistered:
        """The 3×3 matrix that carries points of `frame` into the reference picture."""
        registered = self._registered(frame)
        return (
            registered if isinstance(registered, Unregistered) else np.array(registered.matrix).reshape(3, 3)
        )

    def between(self, early: int, late: int) -> Matrix | Unregistered:
        """The 3×3 matrix that carries points of frame `early` into frame `late`."""
        first, second = self.to_reference(early), self.to_reference(late)
        if isinstance(first, Unregistered):
            return first
        if isinstance(second, Unregistered):
            return second
        return _normal(np.linalg.inv(second) @ first)

    def residual(self, frame: int) -> float | Unregistered:
        """Rms distance of the background's corners from the common motion, px per axis."""
        registered = self._registered(frame)
        return registered if isinstance(registered, Unregistered) else registered.residual

    def uncertainty(self, frame: int, point: tuple[float, float]) -> float | Unregistered:
        """Standard uncertainty, px per axis, with which a point of `frame` is carried into the reference.

        c s √((1 + q²)/n) for a similarity fitted to n corners with residual s, q being the point's distance
        from their middle over their rms distance (ordinary least squares). For a homography q is counted in
        standard deviations of the corners in the point's direction, and q⁴ is added for its terms of second
        order. c = 1.6, found by simulation: neighbouring corners share pixels, and all share the reference's
        noise. Parallax between room and subject is not in it.
        """
        registered = self._registered(frame)
        if isinstance(registered, Unregistered):
            return registered
        if frame == self.reference:
            return 0.0
        if self.model == "still":
            return registered.residual
        at = apply_matrix(np.array(registered.matrix).reshape(3, 3), np.array([point]))[0]
        away = at - np.array(registered.middle)
        across, mixed, down = registered.scatter
        if self.model == "similarity":
            terms = 1 + float(away @ away) / (across + down)
        else:
            lever = float(away @ np.linalg.solve([[across, mixed], [mixed, down]], away))
            terms = 1 + lever + lever**2
        links = np.sqrt(1 + registered.links)
        return float(SHARED * links * registered.residual * np.sqrt(terms / registered.corners))

    @property
    def furthest(self) -> float:
        """The greatest way in px of any picture's corners and middle from where they are in the reference."""
        width, height = self.size
        spots = np.array([[0, 0], [width, 0], [0, height], [width, height], [width / 2, height / 2]])
        ways = [
            float(
                np.linalg.norm(
                    apply_matrix(np.array(registered.matrix).reshape(3, 3), spots) - spots, axis=1
                ).max()
            )
            for registered in self.frames.values()
            if isinstance(registered, Registration)
        ]
        return max(ways, default=0.0)

    def to_json(self) -> str:
        frames = {str(frame): asdict(registered) for frame, registered in self.frames.items()}
        return json.dumps({**asdict(self), "frames": frames})

    @classmethod
    def from_json(cls, text: str) -> CameraMotion:
        raw: dict[str, Any] = json.loads(text)
        frames = {int(frame): _registration(registered) for frame, registered in raw["frames"].items()}
        return cls(raw["reference"], raw["model"], tuple(raw["size"]), frames)

    def _registered(self, frame: int) -> Registration | Unregistered:
        return self.frames.get(frame, Unregistered(f"frame {frame} was not among the pictures registered"))


def apply_matrix(matrix: Matrix, points: Matrix) -> Matrix:
    """(n, 2) points carried by a 3×3 matrix."""
    carried_points = np.column_stack([points, np.ones(len(points))]) @ matrix.T
    return np.asarray(carried_points[:, :2] / carried_points[:, 2:], dtype=np.float64)


def camera_motion(
    pictures: Iterable[tuple[int, NDArray[np.uint8]]], reference: int, masks: Mapping[int, Points]
) -> CameraMotion:
    """Register pictures (frame, RGB (h, w, 3)) onto frame `reference`, which must be among them.

    masks: points (x, y) of the subject's marks in px, by frame, as many as are known (see `hulls`); where the
    subject is not masked, it must be smaller in the picture than the room. A picture that cannot be
    registered keeps an `Unregistered` with the reason. Raises ValueError where the reference is missing.
    """
    with FrameStore(pictures) as store:
        if reference not in store:
            raise ValueError(f"frame {reference} is not among the pictures")
        return motion_in(store, store.frames, reference, masks)


def motion_in(
    store: FrameStore, frames: Sequence[int], reference: int, masks: Mapping[int, Points]
) -> CameraMotion:
    """The same of pictures that are kept already: those of `frames`, ascending, with the reference."""
    height, width = store.shape
    later = [frame for frame in frames if frame > reference]
    earlier = [frame for frame in reversed(frames) if frame < reference]
    fits: dict[int, _Fits | Unregistered] = {}
    for way in (later, earlier):
        fits.update(_walk(store, reference, way, masks))
    return _chosen(fits, reference, (width, height))


@dataclass(frozen=True)
class _Fit:
    """One model fitted to one picture; `matrix` carries the picture's points into the reference."""

    matrix: Matrix
    residual: float
    corners: int
    middle: tuple[float, float]
    scatter: tuple[float, float, float]
    links: int


_Fits = dict[Model, _Fit]


@dataclass(frozen=True)
class _Anchor:
    """A picture whose corners are carried into others; `matrices` carry its points into the reference."""

    grey: NDArray[np.uint8]
    corners: Matrix
    matrices: dict[Model, Matrix]
    links: int


@dataclass(frozen=True)
class _Trial:
    """What came of registering one picture from one anchor."""

    fits: _Fits
    share: float
    reason: str


def _walk(
    store: FrameStore, reference: int, frames: list[int], masks: Mapping[int, Points]
) -> Iterator[tuple[int, _Fits | Unregistered]]:
    """Register frames one after another, nearest to the reference first."""
    anchor = _anchor(store, reference, masks, {model: np.eye(3) for model in UNKNOWNS}, 0)
    last: tuple[int, _Fits] | None = None
    for frame in frames:
        trial = _trial(store, anchor, frame, masks, last[1] if last else {})
        if last and trial.share < RENEW_BELOW:
            matrices = {model: fit.matrix for model, fit in last[1].items()}
            renewed = _anchor(store, last[0], masks, matrices, anchor.links + 1)
            again = _trial(store, renewed, frame, masks, {})
            if again.fits:
                anchor, trial = renewed, again
        if trial.fits:
            last = frame, trial.fits
        yield frame, trial.fits or Unregistered(trial.reason)


def _anchor(
    store: FrameStore, frame: int, masks: Mapping[int, Points], matrices: dict[Model, Matrix], links: int
) -> _Anchor:
    grey = store[frame]
    gap = max(5.0, np.sqrt(grey.size / FEATURES) / 3)
    free = background(frame, masks, store.shape)
    features = cv2.goodFeaturesToTrack(grey, FEATURES, qualityLevel=0.005, minDistance=gap, mask=free)
    corners = (
        np.empty((0, 2)) if features is None else from_opencv(features.reshape(-1, 2).astype(np.float64))
    )
    return _Anchor(grey, corners, matrices, links)


def _trial(
    store: FrameStore, anchor: _Anchor, frame: int, masks: Mapping[int, Points], last: _Fits
) -> _Trial:
    """Register one picture; `last` is the neighbouring picture's fit, from which the search begins."""
    if len(anchor.corners) < FEWEST:
        return _Trial({}, 0.0, "too little of the room stands out from its surroundings")
    guess = anchor.corners
    for model, fit in last.items():
        if model in anchor.matrices:
            guess = apply_matrix(np.linalg.inv(fit.matrix) @ anchor.matrices[model], anchor.corners)
    points, miss = carried(anchor.grey, store[frame], anchor.corners, guess)
    kept = (miss < GOOD_RETURN) & _in_the_room(points, background(frame, masks, store.shape))
    share = float(kept.mean())
    if kept.sum() < FEWEST:
        return _Trial({}, share, "too little of the room can be followed there: blur, or another scene")
    fits: _Fits = {}
    for model, matrix in anchor.matrices.items():
        fitted = _fit(model, points[kept], anchor, anchor.corners[kept], matrix, store.shape)
        if fitted is not None:
            fits[model] = fitted
    return _Trial(fits, share, "what can be followed in the room shares no motion")


def _in_the_room(points: Matrix, free: NDArray[np.uint8]) -> NDArray[np.bool_]:
    height, width = free.shape
    columns, lines = np.floor(np.nan_to_num(points, nan=-1.0)).astype(int).T
    inside = (columns >= 0) & (columns < width) & (lines >= 0) & (lines < height)
    inside[inside] = free[lines[inside], columns[inside]] > 0
    return np.asarray(inside, dtype=np.bool_)


def _fit(
    model: Model, points: Matrix, anchor: _Anchor, corners: Matrix, onward: Matrix, shape: tuple[int, int]
) -> _Fit | None:
    """Fit points in the picture to the anchor's corners; None where too few agree or they lie together."""
    if model == "similarity":
        similarity, agree = cv2.estimateAffinePartial2D(
            points, corners, method=cv2.RANSAC, ransacReprojThreshold=AGREES, confidence=0.999
        )
        matrix = None if similarity is None else np.vstack([similarity, [0, 0, 1]])
    else:
        matrix, agree = cv2.findHomography(points, corners, cv2.RANSAC, AGREES, confidence=0.999)
    if matrix is None:
        return None
    chosen = agree.ravel() > 0
    count = int(chosen.sum())
    if count < FEWEST or count < LEAST_SHARE * len(points):
        return None
    axes = corners[chosen].std(axis=0)
    spread = float(np.hypot(*axes))
    if spread < LEAST_SPREAD * np.hypot(*shape) or (model == "homography" and axes.min() < spread / 5):
        return None
    misses = apply_matrix(matrix, points[chosen]) - corners[chosen]
    residual = float(np.sqrt((misses**2).sum() / (2 * count - UNKNOWNS[model])))
    there = apply_matrix(onward, corners[chosen])
    scatter = np.cov(there.T)
    return _Fit(
        _normal(onward @ matrix),
        residual,
        count,
        (float(there[:, 0].mean()), float(there[:, 1].mean())),
        (float(scatter[0, 0]), float(scatter[0, 1]), float(scatter[1, 1])),
        anchor.links,
    )


def _chosen(fits: dict[int, _Fits | Unregistered], reference: int, size: tuple[int, int]) -> CameraMotion:
    """One model for the whole clip: the simpler, unless the richer fits clearly better, or more pictures.

    Misfits are pooled over the clip, so that the pictures that moved most decide: where the camera has hardly
    moved, both models fit, and their ratio says nothing.
    """
    known = [fits_of_frame for fits_of_frame in fits.values() if not isinstance(fits_of_frame, Unregistered)]
    both = [fits_of_frame for fits_of_frame in known if len(fits_of_frame) == len(UNKNOWNS)]
    squares = {model: sum(fits_of_frame[model].residual ** 2 for fits_of_frame in both) for model in UNKNOWNS}
    simple, rich = (sum(model in fits_of_frame for fits_of_frame in known) for model in UNKNOWNS)
    better = squares["homography"] < CLEARLY_BETTER**2 * squares["similarity"]
    worth_it = (better and rich >= 0.9 * simple) or rich > 1.1 * simple
    model: Model = "homography" if worth_it else "similarity"
    itself = Registration(tuple(np.eye(3).ravel()), 0.0, 0, (0.0, 0.0), (1.0, 0.0, 1.0), 0)
    frames: dict[int, Registration | Unregistered] = {reference: itself}
    for frame, fits_of_frame in fits.items():
        frames[frame] = _kept(fits_of_frame, model)
    return CameraMotion(reference, model, size, dict(sorted(frames.items())))


def _kept(registered: _Fits | Unregistered, model: Model) -> Registration | Unregistered:
    if isinstance(registered, Unregistered):
        return registered
    if model not in registered:
        return Unregistered(f"what can be followed in the room is not moved by a {model} there")
    fit = registered[model]
    numbers = tuple(float(number) for number in fit.matrix.ravel())
    return Registration(numbers, fit.residual, fit.corners, fit.middle, fit.scatter, fit.links)


def _registration(raw: dict[str, Any]) -> Registration | Unregistered:
    if "reason" in raw:
        return Unregistered(raw["reason"])
    listed = {name: tuple(raw[name]) for name in ("matrix", "middle", "scatter")}
    return Registration(**{**raw, **listed})


def _normal(matrix: Matrix) -> Matrix:
    return np.asarray(matrix / matrix[2, 2], dtype=np.float64)
