"""The set-ups of the slot in the plunger and of the screw hole in the body: positions, depths."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, nan, sqrt
from typing import Final, Literal

from generator.formulas import cone, slot
from generator.inputs.tables import SlotForm
from generator.making.dials import Dial, compound_slide, cross_slide
from generator.model import parts
from generator.model.part import CrossHole
from generator.model.tips import DRILL_POINT_DEG
from generator.model.tool import Tool
from generator.standards.rows import Thread
from generator.units import MM_PER_INCH

PAPER_MM: Final = 0.05
"""A cigarette paper, oiled, under the cutter; common practice, no source: measure yours."""

STEP_MM: Final = 0.3
STEP_IN: Final = 0.01
"""Depth of one pass of a small slot drill; engineering judgement."""

STROKE_MM: Final = 0.05
"""Depth of one stroke when planing; engineering judgement."""

LEVEL_MM: Final = 0.02
"""How true the bar lies along the table; common practice, no source."""

UNDER_MM: Final = 0.1
"""How much smaller the end holes are drilled; engineering judgement."""

CLEAR_MM: Final = 1.0
"""Kept between the drill's point and the far wall of the bore; engineering judgement."""

THROUGH_MM: Final = 0.5
"""How far beyond the wall a drill goes for its full diameter; engineering judgement."""

LEAD_THREADS: Final = 4.0
"""Lead of a second tap; of a bottoming tap it is two; common practice, no source."""

BEYOND_MM: Final = 0.5
"""How far beyond the far side a cutter goes right through; engineering judgement."""

