"""What moves the network's points onto the trade's marks, and the u that is left, learnt from films with
truth.

Each golfer is left out in turn, the numbers are found on the others, and the errors on the one left out are
what u has to cover (`sizes.py`). So u speaks for a golfer who was not there.

Between clicks errors change by a size of their own for each mark: the likeliest on these films, times SPARE
for a golfer who was not there.

What errors of one clip have in common is learnt in `together.py`.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize_scalar

from lessonpress.footage.pose.bodymarks import SINGLE, SUGGESTED, part_of, posture
from lessonpress.footage.pose.doubts import UNSURE
from lessonpress.footage.pose.learnt import FILE, LearntMark, LearntPath, way_of
from lessonpress.footage.pose.suggesting import Guide
from lessonpress.footage.tracking.guided import Guidance, corrected
from tests.suggesting.films import CLICK
from tests.suggesting.sizes import Size, size_of
from tests.suggesting.studied import Studied
from tests.suggesting.together import Errors, OfFilm, lasting, neck_of, pairs_of

Floats = NDArray[np.float64]

PARTS = tuple(dict.fromkeys(part_of(mark) for mark in SUGGESTED))
LIMBS = (
    ("hip", "knee"),
    ("knee", "ankle"),
    ("heel", "toe"),
    ("shoulder", "elbow"),
    ("elbow", "wrist"),
    ("shoulder", "hip"),
)
# carried between clicks by what is seen of the body; shoulders, elbows, wrists and the grip are too unsure
CARRIED = ("heel", "ankle", "toe", "knee", "hip", "navel", "c7", "head", "crown")
SIZES = (0.004, 0.06)  # of the side: bounds of that by which errors change between clicks
SPARE = 1.4  # times the likeliest size, for a film that was not there
FAR = 0.005  # of the side: an error beyond it counts by its size, one below by its square
HOLD = 0.02  # of a ridge: numbers that the films do not show stay small


def learn(films: Sequence[Studied]) -> dict[str, Any]:
    """What `learnt.json` holds."""
    across, along = ([film for film in films if way_of(film.view) == way] for way in ("across", "along"))
    learnt = {
        "films": [film.name for film in films],
        "across": _of_one_way(across, PARTS, CARRIED),
        "along": _of_one_way(along, SINGLE, ()),
    }
    for way, its, parts in (("across", across, PARTS), ("along", along, SINGLE)):
        left_out = _left_out(its, parts, learnt[way]["marks"])
        pairs = pairs_of(left_out) if parts == PARTS else {}
        learnt[way] |= {"pairs": pairs, "neck": neck_of(left_out)}
        if parts == PARTS:
            learnt["lasts"], learnt["own"] = lasting(left_out)
    return learnt


def _left_out(films: Sequence[Studied], parts: Sequence[str], marks: dict[str, Any]) -> list[OfFilm]:
    """The errors on each film by numbers that were found without its golfer."""
    found: list[OfFilm] = []
    for golfer in dict.fromkeys(film.golfer for film in films):
        by = {part: numbers_of(_others(films, golfer), part) for part in parts}
        found += [
            {part: errors_of(film, part, LearntMark(**marks[part]), by[part]) for part in parts}
            for film in films
            if film.golfer == golfer
        ]
    return found


def errors_of(film: Studied, part: str, mark: LearntMark, by: Floats) -> Errors:
    """Those of a part's marks on a film. by: numbers that were found without it."""
    seconds = np.array([film.seconds[frame] for frame in film.frames])
    off, u = {}, {}
    for name in _marks(part):
        rows = _errors_of_mark(film, name, by)
        u[name] = np.hypot(mark.least, mark.spread * rows[:, 2])
        given = (u[name] <= UNSURE) & film.suggests(name)
        off[name] = np.where(given[:, None], rows[:, :2] / np.outer(u[name], mark.axes), np.nan)
    return Errors(seconds, off, u)


def keep(learnt: dict[str, Any]) -> None:
    FILE.write_text(json.dumps(learnt, indent=1) + "\n", encoding="utf-8")


def _of_one_way(films: Sequence[Studied], parts: Sequence[str], carried: Sequence[str]) -> dict[str, Any]:
    marks = {}
    for part in parts:
        by = [round(float(number), 3) for number in numbers_of(films, part)]
        marks[part] = {"by": by, **asdict(_size_of(films, part))}
    paths = {
        part: {"size": round(SPARE * likeliest(films, part, LearntMark(**marks[part])), 4)}
        for part in carried
    }
    return {"marks": marks, "paths": paths, "longest": _longest(films) if set(parts) > set(SINGLE) else []}


def _size_of(films: Sequence[Studied], part: str) -> Size:
    """By the errors on each golfer's films, by numbers that were found on the others'."""
    golfers, rendered = [], []
    for golfer in dict.fromkeys(film.golfer for film in films):
        by = numbers_of(_others(films, golfer), part)
        own = [(film, _errors(film, part, by)) for film in films if film.golfer == golfer]
        golfers.append(np.concatenate([errors for _, errors in own]))
        rendered += [errors for film, errors in own if film.rendered]
    return size_of(golfers, rendered)


