"""Steadying work in the tailstock: how the point sits in it, what holds it, what heat does."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import nan, pi, radians, tan
from typing import Final

from generator.formulas import cone, expansion
from generator.inputs.purposes import Support
from generator.inputs.tables import PointTip
from generator.model.tool import Orientation, Tool
from generator.standards.rows import CentreHole
from generator.use.alignment import Figures, Term, error_terms, figures
from generator.use.windows import GRAVITY_M_PER_S2

WEIGHT_SHARE: Final = 0.5
"""Share of the work's weight that the point bears: that of a bar held at both ends alike. A chuck
that grips firmly takes more; engineering judgement."""

NOT_OURS: Final = ("alignment.start_mm", "alignment.hole_deg", "alignment.tap_mm")
"""Errors of a tap and of its hole."""


@dataclass(frozen=True, slots=True)
class Hold:
    """One point of the plunger in the centre hole of the work.

    Attributes:
        orientation: The orientation with this point at work.
        tip: The point.
        asked: The work.
        hole: Its centre hole.
        outer_mm: Outer diameter of the band on which they touch.
        inner_mm: Its inner diameter.
        deep_mm: How far the tip stands inside the face of the work.
        bottom_mm: From the tip to the bottom of the pilot hole.
        thrust_N: Force along the axis as it is set.
        warm_N: The same when the work has grown.
        growth_mm: By how much the work grows.
        terms: How far the point may be off the spindle's axis, error by error.
    """

    orientation: Orientation
    tip: PointTip
    asked: Support
    hole: CentreHole
    outer_mm: float
    inner_mm: float
    deep_mm: float
    bottom_mm: float
    thrust_N: float
    warm_N: float
    growth_mm: float
    terms: tuple[Term, ...]

    @property
    def side(self) -> str:
        """The table of this end in the parameter file."""
        return self.orientation.table

    @property
    def band_mm(self) -> float:
        """Width of the band on the diameter."""
        return self.outer_mm - self.inner_mm

    @property
    def load_N(self) -> float:
        """Push across the axis: its share of the weight, and what comes on top."""
        weight_N = self.asked.mass_g / 1000 * GRAVITY_M_PER_S2
        return WEIGHT_SHARE * weight_N + self.asked.side_N

    @property
    def held_N(self) -> float:
        """Push across the axis that lifts the point out of the work, without friction."""
        if not self.thrust_N >= 0:
            return nan
        return cone.lateral_capacity_N(force_N=self.thrust_N, angle_deg=self.tip.angle_deg)

    @property
    def retreat_mm(self) -> float:
        """Travel left as it is set, by which a push can drive the plunger back."""
        return self.orientation.travel_mm - self.asked.set_mm

    @property
    def free_mm(self) -> float:
        """The same with a lock screw, which lets it go nowhere."""
        return 0.0 if self.asked.lock == "lock screw" else self.retreat_mm

    @property
    def left_mm(self) -> float:
        """Travel left when the work has grown."""
        return self.retreat_mm - self.growth_mm

    @property
    def change_percent(self) -> float:
        """By how much the thrust rises as the work grows."""
        if not self.thrust_N > 0:
            return nan
        return (self.warm_N - self.thrust_N) / self.thrust_N * 100

    @property
    def rubbing_m_per_min(self) -> float:
        """Speed at which the work rubs on the point."""
        return pi * self.outer_mm * self.asked.rpm / 1000

    @property
    def off_mm(self) -> Figures:
        """How far the point is off the spindle's axis."""
        return figures(self.terms)


def holds(tool: Tool) -> tuple[Hold, ...]:
    """Return how each point of a support centre holds the work; none for any other tool."""
    asked = tool.parameters.support
    if asked is None:
        return ()
    return tuple(
        _hold(tool, o, o.outer.tip, asked)
        for o in tool.orientations
        if isinstance(o.outer.tip, PointTip)
    )


def _hold(tool: Tool, o: Orientation, tip: PointTip, asked: Support) -> Hold:
    hole = CentreHole.find(asked.centre)
    outer_mm, slope = min(hole.mouth_mm, o.outer.diameter_mm), tan(radians(tip.angle_deg / 2))
    pilot_depth_mm = hole.depth_mm - cone.countersink_depth_mm(
        mouth_mm=hole.mouth_mm, pilot_mm=hole.pilot_mm, angle_deg=CentreHole.ANGLE_DEG
    )
    enters_mm = max(0.0, hole.pilot_mm - tip.flat_mm) / 2 / slope
    growth_mm = expansion.growth_mm(
        length_mm=asked.length_mm,
        warmer_K=asked.warmer_K,
        expansion_um_per_m_K=asked.expansion_um_per_m_K,
    )
    return Hold(
        orientation=o,
        tip=tip,
        asked=asked,
        hole=hole,
        outer_mm=outer_mm,
        inner_mm=max(tip.flat_mm, hole.pilot_mm),
        deep_mm=max(0.0, outer_mm - tip.flat_mm) / 2 / slope,
        bottom_mm=pilot_depth_mm - enters_mm,
        thrust_N=o.force_N(asked.set_mm),
        warm_N=o.force_N(asked.set_mm + growth_mm),
        growth_mm=growth_mm,
        terms=tuple(
            replace(term, turns=False)
            for term in error_terms(tool, o, pushed_mm=asked.set_mm)
            if term.key not in NOT_OURS
        ),
    )
