"""A whole small site on disk for tests of the press: two drawn clips, lessons that use the overlay kinds."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from tests.studio.camera import Camera, looking_at
from tests.studio.clip import MadeClip, make_clip
from tests.studio.room import INCH
from tests.studio.swingers import DUNE, SHINGLE

# kind -> overlays as a lesson writes them, drawn on the frame at impact
KINDS: dict[str, str] = {
    "vertical": "- vertical: navel\n  placed: setup",
    "horizontal": "- horizontal: lead-knee",
    "line": "- line: [trail-shoulder, lead-shoulder]",
    "arrow": "- arrow: [trail-hip, lead-hip]",
    "ring": "- ring: head\n  size: 12 in",
    "note": "- note: lead-elbow\n  text: points at the hip",
    "outline": "- outline: [lead-heel, lead-ankle, lead-toe]",
    "grid": "- grid:\n  every: 12 in",
    "tilt": "- tilt: [navel, c7]\n  as: spine-tilt\n  expect: 25..35 deg away",
    "angle": "- angle: [trail-elbow, trail-wrist, implement-head]\n  as: wrist-angle",
    "distance": "- distance: [trail-ankle, lead-ankle]\n  as: stance-width",
    "shift": "- shift: navel\n  since: setup\n  as: navel-forward",
    "clock": "- clock: [lead-shoulder, lead-wrist]\n  as: lead-arm",
    "turn": "- turn: [trail-shoulder, lead-shoulder]\n  as: shoulder-turn",
    "path": "- path: lead-wrist\n  from: top\n  as: hand-path",
    "speed": "- speed: implement-head\n  as: head-speed",
    "circle": "- circle: lead-wrist\n  from: top\n  as: hand-arc",
    "balance": "- balance:\n  as: balance",
    "instead": "- instead: [navel, c7]\n  of: lead-hip\n  to: 90 deg\n  as: upright",
}
STANDING = ("vertical", "horizontal", "line", "arrow", "ring", "note", "outline")
STILL = (*STANDING, "tilt", "angle", "distance", "shift", "clock")

_SITE = """\
title: Drawn Notebook
author: The Studio
url: https://notebook.example/
language: en
units: in
implement: {name: club, head: clubhead}
ranges:
  spine-tilt-impact: {range: 25..35 deg away, source: common practice}
sets:
  usual:
    - vertical: trail-hip
    - vertical: navel
    - vertical: lead-hip
"""
_GLOSSARY = "hub: The point that the arc of the hands turns about.\n"
_FRONT = """\
---
title: {title}
date: {date}
summary: {summary}
clip: dune-face-on
topics: [pelvis, hub]
---

"""
_PELVIS = """\
At setup three lines are dropped and left standing.

```frame
id: setup
at: setup
draw:
  - use: usual
```

By the top the navel has moved {navel-back}.

```frame
id: top
at: top
draw:
  - vertical: trail-hip
    placed: setup
  - shift: navel
    since: setup
    as: navel-back
```

```strip
id: sequence
frames: [setup, top, impact]
draw:
  - tilt: [navel, c7]
    as: lean
  - ring: head
    only: [top, impact]
caption: The line from navel to C7 leans {lean.impact} at impact.
```

```caution
Warm up first, keep the space round you clear and stop on pain.
```

```drill
1. Stand a hand's width from a wall.
2. Turn until the trail hip touches.
```
"""


@dataclass(frozen=True)
class MadeSite:
    root: Path
    clips: dict[str, MadeClip]


def make_site(folder: Path, kinds: Collection[str] = STILL, *, lessons: bool = True) -> MadeSite:
    """A site with clips `dune-face-on` and `shingle-face-on`, lessons `pelvis` and `kinds`, and a page.

    kinds: names of KINDS drawn in the second lesson, each on a frame of its own.
    """
    folder.mkdir(parents=True, exist_ok=True)
    camera = looking_at((0, 0.92, 0), (0.0, 1.05, 168 * INCH), Camera(focal=640.0, size=(640, 400)))
    clips = {
        "dune-face-on": make_clip(
            folder, DUNE, camera, 30, tracked=("lead-wrist", "implement-head", "navel", "head")
        ),
        "shingle-face-on": make_clip(folder, SHINGLE, camera, 30),
    }
    (folder / "site.yaml").write_text(_SITE, encoding="utf-8")
    (folder / "glossary.yaml").write_text(_GLOSSARY, encoding="utf-8")
    (folder / "pages").mkdir(exist_ok=True)
    (folder / "pages" / "about.md").write_text("---\ntitle: About\n---\n\nDrawn figures.\n", encoding="utf-8")
    (folder / "lessons").mkdir(exist_ok=True)
    if lessons:
        front = _FRONT.format(title="The pelvis travels", date="2026-11-23", summary="Three frames.")
        (folder / "lessons" / "pelvis.md").write_text(front + _PELVIS, encoding="utf-8")
        (folder / "lessons" / "kinds.md").write_text(kinds_lesson(kinds), encoding="utf-8")
    return MadeSite(folder, clips)


def kinds_lesson(kinds: Collection[str]) -> str:
    """A lesson with one frame at impact for each overlay kind."""
    front = _FRONT.format(title="Every kind once", date="2026-11-16", summary="One overlay a plate.")
    blocks = []
    for kind in kinds:
        drawn = "\n".join("  " + line for line in KINDS[kind].splitlines())
        blocks.append(
            f"A plate with `{kind}`.\n\n```frame\nid: the-{kind}\nat: impact\ndraw:\n{drawn}\n```\n"
        )
    return front + "\n".join(blocks)
