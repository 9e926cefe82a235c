"""Every overlay document: what an author wrote, what came out.

A case is a heading, a YAML block (the panel's event under `at`, places of marks by frame, an overlay list
under `draw`, `mirrored` for a picture shown turned about) and a text block with what must come of it. The
documents are found by listing this folder.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from lessonpress.manuscript import nodes
from lessonpress.manuscript.passage import file_passage
from lessonpress.overlays import (
    KINDS,
    OverlayFields,
    OverlayKind,
    Sets,
    Stage,
    check_marks,
    check_scale,
    expand,
    read_overlay,
)
from lessonpress.records.problem import Problem, Problems
from tests.overlays.scene import marks_line, number_line, shape_lines, stage_at

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Case:
    document: str
    line: int
    title: str
    written: str
    wanted: str


def cases(path: Path) -> Iterator[Case]:
    """The cases of one document, each with the line of its heading."""
    title, line = "", 0
    blocks: list[str] = []
    rows = iter(enumerate(path.read_text(encoding="utf-8").split("\n"), 1))
    for number, row in rows:
        if row.startswith("## "):
            title, line, blocks = row[3:], number, []
        elif row.startswith("```"):
            block = []
            for _, inner in rows:
                if inner == "```":
                    break
                block.append(inner)
            blocks.append("\n".join(block))
            if len(blocks) == 2:
                yield Case(path.name, line, title, blocks[0], blocks[1])


ALL = [case for path in sorted(HERE.glob("*.md")) for case in cases(path)]


def came_out(written: str) -> str:
    """Everything that comes of one case, as the documents tell it."""
    problems = Problems()
    top = nodes.compose_yaml(file_passage("lesson.md", written), problems)
    assert isinstance(top, nodes.Mapping), problems.collected
    stage = stage_at(top.plain.get("at", "top"), places(top), **top.plain.get("clip", {}))
    stage = replace(stage, mirrored=top.plain.get("mirrored", False))
    marks = frozenset(places(top)) | {"pelvis", "stick-top", "stick-foot"}
    sets = Sets({name: items(top, "sets", name) for name in top.plain.get("sets", {})})
    nodes_drawn, _ = expand(items(top, "draw"), sets, problems)
    overlays = [read_overlay(node, problems) for node in nodes_drawn]
    parts = [told_of(*found, stage, marks, problems) for found in overlays if found is not None]
    if problems.collected:
        return "\n".join(problem_line(problem) for problem in problems.in_order())
    return "\n\n".join(parts)


def places(top: nodes.Mapping) -> dict[str, dict[int, tuple[float, float]]]:
    """Mark → frame → place, as `marks` has them."""
    given: dict[str, dict[str, list[float]]] = top.plain.get("marks", {})
    return {
        mark: {int(frame): (float(at[0]), float(at[1])) for frame, at in frames.items()}
        for mark, frames in given.items()
    }


def items(top: nodes.Mapping, *keys: str) -> tuple[nodes.Node, ...]:
    """The entries of the list at a path of keys."""
    here: nodes.Node | None = top
    for key in keys:
        assert isinstance(here, nodes.Mapping)
        here = here.get(key)
    assert isinstance(here, nodes.Sequence)
    return here.items


def told_of(
    kind: OverlayKind, fields: OverlayFields, stage: Stage, marks: frozenset[str], problems: Problems
) -> str:
    """What one overlay is called, says, measures and draws; or the marks that it still wants."""
    check_scale(kind, fields, stage.survey.lengths_refused, problems)
    check_marks(fields, "drawn", marks, problems)
    needed = kind.needed(fields, stage)
    if wanted := stage.wanted(needed):
        return f"name: {kind.name(fields, stage)}\nwanted: {marks_line(wanted)}"
    measured = kind.measure(fields, stage)
    lines = [
        f"name: {kind.name(fields, stage)}",
        f"sentence: {kind.sentence(fields, stage, measured)}",
        f"measure: {number_line(measured)}",
        f"needs: {marks_line(needed)}",
        *shape_lines(kind.shapes(fields, stage, measured)),
    ]
    return "\n".join(lines)


def problem_line(problem: Problem) -> str:
    """Line and column, what is wrong; what would be right; the nearest names."""
    said = [problem.wrong, problem.right, " or ".join(problem.nearest)]
    return f"{problem.location.line}:{problem.location.column}: {'; '.join(part for part in said if part)}"


@pytest.mark.parametrize("case", ALL, ids=lambda case: f"{case.document}:{case.line} {case.title}")
def test_what_was_written_comes_out_as_the_document_says(case: Case) -> None:
    assert came_out(case.written) == case.wanted


def test_every_kind_has_a_document_of_its_own() -> None:
    assert {kind.KIND for kind in KINDS} <= {path.stem for path in HERE.glob("*.md")}
