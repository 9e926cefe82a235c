"""Steps of a clip: its files read, its video indexed and played, what does not fit together looked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from lessonpress.figures import Beside, SurveyedClip, survey_clip
from lessonpress.footage import Study
from lessonpress.manuscript import CARD, MARK_FILES, Clip, Memory, Use, read_clip
from lessonpress.measure import Units
from lessonpress.press.indexes import indexes_of
from lessonpress.press.progress import Silent
from lessonpress.press.steps.reader import Reader
from lessonpress.press.steps.seen import Parts, SeenSite, clip_of
from lessonpress.press.studies import studies_of
from lessonpress.records import Location, Problems, nearest

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
        beside = _beside(reader, parts[0], reader.problems)
        made = survey_clip(*parts, reader.problems, beside=beside)
        reader.works.shared.hold_survey(("filmed", name), key, made)


def filmed(reader: Reader, name: str) -> SurveyedClip | None:
    """The clip ready for figures, None where it cannot be used; its camera is solved once in a process."""
    for library in MEASURING:
        reader.library(library)
    key, parts = _film_key(reader, name)
    if parts is None:
        return None

    def made() -> SurveyedClip | None:
        beside = _beside(reader, parts[0], Problems())
        return survey_clip(*parts, Problems(), plausible=False, beside=beside)

    return _kept(reader, "filmed", name, key, made)


def _beside(reader: Reader, clip: Clip, problems: Problems) -> Beside:
    """The clips that a card names for its depths, each surveyed by itself, but for those of no use."""
    card = clip.card
    if card is None:
        return Beside()
    second = None
    if card.second_view is not None:
        place, right = card.location_of("second_view"), "name the clip that was filmed at once"
        second = _named(reader, clip, card.second_view, place, right, problems)
    right = "name a clip that shows another swing of this golfer from the other side"
    swings = [
        _named(reader, clip, name, card.location_of("other_swing", number), right, problems)
        for number, name in enumerate(card.other_swing)
    ]
    return Beside(second, tuple(swing for swing in swings if swing is not None))


def _named(
    reader: Reader, clip: Clip, name: str, location: Location, right: str, problems: Problems
) -> SurveyedClip | None:
    """A clip that another's card names; None where it cannot be used, which is reported."""
    named = Parts(reader, "named", "clips")
    if name == clip.name or name not in named:
        wrong = "this is the clip itself" if name == clip.name else f"there is no clip `{name}`"
        others = [one for one in named if one != clip.name]
        problems.error(location, wrong, right, nearest=nearest(name, others))
        return None
    made = _alone(reader, name)
    if made is None:
        problems.error(
            location, f"`{name}` cannot be used yet", "correct its card and see that its video can be played"
        )
    return made


def _alone(reader: Reader, name: str) -> SurveyedClip | None:
    key, parts = _own_key(reader, name)
    if parts is None:
        return None
    return _kept(reader, "alone", name, key, lambda: survey_clip(*parts, Problems(), plausible=False))


def _kept(
    reader: Reader, what: str, name: str, key: object, make: Callable[[], SurveyedClip | None]
) -> SurveyedClip | None:
    """What was made of the same inputs in this process, or made now."""
    held, of = reader.works.shared.surveyed, (what, name)
    if of in held and held[of][0] == key:
        kept: SurveyedClip | None = held[of][1]
        return kept
    made = make()
    reader.works.shared.hold_survey(of, key, made)
    return made


def _film_key(reader: Reader, name: str) -> tuple[object, tuple[Clip, Study, Units] | None]:
    """What a clip is surveyed from, with the clips that its card names beside it."""
    key, parts = _own_key(reader, name)
    card = parts[0].card if parts is not None else None
    named = Parts(reader, "named", "clips")
    others = tuple(_own_key(reader, other)[0] for other in (card.beside if card else ()) if other in named)
    return (key, others) if others else key, parts


def _own_key(reader: Reader, name: str) -> tuple[object, tuple[Clip, Study, Units] | None]:
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