def _errors(film: Studied, part: str, by: Floats) -> Floats:
    """Those of all marks of a part; rows as of `_errors_of_mark`."""
    return np.concatenate([_errors_of_mark(film, mark, by)[film.suggests(mark)] for mark in _marks(part)])


def likeliest(films: Sequence[Studied], part: str, mark: LearntMark) -> float:
    """The size within SIZES under which the errors between clicks are likeliest, as normal ones, each film
    counted as much (Rasmussen and Williams 2006, section 5.4, with what was left out in place of the clicks).
    """

    def unlikely(size: float) -> float:
        return -float(np.mean([_likely(film, part, mark, np.exp(size)) for film in films]))

    found = minimize_scalar(unlikely, bounds=np.log(SIZES), method="bounded", options={"xatol": 0.05})
    return float(np.exp(found.x))


def _likely(film: Studied, part: str, mark: LearntMark, size: float) -> float:
    """The mean logarithm of the density of an error, px, between clicks at the film's events."""
    chance = np.random.default_rng(1)
    found: list[float] = []
    for name in _marks(part):
        guides = {
            frame: _guide(seen, points, mark, side)
            for frame, seen, points, side in zip(
                film.frames, film.moved(name, mark.by), film.points, film.side, strict=True
            )
        }
        guides = {frame: guide for frame, guide in guides.items() if guide.u <= UNSURE * guide.side}
        true = dict(zip(film.frames, film.px[name], strict=True))
        hand = {at: tuple(true[at] + chance.normal(0, CLICK, 2)) for at in film.clicked if at in true}
        guidance = Guidance(guides, LearntPath(size), film.seconds)
        for frame, one in corrected(hand, guidance).items():
            u = np.hypot(one.u, CLICK)
            found.extend(-np.log(u) - 0.5 * ((np.array(one.point) - true[frame]) / u) ** 2)
    return float(np.mean(found)) if found else 0.0


def _guide(seen: Floats, points: Floats, mark: LearntMark, side: float) -> Guide:
    """As `pose.suggesting` would suggest it. seen: (looks, 2), px. points: (looks, 33, 3)."""
    x, y = np.median(seen, axis=0)
    spread = float(np.sqrt(np.mean((seen - (x, y)) ** 2)))
    return Guide((float(x), float(y)), mark.u(spread, side), side, posture(points))


def _others(films: Sequence[Studied], golfer: str) -> list[Studied]:
    return [film for film in films if film.golfer != golfer]


def numbers_of(films: Sequence[Studied], part: str) -> Floats:
    """The numbers of a part, by least squares that count far errors less (weights again and again,
    Huber's).
    """
    rows = [_rows(film, mark) for film in films for mark in _marks(part)]
    ways, off = (np.concatenate([row[at] for row in rows]) for at in (0, 1))
    by = np.zeros(ways.shape[1])
    for _ in range(30):
        weight = np.minimum(1.0, FAR / np.maximum(np.abs(off - ways @ by), 1e-9))
        held = HOLD * np.eye(len(by))
        by = np.linalg.solve((ways * weight[:, None]).T @ ways + held, (ways * weight[:, None]).T @ off)
    return np.asarray(by)


def _rows(film: Studied, mark: str) -> tuple[Floats, Floats]:
    """(ways (2n, k), what they have to add up to (2n,)), in sides of the square."""
    count, looks = film.points.shape[:2]
    found = film.designs[mark]
    ways = found.ways.reshape(count, looks, 2, -1).mean(axis=1) / film.side[:, None, None]
    off = (film.px[mark] - found.start.reshape(count, looks, 2).mean(axis=1)) / film.side[:, None]
    told = film.suggests(mark)
    return ways[told].reshape(2 * told.sum(), -1), off[told].ravel()


def _errors_of_mark(film: Studied, mark: str, by: Floats) -> Floats:
    """(n, 3): one mark's error across and down, and what the looks differ by; in sides of the square."""
    seen = film.moved(mark, by)
    middle = np.median(seen, axis=1)
    differ = np.sqrt(np.mean((seen - middle[:, None]) ** 2, axis=(1, 2)))
    return np.column_stack([middle - film.px[mark], differ]) / film.side[:, None]


def _longest(films: Sequence[Studied]) -> list[tuple[str, str, float]]:
    """For each limb the longest that was seen, of the square's side, by its true ends."""
    return [(one, other, round(max(_length(film, one, other) for film in films), 3)) for one, other in LIMBS]


def _length(film: Studied, one: str, other: str) -> float:
    lengths = [
        np.linalg.norm(film.px[f"{side}-{one}"] - film.px[f"{side}-{other}"], axis=1) / film.side
        for side in ("lead", "trail")
    ]
    return float(np.max(lengths))


def _marks(part: str) -> list[str]:
    return [mark for mark in SUGGESTED if part_of(mark) == part]
