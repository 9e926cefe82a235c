"""Fingers on a screen: touches that the browser itself makes pointers, scrolling and taps of (CDP, Input)."""

from __future__ import annotations

import time

from playwright.sync_api import Locator, Page

Place = tuple[float, float]  # CSS px of the window
STEPS = 5  # of a finger's way
QUICK, SLOW = 0.02, 1.0  # s from one touch to the next within a gesture, and from one gesture to another


class Fingers:
    """Of one hand, on one page whose context has touch.

    Each touch brings its time with it, so that a busy machine makes no two single taps of a double one.
    """

    def __init__(self, page: Page) -> None:
        self._session = page.context.new_cdp_session(page)
        self._time = time.time()

    def drag(self, *ways: tuple[Place, Place]) -> None:
        """Each finger from one place to another, all at once, then up."""
        self._begin()
        self._touch("touchStart", [start for start, _ in ways])
        for step in range(1, STEPS + 1):
            self._touch("touchMove", [_along(way, step / STEPS) for way in ways])
        self._touch("touchEnd", [])

    def swipe(self, on: Locator, across: float, down: float = 0.0) -> None:
        """One finger from the middle of what is in sight of an element."""
        x, y = middle(on)
        self.drag(((x - across / 2, y - down / 2), (x + across / 2, y + down / 2)))

    def pinch(self, on: Locator, before: float, after: float) -> None:
        """Two fingers beside each other, from so far apart to so far apart."""
        x, y = middle(on)
        self.drag(*(((x + side * before / 2, y), (x + side * after / 2, y)) for side in (-1, 1)))

    def tap(self, on: Locator, times: int = 1) -> None:
        """On the middle of what is in sight of an element, where it is at the first tap."""
        self._begin()
        place = middle(on)
        for _ in range(times):
            self._touch("touchStart", [place])
            self._touch("touchEnd", [])

    def _begin(self) -> None:
        self._time = max(self._time + SLOW, time.time())

    def _touch(self, kind: str, places: list[Place]) -> None:
        points = [{"x": x, "y": y, "id": finger} for finger, (x, y) in enumerate(places)]
        self._time += QUICK
        self._session.send(
            "Input.dispatchTouchEvent", {"type": kind, "touchPoints": points, "timestamp": self._time}
        )


def middle(element: Locator) -> Place:
    """Of the part of an element that is in the window."""
    left, top, right, bottom = element.evaluate("""one => {
        const box = one.getBoundingClientRect();
        return [Math.max(box.left, 0), Math.max(box.top, 0),
                Math.min(box.right, innerWidth), Math.min(box.bottom, innerHeight)];
    }""")
    return (left + right) / 2, (top + bottom) / 2


def _along(way: tuple[Place, Place], share: float) -> Place:
    (x0, y0), (x1, y1) = way
    return x0 + share * (x1 - x0), y0 + share * (y1 - y0)
