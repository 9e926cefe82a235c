"""A panel's overlays as they are in a page."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import combinations

import pytest

from lessonpress.drawing import plate_svg
from lessonpress.drawing.layout import Layout
from lessonpress.drawing.plate import layout_for, placed_tags
from lessonpress.drawing.strokes.inked import ink
from lessonpress.drawing.tags.taken import TAG_GAP
from lessonpress.overlays.shapes import SignAt, Tag
from tests.drawing import sample
from tests.drawing.reading import of_class, parsed, place, scene, tags_on

WIDTHS = (640.0, 360.0, 190.0)
PANELS = {"most": sample.most_kinds(), "other": sample.other_kinds()}


@pytest.fixture(params=sorted(PANELS))
def panel(request: pytest.FixtureRequest) -> sample.Panel:
    return PANELS[request.param]


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("width", WIDTHS)
def test_signs_lie_on_their_marks(panel: sample.Panel, width: float, mirrored: bool) -> None:
    """Every sign is drawn within a tenth of a CSS px of where its own picture coordinates say."""
    layout = Layout(panel.crop, width, mirrored)
    signs = [
        e
        for e in parsed(plate_svg(panel, width, ids_prefix="a", mirrored=mirrored)).iter()
        if "data-x" in e.attrib
    ]
    assert len(signs) > 15
    for sign in signs:
        told = (float(sign.attrib["data-x"]), float(sign.attrib["data-y"]))
        assert math.dist(layout.point(told), place(sign)) < 0.11


def test_signs_give_the_coordinates_of_the_marks(panel: sample.Panel) -> None:
    """What a shape's sign says about its place is the mark's own place, to a hundredth of a px."""
    told = {(e.get("data-x"), e.get("data-y")) for e in parsed(plate_svg(panel, 360, ids_prefix="a")).iter()}
    for one in panel.drawn:
        for shape in one.shapes:
            if isinstance(shape, SignAt) and shape.sign in ("dot", "hollow", "bead", "barb", "disc"):
                x, y = (f"{value:.2f}".rstrip("0").rstrip(".") for value in shape.at)
                assert (x, y) in told


@pytest.mark.parametrize("width", WIDTHS)
def test_every_letter_is_shown_once(panel: sample.Panel, width: float) -> None:
    """Each overlay that has a letter has one tag with it, at any width."""
    tags = of_class(parsed(plate_svg(panel, width, ids_prefix="a")), "tag")
    assert sorted(tag.attrib["data-letter"] for tag in tags) == sorted(
        o.letter for o in panel.drawn if o.letter
    )


def test_a_narrow_picture_carries_letters_alone(panel: sample.Panel) -> None:
    """Under 260 CSS px a tag says its letter and nothing else."""
    tags = of_class(parsed(plate_svg(panel, 259, ids_prefix="a")), "tag")
    assert len(tags) > 5
    for tag in tags:
        assert "".join(tag.itertext()) == tag.attrib["data-letter"]


def test_a_wide_plate_keeps_its_numbers(panel: sample.Panel) -> None:
    """At 640 px every value and ± of these plates is lettered."""
    said = list(parsed(plate_svg(panel, 640, ids_prefix="a")).itertext())
    numbers = [shape for one in panel.drawn for shape in one.shapes if isinstance(shape, Tag) and shape.value]
    assert len(numbers) > 2
    for tag in numbers:
        assert tag.value in said
        assert tag.pm in said


def test_mirroring_flips_geometry_and_not_lettering(panel: sample.Panel) -> None:
    """Nothing is scaled by −1: tags read as before, and only places and turns change."""
    mirrored = plate_svg(panel, 640, ids_prefix="a", mirrored=True)
    assert "scale(" not in mirrored
    assert mirrored != plate_svg(panel, 640, ids_prefix="a")
    said = [
        sorted(tag.attrib["data-letter"] for tag in of_class(parsed(svg), "tag"))
        for svg in (mirrored, plate_svg(panel, 640, ids_prefix="a"))
    ]
    assert said[0] == said[1] != []


def test_a_page_may_hold_the_same_plate_twice() -> None:
    """Ids begin with the prefix they were given, and every reference finds its own."""
    for prefix in ("plate-1-narrow", "plate-1-wide"):
        svg = plate_svg(sample.most_kinds(), 360, ids_prefix=prefix)
        ids, wanted = re.findall(r'\bid="([^"]+)"', svg), re.findall(r"url\(#([^)]+)\)", svg)
        assert wanted
        assert set(wanted) == set(ids)
        assert all(name.startswith(prefix) for name in ids)


def test_the_overlay_is_hidden_from_assistive_technology(panel: sample.Panel) -> None:
    """The picture's alt text speaks for it; script cannot focus it either."""
    root = parsed(plate_svg(panel, 360, ids_prefix="a"))
    assert root.attrib["aria-hidden"] == "true"
    assert root.attrib["focusable"] == "false"
    assert scene(root).attrib["viewBox"] == "0 0 360 450"


def test_coordinates_are_compact(panel: sample.Panel) -> None:
    """Paths and transforms have at most one decimal, shares of the picture two."""
    svg = plate_svg(panel, 640, ids_prefix="a")
    values = re.findall(r' (?:d|transform|x|y|cx|cy)="([^"]*)"', svg)
    assert len(values) > 100
    for value in values:
        assert not re.search(r"\.\d\d(?!%)", value), value
    assert len(svg) < 32_000


