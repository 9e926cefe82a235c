"""The site as it is on disk, read again only when a file changed; what every part of the desk shares."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path

from lessonpress.desk.files.yamltext import UneditableError, value_at
from lessonpress.desk.http.paths import clip_folder
from lessonpress.desk.http.responses import RequestError
from lessonpress.figures import Beside, SurveyedClip, survey_clip
from lessonpress.footage import ClipIndex, Study
from lessonpress.manuscript import (
    FILE_NAME,
    Card,
    Clip,
    Memory,
    Site,
    Source,
    bytes_of,
    fault_of_file,
    read_site,
)
from lessonpress.measure import Units
from lessonpress.pages import Theme, theme_of
from lessonpress.press import Cache, FileHashes, FileState, Silent, indexes_of, studies_of
from lessonpress.records import Observation, Problem, Problems

WRITTEN = ("site.yaml", "glossary.yaml")
FOLDERS = ("clips", "lessons", "pages", "themes")

Sketch = dict[str, dict[int, tuple[float, ...] | None]]  # marks not saved yet: mark → frame → [x, y(, u)]
_State = tuple[tuple[str, int, int], ...]


@dataclass(frozen=True)
class Seen:
    """A site as read once. site is None where site.yaml makes none, theme where it names none to be used."""

    site: Site | None
    problems: Problems
    theme: Theme | None = None


_MadeOf = tuple[Clip | Study | Units, ...]


@dataclass(frozen=True)
class _Film:
    """A clip as last filmed, what it was made from, and what was wrong."""

    made_of: _MadeOf
    filmed: SurveyedClip | None
    problems: list[Problem]

    def is_of(self, made_of: _MadeOf) -> bool:
        """Whether it was made of the very same."""
        return len(self.made_of) == len(made_of) and all(
            mine is other or (isinstance(mine, str) and mine == other)
            for mine, other in zip(self.made_of, made_of, strict=True)
        )


@dataclass(frozen=True)
class _Indexed:
    """A video's index, the state that the video was in, and when that was, ns."""

    state: FileState
    when: int
    index: ClipIndex


