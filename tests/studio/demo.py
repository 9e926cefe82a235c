"""The demo site's clips: which swinger, camera and clock each one has, and how their files are written.

    python -m tests.studio.demo dune-face-on                    # quick film, marks, tracks, truth
    python -m tests.studio.demo dune-face-on --frames FOLDER    # the same from rendered pictures

Cards are written by hand in content/clips/; what they say of the camera is checked against the table here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

import click
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from lessonpress.records.view import View
from tests.studio.body import Swinger
from tests.studio.camera import Camera, Sway, looking_at
from tests.studio.clip import MadeClip, frame_times, seen, write_marks, write_tracks, write_truth
from tests.studio.draw import Film, film_of
from tests.studio.film import BT709, LIMITED, encode
from tests.studio.room import INCH, Room
from tests.studio.swingers import DUNE, SHINGLE, practised
from tests.studio.truth import truth_of

ROOT = Path(__file__).resolve().parents[2]
FEET = 12 * INCH
FPS = 30
FAST = ("implement-head", "lead-wrist", "trail-wrist", "navel", "c7", "head")
PORTRAIT = looking_at((0.03, 1.0, 0.0), (0.03, 1.05, 14 * FEET), Camera(focal=1182.0, size=(720, 800)))


@dataclass(frozen=True)
class Demo:
    """rate: [(from frame, pictures a second of real time), …]. more: further events, by frame.

    shutter: s of exposure. outdoors: a hedge and sky instead of the wall. until: s, where the film stops
    before the swing does. played: pictures a second of the file.
    """

    name: str
    swinger: Swinger
    view: View
    camera: Camera
    rate: tuple[tuple[int, float], ...]
    more: Mapping[str, int] = field(default_factory=dict)
    room: Room = field(default_factory=Room)
    shutter: float = 1 / 1000
    outdoors: bool = False
    until: float | None = None
    played: int = FPS

    @property
    def times(self) -> NDArray[np.float64]:
        return frame_times(self.until or self.swinger.duration, self.rate)

    @property
    def standing(self) -> list[str]:
        """The room's marks that this clip shows; out of doors there is no wall to tape a rectangle on."""
        return [name for name in self.room.marks if not (self.outdoors and name.startswith("wall-"))]

    def film(self) -> Film:
        return film_of(self.swinger, self.camera, self.view, room=self.room)

    def made(self, folder: Path) -> MadeClip:
        times = self.times
        shown = {e: t for e, t in self.swinger.events.items() if t <= times[-1]}
        events = {e: int(np.argmin(np.abs(times - t))) for e, t in shown.items()}
        events = dict(sorted({**events, **self.more}.items(), key=lambda event: event[1]))
        truth = truth_of(self.swinger, self.camera, self.view)
        px = seen(self.film(), times)
        return MadeClip(self.name, folder, folder / f"{self.name}.mp4", self.camera, times, events, truth, px)


# rendered as DUNE swings, its clock slowed from the top on: a 7-iron comes down at some 80 mph, not 100
UNHURRIED = replace(DUNE, downswing=0.300, joined=(DUNE.backswing, DUNE.downswing))
CLOCK = ((0.0, 0.0), (0.85, 0.85), (1.15, 1.10), (2.35, 2.10))  # its seconds, and those of DUNE's swing
RAMP = ((0, 30.0), (25, 240.0), (29, 200.0), (97, 25.0))
HALF_RAMP = ((0, 30.0), (25, 120.0), (27, 100.0), (61, 25.0))


def week(name: str, learnt: float) -> Demo:
    """Shingle again: a burst of stills, twenty a second, from setup to just after the ball."""
    return Demo(name, practised(learnt), "face-on", PORTRAIT, ((0, 20.0),), until=1.3, played=20)


DEMOS = {
    demo.name: demo
    for demo in (
        Demo(
            "dune-face-on",
            UNHURRIED,
            "face-on",
            PORTRAIT,
            RAMP,
            more={"halfway": 17, "delivery": 65, "release": 77},
        ),
        Demo(
            "shingle-face-on",
            SHINGLE,
            "face-on",
            PORTRAIT,
            ((0, 30.0), (28, 120.0), (70, 30.0)),
            more={"delivery": 52, "release": 59},
        ),
        Demo(
            "dune-down-the-line",
            UNHURRIED,
            "down-the-line",
            looking_at((0.30, 1.0, 0.0), (0.30, 1.10, 14 * FEET), replace(PORTRAIT, focal=1182.0)),
            HALF_RAMP,
            more={"delivery": 45},
            room=Room(stick=-0.75, across=0.25),
        ),
        Demo(
            "dune-in-the-hand",
            UNHURRIED,
            "face-on",
            replace(PORTRAIT, sway=Sway(0.016, 0.30, seed=8, clock=CLOCK)),
            HALF_RAMP,
            more={"delivery": 45},
        ),
        Demo(
            "shingle-outdoors",
            SHINGLE,
            "face-on",
            looking_at((-0.03, 1.0, 0.0), (-0.10, 1.45, 15 * FEET), replace(PORTRAIT, focal=1240.0)),
            ((0, 30.0), (28, 60.0), (49, 30.0)),
            room=Room(cord=0.0),
            outdoors=True,
        ),
        week("shingle-second-week", 0.15),
        week("shingle-third-week", 0.40),
        week("shingle-fourth-week", 0.65),
    )
}


def write_clip(demo: Demo, pictures: Iterator[NDArray[np.uint8]], content: Path, truth: Path) -> MadeClip:
    """Film, marks, tracks and truth of a demo clip."""
    folder = content / "clips" / demo.name
    folder.mkdir(parents=True, exist_ok=True)
    clip = demo.made(folder)
    crf = "17" if demo.camera.sway else "15"  # where every pixel moves, grain takes most of the bytes
    options = {"preset": "slow", "crf": crf, "tune": "film"}
    encode(clip.video, pictures, fps=demo.played, options=options, matrix=BT709, colour_range=LIMITED, gop=30)
    body = [name for name in clip.px if name not in demo.room.marks]
    frames = sorted(clip.events.values())
    write_marks(folder / "marks.yaml", clip.px, body, frames, demo.standing, digits=1, size=demo.camera.size)
    write_tracks(folder / "tracks.csv", clip.px, FAST, demo.camera.size)
    truth.mkdir(parents=True, exist_ok=True)
    write_truth(truth / f"{demo.name}.json", clip)
    return clip


def rendered(folder: Path, count: int) -> Iterator[NDArray[np.uint8]]:
    """Pictures 0000.png, 0001.png, … of a folder."""
    for number in range(count):
        with Image.open(folder / f"{number:04d}.png") as image:
            yield np.asarray(image.convert("RGB"))


@click.command()
@click.argument("name", type=click.Choice(sorted(DEMOS)))
@click.option("--frames", type=click.Path(exists=True, file_okay=False, path_type=Path))
def main(name: str, frames: Path | None) -> None:
    """Write the files of one demo clip into content/clips/ and tests/studio/truth/."""
    demo = DEMOS[name]
    times = demo.times
    pictures = demo.film().pictures(times.tolist()) if frames is None else rendered(frames, len(times))
    clip = write_clip(demo, pictures, ROOT / "content", ROOT / "tests" / "studio" / "truth")
    click.echo(f"{clip.name}: {len(times)} pictures, {clip.video.stat().st_size / 1e6:.2f} MB, {clip.events}")


if __name__ == "__main__":
    main()
