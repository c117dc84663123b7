"""The sheets of a tool: assembly, exploded view, body, plunger, and the small parts together."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from hashlib import sha256

from generator.checks.finding import Finding, Verdict
from generator.documents.assembly_sheet import assembly_sheet
from generator.documents.bill import stock_text
from generator.documents.drawing import Drawing, Unit
from generator.documents.exploded_sheet import exploded_sheet
from generator.documents.numerals import general, limits_text, plus_minus, size_text
from generator.documents.part_notes import PartNotes, Runout
from generator.documents.part_sheet import part_sheet
from generator.documents.title_block import Header
from generator.documents.unverified import unverified
from generator.documents.warned import WARNINGS
from generator.inputs.tables import StraightMount
from generator.model import parts
from generator.model.part import Part
from generator.model.parts import second_plug_mm
from generator.model.tips import End
from generator.model.tool import Tool

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
    small = [_plug_notes(tool)]
    small += [_disc_notes(tool, part) for part in tool.made_parts[3:]]
    titles = [each.part.title for each in small]
    small_title = titles[0] if len(titles) == 1 else ", ".join(titles).capitalize()
    sheets: tuple[tuple[str, Callable[[Header], Drawing]], ...] = (
        ("Assembly", lambda head: assembly_sheet(tool, head)),
        ("Exploded view", lambda head: exploded_sheet(tool, head)),
        ("Body", lambda head: part_sheet([_body_notes(tool)], head)),
        ("Plunger", lambda head: part_sheet([_plunger_notes(tool)], head)),
        (small_title, lambda head: part_sheet(small, head, "plug")),
    )
    return tuple(
        draw(header(tool, findings, title, number, len(sheets)))
        for number, (title, draw) in enumerate(sheets, 1)
    )


def _stock(tool: Tool, part: Part, quantity: int = 1) -> str:
    """Return the bar of a part; bars are in millimetres, which a sheet in inches must say."""
    unit = " mm" if tool.parameters.making.units == "inch" else ""
    return stock_text(part, quantity) + unit


def _body_notes(tool: Tool) -> PartNotes:
    p = tool.parameters
    mount = "shank" if isinstance(p.mount, StraightMount) else "taper"
    fitting = (
        "Shank: turn in one setting with the bore, or from it."
        if mount == "shank"
        else "Taper: blue in its socket; contact over 75 % or more, never at the small end alone."
    )
    doubtful = tuple(
        f"From memory, unverified: {each.subject}, {each.text}."
        for each in unverified(tool, ())
        if each.subject.startswith(("taper", "thread"))
    )
    return PartNotes(
        tool.body,
        stock=_stock(tool, tool.body),
        tolerances={"bore": limits_text(tool.bore_limits, p.making.units)},
        roughness_um={"bore": FITTED_RA_UM, mount: FITTED_RA_UM},
        runout={"bore": Runout(p.making.runout_mm, mount)},
        notes=(
            fitting,
            *_hole_note(tool),
            *_lock_note(tool),
            _bevels_note(tool.body),
            *doubtful,
        ),
        finish=FINISH,
        unit=p.making.units,
    )


def _hole_note(tool: Tool) -> tuple[str, ...]:
    """Return what is to be known of the hole across the nose, or of the step without one."""
    p = tool.parameters
    if p.set_screw is not None:
        return ("Screw hole through one wall only; mark the nose beside it.",)
    if p.cross_pin is not None:
        return ("Pin hole square to the bore and across its middle; deburr the bore.",)
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


def _bevels_note(body: Part) -> str:
    """Return what the bevels are for: not centre holes of ISO 6411, yet the part runs on them."""
    found = [end for end in ("front", "rear") if body.outline.has(f"{end} bevel")]
    reamed = "deburr, pass the reamer by hand."
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
    cones = [f"{side} {end.cone}" for side, end in ends.items() if end.cone]
    return PartNotes(
        tool.plunger,
        stock=_stock(tool, tool.plunger),
        tolerances={
            "guide": limits_text(tool.plunger_limits, unit),
            "slot depth": plus_minus(p.making.slot_depth_tolerance_mm, unit),
        },
        roughness_um=dict.fromkeys(("guide", *cones), FITTED_RA_UM),
        runout=dict.fromkeys(cones, Runout(2 * p.alignment.cone_mm, "guide")),
        notes=(
            *(
                (
                    "Finished bar; do not turn the outside.",
                    "Both ends in one collet setting each; deburr the slot, relieve its ends.",
                    "Mark which end is drawn at the right.",
                )
                if p.shoulder is None
                else (
                    "Stem, tip and front of the head in one setting.",
                    "Head square to the stem: blued against the step it marks all round.",
                )
            ),
            *(note for side, end in ends.items() for note in _end_notes(side, end, unit)),
        ),
        finish=FINISH,
        unit=unit,
    )


def _end_notes(side: str, end: End, unit: Unit) -> Iterator[str]:
    """Yield what is to be minded at an end and no dimension tells."""
    if end.relief is not None:
        yield f"{side.capitalize()} end: half centre, flat on the slot's side: holds least there."
    if end.ball_mm:
        ball, stands = (size_text(each, general(unit)) for each in (end.ball_mm, end.stands_mm))
        yield f"{side.capitalize()} end: ball Ø{ball} bonded in last, stands out {stands}."
    if end.stock_mm > 0:
        off = size_text(end.stock_mm, general(unit))
        yield f"{side.capitalize()} end left full: finish to suit, up to {off} may come off."


def _plug_notes(tool: Tool) -> PartNotes:
    quantity = 2 if second_plug_mm(tool.parameters) else 1
    return _small_notes(tool, tool.plug, quantity)


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
