"""What cannot be a body, or not this golfer's: such marks are not suggested, and why is said in words.

| what | by |
|---|---|
| the looks do not agree | `UNSURE`: a u beyond which a suggestion helps no one |
| the sides cannot be told apart | `sides.py` |
| a limb longer than any seen in such a square | `longest` of `learnt.json` |
| a place outside the picture | its size |
"""

from __future__ import annotations

from collections.abc import Mapping

from lessonpress.footage.pose.learnt import Learnt
from lessonpress.records import Observation

UNSURE = 0.05  # of the square's side
STRETCH = 1.1  # times the longest that was seen


def doubts(
    found: Mapping[str, Observation], learnt: Learnt, side: float, size: tuple[int, int]
) -> dict[str, str]:
    """Mark → why it is not to be suggested, for those of which this is so. size: of the picture, px."""
    why = {mark: fault for mark, seen in found.items() if (fault := _fault(seen, side, size))}
    for (one, other), longest in learnt.longest.items():
        for lead in ("lead", "trail"):
            ends = f"{lead}-{one}", f"{lead}-{other}"
            if (
                all(end in found for end in ends)
                and _apart(*(found[end] for end in ends)) > STRETCH * longest * side
            ):
                for end in ends:
                    why.setdefault(end, f"it would be too far from the {ends[1 - ends.index(end)]}")
    return why


def _fault(seen: Observation, side: float, size: tuple[int, int]) -> str:
    if not (0 <= seen.x <= size[0] and 0 <= seen.y <= size[1]):
        return "it would lie outside the picture"
    if (seen.u or 0.0) > UNSURE * side:
        return "it is not seen clearly enough"
    return ""


def _apart(one: Observation, other: Observation) -> float:
    return float(((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5)
