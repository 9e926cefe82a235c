"""A lesson is front matter, Markdown and blocks, each with its line in the file."""

from __future__ import annotations

from datetime import date

from lessonpress.manuscript.lesson.lesson import Lesson, read_lesson
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.records.problem import Location, Problems

TEXT = """\
---
title: The pelvis travels, the hub stays
date: 2026-11-23
summary: Three frames.
clip: dune-face-on
topics: [pelvis, hub]
series: Hips
number: 3
updated: 2026-11-24
listed: false
former: lessons/hips
---

At setup we drop three lines.

```frame
id: setup
at: setup
caption: "Here {stance-width:cm}"
draw:
  - vertical: trail-hip
  - note: head
    text: "it's {head-back}"
```

By the top it has moved {navel-back} and *hardly {head-back:size}*.

~~~drill
Move {navel-back:in}, see {figure:setup}.
~~~

```python
print("{not}")
```
"""


def lesson(text: str = TEXT) -> Lesson:
    problems = Problems()
    made = read_lesson("pelvis", file_passage("lessons/pelvis.md", text), problems)
    assert problems.collected == []
    assert made is not None
    return made


def test_front_matter_is_typed_and_knows_its_places() -> None:
    made = lesson()
    assert made.title == "The pelvis travels, the hub stays"
    assert made.date == date(2026, 11, 23)
    assert made.updated == date(2026, 11, 24)
    assert made.topics == ("pelvis", "hub")
    assert made.former == ("lessons/hips",)
    assert (made.number, made.series, made.listed, made.draft) == (3, "Hips", False, False)
    assert made.location_of("topics", 1) == Location("lessons/pelvis.md", 6, 18)


def test_the_body_begins_on_its_line_of_the_file() -> None:
    made = lesson()
    assert made.body_line == 13
    assert TEXT.split("\n")[made.body_line - 1 :] == made.body.split("\n")


def test_blocks_are_in_order_with_the_line_of_their_fence() -> None:
    made = lesson()
    assert [(block.kind, block.line) for block in made.blocks] == [("frame", 16), ("drill", 28)]
    figure, drill = made.blocks
    assert figure.is_figure
    assert figure.node is not None
    assert figure.node.plain["draw"][0] == {"vertical": "trail-hip"}
    assert figure.location_of("draw", 0, "vertical") == Location("lessons/pelvis.md", 21, 15)
    assert drill.node is None
    assert drill.text == "Move {navel-back:in}, see {figure:setup}."


def test_references_are_those_of_prose_captions_labels_and_texts_with_line_and_column() -> None:
    found = [
        (reference.id, reference.form, reference.where, reference.location.line, reference.location.column)
        for reference in lesson().references
    ]
    assert found == [
        ("stance-width", "cm", "caption", 19, 16),
        ("head-back", None, "label", 23, 17),
        ("navel-back", None, "prose", 26, 25),
        ("head-back", "size", "prose", 26, 50),
        ("navel-back", "in", "prose", 29, 6),
        ("figure", "setup", "prose", 29, 27),
    ]


def test_a_reference_is_placed_where_its_brace_is_written() -> None:
    lines = TEXT.split("\n")
    references = lesson().references
    assert len(references) == 6
    for reference in references:
        written = lines[reference.location.line - 1][reference.location.column - 1 :]
        assert written.startswith(reference.text)


def test_a_reference_in_a_block_knows_the_line_of_its_fence() -> None:
    assert [reference.line for reference in lesson().references] == [16, 16, None, None, 28, 28]


def test_a_reference_names_its_figure_its_base_and_what_follows_a_dot() -> None:
    text = "---\ntitle: A\ndate: 2026-11-23\n---\n{knee.top:value} {figure:top}\n"
    knee, link = lesson(text).references
    assert (knee.base, knee.sub, knee.figure) == ("knee", "top", None)
    assert link.figure == "top"


def test_references_are_placed_in_lists_quotations_tables_and_folded_lines() -> None:
    text = """\
---
title: A
date: 2026-11-23
---
> - one {a}
>   two {b}
>
> | x | y |
> |---|---|
> | {c} | {c} {d} |

## Heading {e} ##

![alt {f}](a.png) and `{x}` {g}

```frame
id: top
caption: >-
  The hips {h}
  have moved {i}
alt: 'it''s {j}'
```
"""
    lines = text.split("\n")
    found = lesson(text).references
    assert [reference.id for reference in found] == list("abccdefghij")
    for reference in found:
        written = lines[reference.location.line - 1][reference.location.column - 1 :]
        assert written.startswith(f"{{{reference.id}}}")
    assert len({reference.location for reference in found}) == len(found)


def test_the_blocks_and_references_of_an_example_have_their_lines_in_the_file() -> None:
    text = """\
---
title: A
date: 2026-11-23
---
Before {a}.

````example
Inside {b}.

```frame
id: top
at: top
caption: Within {c}.
```
````

```drill
After {d}.
```
"""
    made = lesson(text)
    found = [(block.kind, block.line, block.example) for block in made.blocks]
    assert found == [("example", 7, None), ("frame", 10, 7), ("drill", 17, None)]
    assert made.blocks[0].text == "\n".join(text.split("\n")[7:14])
    assert [(one.id, one.location.line, one.location.column, one.line) for one in made.references] == [
        ("a", 5, 8, None),
        ("b", 8, 8, 7),
        ("c", 13, 17, 10),
        ("d", 18, 7, 17),
    ]


def test_code_inside_an_example_stays_code() -> None:
    made = lesson("---\ntitle: A\ndate: 2026-11-23\n---\n````example\n```yaml\nx: {y}\n```\n````\n")
    assert [block.kind for block in made.blocks] == ["example"]
    assert made.references == ()