@dataclass
class LiveSite:
    """root: the site's folder, resolved. own_themes: whether its own may be used.

    Safe to ask from several threads.
    """

    root: Path
    own_themes: bool = False
    _lock: threading.RLock = field(default_factory=threading.RLock)  # held while the site is read
    _reading: threading.Lock = field(default_factory=threading.Lock)  # held while a video is indexed
    _playing: threading.Lock = field(default_factory=threading.Lock)  # held while a video is played
    _state: _State | None = None
    _seen: Seen | None = None
    _memory: Memory = field(default_factory=Memory)
    _indexes: dict[Path, _Indexed] = field(default_factory=dict)
    _studies: dict[str, tuple[Clip, Study]] = field(default_factory=dict)
    _films: dict[tuple[str, bool], _Film] = field(default_factory=dict)
    _others: dict[str, _Film] = field(default_factory=dict)
    _filming: tuple[threading.Lock, threading.Lock] = field(
        default_factory=lambda: (threading.Lock(), threading.Lock())
    )  # held while a clip is filmed for a draft, for the press
    saving: threading.RLock = field(
        default_factory=threading.RLock
    )  # held while a file of the site is changed

    @property
    def cache(self) -> Cache:
        return Cache(self.root / "build" / "cache")

    def seen(self) -> Seen:
        """The site as it is on disk now."""
        with self._lock:
            state = tuple(_state_of(self.root))
            if self._seen is None or state != self._state:
                self._state, self._seen = state, self._read()
            return self._seen

    def _read(self) -> Seen:
        site, problems = read_site(self.root, memory=self._memory, drafts=True)
        return Seen(site, problems, theme_of(site, problems, self.own_themes) if site else None)

    def site(self) -> Site:
        """Raises RequestError where site.yaml makes no site."""
        seen = self.seen()
        if seen.site is None:
            wrong = next((one.wrong for one in seen.problems.in_order()), "site.yaml makes no site")
            raise RequestError(422, wrong, "correct site.yaml by hand")
        return seen.site

    def clip(self, name: str) -> Clip:
        """Raises RequestError for one that is not there, or lies behind a link."""
        clip_folder(self.root, name)
        clip = self.site().clips.get(name)
        if clip is None:
            raise RequestError(404, f"there is no clip `{name}`", "clips are folders of clips/")
        return clip

    def video(self, clip: Clip) -> Path:
        """The clip's video. Raises RequestError where the card names none that is a file of the site."""
        name = clip.card.video if clip.card else _named_video(clip.folder)
        if name is None or not FILE_NAME.fullmatch(name) or not (clip.folder / name).is_file():
            raise RequestError(422, f"the clip {clip.name} has no video", "name it on the card")
        video = clip.folder / name
        if (fault := fault_of_file(self.root, video)) is not None:
            raise RequestError(403, f"the video of {clip.name} {fault[0]}", fault[1])
        return video

    def index(self, clip: Clip) -> ClipIndex:
        """Raises RequestError with the reason where the video cannot be read."""
        video = self.video(clip)
        state, now = FileState.of(video.stat()), time.time_ns()
        kept = self._indexes.get(video)
        if kept is None or kept.state != state or not state.at_rest(kept.when):
            # No lock is held here, so that no clip waits while another is played.
            kept = self._indexes[video] = _Indexed(state, now, self._read_index(clip, video))
        return kept.index

    def _read_index(self, clip: Clip, video: Path) -> ClipIndex:
        problems = Problems()
        carded = clip if clip.card else replace(clip, card=_card_of(video))
        with self._reading:
            states = FileHashes.kept(self.cache)
            indexes = indexes_of([carded], states, self.cache, Silent(), problems)
            states.keep(self.cache)
        if clip.name not in indexes:
            first = problems.collected[0] if problems.collected else None
            raise RequestError(
                422, first.wrong if first else "the video cannot be read", first.right if first else ""
            )
        return indexes[clip.name]

    def study(self, clip: Clip, *, fresh: bool = False) -> Study:
        """What playing the clip teaches. Raises RequestError.

        A camera held by hand is registered with the golfer masked by marks, which takes a while. The motion
        found before the last marks were placed is good enough to draw a draft by; fresh: asks for the one
        that the press goes by.
        """
        index = self.index(clip)
        made_of, kept = self._studies.get(clip.name, (None, None))
        same = kept is not None and kept.index.fingerprint == index.fingerprint
        if kept is not None and same and (made_of is clip or not fresh):
            return kept
        with self._playing:
            studies = studies_of([clip], {clip.name: index}, self.cache, Silent(), Problems())
        made = studies.get(clip.name, Study(index))
        if kept is not None and made.to_json() == kept.to_json():
            made = kept  # the very same, so that what rests on it is still good
        self._studies[clip.name] = (clip, made)
        return made

    def filmed(self, clip: Clip, problems: Problems, *, press: bool = False) -> SurveyedClip:
        """The clip ready for figures; press: as the press has it, however long that takes.

        Made anew only where its files have changed. Raises RequestError where the card is beyond use.
        """
        study, units = self.study(clip, fresh=press), self.site().units
        with self._filming[press]:
            kept = self._films.get((clip.name, press))
            made_of = (clip, study, units, *self._made_beside(clip))
            if kept is None or not kept.is_of(made_of):
                own, beside = Problems(), self.beside(clip)
                made = survey_clip(clip, study, units, own, plausible=press, beside=beside)
                kept = self._films[clip.name, press] = _Film(made_of, made, own.collected)
        problems.extend(kept.problems)
        if kept.filmed is None:
            raise RequestError(422, f"the card of {clip.name} cannot be used yet", "answer what it asks")
        return kept.filmed

    def beside(self, clip: Clip) -> Beside:
        """The clips that a card names for its depths, each surveyed by itself, but for those of no use."""
        filmed = {parts[0].name: self._alone(parts) for parts in self._beside_of(clip)}
        card = clip.card
        if card is None:
            return Beside()
        swings = (filmed.get(name) for name in card.other_swing)
        second = filmed.get(card.second_view) if card.second_view is not None else None
        return Beside(second, tuple(swing for swing in swings if swing is not None))

    def _alone(self, parts: tuple[Clip, Study]) -> SurveyedClip | None:
        units = self.site().units
        made_of, kept = (*parts, units), self._others.get(parts[0].name)
        if kept is None or not kept.is_of(made_of):
            made = survey_clip(*parts, units, Problems(), plausible=False)
            kept = self._others[parts[0].name] = _Film(made_of, made, [])
        return kept.filmed

    def _made_beside(self, clip: Clip) -> Iterator[Clip | Study]:
        for other, study in self._beside_of(clip):
            yield other
            yield study

    def _beside_of(self, clip: Clip) -> Iterator[tuple[Clip, Study]]:
        """What the clips beside it are surveyed from; the press reports those of no use."""
        for name in clip.card.beside if clip.card is not None else ():
            other = self.site().clips.get(name) if name != clip.name else None
            if other is not None:
                with suppress(RequestError):
                    yield other, self.study(other)

    def problems_under(self, path: str) -> list[Problem]:
        """Those of files under a path of the site."""
        return [one for one in self.seen().problems.in_order() if one.location.path.startswith(path)]


def sketched(clip: Clip, sketch: Sketch) -> Clip:
    """The clip with unsaved marks laid over those on disk; None takes a placing away."""
    laid = {(mark, frame): at for mark, frames in sketch.items() for frame, at in frames.items()}
    kept = [seen for seen in clip.observations if (seen.mark, seen.frame) not in laid]
    placed = [
        Observation(mark, frame, at[0], at[1], at[2] if len(at) > 2 else None)
        for (mark, frame), at in laid.items()
        if at is not None
    ]
    return replace(clip, observations=(*placed, *kept))


def _named_video(folder: Path) -> str | None:
    """The video that a card names which is not filled in yet."""
    try:
        named = value_at(bytes_of(folder / "clip.yaml").decode("utf-8"), ("video",))
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
    for file in places:
        try:
            state = file.stat()
        except OSError:
            continue
        yield str(file.relative_to(root)), state.st_size, state.st_mtime_ns
