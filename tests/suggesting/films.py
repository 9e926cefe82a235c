"""The studio's films on which errors of suggested marks are learnt, and those kept back.

They are parted by golfer: all that is learnt was learnt of Dune and of fourteen golfers of the gallery, and
all that is shown was found on Shingle, another build, another swing, other clothes, left-handed, and on ten
other golfers of the gallery. All are drawn figures; of real golfers with known joints there is no film here.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from lessonpress.footage.pose.sides import ACROSS
from lessonpress.footage.video.index import read_index
from lessonpress.footage.video.pictures import take_pictures
from lessonpress.records.view import Hand, View
from tests.studio.body import Swinger
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import STUDIO_CAMERA, MadeClip, make_clip, seen
from tests.studio.draw import Film, film_of
from tests.studio.swingers import DUNE, SHINGLE, practised
from tests.suggesting.gallery import golfer

ROOT = Path(__file__).parents[2]
Floats = NDArray[np.float64]
Picture = NDArray[np.uint8]

# nearer, higher, and from the side of the ball's flight
ASKEW = looking_at((0.05, 0.92, 0.0), (0.9, 1.25, 5.2), Camera(focal=1400.0))
CLICK = 0.7  # px, deviation of a click on each axis
DRAWN = 100  # pictures of each quickly drawn film of the two swingers, some 55 a second
OF_GALLERY = 60  # of each golfer of the gallery, some 30 a second


@dataclass(frozen=True)
class Filmed:
    """pictures: (frame, RGB). px: each mark's true place, (n, 2). view, hand: as on the clip's card. events:
    the frame of each. seconds: the real time of each picture. rendered: whether it is one of the demo's.
    made: writes a quickly drawn one as a clip into a site, the marks of its room clicked.
    """

    name: str
    golfer: str
    view: View
    hand: Hand
    pictures: Iterator[tuple[int, Picture]]
    px: dict[str, Floats]
    events: dict[str, int]
    seconds: tuple[float, ...]
    rendered: bool = False
    made: Callable[[Path], MadeClip] | None = None

    @property
    def clicked(self) -> tuple[int, ...]:
        """Where an author clicks: the frames of events, ascending."""
        return tuple(sorted(self.events.values()))


def rendered(name: str, view: View, hand: Hand) -> Filmed:
    """A film of the demo."""
    truth = json.loads((ROOT / f"tests/studio/truth/{name}.json").read_text(encoding="utf-8"))
    video = ROOT / f"content/clips/{name}/{name}.mp4"
    index = read_index(video)
    px = {mark: np.array(places) for mark, places in truth["px"].items()}
    pictures = take_pictures(video, index, range(len(index)))
    golfer, seconds = name.partition("-")[0].capitalize(), tuple(truth["times"])
    return Filmed(name, golfer, view, hand, pictures, px, truth["events"], seconds, rendered=True)


def drawn(
    name: str,
    swinger: Swinger,
    view: View,
    camera: Camera = STUDIO_CAMERA,
    noise: float = 0.0,
    count: int = DRAWN,
    **how: object,
) -> Filmed:
    """A film by the quick renderer, of as many pictures at equal distances in time. how: as of `film_of`."""
    film = film_of(swinger, camera, view, noise=noise, **how)
    times = np.linspace(0, swinger.duration, count, endpoint=False)
    how |= {"view": view, "times": times, "rate": count / swinger.duration, "noise": noise}
    made = partial(make_clip, swinger=swinger, camera=camera, placed=(), clicks=CLICK, **how)
    return replace(of_swinger(name, swinger, view, film, times), made=made)


def of_swinger(name: str, swinger: Swinger, view: View, film: Film, times: Floats) -> Filmed:
    """What a quickly drawn film shows. times: of its pictures, s; an event is at the nearest."""
    events = {event: int(np.abs(times - at).argmin()) for event, at in swinger.events.items()}
    pictures, seconds = enumerate(film.pictures(times.tolist())), tuple(times.tolist())
    return Filmed(name, swinger.name, view, swinger.hand, pictures, seen(film, times), events, seconds)


def of_gallery(number: int, view: View) -> Filmed:
    """A film of a golfer of the gallery."""
    one = golfer(number)
    name = f"golfer {number}, drawn, {view}"
    how = {"clothes": one.clothes, "room": one.room}
    return drawn(name, one.swinger, view, one.camera, one.noise, OF_GALLERY, **how)


def gallery(numbers: Iterable[int]) -> Iterator[partial[Filmed]]:
    """Each golfer from the front, every second one from behind, the others along the target line."""
    for number in numbers:
        yield partial(of_gallery, number, "face-on")
        yield partial(of_gallery, number, "from-behind" if number % 2 else "down-the-line")
        if number % 4 == 1:
            yield partial(of_gallery, number, "from-target")


LEARNT = (
    partial(rendered, "dune-face-on", "face-on", "right"),
    partial(rendered, "dune-in-the-hand", "face-on", "right"),
    partial(rendered, "dune-down-the-line", "down-the-line", "right"),
    partial(drawn, "dune, drawn, face-on", DUNE, "face-on"),
    partial(drawn, "dune, drawn, from behind", DUNE, "from-behind"),
    partial(drawn, "dune, drawn, down the line", DUNE, "down-the-line"),
    *gallery(range(1, 15)),
)
HELD = (
    partial(rendered, "shingle-face-on", "face-on", "left"),
    partial(rendered, "shingle-outdoors", "face-on", "left"),
    partial(rendered, "shingle-second-week", "face-on", "left"),
    partial(rendered, "shingle-third-week", "face-on", "left"),
    partial(rendered, "shingle-fourth-week", "face-on", "left"),
    partial(drawn, "shingle, drawn, face-on", SHINGLE, "face-on"),
    partial(drawn, "shingle, drawn, from behind", SHINGLE, "from-behind"),
    partial(drawn, "shingle, drawn, askew", practised(0.5), "face-on", ASKEW, 6.0),
    partial(drawn, "shingle, drawn, down the line", SHINGLE, "down-the-line"),
)
# of those kept back, the ones by the slow renderer, and of these two whole swings on which marks are carried
RENDERED = HELD[:5]
CARRIED = HELD[:2]
# the drawn ones across the target line, on which nothing of carrying was chosen
DRAWN_TOO = HELD[5:8]
# golfers of the gallery with whom nothing was learnt
OTHERS = tuple(gallery(range(101, 111)))
OTHERS_ACROSS = tuple(film for film in OTHERS if film.args[1] in ACROSS)
