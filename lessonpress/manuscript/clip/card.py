"""The card of a clip, `clip.yaml`: where the footage comes from and how it was filmed."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import AfterValidator, BeforeValidator, Discriminator, Field, PlainValidator, Tag

from lessonpress.manuscript.fields.fieldtypes import (
    DateText,
    DurationText,
    EventName,
    ExposureText,
    InstantText,
    LengthText,
    MarkName,
    Meant,
    Number,
    PixelsText,
    SignedLengthText,
    Text,
    WithinText,
    YesNo,
    to_instant,
)
from lessonpress.manuscript.fields.instants import LATEST_FRAME
from lessonpress.manuscript.fields.invalid_value import InvalidValueError
from lessonpress.manuscript.fields.wording import Words
from lessonpress.manuscript.fields.written import Written
from lessonpress.manuscript.rights.rights import Person, Source, missing_rights
from lessonpress.records import FLIGHT, Hand, Instant, Side, View, level_goal, positive_right

Plane = Literal["subject", "wall"]
LONGEST_TITLE = 60  # characters
LEAST_OF_A_LINE = 3  # marks: two make a line whatever the lens does


def _title(text: str) -> str:
    """Words for a heading: on one line, and short enough that two of them make an alt text."""
    if not text.strip():
        raise InvalidValueError("`title` is empty", "write one after the colon, or leave the key out")
    if len(text.splitlines()) > 1 or text != text.rstrip("\r\n"):
        raise InvalidValueError("this title runs past the end of its line", "write it on one line")
    if len(text) > LONGEST_TITLE:
        wrong = f"this title has {len(text)} characters"
        raise InvalidValueError(wrong, f"up to {LONGEST_TITLE}: pictures are headed by it")
    return text.strip()


Title = Annotated[Text, AfterValidator(_title)]


class Depth(Written):
    """How far a mark lies before the subject plane, toward the camera. within: the half-width."""

    toward: SignedLengthText = Field(examples=["4 in"])
    within: WithinText = Field(examples=["2 in"])


class Between(Written):
    """A known length between two marks."""

    between: tuple[MarkName, MarkName]
    length: LengthText = Field(examples=["36 in"])
    within: WithinText | None = None
    plane: Plane = "subject"
    depth: Depth | None = None


class Grid(Written):
    """A known rectangle: its corners clockwise from top left; size is width, height."""

    grid: tuple[MarkName, MarkName, MarkName, MarkName]
    size: tuple[LengthText, LengthText] = Field(examples=["[48 in, 36 in]"])
    within: WithinText | None = None
    plane: Plane = "subject"
    depth: Depth | None = None


class Standing(Written):
    """The golfer upright at an instant, as tall as the card's stature."""

    standing: tuple[MarkName, MarkName]
    at: InstantText = Field(examples=["0"])


_SCALES = ("between", "grid", "standing")


def _scale_kind(value: Any) -> str:
    named = [kind for kind in _SCALES if (kind in value if isinstance(value, dict) else hasattr(value, kind))]
    return f"<{named[0]}>" if named else "<between>"


def _some_kind(value: Any) -> Any:
    if not isinstance(value, Written) and not (
        isinstance(value, dict) and any(kind in value for kind in _SCALES)
    ):
        raise InvalidValueError(
            "this scale names no marks", "begin it with `between: […]`, `grid: […]` or `standing: […]`"
        )
    return value


Scale = Annotated[
    Annotated[Between, Tag("<between>")]
    | Annotated[Grid, Tag("<grid>")]
    | Annotated[Standing, Tag("<standing>")],
    Discriminator(_scale_kind),
    BeforeValidator(_some_kind),
]


class Camera(Written):
    """Level distances from the lens to the subject plane and to the wall behind. still: on a stand."""

    distance: LengthText | None = None
    within: WithinText | None = None
    wall: LengthText | None = None
    wall_within: WithinText | None = None
    still: YesNo = False


_Row = tuple[MarkName, ...]
_StraightLine = Annotated[_Row, Field(min_length=LEAST_OF_A_LINE)]


class Lens(Written):
    """distorted = x (1 + k1 r² + k2 r⁴), r in focal lengths; focal and centre in px of the picture.

    straight: marks that lie on one straight line of the room each. grid: the rows of marks at the crossings
    of a grid whose lines are straight. Either is given instead of k1 and k2, which are then solved.
    """

    k1: Number = 0.0
    k2: Number = 0.0
    focal: PixelsText | None = None
    centre: tuple[Number, Number] | None = None
    straight: tuple[_StraightLine, ...] = ()
    grid: tuple[_Row, ...] = ()

    @property
    def lines(self) -> tuple[tuple[str, ...], ...]:
        """Each straight line's marks: those stated, then the grid's rows and columns of three or more."""
        columns = tuple(zip(*self.grid, strict=False))
        return (*self.straight, *(line for line in (*self.grid, *columns) if len(line) >= LEAST_OF_A_LINE))


_DepthKey = Annotated[Instant, PlainValidator(to_instant)]


def _depth_form(value: Any) -> str:
    single = isinstance(value, Depth) or (isinstance(value, dict) and {"toward", "within"} & value.keys())
    return "<always>" if single or not isinstance(value, dict) else "<by instant>"


def _some_depth(value: Any) -> Any:
    if isinstance(value, dict | Depth) and value:
        return value
    raise InvalidValueError(
        "this is not a depth", "write `{toward: 4 in, within: 2 in}`, or one such for each instant"
    )


