"""Finding a place under the spindle: how the point sits in it, and how far off it may be told.

What turns with the spindle is off to the one side in the first reading and to the other in the
second, the spindle turned by half a turn: the mean of both is free of it. What stands still with
machine and work stays. Each reading has an error of its own, so that of the mean is the sum of two
halves.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

from generator.formulas import cone
from generator.inputs.purposes import PickUp
from generator.inputs.tables import PointTip
from generator.model.tool import Orientation, Tool
from generator.use.alignment import CLEARANCE_KEY, Figures, Term, error_terms, figures

TURNS: Final = (
    "alignment.seat_mm",
    "alignment.bore_mm",
    "alignment.bore_slope_mm",
    CLEARANCE_KEY,
    "alignment.cone_mm",
)
"""The errors that turn with the spindle."""

FLAT_DEG: Final = 180.0

SHARPEST_MM: Final = 0.05
"""No turned point is sharper than this; engineering judgement."""


@dataclass(frozen=True, slots=True)
class Pick:
    """One point of the plunger in the place that is to be found.

    Attributes:
        orientation: The orientation with this point at work.
        tip: The point.
        asked: What is to be found.
        rests: Where the point bears: on the "rim", or on the flank near the "bottom" of a mark
            that is blunter than it.
        contact_mm: Diameter of the circle that bears.
        deep_mm: How far the tip stands below the face of the work.
        terms: The errors of one reading.
    """

    orientation: Orientation
    tip: PointTip
    asked: PickUp
    rests: Literal["rim", "bottom"]
    contact_mm: float
    deep_mm: float
    terms: tuple[Term, ...]

    @property
    def side(self) -> str:
        """The table of this end in the parameter file."""
        return self.orientation.table

    @property
    def left(self) -> tuple[Term, ...]:
        """The errors that are left in the mean of two readings."""
        return tuple(
            term
            for each in self.terms
            if not each.turns
            for term in ((half(each), half(each)) if own(each) else (each,))
        )

    @property
    def once_mm(self) -> Figures:
        """How far off one reading is."""
        return figures(self.terms)

    @property
    def left_mm(self) -> Figures:
        """How far off the mean of two readings is."""
        return figures(self.left)

    @property
    def pressure_MPa(self) -> float:
        """Pressure of the tip's flat where it comes down beside the place, pushed home."""
        flat_mm = max(self.tip.flat_mm, SHARPEST_MM)
        force_N = self.orientation.full_force_N
        if force_N != force_N:
            return force_N
        return cone.ring_pressure_MPa(force_N=max(force_N, 0.0), outer_mm=flat_mm, inner_mm=0.0)


def own(term: Term) -> bool:
    """Tell whether each reading has an error of this kind of its own."""
    return term.key in ("pick_up.reading_mm", CLEARANCE_KEY)


def half(term: Term) -> Term:
    """Return the part of one reading's own error in the mean of two."""
    return replace(term, most_mm=term.most_mm / 2)


def picks(tool: Tool) -> tuple[Pick, ...]:
    """Return how each point of a pick-up centre finds its place; none for any other tool."""
    asked = tool.parameters.pick_up
    if asked is None:
        return ()
    found = []
    for o in tool.orientations:
        if isinstance(o.outer.tip, PointTip):
            rests, contact_mm, deep_mm = _seat(o, o.outer.tip, asked)
            terms = _terms(tool, o, asked)
            found.append(Pick(o, o.outer.tip, asked, rests, contact_mm, deep_mm, terms))
    return tuple(found)


def _seat(
    o: Orientation, tip: PointTip, asked: PickUp
) -> tuple[Literal["rim", "bottom"], float, float]:
    """Return where a point bears, on which circle, and how deep its tip is."""
    rim_mm = min(asked.width_mm, o.outer.diameter_mm)
    if tip.flat_mm >= rim_mm:
        return "rim", rim_mm, 0.0
    if asked.target == "punch mark" and tip.angle_deg <= asked.mark_angle_deg < FLAT_DEG:
        deep_mm = cone.countersink_depth_mm(
            mouth_mm=rim_mm, pilot_mm=tip.flat_mm, angle_deg=asked.mark_angle_deg
        )
        return "bottom", tip.flat_mm, deep_mm
    deep_mm = cone.overlap_mm(circle_mm=rim_mm, flat_mm=tip.flat_mm, angle_deg=tip.angle_deg)
    return "rim", rim_mm, deep_mm


def _terms(tool: Tool, o: Orientation, asked: PickUp) -> tuple[Term, ...]:
    """Return the errors of one reading that are not nil.

    By feel the plunger gives way within its clearance before anything is felt: then the clearance
    is an error of each reading and does not turn.
    """
    p = tool.parameters
    felt = asked.read_by == "feel"
    held = [
        replace(term, way=None, turns=not (felt and term.key == CLEARANCE_KEY))
        for term in error_terms(tool, o, pushed_mm=0.0)
        if term.key in TURNS
    ]
    slope_mm = p.alignment.slope_mm
    rest = (
        _still("reading", "pick_up.reading_mm", asked.reading_mm),
        _still(f"form of the {asked.target}", "pick_up.form_mm", asked.form_mm),
        replace(
            _still("quill out of square with the table", "alignment.slope_mm", slope_mm),
            most_mm=slope_mm * asked.moved_mm / 100,
        ),
    )
    return (*held, *(term for term in rest if term.most_mm > 0))


def _still(name: str, key: str, given_mm: float) -> Term:
    return Term(name, key, given_mm, "mm", given_mm, None, turns=False)
