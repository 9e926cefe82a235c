"""Makes a clip of a video: a folder with the video, a card filled in with what the file itself says.

What cannot be read from a file (view, hand, rights, consent, sizes) is on the card as questions. The
required ones are keys without a value, so that a press reports each with its line until it is answered.
"""

from __future__ import annotations

import secrets
import shutil
from dataclasses import dataclass
from pathlib import Path

from lessonpress.footage import ClipIndex, FootageError, contact_sheet, frames_spaced, read_index
from lessonpress.intake.sheet import keep_sheet
from lessonpress.manuscript import plain_name
from lessonpress.records import UsageError

_CARD = """\
# The card of this clip. What the file says is filled in; what it cannot say is asked.
# {count} pictures of {width} × {height} px, numbered from 0 to {last}; {rate} a second, {seconds:.2f} s.

# What shall readers call it? For example: Dune, face-on, 7-iron
# title:

video: {video}
fingerprint: {fingerprint}
{deinterlace}
# From where was it filmed?  face-on | from-behind | down-the-line | from-target | overhead
# While a ball is hit no one stands ahead of the player, opposite the ball or behind the swing: the camera
# runs on its own there. from-target is for rehearsals without a ball, or from behind a net.
view:

# Which hand does the golfer play with?  right | left
hand:

# Whose footage is it, and under which licence may it be shown?
# For example: {{kind: own, credit: YOUR NAME, licence: CC BY 4.0}}
# kind: own | licensed | public-domain | quotation
source:

# Who can be seen, and did they agree to be shown?  [] only for drawn or empty scenes.
# For example: [{{name: NAME, consent: written, given: YEAR-MONTH-DAY}}]
# consent: written | spoken | guardian; for a child add minor: true
people:

# When, and how fast? Pictures per second of real time, where the file plays slower than life.
# filmed_on: YEAR-MONTH-DAY
# filmed_at: 240

# In which pictures do these happen? The contact sheet has some of the numbers; all around one of them are on
# the sheet that `lessonpress sheet {name} --around FRAME` makes.
# events: {{setup: , top: , impact: , finish: }}

# What is its size? Something of known length in the golfer's plane, its ends placed as marks, and how far the
# camera stood. Without them angles are measured and lengths are not.
# scale:
#   - {{between: [stick-top, stick-foot], length: 36 in, within: 0.1 in}}
# Did the camera stand on a tripod? Where something that stands still is to be seen behind the golfer, the
# pictures show that; before bare sky or moving leaves add still: true.
# camera: {{distance: 14 ft, within: 6 in}}
# From the hand, how far away is what stands behind the golfer?
# camera: {{distance: 14 ft, within: 6 in, wall: 20 ft, wall_within: 1 ft}}
# stature: 5 ft 10 in
# How long is the club, from the end of the handle to the sole? Angles to the shaft are surer for it.
# implement_length: 37 in

# What hangs or stands upright? With a plumb line tilts are surer.
# plumb:
#   - [door-top, door-foot]
"""
_MARKS = """\
# Where the marks are: a name, then frame: [x, y] in px from the picture's upper left corner, for example
# navel:
#   12: [640.2, 401.0]
"""


@dataclass(frozen=True)
class Ingested:
    """folder: the new clip's. sheet: the contact sheet that was asked for; it is no part of the clip.

    It shows everybody: the card does not say yet whom it obscures.
    """

    name: str
    folder: Path
    sheet: Path | None
    index: ClipIndex


def ingest_video(video: Path, root: Path, name: str | None = None, *, with_sheet: bool = True) -> Ingested:
    """Makes SITE/clips/NAME from the video; name: made of the file's stem unless given.

    Raises UsageError, leaving nothing behind, for what is no whole video and where the clip is there already.
    """
    name = name or plain_name(video.stem)
    if not name or name != plain_name(name):
        raise UsageError(f"{name or video.stem} makes no clip's name; give one of a-z, 0-9 and - with --name")
    folder = root / "clips" / name
    if folder.exists():
        raise UsageError(f"{folder} is there already and is not overwritten; give another name with --name")
    try:
        index = read_index(video)
        frames = frames_spaced(index.intact(deinterlace=index.interlaced))
        drawn = contact_sheet(video, index, frames, deinterlace=index.interlaced) if with_sheet else None
    except FootageError as error:
        raise UsageError(str(error)) from error
    _lay_out(folder, video, name, index)
    return Ingested(name, folder, None if drawn is None else keep_sheet(root, name, drawn), index)


def _lay_out(folder: Path, video: Path, name: str, index: ClipIndex) -> None:
    """The clip's folder, made aside and renamed into place when it is whole."""
    aside = folder.with_name(f".{name}.{secrets.token_hex(4)}")
    aside.mkdir(parents=True)
    try:
        file = name + video.suffix.lower()
        shutil.copyfile(video, aside / file)
        (aside / "clip.yaml").write_text(_card(name, file, index), encoding="utf-8")
        (aside / "marks.yaml").write_text(_MARKS, encoding="utf-8")
        aside.rename(folder)
    except BaseException:
        shutil.rmtree(aside, ignore_errors=True)
        raise


def _card(name: str, file: str, index: ClipIndex) -> str:
    interlaced = "# Each picture holds two fields, taken at two moments.\ndeinterlace: true\n"
    return _CARD.format(
        count=len(index),
        width=index.size[0],
        height=index.size[1],
        last=len(index) - 1,
        rate=f"{float(index.rate):.2f}".rstrip("0").rstrip("."),
        seconds=index.duration,
        video=file,
        name=name,
        fingerprint=index.fingerprint,
        deinterlace=interlaced if index.interlaced else "",
    )
