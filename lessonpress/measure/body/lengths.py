"""How long the parts of a body and of its club are between two marks, with spreads.

Limbs are published fractions of stature, as in `anthropometry.py`. Spreads are those of a length among people
of one stature: a published survey (ANSUR II, US Army 2012, from memory) has a forearm (radiale to stylion) of
268 ± 15 mm that goes with stature by some 0.8, which leaves 3 to 4 % of it; 5 % is taken, since Drillis and
Contini's fractions are of few people.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lessonpress.measure.body.anthropometry import FOREARM, HAND

LIMB_SPREAD = 0.05  # of the length
MARKED_U = 0.015  # m: how far a marked point lies from the joint, along a limb (own choice)
GRIP, HEAD = "implement-grip", "implement-head"
# Both hands close round the handle, about half a hand's length from wrist to handle (Winter has a hand's
# centre of mass at 0.506 of it, from memory). Where the two meet differs by a finger's breadth or two.
TO_THE_GRIP = HAND / 2  # of stature
TO_THE_GRIP_U = 0.03  # m (own choice)
# From the handle's end to where the hands meet: the lead hand, less than four inches broad, near the end.
ABOVE_THE_GRIP = 0.10  # m (own choice)
CLUB_U = 0.03  # m: of it, with how far down a golfer holds and where a head's middle is marked (own choice)


@dataclass(frozen=True)
class Part:
    """Two marks whose distance in space is known.

    fraction: of stature; spread: u of that, of itself. more: m beside it; u: m, of all that does not go with
    the stature.
    """

    words: str
    ends: tuple[str, str]
    fraction: float
    spread: float = 0.0
    more: float = 0.0
    u: float = math.sqrt(2) * MARKED_U

    def length(self, stature: float) -> float:
        """Best value, m."""
        return self.fraction * stature + self.more

    def length_u(self, stature: float, stature_u: float) -> float:
        """Standard uncertainty of the length between the two marks, m."""
        return math.hypot(self.spread * self.fraction * stature, self.fraction * stature_u, self.u)


# Breadths of shoulders and hips were tried, which spread by 8 to 12 % as marked, and made no ± usefully
# narrower. Thighs and shanks are left out by estimate: they lie near the subject plane, where a length says
# less of depth than postures do. Upper arms were tried with all else below: they took a tenth off the angle
# at an elbow face-on and nothing off it down the line.
FOREARMS: tuple[Part, ...] = tuple(
    Part(f"the {side} forearm", (f"{side}-wrist", f"{side}-elbow"), FOREARM, LIMB_SPREAD)
    for side in ("lead", "trail")
)
HANDS: tuple[Part, ...] = tuple(
    Part(f"the {side} hand", (f"{side}-wrist", GRIP), TO_THE_GRIP, u=TO_THE_GRIP_U)
    for side in ("lead", "trail")
)


def club(length: float) -> Part:
    """The club from where the hands meet to its head. length: of all of it, from end to sole, m."""
    return Part("the club", (GRIP, HEAD), 0.0, more=length - ABOVE_THE_GRIP, u=CLUB_U)
