"""The sheets of a tool: assembly, exploded view, body, plunger, and the small parts together."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from hashlib import sha256
from typing import Final

from generator.checks.finding import Finding, Verdict
from generator.documents.assembly_sheet import assembly_sheet
from generator.documents.bill import stock_text
from generator.documents.drawing import Drawing
from generator.documents.exploded_sheet import exploded_sheet
from generator.documents.numerals import general, limits_text, plus_minus, size_text
from generator.documents.part_notes import PartNotes, Runout
from generator.documents.part_sheet import part_sheet
from generator.documents.tip_sheets import end_notes, register_tolerance, tip_notes
from generator.documents.title_block import Header
from generator.documents.unverified import unverified
from generator.documents.warned import WARNINGS
from generator.inputs.parameters import Parameters
from generator.model import parts
from generator.model.bush import BUSH_RUNOUT_MM
from generator.model.milled import key_width, over_flat
from generator.model.part import Part
from generator.model.parts import second_plug_mm
from generator.model.shank import Shank, shank_of
from generator.model.tool import Tool, register_limits, trued_mm

FITTED_RA_UM = 0.8
FINISH = "bright, oiled"
"""Common practice, no source."""


def parameters_hash(tool: Tool) -> str:
    """Return twelve hexadecimal digits that change with any parameter."""
    return sha256(repr(tool.parameters).encode()).hexdigest()[:12]


def header(
    tool: Tool, findings: tuple[Finding, ...], title: str, number: int = 1, of: int = 1
) -> Header:
    """Return what the title block of a sheet says of the tool."""
    making = tool.parameters.making
    changed = {f.limit.name: f.limit for f in findings if f.limit.changed}
    return Header(
        tool=tool.parameters.title,
        title=title,
        revision=making.revision,
        parameters_hash=parameters_hash(tool),
        failed=tuple(f.check for f in findings if f.verdict is Verdict.FAIL),
        changed=tuple(changed),
        warning=WARNINGS.get(tool.parameters.purpose, ""),
        projection=making.projection,
        general_tolerance=making.general_tolerance,
        sheets=making.sheets,
        unit=making.units,
        number=number,
        of=of,
    )


def tool_sheets(tool: Tool, findings: tuple[Finding, ...]) -> tuple[Drawing, ...]:
    """Return every sheet of a tool, the assembly first.

    Raises:
        ExportError: If a part fits on no sheet.
    """
    small = [_abutment_notes(tool)]
    own = (*tool.tips, tool.bush)
    small += [_disc_notes(tool, part) for part in tool.made_parts[3:] if part not in own]
    titles = [each.part.title for each in small]
    small_title = titles[0] if len(titles) == 1 else ", ".join(titles).capitalize()
    sheets: tuple[tuple[str, Callable[[Header], Drawing]], ...] = (
        ("Assembly", lambda head: assembly_sheet(tool, head)),
        ("Exploded view", lambda head: exploded_sheet(tool, head)),
        ("Body", lambda head: part_sheet([_body_notes(tool)], head)),
        ("Plunger", lambda head: part_sheet([_plunger_notes(tool)], head)),
        *_bush_sheet(tool),
        (small_title, lambda head: part_sheet(small, head, tool.abutment.name)),
        *(
            (part.title, partial(part_sheet, [tip_notes(tool, n, _stock(tool, part))]))
            for n, part in enumerate(tool.tips)
        ),
    )
    return tuple(
        draw(header(tool, findings, title, number, len(sheets)))
        for number, (title, draw) in enumerate(sheets, 1)
    )


def _bush_sheet(tool: Tool) -> Iterator[tuple[str, Callable[[Header], Drawing]]]:
    """Yield the sheet of the nose bush, if there is one."""
    bush = tool.bush
    if bush is not None:
        yield bush.title, lambda head: part_sheet([_bush_notes(tool, bush)], head)


def _stock(tool: Tool, part: Part, quantity: int = 1) -> str:
    """Return the bar of a part; bars are in millimetres, which a sheet in inches must say."""
    unit = " mm" if tool.parameters.making.units == "inch" else ""
    return stock_text(part, quantity) + unit


def _body_notes(tool: Tool) -> PartNotes:
    p = tool.parameters
    shank = shank_of(p.mount)
    mount = shank.fitted
    doubtful = tuple(
        f"From memory, unverified: {each.subject}, {each.text}."
        for each in unverified(tool, ())
        if each.subject.startswith(("taper", "thread", "tang", "arbor"))
    )
    return PartNotes(
        tool.body,
        stock=_stock(tool, tool.body),
        tolerances=_body_tolerances(tool),
        roughness_um=dict.fromkeys((_trued(tool), mount, *_guided(shank)), FITTED_RA_UM),
        runout={_trued(tool): Runout(trued_mm(tool), mount)},
        notes=(
            _fitting(tool),
            *_rear_notes(tool),
            *_hole_note(tool),
            *_lock_note(tool),
            _bevels_note(tool),
            *doubtful,
        ),
        finish=FINISH,
        unit=p.making.units,
    )


def _guided(shank: Shank) -> tuple[str, ...]:
    """Return the surface behind a taper that the spindle guides, if there is one."""
    behind = shank.cylinder
    return () if behind is None or behind.surface != "parallel body" else (behind.surface,)


def _body_tolerances(tool: Tool) -> dict[str, str]:
    """Return the tolerances of the body's sizes, by the name of what has them."""
    unit, behind = tool.parameters.making.units, shank_of(tool.parameters.mount).cylinder
    found = _fits(tool, "body")
    if behind is not None and behind.limits is not None:
        found[behind.surface] = limits_text(behind.limits, unit)
    over = over_flat(tool)
    if over is not None:
        found["over flat"] = limits_text(over, unit)
    key = key_width(tool)
    if key is not None:
        found["slot width"] = limits_text(key, unit)
    return found


