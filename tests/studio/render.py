"""Render a demo clip's pictures with Cycles on the processor; resumable, one picture a file.

    PYTHONPATH=. python -m tests.studio.render dune-face-on OUT     # all pictures, skipping those there
    PYTHONPATH=. python -m tests.studio.render dune-face-on OUT --only impact --only 65

then `python -m tests.studio.demo dune-face-on --frames OUT` puts the film, marks and truth in their places.
"""

from __future__ import annotations

import shutil
import time
from dataclasses import replace
from pathlib import Path

import bpy
import click
import numpy as np
from PIL import Image

from tests.studio import scene
from tests.studio.body import marks_at
from tests.studio.camera import Camera
from tests.studio.demo import DEMOS, Demo
from tests.studio.join import lay_over


def set_up(demo: Demo, samples: int, threads: int) -> bpy.types.Object:
    """An empty file with the room, its light and the camera; returns the camera."""
    bpy.ops.wm.read_factory_settings(use_empty=True)
    drawn = bpy.context.scene
    if demo.outdoors:
        scene.build_meadow(demo.room)
        scene.light_meadow()
    else:
        scene.build_room(demo.room)
        scene.light_room()
    drawn.render.engine = "CYCLES"
    drawn.cycles.device = "CPU"
    drawn.cycles.samples = samples
    drawn.cycles.use_adaptive_sampling = True
    drawn.cycles.adaptive_threshold = 0.03
    drawn.cycles.use_denoising = True
    drawn.cycles.denoising_prefilter = "FAST"
    drawn.cycles.denoising_quality = "FAST"
    drawn.cycles.max_bounces = 3
    drawn.cycles.caustics_reflective = drawn.cycles.caustics_refractive = False
    drawn.render.threads_mode, drawn.render.threads = "FIXED", threads
    drawn.render.use_persistent_data = True
    drawn.render.resolution_x, drawn.render.resolution_y = demo.camera.size
    drawn.render.resolution_percentage = 100
    drawn.render.motion_blur_shutter = 2.0  # the keyframes at 0 and 2 are the ends of the exposure
    drawn.view_settings.view_transform = "Filmic"
    drawn.view_settings.look = "High Contrast"
    drawn.view_settings.exposure = -0.85
    drawn.render.image_settings.file_format = "PNG"
    drawn.render.image_settings.color_mode = "RGB"
    return scene.add_camera()


def render(demo: Demo, frames: list[int], out: Path, samples: int, threads: int, step: float) -> None:
    """The empty room is rendered once, well, and hung in the place of the wall. Where the camera is
    still, each picture is rendered only where the figure and its shadow can be, and laid over that room."""
    out.mkdir(parents=True, exist_ok=True)
    wanted = [frame for frame in frames if not (out / f"{frame:04d}.png").exists()]
    if not wanted:
        return
    camera = set_up(demo, samples, threads)
    room = _empty_room(demo, camera, out, samples)
    plate = None if demo.camera.sway else room
    drawn = bpy.context.scene
    events = demo.made(out).events.values()
    for frame in wanted:
        began = time.monotonic()
        t = float(demo.times[frame])
        if plate is not None and frame and _same(demo, frame) and (out / f"{frame - 1:04d}.png").exists():
            shutil.copyfile(out / f"{frame - 1:04d}.png", out / f"{frame:04d}.png")
            continue
        figure = scene.add_figure(demo, t, step)
        scene.aim(camera, demo.camera.at(t))
        drawn.frame_set(1)
        drawn.render.use_motion_blur = _moves(demo, t)
        # plates show the events' pictures; the others pass by in a loop
        drawn.cycles.samples = 4 * samples if frame in events else samples
        if plate is not None:
            _only(scene.touched(figure, demo, demo.camera), demo.camera.size)
        part = out / f"{frame:04d}.part.png"
        _shoot(part)
        if plate is not None:
            lay_over(plate, part, scene.touched(figure, demo, demo.camera))
        part.rename(out / f"{frame:04d}.png")
        for thing in figure:
            data = thing.data
            bpy.data.objects.remove(thing)
            bpy.data.meshes.remove(data)
        for action in list(bpy.data.actions):
            bpy.data.actions.remove(action)
        print(
            f"{demo.name} {frame:04d} {time.monotonic() - began:.1f} s, {time.process_time():.0f} s of work",
            flush=True,
        )


