"""The one signature that all formats share; each is a module."""

from __future__ import annotations

from typing import Protocol

from lessonpress.drawing.alone import Label
from lessonpress.drawing.standalone_chart import DateWords
from lessonpress.figures import Chart, FloorPlan, Panel
from lessonpress.measure import Units


class Format(Protocol):
    """A format of files. Both functions give the same bytes for the same drawing, on every machine."""

    @property
    def SUFFIX(self) -> str:  # noqa: N802 - a module's constant
        """What its files' names end in, without the dot."""

    @property
    def NAME(self) -> str:  # noqa: N802
        """What a link to such a file says: "SVG"."""

    @property
    def SLOW(self) -> bool:  # noqa: N802
        """Whether a file takes so long to make that it is kept, and made in another process."""

    @property
    def LIBRARIES(self) -> tuple[str, ...]:  # noqa: N802
        """The libraries whose version its files may depend on."""

    @property
    def MANNER(self) -> tuple[float, ...]:  # noqa: N802
        """What else decides how its files come out; one that was kept is made anew where this is another."""

    def panel(
        self,
        panel: Panel,
        picture: bytes,
        label: Label,
        *,
        units: Units,
        mirrored: bool,
        width: int,
        across: int | None,
    ) -> bytes:
        """The panel with its overlays, scale bar, key and credit. picture: the crop, as filmed.

        width: CSS px that it is laid out for. across: px of a format that has pixels, None to let
        it choose.
        """

    def chart(
        self,
        chart: Chart | FloorPlan,
        label: Label,
        *,
        units: Units,
        date_words: DateWords,
        width: int,
        across: int | None,
    ) -> bytes:
        """The chart or plan with its credit."""
