"""What would narrow a number: which inputs a better card or film betters, and what ± is left then.

By first order, as everywhere: U' = U √(1 − Σ share (1 − (u'/u)²)) over the inputs that a remedy betters,
where share is an input's part of the variance (JCGM 100:2008, 5.1.2, equation 10), u what it has and u' what
it would have. Of a number that was drawn it promises less than comes true, since what
first order does not see is left as it is. To add a remedy: a function from the inputs of a number to the u'
of those that it betters, and a row in REMEDIES with the author's words.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from lessonpress.measure.body.lengths import GRIP, HANDS, HEAD
from lessonpress.measure.body.posture import STATED_STATURE_U
from lessonpress.measure.camera.plumb import TRUE_U
from lessonpress.measure.inputs.observations import CLICK_U, is_place
from lessonpress.measure.numbers.units import open_length
from lessonpress.measure.uncertainty.propagation import FirstOrder
from lessonpress.measure.uncertainty.quantities import Quantity
from lessonpress.records import Narrower

Bettered = Mapping[Quantity, float]
Rule = Callable[[Iterable[Quantity]], Bettered]

TAPE = 0.0508  # m: how well a distance is measured with a tape without great care
STICK = 0.00254  # m: the same of a length one can hold in the hand
DEPTH = 0.0762  # m: how well a mark's depth is read off a second film or off the golfer
SEEN = 0.03  # m: u of a depth from two views (tests/bench/second_view.py)
ANOTHER = 0.06  # m: u of one from another swing, hands and club at the top more (tests/bench/other_swings.py)
HEAD_LEFT = 0.65  # of the u of a clubhead's depth: what the club's length leaves (tests/bench/limbs.py)
LEFT = 0.1  # m: about what a limb's length leaves of the difference of its ends' depths
LINE = 0.5  # of the picture's shorter side: how long a plumb line one may count on
APART = 0.45  # focal lengths between two plumb lines, one near each side of an upright picture
LARGER = 1.5
# m across an upright picture that a swing fills at setup, top and impact, club and all; on its way down a
# clubhead goes farther to the sides (tests/bench/second_view.py, `UPRIGHT`)
ACROSS = 1.95
HIGH = 2.4  # m, the same from below the feet to above the hands at the top, and the club (own choice)
WORTH_A_CHANGE = 1.15  # times as large: less is within what is known of how large the golfer is
SHORT, SHUTTER_WITHIN = 0.0005, 0.05  # s, a shutter of 1/2000 s, and how far it may be off
HELD = (GRIP, *(hand.ends[0] for hand in HANDS))
LEAST = 0.02  # of ±: less is not worth a word
LINE_U = math.hypot(math.radians(TRUE_U), math.sqrt(2) * CLICK_U / LINE)  # rad: of a plumb line's lean
ALLOWED = 0.25  # of ±: by how much first order may miss it where it was drawn, for a remedy to be believed


@dataclass(frozen=True)
class Remedy:
    """words: what to do, its lengths with open units. betters: the new u of the inputs that it betters.

    named: whether it is said for which clips, where a number rests on several.
    """

    words: str
    betters: Rule
    named: bool = True


def _every(about: str, u: Callable[[Quantity], float]) -> Rule:
    """All inputs about one thing, each by a formula of its own."""
    return lambda inputs: {one: u(one) for one in inputs if one.about == about}


def _plumb_line(inputs: Iterable[Quantity]) -> Bettered:
    return {one: LINE_U for one in inputs if one.about == "roll"}


def _two_plumb_lines(inputs: Iterable[Quantity]) -> Bettered:
    """Two leans give the roll as their mean; their difference gives the pitch, by how far they are apart."""
    read = list(inputs)
    better = {one: math.sqrt(2) * LINE_U / APART for one in read if one.about == "pitch"}
    return better and {**better, **{one: LINE_U / math.sqrt(2) for one in read if one.about == "roll"}}


def larger(size: tuple[int, int], seen_size: float | None = None) -> Remedy:
    """The golfer larger in the picture: as large as a swing may be, or half as large again.

    size: of the picture, px. seen_size: px a metre of the golfer, None where it is not known. Clicks and
    tracks err by the same share of the shorter side and by less of the golfer, down to what an eye can take
    a point of the body for.
    """
    if seen_size is None:
        return HALF_AS_LARGE_AGAIN
    times = min(min(size) / ACROSS, max(size) / HIGH) / seen_size
    upright = "the camera held upright, so that the golfer fills the picture"
    words = upright if size[0] > size[1] else "the golfer filling the picture"

    def filling(inputs: Iterable[Quantity]) -> Bettered:
        read = list(inputs)
        leaves = any(one.about == "track" and one.parts[2] == HEAD for one in read)
        return {} if leaves or times < WORTH_A_CHANGE else _enlarged(read, times)

    return Remedy(words, filling)


def _enlarged(inputs: Iterable[Quantity], times: float) -> Bettered:
    return {one: max(one.u / times, one.least) for one in inputs if is_place(one)}


def _shutter(inputs: Iterable[Quantity]) -> Bettered:
    """A streak errs by a part of the exposure, so that it shrinks with it."""
    read = list(inputs)
    exposure = next((one for one in read if one.about == "exposure"), None)
    if exposure is None or exposure.value <= SHORT:
        return {}
    streaks = {one: one.u * SHORT / exposure.value for one in read if one.about == "streak"}
    return {exposure: SHUTTER_WITHIN * SHORT / math.sqrt(3), **streaks}


def _second_view(inputs: Iterable[Quantity]) -> Bettered:
    """Every depth is then seen, also along a motion, and no swing is another one."""
    read = list(inputs)
    better = {one: 0.0 for one in read if one.about in ("depth-bend", "swing")}
    return {**_seen(read, SEEN), **better}


def _other_swing(inputs: Iterable[Quantity]) -> Bettered:
    """Depths at events are then those of the other swing; along a motion they bend as before."""
    read = list(inputs)
    bent = {one.parts[2] for one in read if one.about == "depth-bend"}
    return {one: u for one, u in _seen(read, ANOTHER).items() if one.parts[2] not in bent}


def _club(inputs: Iterable[Quantity]) -> Bettered:
    """A clubhead's depth among those of the hands, where it is the table's; not along a motion."""
    read = list(inputs)
    held = any(one.about == "limb" or (one.about == "depth" and one.parts[2] in HELD) for one in read)
    if not held or any(one.about == "depth-bend" for one in read):
        return {}
    return {one: HEAD_LEFT * one.u for one in read if one.about == "depth" and one.parts[2] == HEAD}


def _seen(read: Sequence[Quantity], u: float) -> Bettered:
    """Depths that are seen: what a mark has in common over all frames, and what each frame has of its own."""
    own = {one.parts[:3] for one in read if one.about == "depth" and one.last.isdecimal()}
    better = {one: min(one.u, math.sqrt(2) * u / LEFT) for one in read if one.about == "limb"}
    for one in read:
        if one.about == "depth":
            better[one] = min(one.u, u if one.parts[:3] not in own else u / math.sqrt(2))
    return better


def _known_length(inputs: Iterable[Quantity]) -> Bettered:
    lengths = ("length", "width", "height")
    return {one: STICK / math.sqrt(3) for one in inputs if one.about == "scale" and one.last in lengths}


def _tripod(inputs: Iterable[Quantity]) -> Bettered:
    return {one: 0.0 for one in inputs if one.about in ("sway", "motion")}


HALF_AS_LARGE_AGAIN = Remedy(
    "the golfer half as large again in the picture", lambda inputs: _enlarged(inputs, LARGER)
)
REMEDIES: tuple[Remedy, ...] = (
    Remedy("a plumb line", _plumb_line),
    Remedy("two plumb lines, one near each side of the picture", _two_plumb_lines),
    Remedy("the stature on the card", _every("stature", lambda one: STATED_STATURE_U)),
    Remedy(
        f"the camera's distance on the card, good to {open_length(TAPE, 0)}",
        _every("distance", lambda one: TAPE / math.sqrt(3)),
    ),
    Remedy(
        f"the wall's distance on the card, good to {open_length(TAPE, 0)}",
        _every("wall", lambda one: TAPE / math.sqrt(3)),
    ),
    Remedy(f"a known length good to {open_length(STICK)}", _known_length),
    Remedy("a camera on a tripod", _tripod),
    Remedy("a shutter of 1/2000 s, stated on the card", _shutter),
    Remedy("twice as many pictures a second", _every("event", lambda one: one.u / 2)),
)


def narrower(
    estimate: FirstOrder,
    uncertainty: float,
    other_view: str = "",
    *,
    club: bool = False,
    larger: Remedy = HALF_AS_LARGE_AGAIN,
) -> tuple[Narrower, ...]:
    """What would narrow a number whose expanded uncertainty is given, most first; its ± in the same unit.

    Lengths in their words have open units. other_view: the view that would show its depths, where there is
    one and it is not used yet. club: whether the card could say how long the club is, and does not. larger:
    by how much the golfer could be larger in the picture.
    None where first order does not hold well enough for its shares to be those of the printed ±.
    """
    if abs(2 * estimate.u - uncertainty) > ALLOWED * uncertainty:
        return ()
    parts = {one: (slope * one.u) ** 2 for one, slope in estimate.slopes.items()}
    total = sum(parts.values())
    if not total > 0:
        return ()
    found = []
    seen = [Remedy("the length of the club on the card, and its grip marked", _club)] if club else []
    if other_view:
        seen.append(Remedy(f"the same swing filmed {other_view} at once", _second_view, named=False))
    if other_view and all(one.about != "swing" for one in estimate.slopes):
        seen.append(Remedy(f"another swing filmed {other_view}", _other_swing, named=False))
    for remedy in (*REMEDIES, larger, *seen, *_stated_depths(estimate)):
        better = {one: u for one, u in remedy.betters(estimate.slopes).items() if one in parts}
        left = total - sum(parts[one] * (1 - (u / one.u) ** 2) for one, u in better.items())
        if left < (1 - LEAST) ** 2 * total:
            pm = uncertainty * math.sqrt(max(left, 0.0) / total)
            found.append(Narrower(remedy.words + (_of_clips(estimate, better) if remedy.named else ""), pm))
    return tuple(sorted(found, key=lambda one: one.uncertainty))


def _of_clips(estimate: FirstOrder, better: Bettered) -> str:
    """For which clips, where a number rests on several."""
    clips = dict.fromkeys(one.clip for one in estimate.slopes)
    if len(clips) < 2:
        return ""
    return ", of " + " and ".join(dict.fromkeys(one.clip for one in better))


def _stated_depths(estimate: FirstOrder) -> Iterator[Remedy]:
    """For each mark whose depth the posture table gives: the card's word for it, on each frame used.

    What is common to all frames is then no input any more, and each frame has the card's own limits. Along a
    motion a depth is known at its ends alone, and a card that names them makes the bend between less sure.
    Of a limb's end it takes away what the limb's length says.
    """
    marks = dict.fromkeys((one.clip, one.parts[2]) for one in estimate.slopes if one.about == "depth")
    bent = {(one.clip, one.parts[2]) for one in estimate.slopes if one.about == "depth-bend"}
    bent |= {(one.clip, end) for one in estimate.slopes if one.about == "limb" for end in one.parts[2:-1]}
    for clip, mark in (one for one in marks if one not in bent):

        def betters(inputs: Iterable[Quantity], clip: str = clip, mark: str = mark) -> Bettered:
            of = [one for one in inputs if one.parts[:3] == (clip, "depth", mark)]
            named = any(one.last.isdecimal() for one in of)
            return {one: 0.0 if named and not one.last.isdecimal() else DEPTH / math.sqrt(3) for one in of}

        yield Remedy(f"the depth of {mark} on the card, good to {open_length(DEPTH, 0)}", betters)
