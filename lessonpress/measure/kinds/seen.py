"""What is asked in space needs the depth of its marks from another clip; the table's is of no use there."""

from __future__ import annotations

from collections.abc import Sequence

from lessonpress.measure.body.depths import Span
from lessonpress.measure.inputs.setting import At
from lessonpress.measure.scene import Scene
from lessonpress.measure.uncertainty.refusal import RefusedError

PLANE = "in space"


def check_seen(scene: Scene, points: Sequence[At]) -> None:
    """Refuses marks at instants at which no other clip shows how far toward the camera they are."""
    beside = scene.beside
    if beside is None:
        raise RefusedError(
            "what goes toward the camera is not known in space without a second view",
            "name the clip that shows the same swing from the other side as second_view on the card",
        )
    scene.check_points(points)
    for at in points:
        for mark in scene.observations.members(at.mark):
            if not beside.knows_better(At(mark, at.frame)):
                others = " or ".join(beside.clips)
                raise RefusedError(
                    f"{mark} on frame {at.frame} is not placed in {others} at that instant",
                    f"place {mark} there, too",
                )


def check_seen_along(scene: Scene, mark: str, span: Span) -> None:
    """Refuses a motion along which the same swing is not seen from the other side, picture by picture."""
    second = scene.second
    if second is None or not second.usable:
        raise RefusedError(
            "what goes toward the camera along a motion is not known without a second view of this swing",
            "film it from both sides at once, and name the other clip as second_view on the card",
        )
    for member in scene.observations.members(mark):
        if not second.knows_better(At(member, span[0]), span):
            raise RefusedError(
                f"{member} is not followed in {second.other.setting.clip} from frame {span[0]} to {span[1]}",
                f"track {member} over the same stretch there, too",
            )