FITTING: Final = {
    "taper": "Taper: blue in its socket; contact over 75 % or more, never at the small end alone.",
    "socket taper": "Socket: blue on its arbor; contact over 75 % or more, heavier at the mouth.",
    "arbor register": "Register and thread in one setting, true to the bore; the arbor's shoulder "
    "is to bear on the rear face.",
    "barrel": "Outside, thread and rear face in one setting, true to the bore; the arbor's "
    "shoulder is to bear on the rear face.",
}
"""The same for each surface but a shank."""


def _fitting(tool: Tool) -> str:
    """Return what is to be minded at the surface that sits in the machine."""
    mount = shank_of(tool.parameters.mount).fitted
    if mount == "shank":
        return f"Shank: turn in one setting with the {_trued(tool)}, or from it."
    return FITTING[mount]


def _rear_notes(tool: Tool) -> Iterator[str]:
    """Yield what is to be minded of what is milled, and behind a blind bore."""
    p, shank = tool.parameters, shank_of(tool.parameters.mount)
    unit = general(p.making.units)
    if shank.tang is not None:
        tang = shank.tang
        sizes = (tang.thickness_mm, tang.flat_mm, tang.root_radius_mm)
        thick, long, root = (size_text(each, unit) for each in sizes)
        yield (
            f"Tang: two flats {thick} apart and {long} long, the axis in their middle; cutter "
            f"radius at their root {root} at most."
        )
    cut = shank.milled
    if _guided(shank):
        yield "Cone and parallel body in one setting; the body slides in the spindle without play."
    if cut is not None and cut.both:
        yield "Two flats, opposite each other; the first on the side of the screw hole or pin."
    if cut is not None and cut.open:
        yield "Slot for the spindle's key: open at the rear, its middle on the axis; no burr."
    if p.disc is not None:
        yield "Bore: the last 3 may stay at drill size; the disc stands on the drill's cone."


def _trued(tool: Tool) -> str:
    """Return the surface of the body that runs true with the mount: bore, or register."""
    return "bore" if tool.bush is None else "register"


def _fits(tool: Tool, name: str) -> dict[str, str]:
    """Return the limits of the fitted surfaces of the body or of the nose bush."""
    unit, bush = tool.parameters.making.units, tool.parameters.bush
    bore = {"bore": limits_text(tool.bore_limits, unit)}
    if bush is None:
        return bore
    register, spigot = (limits_text(each, unit) for each in register_limits(bush))
    return {"register": register} if name == "body" else {**bore, "spigot": spigot}


