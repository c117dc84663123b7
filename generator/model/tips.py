"""The two ends of a plunger: their corners, and how far they reach along the axis."""

from __future__ import annotations

from dataclasses import dataclass

from generator.formulas import cone
from generator.inputs.tables import CountersinkTip, PointTip, Tip
from generator.model.outline import Corner

DRILL_POINT_DEG = 118.0


@dataclass(frozen=True, slots=True)
class End:
    """One end of a plunger.

    Attributes:
        tip: What was asked.
        diameter_mm: Diameter of the plunger.
    """

    tip: Tip
    diameter_mm: float

    @property
    def outer_mm(self) -> float:
        """The length over which the outside is not the full diameter."""
        if isinstance(self.tip, PointTip):
            return cone.cone_length_mm(
                diameter_mm=self.diameter_mm,
                flat_mm=min(self.tip.flat_mm, self.diameter_mm),
                angle_deg=self.tip.angle_deg,
            )
        return self.tip.chamfer_mm

    @property
    def inner_mm(self) -> float:
        """The depth to which the end is hollow, drill point included; 0 if it is solid."""
        if not isinstance(self.tip, CountersinkTip):
            return 0.0
        return self.pilot_mm + cone.drill_point_mm(
            diameter_mm=self.tip.pilot_mm, angle_deg=DRILL_POINT_DEG
        )

    @property
    def pilot_mm(self) -> float:
        """The depth to the end of the full pilot hole; 0 if there is none."""
        if not isinstance(self.tip, CountersinkTip):
            return 0.0
        return self.cone_mm + self.tip.pilot_depth_mm

    @property
    def cone_mm(self) -> float:
        """The depth of the countersink; 0 if there is none."""
        if not isinstance(self.tip, CountersinkTip):
            return 0.0
        return cone.countersink_depth_mm(
            mouth_mm=max(self.tip.mouth_mm, self.tip.pilot_mm),
            pilot_mm=self.tip.pilot_mm,
            angle_deg=self.tip.angle_deg,
        )

    def outside(self, name: str) -> list[Corner]:
        """Return the corners from the end face to the full diameter, z from the end face."""
        radius = self.diameter_mm / 2
        if isinstance(self.tip, PointTip):
            flat = min(self.tip.flat_mm, self.diameter_mm) / 2
            start = [Corner(0.0, flat, f"{name} flat")] if flat > 0 else []
            return [*start, Corner(self.outer_mm, radius, f"{name} point")]
        edge = min(self.tip.chamfer_mm, radius)
        face = Corner(0.0, radius - edge, f"{name} face")
        return [face, Corner(edge, radius, f"{name} chamfer")] if edge > 0 else [face]

    def inside(self, name: str) -> list[Corner]:
        """Return the corners from the axis to the end face, z from the end face."""
        if not isinstance(self.tip, CountersinkTip):
            return [Corner(0.0, 0.0, "axis")]
        pilot, mouth = self.tip.pilot_mm / 2, max(self.tip.mouth_mm, self.tip.pilot_mm) / 2
        corners = [
            Corner(self.inner_mm, 0.0, "axis"),
            Corner(self.pilot_mm, pilot, f"{name} pilot point"),
        ]
        if self.tip.pilot_depth_mm > 0:
            corners.append(Corner(self.cone_mm, pilot, f"{name} pilot"))
        if mouth > pilot:
            corners.append(Corner(0.0, mouth, f"{name} countersink"))
        return corners


def reverse(corners: list[Corner], length_mm: float) -> list[Corner]:
    """Return a run of corners walked the other way, seen from the other end of the plunger.

    A corner names the surface that leads to it, so the names move by one; the first of the
    returned corners bears no name, since it is reached from elsewhere.
    """
    names = ["", *(corner.surface for corner in reversed(corners[1:]))]
    return [
        Corner(length_mm - corner.z_mm, corner.r_mm, name)
        for corner, name in zip(reversed(corners), names, strict=True)
    ]
