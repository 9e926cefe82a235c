"""The one signature that all overlay kinds share; each is a module."""

from __future__ import annotations

from typing import Any, Protocol

from lessonpress.measure import At, Measured, Refusal
from lessonpress.overlays.parts.context import Context
from lessonpress.overlays.parts.fields import OverlayFields
from lessonpress.overlays.shapes import Shape

Outcome = Measured | Refusal | None  # what became of an overlay's measure; None for kinds without one


class OverlayKind(Protocol):
    """A kind of overlay. `fields` is always an instance of the same module's `Fields`."""

    @property
    def KIND(self) -> str:  # noqa: N802 - a module's constant
        """The key that names the kind in a lesson."""

    @property
    def Fields(self) -> type[OverlayFields]:  # noqa: N802
        """What an author may write."""

    def needed(self, fields: Any, context: Context) -> tuple[At, ...]:
        """The marks, at the frames, without which nothing can be drawn or measured."""

    def measure(self, fields: Any, context: Context) -> Outcome:
        """The overlay's number, the reason why there is none, or None for kinds without one."""

    def shapes(self, fields: Any, context: Context, measured: Outcome) -> tuple[Shape, ...]:
        """What is drawn, in picture px; without a band where the measure was refused."""

    def name(self, fields: Any, context: Context) -> str:
        """The ledger's name: "Tilt, navel to C7"."""

    def sentence(self, fields: Any, context: Context, measured: Outcome) -> str:
        """A full clause without its stop, plain words, for alt texts and long descriptions."""


def measures(kind: OverlayKind) -> bool:
    """Whether the kind carries a number."""
    return kind.Fields.DIMENSION is not None
