"""How long the parts of a body are between two marks: published fractions of stature, with spreads.

Best values as in `anthropometry.py`. Spreads are those of a length among people of one stature: a published
survey (ANSUR II, US Army 2012, from memory) has a forearm (radiale to stylion) of 268 ± 15 mm that goes with
stature by some 0.8, which leaves 3 to 4 % of it; 5 % is taken, since Drillis and Contini's fractions are of
few people.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lessonpress.measure.body.anthropometry import FOREARM

LIMB_SPREAD = 0.05  # of the length
MARKED_U = 0.015  # m: how far a marked point lies from the joint, along a limb (own choice)


@dataclass(frozen=True)
class Part:
    """Two marks whose distance in space is known. fraction: of stature; spread: u of it, of the length."""

    words: str
    ends: tuple[str, str]
    fraction: float
    spread: float

    def length_u(self, stature: float, stature_u: float) -> float:
        """Standard uncertainty of the length between the two marks, m."""
        return math.hypot(
            self.spread * self.fraction * stature, self.fraction * stature_u, math.sqrt(2) * MARKED_U
        )


# No mark is an end of two parts: each is solved by itself. Breadths of shoulders and hips were tried, which
# spread by 8 to 12 % as marked, and made no ± usefully narrower. Thighs and shanks are left out by estimate:
# they lie near the subject plane, where a length says less of depth than postures do. So is the upper arm,
# which ends at the elbow, of which the forearm says more.
PARTS: tuple[Part, ...] = tuple(
    Part(f"the {side} forearm", (f"{side}-elbow", f"{side}-wrist"), FOREARM, LIMB_SPREAD)
    for side in ("lead", "trail")
)
PART_OF = {mark: part for part in PARTS for mark in part.ends}
