"""The two ends of a plunger: their corners, and how far they reach along the axis."""

from __future__ import annotations

from dataclasses import dataclass

from generator.formulas import cone
from generator.inputs.tables import (
    BallTip,
    BlankTip,
    ConeTip,
    CountersinkTip,
    HalfCentreTip,
    SunkTip,
    Tip,
)
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
    def point(self) -> ConeTip | None:
        """The male cone; None if it has none."""
        return self.tip if isinstance(self.tip, ConeTip) else None

    @property
    def sink(self) -> CountersinkTip | None:
        """The countersink that a tap or a spring may stand in; None if it has none."""
        return self.tip if isinstance(self.tip, CountersinkTip) else None

    @property
    def hollow(self) -> SunkTip | None:
        """The countersink that is cut in it, also where a ball fills it; None if it has none."""
        return self.tip if isinstance(self.tip, SunkTip) else None

    @property
    def ball_mm(self) -> float:
        """Diameter of the ball bonded in it; 0 if there is none."""
        return self.tip.ball_mm if isinstance(self.tip, BallTip) else 0.0

    @property
    def ball_circle_mm(self) -> float:
        """The circle on which the ball rests in its seat; 0 if there is none."""
        return self._ball_rest_mm[0]

    @property
    def stands_mm(self) -> float:
        """How far the ball stands out of the face; 0 if there is none."""
        return self._ball_rest_mm[1]

    @property
    def _ball_rest_mm(self) -> tuple[float, float]:
        if not isinstance(self.tip, BallTip):
            return 0.0, 0.0
        if self.tip.pilot_mm >= self.tip.ball_mm:  # it lies on the bottom of the pilot hole
            return self.tip.ball_mm, self.tip.ball_mm - self.pilot_mm
        return cone.ball_rest_mm(
            ball_mm=self.tip.ball_mm,
            mouth_mm=max(self.tip.mouth_mm, self.tip.pilot_mm),
            pilot_mm=self.tip.pilot_mm,
            angle_deg=self.tip.angle_deg,
        )

    @property
    def works(self) -> bool:
        """Whether it is meant to work out of the nose."""
        return self.tip.style != "plain"

    @property
    def stock_mm(self) -> float:
        """How far from its face metal is still to come off; 0 for a finished end."""
        return self.tip.stock_mm if isinstance(self.tip, BlankTip) else 0.0

    @property
    def cone(self) -> str:
        """What its cone is called; "" if it has none."""
        if self.point is not None:
            return "point"
        return "countersink" if self.hollow is not None else ""

    @property
    def face(self) -> str:
        """What its face is called: a point ends in a flat."""
        return "face" if self.point is None else "flat"

    @property
    def outer_mm(self) -> float:
        """The length over which the outside is not the full diameter, or may not stay so."""
        if self.point is not None:
            return max(self.point_mm, self.relief_length_mm)
        assert not isinstance(self.tip, ConeTip)
        return max(self.tip.chamfer_mm, self.stock_mm)

    @property
    def point_mm(self) -> float:
        """The length of its male cone; 0 if it has none."""
        if self.point is None:
            return 0.0
        return cone.cone_length_mm(
            diameter_mm=self.diameter_mm,
            flat_mm=min(self.point.flat_mm, self.diameter_mm),
            angle_deg=self.point.angle_deg,
        )

    @property
    def relief(self) -> HalfCentreTip | None:
        """What is cut away on the slot's side of a half centre; None of any other end."""
        return self.tip if isinstance(self.tip, HalfCentreTip) else None

    @property
    def relief_length_mm(self) -> float:
        """How far back from the tip one side is cut away; 0 if none is."""
        return 0.0 if self.relief is None else self.relief.relief_length_mm

    def hold_share(self, circle_mm: float) -> float:
        """Return what share of its hold is left where it holds least, bearing on a circle.

        Toward the middle of the relieved side only the ends of the arc push, cos of the angle off
        to each: the distance of the side flat from the axis, over the radius of the circle.
        """
        if self.relief is None or circle_mm <= 2 * self.relief.relief_mm:
            return 1.0
        return 2 * self.relief.relief_mm / circle_mm

    @property
    def inner_mm(self) -> float:
        """The depth to which the end is hollow, drill point included; 0 if it is solid."""
        if not isinstance(self.tip, SunkTip):
            return 0.0
        return self.pilot_mm + cone.drill_point_mm(
            diameter_mm=self.tip.pilot_mm, angle_deg=DRILL_POINT_DEG
        )

    @property
    def pilot_mm(self) -> float:
        """The depth to the end of the full pilot hole; 0 if there is none."""
        if not isinstance(self.tip, SunkTip):
            return 0.0
        return self.cone_mm + self.tip.pilot_depth_mm

    @property
    def cone_mm(self) -> float:
        """The depth of the countersink; 0 if there is none."""
        if not isinstance(self.tip, SunkTip):
            return 0.0
        return cone.countersink_depth_mm(
            mouth_mm=max(self.tip.mouth_mm, self.tip.pilot_mm),
            pilot_mm=self.tip.pilot_mm,
            angle_deg=self.tip.angle_deg,
        )

    @property
    def gauged(self) -> str:
        """What is gauged where it is told how far the end stands out."""
        return "face beside the ball" if self.ball_mm else "tip"

    def outside(self, name: str) -> list[Corner]:
        """Return the corners from the end face to the full diameter, z from the end face."""
        radius = self.diameter_mm / 2
        if isinstance(self.tip, ConeTip):
            flat = min(self.tip.flat_mm, self.diameter_mm) / 2
            start = [Corner(0.0, flat, f"{name} flat")] if flat > 0 else []
            return [*start, Corner(self.point_mm, radius, f"{name} point")]
        edge = min(self.tip.chamfer_mm, radius)
        face = Corner(0.0, radius - edge, f"{name} face")
        return [face, Corner(edge, radius, f"{name} chamfer")] if edge > 0 else [face]

    def inside(self, name: str) -> list[Corner]:
        """Return the corners from the axis to the end face, z from the end face."""
        if not isinstance(self.tip, SunkTip):
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
