"""How far each thread leans, and how far its mouth opens: the chain of errors of each tap.

Whatever stands still against the work while the thread is cut leans it; whatever turns against the
work makes the tap wobble and opens the mouth. With a wrench the work and the follower stand still
and the tap's own errors turn. Where the work is turned by hand, tap and follower stand still
together and turn against the work as one; only the hole, and where the thread began in it, go
round with the work.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import atan, degrees, hypot, inf, isfinite, nan, radians, tan
from typing import Final, Literal

from generator.formulas import chain, fit
from generator.inputs.parameters import Parameters
from generator.inputs.quantities import is_derived
from generator.inputs.shop import FollowedTap
from generator.model import screwed
from generator.model.shank import shank_of
from generator.model.tool import Orientation, Tool
from generator.standards.rows import ScrewHead, Thread
from generator.use.seats import Seat, seats
from generator.use.settings import start_mm

Kind = Literal["bias", "random", "turning"]
Way = tuple[float, float]

CLEARANCE_KEY: Final = "plunger.tolerance"
REGISTER_KEY: Final = "screwed_tips.spigot_tolerance"
BY_ZONE: Final = (CLEARANCE_KEY, REGISTER_KEY)
"""Errors that follow from a zone and are no number of their own."""
ALONG: Final = (1.0, 0.0)
DOWN: Final = (0.0, 1.0)
SHARES: Final = (0.5, 0.95, 0.997)
NO_MATTER: Final = 0.02
"""An error whose absence lowers the 95 % lean by no more than this share does not matter."""


@dataclass(frozen=True, slots=True)
class Term:
    """One error of the chain.

    Attributes:
        name: What it is.
        key: The parameter that says how large it can be.
        given: What that parameter says; for the clearance, the greatest clearance.
        unit: Unit of what it says.
        most_mm: The most it puts the tap off, at the tap's rear contact.
        way: Its direction, a unit vector, if it always is the same; None for any.
        turns: Whether it turns against the work.
    """

    name: str
    key: str
    given: float
    unit: str
    most_mm: float
    way: Way | None
    turns: bool

    @property
    def kind(self) -> Kind:
        """Whether it opens the mouth, leans always the same way, or leans any way."""
        return "turning" if self.turns else "bias" if self.way else "random"

    @property
    def fixed_mm(self) -> Way:
        """What it adds to the fixed vector."""
        x, y = self.way or (0.0, 0.0)
        return x * self.most_mm, y * self.most_mm

    def given_at(self, scale: float) -> float:
        """Return what the parameter would say for a share of the error."""
        if self.unit == "deg":
            return degrees(atan(scale * tan(radians(self.given))))
        return scale * self.given


@dataclass(frozen=True, slots=True)
class Figures:
    """How long the sum of a chain is, in the unit asked for.

    Attributes:
        worst: All errors at their most and in one line.
        rss: The fixed errors, and the root of the sum of the squares of the others.
        half: What 50 % of all assemblies do not exceed, exactly.
        most: The same for 95 %.
        nearly_all: The same for 99.7 %.
    """

    worst: float
    rss: float
    half: float
    most: float
    nearly_all: float


UNKNOWN: Final = Figures(nan, nan, nan, nan, nan)


@dataclass(frozen=True, slots=True)
class Contributor:
    """What one error does to the lean.

    Attributes:
        term: The error.
        share: Its share of the mean square of the lean; all shares make 1.
        without_deg: The 95 % lean if it were gone.
        weight: "improve first", "matters" or "does not matter".
    """

    term: Term
    share: float
    without_deg: float
    weight: str


@dataclass(frozen=True, slots=True)
class Lean:
    """The chain of one tap.

    Attributes:
        tap: The tap.
        seat: How the plunger takes its end: of the forms that it may have, the one that leans most.
        arm_mm: From the circle on which the follower holds the tap to its first full thread; NaN if
            there is none.
        terms: The errors.
    """

    tap: FollowedTap
    seat: Seat
    arm_mm: float
    terms: tuple[Term, ...]

    @property
    def label(self) -> str:
        """The tap in words."""
        return self.seat.name

    @property
    def thread(self) -> Thread:
        """The thread it cuts."""
        return Thread.find(self.seat.row.thread)

    @property
    def known(self) -> bool:
        """Whether it can be worked out: there is an arm, and the bore guides the plunger."""
        return self.arm_mm > 0 and all(isfinite(term.most_mm) for term in self.terms)

    @property
    def leaning(self) -> tuple[Term, ...]:
        """The errors that lean the thread."""
        return tuple(term for term in self.terms if not term.turns)

    @property
    def turning(self) -> tuple[Term, ...]:
        """The errors that open its mouth."""
        return tuple(term for term in self.terms if term.turns)

    @property
    def growth(self) -> float:
        """How much wider the mouth is, on the diameter, for each millimetre that the tap wobbles.

        At full depth the first full thread lies the depth of the thread below the mouth. The tap
        is held there and swings at its rear, so at the mouth it swings by depth over arm.
        """
        return 2 * self.tap.depth_mm / self.arm_mm

    @property
    def lean_deg(self) -> Figures:
        """The lean of the thread against its hole."""
        return figures(self.leaning, 1 / self.arm_mm, angle=True) if self.known else UNKNOWN

    @property
    def mouth_mm(self) -> Figures:
        """The growth of the mouth on its diameter."""
        return figures(self.turning, self.growth, angle=False) if self.known else UNKNOWN

    def most_deg(self, scales: Mapping[str, float] | None = None) -> float:
        """Return the 95 % lean with some errors at a share of their size, by key."""
        scales = scales or {}
        if not self.known:
            return nan
        scaled = tuple(
            replace(term, most_mm=scales.get(term.key, 1.0) * term.most_mm) for term in self.leaning
        )
        bias, radii = _sum(scaled, 1 / self.arm_mm)
        (found,) = chain.quantiles(shares=[0.95], bias=bias, radii=radii)
        return degrees(atan(found))

    def over_mm(self, lean_deg: float) -> float:
        """Return how far a lean runs off over the depth of the thread."""
        return self.tap.depth_mm * tan(radians(lean_deg))

    @property
    def contributors(self) -> tuple[Contributor, ...]:
        """The errors that lean the thread, the one first whose absence would help most."""
        if not self.known:
            return ()
        whole_deg = self.most_deg()
        square = _square(self.leaning, self.leaning)
        found = [
            (term, _square((term,), self.leaning) / square, self.most_deg({term.key: 0.0}))
            for term in self.leaning
            if term.most_mm > 0
        ]
        found.sort(key=lambda each: each[2])
        return tuple(
            Contributor(term, share, without_deg, _weight(place, without_deg, whole_deg))
            for place, (term, share, without_deg) in enumerate(found)
        )

    @property
    def head(self) -> ScrewHead | None:
        """Head and clearance hole of a screw of this thread; None if the table has none."""
        return ScrewHead.of(self.seat.row.thread)

    @property
    def gap_mm(self) -> float:
        """Gap under one side of a screw's head at the 95 % lean; NaN if its head is not known."""
        return self.head.head_mm * tan(radians(self.most_deg())) if self.head else nan

    @property
    def passes(self) -> bool | None:
        """Whether a screw at the 95 % lean still goes through a plate one diameter thick.

        Through a clearance hole square to the face and in line with the thread at the face; None
        if the hole is not known.
        """
        if self.head is None or not self.known:
            return None
        major_mm = self.thread.major_mm
        return major_mm * tan(radians(self.most_deg())) <= (self.head.hole_mm - major_mm) / 2


