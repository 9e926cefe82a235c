"""Windows hold all ink that was seen, with a margin, and none of it twice."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from lessonpress.drawing.windows import windows

SIZE = (60, 40)  # rows, columns
PLACES = st.lists(st.tuples(st.integers(0, SIZE[0] - 1), st.integers(0, SIZE[1] - 1)), max_size=12)


@given(PLACES, st.sampled_from([1.0, 200.0, 2000.0, 20000.0]))
def test_all_ink_lies_in_one_window_each(places: list[tuple[int, int]], px: float) -> None:
    inked = np.zeros(SIZE, dtype=np.bool_)
    for place in places:
        inked[place] = True
    held = np.zeros(SIZE, dtype=int)
    for one in windows(inked, px):
        assert one.top >= 0 and one.left >= 0 and one.bottom <= SIZE[0] and one.right <= SIZE[1]
        held[one.top : one.bottom, one.left : one.right] += 1
    assert held.max(initial=0) <= 1
    for row, column in places:
        assert held[max(0, row - 2) : row + 3, max(0, column - 2) : column + 3].all()


def test_a_drawing_is_cut_where_that_leaves_out_more_than_another_window_costs() -> None:
    inked = np.zeros(SIZE, dtype=np.bool_)
    inked[1, 1] = inked[58, 38] = True
    assert len(windows(inked, 1.0)) == 1
    assert len(windows(inked, 2000.0)) == 2
    assert windows(np.zeros(SIZE, dtype=np.bool_), 2000.0) == []
