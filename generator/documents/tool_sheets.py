"""The sheets of a tool: assembly, body, plunger, and the small parts together."""

from __future__ import annotations

from hashlib import sha256

from generator.checks.finding import Finding, Verdict
from generator.documents.assembly_sheet import assembly_sheet
from generator.documents.bill import stock_text
from generator.documents.drawing import Drawing
from generator.documents.part_notes import PartNotes, Runout
from generator.documents.part_sheet import part_sheet
from generator.documents.sheet import Header
from generator.documents.unverified import unverified
from generator.inputs.tables import StraightMount
from generator.model.part import Part
from generator.model.parts import second_plug_mm
from generator.model.tool import Tool
from generator.units import number

FITTED_RA_UM = 0.8


def parameters_hash(tool: Tool) -> str:
    """Return twelve hexadecimal digits that change with any parameter."""
    return sha256(repr(tool.parameters).encode()).hexdigest()[:12]


def header(tool: Tool, findings: tuple[Finding, ...], title: str) -> Header:
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
        projection=making.projection,
        general_tolerance=making.general_tolerance,
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
    return (
        assembly_sheet(tool, header(tool, findings, "Assembly")),
        part_sheet([_body_notes(tool)], header(tool, findings, "Body")),
        part_sheet([_plunger_notes(tool)], header(tool, findings, "Plunger")),
        part_sheet(small, header(tool, findings, small_title), "plug"),
    )


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
        stock=stock_text(tool.body),
        tolerances={"bore": tool.bore_limits.text},
        roughness_um={"bore": FITTED_RA_UM, mount: FITTED_RA_UM},
        runout={"bore": Runout(p.making.runout_mm, mount)},
        notes=(
            fitting,
            "Screw hole through one wall only; mark the nose beside it.",
            "Keep both 60° bevels to the end; deburr, pass the reamer by hand.",
            *doubtful,
        ),
    )


def _plunger_notes(tool: Tool) -> PartNotes:
    p = tool.parameters
    return PartNotes(
        tool.plunger,
        stock=stock_text(tool.plunger),
        tolerances={
            "guide": tool.plunger_limits.text,
            "slot depth": f"±{number(p.making.slot_depth_tolerance_mm)}",
        },
        roughness_um={"guide": FITTED_RA_UM},
        notes=(
            "Finished bar; do not turn the outside.",
            "Both ends in one collet setting each; deburr the slot, relieve its ends.",
            "Mark which end is drawn at the right.",
        ),
    )


def _plug_notes(tool: Tool) -> PartNotes:
    quantity = 2 if second_plug_mm(tool.parameters) else 1
    return PartNotes(tool.plug, stock=stock_text(tool.plug, quantity), quantity=quantity)


def _disc_notes(tool: Tool, part: Part) -> PartNotes:
    quantity = len(tool.springs) - 1 if part is tool.separator else 1
    return PartNotes(part, stock=stock_text(part, quantity), quantity=quantity)