def test_layers_lie_in_their_order(panel: sample.Panel) -> None:
    """Bands lowest, then hatching, standing, live lines, marks, leaders, tags."""
    order = ["band", "hatch", "standing", "live", "mark", "leaders", "tags"]
    root = parsed(plate_svg(panel, 360, ids_prefix="a"))
    groups = [child.get("class") for child in (*scene(root), *root) if child.tag == "g"]
    assert groups == [name for name in order if name in groups]


def test_overlays_name_their_letter_and_kind() -> None:
    """Each overlay's group names both, so that a script can find it."""
    root = parsed(plate_svg(sample.most_kinds(), 360, ids_prefix="a"))
    told = {(g.get("data-letter"), g.get("data-kind")) for g in root.iter("g") if "data-kind" in g.attrib}
    assert ("M", "shift") in told
    assert ("", "grid") in told


def test_an_overlay_that_is_not_shown_is_not_drawn() -> None:
    """`show: false` leaves neither lines nor letter."""
    panel = sample.panel_of(replace(sample.standing("A", 300.0), shown=False))
    root = parsed(plate_svg(panel, 360, ids_prefix="a"))
    assert not [element for element in root.iter() if element.tag in ("g", "path", "text")]


def test_a_thumb_has_finer_strokes_and_no_tags() -> None:
    """The viewBox is 1/0.7 of the width, so that all is shown at 0.7, and nothing is lettered."""
    root = parsed(plate_svg(sample.most_kinds(), 104, ids_prefix="a", thumb=True))
    assert scene(root).attrib["viewBox"].split()[2] == f"{104 / 0.7:.1f}"
    assert not of_class(root, "tag")


def test_a_mark_outside_the_crop_pulls_its_tag_to_what_shows() -> None:
    """Where a line leaves the picture, the tag names the part in sight, and the letter is kept."""
    line = sample.line("D", (100.0, 500.0), (1500.0, 500.0))
    root = parsed(plate_svg(sample.cropped(sample.panel_of(line), (0, 300, 400, 800)), 360, ids_prefix="a"))
    ((_, (x, y)),) = tags_on(root)
    assert 5 <= x <= 355
    assert abs(y - 180) < 60


def test_lines_are_clipped_to_the_picture() -> None:
    """No path of a line that runs far out goes more than a few px past the picture's edge."""
    line = sample.line("D", (-4000.0, 500.0), (9000.0, 520.0))
    svg = plate_svg(sample.panel_of(line), 360, ids_prefix="a")
    assert max(float(value) for value in re.findall(r"[ML](-?[\d.]+) ", svg)) <= 367


def test_the_same_panel_gives_the_same_svg(panel: sample.Panel) -> None:
    """Drawing twice gives the same bytes."""
    assert plate_svg(panel, 360, ids_prefix="a") == plate_svg(panel, 360, ids_prefix="a")


@pytest.mark.parametrize("shown", [1.0, 1.08, 1.3, 1.78])
@pytest.mark.parametrize("width", WIDTHS)
def test_tags_keep_their_size_and_their_distance_where_the_picture_grows(
    panel: sample.Panel, width: float, shown: float
) -> None:
    """Pinned at shares of a picture shown wider, boxes of one size stay inside it and clear of each other."""
    layout = layout_for(panel, width)
    placed = placed_tags(panel, layout, [ink(drawn, layout, "a") for drawn in panel.drawn])
    boxes = []
    for one in placed:
        moved = [(shown - 1) * part for part in one.pin]
        left, top, right, bottom = one.box
        boxes.append((left + moved[0], top + moved[1], right + moved[0], bottom + moved[1]))
    for box in boxes:
        assert box[0] > 0 and box[1] > 0
        assert box[2] < shown * layout.width and box[3] < shown * layout.height
    for one, other in combinations(boxes, 2):
        across = max(one[0], other[0]) - min(one[2], other[2])
        down = max(one[1], other[1]) - min(one[3], other[3])
        assert max(across, down) >= TAG_GAP - 1e-6


def test_a_leader_leads_to_the_point_by_which_its_tag_is_pinned(panel: sample.Panel) -> None:
    """So it goes on ending at its tag at every width of the picture."""
    root = parsed(plate_svg(panel, 360, ids_prefix="a"))
    pins = {
        of_class(pin, "tag")[0].attrib["data-letter"]: tuple(
            float(pin.attrib[key].removesuffix("%")) / 100 * side for key, side in (("x", 360), ("y", 450))
        )
        for pin in of_class(root, "tags")[0]
    }
    leaders = list(of_class(root, "leaders")[0])
    assert leaders
    for leader in leaders:
        ends = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", leader[0].attrib["d"])
        assert math.dist(pins[leader.attrib["data-letter"]], [float(part) for part in ends[1]]) < 0.2


def test_a_leader_does_not_read_as_more_of_its_stroke() -> None:
    """The tag of a shift is beyond its arrow's tip, and its leader leaves the arrow's direction."""
    panel = sample.panel_of(sample.shift("M", (398.0, 545.0), (520.0, 545.0)))
    for width in WIDTHS:
        (leaders,) = of_class(parsed(plate_svg(panel, width, ids_prefix="a")), "leaders")
        (ax, ay), (bx, by) = (
            (float(x), float(y))
            for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", leaders[0][0].attrib["d"])
        )
        off = math.degrees(math.atan2(by - ay, bx - ax)) % 180
        assert 19 < off < 161
