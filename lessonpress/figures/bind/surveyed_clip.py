"""A clip ready for figures: its card, index and survey, and its events as frames."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from statistics import median

from lessonpress.figures.bind.likeness import another_club, place_of_swing, unlike
from lessonpress.figures.bind.setting import setting_of
from lessonpress.figures.plan.instants import DAMAGED, frame_of_instant
from lessonpress.footage import ClipIndex, Handheld, Study, real_times
from lessonpress.manuscript import NUMBERS, Card, Clip
from lessonpress.measure import Setting, Survey, Units
from lessonpress.records import Location, Observation, Problems

ROUNDED = 1.05  # a rate of 29.97 is called 30, a shutter of 1/64 s 1/60


@dataclass(frozen=True)
class SurveyedClip:
    """seconds: real time since frame 0, one a frame. events: their frames. room: marks that do not move.

    misplaced: marks with a placing that is reported and left out, past the clip's end or off its picture.
    """

    clip: Clip
    card: Card
    study: Study
    events: Mapping[str, int]
    seconds: tuple[float, ...]
    survey: Survey
    misplaced: frozenset[str] = frozenset()

    @property
    def index(self) -> ClipIndex:
        return self.study.index

    @property
    def name(self) -> str:
        return self.clip.name

    @property
    def title(self) -> str:
        """What readers are shown for its name."""
        return self.clip.title

    def consequences(self, problems: Problems, *resting_on: str) -> Problems:
        """Where to report what mistakes in the clip's own files may have brought about.

        resting_on: the keys and files (see Clip.faults) that what is reported rests on; all that numbers rest
        on where none is given. Where one of them holds a mistake, it is reported there alone.
        """
        return Problems() if self.doubted(*resting_on) else problems

    def doubted(self, *parts: str) -> bool:
        """Whether a mistake lies in these keys and files (see Clip.faults), or in any that numbers rest on.

        A mark that is misplaced leaves its name known, and so is a mistake in the numbers alone.
        """
        return self.clip.doubted(*(parts or NUMBERS)) or bool(self.misplaced and not parts)

    def members(self, mark: str) -> tuple[str, ...]:
        """The marks that make up a middle; the mark itself otherwise."""
        return tuple(self.card.middles.get(mark, (mark,)))

    def sees(self, mark: str, frame: int) -> bool:
        """Whether a mark or middle is placed on a frame; one placing of a room mark holds for all."""
        return all(self._sees(member, frame) for member in self.members(mark))

    def _sees(self, mark: str, frame: int) -> bool:
        if mark in self.card.room:
            return mark in self.clip.marks
        return (mark, frame) in self.clip.by_mark_and_frame

    @cached_property
    def frames_of_the_room(self) -> frozenset[int]:
        """The frames of plumb lines, scales and the lens's lines, which every number of the clip rests on."""
        marks = set(_resting_on(self.card))
        return frozenset(seen.frame for seen in self.clip.observations if seen.mark in marks)

    @property
    def mark_names(self) -> frozenset[str]:
        """Every mark, middle and room mark by name."""
        return self.clip.mark_names | self.misplaced


@dataclass(frozen=True)
class Beside:
    """The clips that a card names for what they show of its depths, each surveyed by itself.

    second: of the same swing. swings: of other swings of the same golfer.
    """

    second: SurveyedClip | None = None
    swings: tuple[SurveyedClip, ...] = ()

    def survey(self, setting: Setting, observations: Iterable[Observation], units: Units) -> Survey:
        """Of a clip beside these."""
        second = None if self.second is None else self.second.survey
        return Survey(setting, observations, units, second, [one.survey for one in self.swings])

    def like(self, card: Card, problems: Problems) -> Beside:
        """Without the swings that cannot be of the same golfer, each of which is reported at the card."""
        kept = []
        for swing in self.swings:
            wrong = unlike(card, swing.card, swing.name)
            if wrong is None:
                kept.append(swing)
            else:
                problems.error(place_of_swing(card, swing.name), *wrong)
        return replace(self, swings=tuple(kept))


ALONE = Beside()


def survey_clip(
    clip: Clip,
    study: Study,
    units: Units,
    problems: Problems,
    *,
    plausible: bool = True,
    beside: Beside = ALONE,
) -> SurveyedClip | None:
    """The clip checked against its footage, or None where its card is beyond use.

    plausible: whether to ask if its scale makes a body that can be, which measures every limb and is left out
    where an answer has to come while an author moves a mark. beside: what its card names for its depths.
    """
    card, index = clip.card, study.index
    if card is None:
        return None
    if card.fingerprint and not index.fingerprint.startswith(card.fingerprint):
        problems.error(
            card.location_of("fingerprint"),
            f"`{card.video}` is not the video that the marks were placed on",
            "bring the old video back, or place the marks anew and take the fingerprint off the card",
        )
    if index.damaged:
        first, last = index.damaged[0], index.damaged[-1]
        problems.warn(
            card.location_of("video"),
            f"{len(index.damaged)} of the {len(index)} pictures of `{card.video}` are damaged, from frame "
            f"{first} to {last}",
            "copy it from the camera again; what is damaged is not shown or measured",
        )
    events = events_of(clip, card, index, problems)
    clip, misplaced = _within(clip, index, problems)
    seconds = real_times(index.times, card.filmed_at, study.repeats)
    _check_shutter(card, seconds, problems)
    setting = setting_of(clip, card, study, events, seconds, problems)
    beside = beside.like(card, problems if not clip.doubted() else Problems())
    survey = beside.survey(setting, clip.observations, units)
    filmed = SurveyedClip(clip, card, study, events, seconds, survey, misplaced)
    if beside.second is not None and not beside.second.doubted():
        _check_second(filmed, beside.second, problems)
    for swing in beside.swings:
        if not swing.doubted():
            _check_swing(filmed, swing, problems)
    if plausible:
        consequences = filmed.consequences(problems)
        for warning in filmed.survey.warnings:
            consequences.warn(Location(clip.path), warning)
    return filmed


