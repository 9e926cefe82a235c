"""Accepted suggestions from marks.yaml to the printed ±: what errors have in common reaches the ledger."""

from __future__ import annotations

import math

import pytest

from lessonpress.cli.explain import worked
from lessonpress.footage import suggested_errors
from tests.chain.chain import figure, filmed, numbers, root_of, write_lesson
from tests.chain.swing import place
from tests.studio.clip import MadeClip

U = 9.0  # px
ASKED = {
    "breadth": "distance: [trail-shoulder, lead-shoulder]\naxis: level",
    "shift": "shift: navel\nsince: setup",
}


def test_the_ledger_knows_what_errors_of_suggestions_have_in_common(kinds_clip: MadeClip) -> None:
    """A difference of two places of u has u √(2 (1 − r)) by JCGM 100:2008, 5.2.2, equation (13), where r is
    their correlation: that of the two sides of the body, and none for pictures that are far apart. u is that
    of places across.
    """
    place(kinds_clip, None)
    marks = kinds_clip.folder / "marks.yaml"
    lines = marks.read_text(encoding="utf-8").splitlines()
    for at, line in enumerate(lines):
        if not line.startswith(" "):
            body = line.rstrip(":") in ("navel", "lead-shoulder", "trail-shoulder")
        elif body:
            lines[at] = line.replace("]", f", {U}, suggested]")
    marks.write_text("\n".join(lines) + "\n", encoding="utf-8")
    root = root_of(kinds_clip)
    blocks = [
        figure("frame", f"the-{name}", "at: top", f"{asked}\nas: {name}") for name, asked in ASKED.items()
    ]
    write_lesson(root, "guessed", kinds_clip.name, *blocks)
    found = numbers(root, "guessed")
    px_per_metre = filmed(root, kinds_clip.name).survey.px_per_metre()
    errors = suggested_errors("face-on")
    assert errors is not None and px_per_metre is not None
    opposed = max(errors.pairs["shoulder"][0], errors.own - 1)
    for name, mark, correlation in (("breadth", "lead-shoulder", opposed), ("shift", "navel", 0.0)):
        one = found[name]
        assert one.uncertainty is not None
        alike = sum(share.share for share in one.budget.shares if "suggested" in share.words)
        u = one.uncertainty / 2 * math.sqrt(alike)
        across = errors.axes[mark][0] * U / px_per_metre
        assert u == pytest.approx(100 * math.sqrt(2 * (1 - correlation)) * across, rel=0.06), name
    said = "\n".join(worked(found["breadth"], found, "cm"))
    assert "common error of both shoulders as suggested, about" in said
    (root / "lessons" / "guessed.md").unlink()
    place(kinds_clip, None)
