"""What an overlay says in every reading: its name, its sentence and what its tags letter.

A kind is asked again with other units, and where its number is a clock time with the picture turned about, of
which it is measured anew: nothing is worked out from what was printed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from lessonpress.measure import Units
from lessonpress.overlays import (
    Context,
    Outcome,
    OverlayFields,
    OverlayKind,
    Shape,
    Tag,
    TagText,
    measures,
    on_tag,
)
from lessonpress.records import Otherwise, Reading, differing, other_readings


@dataclass(frozen=True)
class Saying:
    """One overlay on one panel. moving: nothing is measured, and the name is what is said."""

    kind: OverlayKind
    fields: OverlayFields
    context: Context
    units: Units
    moving: bool = False

    def outcome(self, reading: Reading) -> Outcome:
        """What is measured of the picture as the reader has it."""
        return None if self.moving else self.kind.measure(self.fields, self._seen(reading))

    @property
    def on_a_clock(self) -> bool:
        """Whether the picture turned about has another number."""
        return self.fields.DIMENSION == "clock" and not self.moving

    def said(self, measured: Outcome, turned: Outcome) -> Said:
        """measured, turned: what came of the picture as it is and turned about."""
        own = Reading(self.units)
        name, sentence = self._name(own), self._sentence(own, measured)
        others = [(one, turned if one.turned else measured) for one in other_readings(self.units)]
        shapes = self.kind.shapes(self.fields, self.context, measured)
        return Said(
            name=name,
            sentence=sentence,
            shapes=tuple(_lettered(shape, others) for shape in shapes),
            name_otherwise=differing(name, [(one, self._name(one)) for one, _ in others]),
            sentence_otherwise=differing(sentence, [(one, self._sentence(one, of)) for one, of in others]),
        )

    def _name(self, reading: Reading) -> str:
        return self.kind.name(self.fields, self._seen(reading))

    def _sentence(self, reading: Reading, measured: Outcome) -> str:
        if self.moving and measures(self.kind):
            return self._name(reading)  # measures nothing, which is no failure
        return self.kind.sentence(self.fields, self._seen(reading), measured)

    def _seen(self, reading: Reading) -> Context:
        mirrored = self.context.mirrored != reading.turned
        return replace(self.context, units=reading.units, mirrored=mirrored)


@dataclass(frozen=True)
class Said:
    """What comes of it, as `DrawnOverlay` has it."""

    name: str
    sentence: str
    shapes: tuple[Shape, ...]
    name_otherwise: Otherwise
    sentence_otherwise: Otherwise


def _lettered(shape: Shape, others: list[tuple[Reading, Outcome]]) -> Shape:
    """A tag with what it letters in other readings; any other shape as it is."""
    if not isinstance(shape, Tag) or not shape.value:
        return shape
    own = TagText(shape.words, shape.value, shape.pm)
    texts = ((one, TagText(shape.words, *on_tag(measured, one.units))) for one, measured in others)
    return replace(shape, otherwise=tuple((one, text) for one, text in texts if text != own))
