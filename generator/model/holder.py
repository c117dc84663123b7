"""What grips a straight shank: what it takes, and how true it runs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import ceil

from generator.inputs.tables import CombinedMount, Mount, StraightMount
from generator.standards.holders import CHUCK, NO_HOLDER, ColletRunout, DrillChuck, ErCollet
from generator.standards.rows import Row

COLLETS = "ISO 15488"
FINE_MM, FINE_STEP_MM, STEP_MM = 3.0, 0.5, 1.0
"""Up to the first, collets go up by half millimetres, then by whole ones."""
LEAST_COLLET_MM = 1.5


@dataclass(frozen=True, slots=True)
class Holder:
    """A collet or a chuck.

    Attributes:
        name: What it is called.
        least_mm: Smallest shank it takes; 0 where it closes on itself.
        greatest_mm: Largest.
        runout_mm: Its total run-out.
        overhang_mm: How far in front of it that is measured.
        collet_mm: Nominal diameter of the collet; 0 for a chuck.
        closes_mm: How much less that collet grips.
        rows: The rows of the tables, each with the fields that are used.
    """

    name: str
    least_mm: float
    greatest_mm: float
    runout_mm: float
    overhang_mm: float
    collet_mm: float = 0.0
    closes_mm: float = 0.0
    rows: tuple[tuple[str, Row, tuple[str, ...]], ...] = ()

    @property
    def title(self) -> str:
        """Its name at the beginning of a sentence."""
        return self.name[0].upper() + self.name[1:]

    def off_mm(self, length_mm: float) -> float:
        """Return how far off the axis a shank runs at a distance in front of it.

        Half the run-out; beyond where that is measured it grows with the length, as of a tilted
        shank, and nearer it stays, as of one set over: engineering judgement.
        """
        return self.runout_mm / 2 * max(1.0, length_mm / self.overhang_mm)


@cache
def holder_of(mount: Mount) -> Holder | None:
    """Return what grips a shank; None where the file does not say, or nothing does."""
    if not isinstance(mount, StraightMount | CombinedMount) or mount.holder == NO_HOLDER:
        return None
    ordinary = mount.holder_runs == "ordinary"
    if mount.holder.startswith(CHUCK):
        chuck = DrillChuck.find(mount.holder.removeprefix(CHUCK).strip())
        return Holder(
            mount.holder,
            0.0,
            chuck.clamp_greatest_mm,
            DrillChuck.RUNOUT_MM[ordinary],
            chuck.bar_mm,
            rows=(("drill chuck", chuck, ("clamp_greatest_mm", "bar_mm")),),
        )
    size = ErCollet.find(mount.holder)
    collet_mm = _collet_mm(mount.diameter_mm, size)
    row = ColletRunout.at(COLLETS, collet_mm)
    used = "class_2_mm" if ordinary else "class_1_mm"
    return Holder(
        mount.holder,
        size.clamp_least_mm,
        size.clamp_greatest_mm,
        row.class_2_mm if ordinary else row.class_1_mm,
        row.overhang_mm,
        collet_mm,
        row.closes_mm,
        (
            ("collets", size, ("clamp_least_mm", "clamp_greatest_mm")),
            ("run-out of collets", row, ("closes_mm", "overhang_mm", used)),
        ),
    )


def _collet_mm(shank_mm: float, size: ErCollet) -> float:
    """Return the nominal diameter of the metric collet for a shank, the next above it."""
    step_mm = FINE_STEP_MM if shank_mm <= FINE_MM else STEP_MM
    next_mm = ceil(shank_mm / step_mm - 1e-9) * step_mm
    return min(max(next_mm, LEAST_COLLET_MM), size.clamp_greatest_mm)
