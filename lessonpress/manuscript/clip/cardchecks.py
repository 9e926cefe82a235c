"""Checks of a card: what cannot all be true, and what may not be published."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from lessonpress.manuscript.clip.card import LEAST_OF_A_LINE, Card, Grid, Standing
from lessonpress.manuscript.rights.checks import Shown, check_people, check_source
from lessonpress.records import FLIGHT, Instant, Problems, nearest

SHORTEST_IMPLEMENT, LONGEST_IMPLEMENT = 0.4, 1.6  # m: beyond any club or bat (own choice)
ORDER = ("setup", "top", "impact", "finish")


@dataclass(frozen=True)
class CardContext:
    """A card with what it is held against: the names in its folder, what keeps the video from being a file
    of the site (`files.fault_of_file`), and the day.

    clip: its name. lessons: the files of those that show it, where its rights have ended; else none.
    """

    card: Card
    names: Sequence[str]
    video_fault: tuple[str, str] | None
    today: date
    clip: str
    lessons: Sequence[str]


def check_card(context: CardContext, faults: Collection[str], problems: Problems) -> None:
    """Report everything on a card that contradicts itself, its folder or the day.

    faults: keys whose mistakes are reported already; what rests on one of them is not asked.
    """
    for check, keys in CHECKS:
        if not any(key in faults for key in keys):
            check(context, problems)


def _video(context: CardContext, problems: Problems) -> None:
    video = context.card.video
    location = context.card.location_of("video")
    if "/" in video or "\\" in video:
        problems.error(
            location, f"`{video}` is a path", "the video lies beside its card; write its name alone"
        )
    elif video not in context.names:
        others = [name for name in context.names if not name.endswith((".yaml", ".csv"))]
        problems.error(
            location,
            f"there is no `{video}` beside the card",
            "copy it there",
            nearest=nearest(video, others),
        )
    elif context.video_fault is not None:
        wrong, right = context.video_fault
        problems.error(location, f"`{video}` {wrong}", right)


def _target(context: CardContext, problems: Problems) -> None:
    card = context.card
    if card.target is None or card.view == "overhead":
        return
    expected = FLIGHT[card.view, card.hand][0]
    if card.target != expected:
        seen = f"a {card.hand}-handed golfer filmed {card.view}"
        wrong = f"target is {card.target}, but the ball of {seen} flies {_flies(expected)}"
        problems.error(
            card.location_of("target"), wrong, "is the video mirrored? else correct view, hand or target"
        )


def _flies(side: str) -> str:
    return {"into": "into the picture", "out-of": "out of the picture"}.get(side, f"to the {side}")


def _consent(context: CardContext, problems: Problems) -> None:
    check_people(context.card, context.today, _shown(context), problems)


def _source(context: CardContext, problems: Problems) -> None:
    check_source(context.card, context.today, _shown(context), problems)


def _shown(context: CardContext) -> Shown:
    return Shown("clip", context.clip, "footage", context.lessons)


def _events(context: CardContext, problems: Problems) -> None:
    """Events name pictures; where one is counted from another, that one is counted from none in turn."""
    events = context.card.events
    for name, instant in events.items():
        if instant.event is None:
            continue
        location = context.card.location_of("events", name)
        if instant.event not in events:
            wrong = f"`{name}` is counted from `{instant.event}`, which is not an event of this card"
            problems.error(
                location, wrong, "write a frame, a time or a timecode", nearest=nearest(instant.event, events)
            )
        elif _turns_back(name, events):
            problems.error(location, f"`{name}` is counted from itself", "give one of these events a frame")
    _check_order(context, problems)


def _check_order(context: CardContext, problems: Problems) -> None:
    """Report the first event that comes before one it should follow; the others may be right."""
    events = context.card.events
    frames = [
        (name, frame + events[name].plus)
        for name in ORDER
        if name in events and (frame := events[name].frame) is not None
    ]
    for (before, first), (after, second) in pairwise(frames):
        if first >= second:
            location = context.card.location_of("events", after)
            problems.error(
                location, f"`{after}` does not come after `{before}`", "correct one of the two frames"
            )
            return


def _turns_back(name: str, events: dict[str, Instant]) -> bool:
    seen, here = {name}, events[name].event
    while here is not None and here in events:
        if here in seen:
            return here == name
        seen.add(here)
        here = events[here].event
    return False


def _scales(context: CardContext, problems: Problems) -> None:
    for number, scale in enumerate(context.card.scale):
        location = context.card.location_of("scale", number)
        if isinstance(scale, Standing):
            if context.card.stature is None:
                problems.error(
                    location,
                    "this scale needs a stature, which the card does not say",
                    "add `stature: 5 ft 11 in`",
                )
            continue
        if scale.plane == "wall" and scale.depth is not None:
            problems.error(location, "this scale has a plane and a depth", "keep `plane: wall` or `depth: …`")
        known = min(scale.size, key=lambda side: side.metres) if isinstance(scale, Grid) else scale.length
        if scale.within is not None and scale.within.metres >= known.metres:
            wrong = f"the half-width {scale.within} is not smaller than the length {known}"
            problems.error(scale.location_of("within"), wrong, "correct one of the two")


def _camera(context: CardContext, problems: Problems) -> None:
    camera = context.card.camera
    for width, of in (("within", "distance"), ("wall_within", "wall")):
        if getattr(camera, width) is not None and getattr(camera, of) is None:
            problems.error(
                camera.key_location(width), f"`{width}` has no `{of}` that it belongs to", f"add `{of}: …`"
            )
        width_, of_ = getattr(camera, width), getattr(camera, of)
        if width_ and of_ and width_.metres >= of_.metres:
            wrong = f"the half-width {width_} is not smaller than the distance {of_}"
            problems.error(camera.location_of(width), wrong, "correct one of the two")
    if camera.distance and camera.wall and camera.wall.metres <= camera.distance.metres:
        wrong = f"the wall at {camera.wall} does not lie behind the golfer at {camera.distance}"
        problems.error(camera.location_of("wall"), wrong, "both are counted from the lens")


def _lens(context: CardContext, problems: Problems) -> None:
    """A lens is stated or solved, not both; a grid has rows of one length and lines of three marks."""
    lens = context.card.lens
    if lens is None:
        return
    solved = next((key for key in ("straight", "grid") if getattr(lens, key)), None)
    for key in ("k1", "k2"):
        if solved and key in lens.model_fields_set:
            wrong = f"`{key}` is stated, and `{solved}` is there to solve it from"
            problems.error(lens.key_location(key), wrong, f"keep `{key}` with its `focal`, or `{solved}`")
    if not lens.grid:
        return
    uneven = next((n for n, row in enumerate(lens.grid) if len(row) != len(lens.grid[0])), None)
    if uneven is not None:
        wrong = f"this row of the grid has {len(lens.grid[uneven])} marks, and the first {len(lens.grid[0])}"
        right = "name the crossings row by row, every row from left to right"
        problems.error(lens.location_of("grid", uneven), wrong, right)
    elif len(lens.grid) < LEAST_OF_A_LINE and len(lens.grid[0]) < LEAST_OF_A_LINE:
        right = "give it three rows or three columns, at least"
        problems.error(lens.location_of("grid"), "no line of this grid has three marks", right)


def _repeats(context: CardContext, problems: Problems) -> None:
    """A mark is named once in a list, and a pair is two."""
    card = context.card
    lists: list[tuple[tuple[str | int, ...], tuple[str, ...]]] = [
        (("room",), card.room),
        (("obscure",), tuple(mark for mark, _ in card.obscured)),
    ]
    lists += [(("middles", name), marks) for name, marks in card.middles.items()]
    lists += [(("plumb", number), pair) for number, pair in enumerate(card.plumb)]
    if card.lens:
        lists += [(("lens", "straight", number), line) for number, line in enumerate(card.lens.straight)]
        lists += [(("lens", "grid", number), row) for number, row in enumerate(card.lens.grid)]
    lists.append((("other_swing",), card.other_swing))
    for number, scale in enumerate(card.scale):
        kind = type(scale).__name__.lower()
        lists.append((("scale", number, kind), getattr(scale, kind)))
    for loc, marks in lists:
        for at, mark in enumerate(marks):
            if mark in marks[:at]:
                problems.error(card.location_of(*loc, at), f"`{mark}` is named twice here", "name it once")


def _stature(context: CardContext, problems: Problems) -> None:
    stature = context.card.stature
    if stature and not 0.5 <= stature.metres <= 2.6:
        problems.error(
            context.card.location_of("stature"), f"no one is {stature} tall", "write `5 ft 11 in` or `1.80 m`"
        )


def _implement(context: CardContext, problems: Problems) -> None:
    length = context.card.implement_length
    if length and not SHORTEST_IMPLEMENT <= length.metres <= LONGEST_IMPLEMENT:
        problems.error(
            context.card.location_of("implement_length"),
            f"no club is {length} long",
            "write `37 in` or `94 cm`, from the end of the handle to the sole",
        )


def _filmed(context: CardContext, problems: Problems) -> None:
    filmed = context.card.filmed_on
    if filmed and filmed > context.today:
        location = context.card.location_of("filmed_on")
        problems.warn(location, f"filmed on {filmed}, a date in the future", "is the year right?")


def _beside(context: CardContext, problems: Problems) -> None:
    card = context.card
    if card.second_view is not None and card.other_swing:
        problems.error(
            card.key_location("other_swing"),
            "this card names a second view and another swing",
            "keep `second_view`: it shows this very swing",
        )


# every check of a card, each of which reports for itself, with the keys that it rests on
CHECKS: tuple[tuple[Callable[[CardContext, Problems], None], tuple[str, ...]], ...] = (
    (_video, ("video",)),
    (_target, ("target", "view", "hand")),
    (_consent, ("people",)),
    (_source, ("source",)),
    (_events, ("events",)),
    (_scales, ("scale", "stature")),
    (_camera, ("camera",)),
    (_lens, ("lens",)),
    (_repeats, ()),
    (_stature, ("stature",)),
    (_implement, ("implement_length",)),
    (_filmed, ("filmed_on",)),
    (_beside, ("second_view", "other_swing")),
)