def leans(tool: Tool) -> tuple[Lean, ...]:
    """Return the chain of every tap that an end of the plunger serves, each tap once."""
    found: dict[FollowedTap, Lean] = {}
    for seat in seats(tool):
        if not seat.serves or seat.orientation is None:
            continue
        terms = error_terms(
            tool,
            seat.orientation,
            pushed_mm=start_mm(tool, seat),
            arm_mm=_arm_mm(seat),
            wrench=seat.tap.wrench_height_mm > 0,
        )
        lean = Lean(seat.tap, seat, _arm_mm(seat), tuple(terms))
        before = found.get(seat.tap)
        if before is None or _slope(lean) > _slope(before):
            found[seat.tap] = lean
    return tuple(found.values())


def _slope(lean: Lean) -> float:
    """Return what the worst lean goes with; a chain that cannot be worked out leans most."""
    if not lean.known:
        return inf
    return sum(term.most_mm for term in lean.leaning) / lean.arm_mm


def _arm_mm(seat: Seat) -> float:
    """Return the length from the follower's hold on a tap to its first full thread.

    The hold is taken at the tip of the plunger's cone, the innermost point at which it can bear.
    """
    lead_mm = seat.tap.lead_threads * seat.row.pitch_mm
    arm_mm = seat.row.overall_mm + seat.tap.wrench_height_mm - seat.overlap_mm - lead_mm
    return arm_mm if arm_mm > 0 else nan


