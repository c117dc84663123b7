"""The set-ups of the mount: angle, in-feed, steps; of a straight shank: what runs out."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, radians
from typing import Final

from generator.checks.making import LEAD_AND_RUN_OFF_MM, compound_travel_mm
from generator.formulas import taper, taper_errors
from generator.making.dials import Dial, cross_slide
from generator.making.stepping import StepRow, step_loss_mm, step_table
from generator.model import parts
from generator.model.outline import Segment
from generator.model.shank import shank_of
from generator.model.tool import Tool
from generator.units import MM_PER_INCH

INDICATOR_MM: Final = 0.01
"""What an indicator is read to; common practice, no source."""

SCALE_DEG: Final = 0.25
"""What the scale of a compound slide is set to by eye; engineering judgement."""

ROUGH_MM: Final = 0.5
"""Left on the diameter for finishing; common practice, no source."""

STANDOFFS_MM: Final = (6, 5, 4, 3, 2.5, 2, 1.5, 1, 0.8, 0.6, 0.4, 0.3, 0.2, 0.1, 0.05, 0)
STANDOFFS_IN: Final = (
    *(0.24, 0.2, 0.16, 0.12, 0.1, 0.08, 0.06, 0.04),
    *(0.03, 0.024, 0.016, 0.012, 0.008, 0.004, 0.002, 0),
)
STEPS_MM: Final = (2.0, 4.0, 8.0, 16.0)
STEPS_IN: Final = (0.125, 0.25, 0.5, 1.0)
MOST_STEPS: Final = 16

TOLERANCE_IN_PER_FT: Final = 0.002
"""Steeper only, for a shank; a chart of ASME B5.10; another page prints a tenth of it."""


OVERLAP_MM: Final = 5.0
"""Over what an indicator finds the first bite again; engineering judgement."""

TOOL_HEIGHTS_MM: Final = (0.1, 0.2, 0.5, 1.0)


@dataclass(frozen=True, slots=True)
class Rise:
    """What an indicator along the compound's travel must show.

    Attributes:
        travel_mm: Travel of the slide.
        rise_mm: Change of the reading on a parallel bar.
        wrong_mm: Error on the diameter of the whole taper for an indicator error of 0.01 mm.
    """

    travel_mm: float
    rise_mm: float
    wrong_mm: float


@dataclass(frozen=True, slots=True)
class InFeed:
    """One row of the in-feed table.

    Attributes:
        stand_off_mm: From the socket's face to the shoulder, taper seated.
        to_go_mm: How far it has to go in yet.
        radial_mm: What has to come off the radius yet.
    """

    stand_off_mm: float
    to_go_mm: float
    radial_mm: float


@dataclass(frozen=True, slots=True)
class TaperSetup:
    """All numbers of the taper of one tool.

    Attributes:
        name: Name of the taper.
        rate: Taper on the diameter.
        gauge_mm: Diameter at the gauge plane.
        small_mm: Diameter at the small end.
        large_mm: Diameter at the shoulder.
        stand_out_mm: How far the finished taper stands out of its socket.
        length_mm: From the gauge plane to the small end.
        whole_mm: From the shoulder to the small end.
        body_mm: Length of the body.
        travel_mm: Travel of the compound slide he has.
        needed_mm: Travel that one pass takes, with lead and run-off.
        dial: Dial of his cross-slide.
        surface: The run of the half section, from shoulder to small end.
    """

    name: str
    rate: float
    gauge_mm: float
    small_mm: float
    large_mm: float
    stand_out_mm: float
    length_mm: float
    whole_mm: float
    body_mm: float
    travel_mm: float
    needed_mm: float
    dial: Dial
    surface: Segment

    @property
    def half_deg(self) -> float:
        """Half of the included angle: what the slide is set to."""
        return taper.half_angle_deg(taper=self.rate)

    @property
    def bite_mm(self) -> float:
        """Length of taper that his travel turns, with lead and run-off."""
        return max(self.travel_mm - LEAD_AND_RUN_OFF_MM, 0.0) * cos(radians(self.half_deg))

    @property
    def bites(self) -> int:
        """How many passes his travel takes for the whole taper, one overlapping the other."""
        if self.bite_mm >= self.whole_mm:
            return 1
        gain_mm = self.bite_mm - OVERLAP_MM
        return 1 + ceil((self.whole_mm - self.bite_mm) / gain_mm) if gain_mm > 0 else 0

    @property
    def tolerance_mm(self) -> float:
        """What a shank may be too steep by, on the diameter over the whole taper."""
        return TOLERANCE_IN_PER_FT / 12 * self.whole_mm

    def wrong_by_indicator_mm(self, travel_mm: float) -> float:
        """Return the error over the taper for an indicator error of 0.01 over a travel."""
        return taper_errors.by_indicator_mm(
            error_mm=INDICATOR_MM,
            travel_mm=travel_mm,
            length_mm=self.whole_mm,
            taper=self.rate,
        )

    def radial_mm(self, to_go_mm: float) -> float:
        """Return what comes off the radius for the taper to go in so far."""
        return to_go_mm * self.rate / 2


def taper_setup(tool: Tool) -> TaperSetup | None:
    """Return the numbers of the taper; None for a straight shank."""
    p = tool.parameters
    cone = shank_of(p.mount).taper
    if cone is None:
        return None
    return TaperSetup(
        name=cone.name,
        rate=cone.rate,
        gauge_mm=cone.gauge_diameter_mm,
        small_mm=cone.small_diameter_mm,
        large_mm=cone.large_diameter_mm,
        stand_out_mm=cone.stand_out_mm,
        length_mm=cone.length_mm,
        whole_mm=cone.whole_mm,
        body_mm=parts.body_length_mm(p),
        travel_mm=p.workshop.compound_travel_mm,
        needed_mm=compound_travel_mm(cone),
        dial=cross_slide(p.workshop),
        surface=tool.body.outline.surface("taper"),
    )


def rises(setup: TaperSetup, *, inch: bool) -> tuple[Rise, ...]:
    """Return the indicator's rise over his whole travel, and over round shorter ones."""
    unit = MM_PER_INCH if inch else 1.0
    step = 0.25 if inch else 5.0
    most = max(int(setup.travel_mm / unit / step + 1e-6) * step, 0.0) * unit or setup.travel_mm
    shorter = (2 * unit, unit) if inch else (50.0, 25.0)
    travels = [most, *(each for each in shorter if each < most - 1e-6)]
    return tuple(
        Rise(
            travel_mm=each,
            rise_mm=taper.dial_rise_mm(travel_mm=each, taper=setup.rate),
            wrong_mm=setup.wrong_by_indicator_mm(each),
        )
        for each in travels
    )


