"""Draws the starter's clip anew: python -m tests.intake.draw_starter

Writes the video and the marks, and on the card the two lines that follow from them, events and fingerprint;
the rest of the card is written by hand, as an author would.
"""

from __future__ import annotations

import hashlib
import re
import shutil
import tempfile
from pathlib import Path

from tests.studio.camera import Camera, looking_at
from tests.studio.clip import make_clip
from tests.studio.room import INCH
from tests.studio.swingers import SHINGLE

NAME = "shingle-face-on"
CLIP = Path(__file__).parents[2] / "lessonpress" / "starter" / "clips" / NAME
CAMERA = looking_at((0, 0.98, 0), (0.0, 1.05, 168 * INCH), Camera(focal=1090.0, size=(640, 800)))


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        made = make_clip(Path(folder), SHINGLE, CAMERA, 60, name=NAME)
        for file in (made.video.name, "marks.yaml"):
            shutil.copyfile(made.folder / file, CLIP / file)
    events = ", ".join(f"{event}: {frame}" for event, frame in made.events.items())
    fingerprint = hashlib.sha256((CLIP / made.video.name).read_bytes()).hexdigest()
    card = CLIP / "clip.yaml"
    text = re.sub(r"(?m)^events: .*$", f"events: {{{events}}}", card.read_text(encoding="utf-8"))
    card.write_text(re.sub(r"(?m)^fingerprint: .*$", f"fingerprint: {fingerprint}", text), encoding="utf-8")


if __name__ == "__main__":
    main()
