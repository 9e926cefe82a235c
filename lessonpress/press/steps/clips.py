"""Steps of a clip: its files read, its video indexed and played, what does not fit together looked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from lessonpress.figures import SurveyedClip, survey_clip
from lessonpress.footage import Study
from lessonpress.manuscript import CARD, MARK_FILES, Clip, Memory, Use, read_clip
from lessonpress.measure import Units
from lessonpress.press.indexes import indexes_of
from lessonpress.press.progress import Silent
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import Parts, SeenSite, clip_of
from lessonpress.press.studies import studies_of
from lessonpress.records import Problems

FOOTAGE = ("av", "numpy", "opencv-python")
MEASURING = ("numpy", "uncertainties")


def clip(reader: Reader, name: str) -> Clip:
    """What the files of a clip's folder say; the folder itself is left out, so that the site can move."""
    folder = reader.lists(f"clips/{name}")
    for file in (CARD, *MARK_FILES):
        reader.uses(f"clips/{name}/{file}")
    use = Use(reader.value("clips in use", "", name), lambda: reader.value("showing", "", name) or ())
    memory = Memory()
    suggested = SeenSite(reader).suggested
    read = read_clip(reader.root, folder, use, reader.today, suggested, memory, reader.problems)
    if read.readable is not None:
        reader.uses(f"clips/{name}/{read.readable.video}")
    return _without_folder(read)


def _without_folder(clip: Clip) -> Clip:
    return Clip(
        clip.name,
        None,  # type: ignore[arg-type]
        clip.path,
        clip.card,
        clip.observations,
        clip.locations,
        clip.faults,
        clip.readable,
    )


def played(reader: Reader, name: str) -> Study | None:
    """What playing the clip teaches; None where its video cannot be used, which is reported."""
    for library in FOOTAGE:
        reader.library(library)
    clip = clip_of(reader, name)
    usable = clip.card is not None
    if not usable and not clip.doubted("video"):
        clip = replace(clip, card=clip.readable)  # a mistake in the card hides none in the video
    if clip.video is None:
        return None
    reader.uses(f"clips/{name}/{clip.video.name}")
    indexes = indexes_of([clip], reader.works.inputs.file_hashes, reader.cache, Silent(), reader.problems)
    if not usable:
        return None
    return studies_of([clip], indexes, reader.cache, Silent(), reader.problems).get(name)


def plausible(reader: Reader, name: str) -> None:
    """What is wrong with a clip held against its footage, and whether its scale makes a body that can be."""
    for library in MEASURING:
        reader.library(library)
    key, parts = _film_key(reader, name)
    if parts is not None:
        clip, study, units = parts
        reader.works.shared["filmed", name] = (key, survey_clip(clip, study, units, reader.problems))


def filmed(reader: Reader, name: str) -> SurveyedClip | None:
    """The clip ready for figures, None where it cannot be used; its camera is solved once in a process."""
    for library in MEASURING:
        reader.library(library)
    key, parts = _film_key(reader, name)
    if parts is None:
        return None
    shared = reader.works.shared
    made: SurveyedClip | None
    made_of, made = shared.get(("filmed", name), (None, None))
    if made_of != key:
        clip, study, units = parts
        made = survey_clip(clip, study, units, Problems(), plausible=False)
        shared["filmed", name] = (key, made)
    return made


def _film_key(reader: Reader, name: str) -> tuple[object, tuple[Clip, Study, Units] | None]:
    study: Study | None = reader.value("played", name)
    if study is None:
        return None, None
    units = reader.value("site.yaml", "", "units")
    works = reader.works
    key = (works.sure(("clip", name, "")), works.sure(("played", name, "")), units)
    return key, (clip_of(reader, name), study, units)


class Films(Mapping[str, SurveyedClip | None]):
    """The site's clips ready for figures, by name; None for those that cannot be used."""

    def __init__(self, reader: Reader) -> None:
        self._reader = reader
        self._names = Parts(reader, "named", "clips")

    def __contains__(self, name: object) -> bool:
        return name in self._names

    def __getitem__(self, name: str) -> SurveyedClip | None:
        if name not in self:
            raise KeyError(name)
        if not self._reader.value("clips in use", "", name):
            return None
        return filmed(self._reader, name)

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)
