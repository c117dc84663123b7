"""The sizes of a tool that are measured: limits, and the parameter that each stands for."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Final, Literal, TypeVar, cast

from generator.formulas.spring import outside_minus_mm, outside_tolerance_mm
from generator.inputs.measured import measurable
from generator.inputs.parameters import Parameters
from generator.inputs.tables import ConeTip, RetainingScrew, SunkTip
from generator.model import bush as bushes
from generator.model import parts
from generator.model.fits import Limits
from generator.model.limit_sizes import least_tip_mm, off_mm
from generator.model.shank import shank_of
from generator.model.tool import Tool, register_limits
from generator.standards.rows import SetScrew
from generator.use.bands import Span

Metal = Literal["over", "under", "none"]
Nested = TypeVar("Nested")

STAND_OUT_MM: Final = 0.5
"""What a taper may stand deeper in or further out than tabulated; engineering judgement. It is
0.025 on the diameter of a Morse taper."""

PIN_OFF_MM: Final = 0.01
"""What a dowel or ground bar for a pin may be off, near enough; engineering judgement."""

FAR_SHARE: Final = 2.0
"""Run-out allowed 50 mm out of the nose over that at the nose; engineering judgement."""

BODY: Final = "body"
PLUNGER: Final = "plunger"
PLUG: Final = "plug"
DISC: Final = "disc"
BUSH: Final = "nose bush"
BUTTON: Final = "button"
SEPARATOR: Final = "separator"
SCREW: Final = "set screw"
SPRINGS: Final = "springs"
PIN: Final = "cross pin"


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A size that is measured.

    Attributes:
        key: Its key in the file of measured sizes, such as "slot_length_mm".
        part: What it is measured on.
        what: What it is called.
        path: The parameter that it stands for; "" where it stands for none.
        limits: Its nominal, least and greatest.
        metal: Whether metal is still on when it is "over" its limits or "under" them; "none" where
            nothing can be cut to bring it right.
    """

    key: str
    part: str
    what: str
    path: str
    limits: Span
    metal: Metal

    def verdict(self, value: float) -> Literal["in", "rework", "over"]:
        """Tell whether a value is within the limits, can be cut to them, or is beyond."""
        if self.limits.least - 1e-9 <= value <= self.limits.greatest + 1e-9:
            return "in"
        side = "over" if value > self.limits.greatest else "under"
        return "rework" if side == self.metal else "over"


NAMES: Final[dict[str, tuple[str, str, str, Metal]]] = {
    "stand_out_mm": (BODY, "stand-out of the taper", "", "over"),
    "shank_diameter_mm": (BODY, "shank diameter", "mount.diameter_mm", "over"),
    "extension_diameter_mm": (BODY, "extension diameter", "mount.extension_diameter_mm", "over"),
    "nose_diameter_mm": (BODY, "nose diameter", "body.nose_diameter_mm", "over"),
    "nose_length_mm": (BODY, "nose length", "body.nose_length_mm", "over"),
    "body_length_mm": (BODY, "length over all", "", "over"),
    "bore_mm": (BODY, "bore", "bore.diameter_mm", "under"),
    "runout_nose_mm": (BODY, "run-out of the bore at the nose", "", "none"),
    "runout_50_mm": (BODY, "run-out 50 mm out of the nose", "", "none"),
    "screw_position_mm": (BODY, "screw hole from the nose face", "set_screw.position_mm", "none"),
    "pin_position_mm": (BODY, "pin hole from the nose face", "cross_pin.position_mm", "none"),
    "guide_length_mm": (BODY, "nose face to the step", "shoulder.guide_mm", "over"),
    "pocket_mm": (BODY, "spring pocket", "shoulder.pocket_mm", "under"),
    "bottom_mm": (BODY, "nose face to the bottom of the bore", "disc.bottom_mm", "under"),
    "register_mm": (BODY, "register for the bush", "", "under"),
    "register_depth_mm": (BODY, "depth of the register", "", "under"),
    "nose_thread_mm": (BODY, "full thread in the nose", "", "under"),
    "spigot_mm": (BUSH, "spigot", "", "over"),
    "flange_mm": (BUSH, "thickness of the flange", "bush.flange_mm", "over"),
    "rear_thread_mm": (BODY, "full thread at the rear", "plug.tapped_mm", "under"),
    "plunger_mm": (PLUNGER, "diameter of the bar", "plunger.diameter_mm", "none"),
    "plunger_length_mm": (PLUNGER, "length over all", "plunger.length_mm", "over"),
    "front_flat_mm": (PLUNGER, "flat of the front point", "plunger.front.flat_mm", "under"),
    "front_mouth_mm": (PLUNGER, "mouth of the front end", "plunger.front.mouth_mm", "under"),
    "rear_flat_mm": (PLUNGER, "flat of the rear point", "plunger.rear.flat_mm", "under"),
    "rear_mouth_mm": (PLUNGER, "mouth of the rear end", "plunger.rear.mouth_mm", "under"),
    "slot_front_mm": (PLUNGER, "front tip to slot", "slot.front_mm", "none"),
    "slot_length_mm": (PLUNGER, "slot length", "slot.length_mm", "under"),
    "slot_width_mm": (PLUNGER, "slot width", "slot.width_mm", "under"),
    "slot_depth_mm": (PLUNGER, "slot depth", "slot.depth_mm", "under"),
    "stem_mm": (PLUNGER, "tip to head", "shoulder.stem_mm", "over"),
    "head_diameter_mm": (PLUNGER, "diameter of the head", "shoulder.head_diameter_mm", "over"),
    "head_length_mm": (PLUNGER, "length of the head", "shoulder.head_length_mm", "over"),
    "tail_diameter_mm": (PLUNGER, "diameter of the tail", "shoulder.tail_diameter_mm", "over"),
    "tail_length_mm": (PLUNGER, "length of the tail", "shoulder.tail_length_mm", "over"),
    "plug_length_mm": (PLUG, "length", "plug.length_mm", "over"),
    "plug_sunk_mm": (PLUG, "depth below the rear end", "plug.sunk_mm", "none"),
    "disc_diameter_mm": (DISC, "diameter", "disc.diameter_mm", "over"),
    "disc_thickness_mm": (DISC, "thickness", "disc.thickness_mm", "over"),
    "button_diameter_mm": (BUTTON, "diameter", "button.diameter_mm", "over"),
    "button_thickness_mm": (BUTTON, "thickness", "button.thickness_mm", "over"),
    "separator_diameter_mm": (SEPARATOR, "diameter", "separator.diameter_mm", "over"),
    "separator_thickness_mm": (SEPARATOR, "thickness", "separator.thickness_mm", "over"),
    "screw_tip_mm": (SCREW, "diameter of the tip", "set_screw.tip_mm", "over"),
    "screw_tip_length_mm": (SCREW, "length of the tip", "set_screw.tip_length_mm", "none"),
    "screw_length_mm": (SCREW, "length", "set_screw.length_mm", "over"),
    "pin_mm": (PIN, "diameter", "cross_pin.diameter_mm", "none"),
    "pin_length_mm": (PIN, "length", "cross_pin.length_mm", "over"),
}
"""Part, name, parameter, and on which side of its limits metal is still on."""


