"""`marks.yaml`: marks placed by hand, `navel: {12: [640.2, 401.0], 192: [612.5, 398.2, 0.8]}`.

`96: [630.1, 399.0, 12.6, suggested]` is a place that the program suggested and the author accepted as it was.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection
from dataclasses import dataclass, field

from lessonpress.manuscript.fields.instants import LATEST_FRAME
from lessonpress.manuscript.fields.names import NAME, near_name
from lessonpress.manuscript.text.passage import Passage
from lessonpress.manuscript.yaml.nodes import Mapping, Node, Scalar, Sequence, compose_yaml
from lessonpress.records import KNOWN_MARKS, PAIRED, Hand, Location, Observation, Problems, nearest

PLACING = "write `[x, y]` or `[x, y, u]` in px, with a decimal point"
ACCEPTED = "suggested"  # behind the u of a place that was suggested and accepted as it was
LARGEST_U = 100  # px; beyond it a decimal comma made three numbers of two, `[640,2,401]`
LOOKS_LIKE = 0.8  # ratio from which a name is taken for a misspelt known one


@dataclass
class Marks:
    """Observations and where each is written. names: where each mark's name comes first."""

    observations: list[Observation] = field(default_factory=list)
    locations: dict[tuple[str, int], Location] = field(default_factory=dict)
    names: dict[str, Location] = field(default_factory=dict)

    def add(self, observation: Observation, location: Location) -> None:
        self.observations.append(observation)
        self.locations[observation.mark, observation.frame] = location


def read_marks(passage: Passage, problems: Problems) -> Marks:
    """The marks of a file; faulty ones are reported and left out."""
    marks = Marks()
    node = compose_yaml(passage, problems) if passage.text.strip() else None
    if isinstance(node, Mapping):
        for key, placings in node.entries:
            _mark(key, placings, marks, problems)
    elif isinstance(node, Sequence) or (isinstance(node, Scalar) and node.value is not None):
        problems.error(
            node.location, "marks are expected here", "write `navel:` and below it `  12: [640.2, 401.0]`"
        )
    return marks


def _mark(key: Scalar, placings: Node, marks: Marks, problems: Problems) -> None:
    if not check_name(key.written, key.location, problems):
        return
    marks.names[key.written] = key.location
    if not isinstance(placings, Mapping) or not placings.entries:
        location = (
            key.location if isinstance(placings, Scalar) and placings.value is None else placings.location
        )
        problems.error(
            location, f"`{key.written}` has no placings by frame", "write `12: [640.2, 401.0]` below it"
        )
        return
    for frame, numbers in placings.entries:
        number = frame_number(frame.written)
        if number is None:
            problems.error(
                frame.location, f"`{frame.written}` is not a frame", "frames are whole numbers from 0"
            )
        elif (key.written, number) in marks.locations:
            first = marks.locations[key.written, number].line
            problems.error(frame.location, f"frame {number} is written twice; the first is in line {first}")
        else:
            _placing(key.written, number, numbers, frame.location, marks, problems)


def _placing(mark: str, frame: int, node: Node, location: Location, marks: Marks, problems: Problems) -> None:
    items = node.items if isinstance(node, Sequence) else ()
    suggested = len(items) == 4 and isinstance(items[3], Scalar) and items[3].written == ACCEPTED
    items = items[:3] if suggested else items
    if not 2 <= len(items) <= 3:
        where = location if isinstance(node, Scalar) and node.value is None else node.location
        problems.error(where, "a placing is two numbers, or three", PLACING)
        return
    numbers = [number for item in items if (number := _number(item, problems)) is not None]
    if len(numbers) != len(items):
        return
    u = numbers[2] if len(numbers) == 3 else None
    if u is not None and u <= 0:
        wrong = f"the uncertainty of a placing cannot be {_written(items[2])}"
        problems.error(items[2].location, wrong, "it is above zero, in px; leave it out for one click's")
        return
    if u is not None and u > LARGEST_U:
        wrong = f"the uncertainty of a placing cannot be {_written(items[2])}, {LARGEST_U} px at most"
        problems.error(node.location, wrong, PLACING)
        return
    marks.add(Observation(mark, frame, numbers[0], numbers[1], u, suggested=suggested), location)


def _number(node: Node, problems: Problems) -> float | None:
    """A finite coordinate, not below zero; None once reported."""
    value = node.value if isinstance(node, Scalar) else None
    if isinstance(value, bool) or not isinstance(value, int | float):
        problems.error(node.location, f"a number of px is expected here, not {_written(node)}")
    elif not math.isfinite(value):
        problems.error(
            node.location,
            f"{_written(node)} is not a place in a picture",
            "leave a placing out that is not known",
        )
    elif value < 0:
        right = "coordinates run from 0 at the picture's left and upper edge"
        problems.error(node.location, f"{_written(node)} lies outside the picture", right)
    else:
        return float(value)
    return None


def _written(node: Node) -> str:
    return f"`{node.written}`" if isinstance(node, Scalar) else "a list or mapping"


def frame_number(written: str) -> int | None:
    """A frame's number from its text, None where it is none."""
    if not re.fullmatch(r"[0-9]{1,8}", written):
        return None
    return int(written) if int(written) <= LATEST_FRAME else None


def check_name(name: str, location: Location, problems: Problems) -> bool:
    """Whether a text can name a mark; reported where not."""
    if NAME.fullmatch(name):
        return True
    right = "small letters, digits and hyphens, a letter first"
    problems.error(location, f"`{name}` is not a mark's name", right, nearest=near_name(name))
    return False


def hint(name: str, location: Location, hand: Hand | None, own: Collection[str], problems: Problems) -> None:
    """Warn of a name that looks like a known one, or that says left or right of the body.

    own: names the card uses for things of the room, scales and middles, which mean what they say.
    """
    if name in KNOWN_MARKS or name in own:
        return
    side, _, part = name.partition("-")
    if side in ("left", "right") and part in PAIRED:
        wrong = f"`{name}` says left or right of the body"
        problems.warn(location, wrong, "sides are lead and trail", nearest=_sided(side, part, hand))
    elif name in PAIRED:
        wrong = f"`{name}` does not say which of the two"
        problems.warn(location, wrong, "sides are lead and trail", nearest=_sided("", name, None))
    elif near := _looks_like(name):
        problems.warn(location, f"no posture is known for `{name}`", "a known mark is meant?", nearest=near)


def _sided(side: str, part: str, hand: Hand | None) -> tuple[str, ...]:
    """The lead and the trail name of a part, or the one meant for a golfer of this hand."""
    if hand is None:
        return f"lead-{part}", f"trail-{part}"
    return (f"lead-{part}",) if side != hand else (f"trail-{part}",)


def _looks_like(name: str) -> tuple[str, ...]:
    if any(name.startswith(known + "-") for known in KNOWN_MARKS):
        return ()
    return nearest(name, KNOWN_MARKS, cutoff=LOOKS_LIKE)
