"""The studio as a photograph would show it, ready for a drill: a foam tube beside the places of the feet.

    PYTHONPATH=. python -m tests.studio.photograph content/pictures/foam-tube.jpg

in the environment that `render` needs. It takes some two minutes of one processor.
"""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

import bpy
import click
from PIL import Image

from tests.studio import scene
from tests.studio.camera import Camera
from tests.studio.demo import DEMOS
from tests.studio.render import set_up
from tests.studio.room import INCH

CAMERA = Camera(position=(0.55, 1.5, 3.5), yaw=-12.0, pitch=17.0, focal=1500.0, size=(1600, 1066))
FEET = (-0.2, 0.2)  # r of their middles, m
TUBE = -0.46  # r of the tube: a hand's width outside the lead foot of a left-handed player


def build() -> None:
    """On the mat: a strip of tape for each foot, and the tube on its wooden foot."""
    tape = scene.paint("foot tape", (0.80, 0.78, 0.70), 0.7)
    for r in FEET:
        scene.box((r - 0.012, 0.018, -0.10), (r + 0.012, 0.020, 0.18), tape, 0)
    wood = scene.paint("tube foot", (0.36, 0.22, 0.11), 0.5, grain=0.2)
    scene.box((TUBE - 0.12, 0.018, -0.12), (TUBE + 0.12, 0.05, 0.12), wood, 0.004)
    foam = scene.paint("foam", (0.05, 0.20, 0.32), 0.95, grain=0.4, grain_scale=200)
    scene.pole((TUBE, 0.05, 0.0), (TUBE, 46 * INCH, 0.0), 0.034, foam)


@click.command()
@click.argument("out", type=click.Path(path_type=Path))
@click.option("--samples", default=12)
def main(out: Path, samples: int) -> None:
    """Render the photograph to OUT, a JPEG."""
    made = set_up(replace(DEMOS["shingle-face-on"], camera=CAMERA), samples, 1)
    build()
    scene.aim(made, CAMERA)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "photograph.png"
        bpy.context.scene.render.filepath = str(path)
        bpy.ops.render.render(write_still=True)
        with Image.open(path) as picture:
            picture.convert("RGB").save(out, quality=88, progressive=True, optimize=True)


if __name__ == "__main__":
    main()
