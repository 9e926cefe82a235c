"""Golfers of many builds, swings and clothes, each filmed by a camera of its own: what one golfer has, and
others have not, is not taken for the network's.

Drawn quickly and seeded, each from its number alone. Spreads of builds and swings are those of
`tests/studio/variation.py`; clothes, light and cameras are our own choice.
"""

from __future__ import annotations

import colorsys
from dataclasses import dataclass, replace

import numpy as np

from tests.studio.body import Swinger
from tests.studio.camera import Camera, looking_at
from tests.studio.draw import Clothes, Rgb
from tests.studio.room import Room
from tests.studio.variation import another_body, of_other_proportions, swung_again

UNLIKE = 2.0  # times what two swings of one golfer differ by: these are swings of two
SKINS = ((236, 196, 170), (214, 168, 134), (172, 122, 88), (120, 80, 56), (84, 56, 42))
HEIGHT = 720  # of the picture, px
REACHED = 1.01  # straightness of a limb at the most, as of the two drawn swingers


@dataclass(frozen=True)
class Golfer:
    """One of the gallery. noise: of the picture, standard deviation in grey levels."""

    swinger: Swinger
    clothes: Clothes
    camera: Camera
    room: Room
    noise: float


def golfer(number: int) -> Golfer:
    """The golfer of this number, the same each time."""
    rng = np.random.default_rng([number, 29])
    body = _body(rng)
    body = replace(
        body,
        name=f"Golfer-{number}",
        hand="left" if rng.random() < 0.3 else "right",
        girth=float(rng.uniform(0.9, 1.3)),
        backswing=float(rng.uniform(0.65, 1.0)),
        downswing=float(rng.uniform(0.22, 0.32)),
        joined=(body.backswing, body.downswing),
        lead_flare=float(rng.uniform(5, 35)),
    )
    room = Room(stick=-1.25, seed=int(rng.integers(1000)), across=float(rng.uniform(-0.6, 0.6)))
    return Golfer(body, _clothes(rng), _camera(rng, body), room, float(rng.uniform(0, 6)))


def _body(rng: np.random.Generator) -> Swinger:
    """Drawn anew while a limb would be out of reach."""
    while True:
        body = swung_again(of_other_proportions(another_body(rng), rng), rng, UNLIKE)
        if max(body.motion.pose(t).strain for t in np.linspace(0, body.duration, 40)) <= REACHED:
            return body


def _camera(rng: np.random.Generator, body: Swinger) -> Camera:
    """At hip to head height, not quite square to the golfer, who fills 62 to 80 % of the picture."""
    aside, high, far = rng.normal(0, 0.3), rng.uniform(0.8, 1.5), rng.uniform(3.6, 5.5)
    focal = rng.uniform(0.62, 0.80) * HEIGHT * far / body.stature
    return looking_at((0.05, 0.5 * body.stature, 0.0), (0.05 + aside, high, far), Camera(focal=float(focal)))


def _clothes(rng: np.random.Generator) -> Clothes:
    shirt, trousers, cap, shoe = (_cloth(rng) for _ in range(4))
    skin = SKINS[int(rng.integers(len(SKINS)))]
    return Clothes(shirt, _darker(shirt), trousers, _darker(trousers), skin, cap, shoe)


def _cloth(rng: np.random.Generator) -> Rgb:
    """Mostly muted, as light as it comes."""
    hue, colour, light = rng.random(), 0.7 * rng.random() ** 2, rng.uniform(0.12, 0.95)
    red, green, blue = (round(255 * one) for one in colorsys.hsv_to_rgb(hue, colour, light))
    return red, green, blue


def _darker(cloth: Rgb) -> Rgb:
    red, green, blue = (round(0.9 * one) for one in cloth)
    return red, green, blue