FLAT_CUTTERS_MM: Final = (3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
"""End mills of a shop that lists none; common practice, no source."""

Datum = Literal["front end", "rear end"]
Way = Literal["mill", "vertical slide", "tool-post", "planing", "filing"]


@dataclass(frozen=True, slots=True)
class SlotSetup:
    """The slot.

    Attributes:
        form: Whether it has a floor, goes right through, or is a flat across.
        datum: Which end of the plunger stands against the end stop.
        flat_datum: Whether that end has a face, not the flat of a point alone.
        length_mm: Length of the plunger.
        diameter_mm: Diameter of the plunger.
        near_mm: From the stop to the near end of the slot.
        far_mm: From the stop to its far end.
        width_mm: Width; of a flat, its chord.
        cutter_mm: Diameter of the cutter: the width, but of a flat.
        depth_mm: Depth on the centre line.
        depth_tolerance_mm: Plus or minus on it.
        depths_mm: Depth of each pass, from the top of the bar.
        wall_start_mm: Depth at which the cutter begins to cut its full width.
    """

    form: SlotForm
    datum: Datum
    flat_datum: bool
    length_mm: float
    diameter_mm: float
    near_mm: float
    far_mm: float
    width_mm: float
    cutter_mm: float
    depth_mm: float
    depth_tolerance_mm: float
    depths_mm: tuple[float, ...]
    wall_start_mm: float

    @property
    def first_mm(self) -> float:
        """From the stop to the cutter's axis at the near end."""
        return self.near_mm + self.cutter_mm / 2

    @property
    def last_mm(self) -> float:
        """From the stop to the cutter's axis at the far end."""
        return self.far_mm - self.cutter_mm / 2

    @property
    def move_mm(self) -> float:
        """From one end hole to the other."""
        return self.last_mm - self.first_mm

    @property
    def side_mm(self) -> float:
        """From the paper on the side of the bar to its middle: half bar, half cutter, paper."""
        return (self.diameter_mm + self.cutter_mm) / 2 + PAPER_MM

    @property
    def face_mm(self) -> float:
        """From the stop's face to the cutter's axis while they touch, paper between."""
        return self.cutter_mm / 2 + PAPER_MM

    @property
    def across_mm(self) -> float:
        """From the slot's floor to the other side of the bar."""
        return self.diameter_mm - self.depth_mm

    @property
    def strokes(self) -> int:
        """Strokes of a planing tool."""
        return ceil(self.depth_mm / STROKE_MM - 1e-6)


def slot_setup(tool: Tool, *, inch: bool) -> SlotSetup | None:
    """Return the numbers of the slot; None where it does not lie within the plunger."""
    p = tool.parameters
    s, size_mm, length_mm = p.slot, p.plunger.diameter_mm, p.plunger.length_mm
    if s is None:
        return None
    front_mm, rear_mm = s.front_mm, length_mm - s.front_mm - s.length_mm
    wide_mm = 0.0 if s.form == "flat" else s.width_mm
    through = s.form == "through"
    fits = wide_mm <= min(size_mm, s.length_mm) and (through or s.depth_mm < size_mm)
    if not (fits and front_mm >= 0 and rear_mm >= 0):
        return None
    front, rear = parts.plunger_ends(p)
    from_rear = front.face == "flat" and rear.face != "flat"
    near_mm = rear_mm if from_rear else front_mm
    return SlotSetup(
        form=s.form or "slot",
        datum="rear end" if from_rear else "front end",
        flat_datum=(rear if from_rear else front).face != "flat",
        length_mm=length_mm,
        diameter_mm=size_mm,
        near_mm=near_mm,
        far_mm=near_mm + s.length_mm,
        width_mm=s.width_mm,
        cutter_mm=_flat_cutter_mm(tool, s.length_mm) if s.form == "flat" else s.width_mm,
        depth_mm=s.depth_mm,
        depth_tolerance_mm=p.making.slot_depth_tolerance_mm,
        depths_mm=passes_mm(
            s.depth_mm + (BEYOND_MM if through else 0.0), STEP_IN * MM_PER_INCH if inch else STEP_MM
        ),
        wall_start_mm=slot.side_wall_start_mm(diameter_mm=size_mm, width_mm=s.width_mm),
    )


def _flat_cutter_mm(tool: Tool, length_mm: float) -> float:
    """Return the cutter for a flat: the largest he has that leaves a pass on each side."""
    listed = tool.parameters.workshop.end_mills_mm or FLAT_CUTTERS_MM
    return max((each for each in listed if each <= length_mm / 2), default=min(*listed, length_mm))


def passes_mm(depth_mm: float, step_mm: float) -> tuple[float, ...]:
    """Return the depth of each pass, the last one the whole; a scrap joins the one before.

    Example:
        >>> [round(depth, 2) for depth in passes_mm(1.6, 0.3)]
        [0.3, 0.6, 0.9, 1.2, 1.6]
    """
    count = max(1, round(depth_mm / step_mm - 0.1))
    return (*(n * step_mm for n in range(1, count)), depth_mm)


def ways(tool: Tool) -> tuple[Way, ...]:
    """Return how the slot can be cut with what he has, the best way first."""
    workshop, slot = tool.parameters.workshop, tool.parameters.slot
    if workshop.machines != "lathe":
        return ("mill",)
    slide: tuple[Way, ...] = ("vertical slide",) if "vertical slide" in workshop.kit else ()
    floored = slot is None or slot.form == "slot"
    return (*slide, "tool-post", *(("planing",) if floored else ()), "filing")


@dataclass(frozen=True, slots=True)
class Feeds:
    """What the dials of the lathe show when the slot is cut on it.

    Attributes:
        cross: Dial of the cross-slide.
        compound: Dial of the compound slide, set along the bed.
        held_in: What holds a cutter or the bar in the headstock.
    """

    cross: Dial
    compound: Dial
    held_in: str


def feeds(tool: Tool) -> Feeds:
    """Return the dials of his lathe."""
    workshop = tool.parameters.workshop
    held_in = "a collet" if "collets" in workshop.kit else "the chuck, clocked"
    return Feeds(cross_slide(workshop), compound_slide(workshop), held_in)


@dataclass(frozen=True, slots=True)
class HoleSetup:
    """The tapped hole for the set screw, through one wall of the body.

    Depths count from the top of the body, where the drill touches.

    Attributes:
        thread: Thread of the screw.
        drill_mm: Tapping drill.
        at_mm: From the nose face, which stands against the end stop.
        outside_mm: Diameter of the body there.
        bore_mm: Diameter of the bore.
        wall_mm: Thickness of the wall on the centre line.
        least_mm: Depth of the drill's tip at which the hole is full right through.
        most_mm: Depth of the drill's tip that leaves the far wall clear.
        set_mm: What the depth stop is set to; NaN if there is no such depth.
        tap_least_mm: Depth of the tap's front end at which the thread is full right through.
        tap_most_mm: The same that leaves the far wall clear.
        lead_threads: Threads on the lead of the tap that is meant.
    """

    thread: str
    drill_mm: float
    at_mm: float
    outside_mm: float
    bore_mm: float
    wall_mm: float
    least_mm: float
    most_mm: float
    set_mm: float
    tap_least_mm: float
    tap_most_mm: float
    lead_threads: float


def hole_setup(tool: Tool) -> HoleSetup | None:
    """Return the numbers of the screw hole; None where the body has no wall for it."""
    p, outline = tool.parameters, tool.body.outline
    holes = [cut for cut in tool.body.cuts if isinstance(cut, CrossHole)]
    bore_mm = p.bore.diameter_mm
    if p.set_screw is None or not holes or not 0 <= holes[0].z_mm <= outline.length_mm:
        return None
    hole = holes[0]
    outside_mm = 2 * outline.radius_at_mm(hole.z_mm, inside=False)
    if not bore_mm < outside_mm or hole.diameter_mm >= bore_mm:
        return None
    wall_mm = (outside_mm - bore_mm) / 2
    low_mm = wall_mm + _sag_mm(bore_mm, hole.diameter_mm)
    far_mm = (outside_mm + bore_mm) / 2 - CLEAR_MM
    point_mm = cone.drill_point_mm(diameter_mm=hole.diameter_mm, angle_deg=DRILL_POINT_DEG)
    least_mm = low_mm + point_mm
    row = Thread.find(p.set_screw.thread)
    lead = LEAD_THREADS if low_mm + LEAD_THREADS * row.pitch_mm <= far_mm else LEAD_THREADS / 2
    return HoleSetup(
        thread=hole.thread,
        drill_mm=hole.diameter_mm,
        at_mm=hole.z_mm,
        outside_mm=outside_mm,
        bore_mm=bore_mm,
        wall_mm=wall_mm,
        least_mm=least_mm,
        most_mm=far_mm,
        set_mm=min(least_mm + THROUGH_MM, (least_mm + far_mm) / 2) if least_mm <= far_mm else nan,
        tap_least_mm=low_mm + lead * row.pitch_mm,
        tap_most_mm=far_mm,
        lead_threads=lead,
    )


def _sag_mm(bore_mm: float, hole_mm: float) -> float:
    """Return how far the wall of the bore falls away over half the width of a hole."""
    return (bore_mm - sqrt(bore_mm**2 - hole_mm**2)) / 2