def _bush_notes(tool: Tool, bush: Part) -> PartNotes:
    unit = tool.parameters.making.units
    return PartNotes(
        bush,
        stock=_stock(tool, bush),
        tolerances=_fits(tool, bush.name),
        roughness_um=dict.fromkeys(("bore", "spigot"), FITTED_RA_UM),
        runout={"bore": Runout(BUSH_RUNOUT_MM, "spigot")},
        notes=(
            "Bore, spigot, thread and the seat of the flange in one setting.",
            "Seat of the flange square: blued against the nose it marks all round.",
            "The thread only holds: it must turn home by hand with play to feel.",
        ),
        finish=FINISH,
        unit=unit,
    )


def _hole_note(tool: Tool) -> tuple[str, ...]:
    """Return what is to be known of the hole across the nose, or of the step without one."""
    p = tool.parameters
    if p.set_screw is not None:
        return ("Screw hole through one wall only; mark the nose beside it.",)
    if p.cross_pin is not None:
        return ("Pin hole square to the bore and across its middle; deburr the bore.",)
    if tool.bush is not None:
        return (
            "Register, nose face and nose thread in one setting; the bush is fitted, not forced.",
        )
    return ("Step square and sharp in the corner: the head must rest on it all round.",)


def _lock_note(tool: Tool) -> tuple[str, ...]:
    """Return that the maker adds a lock screw, where the file says so."""
    support = tool.parameters.support
    if support is None or support.lock == "none":
        return ()
    return (
        "Lock screw, not drawn: a second tapped hole, a quarter of a turn from the first, with a "
        "brass pad under the screw.",
    )


def _bevels_note(tool: Tool) -> str:
    """Return what the bevels are for: not centre holes of ISO 6411, yet the part runs on them."""
    found = [end for end in ("front", "rear") if tool.body.outline.has(f"{end} bevel")]
    reamed = "deburr, pass the reamer by hand." if tool.bush is None else "deburr."
    match found:
        case ["front", "rear"]:
            return f"Both 60° bevels are the centres to turn and check between: keep; {reamed}"
        case [end]:
            return f"The 60° bevel at the {end} is the centre to run on: keep; {reamed}"
        case _:
            return reamed.capitalize()


def _plunger_notes(tool: Tool) -> PartNotes:
    p = tool.parameters
    unit = p.making.units
    ends = dict(zip(("front", "rear"), parts.plunger_ends(p), strict=True))
    if p.screwed_tips is not None:
        del ends["front"]
    fitted = [f"{side} {end.cone}" for side, end in ends.items() if end.cone]
    if p.screwed_tips is not None:
        fitted.append("tip register")
    off_mm = 2 * p.alignment.cone_mm / (1 if p.screwed_tips is None else 2)
    return PartNotes(
        tool.plunger,
        stock=_stock(tool, tool.plunger),
        tolerances={
            "guide": limits_text(tool.plunger_limits, unit),
            "slot depth": plus_minus(p.making.slot_depth_tolerance_mm, unit),
            **register_tolerance(p),
        },
        roughness_um=dict.fromkeys(("guide", *fitted), FITTED_RA_UM),
        runout=dict.fromkeys(fitted, Runout(off_mm, "guide")),
        notes=(
            *_plunger_making(p),
            *(note for side, end in ends.items() for note in end_notes(side, end, unit)),
        ),
        finish=FINISH,
        unit=unit,
    )


def _plunger_making(p: Parameters) -> tuple[str, ...]:
    """Return what is to be minded in making the plunger."""
    if p.shoulder is None:
        return (
            "Finished bar; do not turn the outside.",
            "Both ends in one collet setting each; deburr the slot, relieve its ends.",
            "Mark which end is drawn at the right.",
        )
    square = "Head square to the stem: blued against the step it marks all round."
    if p.screwed_tips is None:
        return "Stem, tip and front of the head in one setting.", square
    return (
        "Stem, register, thread and front face in one setting.",
        "Front face square and whole: every tip bears on it. Break its edge lightly.",
        square,
    )


def _abutment_notes(tool: Tool) -> PartNotes:
    quantity = 2 if second_plug_mm(tool.parameters) else 1
    return _small_notes(tool, tool.abutment, quantity)


def _disc_notes(tool: Tool, part: Part) -> PartNotes:
    quantity = len(tool.springs) - 1 if part is tool.separator else 1
    return _small_notes(tool, part, quantity)


def _small_notes(tool: Tool, part: Part, quantity: int) -> PartNotes:
    return PartNotes(
        part,
        stock=_stock(tool, part, quantity),
        quantity=quantity,
        finish=FINISH,
        unit=tool.parameters.making.units,
    )