def in_feed(setup: TaperSetup, *, inch: bool) -> tuple[InFeed, ...]:
    """Return the in-feed table, from far out down to the wanted stand-out."""
    unit, table = (MM_PER_INCH, STANDOFFS_IN) if inch else (1.0, STANDOFFS_MM)
    return tuple(
        InFeed(setup.stand_out_mm + each * unit, each * unit, setup.radial_mm(each * unit))
        for each in table
    )


def steps(setup: TaperSetup, *, inch: bool) -> tuple[float, tuple[StepRow, ...]]:
    """Return the length of a step and the steps of the taper, z from the gauge plane."""
    unit, table = (MM_PER_INCH, STEPS_IN) if inch else (1.0, STEPS_MM)
    step_mm = next(
        (each * unit for each in table if setup.whole_mm / (each * unit) <= MOST_STEPS),
        table[-1] * unit,
    )
    front_mm = setup.surface.front_mm
    return step_mm, step_table(
        setup.surface,
        datum_mm=front_mm + setup.stand_out_mm,
        step_mm=step_mm,
        rough_allowance_mm=ROUGH_MM,
        end_mm=front_mm + setup.whole_mm,
    )


def step_slope_mm(setup: TaperSetup, step_mm: float) -> float:
    """Return what the taper loses on the diameter over a step."""
    return step_loss_mm(setup.surface, step_mm)


def tool_heights(setup: TaperSetup) -> tuple[tuple[float, float, float], ...]:
    """Return for each error of the tool's height what the small end and the bow come to.

    Returns:
        Height, error on the diameter of the small end, and bow on the radius, in millimetres.
    """
    small_mm, large_mm = setup.small_mm, setup.large_mm
    return tuple(
        (
            height_mm,
            taper_errors.by_tool_height_mm(
                height_mm=height_mm, small_mm=small_mm, large_mm=large_mm
            ),
            taper_errors.bow_mm(height_mm=height_mm, small_mm=small_mm, large_mm=large_mm),
        )
        for height_mm in TOOL_HEIGHTS_MM
    )


@dataclass(frozen=True, slots=True)
class ShankSetup:
    """A straight shank.

    Attributes:
        diameter_mm: Its diameter.
        length_mm: Its length.
        grip_mm: Length that is held in use.
        body_mm: Length of the body.
        wrong_mm: What the shank is larger at one end than at the other for each 0.01 mm that the
            tailstock stands off, over the shank's length.
    """

    diameter_mm: float
    length_mm: float
    grip_mm: float
    body_mm: float
    wrong_mm: float


def shank_setup(tool: Tool) -> ShankSetup | None:
    """Return the numbers of a straight shank; None where there is none."""
    shank = shank_of(tool.parameters.mount).gripped
    if shank is None:
        return None
    body_mm = parts.body_length_mm(tool.parameters)
    return ShankSetup(
        diameter_mm=shank.diameter_mm,
        length_mm=shank.length_mm,
        grip_mm=shank.grip_mm,
        body_mm=body_mm,
        wrong_mm=2 * INDICATOR_MM * shank.length_mm / body_mm,
    )