BUSHED: Final = {"bore_mm": "bore", "guide_length_mm": "seat of the flange to the rear end"}
"""What a nose bush has in the body's place, and what it is called there."""


def keys_of(part: str, *, bushed: bool) -> tuple[str, ...]:
    """Return the keys of what is measured on a part, of a tool with a nose bush or without."""
    return tuple(
        key for key, row in NAMES.items() if part == (BUSH if bushed and key in BUSHED else row[0])
    )


def sizes(tool: Tool) -> tuple[Size, ...]:
    """Return the sizes of a tool that are measured one by one, in the order of the file."""
    return tuple(_size(tool, key) for key in measurable(tool.parameters))


def spring_sizes(tool: Tool) -> Iterator[Size]:
    """Yield the sizes of the springs, with the tolerances that the profile assumes.

    The solid length has a greatest only: that which the checks count with.
    """
    assumed = tool.parameters.assumptions
    for one in tool.in_place:
        spring, key = one.spring, one.key
        rate_share = 0.0 if spring.measured else assumed.rate_percent / 100
        rate, free_mm = spring.rate_N_per_mm, spring.free_mm
        free_off_mm = free_mm * assumed.free_percent / 100
        spans = {
            "free_mm": Span(free_mm - free_off_mm, free_mm, free_mm + free_off_mm),
            "outside_mm": Span(
                spring.outside_mm - outside_minus_mm(outside_mm=spring.outside_mm),
                spring.outside_mm,
                spring.outside_mm + outside_tolerance_mm(outside_mm=spring.outside_mm),
            ),
            "solid_mm": Span(0.0, spring.solid_mm, spring.longest_solid_mm),
            "rate_N_per_mm": Span(rate * (1 - rate_share), rate, rate * (1 + rate_share)),
        }
        what = {
            "free_mm": "free length",
            "outside_mm": "outside diameter",
            "solid_mm": "solid length",
            "rate_N_per_mm": "rate",
        }
        for name, span in spans.items():
            yield Size(
                key=f"{key}.{name}",
                part=SPRINGS,
                what=f"{one.label}: {what[name]}" if len(tool.in_place) > 1 else what[name],
                path=f"{key}.{'cut_to_mm' if name == 'free_mm' and spring.bought else name}",
                limits=span,
                metal="over" if name == "free_mm" and spring.bought else "none",
            )


def _size(tool: Tool, key: str) -> Size:
    part, what, path, metal = NAMES[key]
    if key == "plunger_mm" and tool.parameters.shoulder is not None:
        what, metal = "diameter of the stem", "over"
    if key == "stem_mm" and tool.tips:
        what = "front face to head"
    if tool.bush is not None and key in BUSHED:
        part, what = BUSH, BUSHED[key]
    return Size(key=key, part=part, what=what, path=path, limits=_span(tool, key), metal=metal)


