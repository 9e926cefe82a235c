"""A plan: where feet, hips, shoulders, hands and club are at a few instants, from above."""

from __future__ import annotations

from collections.abc import Iterator

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


def told(planned: Planned, plan: FloorPlan, words: Words, units: Units) -> str:
    """What the plan shows, a sentence an instant: what has turned, how far out the hands are."""
    return "\n\n".join(
        _sentence(planned, at, moment, words, units)
        for at, moment in zip(planned.panels, plan.moments, strict=True)
    )


def alt_of(plan: FloorPlan) -> str:
    """What the drawing shows, in a breath."""
    labels = [moment.label for moment in plan.moments]
    said = labels[0] if len(labels) == 1 else f"{', '.join(labels[:-1])} and {labels[-1]}"
    return f"Drawn from above: feet, hips, shoulders, hands and club. {said}."


def _sentence(planned: Planned, at: PlannedPanel, moment: Moment, words: Words, units: Units) -> str:
    parts = [*_turns(planned.panels[0], at, units), *_hands(at, units)]
    parts[-1:] = [f"and {part}" if parts[1:] else part for part in parts[-1:]]
    missing = [
        words.the(mark) for mark in (*LINES["hips"], *LINES["shoulders"], HEAD) if _missing(moment, mark)
    ]
    said = f"{moment.label}: {', '.join(parts)}." if parts else f"{moment.label}."
    return f"{said} Not drawn, since not known well enough: {', '.join(missing)}." if missing else said


def _missing(moment: Moment, mark: str) -> bool:
    return all(spot.mark != mark for spot in moment.spots)


def _turns(first: PlannedPanel, at: PlannedPanel, units: Units) -> Iterator[str]:
    """How far each line has turned since the first instant of the plan."""
    if first.frame == at.frame:
        return
    label = _label(first)
    since = label[:1].lower() + label[1:]
    for line, (a, b) in LINES.items():
        then, now = ((At(a, one.frame), At(b, one.frame)) for one in (first, at))
        found = at.filmed.survey.turn_in_space(then, now)
        if isinstance(found, Measured):
            yield f"the {line} have turned {_amount(found, units)} {found.way} since {since}"


def _hands(at: PlannedPanel, units: Units) -> Iterator[str]:
    """How far the first of the marks of the hands is from the navel."""
    for hand in HANDS:
        if at.filmed.sees(hand, at.frame) and at.filmed.sees("navel", at.frame):
            found = at.filmed.survey.distance_in_space(At("navel", at.frame), At(hand, at.frame))
            if isinstance(found, Measured):
                yield f"the hands are {_amount(found, units)} from the navel"
                return


def _amount(measured: Measured, units: Units) -> str:
    return printed(measured.value, measured.uncertainty, measured.dimension, units).amount
