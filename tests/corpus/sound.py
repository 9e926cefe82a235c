"""The sound site that every case begins as, pressed once, and the films that damaged videos are made of."""

from __future__ import annotations

import shutil
from collections.abc import Collection
from pathlib import Path

import av
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from tests.corpus.program import run
from tests.studio.camera import Camera, looking_at
from tests.studio.clip import make_clip
from tests.studio.film import encode
from tests.studio.room import INCH
from tests.studio.swingers import DUNE

CLIP = "dune-face-on"
CARD, MARKS, TRACKS = (f"clips/{CLIP}/{name}" for name in ("clip.yaml", "marks.yaml", "tracks.csv"))
VIDEO = f"clips/{CLIP}/{CLIP}.mp4"
LESSON, PAGE, SITE, GLOSSARY = "lessons/pelvis.md", "pages/about.md", "site.yaml", "glossary.yaml"
PHOTO, PHOTO_CARD = "pages/mat.jpg", "pages/mat.jpg.yaml"
TEXTS = (SITE, GLOSSARY, CARD, MARKS, TRACKS, LESSON, PAGE, PHOTO_CARD)
SIZE = (320, 200)

_SITE = """\
title: Drawn Notebook
author: The Studio
url: https://notebook.example
language: en
units: in
theme: plate-book
implement: {name: club, head: clubhead}
ranges:
  lean-impact: {range: 0..60 deg away, source: common practice}
sets:
  usual:
    - vertical: navel
"""
_LESSON = """\
---
title: The pelvis travels
date: 2026-11-23
summary: Two frames.
clip: dune-face-on
topics: [pelvis, hub]
author: The Studio
former: [old/pelvis]
---

By the top the navel has moved {navel-back}.

```frame
id: top
at: top
draw:
  - use: usual
  - shift: navel
    since: setup
    as: navel-back
caption: At the top, {navel-back}.
```

```strip
id: sequence
frames: [setup, impact]
draw:
  - tilt: [navel, c7]
    as: lean
    expect: lean-impact
  - note: head
    text: keeps its place
```

```caution
Warm up first, keep the space round you clear and stop on pain.
```
"""
_PAGE = """\
---
title: About
---

Drawn figures, and [the lesson](../lessons/pelvis.md).

![A mat.](mat.jpg)
"""
_PHOTO_CARD = (
    "source: {kind: own, credit: The Studio}\npeople: []\nobscure:\n  - {at: [40, 30], across: 20 px}\n"
)
_GLOSSARY = "hub: The point that the arc of the hands turns about.\n"

# suffix → encoder, pixels and further settings: what cameras, telephones and old archives give
CODECS: dict[str, tuple[str, str, dict[str, str]]] = {
    "h264.mp4": ("libx264", "yuv420p", {}),
    "h264.ts": ("libx264", "yuv420p", {}),
    "hevc.mkv": ("libx265", "yuv420p", {}),
    "hevc.mp4": ("libx265", "yuv420p", {}),
    "vp9.webm": ("libvpx-vp9", "yuv420p", {}),
    "mpeg4.avi": ("mpeg4", "yuv420p", {"q": "4"}),
    "mjpeg.avi": ("mjpeg", "yuvj420p", {}),
    "ffv1.mkv": ("ffv1", "yuv420p", {}),
    "mpeg2.ts": ("mpeg2video", "yuv420p", {}),
    "prores.mov": ("prores_ks", "yuv422p10le", {}),
}


def written(root: Path, placed: Collection[str] | None = None) -> Path:
    """The site as its author would have it. placed: the marks placed by hand; all unless given."""
    camera = looking_at((0, 0.92, 0), (0.0, 1.05, 168 * INCH), Camera(focal=320.0, size=SIZE))
    make_clip(root, DUNE, camera, 30, placed=placed, tracked=("navel",))
    texts = {SITE: _SITE, GLOSSARY: _GLOSSARY, LESSON: _LESSON, PAGE: _PAGE, PHOTO_CARD: _PHOTO_CARD}
    for name, text in texts.items():
        (root / name).parent.mkdir(exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
    photo("JPEG", root / PHOTO)
    return root


def photo(kind: str, path: Path) -> Path:
    """A drawn photograph, 160 × 120 px, as Pillow writes a kind of file: "JPEG", "PNG", "WEBP"."""
    across, down = np.meshgrid(np.arange(160), np.arange(120))
    lights = (across * 3 + (down // 7) * 11) % 256
    Image.fromarray(np.stack([lights, across, down * 2], axis=-1).astype(np.uint8)).save(path, kind)
    return path


def make(folder: Path) -> Path:
    """The site, pressed into its own build/site. Raises RuntimeError where it does not press."""
    root = written(folder / "site")
    done = run(["press", str(root)], folder)
    if done.code != 0:
        raise RuntimeError(f"the sound site does not press:\n{done.said}")
    return root


def films(root: Path, folder: Path) -> dict[str, Path]:
    """The sound site's film in every codec and container of CODECS, by suffix."""
    folder.mkdir(exist_ok=True)
    pictures = pictures_of(root / VIDEO)
    made = {}
    for suffix, (codec, pixels, options) in CODECS.items():
        path = folder / f"film-{suffix}"
        made[suffix] = encode(path, pictures, codec=codec, pix_fmt=pixels, options=options, gop=12)
    return made


def pictures_of(video: Path) -> list[NDArray[np.uint8]]:
    """The pictures of a film as RGB arrays (h, w, 3)."""
    with av.open(str(video)) as container:
        return [np.asarray(frame.to_ndarray(format="rgb24")) for frame in container.decode(video=0)]


def copy(root: Path, to: Path) -> Path:
    """A copy of the pressed site that a case may spoil."""
    return Path(shutil.copytree(root, to, symlinks=True))
