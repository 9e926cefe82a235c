"""The keys that may be written in front matter, a figure or an overlay, and the overlays themselves."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lessonpress.desk.writing.fieldkinds import choices_of, example_of, takes_several
from lessonpress.desk.writing.known import Known
from lessonpress.desk.writing.place import FRONT, Place
from lessonpress.desk.writing.words import Offer
from lessonpress.figures import FIGURES, PairSide
from lessonpress.manuscript import Front, Written, keys_of, required
from lessonpress.overlays import KINDS, measures

_KEY = re.compile(r"^([A-Za-z][\w-]*):", re.MULTILINE)
_NAMED_BY = {"as": "the id by which the text prints its number", "expect": "the range that is usual"}


def model_at(place: Place) -> type[Written] | None:
    """The model that the keys of a place belong to; None where an overlay is of no kind yet."""
    if place.kind == FRONT:
        return Front
    if "draw" in place.path:
        return KINDS[place.overlay].Fields if place.overlay in KINDS else None
    return PairSide if "of" in place.path else FIGURES[place.kind]


def key_offers(place: Place, known: Known) -> Iterator[Offer]:
    """Keys that are not written yet, those that have to be first."""
    model = model_at(place)
    if model is None:
        return
    there = {*place.there, *(_KEY.findall(place.figure) if not place.path else ())}
    due = required(model)
    for key in sorted(keys_of(model), key=lambda one: one not in due):
        if key not in there and not _is_useless(place, key):
            yield Offer(key, f"{key}:\n  - " if key == "draw" else f"{key}: ", _key_words(model, key))


def _is_useless(place: Place, key: str) -> bool:
    """Keys that all overlays know and this kind has no use for."""
    kind = KINDS.get(place.overlay)
    if kind is None or "draw" not in place.path:
        return False
    return (key in ("as", "expect") and not measures(kind)) or (key == "placed" and not kind.Fields.PLACED)


def _key_words(model: type[Written], key: str) -> str:
    if key in _NAMED_BY:
        return _NAMED_BY[key]
    choices, example = choices_of(model, key), example_of(model, key)
    words = " or ".join(choices) if choices else f"as in {example}" if example else ""
    return f"{words}{', ' * bool(words)}needed" if key in required(model) else words


def overlay_offers(place: Place, known: Known) -> Iterator[Offer]:
    """The kinds of overlays, and the site's sets."""
    dash = "- " if place.begins else ""
    if known.site.sets:
        yield Offer("use", f"{dash}use: ", f"a set of site.yaml: {', '.join(known.site.sets)}")
    for kind in KINDS.values():
        several = takes_several(kind.Fields, kind.KIND)
        least, _ = kind.Fields.COUNT
        text = f"{kind.KIND}: []" if several else f"{kind.KIND}:{' ' * bool(least)}"
        yield Offer(kind.KIND, dash + text, f"as in {kind.Fields.EXAMPLE}", back=int(several))
