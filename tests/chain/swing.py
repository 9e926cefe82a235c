"""One swing, filmed once, that is asked for every kind of number."""

from __future__ import annotations

from tests.chain import asked
from tests.chain.chain import bodies, frame, root_of, sight, write_lesson
from tests.studio.clip import MadeClip
from tests.studio.swingers import DUNE

RATE = [(0, 30), (24, 240)]  # slowed from shortly before the top on, as a telephone does
KINDS = [*asked.STILL, *asked.MOVED, *asked.FACED, *asked.MOVING]
ALONG_THE_LINE = [*asked.STILL, *asked.MOVED]
FOLLOWED = ("lead-wrist", "implement-head")
# A circle's centre is as sensitive to how deep its mark is as to anything, so the card says it, and says it
# often enough that little is left for a bend between.
WRIST = {
    instant: {"toward": f"{toward} in", "within": "3 in"}
    for instant, toward in (("top", 3), ("impact - 36", 9), ("impact - 15", 14), ("impact", 12))
}
CARD = {"depth": {"lead-wrist": WRIST}}


def place(clip: MadeClip, seed: int | None, *, carried: bool = True) -> None:
    """Marks of the swing, by hand at its events and, those that are followed, on two pictures between."""
    frames = [clip.events[event] for event in ("setup", "top", "impact")]
    between = [clip.events["impact"] - 12, clip.events["impact"] - 6]
    span = range(clip.events["top"], clip.events["impact"] + 1)
    followed = [*frames, *between]
    placed = dict.fromkeys(bodies(clip), frames) | dict.fromkeys(FOLLOWED, followed)
    sight(clip, placed, dict.fromkeys(FOLLOWED, span) if carried else {}, seed)


def ask_all(clip: MadeClip) -> None:
    """A lesson that asks for every kind of number."""
    write_lesson(root_of(clip), "kinds", clip.name, *map(frame, KINDS), prose="The tempo is {tempo}.")


def truths(clip: MadeClip) -> dict[str, float]:
    true = {one.id: one.truth(clip) for one in KINDS}
    events = DUNE.events
    true["tempo"] = (events["top"] - events["setup"]) / (events["impact"] - events["top"])
    return true
