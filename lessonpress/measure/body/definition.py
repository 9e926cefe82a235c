"""How finely a point of the body can be placed at all, whatever the picture and however often it is clicked.

A wrist is some 6 cm broad and a hip under trousers three times that; a person who takes its middle again on
the same picture takes it within a twentieth of the breadth or so. More pixels do not show where the middle
is, and clicks repeated by one eye agree better than that, since they are of one idea of it. Common practice,
no published source; 1.5 px where the golfer is 470 px tall are 6 mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import product
from statistics import median

from lessonpress.measure.body.anthropometry import PROPORTIONS
from lessonpress.measure.body.posture import STATURE
from lessonpress.measure.inputs.setting import KnownLength, Setting, Standing
from lessonpress.records import Observation

BODY_U = 0.004  # m, each axis: standard uncertainty of a point of the body as an eye defines it (own choice)
Places = dict[str, dict[int, tuple[float, float]]]  # by mark and frame, px


def seen_size(setting: Setting, observations: Iterable[Observation]) -> float | None:
    """About how many px of the picture a metre of the golfer is, before any camera is solved.

    None where nothing says so. The median over the parts of the body, each where it is seen longest against
    its published share of the stature; where no part has both ends marked, over the known lengths of the
    golfer's plane.
    """
    places: Places = {}
    for seen in observations:
        places.setdefault(seen.mark, {})[seen.frame] = (seen.x, seen.y)
    sizes = [*_of_parts(setting, places)] or [*_of_scales(setting, places)]
    return (median(sizes) if sizes else 0.0) or None


def _of_parts(setting: Setting, places: Places) -> Iterator[float]:
    stature = setting.stature or STATURE
    for part in PROPORTIONS:
        first, second = (places.get(end, {}) for end in part.ends)
        seen = [math.dist(first[frame], second[frame]) for frame in first.keys() & second.keys()]
        if seen:
            yield max(seen) / (part.fraction * stature)


def _of_scales(setting: Setting, places: Places) -> Iterator[float]:
    """A mark of the room is placed where it is, on whatever frame."""
    for scale in setting.scales:
        if isinstance(scale, Standing):
            length = setting.stature
        else:
            length = scale.length if isinstance(scale, KnownLength) and scale.plane == "subject" else None
        if length:
            first, second = (places.get(end, {}).values() for end in scale.between)  # type: ignore[union-attr]
            seen = [math.dist(a, b) for a, b in product(first, second)]
            if seen:
                yield median(seen) / length