def _check_second(filmed: SurveyedClip, second: SurveyedClip, problems: Problems) -> None:
    """A second view that is of no use, or is of another club, is an error of the card that names it."""
    contradicted = another_club(filmed.card, second.card, second.name)
    if contradicted is not None:
        reported = filmed.consequences(problems, "second_view", "implement_length")
        reported.error(filmed.card.location_of("second_view"), *contradicted)
    refused = filmed.survey.second_refused
    if refused is not None:
        filmed.consequences(problems).error(
            filmed.card.location_of("second_view"),
            f"{second.name} gives no second view of {filmed.name}: {refused.reason}",
            refused.way_out,
        )


def _check_swing(filmed: SurveyedClip, swing: SurveyedClip, problems: Problems) -> None:
    """Another swing that is of no use is an error of the card that names it."""
    refused = filmed.survey.swings_refused.get(swing.name)
    if refused is not None:
        filmed.consequences(problems).error(
            place_of_swing(filmed.card, swing.name),
            f"{swing.name} shows no other swing for {filmed.name}: {refused.reason}",
            refused.way_out,
        )


def handheld_of(clip: Clip, count: int) -> Handheld | None:
    """What the camera's motion is to be found from; None where the card says it was still.

    The golfer is masked by the marks that do not belong to the room. The reference is the first picture that
    carries such a mark by hand, so that a lesson's first lines are where they were placed.
    """
    card = clip.card
    if card is None or card.camera.still:
        return None
    masks: dict[int, list[tuple[float, float]]] = {}
    for seen in clip.observations:
        if seen.mark not in card.room and seen.frame < count:
            masks.setdefault(seen.frame, []).append((seen.x, seen.y))
    placed = [seen.frame for seen in clip.hand_placed if seen.frame in masks]
    return Handheld(min(placed, default=0), masks)


def events_of(clip: Clip, card: Card, index: ClipIndex, problems: Problems) -> dict[str, int]:
    """Events as frames; one may be counted from another (`impact - 20`) that itself is not."""
    frames: dict[str, int] = {}
    told_alone = [(name, at) for name, at in card.events.items() if at.event is None]
    told_from_another = [(name, at) for name, at in card.events.items() if at.event is not None]
    for name, at in (*told_alone, *told_from_another):
        reported = (
            problems if at.event is None or at.event in frames else Problems()
        )  # reported with the card
        frame = frame_of_instant(at, frames, index, card.location_of("events", name), reported, clip)
        if frame is not None:
            frames[name] = frame
    return {name: frames[name] for name in card.events if name in frames}


def _within(clip: Clip, index: ClipIndex, problems: Problems) -> tuple[Clip, frozenset[str]]:
    """The clip less the placings that its pictures cannot hold, each reported, and the marks they were of."""
    wrong = {seen: reason for seen in clip.observations if (reason := _misplaced(seen, clip, index))}
    for seen, (what, right) in wrong.items():
        cause = f"frame {seen.frame} is damaged" if index.is_damaged(seen.frame) else ""
        problems.error(clip.location_of_mark(seen.mark, seen.frame), what, right, cause=cause)
    kept = tuple(seen for seen in clip.observations if seen not in wrong)
    return replace(clip, observations=kept), frozenset(seen.mark for seen in wrong)


def _misplaced(seen: Observation, clip: Clip, index: ClipIndex) -> tuple[str, str] | None:
    """What is wrong with a placing on a clip's pictures, and what would be right."""
    width, height = index.size
    last = len(index) - 1
    if seen.frame > last:
        wrong = f"`{seen.mark}` is placed on frame {seen.frame}, and {clip.name} ends with frame {last}"
        return wrong, "frames are counted from 0"
    if index.is_damaged(seen.frame):
        return f"`{seen.mark}` is placed on frame {seen.frame}, whose picture is damaged", DAMAGED
    if not (0 <= seen.x <= width and 0 <= seen.y <= height):
        wrong = f"`{seen.mark}` at ({seen.x:g}, {seen.y:g}) lies outside the {width} × {height} px picture"
        return wrong, "coordinates are px of the upright picture, from its upper left corner"
    return None


def _check_shutter(card: Card, seconds: tuple[float, ...], problems: Problems) -> None:
    """No picture is exposed longer than to the next one, by more than what stated rates are rounded by."""
    gaps = [late - early for early, late in pairwise(seconds) if late > early]
    if card.shutter is not None and gaps and card.shutter > ROUNDED * median(gaps):
        problems.error(
            card.location_of("shutter"),
            f"a shutter of {1000 * card.shutter:.1f} ms is longer than the {1000 * median(gaps):.1f} ms from "
            "picture to picture",
            "correct it, or `filmed_at`",
        )


def _resting_on(card: Card) -> Iterator[str]:
    """The marks of plumb lines, scales and the lens's lines."""
    for pair in card.plumb:
        yield from pair
    for entry in card.scale:
        yield from next(
            getattr(entry, kind) for kind in ("between", "grid", "standing") if hasattr(entry, kind)
        )
    for line in (*getattr(card.lens, "straight", ()), *getattr(card.lens, "grid", ())):
        yield from line
