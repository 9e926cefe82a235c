"""What cannot be a body, or not this golfer's: such marks are not suggested, and why is said in words.

| what | by |
|---|---|
| the looks do not agree | `UNSURE`: a u beyond which a suggestion helps no one |
| the sides cannot be told apart | `sides.py` |
| a knee or hip of a leg whose ankle is not seen clearly | `ABOVE` |
| a limb longer than any seen in such a square | `longest` of `learnt.json` |
| a place outside the picture | its size |
"""

from __future__ import annotations

from collections.abc import Mapping

from lessonpress.footage.pose.learnt import Learnt
from lessonpress.records import Observation

UNSURE = 0.05  # of the square's side
UNCLEAR = "it is not seen clearly enough"
ABOVE = ("knee", "hip")  # of an ankle: where the foot is lost the whole leg was now and then
STRETCH = 1.1  # times the longest that was seen


def doubts(
    found: Mapping[str, Observation], learnt: Learnt, side: float, size: tuple[int, int]
) -> dict[str, str]:
    """Mark → why it is not to be suggested, for those of which this is so. size: of the picture, px."""
    why = {mark: fault for mark, seen in found.items() if (fault := _fault(seen, side, size))}
    for which in ("lead", "trail"):
        if why.get(f"{which}-ankle") == UNCLEAR:
            for mark in {f"{which}-{part}" for part in ABOVE} & found.keys():
                why.setdefault(mark, f"the {which} ankle is not seen clearly enough")
    for (one, other), longest in learnt.longest.items():
        for which in ("lead", "trail"):
            ends = f"{which}-{one}", f"{which}-{other}"
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
        return UNCLEAR
    return ""


def _apart(one: Observation, other: Observation) -> float:
    return float(((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5)
