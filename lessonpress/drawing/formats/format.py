"""The one signature that all formats share; each is a module."""

from __future__ import annotations

from typing import Protocol

from lessonpress.drawing.standalone import PanelAlone
from lessonpress.drawing.standalone_chart import ChartAlone


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

    def panel(self, panel: PanelAlone, picture: bytes, across: int | None) -> bytes:
        """The panel with its overlays, scale bar, key and credit. picture: the crop, as filmed.

        across: px of a format that has pixels, None to let it choose.
        """

    def chart(self, chart: ChartAlone, across: int | None) -> bytes:
        """The chart with its credit."""
