"""Tabulated values: a class a table, its fields the columns of the CSV file beside this module."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from functools import cache
from importlib import resources
from math import nan
from typing import Any, ClassVar, Final, Self, cast

from generator.errors import StandardError

UNVERIFIED: Final = frozenset(
    {"memory", "memory_checked_by_arithmetic", "weak_source", "common_practice", "judgement"}
)
"""The words of confidence that say: measure it, or read the standard, before relying on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a standard table.

    Attributes:
        name: The name it is found by; no other row of the table has it.
        confidence: How well the figures are confirmed: one word for the whole row, then
            `field:word` for each field that differs. Empty in a table that makes no such claim.
        source: Where the figures come from.
    """

    FILE: ClassVar[str]

    name: str
    confidence: str = ""
    source: str

    @classmethod
    def rows(cls) -> tuple[Self, ...]:
        """Return the whole table, in the order of the file; it is read once."""
        return tuple(cls._by_name().values())

    @classmethod
    def find(cls, name: str) -> Self:
        """Return one row.

        Raises:
            StandardError: If there is no such name; the message lists those there are.
        """
        rows = cls._by_name()
        if name not in rows:
            raise StandardError(f"{cls.FILE} has no {name!r}; it has {', '.join(rows)}")
        return rows[name]

    @classmethod
    def _by_name(cls) -> Mapping[str, Self]:
        kind: Any = cls  # mypy takes the class for unhashable, since its rows define __hash__
        return cast("Mapping[str, Self]", _read(kind))

    def confidence_of(self, field: str) -> str:
        """Return the word of confidence of one field."""
        words = dict(part.rpartition(":")[::2] for part in self.confidence.split(";"))
        return words.get(field, words.get("", ""))

    @property
    def unverified_fields(self) -> tuple[str, ...]:
        """The filled fields whose figures are from memory, or from no better source.

        A text counts where it has a word of its own: a thread does, the name of a standard not.
        """
        named = {part.rpartition(":")[0] for part in self.confidence.split(";")}
        return tuple(
            field.name
            for field in fields(self)
            if (field.type != "str" or field.name in named)
            and getattr(self, field.name) not in (None, "")
            and self.confidence_of(field.name) in UNVERIFIED
        )

    @property
    def unverified(self) -> bool:
        """Whether any figure of the row is unverified."""
        return bool(self.unverified_fields)


@cache
def _read(kind: type[Row]) -> dict[str, Row]:
    """Return the rows of a table by name."""
    kinds = {field.name: field.type for field in fields(kind)}
    text = resources.files(__package__).joinpath(kind.FILE).read_text("utf-8")
    rows = [
        kind(**{column: _value(kinds[column], cell) for column, cell in line.items()})
        for line in csv.DictReader(text.splitlines(), strict=True)
    ]
    by_name = {row.name: row for row in rows}
    if len(by_name) < len(rows):
        raise StandardError(f"{kind.FILE}: a name stands twice")
    return by_name


def _value(kind: Any, cell: str) -> Any:
    """Return the content of a cell; an empty one is None if the field allows it, else NaN."""
    if kind == "str":
        return cell
    if cell == "":
        return None if kind == "float | None" else nan
    return float(cell)


@dataclass(frozen=True, slots=True, kw_only=True)
class MorseTaper(Row):
    """A Morse taper shank, tapped form; "MT2" has the lengths of ISO 296, "MT2 US" the US ones.

    Attributes:
        size: "MT0" to "MT6".
        system: Whose lengths: "ISO" or "US".
        taper_in_per_ft: Taper on diameter as printed, inches a foot.
        gauge_diameter_mm: Diameter at the gauge plane, the mouth of the socket.
        projection_mm: How far the cone stands out of the socket.
        length_mm: From the gauge plane to the small end.
        socket_depth_mm: Least depth of the socket.
        drawbar_thread: Thread of the draw-bar, metric for ISO and UNC for US; "" if there is none.
        drawbar_thread_depth_mm: Least depth of that thread; None where it is not known.
    """

    FILE: ClassVar = "morse_tapers.csv"

    size: str
    system: str
    taper_in_per_ft: float
    gauge_diameter_mm: float
    projection_mm: float
    length_mm: float
    socket_depth_mm: float
    drawbar_thread: str
    drawbar_thread_depth_mm: float | None

    @classmethod
    def sizes(cls) -> tuple[str, ...]:
        """Return the sizes there are."""
        return once(row.size for row in cls.rows())

    @property
    def taper(self) -> float:
        """Taper on diameter: millimetres a millimetre of length."""
        return self.taper_in_per_ft / 12

    @property
    def small_diameter_mm(self) -> float:
        """Diameter at the small end."""
        return self.gauge_diameter_mm - self.taper * self.length_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread(Row):
    """A screw thread, with the limits of the internal one.

    Attributes:
        series: "coarse", "fine", "UNC", "UNF", or "UN" for a pitch of neither.
        tolerance_class: Class of the internal thread: "6H" or "2B".
        major_mm: Basic major diameter.
        pitch_mm: Pitch.
        pitch_diameter_mm: Basic pitch diameter.
        minor_mm: Basic minor diameter of the internal thread.
        minor_least_mm: Least minor diameter of the internal thread.
        minor_greatest_mm: Greatest minor diameter of the internal thread.
        tapping_drill_mm: Drill before the tap.
    """

    FILE: ClassVar = "threads.csv"

    series: str
    tolerance_class: str
    major_mm: float
    pitch_mm: float
    pitch_diameter_mm: float
    minor_mm: float
    minor_least_mm: float
    minor_greatest_mm: float
    tapping_drill_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetScrew(Row):
    """A hexagon socket set screw, named by its thread: ISO 4026 to 4029, or ASME B18.3.

    Attributes:
        hexagon_mm: Nominal size of the key.
        flat_least_mm: Least diameter of a flat point.
        flat_greatest_mm: Greatest diameter of a flat point.
        cone_greatest_mm: Greatest flat on the tip of a cone point; None where the standard gives
            none.
        cup_least_mm: Least diameter of the rim of a cup point.
        cup_greatest_mm: Greatest diameter of the rim of a cup point.
        dog_least_mm: Least diameter of a dog point.
        dog_greatest_mm: Greatest diameter of a dog point.
        short_dog_least_mm: Least length of the short dog.
        short_dog_greatest_mm: Greatest length of the short dog.
        long_dog_least_mm: Least length of the long dog; None for inch screws, which have none.
        long_dog_greatest_mm: Greatest length of the long dog, likewise.
        short_dog_lengths_mm: The lengths of screw that have the short dog, parted by "|". The
            longer ones of the series have the long dog.
        dog_longest_mm: Longest screw with a dog point.
        flat_cone_cup_shortest_mm: Shortest screw with a flat, cone or cup point.
        flat_cone_cup_longest_mm: Longest screw with a flat, cone or cup point.
        seating_torque_Nm: Torque at which a steel screw is seated on steel; None where not known.
    """

    FILE: ClassVar = "set_screws.csv"
    POINTS: ClassVar = ("dog short", "dog long", "cup", "flat", "cone")
    METRIC_LENGTHS_MM: ClassVar = (
        *(2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0),
        *(16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0),
    )
    """Lengths of metric screws; from memory, unverified: ISO 4026 to 4029."""
    INCH_LENGTHS_MM: ClassVar = tuple(
        round(25.4 * eighths / 8, 4) for eighths in (1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8)
    )
    """Lengths of inch screws, 1/8 to 1 in; from memory, unverified: ASME B18.3."""

    hexagon_mm: float
    flat_least_mm: float
    flat_greatest_mm: float
    cone_greatest_mm: float | None
    cup_least_mm: float
    cup_greatest_mm: float
    dog_least_mm: float
    dog_greatest_mm: float
    short_dog_least_mm: float
    short_dog_greatest_mm: float
    long_dog_least_mm: float | None
    long_dog_greatest_mm: float | None
    short_dog_lengths_mm: str
    dog_longest_mm: float
    flat_cone_cup_shortest_mm: float
    flat_cone_cup_longest_mm: float
    seating_torque_Nm: float | None

    @property
    def dog_short_least_mm(self) -> float:
        """Least length of the short dog."""
        return self.short_dog_least_mm

    @property
    def dog_long_least_mm(self) -> float:
        """Least length of the long dog.

        Raises:
            StandardError: If the standard has none for this size.
        """
        return self._made(self.long_dog_least_mm, "dog long")

    @property
    def points(self) -> tuple[str, ...]:
        """The points it is made with."""
        without = {
            "dog long": self.long_dog_least_mm is None,
            "cone": self.cone_greatest_mm is None,
        }
        return tuple(point for point in self.POINTS if not without.get(point, False))

    def tip_mm(self, point: str) -> float:
        """Return the greatest diameter of a point, where it bears.

        Raises:
            StandardError: If there is no such point, or the standard gives no diameter for it.
        """
        diameters = {
            "dog short": self.dog_greatest_mm,
            "dog long": None if self.long_dog_least_mm is None else self.dog_greatest_mm,
            "cup": self.cup_greatest_mm,
            "flat": self.flat_greatest_mm,
            "cone": self.cone_greatest_mm,
        }
        return self._made(diameters.get(point), point)

    def lengths_mm(self, point: str) -> tuple[float, ...]:
        """Return the standard lengths of screw with a point, shortest first.

        Raises:
            StandardError: If the screw is not made with that point.
        """
        self.tip_mm(point)
        short = tuple(float(length) for length in self.short_dog_lengths_mm.split("|"))
        if point == "dog short":
            return short
        series = self.METRIC_LENGTHS_MM if self.name.startswith("M") else self.INCH_LENGTHS_MM
        if point == "dog long":
            least, most = short[-1] + 1e-6, self.dog_longest_mm
        else:
            least, most = self.flat_cone_cup_shortest_mm, self.flat_cone_cup_longest_mm
        return tuple(length for length in series if least - 1e-9 <= length <= most + 1e-9)

    def _made(self, value: float | None, point: str) -> float:
        if value is None:
            raise StandardError(
                f"{self.FILE}: {self.name} has no point {point!r}; it has " + ", ".join(self.points)
            )
        return value


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap(Row):
    """A tap, found by standard and size: "ISO 529 M6", "ASME B94.9 1/4-20".

    Attributes:
        standard: Whose lengths and shank: "ISO 529".
        size: Its thread as the standard names it: "M6", "1/4-20".
        thread: The same thread in the table of threads: "M6", "1/4-20 UNC".
        overall_mm: Overall length, without a point at either end.
        thread_length_mm: Greatest length of thread.
        shank_mm: Diameter of the shank.
        square_mm: Square across the flats.
        square_length_mm: Length of the square.
        shank_end: The forms that the square end may have, parted by "|".
    """

    FILE: ClassVar = "taps.csv"

    standard: str
    size: str
    thread: str
    overall_mm: float
    thread_length_mm: float
    shank_mm: float
    square_mm: float
    square_length_mm: float
    shank_end: str

    @property
    def shank_ends(self) -> tuple[str, ...]:
        """The forms that the square end may have: "point", "centre", "bevel"."""
        return tuple(self.shank_end.split("|"))

    @property
    def major_mm(self) -> float:
        """Basic major diameter of its thread."""
        return Thread.find(self.thread).major_mm

    @property
    def pitch_mm(self) -> float:
        """Pitch of its thread."""
        return Thread.find(self.thread).pitch_mm

    @property
    def tapping_drill_mm(self) -> float:
        """Drill before the tap."""
        return Thread.find(self.thread).tapping_drill_mm

    @property
    def dims_unverified(self) -> bool:
        """Whether a length, the shank or the square is unverified."""
        return any(field.endswith("_mm") for field in self.unverified_fields)

    @property
    def centres_unverified(self) -> bool:
        """Whether the form of its square end is unverified."""
        return "shank_end" in self.unverified_fields


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewHead(Row):
    """Head of a hexagon socket head cap screw, and the clearance hole, for a size of thread.

    Attributes:
        head_mm: Greatest diameter of the plain head: ISO 4762, or ASME B18.3.
        hole_mm: Clearance hole: ISO 273 medium, or the drill of ASME B18.2.8 normal.
    """

    FILE: ClassVar = "screw_heads.csv"

    head_mm: float
    hole_mm: float

    @classmethod
    def of(cls, thread: str) -> ScrewHead | None:
        """Return the row for a thread of the table of threads; None if there is none.

        Example:
            >>> row = ScrewHead.of("M8x1")
            >>> row and row.head_mm
            13.0
            >>> ScrewHead.of("#12-24 UNC")
        """
        size = thread.split("x")[0] if thread.startswith("M") else thread.split("-")[0]
        return next((row for row in cls.rows() if row.name == size), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ball(Row):
    """A loose bearing ball as it is sold.

    Attributes:
        diameter_mm: Nominal diameter; in grade G100 true to 2.5 micrometres.
    """

    FILE: ClassVar = "balls.csv"

    diameter_mm: float

    @classmethod
    def largest(cls, most_mm: float) -> Ball | None:
        """Return the largest ball that is no larger than a size; None if there is none."""
        fitting = [row for row in cls.rows() if row.diameter_mm <= most_mm + 1e-9]
        return max(fitting, key=lambda row: row.diameter_mm, default=None)

    @classmethod
    def of(cls, diameter_mm: float) -> Ball | None:
        """Return the ball of a diameter, to the last digit of the table; None if none is sold."""
        return next((row for row in cls.rows() if abs(row.diameter_mm - diameter_mm) < 6e-5), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Material(Row):
    """Bar that a part is made of.

    Attributes:
        density_g_per_cm3: Density.
    """

    FILE: ClassVar = "materials.csv"

    density_g_per_cm3: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkMaterial(Row):
    """What a tap cuts.

    Attributes:
        cutting_pressure_MPa: Specific cutting force kc: force for each square millimetre of chip.
        coarse_factor: What friction, chips and form of a straight-fluted tap multiply it by, for a
            coarse thread.
        fine_factor: The same for a fine thread.
        short_coarse_factor: The same for a coarse thread cut with a bottoming tap.
        short_fine_factor: The same for a fine one; None where the catalogue gives none.
    """

    FILE: ClassVar = "work_materials.csv"
    SHORT_LEAD: ClassVar = 2.0
    """Threads of a lead up to which a tap is taken for a bottoming tap."""

    cutting_pressure_MPa: float
    coarse_factor: float
    fine_factor: float
    short_coarse_factor: float
    short_fine_factor: float | None

    def tap_factor(self, thread: Thread, *, lead_threads: float) -> float:
        """Return the factor by the series of the thread and the lead of the tap."""
        if thread.series in ("fine", "UNF"):
            whole, short = self.fine_factor, self.short_fine_factor
        else:
            whole, short = self.coarse_factor, self.short_coarse_factor
        return short if short is not None and lead_threads <= self.SHORT_LEAD else whole


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkProperties(Row):
    """What is to be known of work that is touched or held, named as in the table of what taps cut.

    Attributes:
        yield_MPa: Yield strength, of a weak condition of the kind.
        expansion_um_per_m_K: Linear expansion near room temperature: micrometres a metre a kelvin.
        density_g_per_cm3: Density.
    """

    FILE: ClassVar = "work_properties.csv"

    yield_MPa: float
    expansion_um_per_m_K: float
    density_g_per_cm3: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CentreHole(Row):
    """A centre hole of 60 degrees, ISO 866 (DIN 332-1) type A, named by its pilot.

    Attributes:
        pilot_mm: Diameter of the pilot hole.
        mouth_mm: Diameter of the countersink at the face.
        depth_mm: Least depth of both together.
    """

    FILE: ClassVar = "centre_holes.csv"

    ANGLE_DEG: ClassVar = 60.0
    """Included angle of every one of them."""

    pilot_mm: float
    mouth_mm: float
    depth_mm: float


def once(names: Iterable[str]) -> tuple[str, ...]:
    """Return the names, each once, in the order in which they first come."""
    return tuple(dict.fromkeys(names))
