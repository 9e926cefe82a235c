"""A chart of one measure over time is true to scale in both directions."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from lessonpress.drawing import chart_svg
from lessonpress.drawing.chart import BOTTOM, HEIGHT, INDENT, LEFT, RIGHT, TOP
from lessonpress.figures.plates import Chart, ChartPoint
from lessonpress.records.measure import Measure
from tests.drawing.reading import of_class, parsed


def measure(value: float, uncertainty: float, unit: str = "in") -> Measure:
    return Measure(
        id="navel-back", kind="shift", dimension="length", figure="top", letter="D", clips=("marram",),
        value=value, uncertainty=uncertainty, k=2, low=None, high=None, unit=unit, axis="level",
        way="away from the target" if value < 0 else "toward the target", plane="subject plane, face-on",
        frames=(1, 2), since="setup", marks=("navel",), assumed=(), expect=None, answer=None, refused=None,
        way_out=None, words="shift of the navel since setup", budget=None,
    )  # fmt: skip


DAYS = (date(2026, 3, 1), date(2026, 3, 11), date(2026, 5, 10), date(2026, 6, 9))
VALUES = ((4.1, 0.6), (3.2, 0.55), (1.0, 0.6), (-0.8, 0.9))
CHART = Chart(
    "shift of the navel since setup",
    "in",
    tuple(ChartPoint("Dune", day, measure(*number)) for day, number in zip(DAYS, VALUES, strict=True)),
)


def words(day: date) -> str:
    return f"{day.day} {day:%b}"


def drawn(width: float = 640.0, units: str = "in", chart: Chart = CHART) -> str:
    return chart_svg(chart, width, units, words)


def rulings(svg: str) -> tuple[float, float]:
    """CSS px per unit of the scale and the y of its zero, from its highest number and the one below."""
    marks = [(float(e.text or ""), float(e.attrib["y"]) - 4.5) for e in of_class(parsed(svg), "scale")]
    (b, yb), (a, ya) = sorted(marks, key=lambda mark: mark[1])[:2]
    return (ya - yb) / (b - a), ya + a * (ya - yb) / (b - a)


@pytest.mark.parametrize("width", [360.0, 640.0])
def test_a_dot_lies_at_its_value_and_its_day(width: float) -> None:
    """Heights follow the scale's own numbers, and days are evenly spaced along the chart."""
    per, zero = rulings(drawn(width))
    dots = of_class(parsed(drawn(width)), "dot")
    xs = [float(dot.attrib["cx"]) for dot in dots]
    for dot, (value, _) in zip(dots, VALUES, strict=True):
        assert zero - float(dot.attrib["cy"]) == pytest.approx(value * per, abs=0.25)
    for x, day in zip(xs, DAYS, strict=True):
        share = (day - DAYS[0]).days / 100
        assert x == pytest.approx(xs[0] + share * (xs[-1] - xs[0]), abs=0.11)


def test_a_band_is_as_high_as_its_uncertainty() -> None:
    """Each band reaches from the value less ± to the value and ±."""
    per, zero = rulings(drawn())
    for band, (value, pm) in zip(of_class(parsed(drawn()), "band"), VALUES, strict=True):
        assert float(band.attrib["height"]) == pytest.approx(2 * pm * per, abs=0.25)
        assert zero - float(band.attrib["y"]) == pytest.approx((value + pm) * per, abs=0.3)


def test_the_first_and_the_last_day_stand_as_far_from_the_ends_of_the_chart() -> None:
    """The first from the numbers of the scale, the last from the room at the right."""
    xs = [float(dot.attrib["cx"]) for dot in of_class(parsed(drawn(360.0)), "dot")]
    assert (xs[0], xs[-1]) == (LEFT + INDENT, 360.0 - RIGHT - INDENT)


@pytest.mark.parametrize("gap", range(2, 22))
def test_no_number_runs_over_a_band(gap: int) -> None:
    """A wide band beside a narrow one, on either side of it, nearer and nearer: the number is above both."""
    for pms in ((1.5, 0.2), (0.2, 1.5)):
        days = (DAYS[0], DAYS[0] + timedelta(100 - gap), DAYS[0] + timedelta(100))
        numbers = ((2.0, 0.2), (2.1, pms[0]), (2.0, pms[1]))
        chart = Chart(
            "shift",
            "in",
            tuple(ChartPoint("Dune", d, measure(*n)) for d, n in zip(days, numbers, strict=True)),
        )
        root = parsed(drawn(chart=chart))
        bands = [[float(band.attrib[key]) for key in ("x", "y", "width")] for band in of_class(root, "band")]
        values, pm_ends = of_class(root, "value"), of_class(root, "pm")
        assert len(values) >= 2
        for value, pm in zip(values, pm_ends, strict=True):
            left, right, foot = float(value.attrib["x"]), float(pm.attrib["x"]), float(value.attrib["y"])
            below = [top for x, top, width in bands if x < right and x + width > left]
            assert below and foot < min(below)


