"""Every overlay document: what an author wrote, what came out.

A case is a heading, a YAML block (the panel's event under `at`, places of marks by frame, an overlay list
under `draw`, `mirrored` for a picture shown turned about) and a text block with what must come of it. The
documents are found by listing this folder.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from lessonpress.manuscript.text.passage import file_passage
from lessonpress.manuscript.yaml import nodes
from lessonpress.overlays import (
    KINDS,
    Context,
    OverlayFields,
    OverlayKind,
    Sets,
    check_marks,
    check_scale,
    expand,
    read_overlay,
)
from lessonpress.records.problem import Problem, Problems
from tests.documents import Case, Holds, cases_in
from tests.overlays.scene import context_at, marks_line, number_line, shape_lines

HERE = Path(__file__).parent


def came_out(written: str) -> str:
    """Everything that comes of one case, as the documents write it."""
    problems = Problems()
    top = nodes.compose_yaml(file_passage("lesson.md", written), problems)
    assert isinstance(top, nodes.Mapping), problems.collected
    context = context_at(top.plain.get("at", "top"), places(top), **top.plain.get("clip", {}))
    context = replace(context, mirrored=top.plain.get("mirrored", False))
    marks = frozenset(places(top)) | {"pelvis", "stick-top", "stick-foot"}
    sets = Sets({name: items(top, "sets", name) for name in top.plain.get("sets", {})})
    nodes_drawn, _ = expand(items(top, "draw"), sets, problems)
    overlays = [read_overlay(node, problems) for node in nodes_drawn]
    parts = [told_of(*found, context, marks, problems) for found in overlays if found is not None]
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
    kind: OverlayKind, fields: OverlayFields, context: Context, marks: frozenset[str], problems: Problems
) -> str:
    """What one overlay is called, says, measures and draws; or the marks that it still needs."""
    check_scale(kind, fields, context.survey.lengths_refused, problems)
    check_marks(fields, "drawn", marks, problems)
    needed = kind.needed(fields, context)
    if wanted := context.wanted(needed):
        return f"name: {kind.name(fields, context)}\nwanted: {marks_line(wanted)}"
    measured = kind.measure(fields, context)
    lines = [
        f"name: {kind.name(fields, context)}",
        f"sentence: {kind.sentence(fields, context, measured)}",
        f"measure: {number_line(measured)}",
        f"needs: {marks_line(needed)}",
        *shape_lines(kind.shapes(fields, context, measured)),
    ]
    return "\n".join(lines)


def problem_line(problem: Problem) -> str:
    """Line and column, what is wrong; what would be right; the nearest names. KINDS: a list of every kind."""
    said = [problem.wrong, problem.right.replace(", ".join(KINDS), "KINDS"), " or ".join(problem.nearest)]
    return f"{problem.location.line}:{problem.location.column}: {'; '.join(part for part in said if part)}"


@pytest.mark.parametrize("case", cases_in(HERE), ids=str)
def test_what_was_written_comes_out_as_the_document_says(case: Case, holds: Holds) -> None:
    written, wanted = case.blocks
    assert (written.words, wanted.words) == (("yaml",), ("text",)), f"{case} is not written as a case is"
    holds(wanted, came_out(written.text))


def test_every_kind_has_a_document_of_its_own() -> None:
    assert KINDS.keys() <= {path.stem for path in HERE.glob("*.md")}
