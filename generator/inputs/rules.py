"""What the keys of a table must agree on, and what a file may ask of the standards.

Each rule returns what it was given, or raises what is wrong with it in shop words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from pydantic_core import PydanticCustomError

from generator.errors import StandardError
from generator.formulas import coils
from generator.formulas import spring as springs
from generator.inputs.purposes import SPINDLES, TABLES
from generator.inputs.quantities import DERIVED_TEXT, SHORTEST_MM, is_derived, known
from generator.inputs.screwed_tips import OVER_THREAD_MM, ScrewedTips
from generator.inputs.shop import FollowedTap
from generator.inputs.tables import (
    ArborTaperMount,
    ArborThreadMount,
    BallTip,
    BlankTip,
    CombinedMount,
    DrawbarMount,
    HalfCentreTip,
    InnerSpring,
    Mount,
    NoseBush,
    OwnDrawbarMount,
    Plunger,
    R8Mount,
    ScrewPoint,
    Shoulder,
    Spring,
    StraightMount,
    TangMount,
)
from generator.standards.bands import SpringWire, ToleranceZone
from generator.standards.rows import MorseTaper, SetScrew, Tap, Thread

if TYPE_CHECKING:
    from generator.inputs.parameters import Parameters


class ScrewLike(Protocol):
    """A set screw, with one length or with several."""

    @property
    def thread(self) -> str:
        """Its thread."""
        ...

    @property
    def point(self) -> ScrewPoint:
        """Its point."""
        ...

    @property
    def tip_mm(self) -> float:
        """Diameter of the tip, if told."""
        ...


class FitLike(Protocol):
    """A bore, a plunger, or what makes one."""

    @property
    def diameter_mm(self) -> float:
        """Nominal diameter."""
        ...

    @property
    def tolerance(self) -> str:
        """Its zone; "" where it follows."""
        ...

    @property
    def limits_um(self) -> tuple[float, float] | None:
        """Its deviations, in place of the zone."""
        ...


class SpringLike(Protocol):
    """What is described as a spring of a parameter file is."""

    @property
    def wire_mm(self) -> float:
        """Diameter of the wire."""
        ...

    @property
    def outside_mm(self) -> float:
        """Outside diameter."""
        ...

    @property
    def free_mm(self) -> float:
        """Free length."""
        ...

    def spring(self) -> Spring:
        """Return it as a parameter file has it."""
        ...


Screw = TypeVar("Screw", bound=ScrewLike)
Fitted = TypeVar("Fitted", bound=FitLike)
Stock = TypeVar("Stock", bound=SpringLike)

SMALL_MM = 1.0
"""No spring that a tap follower takes has coils so small; engineering judgement."""

THICK_MM = 4.0
"""No such spring has wire so thick; engineering judgement."""

LEAST_LEFT = 0.25
"""Active coils below this that a cut leaves are a slip of the pen."""

TIPS = "screwed_tips"
SCREWED_STYLES = ("point", "countersink", "ball", "blank")
"""What the ends of screwed tips may be; a plain one would follow nothing."""


def spring_coils(spring: Spring) -> Spring:
    """Refuse a spring, or one inside it, that contradicts itself or cannot be wound."""
    _one_spring(spring)
    inner = spring.inner
    if inner is not None:
        _one_spring(inner, table="inner.")
        inside_mm = spring.outside_mm - 2 * spring.wire_mm
        if inner.outside_mm >= inside_mm:
            raise _contradiction(
                f"must be below the inside of the coils round it, {inside_mm:g}",
                "inner.outside_mm",
                inner.outside_mm,
            )
    return spring


def _one_spring(spring: InnerSpring, table: str = "") -> None:
    """Refuse a spring whose coils are told twice or not at all, or that cannot be wound."""
    if is_derived(spring.total_coils) == is_derived(spring.active_coils):
        raise _contradiction("give either total_coils or active_coils", table.rstrip("."))
    if spring.outside_mm <= 2 * spring.wire_mm:
        raise _contradiction(
            f"must exceed twice wire_mm, {2 * spring.wire_mm:g}",
            f"{table}outside_mm",
            spring.outside_mm,
        )
    _coils(spring, table)
    try:
        SpringWire.strength_MPa(spring.wire, spring.wire_mm)
        SpringWire.shear_modulus_MPa(spring.wire, spring.wire_mm)
    except StandardError as error:
        raise _contradiction(str(error), f"{table}wire_mm") from None


def _coils(spring: InnerSpring, table: str) -> None:
    """Refuse coils that cannot give, and sizes that no stocked spring has."""
    total = spring.total_coils
    if is_derived(total):
        total = coils.total_coils(active_coils=spring.active_coils, ends=spring.ends)
    dead = coils.total_coils(active_coils=1, ends=spring.ends) - 1
    if total <= dead:
        told = is_derived(spring.active_coils)
        raise _contradiction(
            f"must leave more than the {dead} coils that {spring.ends} ends take",
            f"{table}{'total_coils' if told else 'active_coils'}",
            spring.total_coils if told else spring.active_coils,
        )
    solid_mm = coils.solid_length_mm(wire_mm=spring.wire_mm, total_coils=total, ends=spring.ends)
    if spring.free_mm < solid_mm + SHORTEST_MM:
        raise _contradiction(
            f"must be above the solid length, {solid_mm:g}", f"{table}free_mm", spring.free_mm
        )
    _cut(spring, total - dead, table)
    try:
        springs.outside_tolerance_mm(outside_mm=spring.outside_mm)
    except ValueError:
        raise _contradiction(
            "stocked springs go from 0.64 to 42.85", f"{table}outside_mm", spring.outside_mm
        ) from None


def _cut(spring: InnerSpring, active: float, table: str) -> None:
    """Refuse a cut that takes nothing off, or every coil that gives."""
    if spring.cut_to_mm is None:
        return
    pitch_mm = coils.pitch_mm(
        wire_mm=spring.wire_mm, free_mm=spring.free_mm, active_coils=active, ends=spring.ends
    )
    sizes = {"wire_mm": spring.wire_mm, "pitch_mm": pitch_mm}
    least_mm = coils.cut_length_mm(**sizes, active_coils=LEAST_LEFT, ends=spring.ends)
    most_mm = coils.cut_length_mm(**sizes, active_coils=active, ends=spring.ends)
    most_mm = min(most_mm, spring.free_mm)
    if not least_mm <= spring.cut_to_mm < most_mm:
        raise _contradiction(
            f"must be from {least_mm:g}, which leaves {LEAST_LEFT:g} coils that give, to below "
            f"{most_mm:g}, where nothing that gives is cut off",
            f"{table}cut_to_mm",
            spring.cut_to_mm,
        )


def _contradiction(text: str, key: str = "", value: float | None = None) -> PydanticCustomError:
    """Return what is wrong with a table, or with one key of it, and the value of that key."""
    got = "" if value is None else f", got {value:g}"
    return PydanticCustomError("contradiction", "{text}", {"text": f"{text}{got}", "key": key})


def screw_point(screw: Screw) -> Screw:
    """Refuse a screw or point that no table holds and that the file does not describe."""
    major_mm = Thread.find(screw.thread).major_mm
    if screw.tip_mm > major_mm:
        raise _contradiction(
            f"must be at most the thread's diameter, {major_mm:g}", "tip_mm", screw.tip_mm
        )
    missing = [
        key
        for key in ("length_mm", "lengths_mm", "tip_mm", "tip_length_mm")
        if (value := getattr(screw, key, None)) == () or is_derived(value)
    ]
    if not missing:
        return screw
    row = {row.name: row for row in SetScrew.rows()}.get(screw.thread)
    if row is None:
        raise _contradiction(f"no set screw {screw.thread} is tabulated; give {', '.join(missing)}")
    try:
        row.tip_mm(screw.point)
    except StandardError as error:
        raise _contradiction(f"{error}; or give {', '.join(missing)}", "point") from None
    return screw


def drawbar_thread(mount: Mount) -> Mount:
    """Refuse a draw-bar on a taper that has no thread for one, unless the file gives it."""
    if (
        isinstance(mount, DrawbarMount)
        and mount.drawbar_thread == DERIVED_TEXT
        and not MorseTaper.find(mount.row_name).drawbar_thread
    ):
        raise _contradiction(f"{mount.size} has no draw-bar thread of its own; give drawbar_thread")
    return mount


def tap_size(tap: FollowedTap) -> FollowedTap:
    """Refuse a tap that the table does not hold, or a hole or wrench that contradicts itself."""
    standards = tuple(dict.fromkeys(row.standard for row in Tap.rows()))
    known(standards, tap.standard, key="standard")
    known(
        tuple(row.size for row in Tap.rows() if row.standard == tap.standard), tap.size, key="size"
    )
    if tap.advised_least_N > tap.advised_greatest_N:
        raise _contradiction(
            f"advised_least_N must be at most advised_greatest_N, {tap.advised_greatest_N:g}"
        )
    row = Tap.find(f"{tap.standard} {tap.size}")
    _hole(tap, row)
    if tap.wrench_height_mm == 0 and tap.end_mm > row.shank_mm:
        raise _contradiction(
            f"must be at most the tap's shank, {row.shank_mm:g}", "end_mm", tap.end_mm
        )
    if not is_derived(tap.opening_mm) and tap.hidden_mm == 0:
        raise _contradiction(
            "an opening leads to a hidden end; give hidden_mm too, or leave it out",
            "opening_mm",
            tap.opening_mm,
        )
    return tap


def _hole(tap: FollowedTap, row: Tap) -> None:
    """Refuse a depth that the tap does not reach, or that no hole of this kind has."""
    if tap.depth_mm >= row.overall_mm:
        raise _contradiction(
            f"must be below the tap's whole length, {row.overall_mm:g}", "depth_mm", tap.depth_mm
        )
    if is_derived(tap.drilled_mm):
        return
    if tap.hole == "through":
        raise _contradiction(
            'a through hole has none; set hole to "blind", or leave it out',
            "drilled_mm",
            tap.drilled_mm,
        )
    if tap.drilled_mm < tap.depth_mm:
        raise _contradiction(
            f"must be at least the depth of the thread, {tap.depth_mm:g}",
            "drilled_mm",
            tap.drilled_mm,
        )


def plunger_ends(plunger: Plunger) -> Plunger:
    """Refuse a plunger that follows nothing, or a fit that contradicts itself."""
    front, rear = plunger.front.style, plunger.rear.style
    if front == "plain" and rear == "plain":
        raise _contradiction("one end must be a point or a countersink, or be left blank for one")
    if front == "blank" and rear == "blank":
        raise _contradiction(
            'one blank end is enough to finish to suit; make the other "plain" or give it a form',
            "rear.style",
        )
    if front == "ball" and rear == "ball":
        raise _contradiction(
            "one ball is enough: reversed, the plunger serves other taps with another form",
            "rear.style",
        )
    for side, tip in (("front", plunger.front), ("rear", plunger.rear)):
        if isinstance(tip, HalfCentreTip) and tip.relief_mm >= plunger.diameter_mm / 2:
            raise _contradiction(
                f"must be below half the plunger's diameter, {plunger.diameter_mm / 2:g}, or "
                "nothing is cut away",
                f"{side}.relief_mm",
                tip.relief_mm,
            )
    fit(plunger)
    return plunger


def fit(fitted: Fitted) -> Fitted:
    """Refuse a fit told twice, upside down, or not tabulated for the diameter."""
    if fitted.tolerance != DERIVED_TEXT and fitted.limits_um is not None:
        raise _contradiction("give either tolerance or limits_um")
    if fitted.limits_um is not None and fitted.limits_um[0] > fitted.limits_um[1]:
        raise _contradiction("limits_um: the lower deviation comes first")
    if fitted.limits_um is None and not is_derived(fitted.diameter_mm):
        _tabulated(fitted, fitted.diameter_mm)
    return fitted


def ground_bar(bar: Fitted) -> Fitted:
    """Refuse a bar whose diameter is told to a zone that it cannot have; most bar has none."""
    return fit(bar) if bar.tolerance or bar.limits_um else bar


def stock_spring(stock: Stock) -> Stock:
    """Refuse a spring of a drawer as one of a tool, with a hint where the unit looks wrong."""
    try:
        _one_spring(stock.spring())
    except PydanticCustomError as error:
        raise _contradiction(
            f"{error.message()}{_unit_hint(stock)}", str((error.context or {}).get("key", ""))
        ) from None
    hint = _unit_hint(stock)
    if hint:
        raise _contradiction(f"cannot be meant{hint}")
    return stock


def _unit_hint(stock: SpringLike) -> str:
    """Return which unit the sizes of a spring look like, if not millimetres."""
    if stock.outside_mm < SMALL_MM and stock.free_mm < 3 * SMALL_MM:
        return (
            '; sizes so small look like inches: write "0.25 in", or name the columns of a table '
            "wire_in, outside_in, free_in"
        )
    if stock.wire_mm >= THICK_MM:
        return "; sizes so large look like tenths of a millimetre: write them in millimetres"
    return ""


def _tabulated(fitted: FitLike, diameter_mm: float) -> None:
    default = "h8" if isinstance(fitted, Plunger) else "H7"
    try:
        ToleranceZone.limits_um(fitted.tolerance or default, diameter_mm)
    except StandardError as error:
        raise _contradiction(f"{error}; or give limits_um", "tolerance") from None


def shoulder_stop(shoulder: Shoulder) -> Shoulder:
    """Refuse a shouldered plunger whose travel is told twice or not at all, or that has no step."""
    if is_derived(shoulder.travel_mm) == is_derived(shoulder.tail_length_mm):
        raise _contradiction("give either travel_mm or tail_length_mm")
    if shoulder.head_diameter_mm >= shoulder.pocket_mm:
        raise _contradiction(
            f"must be below the pocket, {shoulder.pocket_mm:g}",
            "head_diameter_mm",
            shoulder.head_diameter_mm,
        )
    return shoulder


def nose_bush(bush: NoseBush) -> NoseBush:
    """Refuse a nose bush that does not go in, or that no spanner turns."""
    if bush.thread != DERIVED_TEXT:
        major_mm = Thread.find(bush.thread).major_mm
        if bush.register_mm <= major_mm:
            raise _contradiction(
                f"must exceed the thread, {major_mm:g}, which passes through it",
                "register_mm",
                bush.register_mm,
            )
    if bush.flange_diameter_mm <= bush.register_mm:
        raise _contradiction(
            f"must exceed the register, {bush.register_mm:g}, or nothing stops it on the nose face",
            "flange_diameter_mm",
            bush.flange_diameter_mm,
        )
    if bush.flats_mm >= bush.flange_diameter_mm:
        raise _contradiction(
            f"must be below the flange, {bush.flange_diameter_mm:g}, or no flat is cut",
            "flats_mm",
            bush.flats_mm,
        )
    return bush


def kept_in(parameters: Parameters) -> Parameters:
    """Refuse a plunger that nothing keeps in, or two things do, or one that cannot."""
    p = parameters
    ways = {"set_screw": p.set_screw, "cross_pin": p.cross_pin, "shoulder": p.shoulder}
    given = [name for name, way in ways.items() if way is not None]
    if len(given) > 1:
        raise _contradiction(
            "one thing keeps the plunger in: [set_screw] or [cross_pin], each with [slot], or "
            f"[shoulder]; got {' and '.join(f'[{name}]' for name in given)}",
            given[-1],
        )
    if p.slot is not None and p.shoulder is not None:
        raise _contradiction("a shouldered plunger has no slot: leave the table out", "slot")
    if p.shoulder is not None:
        _shouldered(p)
    elif p.bush is not None:
        raise _contradiction(
            "a nose bush keeps the head of a shouldered plunger in; give [shoulder], or leave the "
            "table out",
            "bush",
        )
    _slotted(p)
    return p


def _shouldered(p: Parameters) -> None:
    """Refuse what a plunger with a head cannot have."""
    assert p.shoulder is not None
    if p.plunger.rear.style != "plain":
        raise _contradiction(
            'a head cannot be turned end for end; the rear end of a shouldered plunger is "plain"',
            "plunger.rear.style",
        )
    if isinstance(p.plunger.front, HalfCentreTip):
        raise _contradiction(
            "a shouldered plunger turns freely, and its relieved side with it; a half centre is "
            "kept from turning by a screw or a pin in a [slot]",
            "plunger.front.style",
        )
    if p.shoulder.pocket_mm <= p.plunger.diameter_mm:
        raise _contradiction(
            f"must be wider than the stem, {p.plunger.diameter_mm:g}, or there is no step to "
            "keep the head in",
            "shoulder.pocket_mm",
            p.shoulder.pocket_mm,
        )
    if p.button is not None:
        raise _contradiction(
            "the head of a shouldered plunger is a flat seat, and its tail passes through the "
            "spring; leave [button] out",
            "button",
        )
    if not is_derived(p.plunger.length_mm):
        raise _contradiction(
            "follows from stem, head and tail; leave it out with a [shoulder]",
            "plunger.length_mm",
            p.plunger.length_mm,
        )
    _loaded_from(p, p.bush)


def _loaded_from(p: Parameters, bush: NoseBush | None) -> None:
    """Refuse a head that does not pass the narrow bore, or a nose bush that is not needed."""
    assert p.shoulder is not None
    if bush is None:
        if p.body.assembly == "front-loaded":
            raise _contradiction(
                "the head does not pass the narrow bore in front of it; give [bush], a screwed "
                'bush with that bore, or make it "rear-loaded"',
                "body.assembly",
            )
        return
    if p.body.assembly == "rear-loaded":
        raise _contradiction(
            'the head goes in from the nose before the bush; body.assembly is "front-loaded" with '
            "a [bush]",
            "body.assembly",
        )
    if bush.thread != DERIVED_TEXT:
        major_mm = Thread.find(bush.thread).major_mm
        if major_mm <= p.shoulder.pocket_mm:
            raise _contradiction(
                f"must be larger than the pocket, {p.shoulder.pocket_mm:g}, which is bored through "
                f'it, got "{bush.thread}"',
                "bush.thread",
            )


def _slotted(p: Parameters) -> None:
    """Refuse a slot of a form that what runs in it cannot use."""
    if p.slot is None:
        return
    if p.cross_pin is not None and p.slot.form not in ("", "through"):
        raise _contradiction(
            f'a cross pin runs in a slot right "through"; got "{p.slot.form}"', "slot.form"
        )
    if p.cross_pin is not None and not is_derived(p.slot.depth_mm):
        raise _contradiction(
            "a cross pin's slot goes right through; leave the depth out",
            "slot.depth_mm",
            p.slot.depth_mm,
        )
    if p.set_screw is not None and p.slot.form == "through":
        raise _contradiction(
            'a set screw runs in a "slot" or against a "flat"; a slot right through is for a '
            "[cross_pin]",
            "slot.form",
        )
    if p.slot.form == "flat" and not is_derived(p.slot.width_mm):
        raise _contradiction(
            "a flat is as wide as its depth makes it; leave the width out",
            "slot.width_mm",
            p.slot.width_mm,
        )


def whole_file(parameters: Parameters) -> Parameters:
    """Refuse what contradicts itself from table to table."""
    straight_shank(parameters.mount)
    return half_centre_at_the_springs(bore_of_the_plunger(blind(screwed(kept_in(parameters)))))


def screwed(parameters: Parameters) -> Parameters:
    """Refuse screwed tips that the plunger cannot carry, or of which one could not serve."""
    p, tips = parameters, parameters.screwed_tips
    if tips is None:
        return p
    if p.shoulder is None:
        raise _contradiction(
            "tips screw into the stem of a shouldered plunger: give [shoulder] in place of what "
            "keeps the plunger in, or leave the table out",
            TIPS,
        )
    if p.purpose != "tap follower":
        raise _contradiction(
            f"a {p.purpose} works with a point alone; turn it on the stem and leave the table out",
            TIPS,
        )
    for key, wrong, got in _misfits(tips, p.plunger.diameter_mm):
        raise _contradiction(wrong, f"{TIPS}.{key}", got)
    for n, tip in enumerate(tips.spare):
        if tip.style not in SCREWED_STYLES:
            raise _contradiction(
                f'a screwed tip is a "point", a "countersink", a "ball" or "blank", got '
                f'"{tip.style}"' + _why_not(tip.style),
                f"{TIPS}.spare.{n}.style",
            )
    every = (p.plunger.front, *tips.spare)
    for kind, wrong in (
        (BallTip, "one tip with a ball is enough: make the others points or countersinks"),
        (BlankTip, "one blank tip is enough to finish to suit; give the others a form"),
    ):
        found = [n for n, tip in enumerate(every) if isinstance(tip, kind)]
        if len(found) > 1:
            raise _contradiction(wrong, f"{TIPS}.spare.{found[-1] - 1}.style")
    return p


def _why_not(style: str) -> str:
    return (
        "; a screwed tip comes to rest anywhere about the axis, and its relieved side with it"
        if style == "half centre"
        else ""
    )


Misfit = tuple[str, str, float | None]


def _misfits(tips: ScrewedTips, stem_mm: float) -> Iterator[Misfit]:
    """Yield the keys of sizes that leave nothing between them, what is wrong, and their values."""
    major_mm = Thread.find(tips.thread).major_mm
    thin_mm = stem_mm if is_derived(tips.diameter_mm) else min(stem_mm, tips.diameter_mm)
    within_mm = major_mm + (OVER_THREAD_MM if is_derived(tips.register_mm) else 0.0)
    if within_mm >= thin_mm:
        yield (
            "thread",
            f"stem or tip, {thin_mm:g}, is too thin for it and a register round it; take one of "
            "half the stem's diameter",
            major_mm,
        )
    rules: tuple[tuple[str, float, Callable[[float], bool], str], ...] = (
        (
            "register_mm",
            tips.register_mm,
            lambda mm: mm > major_mm,
            f"must be above the thread's diameter, {major_mm:g}, which passes through it",
        ),
        (
            "register_mm",
            tips.register_mm,
            lambda mm: mm < thin_mm,
            f"must be below stem and tip, {thin_mm:g}, or no face is left to bear",
        ),
        (
            "flats_mm",
            tips.flats_mm,
            lambda mm: mm < thin_mm,
            f"must be below stem and tip, {thin_mm:g}, or nothing is cut",
        ),
        (
            "flats_length_mm",
            tips.flats_length_mm,
            lambda mm: is_derived(tips.length_mm) or mm < tips.length_mm,
            f"must be below the length of the tip, {tips.length_mm:g}",
        ),
    )
    for key, mm, right, wrong in rules:
        if not is_derived(mm) and not right(mm):
            yield key, wrong, mm


def _shank_zone(mount: StraightMount | CombinedMount) -> None:
    """Refuse a zone that is not tabulated for the diameter of a shank."""
    if is_derived(mount.tolerance) or is_derived(mount.diameter_mm):
        return
    try:
        ToleranceZone.limits_um(mount.tolerance, mount.diameter_mm)
    except StandardError as error:
        raise _contradiction(f"{error}; or leave it out", "mount.tolerance") from None
    if ToleranceZone.limits_um(mount.tolerance, mount.diameter_mm)[0] > 0:
        raise _contradiction(
            f'must be a zone of a shaft, such as "h8", got "{mount.tolerance}"', "mount.tolerance"
        )


FLAT_KEYS = ("flat_depth_mm", "flat_length_mm", "flat_position_mm")


def straight_shank(mount: Mount) -> Mount:
    """Refuse a zone that the shank cannot have, and flats that it has not or that pass its axis."""
    if isinstance(mount, StraightMount | CombinedMount):
        _shank_zone(mount)
    if not isinstance(mount, StraightMount):
        return mount
    if mount.flats == "none":
        for key in FLAT_KEYS:
            if not is_derived(getattr(mount, key)):
                raise _contradiction(
                    'the shank has no flats; set flats to "one" or "two", or leave this out',
                    f"mount.{key}",
                    getattr(mount, key),
                )
    if mount.flat_depth_mm >= mount.diameter_mm / 2:
        raise _contradiction(
            f"must be below half of diameter_mm, {mount.diameter_mm / 2:g}",
            "mount.flat_depth_mm",
            mount.flat_depth_mm,
        )
    return mount


CLOSED = {
    TangMount: "a tang closes the rear",
    ArborTaperMount: "the arbor's socket closes the rear",
    ArborThreadMount: "the arbor's thread closes the rear",
}


def chosen_mount(mount: Mount) -> Mount:
    """Refuse a mount for which nothing can be chosen: only through bores are searched."""
    drawbar_thread(mount)
    why = next((why for kind, why in CLOSED.items() if isinstance(mount, kind)), "")
    if why:
        raise _contradiction(
            f"{why}; only tools with a bore right through are chosen, so write a profile with a "
            "[disc] for it",
            "kind",
        )
    return mount


def blind(parameters: Parameters) -> Parameters:
    """Refuse a blind bore where there can be none, or put together from its closed end."""
    p, disc = parameters, parameters.disc
    if disc is None:
        return p
    if isinstance(p.mount, DrawbarMount | OwnDrawbarMount | R8Mount):
        raise _contradiction(
            "the thread of the draw-bar opens the rear, so the springs stand on a [plug]; leave "
            "[disc] out",
            "disc",
        )
    if p.shoulder is not None and p.bush is None:
        raise _contradiction(
            "a plunger with a head goes in from the rear, which a blind bore has not; give it a "
            "[bush] in the nose, or keep it in by [set_screw] or [cross_pin] with [slot]",
            "shoulder",
        )
    if p.body.assembly == "rear-loaded":
        raise _contradiction(
            'a blind bore has no way in from the rear; it is "front-loaded", or leave it out',
            "body.assembly",
        )
    if isinstance(p.mount, ArborThreadMount) and p.mount.register_mm > 0:
        _register(p.mount)
    if disc.vent == "rear" and isinstance(p.mount, ArborTaperMount | ArborThreadMount):
        raise _contradiction(
            'the arbor closes a hole to the rear; take "side", or leave it out', "disc.vent"
        )
    return p


def half_centre_at_the_springs(parameters: Parameters) -> Parameters:
    """Refuse a half centre in a recess: pressed on one side only, the button would tilt."""
    plunger, button = parameters.plunger, parameters.button
    ends = (("front", plunger.front, plunger.rear), ("rear", plunger.rear, plunger.front))
    for side, tip, other in ends:
        pressed = isinstance(tip, HalfCentreTip) and other.style != "plain"
        if pressed and button is not None and button.recess_mm > 0:
            raise _contradiction(
                f"the half centre at the plunger's {side} would tilt a button with a recess; leave "
                "it out for a flat one",
                "button.recess_mm",
                button.recess_mm,
            )
    return parameters


def _register(mount: ArborThreadMount) -> None:
    """Refuse a register that the thread does not pass, or that has no length."""
    major_mm = Thread.find(mount.thread).major_mm
    if mount.register_mm <= major_mm:
        raise _contradiction(
            f"must be above the thread's diameter, {major_mm:g}, or 0 for none",
            "mount.register_mm",
            mount.register_mm,
        )
    if mount.register_length_mm == 0:
        raise _contradiction(
            "a register needs a length: give register_length_mm, or set register_mm to 0",
            "mount.register_length_mm",
        )


def bore_of_the_plunger(parameters: Parameters) -> Parameters:
    """Refuse a fit that is not tabulated for a bore whose diameter is that of the plunger."""
    bore = parameters.bore
    if is_derived(bore.diameter_mm) and bore.limits_um is None:
        try:
            _tabulated(bore, parameters.plunger.diameter_mm)
        except PydanticCustomError as error:
            raise _contradiction(error.message(), "bore.tolerance") from None
    return parameters


def of_purpose(table: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield what of a file does not go with what its tool is for.

    Args:
        table: The parsed file.

    Yields:
        The key, and what is wrong with it; "" where it is missing.
    """
    purpose = table.get("purpose", "tap follower")
    if purpose not in TABLES:
        return
    for other, key in TABLES.items():
        if (key in table) != (other == purpose):
            yield key, "" if other == purpose else f"belongs to a {other}; this is a {purpose}"
    if purpose not in SPINDLES:
        return
    machine, plunger = table.get("machine"), table.get("plunger")
    stands = machine.get("spindle", "vertical") if isinstance(machine, Mapping) else ""
    if stands in ("vertical", "horizontal") and stands != SPINDLES[purpose]:
        where = "in the tailstock of a lathe" if purpose == "support centre" else "under the quill"
        yield (
            "machine.spindle",
            f'must be "{SPINDLES[purpose]}", since a {purpose} works {where}, got "{stands}"',
        )
    for end in ("front", "rear"):
        tip = plunger.get(end) if isinstance(plunger, Mapping) else None
        style = tip.get("style") if isinstance(tip, Mapping) else None
        if isinstance(style, str) and style not in ("point", "plain"):
            yield (
                f"plunger.{end}.style",
                f'must be "point" or "plain", since a {purpose} works with a point alone, got '
                f'"{style}"',
            )
