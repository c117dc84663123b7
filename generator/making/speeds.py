"""The speed to set: the nearest of the user's own below what the cutting speed asks for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from generator.formulas.cutting import nearest_below, spindle_rpm
from generator.inputs.workshop import Workshop
from generator.model.tool import Tool
from generator.standards.cutting import (
    Cutter,
    Cutting,
    CuttingClass,
    CuttingSpeed,
    Feed,
    ReamingAllowance,
)
from generator.standards.rows import Row

Machine = Literal["lathe", "mill"]

UNBALANCED_RPM: Final = 1000.0
"""Most that a 4-jaw chuck, a dog or a steady is run at; engineering judgement, no source."""

REAMING_SHARE: Final = 0.5
"""Speed of a reamer fed by hand over that of the tables; engineering judgement. A machine-tool text
gives a third to a half of the drilling speed, weak."""

PARTING_SHARE: Final = 0.5
"""Speed of a parting tool over that of turning; common practice, no source."""

COUNTERSINK_SHARE: Final = 0.5
"""Speed of centre drills, countersinks and form tools over that of a drill; engineering judgement.
"""


@dataclass(frozen=True, slots=True)
class Spindle:
    """A speed of a spindle.

    Attributes:
        rpm: One of the user's speeds.
        wanted_rpm: What the cutting speed asks for.
    """

    rpm: float
    wanted_rpm: float


def spindle(
    shop: Workshop,
    *,
    material: str,
    cutting: Cutting,
    diameter_mm: float,
    machine: Machine = "lathe",
    share: float = 1.0,
    most_rpm: float = float("inf"),
) -> Spindle:
    """Return the speed to set: the nearest of his speeds below, else his slowest.

    Args:
        shop: What he has.
        material: What is cut.
        cutting: How.
        diameter_mm: Diameter of the work that is turned, or of the cutter.
        machine: Whose speeds.
        share: Share of the cutting speed, for a form tool or a deep hole.
        most_rpm: Most that the holding bears.
    """
    cutter: Cutter = shop.turning_tool if cutting == "turning" else "HSS"
    row = CuttingSpeed.of(material, cutting, cutter)
    asked = spindle_rpm(speed_m_per_min=share * row.speed_m_per_min, diameter_mm=diameter_mm)
    wanted = min(asked, most_rpm)
    speeds = shop.lathe_rpm if machine == "lathe" else shop.mill_rpm
    rpm = nearest_below(speeds, wanted)
    return Spindle(min(speeds) if rpm is None else rpm, wanted)


def cutting_rows(tool: Tool) -> tuple[tuple[str, Row, tuple[str, ...]], ...]:
    """Return the rows of cutting data that the plan of a tool rests on: subject, row, fields."""
    shop = tool.parameters.workshop
    found: list[tuple[str, Row, tuple[str, ...]]] = []
    for part in tool.made_parts:
        kinds: list[tuple[Cutting, Cutter]] = [("turning", shop.turning_tool), ("drilling", "HSS")]
        if part is (tool.body if tool.bush is None else tool.bush):
            kinds.append(("reaming", "HSS"))
        if part.cuts and part.name != "body" and shop.machines != "lathe":
            kinds.append(("milling", "HSS"))
        for cutting, cutter in kinds:
            row = CuttingSpeed.of(part.material, cutting, cutter)
            found.append(("cutting speed,", row, ("speed_m_per_min",)))
        kind = CuttingClass.find(part.material)
        found.append(("cut as", kind, ("cutting_class",)))
    milled = ("milling a slot",) if shop.machines != "lathe" else ()
    for operation in ("drilling", "rough turning", "fine turning", "reaming", *milled):
        found.append(("feed,", Feed.near(operation, 3.0), ("least_mm_per_rev",)))
    bore_mm = tool.parameters.bore.diameter_mm
    allowance = next((row for row in ReamingAllowance.rows() if bore_mm <= row.upto_mm), None)
    if allowance is not None:
        found.append(("reaming allowance,", allowance, ("least_mm", "greatest_mm")))
    return tuple(found)
