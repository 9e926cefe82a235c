"""Figure blocks cut in the middle, unclosed, moved, renamed and crowded."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.sound import LESSON

SLIPS = (
    ("```frame", "```frames"),
    ("```frame", "``` frame"),
    ("```frame", "~~~frame"),
    ("```frame", "    ```frame"),
    ("id: top", "id:top"),
    ("id: top", "id: Top"),
    ("at: top", "at: tpo"),
    ("at: top", "at: \N{RIGHT DOUBLE QUOTATION MARK}top"),
    ("  - shift: navel", "  -shift: navel"),
    ("    since: setup", "   since: setup"),
    ("draw:", "draw"),
    ("draw:", "Draw:"),
    ("since: setup", "since: impact + 400"),
    ("frames: [setup, impact]", "frames: []"),
    ("as: lean", "as: navel-back"),
    ("{navel-back}.", "{navel-back"),
    ("```strip", "```pair"),
    ("```strip", "```loop"),
    ("```strip", "```progress"),
    ("at: top", "at: top\ncrop: [0, 0, .nan, .nan]"),
    ("at: top", "at: top\ncrop: [10, 10, 10, 20]"),
    ("at: top", "at: top\ncrop: [10.1, 10.1, 10.2, 10.2]"),
    ("at: top", "at: top\ncrop: [0, 0, 1e300, 1e300]"),
    ("at: top", "at: 00:00:01:99"),
    ("at: top", "at: 00:00:01;02"),
    ("frames: [setup, impact]", "frames: [" + "top, " * 400 + "top]"),
    ("text: keeps its place", "text: " + "long " * 3000),
    ("use: usual", "use: nothing"),
    ("expect: lean-impact", "expect: 1..0 deg"),
)


def spoil(root: Path, random: Random) -> str:
    path = root / LESSON
    text = path.read_text()
    kind = random.randrange(3)
    if kind == 0:
        at = random.randrange(text.index("```frame"), text.index("```caution") + 20)
        path.write_text(text[:at])
        return f"the lesson ends at {at}"
    if kind == 1:
        lines = text.split("\n")
        at = random.randrange(12, len(lines) - 1)
        del lines[at : at + random.choice((1, 1, 2, 5))]
        path.write_text("\n".join(lines))
        return f"lines from {at} are gone"
    old, new = random.choice(SLIPS)
    path.write_text(text.replace(old, new, 1))
    return f"{old!r} is {new[:60]!r}"
