"""What surrounds a mark in a picture: how well it can be held on to, and where it is found again.

A patch is found again by the enhanced correlation coefficient (Evangelidis and Psarakis 2008, as in OpenCV),
which lets it turn, stretch and shear and does not mind a change of light.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.tracking.halfpixel import to_opencv
from lessonpress.records import Point

Grey = NDArray[np.uint8]
Square = NDArray[np.float32]
Linear = NDArray[np.float64]  # (2, 2): how offsets in the patch lie in the picture

STOP = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 60, 1e-4)
SOFT = 1.0  # px, deviation of the Gauss filter before matching; done here, with what surrounds the patch
RIM = 4  # px beyond the patch that the filter sees
MOTIONS = (cv2.MOTION_TRANSLATION, cv2.MOTION_EUCLIDEAN, cv2.MOTION_AFFINE)  # simplest first
WORTH_IT = 1.05  # times the least rest that a simpler motion may leave
STRETCH = (0.4, 2.5)  # singular values that a patch may take: beyond, it is another thing


@dataclass(frozen=True)
class Patch:
    """A square of a picture with the point it shows.

    square: float32 (side, side), whole pixels; soft: the same, smoothed. offset: the point in it, in OpenCV's
    count. least, most: the eigenvalues of its gradients' second-moment matrix (Shi and Tomasi 1994), squared
    grey levels per px² summed over the square: along the direction that is worst, and best, held.
    """

    square: Square
    soft: Square
    offset: Point
    least: float
    most: float


@dataclass(frozen=True)
class Find:
    """A patch found again. likeness: correlation coefficient. noise: rms grey levels that still differ. u:
    standard uncertainty of the point, px per axis.
    """

    point: Point
    linear: Linear
    likeness: float
    noise: float
    u: float


def cut(grey: Grey, point: Point, side: int) -> Patch | None:
    """The patch of `side` px (odd) whose middle pixel holds the point; None where it leaves the picture."""
    x, y = to_opencv(np.asarray(point, dtype=np.float64))
    left, top = round(x) - side // 2, round(y) - side // 2
    if left < 0 or top < 0 or left + side > grey.shape[1] or top + side > grey.shape[0]:
        return None
    square = grey[top : top + side, left : left + side].astype(np.float32)
    above, before = min(RIM, top), min(RIM, left)
    wide = grey[top - above : top + side + RIM, left - before : left + side + RIM]
    soft = _softened(wide.astype(np.float32))[above : above + side, before : before + side]
    return Patch(square, soft, (float(x - left), float(y - top)), *_moments(soft))


def find(held: Patch, grey: Grey, near: Point, linear: Linear) -> Find | None:
    """Where the patch is in a picture, searched from `near` with the linear part given; None if nowhere.

    Of shift, turn and shear the simplest is kept whose rest is within `WORTH_IT` of the least. Where a richer
    one puts the point elsewhere, that goes into u, as far as the richer one itself can show.
    """
    pad = held.square.shape[0] // 2
    laid = _laid(held, grey, near, linear, pad)
    matches = [match for motion in MOTIONS if (match := _matched(held, laid, near, linear, pad, motion))]
    least = min((match.noise for match in matches), default=0.0)
    for position, match in enumerate(matches):
        if match.noise <= WORTH_IT * least + 1e-6:
            return _doubted(match, matches[position + 1 :])
    return None


def _doubted(kept: Find, richer: list[Find]) -> Find:
    apart = [min(math.dist(kept.point, other.point) / math.sqrt(2), other.u) for other in richer]
    return replace(kept, u=math.hypot(kept.u, max(apart, default=0.0)))


def _laid(held: Patch, grey: Grey, near: Point, linear: Linear, pad: int) -> Square:
    """The picture about `near`, turned back as the patch was, with `pad` px more on every side."""
    x, y = to_opencv(np.asarray(near, dtype=np.float64))
    shift = np.array([x, y]) - linear @ (np.array(held.offset) + pad)
    side = held.square.shape[0] + 2 * pad
    warp = np.column_stack([linear, shift])
    flags = cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP
    laid = cv2.warpAffine(grey, warp, (side, side), flags=flags, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(laid, dtype=np.float32)


def _matched(held: Patch, laid: Square, near: Point, linear: Linear, pad: int, motion: int) -> Find | None:
    start = np.array([[1, 0, pad], [0, 1, pad]], dtype=np.float32)
    everywhere = np.full(laid.shape, 255, dtype=np.uint8)
    try:
        likeness, warp = cv2.findTransformECC(held.soft, _softened(laid), start, motion, STOP, everywhere, 1)
    except cv2.error:
        return None  # it did not settle
    moved = np.asarray(warp, dtype=np.float64)
    turned = linear @ moved[:, :2]
    if not np.isfinite(moved).all():
        return None
    stretch = np.linalg.svd(turned, compute_uv=False)
    if stretch[1] < STRETCH[0] or stretch[0] > STRETCH[1]:
        return None
    offset = np.array(held.offset)
    point = np.array(near) + linear @ (moved[:, :2] @ offset + moved[:, 2] - pad - offset)
    side = held.square.shape[0]
    seen = cv2.warpAffine(laid, np.asarray(warp), (side, side), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP)
    rest = _rest(held.square, np.asarray(seen, dtype=np.float32))
    noise = float(np.sqrt(np.mean(rest**2)))
    u = _slip(held, motion, noise * coherence(rest)) * float(np.sqrt(np.prod(stretch)))
    return Find((float(point[0]), float(point[1])), turned, float(likeness), noise, u)


def _slip(held: Patch, motion: int, noise: float) -> float:
    """Standard uncertainty of the point, px per axis: σ √(trace of the point's block of (JᵀJ)⁻¹ / 2).

    J holds the change of each pixel with where the point is and with the other unknowns of the motion, which
    are counted about the point: turn, or the four of shear and stretch. The Cramér–Rao bound of that motion.
    """
    x, y = (np.arange(held.square.shape[0]) - offset for offset in held.offset)
    down, across = _gradients(held.soft)
    columns = [across, down]
    if motion == cv2.MOTION_EUCLIDEAN:
        columns.append(x[None, :] * down - y[:, None] * across)
    elif motion == cv2.MOTION_AFFINE:
        columns += [x[None, :] * across, y[:, None] * across, x[None, :] * down, y[:, None] * down]
    jacobian = np.stack([column.ravel() for column in columns], axis=1)
    normal = jacobian.T @ jacobian
    if np.linalg.cond(normal) > 1e12:
        return math.inf
    return noise * math.sqrt(float(np.trace(np.linalg.inv(normal)[:2, :2])) / 2)


def _softened(levels: Square) -> Square:
    return np.asarray(cv2.GaussianBlur(levels, (0, 0), SOFT), dtype=np.float32)


def coherence(rest: Square) -> float:
    """By how much noise counts for more where what differs hangs together from pixel to pixel; 1 if not.

    (1 + r)/(1 − r) for neighbours that correlate by r: the root of the number of pixels, in both directions,
    that count as one in a first-order autoregressive field (Bartlett 1946). A patch that bends has a large r.
    """
    power = float((rest**2).mean())
    if power < 1e-6:
        return 1.0
    beside = float((rest[:, 1:] * rest[:, :-1]).mean() + (rest[1:] * rest[:-1]).mean()) / 2
    r = min(max(beside / power, 0.0), 0.95)
    return (1 + r) / (1 - r)


def _gradients(square: Square) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Change of grey levels per px, down and across."""
    down, across = np.gradient(square.astype(np.float64))
    return np.asarray(down), np.asarray(across)


def _moments(square: Square) -> tuple[float, float]:
    down, across = _gradients(square)
    mixed = float((across * down).sum())
    least, most = np.linalg.eigvalsh([[float((across**2).sum()), mixed], [mixed, float((down**2).sum())]])
    return max(float(least), 0.0), float(most)


def _rest(first: Square, second: Square) -> Square:
    """What differs between two patches after brightness and contrast are fitted."""
    a, b = first - first.mean(), second - second.mean()
    power = float((a**2).sum())
    gain = float((a * b).sum()) / power if power > 1e-6 else 0.0
    return np.asarray(b - gain * a, dtype=np.float32)