DepthForm = Annotated[
    Annotated[Depth, Tag("<always>")] | Annotated[dict[_DepthKey, Depth], Tag("<by instant>")],
    Discriminator(_depth_form),
    BeforeValidator(_some_depth),
]


class Region(Written):
    """What is blurred round a mark, of the room too. across: the diameter, px of the upright picture."""

    mark: MarkName = Field(examples=["window"])
    across: PixelsText = Field(examples=["300 px"])


def _obscure_form(value: Any) -> str:
    return "<region>" if isinstance(value, dict | Region) else "<mark>"


ObscureForm = Annotated[
    Annotated[MarkName, Tag("<mark>")] | Annotated[Region, Tag("<region>")], Discriminator(_obscure_form)
]


def _pieces(value: Any) -> tuple[tuple[int, float], ...]:
    """`240`, or `[[0, 30], [95, 240]]`: pictures per second of real time from given frames."""
    if isinstance(value, tuple):
        return value
    pieces = value if isinstance(value, list) else [[0, value]]
    made = tuple(_piece(piece) for piece in pieces)
    frames = [frame for frame, _ in made]
    if not made or frames[0] != 0:
        raise InvalidValueError("the first piece does not start at frame 0", "write `[[0, 30], [95, 240]]`")
    if sorted(set(frames)) != frames:
        raise InvalidValueError(
            "the pieces are not in the order of their frames", "write each frame once, rising"
        )
    return made


def _piece(piece: Any) -> tuple[int, float]:
    numbers = piece if isinstance(piece, list) else []
    right = "write a number of pictures per second, `240`, or `[[0, 30], [95, 240]]`"
    if len(numbers) != 2 or any(isinstance(n, bool) or not isinstance(n, int | float) for n in numbers):
        raise InvalidValueError("this is not pictures per second", right)
    frame, rate = numbers
    if not (0 <= frame < LATEST_FRAME and float(frame).is_integer()):
        raise InvalidValueError(f"`{frame}` is not a frame", "frames are whole and counted from 0")
    if not 1 <= rate <= 100_000:
        raise InvalidValueError(f"`{rate}` is not pictures per second", right)
    return int(frame), float(rate)


def _listed(value: Any) -> Any:
    """One name, or a list of them."""
    return [value] if isinstance(value, str) else value


OneOrMore = Annotated[tuple[Text, ...], BeforeValidator(_listed)]
FilmedAt = Annotated[tuple[tuple[int, float], ...], PlainValidator(_pieces)]
Pair = tuple[MarkName, MarkName]


class Card(Written):
    """Every key of a card. Lengths in metres (records.Length), times in seconds, filmed_at by pieces.

    second_view: the clip that shows the same swing, filmed at once from another side. other_swing: clips that
    show other swings of the same golfer from there.
    title: what readers are shown for the clip; its folder's name where there is none (`Clip.title`).
    """

    MISSING: ClassVar[dict[str, Words]] = missing_rights("footage")

    title: Title | None = Field(default=None, examples=["Dune, face-on, 7-iron"])
    video: Text = Field(examples=["dune-face-on.mp4"])
    view: View = Field(examples=["face-on"])
    hand: Hand = Field(examples=["right"])
    target: Side | None = None
    filmed_at: FilmedAt | None = None
    filmed_on: DateText | None = None
    second_view: Text | None = None
    other_swing: OneOrMore = ()
    readout: DurationText | None = None
    shutter: ExposureText | None = None
    source: Source
    people: tuple[Person, ...]
    obscure: tuple[ObscureForm, ...] = ()
    events: dict[EventName, InstantText] = Field(default_factory=dict)
    stature: LengthText | None = None
    implement: Text | None = None
    implement_length: LengthText | None = None
    shot: Text | None = None
    middles: dict[MarkName, Annotated[tuple[MarkName, ...], Field(min_length=2)]] = Field(
        default_factory=dict
    )
    room: tuple[MarkName, ...] = ()
    scale: tuple[Scale, ...] = ()
    camera: Camera = Field(default_factory=Camera)
    plumb: tuple[Pair, ...] = ()
    lens: Lens | None = None
    depth: dict[MarkName, DepthForm] = Field(default_factory=dict)
    deinterlace: YesNo = False
    fingerprint: Text | None = None
    meant: Meant = Field(default_factory=dict)

    @property
    def obscured(self) -> tuple[tuple[str, float | None], ...]:
        """The marks round which all is blurred, each with the diameter, px; None: as wide as a head is."""
        return tuple(
            (one.mark, one.across) if isinstance(one, Region) else (one, None) for one in self.obscure
        )

    @property
    def beside(self) -> tuple[str, ...]:
        """The clips that are named for what they show of depths."""
        return (*((self.second_view,) if self.second_view is not None else ()), *self.other_swing)

    @property
    def flight(self) -> tuple[Side, int]:
        """Where the ball flies in the picture, and the side toward which the level axis is positive.

        +1: the picture's right, −1: its left. From overhead both are as the card's target says.
        """
        if self.view == "overhead":
            return self.target or "right", positive_right(self.view, self.hand, self.target)
        return FLIGHT[self.view, self.hand]

    @property
    def goal(self) -> Literal["target", "ball"]:
        """What the level axis runs toward."""
        return level_goal(self.view)

    def depths(self, mark: str) -> tuple[tuple[Instant | None, Depth], ...]:
        """The stated depths of a mark: one with None for every instant, or one for each instant named."""
        form = self.depth.get(mark)
        if form is None:
            return ()
        return ((None, form),) if isinstance(form, Depth) else tuple(form.items())
