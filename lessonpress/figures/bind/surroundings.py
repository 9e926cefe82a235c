"""What surrounds an overlay in its picture: areas tags should not cover, and faces to be blurred."""

from __future__ import annotations

from lessonpress.figures.bind.surveyed_clip import SurveyedClip
from lessonpress.measure import At
from lessonpress.records import PictureBox, Point, Problems

# mark → half the side of the square to keep clear, as a share of stature
KEEP_CLEAR = {
    "head": 0.08,
    "lead-wrist": 0.05,
    "trail-wrist": 0.05,
    "implement-head": 0.04,
    "lead-toe": 0.04,
    "trail-toe": 0.04,
}
OBSCURED = 0.12  # of stature: the radius of the blur
COVERAGE = 2.0  # standard uncertainties on each side: some 95 % (JCGM 100, 6.3.3)
USUAL_STATURE = 1.75  # m
TALL = 0.75  # of the picture's height: how tall a golfer is where nothing says it


def keep_clear(filmed: SurveyedClip, frame: int) -> tuple[PictureBox, ...]:
    """Squares about head, hands, feet and implement head on a frame, px."""
    height = stature_px(filmed)
    return tuple(
        (x - half * height, y - half * height, x + half * height, y + half * height)
        for mark, half in KEEP_CLEAR.items()
        if filmed.sees(mark, frame)
        for x, y in [filmed.survey.position(At(mark, frame))]
    )


def obscured(filmed: SurveyedClip, frame: int, problems: Problems) -> tuple[tuple[Point, float], ...]:
    """Centre and radius of what the card asks to blur, px.

    A disc reaches farther by what its mark's place may be off. A mark that is not placed there, or so badly
    that this is as much as the disc itself, is an error.
    """
    discs = []
    for number, (mark, across) in enumerate(filmed.card.obscured):
        location = filmed.card.location_of("obscure", number)
        if not filmed.sees(mark, frame):
            problems.error(
                location,
                f"`{mark}` is to be obscured and is not placed on frame {frame}, which a figure shows",
                "place it there, or carry it there with `lessonpress track`",
            )
            continue
        at = At(mark, frame)
        radius = OBSCURED * stature_px(filmed) if across is None else across / 2
        within = COVERAGE * filmed.survey.placed_within(at)
        if within > radius:
            problems.error(
                location,
                f"`{mark}` is to be obscured, and is known on frame {frame} to ± {within:.0f} px alone",
                f"place it there by hand: the disc has a radius of {radius:.0f} px",
            )
            continue
        discs.append((filmed.survey.position(at), radius + within))
    return tuple(discs)


def stature_px(filmed: SurveyedClip) -> float:
    """How tall the golfer is in the picture, px; by the scale where there is one."""
    scale = filmed.survey.px_per_metre()
    stature = filmed.card.stature.metres if filmed.card.stature else USUAL_STATURE
    return scale * stature if scale is not None else TALL * filmed.index.size[1]
