"""Alt texts and long descriptions, put together from the sentences of the overlays.

An alt text answers "what is this picture for" in one breath; the long description says everything that the
lines, letters and numbers say to the eye, in the order in which they are lettered.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lessonpress.figures.plates import DrawnOverlay
from lessonpress.records import Reading, View, in_reading

LONGEST_ALT = 199  # characters; the design asks for fewer than 200

VIEW_WORDS: dict[View, str] = {
    "face-on": "Face-on",
    "from-behind": "From behind",
    "down-the-line": "Down the line",
    "from-target": "From the target",
    "overhead": "From overhead",
}


def alt(view: View, when: str, drawn: Iterable[DrawnOverlay], reading: Reading | None = None) -> str:
    """The view, the instant in words, then as many whole sentences as fit.

    when: "at the top of the backswing". Only what is shown is described; measures come before bare lines,
    since they carry the point. reading: in which it is said; None for the site's own.
    """
    shown = [one for one in drawn if one.shown]
    text = f"{VIEW_WORDS[view]} {when}."
    for one in sorted(shown, key=lambda one: one.measure is None):
        longer = f"{text} {in_reading(one.sentence, one.sentence_otherwise, reading)}."
        if len(longer) <= LONGEST_ALT:
            text = longer
    return text


def strip_alt(view: View, labels: Sequence[str]) -> str:
    """What a strip shows as a whole: its view and its instants."""
    text = f"{len(labels)} pictures of one swing, {VIEW_WORDS[view].lower()}: {', '.join(labels).lower()}."
    return text if len(text) <= LONGEST_ALT else text[: LONGEST_ALT - 1].rsplit(" ", 1)[0].rstrip(",") + "…"


def pair_alt(titles: Sequence[str], labels: Sequence[str]) -> str:
    """What a pair shows as a whole. titles: of its clips."""
    first, second = (f"{title} ({label.lower()})" for title, label in zip(titles, labels, strict=True))
    return f"Two swings at one scale: {first} and {second}."


def loop_alt(view: View, first: str, last: str, slowed: float) -> str:
    """What a loop shows, as one moving picture."""
    return (
        f"A moving picture, {VIEW_WORDS[view].lower()}, from {first.lower()} to {last.lower()}, "
        f"{slowed:g} times slower than life."
    )


def description(
    view: View,
    when: str,
    title: str,
    frame: int,
    seconds: float,
    drawn: Iterable[DrawnOverlay],
    reading: Reading | None = None,
) -> str:
    """Everything a panel shows, a sentence for each overlay behind its letter. title: of its clip."""
    opening = (
        f"{VIEW_WORDS[view]} {when}: frame {frame} of “{title}”, {seconds:.2f} s after its first picture."
    )
    sentences = [_behind_its_letter(one, reading) for one in drawn if one.shown]
    return "\n".join([opening, *dict.fromkeys(sentences)])


def _behind_its_letter(one: DrawnOverlay, reading: Reading | None) -> str:
    sentence = f"{in_reading(one.sentence, one.sentence_otherwise, reading)}."
    return f"{one.letter}: {sentence}" if one.letter else sentence
