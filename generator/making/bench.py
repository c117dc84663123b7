"""The user's bench: his speeds, cutters and dials, and the lines of a sheet written for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, floor, inf, nan
from typing import Final

from generator.errors import StandardError
from generator.formulas import cone, cutting
from generator.inputs.workshop import Workshop
from generator.making.dials import cross_slide
from generator.making.operation import Ask, Kind, Step
from generator.making.speeds import (
    COUNTERSINK_SHARE,
    PARTING_SHARE,
    REAMING_SHARE,
    UNBALANCED_RPM,
    Machine,
    Spindle,
    spindle,
)
from generator.model.tips import DRILL_POINT_DEG
from generator.model.tool import Tool
from generator.standards.bands import GeneralTolerance
from generator.standards.cutting import Cutting, Feed, ReamingAllowance
from generator.units import MM_PER_INCH, number

BREAK_THROUGH_MM: Final = 1.0
"""How far the lips of a drill run beyond a through hole; common practice, no source."""

DEEP_SHARE: Final = 0.7
"""Speed in a hole deeper than `DEEP_DIAMETERS`, over that of a shallow one; from memory."""

DEEP_DIAMETERS: Final = 4.0

CENTRE_SHARE: Final = 0.3
"""Pilot of a centre drill over the hole that it starts; engineering judgement."""

LEAST_MM: Final = 0.1
"""No cutter is smaller; a tool that asks for one is refused by its checks."""

LEAST_TOLERANCE_MM: Final = 0.1
"""Where the general tolerances begin only above a size; engineering judgement."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """A cutter chosen from what he has.

    Attributes:
        size_mm: Its diameter.
        ask: What the operation needs.
        instead: What to do where he lacks the right one; "" where he has it.
    """

    size_mm: float
    ask: Ask
    instead: str = ""


@dataclass(frozen=True, slots=True)
class Bench:
    """What the lines of the sheets are written for.

    Attributes:
        shop: What he has.
        inch: Whether his sheets are in inches.
        grade: General tolerance.
        most_rpm: Most speed that the holding at hand bears.
    """

    shop: Workshop
    inch: bool
    grade: str
    most_rpm: float = inf

    def held(self, holding: str) -> Bench:
        """Return the bench with the most speed that a holding bears."""
        unbalanced = "4-jaw" in holding or "centres" in holding or "steady" in holding
        return replace(self, most_rpm=UNBALANCED_RPM if unbalanced else inf)

    def _spindle(
        self,
        *,
        material: str,
        cutting: Cutting,
        diameter_mm: float,
        machine: Machine = "lathe",
        share: float = 1.0,
    ) -> Spindle:
        return spindle(
            self.shop,
            material=material,
            cutting=cutting,
            diameter_mm=max(diameter_mm, LEAST_MM),
            machine=machine,
            share=share,
            most_rpm=self.most_rpm if machine == "lathe" else inf,
        )

    def size(self, mm: float, decimals: int = 2) -> str:
        """Return a length as his sheets print it: "24.5", or in inches 0.965"."""
        if self.inch:
            return f'{number(mm / MM_PER_INCH, decimals + 1)}"'
        return number(mm, decimals)

    def limits_mm(self, size_mm: float) -> tuple[float, float]:
        """Return the limits of a size that has no tolerance of its own."""
        try:
            off_mm = GeneralTolerance.at(self.grade, size_mm).plus_minus_mm
        except StandardError:
            off_mm = LEAST_TOLERANCE_MM
        return max(0.0, size_mm - off_mm), size_mm + off_mm

    def longest(self, mm: float) -> str:
        """Return a length to a tenth, or in inches to a hundredth, that is not exceeded."""
        step_mm = MM_PER_INCH / 100 if self.inch else 0.1
        return self.size(floor(mm / step_mm + 1e-6) * step_mm, 1)

    def cross_dial(self, from_mm: float, to_mm: float) -> str:
        """Return what the dial of the cross-slide moves by from one diameter to another.

        In the unit of the dial, which may not be that of the sheets. A lathe that takes the
        profiles is told diameters.
        """
        if self.numeric:
            return "tool offset X, diameter"
        dial, moved_mm = cross_slide(self.shop), (from_mm - to_mm) / 2
        way = "in" if moved_mm >= 0 else "out"
        reading = dial.reading_mm(abs(moved_mm))
        if dial.unit == "in":
            turned = f'{number(reading / MM_PER_INCH, 3)}"'
        else:
            turned = number(reading, 2) + (" mm" if self.inch else "")
        return (
            f"0 at Ø{self.size(from_mm)}; {way} {turned} "
            f"= {number(dial.divisions(abs(moved_mm)), 1)} div"
        )

    @property
    def numeric(self) -> bool:
        """Whether his lathe takes the profiles, and has neither dials nor a compound slide."""
        return self.shop.machines == "cnc lathe"

    @property
    def dial_note(self) -> str:
        """What the dial of the cross-slide reads, for the foot of a sheet."""
        return f"Cross-slide dial reads {self.shop.dial}; set every size moving in, never backing."

    def feed(self, operation: str, diameter_mm: float = 10.0, *, most: bool = False) -> str:
        """Return a feed as he sets it."""
        row = Feed.near(operation, diameter_mm)
        feed_mm = row.greatest_mm_per_rev if most else row.least_mm_per_rev
        if self.inch:
            return f"{number(feed_mm / MM_PER_INCH, 4)} in/rev"
        return f"{number(feed_mm, 2)} mm/rev"

    def turn(
        self,
        do: str,
        *,
        material: str,
        from_mm: float,
        to_mm: float,
        limits_mm: tuple[float, float] | None = None,
        rough: bool = False,
        inside: bool = False,
        stop: str = "",
    ) -> Step:
        """Return the turning or boring of a diameter."""
        low_mm, high_mm = self.limits_mm(to_mm) if limits_mm is None else limits_mm
        tool = "boring tool" if inside else f"{self.shop.turning_tool} tool, on centre height"
        speed = self._spindle(
            material=material,
            cutting="turning",
            diameter_mm=max(from_mm, to_mm),
            share=DEEP_SHARE if inside else 1.0,
        )
        return Step(
            do=do,
            tool=tool,
            rpm=speed.rpm,
            wanted_rpm=speed.wanted_rpm,
            feed=self.feed("rough turning" if rough else "fine turning"),
            dial=self.cross_dial(from_mm, to_mm),
            kind="diameter",
            set_mm=to_mm,
            low_mm=low_mm,
            high_mm=high_mm,
            stop=stop,
        )

    def face(
        self,
        do: str,
        *,
        material: str,
        diameter_mm: float,
        dial: str = "",
        length_mm: float = nan,
        tool: str = "facing tool",
        stop: str = "",
    ) -> Step:
        """Return a facing or forming cut; with a length, one that is measured."""
        low_mm, high_mm = (nan, nan) if length_mm != length_mm else self.limits_mm(length_mm)
        speed = self._spindle(
            material=material,
            cutting="turning",
            diameter_mm=diameter_mm,
            share=PARTING_SHARE if tool == "parting tool" else 1.0,
        )
        return Step(
            do=do,
            tool=tool,
            rpm=speed.rpm,
            wanted_rpm=speed.wanted_rpm,
            feed="by hand",
            dial=dial,
            set_mm=length_mm,
            low_mm=low_mm,
            high_mm=high_mm,
            stop=stop,
        )

    def drill(
        self,
        do: str,
        *,
        material: str,
        diameter_mm: float,
        depth_mm: float,
        through: bool,
        machine: Machine = "lathe",
        flat: bool = False,
        opened: str = "",
        stop: str = "",
    ) -> Step:
        """Return a drilling, its point allowed for; with the depth to its full diameter.

        Args:
            do: The order; the places where the drill is drawn out follow it.
            material: What is drilled.
            diameter_mm: Diameter of the drill.
            depth_mm: Depth to the full diameter.
            through: Whether the hole goes through.
            machine: Whose speeds.
            flat: Whether the drill is ground flat.
            opened: The face by which the lips are set to zero where a hole is there already, so
                that the point touches nothing.
            stop: What to check before.
        """
        diameter_mm = max(diameter_mm, LEAST_MM)
        point_mm = cone.drill_point_mm(diameter_mm=diameter_mm, angle_deg=DRILL_POINT_DEG)
        point_mm = 0.0 if flat else point_mm
        whole_mm = max(depth_mm, LEAST_MM) + point_mm + (BREAK_THROUGH_MM if through else 0.0)
        counted_mm = depth_mm if opened else whole_mm
        pecks = cutting.peck_depths_mm(depth_mm=max(counted_mm, LEAST_MM), diameter_mm=diameter_mm)
        deep = whole_mm > DEEP_DIAMETERS * diameter_mm
        speed = self._spindle(
            material=material,
            cutting="drilling",
            diameter_mm=diameter_mm,
            machine=machine,
            share=DEEP_SHARE if deep else 1.0,
        )
        low_mm, high_mm = (nan, nan) if through else self.limits_mm(depth_mm)
        if opened:
            dial = f"0 = lips level with {opened}; stop at {self.size(depth_mm, 1)}"
        elif through:
            dial = f"0 = point on face; through at {self.size(whole_mm, 1)}"
        else:
            dial = f"0 = point on face; stop at {self.size(whole_mm, 1)}"
        return Step(
            do=f"{do}{self._pecked(pecks)}",
            tool=f"drill Ø{self.size(diameter_mm)}",
            rpm=speed.rpm,
            wanted_rpm=speed.wanted_rpm,
            feed=f"by hand, {self.feed('drilling', diameter_mm)}",
            dial=dial,
            set_mm=nan if through else depth_mm,
            low_mm=low_mm,
            high_mm=high_mm,
            stop=stop,
        )

    def _pecked(self, pecks: Sequence[float]) -> str:
        """Return where the drill is drawn out, the first places of many."""
        if len(pecks) < 2:
            return ""
        places = ", ".join(self.size(peck, 1) for peck in pecks[:-1][:3])
        return f"; out at {places}{' and so on' if len(pecks) > 4 else ''}"

    def ream(
        self, do: str, *, material: str, limits_mm: tuple[float, float], size_mm: float
    ) -> Step:
        """Return the reaming of a bore."""
        speed = self._spindle(
            material=material, cutting="reaming", diameter_mm=size_mm, share=REAMING_SHARE
        )
        return Step(
            do=do,
            tool=self.reamer(size_mm, limits_mm),
            rpm=speed.rpm,
            wanted_rpm=speed.wanted_rpm,
            feed=f"by hand, {self.feed('reaming', size_mm)}",
            dial="in and out turning forward, oil",
            kind="diameter",
            set_mm=min(max(size_mm, limits_mm[0]), limits_mm[1]),
            low_mm=limits_mm[0],
            high_mm=limits_mm[1],
        )

    def reamer(self, size_mm: float, limits_mm: tuple[float, float]) -> str:
        """Return the reamer: by its size, or by what it must cut where that is all over it."""
        if limits_mm[0] <= size_mm + 1e-6:
            return f"reamer Ø{self.size(size_mm, 3)}"
        low, high = (self.size(each, 3) for each in limits_mm)
        return f"reamer {self.size(size_mm, 3)} that cuts Ø{low} to {high}"

    def form(
        self,
        do: str,
        tool: str,
        *,
        material: str,
        diameter_mm: float,
        dial: str = "",
        kind: Kind = "length",
        set_mm: float = nan,
        limits_mm: tuple[float, float] = (nan, nan),
        machine: Machine = "lathe",
        stop: str = "",
    ) -> Step:
        """Return a cut with a centre drill, countersink or form tool, at half speed."""
        speed = self._spindle(
            material=material,
            cutting="drilling",
            diameter_mm=diameter_mm,
            machine=machine,
            share=COUNTERSINK_SHARE,
        )
        return Step(
            do=do,
            tool=tool,
            rpm=speed.rpm,
            wanted_rpm=speed.wanted_rpm,
            feed="by hand",
            dial=dial,
            kind=kind,
            set_mm=set_mm,
            low_mm=limits_mm[0],
            high_mm=limits_mm[1],
            stop=stop,
        )

    def centre_drill(self, hole_mm: float, *, material: str, most_mm: float = inf) -> Step:
        """Return the step that starts the drill of a hole; its pilot is no wider than most_mm."""
        pilot_mm = min(most_mm, max(1.0, round(CENTRE_SHARE * hole_mm, 1)))
        return self.form(
            "Centre drill, until its cone is cut",
            f"centre drill Ø{self.size(pilot_mm)}",
            material=material,
            diameter_mm=max(2 * pilot_mm, 1.0),
        )

    def milling(self, *, material: str, diameter_mm: float, machine: Machine) -> Spindle:
        """Return the speed of a slot drill."""
        return self._spindle(
            material=material, cutting="milling", diameter_mm=diameter_mm, machine=machine
        )

    def table_feed(self, rpm: float) -> str:
        """Return the feed of the table under a slot drill of two teeth."""
        feed_mm = Feed.near("milling a slot", 3.0).least_mm_per_rev
        whole_mm = cutting.feed_mm_per_min(rpm=rpm, feed_mm_per_tooth=feed_mm, teeth=2)
        return f"by hand, {self.size(whole_mm, 0)} {'in/min' if self.inch else 'mm/min'}".replace(
            '"', ""
        )

    def drill_for(self, wanted_mm: float, least_mm: float, *, else_do: str) -> Chosen:
        """Return the drill for a hole: the greatest he has that does not exceed the wanted one.

        Args:
            wanted_mm: Size that is right, which is also the greatest.
            least_mm: Least that serves.
            else_do: What to do with a smaller one or with none.
        """
        if not self.shop.drills_mm:
            return Chosen(wanted_mm, Ask("drill", wanted_mm))
        found = cutting.nearest_below(self.shop.drills_mm, wanted_mm)
        if found is None:
            return Chosen(wanted_mm, Ask("drill", wanted_mm), self._no_drill(wanted_mm, else_do))
        if found < least_mm - 1e-9:
            return Chosen(found, Ask("drill", found), self._no_drill(wanted_mm, else_do))
        return Chosen(found, Ask("drill", found))

    def _no_drill(self, wanted_mm: float, else_do: str) -> str:
        return f"No drill Ø{self.size(wanted_mm)} in the list: {else_do}"

    def before_reaming(self, bore_mm: float) -> Chosen:
        """Return the drill before the reamer."""
        band = ReamingAllowance.at("HSS", min(bore_mm, 50.0))
        wanted_mm = max(int((bore_mm - band.least_mm) * 10 + 1e-6) / 10, 0.1)
        return self.drill_for(
            wanted_mm,
            bore_mm - band.greatest_mm - 0.05,
            else_do=f"bore out to Ø{self.size(wanted_mm)} with the boring tool before reaming.",
        )

    def cutter(self, what: str, size_mm: float, *, else_do: str) -> Chosen:
        """Return a reamer or end mill of the very size."""
        ask = Ask(what, size_mm)
        sizes = self.shop.reamers_mm if what == "reamer" else self.shop.end_mills_mm
        if not sizes or any(abs(size - size_mm) <= 1e-6 for size in sizes):
            return Chosen(size_mm, ask)
        return Chosen(size_mm, ask, f"No {what} Ø{self.size(size_mm, 3)} in the list: {else_do}")

    def has(self, thing: str) -> bool:
        """Tell whether the kit has a thing."""
        return thing in self.shop.kit


def bench(tool: Tool) -> Bench:
    """Return the bench that a tool is made at."""
    making = tool.parameters.making
    return Bench(tool.parameters.workshop, making.units == "inch", making.general_tolerance)


def too_fast(steps: Sequence[Step]) -> tuple[str, ...]:
    """Return a caution where even the slowest speed is above what is wanted."""
    fast = [step for step in steps if step.rpm > step.wanted_rpm + 1e-9]
    if not fast:
        return ()
    least = min(step.wanted_rpm for step in fast)
    return (
        f"Slowest speed {number(fast[0].rpm, 0)} is above the {number(ceil(least), 0)} rpm that is "
        "wanted: light cuts, plenty of oil, short runs.",
    )
