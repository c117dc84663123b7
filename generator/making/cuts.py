"""What can still be changed on a tool that is partly made: each cut, how far, and at what cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from generator.inputs.measured import Measured
from generator.inputs.parameters import Parameters
from generator.inputs.tables import ConeTip, RetainingScrew
from generator.making.sizes import (
    BODY,
    BUSH,
    BUTTON,
    DISC,
    PLUG,
    PLUNGER,
    SCREW,
    SEPARATOR,
    tips,
    value_at,
)
from generator.model.shank import shank_of
from generator.standards.rows import SetScrew

SETTING, PURCHASE, SMALL, CUT, LARGE = range(5)
"""Costs, the least first: turned with a key, bought, a small part, a cut, a larger part."""

STRIDES: Final = (1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128)
"""How many steps away a change is looked for."""


@dataclass(frozen=True, slots=True)
class Cut:
    """Something that is not made or set yet.

    Attributes:
        path: The parameter.
        part: The part that it is made on.
        what: What it is called.
        drawn_mm: What it is drawn as.
        values_mm: The values to be looked at, nearest first, upward and downward apart.
        step_mm: The grid that a value is rounded to.
        cost: One of the costs.
    """

    path: str
    part: str
    what: str
    drawn_mm: float
    values_mm: tuple[tuple[float, ...], tuple[float, ...]]
    step_mm: float
    cost: int


NOT_CUT: Final = {"flat": "width_mm", "through": "depth_mm"}
"""What follows from the form of the slot and is no size of its own."""

SLOT_KEYS: Final = ("slot_front_mm", "slot_length_mm", "slot_width_mm", "slot_depth_mm")
"""A slot is cut in one setting: when one of these is measured, all are cut."""

WISHES: Final[tuple[tuple[str, str, str, str, float, float, int], ...]] = (
    ("plug.sunk_mm", "plug_sunk_mm", PLUG, "depth below the rear end", 0.05, 6.4, SETTING),
    ("set_screw.gap_mm", "", SCREW, "gap under the tip", 0.05, 0.2, SETTING),
    ("button.thickness_mm", "button_thickness_mm", BUTTON, "thickness", 0.1, 3.2, SMALL),
    ("button.diameter_mm", "button_diameter_mm", BUTTON, "diameter", 0.1, 1.6, SMALL),
    ("separator.thickness_mm", "separator_thickness_mm", SEPARATOR, "thickness", 0.1, 2.4, SMALL),
    ("separator.diameter_mm", "separator_diameter_mm", SEPARATOR, "diameter", 0.1, 1.6, SMALL),
    ("disc.thickness_mm", "disc_thickness_mm", DISC, "thickness", 0.05, 6.4, SMALL),
    ("plug.length_mm", "plug_length_mm", PLUG, "length", 0.1, 4.8, SMALL),
    ("slot.front_mm", "slot_front_mm", PLUNGER, "front tip to slot", 0.05, 6.4, CUT),
    ("slot.length_mm", "slot_length_mm", PLUNGER, "slot length", 0.05, 6.4, CUT),
    ("slot.depth_mm", "slot_depth_mm", PLUNGER, "slot depth", 0.05, 1.6, CUT),
    ("slot.width_mm", "slot_width_mm", PLUNGER, "slot width", 0.1, 1.6, CUT),
    ("plunger.length_mm", "plunger_length_mm", PLUNGER, "length over all", 0.05, 6.4, CUT),
    ("set_screw.position_mm", "screw_position_mm", BODY, "screw hole", 0.05, 6.4, LARGE),
    ("cross_pin.position_mm", "pin_position_mm", BODY, "pin hole", 0.05, 6.4, LARGE),
    ("shoulder.tail_length_mm", "tail_length_mm", PLUNGER, "length of the tail", 0.05, 6.4, CUT),
    ("shoulder.stem_mm", "stem_mm", PLUNGER, "tip to head", 0.05, 6.4, CUT),
    ("shoulder.head_length_mm", "head_length_mm", PLUNGER, "length of the head", 0.1, 3.2, CUT),
    ("shoulder.head_diameter_mm", "head_diameter_mm", PLUNGER, "head", 0.1, 1.6, CUT),
    ("shoulder.tail_diameter_mm", "tail_diameter_mm", PLUNGER, "tail", 0.1, 1.6, CUT),
    ("shoulder.pocket_mm", "pocket_mm", BODY, "spring pocket", 0.1, 1.6, LARGE),
    ("shoulder.guide_mm", "guide_length_mm", BODY, "nose face to the step", 0.1, 6.4, LARGE),
    ("bush.flange_mm", "flange_mm", BUSH, "thickness of the flange", 0.1, 1.6, SMALL),
    ("body.nose_length_mm", "nose_length_mm", BODY, "nose length", 0.1, 12.8, LARGE),
    ("body.nose_diameter_mm", "nose_diameter_mm", BODY, "nose diameter", 0.1, 6.4, LARGE),
)
"""Parameter, key that says it is made, part, name, grid, farthest change, cost."""


def cuts(p: Parameters, measured: Measured) -> tuple[Cut, ...]:
    """Return what can still be changed, the cheapest first.

    Args:
        p: The parameters of the tool as it is made so far.
        measured: What was measured: that is made.
    """
    made = {key for key in NAMED_KEYS if getattr(measured, key) is not None}
    if made & set(SLOT_KEYS):
        made |= set(SLOT_KEYS)
    found = [
        _cut(p, path, part, what, step_mm, most_mm, cost)
        for path, key, part, what, step_mm, most_mm, cost in WISHES
        if key not in made and _present(p, path) and not _same_bar(p, path)
    ]
    found += _ends(p, made)
    if p.set_screw is not None and "screw_length_mm" not in made:
        found += _screws(p.set_screw)
    extension = shank_of(p.mount).extension
    if extension is not None and not made & {"body_length_mm"}:
        found.append(_cut(p, extension.keys[1], BODY, "length of the extension", 0.1, 6.4, LARGE))
    return tuple(sorted(found, key=lambda cut: cut.cost))


NAMED_KEYS: Final = tuple(
    field for field in Measured.__dataclass_fields__ if field not in ("tool", "springs", "scale")
)


def _present(p: Parameters, path: str) -> bool:
    table = path.split(".")[0]
    if p.slot is not None and path == f"slot.{NOT_CUT.get(p.slot.form)}":
        return False
    if p.shoulder is not None and path == "plunger.length_mm":
        return False
    if table == "separator":
        return p.separator is not None and len(p.springs) > 1
    return getattr(p, table) is not None


def _same_bar(p: Parameters, path: str) -> bool:
    """Tell whether a nose is one with a straight shank, so that neither has a length of its own."""
    straight = shank_of(p.mount).taper is None
    return straight and path == "body.nose_diameter_mm"


def _cut(
    p: Parameters, path: str, part: str, what: str, step_mm: float, most_mm: float, cost: int
) -> Cut:
    drawn_mm = value_at(p, path)
    offsets = [stride * step_mm for stride in STRIDES if stride * step_mm <= most_mm + 1e-9]
    more = tuple(round(drawn_mm + each, 6) for each in offsets)
    less = tuple(value for each in offsets if (value := round(drawn_mm - each, 6)) >= step_mm)
    return Cut(path, part, what, drawn_mm, (more, less), step_mm, cost)


def _ends(p: Parameters, made: set[str]) -> Iterator[Cut]:
    """Yield the sizes of the plunger's ends."""
    for side, tip in tips(p):
        is_point = isinstance(tip, ConeTip)
        name = "flat_mm" if is_point else "mouth_mm"
        if f"{side}_{name}" not in made:
            what = f"{'flat' if is_point else 'mouth'} of the {side} end"
            yield _cut(p, f"plunger.{side}.{name}", PLUNGER, what, 0.1, 1.6, CUT)
            if not is_point:
                path = f"plunger.{side}.pilot_depth_mm"
                yield _cut(p, path, PLUNGER, f"pilot of the {side} end", 0.1, 1.6, CUT)


def _screws(screw: RetainingScrew) -> Iterator[Cut]:
    """Yield the stocked lengths of the set screw."""
    row = {each.name: each for each in SetScrew.rows()}.get(screw.thread)
    if row is None or screw.point not in row.points:
        return
    lengths_mm = row.lengths_mm(screw.point)
    more = tuple(each for each in lengths_mm if each > screw.length_mm)
    less = tuple(each for each in reversed(lengths_mm) if each < screw.length_mm)
    yield Cut(
        "set_screw.length_mm",
        SCREW,
        "length, another stocked screw",
        screw.length_mm,
        (more, less),
        0.0,
        PURCHASE,
    )
