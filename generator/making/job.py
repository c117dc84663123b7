"""A part on its way through the shop: each maker cuts the workpiece and tells how."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from generator.making.bench import Bench, too_fast
from generator.making.operation import Ask, Grip, Hold, Operation, Route
from generator.making.states import Workpiece
from generator.making.stock import stock_mm
from generator.model.part import Part
from generator.model.tool import Tool

ROUGH_MM: Final = 1.0
"""Left on the diameter by the first roughing; common practice, no source."""

SEMI_MM: Final = 0.5
"""Left on the diameter before the finishing cuts; common practice, no source."""

JAW_MM: Final = 15.0
"""Length in the jaws; common practice, no source."""

KEY: Final = "Take the chuck key out before you reach for the switch; turn the chuck by hand once."
SWARF: Final = "Stop the spindle, then clear swarf with a hook, never by hand."
MOST_STEPS: Final = 8


@dataclass(frozen=True, slots=True)
class Job:
    """A part to be made.

    Attributes:
        tool: The tool.
        part: The part.
        bench: What it is made at.
        route: The way of making the body; of no account for the other parts.
    """

    tool: Tool
    part: Part
    bench: Bench
    route: Route

    @property
    def length_mm(self) -> float:
        """Length of the part."""
        return self.part.outline.length_mm

    @property
    def rough_nose_mm(self) -> float:
        """Diameter to which the outside is roughed: round and true to the bore, above the nose.

        From bar near to size half of what is on comes off, so that the outside is always turned
        in the holding of the bore and can be clocked.
        """
        nose_mm = self.tool.parameters.body.nose_diameter_mm
        return nose_mm + min(ROUGH_MM, (stock_mm(self.part) - nose_mm) / 2)

    @property
    def rear_first(self) -> bool:
        """Whether the mount is finished before the bore."""
        return self.route.key in ("socket", "collet")

    def present(self, *names: str) -> tuple[str, ...]:
        """Return those of the surfaces that the part has."""
        return tuple(name for name in names if self.part.outline.has(name))


Made = tuple[Operation, Workpiece]
Maker = Callable[[Job, Workpiece], Made]


def carried_out(job: Job, piece: Workpiece, makers: Sequence[Maker]) -> Iterator[Operation]:
    """Yield the operations one after the other, each with the part before and after it."""
    before = piece.as_part
    for make in makers:
        operation, piece = make(job, piece)
        after = piece.as_part
        told = (*operation.cautions, *too_fast(operation.steps))
        if any(" div" in step.dial for step in operation.steps):
            told = (*told, job.bench.dial_note)
        yield replace(
            operation,
            before=None if operation.station == "saw" else before,
            after=None if operation.station == "saw" else after,
            cautions=told,
        )
        before = after


def chucked(job: Job, front_mm: float, rear_mm: float) -> tuple[str, Grip, tuple[Ask, ...]]:
    """Return a first holding of rough bar: any chuck serves, the independent one first."""
    thing = next(
        (each for each in ("4-jaw chuck", "3-jaw chuck", "collets") if job.bench.has(each)),
        "3-jaw chuck",
    )
    hold: Hold = "collet" if thing == "collets" else "jaws"
    return thing, Grip(hold, front_mm, rear_mm), (Ask(thing),)
