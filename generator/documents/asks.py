"""What a view can be asked to show: dimensions, call-outs and datums; and what comes of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from generator.documents.drawing import PLAIN, Dimension, Mark, Point, Spelling
from generator.documents.layout import Array, Run
from generator.documents.text import Box

Side = Literal["above", "below", "left", "right"]
Symbol = Literal["", "taper left", "taper right", "roughness", "runout"]


@dataclass(frozen=True, slots=True)
class Length:
    """A horizontal or vertical dimension outside the view.

    Attributes:
        start: One point measured.
        end: The other.
        side: The side of the view it belongs to.
        pattern: Its text, "<>" standing for the number.
        spelling: How the number is written.
        level: Whether an upright dimension has its text level all the same (ASME Y14.5).
        datum: Letter of the datum that is the axis of this size; "" for none.
    """

    start: Point
    end: Point
    side: Side
    pattern: str = "<>"
    spelling: Spelling = PLAIN
    level: bool = False
    datum: str = ""


@dataclass(frozen=True, slots=True)
class Across:
    """A diameter measured on the part itself, its text on a shelf above or below.

    Attributes:
        stations: Places it may stand at: x, half the diameter on paper.
        pattern: Its text.
        spelling: How the number is written.
        datum: Letter of the datum that is the axis of this size; "" for none.
    """

    stations: tuple[tuple[float, float], ...]
    pattern: str
    spelling: Spelling = PLAIN
    datum: str = ""


@dataclass(frozen=True, slots=True)
class Angle:
    """The angle between two edges that run together, shown beyond the end of the part.

    Attributes:
        first: The upper edge, from its end nearer the arc.
        second: The lower edge, likewise.
        pattern: Its text.
    """

    first: tuple[Point, Point]
    second: tuple[Point, Point]
    pattern: str = "<>°"


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a call-out: a symbol, a text, or both. A run-out frame reads "0.02|A"."""

    text: str
    symbol: Symbol = ""


@dataclass(frozen=True, slots=True)
class Note:
    """A call-out on a leader.

    Attributes:
        anchors: Points the arrow may rest on.
        rows: What it says; the first row above the shelf, the others below.
        normals: For each anchor the direction that leads out of the part, degrees; empty where a
            leader may come from any side.
        standing: Points of an upper surface on which its one sign may stand without a leader.
    """

    anchors: tuple[Point, ...]
    rows: tuple[Row, ...]
    normals: tuple[float, ...] = ()
    standing: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Datum:
    """A datum letter in a frame on a triangle.

    Attributes:
        anchors: Points of the surface, each with the direction of its normal, degrees.
        letter: The letter.
    """

    anchors: tuple[tuple[Point, float], ...]
    letter: str


Ask = Length | Across | Angle | Note | Datum


@dataclass(frozen=True, slots=True)
class Placed:
    """An annotation in its place.

    Attributes:
        cost: How little this place is liked.
        marks: All its marks.
        dimension: The dimension, where it is one.
        lane: The dimension line, which no other may lie along.
        solid: Boxes of symbols that keep others off as letters do.
        foot: Where a leader or a datum rests on the part.
        leader: The leader, from there to its shelf.
    """

    cost: float
    marks: tuple[Mark, ...]
    dimension: Dimension | None = None
    lane: Run | None = None
    solid: tuple[Box, ...] = ()
    foot: Point | None = None
    leader: Run | None = None


@dataclass(frozen=True, slots=True)
class Places:
    """Places that one annotation may take, side by side in arrays; NaN where a place has less.

    Attributes:
        costs: How little each is liked; shape (places,).
        shared: Straight runs that all of them draw; shape (runs, 4).
        own: Straight runs of each; shape (places, runs, 4).
        boxes: Box of the text of each, then of its symbols; shape (places, boxes, 4).
        lanes: Dimension line of each; shape (places, 4).
        make: Returns the annotation in the place of that number.
    """

    costs: Array
    shared: Array
    own: Array
    boxes: Array
    lanes: Array
    make: Callable[[int], Placed]


@dataclass(frozen=True, slots=True)
class Cluster:
    """A view with its annotations, about the origin of the view."""

    marks: tuple[Mark, ...]
    dimensions: tuple[Dimension, ...]
    box: Box
