"""The site as it stands on disk, read again only when a file changed; what every part of the desk shares."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from lessonpress.desk.answers import RefusedError
from lessonpress.desk.paths import clip_folder
from lessonpress.desk.yamltext import UneditableError, value_at
from lessonpress.figures.filming import Filmed, film
from lessonpress.footage.index import ClipIndex
from lessonpress.footage.study import Study
from lessonpress.manuscript import read_site
from lessonpress.manuscript.card import Card, Source
from lessonpress.manuscript.clip import Clip
from lessonpress.manuscript.names import FILE_NAME
from lessonpress.manuscript.site import Site
from lessonpress.press.cache import Cache
from lessonpress.press.indexes import indexes_of
from lessonpress.press.progress import Silent
from lessonpress.press.studies import studies_of
from lessonpress.records.mark import Sighting
from lessonpress.records.problem import Problem, Problems

WRITTEN = ("site.yaml", "glossary.yaml")
FOLDERS = ("clips", "lessons", "pages")

Sketch = dict[str, dict[int, tuple[float, ...] | None]]  # marks not saved yet: mark → frame → [x, y(, u)]
_State = tuple[tuple[str, int, int], ...]


@dataclass(frozen=True)
class Seen:
    """A site as read once. site is None where site.yaml makes none."""

    site: Site | None
    problems: Problems


@dataclass
class Studio:
    """root: the site's folder, resolved. Safe to ask from several threads."""

    root: Path
    _lock: threading.RLock = field(default_factory=threading.RLock)  # held while the site is read
    _playing: threading.Lock = field(default_factory=threading.Lock)  # held while a video is played
    _state: _State | None = None
    _seen: Seen | None = None
    _studies: dict[str, Study] = field(default_factory=dict)
    _answers: dict[str, dict[str, Any]] = field(default_factory=dict)
    _answers_of: _State | None = None
    saving: threading.RLock = field(
        default_factory=threading.RLock
    )  # held while a file of the site is changed

    @property
    def cache(self) -> Cache:
        return Cache(self.root / "build" / "cache")

    def seen(self) -> Seen:
        """The site as it stands on disk now."""
        with self._lock:
            state = tuple(_state_of(self.root))
            if self._seen is None or state != self._state:
                self._state, self._seen = state, Seen(*read_site(self.root))
            return self._seen

    def site(self) -> Site:
        """Raises RefusedError where site.yaml makes no site."""
        seen = self.seen()
        if seen.site is None:
            wrong = next((one.wrong for one in seen.problems.in_order()), "site.yaml makes no site")
            raise RefusedError(422, wrong, "mend site.yaml by hand")
        return seen.site

    def clip(self, name: str) -> Clip:
        """Raises RefusedError for one that is not there, or lies behind a link."""
        clip_folder(self.root, name)
        found = self.site().clips.get(name)
        if found is None:
            raise RefusedError(404, f"there is no clip `{name}`", "clips are folders of clips/")
        return found

    def video(self, clip: Clip) -> Path:
        """The clip's video. Raises RefusedError where the card names none that is there, or a link."""
        name = clip.card.video if clip.card else _named_video(clip.folder)
        if name is None or not FILE_NAME.fullmatch(name) or not (clip.folder / name).is_file():
            raise RefusedError(422, f"the clip {clip.name} has no video", "name it on the card")
        video = clip.folder / name
        if video.resolve() != video:
            raise RefusedError(403, f"the video of {clip.name} is a link", "put the file itself there")
        return video

    def index(self, clip: Clip) -> ClipIndex:
        """Raises RefusedError with the reason where the video cannot be read."""
        video = self.video(clip)
        problems = Problems()
        carded = clip if clip.card else replace(clip, card=_card_of(video))
        with self._playing:
            found = indexes_of([carded], self.cache, Silent(), problems)
        if clip.name not in found:
            told = problems.found[0] if problems.found else None
            raise RefusedError(
                422, told.wrong if told else "the video cannot be read", told.right if told else ""
            )
        return found[clip.name]

    def study(self, clip: Clip, *, fresh: bool = False) -> Study:
        """What playing the clip teaches. Raises RefusedError.

        A camera held by hand is registered with the golfer masked by marks, which takes a while. The motion
        found before the last marks were placed is good enough to draw a draft by; fresh: asks for the one
        that the press goes by.
        """
        index = self.index(clip)
        kept = self._studies.get(clip.name)
        if not fresh and kept is not None and kept.index.fingerprint == index.fingerprint:
            return kept
        with self._playing:
            found = studies_of([clip], {clip.name: index}, self.cache, Silent(), Problems())
        self._studies[clip.name] = found.get(clip.name, Study(index))
        return self._studies[clip.name]

    def filmed(self, clip: Clip, problems: Problems, *, press: bool = False) -> Filmed:
        """The clip ready for figures; press: as the press has it, however long that takes.

        Raises RefusedError where the card is beyond use.
        """
        study = self.study(clip, fresh=press)
        made = film(clip, study, self.site().units, problems, plausible=press)
        if made is None:
            raise RefusedError(422, f"the card of {clip.name} cannot be used yet", "answer what it asks")
        return made

    def remembered(self, key: str, make: Callable[[], dict[str, Any]]) -> dict[str, Any]:
        """What `make` gives, made once for the site as it stands on disk."""
        self.seen()
        with self._lock:
            if self._answers_of != self._state:
                self._answers_of, self._answers = self._state, {}
            if key not in self._answers:
                self._answers[key] = make()
            return self._answers[key]

    def problems_under(self, path: str) -> list[Problem]:
        """Those of files under a path of the site."""
        return [one for one in self.seen().problems.in_order() if one.place.path.startswith(path)]


def sketched(clip: Clip, sketch: Sketch) -> Clip:
    """The clip with unsaved marks laid over those on disk; None takes a placing away."""
    laid = {(mark, frame): at for mark, frames in sketch.items() for frame, at in frames.items()}
    kept = [seen for seen in clip.sightings if (seen.mark, seen.frame) not in laid]
    placed = [
        Sighting(mark, frame, at[0], at[1], at[2] if len(at) > 2 else None)
        for (mark, frame), at in laid.items()
        if at is not None
    ]
    return replace(clip, sightings=(*placed, *kept))


def _named_video(folder: Path) -> str | None:
    """The video that a card names which is not filled in yet."""
    try:
        named = value_at((folder / "clip.yaml").read_text(encoding="utf-8"), ("video",))
    except (OSError, UnicodeDecodeError, UneditableError):
        return None
    return named if isinstance(named, str) else None


def _card_of(video: Path) -> Card:
    """The least that a video can be indexed with; it never leaves this module."""
    return Card(video=video.name, view="face-on", hand="right", source=Source(kind="own"), people=())


def _state_of(root: Path) -> Iterator[tuple[str, int, int]]:
    """Name, size and time of every file that an author writes."""
    places = [root / name for name in WRITTEN]
    for folder in FOLDERS:
        places += sorted((root / folder).rglob("*"))
    for place in places:
        try:
            state = place.stat()
        except OSError:
            continue
        yield str(place.relative_to(root)), state.st_size, state.st_mtime_ns
