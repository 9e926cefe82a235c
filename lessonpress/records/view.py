"""From where a clip was filmed, and which way is positive in its picture."""

from __future__ import annotations

from typing import Literal

View = Literal["face-on", "from-behind", "down-the-line", "from-target", "overhead"]
Hand = Literal["right", "left"]
Side = Literal["left", "right", "into", "out-of"]
VIEWS: tuple[View, ...] = ("face-on", "from-behind", "down-the-line", "from-target", "overhead")

# (view, hand) -> where the ball flies in the picture, and the side of the picture toward which the
# level axis is positive: +1 the right, -1 the left. Face-on and from behind the level axis runs toward
# the target; where the target lies into or out of the picture it runs toward the ball.
FLIGHT: dict[tuple[View, Hand], tuple[Side, int]] = {
    ("face-on", "right"): ("right", +1),
    ("face-on", "left"): ("left", -1),
    ("from-behind", "right"): ("left", -1),
    ("from-behind", "left"): ("right", +1),
    ("down-the-line", "right"): ("into", +1),
    ("down-the-line", "left"): ("into", -1),
    ("from-target", "right"): ("out-of", -1),
    ("from-target", "left"): ("out-of", +1),
}


def positive_right(view: View, hand: Hand, target: Side | None = None) -> int:
    """+1 where the level axis is positive to the right of the picture, -1 where it is to the left.

    target: where the ball flies as the card says it, which only a picture from overhead leaves open; without
    it the right.
    """
    if view == "overhead":
        return -1 if target == "left" else +1
    return FLIGHT[view, hand][1]


def level_goal(view: View) -> Literal["target", "ball"]:
    """What the level axis of a view runs toward."""
    return "ball" if view in ("down-the-line", "from-target") else "target"