def test_bands_keep_clear_of_both_ends_of_the_scale() -> None:
    """12 % of all that they reach over is left free above the highest and below the lowest of them."""
    bands = [
        (float(band.attrib["y"]), float(band.attrib["height"])) for band in of_class(parsed(drawn()), "band")
    ]
    high, low = min(y for y, _ in bands), max(y + height for y, height in bands)
    assert high - TOP == pytest.approx(0.12 * (low - high), abs=0.3)
    assert HEIGHT - BOTTOM - low == pytest.approx(0.12 * (low - high), abs=0.3)


def test_centimetres_change_the_scale_and_not_the_picture() -> None:
    """In cm the numbers are 2.54 times those in inches (exactly, 1959), and the dots stay."""
    inches, metric = drawn(), drawn(units="cm")
    assert rulings(inches)[0] == pytest.approx(2.54 * rulings(metric)[0], rel=0.01)
    places = [[dot.attrib["cy"] for dot in of_class(parsed(svg), "dot")] for svg in (inches, metric)]
    assert places[0] == places[1]
    assert "10.4 cm" in metric


def test_the_first_and_the_last_number_are_always_lettered() -> None:
    """However many swings, a reader finds where it began and where it has come to, with ±."""
    points = tuple(ChartPoint("Dune", date(2026, 1, 1 + k), measure(4.0 - 0.1 * k, 0.6)) for k in range(28))
    root = parsed(drawn(360.0, chart=Chart("shift", "in", points)))
    said = [element.text for element in of_class(root, "value")]
    assert "4.0 in" in said
    assert "1.3 in" in said
    assert len(said) == len(of_class(root, "pm"))
    assert {"1 Jan", "28 Jan"} <= {element.text for element in of_class(root, "date")}


def test_the_directions_of_a_signed_measure_are_named() -> None:
    """What lies above zero and what below is said in words, since the numbers carry no sign."""
    said = [element.text for element in of_class(parsed(drawn()), "way")]
    assert said == ["above 0: toward the target", "below 0: away from the target"]


def test_swings_of_one_day_are_in_the_middle() -> None:
    """A chart without a span of days is still drawn."""
    points = tuple(ChartPoint("Dune", DAYS[0], measure(value, 0.5)) for value in (2.0, 2.0))
    root = parsed(drawn(chart=Chart("shift", "in", points)))
    assert len({dot.attrib["cx"] for dot in of_class(root, "dot")}) == 1


def test_a_chart_takes_its_colours_from_the_page() -> None:
    """It is drawn in currentColor, so day and night need one drawing."""
    assert "#" not in drawn()
    assert "currentColor" in drawn()


def test_numbers_that_all_go_the_negative_way_rise_for_more() -> None:
    """With 3 to 5 in away the scale says 3 to 5, more is higher, and the way is named once."""
    numbers = (-3.2, -4.1, -5.0)
    points = tuple(
        ChartPoint("Dune", day, measure(value, 0.3)) for day, value in zip(DAYS, numbers, strict=False)
    )
    svg = drawn(chart=Chart("shift", "in", points))
    per, zero = rulings(svg)
    heights = [float(dot.attrib["cy"]) for dot in of_class(parsed(svg), "dot")]
    assert heights == sorted(heights, reverse=True)
    for cy, value in zip(heights, numbers, strict=True):
        assert zero - cy == pytest.approx(-value * per, abs=0.25)
    assert not any("−" in (element.text or "") for element in of_class(parsed(svg), "scale"))
    assert [element.text for element in of_class(parsed(svg), "way")] == ["away from the target"]


def test_the_scale_has_no_signs_that_the_numbers_lack() -> None:
    """Below zero the scale counts downward from it, as the numbers there do."""
    said = [element.text for element in of_class(parsed(drawn()), "scale")]
    assert not any("−" in (text or "") for text in said)
