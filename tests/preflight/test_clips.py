"""What preflight finds on clips: unused ones, marks of no use, videos not sealed, rights that end."""

from __future__ import annotations

from datetime import date

import pytest

from lessonpress.manuscript import Clip
from lessonpress.manuscript.clip.card import Card
from lessonpress.manuscript.fields.written import read_fields
from lessonpress.manuscript.lesson.lesson import read_lesson
from lessonpress.manuscript.still.card import read_still_card
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.manuscript.yaml.nodes import compose_yaml
from lessonpress.preflight import ClipSubject, StillSubject, look_at, marks_used
from lessonpress.records import Location, Observation, Problems

CARD = """\
video: dune.mp4
fingerprint: 9f2c
view: face-on
hand: right
source: {kind: licensed, credit: Drawn, licence: CC BY 4.0, until: 2027-02-01}
people:
  - {name: Dune, consent: written, until: 2028-10-01}
room: [stick-top, stick-foot]
"""
LESSON = """\
---
title: Hub
date: 2026-11-23
clip: dune
---

```frame
id: top
at: top
draw:
  - vertical: belt-buckle
```
"""
FAR = date(2026, 6, 1)


def found(
    card: str = CARD, marks: tuple[str, ...] = ("navel",), today: date = FAR, shown: bool = True
) -> str:
    clip = clip_of(card, marks)
    lesson = read_lesson("hub", file_passage("lessons/hub.md", LESSON), Problems())
    assert lesson is not None
    subject = ClipSubject(clip, ("hub",) if shown else (), marks_used(clip, [lesson], []), today, "9f2cab")
    return "\n".join(f"{one.location} {one.rule}: {one.wrong}" for one in look_at(subject))


def clip_of(card: str, marks: tuple[str, ...]) -> Clip:
    path, problems = "clips/dune/clip.yaml", Problems()
    made = read_fields(Card, compose_yaml(file_passage(path, card), problems), problems)
    observations = tuple(Observation(mark, 12, 1.0, 2.0) for mark in marks)
    places = {(mark, 12): Location("clips/dune/marks.yaml", at) for at, mark in enumerate(marks, 1)}
    return Clip("dune", None, path, made, observations, places, readable=made)  # type: ignore[arg-type]


def test_a_clip_that_is_shown_sealed_and_free_for_long_has_nothing_to_ask_about() -> None:
    assert found(marks=("navel", "lead-hip", "belt-buckle", "stick-top", "stick-foot")) == ""


def test_a_clip_that_no_lesson_shows_is_named_and_nothing_else_of_it() -> None:
    unsealed = CARD.replace("fingerprint: 9f2c\n", "")
    told = found(unsealed, ("elbow-strap",), date(2026, 12, 1), shown=False)
    assert told == "clips/dune/clip.yaml:1:1 unused-clip: no lesson shows the clip `dune`"


def test_marks_of_an_own_name_that_nothing_asks_for_are_named_where_the_first_is() -> None:
    told = found(marks=("navel", "elbow-strap", "belt-buckle", "logo"))
    assert told == "clips/dune/marks.yaml:2:1 unused-marks: no figure asks for `elbow-strap`, `logo`"


def test_a_video_without_its_fingerprint_on_the_card_is_noted() -> None:
    told = found(CARD.replace("fingerprint: 9f2c\n", ""))
    assert told.startswith("clips/dune/clip.yaml:1:8 unsealed-marks: ")


@pytest.mark.parametrize(
    ("today", "said"),
    [
        (date(2026, 11, 2), ""),  # 91 days before
        (date(2026, 11, 3), "the licence ends on 2027-02-01, in 90 days"),
        (date(2027, 1, 1), "the licence ends on 2027-02-01, in 31 days"),
        (date(2027, 1, 2), ""),  # the press warns of the last thirty
    ],
)
def test_what_ends_within_ninety_days_is_noted_before_the_press_warns_of_it(today: date, said: str) -> None:
    assert found(today=today) == (f"clips/dune/clip.yaml:5:68 rights-ending: {said}" if said else "")


@pytest.mark.parametrize(
    ("today", "said"),
    [
        (date(2026, 11, 2), ""),
        (date(2026, 11, 3), "the consent of Rowan ends on 2027-02-01, in 90 days"),
        (date(2027, 1, 2), ""),
    ],
)
def test_so_is_what_ends_on_the_card_of_a_picture(today: date, said: str) -> None:
    text = "source: {kind: own}\npeople:\n  - {name: Rowan, consent: written, until: 2027-02-01}\n"
    card = read_still_card(file_passage("pages/bag.jpg.yaml", text), today, Problems())
    assert card is not None
    found = [f"{one.location} {one.rule}: {one.wrong}" for one in look_at(StillSubject(card, today))]
    assert found == ([f"pages/bag.jpg.yaml:3:44 picture-rights: {said}"] if said else [])
