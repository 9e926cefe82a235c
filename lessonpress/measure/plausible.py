"""Whether a clip's scale makes a body that can be: a warning, never a refusal."""

from __future__ import annotations

import math
from collections.abc import Iterator

from lessonpress.measure.body.anthropometry import PROPORTIONS, TOO_LONG, TOO_SHORT, Proportion
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.kinds.span import span
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.measured import Measured
from lessonpress.measure.uncertainty.refusal import RefusedError


def warnings(scene: Scene) -> Iterator[str]:
    """One sentence for every part of the body that the scale makes longer or shorter than a body can have.

    Looks at hand-placed marks. A part may look shorter than it is, so only legs are checked for being short.
    Limits: 1.35 and 0.6 times the published fraction of stature, beyond what ± allows (common practice).
    """
    if not scene.metric or scene.setting.view == "overhead":
        return
    for part in PROPORTIONS:
        longest = _longest(scene, part)
        if longest is not None:
            yield from _doubts(scene, part, longest)
    frames = scene.limbs.club_too_long
    if frames:
        where = ", ".join(map(str, frames))
        yield f"the club is seen longer on frame {where} than the card says: check its length and the scale"


def _longest(scene: Scene, part: Proportion) -> Measured | None:
    """The part as it looks longest over the frames on which both its ends were placed by hand.

    The best values alone show which frame that is, so that only its uncertainty is propagated.
    """
    near, far = ({frame for mark, frame in scene.observations.hand if mark == end} for end in part.ends)
    first, second = part.ends
    shown = [(At(first, frame), At(second, frame)) for frame in sorted(near & far)]
    shown.sort(key=lambda ends: math.hypot(*scene.best_span(*ends)), reverse=True)
    return next((one for one in (_measured(scene, *ends) for ends in shown) if one is not None), None)


def _measured(scene: Scene, first: At, second: At) -> Measured | None:
    try:
        return span(scene, first, second, "straight")
    except RefusedError:
        return None


def _doubts(scene: Scene, part: Proportion, longest: Measured) -> Iterator[str]:
    published = part.fraction * scene.depths.best_stature
    allowed = 2 * scene.depths.stature.u * part.fraction + longest.uncertainty
    shown, usual = scene.length(longest.value), scene.length(published)
    if longest.value - allowed > TOO_LONG * published:
        yield f"the scale makes the {part.words} {shown}, where a body of this stature has some {usual}"
    elif not part.foreshortened and longest.value + allowed < TOO_SHORT * published:
        yield f"the scale makes the {part.words} only {shown}, where a body of this stature has some {usual}"
