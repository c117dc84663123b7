"""Tabulated values for cutting metal: speeds, feeds, and what a reamer is left."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from generator.errors import StandardError
from generator.standards.bands import Band
from generator.standards.rows import Row

Cutting = Literal["turning", "drilling", "reaming", "milling"]
Cutter = Literal["HSS", "carbide"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingClass(Row):
    """As what a material of the table of materials is cut.

    Attributes:
        cutting_class: The class of cutting speeds that it belongs to.
    """

    FILE: ClassVar = "cutting_classes.csv"

    cutting_class: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingSpeed(Row):
    """A cutting speed to begin with.

    Attributes:
        cutting_class: What is cut.
        operation: "turning", "drilling", "reaming" or "milling".
        tool: "HSS" or "carbide".
        speed_m_per_min: Cutting speed.
    """

    FILE: ClassVar = "cutting_speeds.csv"

    cutting_class: str
    operation: str
    tool: str
    speed_m_per_min: float

    @classmethod
    def of(cls, material: str, operation: Cutting, tool: Cutter = "HSS") -> CuttingSpeed:
        """Return the row for a material of the table of materials.

        Raises:
            StandardError: If the material is in no class, or the class has no such speed.

        Source:
            The rows; example: Machinery's Handbook, plain carbon steel 1045, drilling, 75 ft/min.

        Example:
            >>> round(CuttingSpeed.of("steel C45", "drilling").speed_m_per_min / 0.3048)
            75
        """
        return cls.find(f"{CuttingClass.find(material).cutting_class}, {operation}, {tool}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed(Band):
    """A feed to begin with, for a range of diameters.

    Attributes:
        operation: "drilling", "rough turning", "fine turning", "reaming" or "milling a slot".
        least_mm_per_rev: Least feed for each turn; of milling, for each tooth.
        greatest_mm_per_rev: Greatest feed, likewise.
    """

    FILE: ClassVar = "feeds.csv"
    KEY: ClassVar = "operation"

    operation: str
    least_mm_per_rev: float
    greatest_mm_per_rev: float

    @classmethod
    def near(cls, operation: str, diameter_mm: float) -> Feed:
        """Return the row for a diameter; the last one for a diameter beyond the table.

        Raises:
            StandardError: If the table has no such operation.
        """
        bands = [row for row in cls.rows() if row.operation == operation]
        if not bands:
            raise StandardError(f"{cls.FILE} has no {operation!r}; it has {', '.join(cls.known())}")
        return next((row for row in bands if diameter_mm <= row.upto_mm), bands[-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class ReamingAllowance(Band):
    """What a hole before the reamer is under size.

    Attributes:
        tool: What the reamer is made of.
        least_mm: Least allowance, on the diameter.
        greatest_mm: Greatest allowance.
    """

    FILE: ClassVar = "reaming_allowances.csv"
    KEY: ClassVar = "tool"

    tool: str
    least_mm: float
    greatest_mm: float
