"""Names of marks and instants as plain words, for ledgers, alt texts and long descriptions."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from lessonpress.records import KNOWN_MARKS, Instant

_KNOWN = re.compile(rf"(?<![\w-])(?:{'|'.join(KNOWN_MARKS)})(?![\w-])")

# event → (at it, at it in short, since it); any other event is taken as its own name: "at delivery"
_EVENTS: dict[str, tuple[str, str, str]] = {
    "setup": ("at setup", "at setup", "since setup"),
    "top": ("at the top of the backswing", "at the top", "since the top"),
    "impact": ("at impact", "at impact", "since impact"),
    "finish": ("at the finish", "at the finish", "since the finish"),
}


# joint → the next joint along its limb, in either direction → what lies between them
_LIMBS: dict[str, dict[str, str]] = {
    "elbow": {"shoulder": "upper arm", "wrist": "forearm"},
    "wrist": {"elbow": "forearm"},
    "knee": {"hip": "thigh", "ankle": "shin"},
    "ankle": {"knee": "shin", "toe": "foot"},
}


@dataclass(frozen=True)
class Words:
    """The site's words for what is swung: `implement` "club", `head` "clubhead"."""

    implement: str = "club"
    head: str = "clubhead"

    def mark(self, name: str) -> str:
        """`trail-hip` → "trail hip", `c7` → "C7", `implement-head` → the site's word for it."""
        if name == "implement-head":
            return self.head
        if name == "implement-grip":
            return f"{self.implement} grip"
        return " ".join("C7" if part == "c7" else part for part in name.split("-"))

    def joint(self, first: str, vertex: str, second: str) -> tuple[str, str] | None:
        """A joint's angle and its limbs, "lead wrist angle", "forearm to shaft"; None for other angles."""
        limbs = self._limb(vertex, first), self._limb(vertex, second)
        return None if None in limbs else (f"{self.mark(vertex)} angle", f"{limbs[0]} to {limbs[1]}")

    def _limb(self, vertex: str, end: str) -> str | None:
        """What lies between a joint and a mark of the same arm or leg, the implement in the hand included."""
        side, _, joint = vertex.partition("-")
        if joint == "wrist" and end == "implement-head":
            return "shaft" if self.implement == "club" else self.implement
        if side not in ("lead", "trail") or not end.startswith(f"{side}-"):
            return None
        return _LIMBS.get(joint, {}).get(end.removeprefix(f"{side}-"))

    def spoken(self, text: str) -> str:
        """A text with its known marks in words: "depth of implement-head" → "depth of clubhead"."""
        return _KNOWN.sub(lambda match: self.mark(match[0]), text)

    def the(self, name: str) -> str:
        """The mark with its article: "the trail hip"; "C7" has none."""
        return self.mark(name) if name == "c7" else f"the {self.mark(name)}"


def event_words(event: str) -> str:
    """The event's name as a heading says it: "Top", "Late release"."""
    spoken = event.replace("-", " ")
    return spoken[:1].upper() + spoken[1:]


def at_instant(instant: Instant, *, short: bool = False) -> str:
    """ "at the top of the backswing" (short: "at the top"), "at frame 96", "2 frames before impact"."""
    if instant.plus:
        way = "after" if instant.plus > 0 else "before"
        return f"{_frames(abs(instant.plus))} {way} {_name(instant)}"
    if instant.event is None:
        return f"at {_name(instant)}"
    long, brief, _ = _EVENTS.get(instant.event, (f"at {_name(instant)}",) * 3)
    return brief if short else long


def since_instant(instant: Instant) -> str:
    """ "since setup", "since the top", "since 2 frames before impact", "since frame 96"."""
    if instant.plus:
        return f"since {at_instant(instant)}"
    return f"since {_name(instant)}"


def from_instant(instant: Instant) -> str:
    """ "from setup", "from the top": where a path begins."""
    return since_instant(instant).replace("since", "from", 1)


def to_instant(instant: Instant) -> str:
    """ "to impact", "to the finish": where a path ends."""
    return since_instant(instant).replace("since", "to", 1)


def joined(parts: Sequence[str]) -> str:
    """ "a", "a and b", "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def sentence_case(clause: str) -> str:
    """The clause with its first letter in upper case, the rest as it is."""
    return clause[:1].upper() + clause[1:]


def _name(instant: Instant) -> str:
    """The instant without what is added to it."""
    if instant.event is not None:
        return _EVENTS.get(instant.event, ("", "", f"since {instant.event.replace('-', ' ')}"))[2][
            len("since ") :
        ]
    if instant.frame is not None:
        return f"frame {instant.frame}"
    if instant.seconds is not None:
        return f"{instant.seconds:g} s of the file"
    code = instant.timecode
    if code is None:
        return instant.text
    gap = ";" if code.drop else ":"
    return f"{code.hours:02}:{code.minutes:02}:{code.seconds:02}{gap}{code.frames:02} of the file's timecode"


def _frames(count: int) -> str:
    return "1 frame" if count == 1 else f"{count} frames"
