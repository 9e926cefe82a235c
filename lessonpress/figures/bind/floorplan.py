"""A plan: where feet, hips, shoulders, hands and club are at a few instants, from above."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lessonpress.figures.plan.planned import Planned, PlannedPanel
from lessonpress.figures.plates import FloorPlan, Moment
from lessonpress.figures.words.credits import credit_of
from lessonpress.measure import At, Measured, Refusal, Units, printed
from lessonpress.overlays import Words, event_words
from lessonpress.records import Problems, positive_right

SIDES = ("trail", "lead")
LINES = {"hips": ("trail-hip", "lead-hip"), "shoulders": ("trail-shoulder", "lead-shoulder")}
HANDS = ("implement-grip", "lead-wrist", "trail-wrist")
HEAD = "implement-head"
FEET = tuple(f"{side}-{part}" for part in ("heel", "ankle", "toe") for side in SIDES)
MARKS = (
    *FEET,
    *(mark for line in LINES.values() for mark in line),
    *HANDS,
    HEAD,
)
NAME = "The swing from above"


def floor_plan(planned: Planned, problems: Problems) -> FloorPlan | None:
    """The plan of a figure; None where there is too little to draw, which is reported."""
    filmed, moments = planned.panels[0].filmed, []
    for at in planned.panels:
        spots = filmed.survey.plan(MARKS, at.frame, planned.panels[0].frame)
        if isinstance(spots, Refusal):
            if filmed.survey.second_refused is None:  # else reported at the card
                reported = filmed.consequences(problems)
                reported.error(planned.block.location, f"no plan is drawn: {spots.reason}", spots.way_out)
            return None
        moments.append(Moment(_label(at), spots))
    target = positive_right("face-on", filmed.card.hand) * (-1 if planned.fields.mirrored else 1)
    return FloorPlan(NAME, tuple(moments), target, (credit_of(filmed.card.source),))


def _label(at: PlannedPanel) -> str:
    """ "Top", or "Frame 96" where no event of the clip is there."""
    event = next((name for name, frame in at.filmed.events.items() if frame == at.frame), "")
    return event_words(event) if event else f"Frame {at.frame}"


@dataclass(frozen=True)
class Part:
    """A number in a sentence: the words before and after it."""

    before: str
    measured: Measured
    after: str

    def printed(self, units: Units) -> str:
        one = self.measured
        amount = printed(one.value, one.uncertainty, one.dimension, units).amount
        return f"{self.before} {amount} {self.after}"


def parts_of(planned: Planned) -> list[list[Part]]:
    """What is measured for the words of a plan, an instant after the other; in any units."""
    first = planned.panels[0]
    return [[*_turns(first, at), *_hands(at)] for at in planned.panels]


def told(plan: FloorPlan, parts: Iterable[Iterable[Part]], words: Words, units: Units) -> str:
    """What the plan shows, a sentence an instant: what has turned, how far out the hands are."""
    return "\n\n".join(
        _sentence(moment, [part.printed(units) for part in of_moment], words)
        for moment, of_moment in zip(plan.moments, parts, strict=True)
    )


def alt_of(plan: FloorPlan) -> str:
    """What the drawing shows, in a breath."""
    labels = [moment.label for moment in plan.moments]
    said = labels[0] if len(labels) == 1 else f"{', '.join(labels[:-1])} and {labels[-1]}"
    return f"Drawn from above: feet, hips, shoulders, hands and club. {said}."


def _sentence(moment: Moment, parts: list[str], words: Words) -> str:
    parts[-1:] = [f"and {part}" if parts[1:] else part for part in parts[-1:]]
    missing = [
        words.the(mark) for mark in (*LINES["hips"], *LINES["shoulders"], HEAD) if _missing(moment, mark)
    ]
    said = f"{moment.label}: {', '.join(parts)}." if parts else f"{moment.label}."
    return f"{said} Not drawn, since not known well enough: {', '.join(missing)}." if missing else said


def _missing(moment: Moment, mark: str) -> bool:
    return all(spot.mark != mark for spot in moment.spots)


def _turns(first: PlannedPanel, at: PlannedPanel) -> Iterator[Part]:
    """How far each line has turned since the first instant of the plan."""
    if first.frame == at.frame:
        return
    label = _label(first)
    since = label[:1].lower() + label[1:]
    for line, (a, b) in LINES.items():
        then, now = ((At(a, one.frame), At(b, one.frame)) for one in (first, at))
        found = at.filmed.survey.turn_in_space(then, now)
        if isinstance(found, Measured):
            yield Part(f"the {line} have turned", found, f"{found.way} since {since}")


def _hands(at: PlannedPanel) -> Iterator[Part]:
    """How far the first of the marks of the hands is from the navel."""
    for hand in HANDS:
        if at.filmed.sees(hand, at.frame) and at.filmed.sees("navel", at.frame):
            found = at.filmed.survey.distance_in_space(At("navel", at.frame), At(hand, at.frame))
            if isinstance(found, Measured):
                yield Part("the hands are", found, "from the navel")
                return
