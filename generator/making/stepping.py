"""A cone turned in steps: what diameter to turn as far as where."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, nan

from generator.model.outline import Segment

SLACK_MM = 1e-6
LEAST_STEP = 0.25
"""A last step shorter than this share of the others is joined to the one before it."""


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step.

    Attributes:
        z_mm: How far from the datum the step reaches, positive toward the shank.
        finish_mm: Finished diameter there.
        rough_mm: Diameter to which the step is turned, from the small end as far as this.
    """

    z_mm: float
    finish_mm: float
    rough_mm: float


def step_table(
    segment: Segment,
    *,
    datum_mm: float,
    step_mm: float,
    rough_allowance_mm: float,
    start_mm: float = nan,
    end_mm: float = nan,
) -> tuple[StepRow, ...]:
    """Return the steps of a cone, from its front end to its rear end.

    The rows lie at whole steps from the datum; the first and the last lie at the ends. A step that
    is turned to its rough diameter leaves the allowance at its large end, and more toward its
    small end: what the cone loses over a step.

    Args:
        segment: A straight run of a half section; a cylinder has equal diameters.
        datum_mm: From where z is counted, such as the gauge plane or a face.
        step_mm: Length of a step.
        rough_allowance_mm: What is left on the diameter.
        start_mm: Where the cone begins, in place of the run's front end; the run is continued.
        end_mm: Where it ends, in place of the run's rear end.

    Raises:
        ValueError: If the step is not positive, the allowance negative, the run a face, or the
            cone ends where it would be of no size.
    """
    if not (step_mm > 0 and rough_allowance_mm >= 0 and segment.length_mm > SLACK_MM):
        raise ValueError(f"{step_mm=}, {rough_allowance_mm=}, {segment.length_mm=}")
    first = (segment.front_mm if start_mm != start_mm else start_mm) - datum_mm
    last = (segment.rear_mm if end_mm != end_mm else end_mm) - datum_mm
    if not first < last:
        raise ValueError(f"{start_mm=}, {end_mm=}")
    return tuple(
        StepRow(z_mm, size_mm, size_mm + rough_allowance_mm)
        for z_mm in _places(first, last, step_mm)
        for size_mm in (_diameter_mm(segment, z_mm + datum_mm),)
    )


def step_loss_mm(segment: Segment, step_mm: float) -> float:
    """Return what a cone loses on its diameter over a step; 0 for a cylinder."""
    lost_mm = segment.diameter_mm - segment.small_diameter_mm
    return lost_mm * step_mm / segment.length_mm


def _places(first: float, last: float, step: float) -> Iterator[float]:
    """Yield the ends and the whole steps between; a scrap of a step at an end is left out."""
    yield first
    least = LEAST_STEP * step
    for count in range(ceil((first + least) / step - SLACK_MM), ceil(last / step)):
        if last - count * step >= least - SLACK_MM or count == 0:
            yield count * step
    yield last


def _diameter_mm(segment: Segment, z_mm: float) -> float:
    start, end = segment.start, segment.end
    slope = (end.r_mm - start.r_mm) / (end.z_mm - start.z_mm)
    size_mm = 2 * (start.r_mm + slope * (z_mm - start.z_mm))
    if size_mm < -SLACK_MM:
        raise ValueError(f"{z_mm=} lies beyond the tip")
    return max(size_mm, 0.0)
