"""Tabulated values that hold for a range of diameters: fits, stock, spring wire."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, log10
from typing import ClassVar, Self

from generator.errors import StandardError
from generator.standards.rows import Row, once


@dataclass(frozen=True, slots=True, kw_only=True)
class Band(Row):
    """A row that holds for a range of diameters.

    Attributes:
        over_mm: The range begins above this diameter.
        upto_mm: The range ends with this diameter.
    """

    KEY: ClassVar[str]

    over_mm: float
    upto_mm: float

    @classmethod
    def known(cls) -> tuple[str, ...]:
        """Return what the table holds, each once: the zones, the grades, the stock."""
        return once(getattr(row, cls.KEY) for row in cls.rows())

    @classmethod
    def at(cls, key: str, diameter_mm: float) -> Self:
        """Return the row of a zone, grade or stock for a diameter.

        Raises:
            StandardError: If the table has no such key, or none for that diameter.
        """
        bands = [row for row in cls.rows() if getattr(row, cls.KEY) == key]
        if not bands:
            raise StandardError(f"{cls.FILE} has no {key!r}; it has {', '.join(cls.known())}")
        for row in bands:
            if row.over_mm < diameter_mm <= row.upto_mm:
                return row
        least, most = min(row.over_mm for row in bands), max(row.upto_mm for row in bands)
        raise StandardError(
            f"{cls.FILE}: {key} is tabulated over {least:g} mm up to {most:g} mm, "
            f"not at {diameter_mm:g} mm"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeLimits(Band):
    """Deviations from a nominal diameter.

    Attributes:
        zone: The tolerance zone; of a reamer, that of the hole it makes; of stock, its kind.
        upper_um: Upper deviation.
        lower_um: Lower deviation.
    """

    KEY: ClassVar = "zone"

    zone: str
    upper_um: float
    lower_um: float

    @classmethod
    def zones(cls) -> tuple[str, ...]:
        """Return the zones there are."""
        return cls.known()

    @classmethod
    def limits_um(cls, zone: str, diameter_mm: float) -> tuple[float, float]:
        """Return the upper and the lower deviation.

        Raises:
            StandardError: If there is no such zone, or none for that diameter.

        Source:
            ISO 286-2:2010; a 10 mm hole H7 is 10.000 to 10.015.

        Example:
            >>> ToleranceZone.limits_um("H7", 10)
            (15.0, 0.0)
        """
        row = cls.at(zone, diameter_mm)
        return row.upper_um, row.lower_um


@dataclass(frozen=True, slots=True, kw_only=True)
class ToleranceZone(SizeLimits):
    """A tolerance zone of ISO 286, hole or shaft."""

    FILE: ClassVar = "tolerance_zones.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reamer(SizeLimits):
    """A new reamer; `zone` is the zone of the hole it is sold for."""

    FILE: ClassVar = "reamers.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class BarStock(SizeLimits):
    """Bar as bought; `zone` is its kind. Ground or drawn bar sold as h7 to h11 is in the zones."""

    FILE: ClassVar = "bar_stock.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToleranceGrade(Band):
    """A standard tolerance of ISO 286.

    Attributes:
        grade: "IT1" to "IT12".
        width_um: Width of the tolerance.
    """

    FILE: ClassVar = "tolerance_grades.csv"
    KEY: ClassVar = "grade"

    grade: str
    width_um: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GeneralTolerance(Band):
    """What a length may be off where the sheet gives no tolerance of its own, by ISO 2768-1.

    Attributes:
        grade: "ISO 2768-f", "ISO 2768-m" or "ISO 2768-c": fine, medium, coarse.
        plus_minus_mm: How far off it may be, either way.
    """

    FILE: ClassVar = "general_tolerances.csv"
    KEY: ClassVar = "grade"

    grade: str
    plus_minus_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TapHandling(Band):
    """How taps of a range of thread diameters are handled: wrench, hand and follower.

    Attributes:
        kind: "hand tap", the one kind there is.
        arm_mm: From the axis to the hand on a usual wrench.
        wrench_g: Mass of such a wrench.
        force_least_N: Recommended force of the follower, least.
        force_greatest_N: Recommended force of the follower, greatest.
    """

    FILE: ClassVar = "tap_handling.csv"
    KEY: ClassVar = "kind"

    kind: str
    arm_mm: float
    wrench_g: float
    force_least_N: float
    force_greatest_N: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WireStrength(Band):
    """Least tensile strength of a grade of spring wire for a range of diameters.

    A standard that prints single diameters is tabulated as ranges that end with them, so a wire
    between two of them has the strength of the thicker one.

    Attributes:
        grade: Grade of the wire.
        strength_MPa: Least tensile strength.
    """

    FILE: ClassVar = "wire_strengths.csv"
    KEY: ClassVar = "grade"

    grade: str
    strength_MPa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WireModulus(Band):
    """Shear modulus of a grade of spring wire for a range of diameters.

    Attributes:
        grade: Grade of the wire.
        shear_modulus_MPa: Shear modulus G.
    """

    FILE: ClassVar = "wire_moduli.csv"
    KEY: ClassVar = "grade"

    grade: str
    shear_modulus_MPa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WireTolerance(Band):
    """Tolerance on the diameter of spring wire.

    Attributes:
        grade: Grade of the wire.
        tolerance_mm: What the wire may be thicker or thinner.
    """

    FILE: ClassVar = "wire_tolerances.csv"
    KEY: ClassVar = "grade"

    grade: str
    tolerance_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringWire(Row):
    """A grade of spring wire.

    Attributes:
        density_g_per_cm3: Density.
        strength_at_1_mm_MPa: Least tensile strength of a 1 mm wire, for a grade whose standard
            gives a formula; None for a grade with a table.
        fall_per_decade_MPa: How much the strength falls from a wire to one ten times as thick.
        formula_from_mm: Thinnest wire of the formula.
        formula_upto_mm: Thickest wire of the formula.
        corrected_share: Share of the strength that the corrected stress may reach before set is
            removed.
        elastic_share: Share of the strength at which the wire yields in torsion, at most; None
            where it is not tabulated.
        share_source: Where the two shares come from.
    """

    FILE: ClassVar = "spring_wires.csv"

    density_g_per_cm3: float
    strength_at_1_mm_MPa: float | None
    fall_per_decade_MPa: float | None
    formula_from_mm: float | None
    formula_upto_mm: float | None
    corrected_share: float
    elastic_share: float | None
    share_source: str

    @classmethod
    def strength_MPa(cls, grade: str, wire_mm: float) -> float:
        """Return the least tensile strength of a wire.

        By the formula of the standard, R - F log10 d, where it has one; else by its table, taking
        the next thicker wire printed, which is the weaker.

        Raises:
            StandardError: If there is no such grade, or not in that diameter.

        Source:
            EN 10270-1, grades SL to DH; EN 10270-3; ASTM A228, A227, A313.

        Example:
            >>> SpringWire.strength_MPa("EN 10270-1 SM", 1.0)
            1980.0
        """
        row = cls.find(grade)
        if row.strength_at_1_mm_MPa is None or row.fall_per_decade_MPa is None:
            return WireStrength.at(grade, wire_mm).strength_MPa
        least, most = row.formula_from_mm or 0.0, row.formula_upto_mm or inf
        if not least <= wire_mm <= most:
            raise StandardError(
                f"{cls.FILE}: {grade} is tabulated from {least:g} mm up to {most:g} mm, "
                f"not at {wire_mm:g} mm"
            )
        return row.strength_at_1_mm_MPa - row.fall_per_decade_MPa * log10(wire_mm)

    @classmethod
    def shear_modulus_MPa(cls, grade: str, wire_mm: float) -> float:
        """Return the shear modulus G of a wire.

        Raises:
            StandardError: If there is no such grade, or not in that diameter.
        """
        return WireModulus.at(grade, wire_mm).shear_modulus_MPa

    @classmethod
    def greatest_mm(cls, grade: str, wire_mm: float) -> float:
        """Return the greatest diameter that the tolerance of a wire allows.

        Raises:
            StandardError: If there is no tolerance for the grade, or not in that diameter.

        Source:
            EN 10270-1; ASTM A228.

        Example:
            >>> round(SpringWire.greatest_mm("EN 10270-1 SM", 0.8), 3)
            0.815
        """
        return wire_mm + WireTolerance.at(grade, wire_mm).tolerance_mm
