"""Which part of a picture is printed."""

from hypothesis import given
from hypothesis import strategies as st

from lessonpress.figures.bind.crop import auto, full_frame

SIZES = st.tuples(st.integers(64, 4000), st.integers(64, 4000))


def test_a_golfer_in_a_wide_picture_is_cut_four_to_five():
    left, top, right, bottom = auto([(600.0, 100.0), (700.0, 600.0)], (1280, 720))
    assert (right - left) / (bottom - top) == 520 / 650  # 500 px of hull and 15 % of it on each side, 4 : 5
    assert (left + right) / 2 == 650


def test_without_marks_the_picture_stays_whole():
    assert auto([], (1281, 720)) == full_frame((1281, 720)) == (0.0, 0.0, 1281.0, 720.0)


@given(SIZES, st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), min_size=1, max_size=8))
def test_a_crop_lies_inside_the_picture_and_holds_every_mark(size, fractions):
    points = [(x * size[0], y * size[1]) for x, y in fractions]
    left, top, right, bottom = auto(points, size)
    assert 0 <= left < right <= size[0]
    assert 0 <= top < bottom <= size[1]
    assert all(left - 1 <= x <= right + 1 and top - 1 <= y <= bottom + 1 for x, y in points)
