"""The taper by the tailstock set over, and in two passes of a short compound slide."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from generator.formulas import cone, taper, taper_errors
from generator.making.balls import resting_balls
from generator.making.setups import OVERLAP_MM, TaperSetup
from generator.model import mouths
from generator.model.tool import Tool

CENTRES_DOUBT_MM: Final = 0.5
"""How well one knows between which points the work swings; engineering judgement."""


@dataclass(frozen=True, slots=True)
class SetOver:
    """The tailstock set over.

    Attributes:
        between_mm: Length about which the work swings, from ball to ball.
        front_ball_mm: Ball in the bevel at the nose; 0 if none rests there.
        rear_ball_mm: Ball in the bevel at the rear end.
        over_mm: Set-over.
        most_mm: Most that his tailstock sets over.
        wrong_mm: Error over the taper for the doubt about the length.
    """

    between_mm: float
    front_ball_mm: float
    rear_ball_mm: float
    over_mm: float
    most_mm: float
    wrong_mm: float


def set_over(tool: Tool, setup: TaperSetup, *, inch: bool) -> SetOver | None:
    """Return the set-over of the body between its own bevels, the dog on its nose.

    None where the bevels leave no length between them.
    """
    p = tool.parameters
    bore_mm, recess_mm = p.bore.diameter_mm, p.body.recess_mm
    bevel = tool.body.outline.surface("rear bevel")
    front_mm, front_out_mm = _ball(bore_mm, bore_mm + p.body.bevel_mm, inch=inch)
    rear_mm, rear_out_mm = _ball(bevel.small_diameter_mm, bevel.diameter_mm, inch=inch)
    between_mm = setup.body_mm - 2 * recess_mm + front_out_mm + rear_out_mm
    if between_mm <= 2 * CENTRES_DOUBT_MM:
        return None
    return SetOver(
        between_mm=between_mm,
        front_ball_mm=front_mm,
        rear_ball_mm=rear_mm,
        over_mm=taper.set_over_mm(length_mm=between_mm, taper=setup.rate),
        most_mm=p.workshop.set_over_mm,
        wrong_mm=abs(
            taper_errors.by_centres_mm(
                error_mm=CENTRES_DOUBT_MM,
                between_mm=between_mm,
                length_mm=setup.whole_mm,
                taper=setup.rate,
            )
        ),
    )


def _ball(hole_mm: float, mouth_mm: float, *, inch: bool) -> tuple[float, float]:
    """Return a ball that rests on a bevel and how far its middle lies outside; 0, 0 if none."""
    middle_mm = (hole_mm + mouth_mm) / 2
    fitting = [
        (abs(circle_mm - middle_mm), size_mm, out_mm)
        for size_mm, circle_mm in resting_balls(hole_mm, mouth_mm, mouths.BEVEL_DEG, inch=inch)
        for top_mm in (
            cone.ball_height_mm(ball_mm=size_mm, mouth_mm=mouth_mm, angle_deg=mouths.BEVEL_DEG),
        )
        if (out_mm := top_mm - size_mm / 2) > 0
    ]
    _, ball_mm, middle_out_mm = min(fitting, default=(0.0, 0.0, 0.0))
    return ball_mm, middle_out_mm


@dataclass(frozen=True, slots=True)
class TwoBites:
    """The taper in two passes of a compound slide that is too short for one.

    Attributes:
        blend_mm: Where the passes meet, from the gauge plane toward the small end.
        saddle_mm: How far the saddle goes toward the headstock for the second pass.
        radial_mm: How far the cross-slide comes out for it.
        first_mm: Length of the first pass, from the small end.
        second_mm: Length of the second pass, from the shoulder.
    """

    blend_mm: float
    saddle_mm: float
    radial_mm: float
    first_mm: float
    second_mm: float


def two_bites(setup: TaperSetup) -> TwoBites | None:
    """Return where two passes meet; None if one is enough or two are not."""
    if setup.bites != 2:
        return None
    spare_mm = 2 * setup.bite_mm - OVERLAP_MM - setup.whole_mm
    first_mm = setup.bite_mm - spare_mm / 2
    second_mm = setup.whole_mm - first_mm + OVERLAP_MM
    saddle_mm = setup.whole_mm - second_mm
    return TwoBites(
        blend_mm=setup.length_mm - first_mm + OVERLAP_MM / 2,
        saddle_mm=saddle_mm,
        radial_mm=taper.carriage_rise_mm(travel_mm=saddle_mm, taper=setup.rate),
        first_mm=first_mm,
        second_mm=second_mm,
    )
