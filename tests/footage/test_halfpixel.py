"""Points and matrices go to OpenCV and back by half a pixel."""

from __future__ import annotations

import cv2
import numpy as np

from lessonpress.footage.tracking.halfpixel import (
    from_opencv,
    matrix_from_opencv,
    matrix_to_opencv,
    to_opencv,
)


def test_the_centre_of_the_first_pixel_is_opencvs_origin() -> None:
    assert to_opencv(np.array([0.5, 0.5])).tolist() == [0.0, 0.0]
    assert from_opencv(np.array([[3.0, 7.0]])).tolist() == [[3.5, 7.5]]


def test_doubling_a_picture_about_its_corner_is_what_opencvs_resize_does() -> None:
    """A spot at a pixel's centre lands where the doubled picture has it, whose corners stay corners."""
    picture = np.zeros((20, 30), dtype=np.float32)
    picture[5, 9] = 1
    doubled = cv2.resize(picture, (60, 40), interpolation=cv2.INTER_LINEAR)
    lines, columns = np.mgrid[0:40, 0:60]
    found = from_opencv(np.array([(doubled * columns).sum(), (doubled * lines).sum()]) / doubled.sum())
    double = np.diag([2.0, 2.0, 1.0])
    np.testing.assert_allclose(found, (double @ [9.5, 5.5, 1])[:2])
    np.testing.assert_allclose(matrix_to_opencv(double) @ [9, 5, 1], [*to_opencv(found), 1])
    np.testing.assert_allclose(matrix_from_opencv(matrix_to_opencv(double)), double)