def _span(tool: Tool, key: str) -> Span:
    """Return the limits of a size as the sheets and standards give them."""
    p = tool.parameters
    match key:
        case "bore_mm":
            return span_of(tool.bore_limits)
        case "plunger_mm":
            return span_of(tool.plunger_limits)
        case "stand_out_mm":
            nominal_mm = shank_of(p.mount).stand_out_mm
            return Span(nominal_mm - STAND_OUT_MM, nominal_mm, nominal_mm + STAND_OUT_MM)
        case "runout_nose_mm":
            return Span(0.0, 0.0, p.making.runout_mm)
        case "runout_50_mm":
            return Span(0.0, 0.0, FAR_SHARE * p.making.runout_mm)
        case "shank_diameter_mm" if (behind := shank_of(p.mount).cylinder) and behind.limits:
            return span_of(behind.limits)
        case "body_length_mm":
            return _general(p, parts.body_length_mm(p))
        case "register_mm" if p.bush is not None:
            return span_of(register_limits(p.bush)[0])
        case "spigot_mm" if p.bush is not None:
            return span_of(register_limits(p.bush)[1])
        case "register_depth_mm" if p.bush is not None:
            return _general(p, bushes.register_depth_mm(p.bush))
        case "nose_thread_mm" if p.bush is not None:
            full_mm = bushes.full_thread_mm(p, p.bush)
            return Span(full_mm, full_mm, bushes.hole_depth_mm(p, p.bush))
        case "rear_thread_mm":
            full_mm = parts.rear_full_thread_mm(p)
            return Span(full_mm, full_mm, parts.rear_hole_depth_mm(p))
        case "slot_depth_mm" if p.slot is not None:
            return _about(p.slot.depth_mm, p.making.slot_depth_tolerance_mm)
        case "plug_sunk_mm" if p.plug is not None:
            return _about(p.plug.sunk_mm, p.assumptions.plug_mm)
        case "pin_mm" if p.cross_pin is not None:
            return _about(p.cross_pin.diameter_mm, PIN_OFF_MM)
        case "screw_tip_mm" if p.set_screw and least_tip_mm(p.set_screw) < p.set_screw.tip_mm:
            return Span(least_tip_mm(p.set_screw), p.set_screw.tip_mm, p.set_screw.tip_mm)
        case "screw_tip_length_mm" if p.set_screw is not None:
            return _tip_length(p, p.set_screw)
        case _:
            return _general(p, value_at(p, NAMES[key][2]))


def span_of(limits: Limits) -> Span:
    """Return limits of size as a span; a nominal size beyond them is brought to the nearer one."""
    least_mm, greatest_mm = (
        limits.nominal_mm + each / 1000 for each in (limits.lower_um, limits.upper_um)
    )
    return Span(least_mm, min(max(limits.nominal_mm, least_mm), greatest_mm), greatest_mm)


def _about(nominal_mm: float, off_mm: float) -> Span:
    return Span(max(0.0, nominal_mm - off_mm), nominal_mm, nominal_mm + off_mm)


def _general(p: Parameters, nominal_mm: float) -> Span:
    """Return a size with the general tolerance of the sheets; none is tabulated for 0."""
    return _about(nominal_mm, off_mm(p, nominal_mm) if nominal_mm > 0 else 0.0)


def _tip_length(p: Parameters, screw: RetainingScrew) -> Span:
    """Return the length of the screw's tip: from the least of its standard to the greatest."""
    length_mm = screw.tip_length_mm
    row = {each.name: each for each in SetScrew.rows()}.get(screw.thread)
    if row is None or screw.point not in row.points:
        return _general(p, length_mm)
    if screw.point == "dog long" and length_mm == row.long_dog_least_mm:
        return Span(length_mm, length_mm, row.long_dog_greatest_mm or length_mm)
    if screw.point == "dog short" and length_mm == row.short_dog_least_mm:
        return Span(length_mm, length_mm, row.short_dog_greatest_mm)
    return _general(p, length_mm)


_STEP: Final = re.compile(r"([a-z_A-Z]+)(?:\[(\d+)\])?")


def value_at(p: Any, path: str) -> float:
    """Return the number under a dotted key of the parameters, such as "springs[1].free_mm"."""
    here = p
    for name, place in _STEP.findall(path):
        here = getattr(here, name)
        if place:
            here = here[int(place) - 1]
    return float("nan") if here is None else float(here)


def with_value(node: Nested, path: str, value: object) -> Nested:
    """Return parameters with another value under a dotted key."""
    head, _, rest = path.partition(".")
    found = _STEP.fullmatch(head)
    assert found is not None
    name, place = found.groups()
    inner = getattr(node, name)
    if place:
        entry = int(place) - 1
        changed = value if not rest else with_value(inner[entry], rest, value)
        value = (*inner[:entry], changed, *inner[entry + 1 :])
    elif rest:
        value = with_value(inner, rest, value)
    return cast("Nested", replace(cast("Any", node), **{name: value}))


def tips(p: Parameters) -> Iterator[tuple[str, ConeTip | SunkTip]]:
    """Yield the two ends of the plunger that are worked, by their side."""
    for side, tip in (("front", p.plunger.front), ("rear", p.plunger.rear)):
        if isinstance(tip, ConeTip | SunkTip):
            yield side, tip
