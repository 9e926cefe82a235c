"""The signs at the ends of strokes and on marks: each a size of its own in CSS px, whatever the picture's.

A sign is drawn about (0, 0) with its angle along +x, and a group moves and turns it into place.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from lessonpress.drawing.palette import CASING, COLOURS, EDGE, INK, PAPER, inlaid
from lessonpress.drawing.paper import Element, circle, fine, group, n, path
from lessonpress.drawing.strokes.strokes import stroke
from lessonpress.overlays import Colour, Pen, Sign, SignAt
from lessonpress.records import Point

Drawer = Callable[[Colour, float], list[Element]]
ORIGIN = (0.0, 0.0)
FINE = 1.2  # CSS px, the core of a grid's crosses


def dot(colour: Colour, radius: float) -> list[Element]:
    return [_ground(radius), circle(radius, ORIGIN, fill=COLOURS[colour], **_rim(colour))]


def hollow(colour: Colour, radius: float) -> list[Element]:
    return [_ground(radius), circle(radius, fill=PAPER, stroke=INK, stroke_width="1.8")]


def bob(colour: Colour, length: float) -> list[Element]:
    d = _bob_data(length / 14)
    return [_cased(d, 0.5), path(d, fill=COLOURS[colour], **_rim(colour))]


def hollow_bob(colour: Colour, length: float) -> list[Element]:
    d = _bob_data(length / 14)
    return [_cased(d, 1.8), path(d, fill=PAPER, stroke=INK, stroke_width="1.8", stroke_linejoin="round")]


def barb(colour: Colour, length: float) -> list[Element]:
    """A head whose tip is the point, 4/5 as wide as long, its back cut in."""
    wide, back = 0.4 * length, barb_depth(length)
    d = f"M0 0L{n(-length)} {n(wide)}L{n(-back)} 0L{n(-length)} {n(-wide)}Z"
    return [_cased(d, 0.9), path(d, fill=COLOURS[colour], **_rim(colour))]


def barb_depth(length: float) -> float:
    """How far behind its tip a barbed head's back is cut in: where its stroke has to end."""
    return 0.74 * length


def stop(colour: Colour, length: float) -> list[Element]:
    return list(stroke(f"M0 {n(-length / 2)}V{n(length / 2)}", Pen(colour)))


def tick(colour: Colour, length: float) -> list[Element]:
    return list(stroke(f"M1 0H{n(1 + length)}", Pen(colour)))


def oblique(colour: Colour, length: float) -> list[Element]:
    """A slash across the end of a dimension line, leaning as a drafter draws it."""
    x, y = 0.31 * length, 0.39 * length
    return list(stroke(f"M{n(-x)} {n(y)}L{n(x)} {n(-y)}", Pen(colour, 2.6)))


def cross(colour: Colour, length: float) -> list[Element]:
    arm = n(length / 2)
    return list(stroke(f"M-{arm} 0H{arm}M0 -{arm}V{arm}", Pen(colour, 2.0)))


def disc(colour: Colour, radius: float) -> list[Element]:
    """A quartered disc, the drafter's sign of a centre of mass."""
    r = n(radius)
    quarters = f"M0 0V-{r}A{r} {r} 0 0 1 {r} 0ZM0 0V{r}A{r} {r} 0 0 1 -{r} 0Z"
    return [
        _ground(radius),
        circle(radius, fill=COLOURS[colour]),
        path(quarters, fill=INK),
        circle(radius, fill="none", stroke=INK, stroke_width="1.8"),
    ]


# sign -> who draws it, and its usual radius (round signs) or length, CSS px
SIGNS: dict[Sign, tuple[Drawer, float]] = {
    "dot": (dot, 3.6),
    "hollow": (hollow, 3.6),
    "bead": (dot, 2.7),
    "bob": (bob, 14.0),
    "hollow-bob": (hollow_bob, 14.0),
    "barb": (barb, 15.0),
    "stop": (stop, 10.0),
    "tick": (tick, 6.0),
    "oblique": (oblique, 10.0),
    "cross": (cross, 16.0),
    "disc": (disc, 7.0),
}
ROUND = frozenset({"dot", "hollow", "bead", "disc"})
UPRIGHT = ROUND | {"cross"}  # these look the same whichever way they point, or must not turn


def size_of(sign: SignAt) -> float:
    return SIGNS[sign.sign][1] if sign.size is None else sign.size


def draw_sign(sign: SignAt, origin: Point) -> Element:
    """The sign at its CSS point; `origin` is the picture's point, written into the group for checks."""
    drawer, _ = SIGNS[sign.sign]
    position = f"translate({n(sign.at[0])},{n(sign.at[1])})"
    turn = "" if sign.sign in UPRIGHT or n(sign.angle) == "0" else f" rotate({n(sign.angle)})"
    return group(
        drawer(sign.colour, size_of(sign)),
        {"x": fine(origin[0]), "y": fine(origin[1])},
        class_=sign.sign,
        transform=position + turn,
    )


def draw_lattice(signs: Sequence[SignAt]) -> list[Element]:
    """Crosses of one colour and size as one stroke."""
    arm, places = size_of(signs[0]) / 2, [sign.at for sign in signs]
    d = "".join(f"M{n(x - arm)} {n(y)}h{n(2 * arm)}M{n(x)} {n(y - arm)}v{n(2 * arm)}" for x, y in places)
    return list(stroke(d, Pen(signs[0].colour, FINE)))


def _bob_data(k: float) -> str:
    """A plumb bob hanging along +x: shoulders 5 before the point, tip 9 after, 9 wide, times k."""
    points = ((-5, -4.5), (-5, 4.5), (0, 3.6), (9, 0), (0, -3.6))
    return "M" + "L".join(f"{n(x * k)} {n(y * k)}" for x, y in points) + "Z"


def _ground(radius: float) -> Element:
    return circle(radius + 1.8, fill=PAPER)


def _cased(d: str, rim: float) -> Element:
    return path(d, fill=PAPER, stroke=PAPER, stroke_width=fine(rim + 2 * CASING), stroke_linejoin="round")


def _rim(colour: Colour) -> dict[str, str]:
    """The edge of a filled sign: of ink for colours that need one on paper, else none."""
    if not EDGE[colour]:
        return {}
    return {"stroke": INK, "stroke_width": "1.8" if inlaid(colour) else "1", "stroke_linejoin": "round"}
