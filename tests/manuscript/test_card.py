"""A card is typed key by key, and its directions follow from view and hand."""

from __future__ import annotations

from datetime import date

import pytest

from lessonpress.manuscript.clip.card import Between, Card, Grid, Standing
from lessonpress.manuscript.fields.written import read_fields
from lessonpress.manuscript.text.passage import file_passage
from lessonpress.manuscript.yaml.nodes import compose_yaml
from lessonpress.records.problem import Location, Problems

FULL = """\
video: dune-face-on.mp4
view: face-on
hand: right
target: right
filmed_at: [[0, 30], [95, 240], [400, 30]]
filmed_on: 2026-10-12
readout: 4 ms
source: {kind: own, credit: Saltmarsh Studio, licence: CC BY 4.0}
people:
  - {name: Dune, consent: written, given: 2026-10-01, until: 2028-10-01}
obscure: [head]
events: {setup: 12, top: 192, impact: 1.05 s, finish: impact + 98}
stature: 5 ft 11 in
implement: 7-iron
shot: draw
middles: {pelvis: [trail-hip, lead-hip]}
room: [stick-top, stick-foot]
scale:
  - {between: [stick-top, stick-foot], length: 36 in, within: 0.1 in}
  - {grid: [wall-a, wall-b, wall-c, wall-d], size: [48 in, 36 in], within: 0.2 in, plane: wall}
  - {standing: [crown, lead-heel], at: 0}
  - {between: [ball-left, ball-right], length: 1.68 in, depth: {toward: 30 in, within: 3 in}}
camera: {distance: 14 ft, within: 6 in, wall: 20 ft, wall_within: 1 ft, still: true}
plumb:
  - [door-top, door-foot]
lens: {k1: -0.12, k2: 0.01, focal: 1450 px, centre: [640, 360.5]}
depth:
  navel: {toward: -4 in, within: 2 in}
  implement-head: {top: {toward: 20 in, within: 5 in}, impact - 2: {toward: 30 in, within: 4 in}}
deinterlace: false
fingerprint: 9f2c
title: Dune, face-on, 7-iron
"""
INCH = 0.0254


def card(text: str) -> Card:
    problems = Problems()
    made = read_fields(Card, compose_yaml(file_passage("clip.yaml", text), problems), problems)
    assert problems.collected == []
    assert made is not None
    return made


def test_every_key_of_a_card_is_typed() -> None:
    made = card(FULL)
    assert made.title == "Dune, face-on, 7-iron"
    assert made.filmed_at == ((0, 30.0), (95, 240.0), (400, 30.0))
    assert made.filmed_on == date(2026, 10, 12)
    assert made.readout == pytest.approx(0.004)
    assert made.people[0].until == date(2028, 10, 1)
    assert made.events["impact"].seconds == 1.05
    assert (made.events["finish"].event, made.events["finish"].plus) == ("impact", 98)
    assert made.stature is not None
    assert made.stature.metres == pytest.approx(71 * INCH)
    assert made.middles == {"pelvis": ("trail-hip", "lead-hip")}
    assert made.plumb == (("door-top", "door-foot"),)
    assert made.camera.wall is not None
    assert made.camera.wall.metres == pytest.approx(240 * INCH)
    assert made.lens is not None
    assert (made.lens.focal, made.lens.centre) == (1450.0, (640.0, 360.5))


def test_scales_are_of_the_kind_their_first_key_names() -> None:
    stick, wall, standing, ball = card(FULL).scale
    assert isinstance(stick, Between)
    assert isinstance(wall, Grid)
    assert isinstance(standing, Standing)
    assert isinstance(ball, Between)
    assert (stick.plane, wall.plane) == ("subject", "wall")
    assert wall.size[1].metres == pytest.approx(36 * INCH)
    assert standing.at.frame == 0
    assert ball.depth is not None
    assert ball.depth.toward.metres == pytest.approx(30 * INCH)


def test_a_depth_holds_for_all_instants_or_for_those_named() -> None:
    made = card(FULL)
    ((always, navel),) = made.depths("navel")
    assert always is None
    assert navel.toward.metres == pytest.approx(-4 * INCH)
    named = made.depths("implement-head")
    assert [(instant.event, instant.plus) for instant, _ in named if instant] == [("top", 0), ("impact", -2)]
    assert made.depths("head") == ()


def test_a_place_on_the_card_is_found_by_its_keys() -> None:
    made = card(FULL)
    assert made.location_of("scale", 1, "size", 0) == Location("clip.yaml", 20, 53)
    assert made.location_of("depth", "implement-head", "impact - 2", "within").line == 29


def test_a_number_alone_is_the_rate_of_the_whole_file() -> None:
    overhead = "view: overhead\nhand: left\ntarget: left\nfilmed_at: 240\n"
    made = card(f"video: a.mp4\n{overhead}source: {{kind: own}}\npeople: []\n")
    assert made.filmed_at == ((0, 240.0),)
    assert made.flight == ("left", -1)


# The table of views in the project's own definition of a card.
FLIGHTS = [
    ("face-on", "right", "right", 1, "target"),
    ("face-on", "left", "left", -1, "target"),
    ("from-behind", "right", "left", -1, "target"),
    ("from-behind", "left", "right", 1, "target"),
    ("down-the-line", "right", "into", 1, "ball"),
    ("down-the-line", "left", "into", -1, "ball"),
    ("from-target", "right", "out-of", -1, "ball"),
    ("from-target", "left", "out-of", 1, "ball"),
]


@pytest.mark.parametrize(("view", "hand", "side", "positive", "goal"), FLIGHTS)
def test_the_flight_of_the_ball_follows_from_view_and_hand(
    view: str, hand: str, side: str, positive: int, goal: str
) -> None:
    made = card(f"video: a.mp4\nview: {view}\nhand: {hand}\nsource: {{kind: own}}\npeople: []\n")
    assert made.flight == (side, positive)
    assert made.goal == goal
