"""What a clip still lacks for a lesson's plates: events, middles and marks, with file and way out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from lessonpress.comparing.pairings import Pairing
from lessonpress.figures import NeededMark, SurveyedClip, needed_marks
from lessonpress.manuscript import Site, file_passage, read_lesson
from lessonpress.records import KNOWN_MARKS, Location, Problem, Problems

Films = Mapping[str, SurveyedClip | None]


@dataclass(frozen=True)
class Lacking:
    """problems: an error for each thing to write or place. pairings: the ids of those that cannot be made."""

    problems: tuple[Problem, ...]
    pairings: frozenset[str]


@dataclass
class _Wants:
    """What is wanted, as it is found. placed: by frame, the marks. later: by absent event, the marks then.

    carried: marks on the frames between two events of which one is absent, with these. by: whom each is for.
    """

    placed: dict[int, dict[str, None]] = field(default_factory=dict)
    later: dict[str, dict[str, None]] = field(default_factory=dict)
    carried: dict[str, str] = field(default_factory=dict)
    plates: dict[str, dict[str, None]] = field(default_factory=dict)  # by absent event or middle
    by: set[str] = field(default_factory=set)


def lacking_on(other: SurveyedClip, pairings: Sequence[Pairing], site: Site, films: Films) -> Lacking:
    """What `other` lacks for these pairings, all at once: marks of an absent event are named with it.

    films: by name, the lesson's clips ready for figures.
    """
    middles = _middles(other, pairings, films)
    hopeful = _with_middles(other, middles)
    names = [mark for one in pairings for mark in one.marks if mark not in middles]
    wants = _Wants()
    for one in pairings:
        for mark in one.marks:
            if mark in middles:
                wants.plates.setdefault(mark, {})[one.plate] = None
                wants.by.add(one.id)
    complete = [one for one in pairings if all(event in other.events for event in one.events)]
    for need in _needs(complete, other.name, {other.name: hopeful}, site, names):
        if not hopeful.sees(need.mark, need.frame):
            wants.placed.setdefault(need.frame, {})[need.mark] = None
            wants.by.add(need.figure)
    for one in pairings:
        if one not in complete:
            _want_of(one, hopeful, _needs([one], one.clip, films, site, names), films[one.clip], wants)
    problems = [*_events(other, wants), *_absent_middles(other, middles, wants), *_marks(other, wants)]
    return Lacking(tuple(problems), frozenset(wants.by))


def _middles(other: SurveyedClip, pairings: Iterable[Pairing], films: Films) -> dict[str, tuple[str, ...]]:
    """The middles that the lesson's clips know and `other` does not, with their members."""
    absent: dict[str, tuple[str, ...]] = {}
    for one in pairings:
        filmed = films[one.clip]
        known = filmed.card.middles if filmed is not None else {}
        absent |= {
            mark: tuple(known[mark]) for mark in one.marks if mark in known and mark not in other.mark_names
        }
    return absent


def _with_middles(other: SurveyedClip, middles: Mapping[str, tuple[str, ...]]) -> SurveyedClip:
    card = other.card.model_copy(update={"middles": {**other.card.middles, **middles}})
    return replace(other, card=card, clip=replace(other.clip, card=card, readable=card))


def _needs(
    pairings: Iterable[Pairing], clip: str, films: Films, site: Site, names: Iterable[str]
) -> tuple[NeededMark, ...]:
    """The marks that the pairings need on one clip, if that alone were shown."""
    blocks = "\n".join(one.frame(clip) for one in pairings)
    text = f"---\ntitle: Needs\ndate: 2000-01-01\n---\n\n{blocks}"
    lesson = read_lesson("needs", file_passage("needs", text), Problems())
    assert lesson is not None
    return needed_marks(lesson, site, films, Problems(), [one for one in names if one not in KNOWN_MARKS])


def _want_of(
    one: Pairing,
    other: SurveyedClip,
    needs: Iterable[NeededMark],
    filmed: SurveyedClip | None,
    wants: _Wants,
) -> None:
    """What a pairing wants whose events are not all there, by what the lesson's own clip needs."""
    assert filmed is not None
    wants.by.add(one.id)
    for event in one.events:
        if event not in other.events:
            wants.plates.setdefault(event, {})[one.plate] = None
            wants.later.setdefault(event, {})
    event_at = {filmed.events[event]: event for event in reversed(one.events)}
    for need in needs:
        event = event_at.get(need.frame, "")
        if not event:
            ends = sorted(one.events, key=lambda name: filmed.events[name])
            wants.carried[need.mark] = f"from {ends[0]} to {ends[-1]}"
        elif event not in other.events:
            if need.mark not in other.card.room or need.mark not in other.clip.marks:
                wants.later[event][need.mark] = None
        elif not other.sees(need.mark, other.events[event]):
            wants.placed.setdefault(other.events[event], {})[need.mark] = None


def _events(other: SurveyedClip, wants: _Wants) -> Iterator[Problem]:
    for event, marks in wants.later.items():
        then = (
            f", and then place {', '.join(marks)} on that frame in {other.clip.marks_path}" if marks else ""
        )
        yield Problem(
            other.card.location_of("events"),
            f"{other.name} has no event `{event}`, which {_plates(wants.plates[event])}",
            f"write `{event}: FRAME` under `events`{then}",
        )


def _absent_middles(
    other: SurveyedClip, middles: Mapping[str, tuple[str, ...]], wants: _Wants
) -> Iterator[Problem]:
    for middle, members in middles.items():
        yield Problem(
            other.card.location_of("middles"),
            f"{other.name} has no middle `{middle}`, which {_plates(wants.plates[middle])}",
            f"write `{middle}: [{', '.join(members)}]` under `middles`",
        )


def _plates(ids: Iterable[str]) -> str:
    named = list(ids)
    return f"the plate{'s' * (len(named) > 1)} {', '.join(named)} need{'s' * (len(named) == 1)}"


def _marks(other: SurveyedClip, wants: _Wants) -> Iterator[Problem]:
    named = {frame: f" (`{event}`)" for event, frame in reversed(list(other.events.items()))}
    for frames in _runs(wants.placed):
        marks = ", ".join(wants.placed[frames[0]])
        first, last = frames[0], frames[-1]
        if first == last:
            wrong = f"frame {first}{named.get(first, '')} of {other.name} lacks {marks}"
            yield Problem(Location(other.clip.marks_path), wrong, "place them there, by hand or at the desk")
        else:
            wrong = f"frames {first} to {last} of {other.name} lack {marks}"
            yield Problem(Location(other.clip.marks_path), wrong, _carry(other, wants.placed[first]))
    for mark, stretch in wants.carried.items():
        wrong = f"`{mark}` is needed on every frame {stretch} of {other.name}"
        yield Problem(Location(other.clip.marks_path), wrong, _carry(other, [mark]))


def _carry(other: SurveyedClip, marks: Iterable[str]) -> str:
    return f"place them at both ends, then `lessonpress track {other.name} {' '.join(marks)}`"


def _runs(placed: Mapping[int, Mapping[str, None]]) -> list[list[int]]:
    """Frames in ascending order, those together that follow each other and lack the same marks."""
    frames = sorted(placed)
    runs = [frames[:1]] if frames else []
    for before, frame in pairwise(frames):
        if frame == before + 1 and placed[frame].keys() == placed[before].keys():
            runs[-1].append(frame)
        else:
            runs.append([frame])
    return runs