def error_terms(
    tool: Tool, o: Orientation, *, pushed_mm: float, arm_mm: float = 0.0, wrench: bool = False
) -> Iterator[Term]:
    """Yield the errors between spindle and work that are not nil.

    Args:
        tool: The tool.
        o: Which end is at work.
        pushed_mm: How far the plunger is pushed in.
        arm_mm: Length over which the axis of the hole is out of line.
        wrench: Whether a centre in a wrench's back is followed.
    """
    p, asked = tool.parameters, tool.parameters.alignment
    work, lying = p.machine.turned == "work", p.machine.spindle == "horizontal"
    shank = shank_of(p.mount)
    seat = "socket" if shank.taper else "chuck"
    if shank.socket is not None:
        seat = "arbor"
    out_mm = max(0.0, o.projection_extended_mm - pushed_mm)
    clearance_um = max(0.0, tool.greatest_clearance_um)

    def own(
        name: str, field: str, most_mm: float = nan, *, way: Way | None = None, turns: bool = work
    ) -> Term:
        given: float = getattr(asked, field)
        most_mm = given if is_derived(most_mm) else most_mm
        unit = "deg" if field.endswith("_deg") else "mm"
        return Term(name, f"alignment.{field}", given, unit, most_mm, way, turns)

    down, along = (DOWN, ALONG) if lying else (None, None)
    machine, quill = ("tailstock", "barrel") if lying else ("spindle", "quill")
    guide_mm = o.guide_mm + (pushed_mm if p.shoulder is None else 0.0)
    error_mm = _clearance_mm(clearance_um, max(0.0, out_mm - o.before_mm), guide_mm)
    slope_mm = asked.slope_mm * _mount_to_tip_mm(p, out_mm) / 100
    hole_mm = arm_mm * tan(radians(asked.hole_deg))
    terms = (
        own(
            f"{machine} high or low" if lying else f"{machine} to front or back",
            "height_mm",
            way=down,
        ),
        own(f"{machine} to the side", "side_mm", way=along),
        own(f"slope of the {quill}", "slope_mm", slope_mm),
        own(f"seat {'on' if shank.socket else 'in'} the {seat}", "seat_mm"),
        own("bore off the mount", "bore_mm"),
        own("bore out of line with the mount", "bore_slope_mm"),
        Term("clearance of the plunger", CLEARANCE_KEY, clearance_um, "um", error_mm, down, work),
        own("cone off the plunger's axis", "cone_mm"),
        *_register(p, turns=work),
        own("start of the tap in the hole", "start_mm", turns=False),
        own("axis of the hole", "hole_deg", hole_mm, turns=False),
        own("centre of the tap off its thread", "tap_mm", turns=True),
        own("centre of the wrench off the tap", "wrench_mm", turns=True),
    )
    for term in terms:
        if term.most_mm != 0 and (wrench or term.key != "alignment.wrench_mm"):
            yield term


def _register(p: Parameters, *, turns: bool) -> Iterator[Term]:
    """Yield how far a screwed tip may sit off the stem's axis: half of what its register plays."""
    tips = p.screwed_tips
    if tips is not None:
        _, play_um = screwed.register_play_um(tips)
        off_mm = max(0.0, play_um) / 2000
        yield Term("tip in its register", REGISTER_KEY, play_um, "um", off_mm, None, turns)


def _mount_to_tip_mm(p: Parameters, out_mm: float) -> float:
    """Return the distance from the mouth of the socket, or from the jaws, to the tip."""
    return shank_of(p.mount).out_mm + p.body.nose_length_mm + out_mm


def _clearance_mm(clearance_um: float, out_mm: float, guide_mm: float) -> float:
    """Return what the clearance puts the tip off; NaN if the bore does not guide the plunger."""
    if guide_mm <= 0:
        return nan
    error_um = fit.tip_error_um(clearance_um=clearance_um, projection_mm=out_mm, guide_mm=guide_mm)
    return error_um / 1000


def _sum(terms: tuple[Term, ...], scale: float) -> tuple[float, list[float]]:
    """Return the length of the fixed vector and the radii of the others, scaled."""
    x = sum(term.fixed_mm[0] for term in terms)
    y = sum(term.fixed_mm[1] for term in terms)
    return hypot(x, y) * scale, [term.most_mm * scale for term in terms if term.way is None]


def figures(terms: tuple[Term, ...], scale: float = 1.0, *, angle: bool = False) -> Figures:
    """Return how long the sum of some errors is.

    Args:
        terms: The errors.
        scale: What each is multiplied by.
        angle: Whether the sums are slopes to be told in degrees.

    Returns:
        The sums; NaN where an error cannot be worked out.
    """
    if not all(isfinite(term.most_mm) for term in terms):
        return UNKNOWN
    bias, radii = _sum(terms, scale)
    lengths = [
        chain.worst_case(bias=bias, radii=radii),
        chain.root_sum_square(bias=bias, radii=radii),
        *chain.quantiles(shares=SHARES, bias=bias, radii=radii),
    ]
    return Figures(*(degrees(atan(length)) if angle else length for length in lengths))


def _square(some: tuple[Term, ...], whole: tuple[Term, ...]) -> float:
    """Return what some errors add to the mean square of the sum of all.

    Half the square of the radius for an error in any direction; for a fixed one its part along
    the whole fixed vector.
    """
    x = sum(term.fixed_mm[0] for term in whole)
    y = sum(term.fixed_mm[1] for term in whole)
    return sum(
        term.fixed_mm[0] * x + term.fixed_mm[1] * y if term.way else term.most_mm**2 / 2
        for term in some
    )


def _weight(place: int, without_deg: float, whole_deg: float) -> str:
    if without_deg >= (1 - NO_MATTER) * whole_deg:
        return "does not matter"
    return "improve first" if place == 0 else "matters"
