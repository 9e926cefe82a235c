"""A press from nothing against the bare work that it cannot do without: python -m tests.bench.floor [SITE]

The floor is what the libraries take, s of processor, in bare loops of one process:

- each clip decoded once by PyAV;
- each picture of the pressed site, loops among them, written again with its own settings by Pillow or PyAV,
  from pixels that are there;
- each lesson and page rendered once by markdown-it;
- each page's template rendered once by jinja2 with what the press gave it.

Against it stands a press of a copy of the site without its cache, by one worker. What it does beside that
`tests.bench.stages` says.
"""

from __future__ import annotations

import argparse
import io
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

import av
import jinja2
from markdown_it import MarkdownIt
from PIL import Image

from lessonpress.drawing.pictured import EFFORT
from lessonpress.footage.video.filmstrip import SETTINGS
from lessonpress.press import press
from lessonpress.press.pictures import METHOD, QUALITY
from lessonpress.press.progress import Silent
from tests.bench.stages import DEMO, processor

VIDEOS = (".mp4", ".mov", ".webm", ".mkv")


@dataclass(frozen=True)
class Row:
    """What a part of the floor takes. count: of what is done."""

    name: str
    count: int
    seconds: float


def timed(name: str, works: Iterator[Callable[[], object]]) -> Row:
    """Each work done; what has to be there for it is made ready outside of its time."""
    count, seconds = 0, 0.0
    for work in works:
        began = time.process_time()
        work()
        seconds += time.process_time() - began
        count += 1
    return Row(name, count, seconds)


def decoded(site: Path) -> Iterator[Callable[[], object]]:
    for video in sorted(site.glob("clips/*/*")):
        if video.suffix.lower() in VIDEOS:
            yield lambda video=video: _play(video)  # type: ignore[misc]


def _play(video: Path) -> None:
    with av.open(str(video)) as container:
        for _ in container.decode(video=0):
            pass


def encoded(pressed: Path) -> Iterator[Callable[[], object]]:
    """Every picture that is in the site, each once."""
    seen: set[bytes] = set()
    for path in sorted(pressed.rglob("*")):
        if path.suffix not in (".webp", ".png"):
            continue
        content = path.read_bytes()
        if (hashed := sha256(content).digest()) not in seen:
            seen.add(hashed)
            yield _saving(Image.open(io.BytesIO(content)), path.suffix)


def _saving(picture: Image.Image, suffix: str) -> Callable[[], object]:
    picture.load()
    how: dict[str, Any] = {"compress_level": EFFORT}
    if suffix == ".webp":
        how = {"quality": QUALITY, "method": METHOD}
    return lambda: picture.save(io.BytesIO(), "WEBP" if suffix == ".webp" else "PNG", **how)


def loops(pressed: Path) -> Iterator[Callable[[], object]]:
    for path in sorted(pressed.rglob("*.mp4")):
        with av.open(str(path)) as container:
            rate = container.streams.video[0].average_rate
            pictures = [frame.to_ndarray(format="yuv420p") for frame in container.decode(video=0)]
        yield lambda pictures=pictures, rate=rate: _write(pictures, rate)  # type: ignore[misc]


def _write(pictures: list[Any], rate: Any) -> None:
    with av.open(io.BytesIO(), "w", format="mp4") as container:
        stream = container.add_stream("libx264", rate=rate, options=dict(SETTINGS))
        stream.height, stream.width = pictures[0].shape[0] * 2 // 3, pictures[0].shape[1]
        for picture in pictures:
            container.mux(stream.encode(av.VideoFrame.from_ndarray(picture, format="yuv420p")))
        container.mux(stream.encode())


def written(site: Path) -> Iterator[Callable[[], object]]:
    parser = MarkdownIt()
    for path in [*sorted(site.glob("lessons/*.md")), *sorted(site.glob("pages/*.md"))]:
        text = path.read_text(encoding="utf-8")
        yield lambda text=text: parser.render(text)  # type: ignore[misc]


class Rendered:
    """What a press in this process gave to its templates."""

    def __init__(self) -> None:
        self.given: list[tuple[jinja2.Template, dict[str, Any]]] = []
        self._render = jinja2.Template.render

    def __enter__(self) -> Rendered:
        given, render = self.given, self._render

        def remembered(template: jinja2.Template, *of: Any, **named: Any) -> str:
            given.append((template, dict(*of, **named)))
            return render(template, *of, **named)

        jinja2.Template.render = remembered  # type: ignore[method-assign]
        return self

    def __exit__(self, *_: object) -> None:
        jinja2.Template.render = self._render  # type: ignore[method-assign]

    def again(self) -> Iterator[Callable[[], object]]:
        for template, given in self.given:
            yield lambda template=template, given=given: self._render(template, given)  # type: ignore[misc]


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("site", nargs="?", type=Path, default=DEMO)
    asked = words.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        site, out = Path(folder) / "site", Path(folder) / "out"
        shutil.copytree(asked.site, site, ignore=shutil.ignore_patterns("build"))
        with Rendered() as rendered:
            press(site, out, Silent(), workers=1)
        shutil.rmtree(site / "build")
        shutil.rmtree(out)
        began = processor()
        press(site, out, Silent(), workers=1)
        took = processor() - began
        rows = [
            timed("clips decoded", decoded(site)),
            timed("pictures written", encoded(out)),
            timed("loops written", loops(out)),
            timed("texts rendered", written(site)),
            timed("templates rendered", rendered.again()),
        ]
    floor = sum(row.seconds for row in rows)
    print("| the floor | how many | s of processor |\n| --- | --- | --- |")
    for row in rows:
        print(f"| {row.name} | {row.count} | {row.seconds:.1f} |")
    print(f"| in all | | {floor:.1f} |\n\nA press takes {took:.1f} s: {took / floor:.2f} times that.")


if __name__ == "__main__":
    main()