def _empty_room(demo: Demo, camera: bpy.types.Object, out: Path, samples: int) -> Image.Image:
    """The empty room's picture, kept beside the others and hung up behind what they will show.

    For a camera that a hand moves it is taken wider than the pictures, and sharp: they blur it themselves.
    """
    path, linear = out / "plate.png", out / "plate.exr"
    moved = demo.camera.sway is not None
    taken = _wider(demo.camera, 16) if moved else demo.camera
    drawn = bpy.context.scene
    if not path.exists() or not linear.exists():
        drawn.render.resolution_x, drawn.render.resolution_y = taken.size
        scene.aim(camera, taken)
        camera.data.dof.use_dof = not moved
        drawn.render.use_motion_blur = False
        drawn.cycles.samples = 12 * samples
        _shoot(path)
        drawn.cycles.samples = samples
        drawn.render.image_settings.file_format = "OPEN_EXR"
        bpy.data.images["Render Result"].save_render(str(linear), scene=drawn)
        drawn.render.image_settings.file_format = "PNG"
        drawn.render.resolution_x, drawn.render.resolution_y = demo.camera.size
    scene.hang_backdrop(linear, taken, demo.room.wall)
    with Image.open(path) as image:
        return image.convert("RGB")


def _wider(camera: Camera, margin: int) -> Camera:
    """The camera as it is at first, seeing so many px more on every side."""
    (width, height), (x, y) = camera.size, camera.middle
    size = (width + 2 * margin, height + 2 * margin)
    return replace(camera, sway=None, size=size, centre=(x + margin, y + margin))


def _shoot(path: Path) -> None:
    bpy.context.scene.render.filepath = str(path)
    bpy.ops.render.render(write_still=True)


def _only(box: scene.Box, size: tuple[int, int]) -> None:
    """Render no more than a box of the picture."""
    drawn = bpy.context.scene.render
    left, top, right, bottom = box
    drawn.use_border, drawn.use_crop_to_border = True, True
    # the renderer cuts fractions off: half a pixel more keeps whole ones whole
    drawn.border_min_x, drawn.border_max_x = (left + 0.5) / size[0], (right + 0.5) / size[0]
    drawn.border_min_y = (size[1] - bottom + 0.5) / size[1]
    drawn.border_max_y = (size[1] - top + 0.5) / size[1]


def _same(demo: Demo, frame: int) -> bool:
    """Whether nothing at all has moved since the picture before."""
    now, before = (marks_at(demo.swinger, float(demo.times[f])) for f in (frame, frame - 1))
    gone = {"ball"} if np.linalg.norm(before["ball"]) > 6 else set()
    return all(np.allclose(now[name], before[name], atol=1e-6) for name in now if name not in gone)


def _moves(demo: Demo, t: float) -> bool:
    """Whether the clubhead smears over more than a pixel or so during the exposure."""
    a, b = (
        demo.swinger.motion.pose(t + side * demo.shutter / 2).joints["implement-head"] for side in (-1, 1)
    )
    return bool(((a - b) ** 2).sum() ** 0.5 > 0.003)


@click.command()
@click.argument("name", type=click.Choice(sorted(DEMOS)))
@click.argument("out", type=click.Path(file_okay=False, path_type=Path))
@click.option("--only", multiple=True, help="An event or a frame number; may be repeated.")
@click.option("--samples", default=1, show_default=True)
@click.option("--threads", default=1, show_default=True)
@click.option("--step", default=0.012, show_default=True, help="Fineness of cloth, m.")
def main(name: str, out: Path, only: tuple[str, ...], samples: int, threads: int, step: float) -> None:
    """Render the pictures of one demo clip into OUT as 0000.png, 0001.png, …"""
    demo = DEMOS[name]
    events = demo.made(out).events
    frames = [int(o) if o.isdigit() else events[o] for o in only] or list(range(len(demo.times)))
    render(demo, frames, out, samples, threads, step)


if __name__ == "__main__":
    main()
