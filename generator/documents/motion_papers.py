"""The proof of motion on paper: how near each two parts come, and what wrong assembly does."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.documents.signs import signed
from generator.documents.table import Column, Section, Table
from generator.model.contacts import Contact, Deep, Proof, Rolled
from generator.model.tool import Tool
from generator.standards.rows import Thread
from generator.units import number, shown

TITLE = "Proof of motion"


def motion_section(tool: Tool, proof: Proof) -> Section:
    """Return the proof for readers: clearances, collisions, and wrong assemblies."""
    if not proof.orientations:
        return Section(TITLE, ("No end of the plunger works: there is no stroke to prove.",))
    return Section(
        TITLE,
        tuple(_lines(proof)),
        (*_collisions(proof), _clearances(proof), _wrong(tool, proof)),
    )


def motion_data(proof: Proof) -> dict[str, Any]:
    """Return the proof as plain data: numbers, text, lists and objects."""
    return {
        "positions": proof.positions,
        "sizes": [{"name": name, "at": told} for name, told in proof.sizes],
        "orientations": list(proof.orientations),
        "clearances": [_data(each) for each in proof.nearest],
        "collisions": [_data(each) for each in proof.collisions],
        "plunger_turned_half_round": [
            {
                "orientation": each.orientation,
                "interference_mm3": each.volume_mm3,
                "screw_kept_out_mm": each.kept_out_mm,
            }
            for each in proof.rolled
        ],
        "screw_too_deep": [
            {
                "orientation": each.orientation,
                "touches_after_mm": each.free_mm,
                "floor_of_slot_after_mm": each.floor_mm,
                "turned_further_mm": each.further_mm,
                "interference_mm3": each.volume_mm3,
            }
            for each in proof.deep
        ],
    }


def _data(contact: Contact) -> dict[str, Any]:
    return {
        "parts": [contact.first, contact.second],
        "orientation": contact.orientation,
        "sizes": contact.sizes,
        "travel_mm": contact.travel_mm,
        "clearance_mm": contact.clearance_mm,
        "interference_mm3": contact.volume_mm3,
    }


def _lines(proof: Proof) -> Iterator[str]:
    ends = ("; " if len(proof.orientations) > 2 else " and ").join(proof.orientations)
    found = (
        f"pairs that collide: {len(proof.collisions)}"
        if proof.collisions
        else "no two parts collide"
    )
    yield (
        f"The solids were held against each other at {proof.positions} positions of the stroke, "
        f"{ends}, at {len(proof.sizes)} sets of sizes, {proof.stands} in all: {found}. All parts "
        "stand on the axis; clearances are on one side."
    )
    sizes = "; ".join(f"{name}: {told}" for name, told in proof.sizes)
    yield f"{sizes[:1].upper()}{sizes[1:]}."
    screwed = any(contact.pair == "plunger and tip" for contact in proof.nearest)
    tip = ", a screwed tip likewise against the stem" * screwed
    yield (
        "Threads are smooth on the solids: a screw or plug is held against the body by its "
        f"core{tip}. Springs are the tubes that they fill."
    )


def _collisions(proof: Proof) -> Iterator[Table]:
    if not proof.collisions:
        return
    columns = (
        Column("parts"),
        Column("share", "number"),
        Column("at travel", "number"),
        Column("end at work"),
        Column("sizes"),
    )
    rows = tuple(
        (
            each.pair,
            signed(shown(each.volume_mm3, "mm3")),
            shown(each.travel_mm, "mm"),
            each.orientation,
            each.sizes,
        )
        for each in proof.collisions
    )
    yield Table("Collisions", columns, rows)


def _clearances(proof: Proof) -> Table:
    """Return the table of clearances: a row a pair, a column a set of sizes, where it is least."""
    names = [name for name, _ in proof.sizes]
    columns = (
        Column("parts"),
        *(Column(f"{name}, mm", "number") for name in names),
        Column("least at"),
    )
    by_pair: dict[str, dict[str, Contact]] = {}
    for each in proof.nearest:
        by_pair.setdefault(each.pair, {})[each.sizes] = each
    rows = tuple(
        (pair, *(_clearance(found.get(name)) for name in names), _where(list(found.values())))
        for pair, found in by_pair.items()
    )
    return Table("Least clearances", columns, rows)


def _clearance(contact: Contact | None) -> str:
    if contact is None:
        return "\N{EN DASH}"
    if contact.collides:
        return "collide"
    return "touch" if contact.touches else shown(contact.clearance_mm, "mm").removesuffix(" mm")


def _where(found: list[Contact]) -> str:
    least = min(found, key=lambda each: (-each.volume_mm3, each.clearance_mm))
    return f"{shown(least.travel_mm, 'mm')}, {least.orientation}, {least.sizes}"


def _wrong(tool: Tool, proof: Proof) -> Table:
    told: dict[tuple[str, str], list[str]] = {}
    for wrong, end, happens in (
        *(_rolled(each) for each in proof.rolled),
        *(_deep(tool, each) for each in proof.deep),
    ):
        told.setdefault((wrong, happens), []).append(end)
    rows = tuple((wrong, " or ".join(ends), happens) for (wrong, happens), ends in told.items())
    columns = (Column("put together wrong"), Column("end at work"), Column("what happens"))
    return Table("Wrong assembly", columns, rows)


def _rolled(rolled: Rolled) -> tuple[str, str, str]:
    told = "the screw goes in all the same: look that the slot is under it"
    if rolled.kept_out_mm > 0:
        told = (
            f"the screw stops {shown(rolled.kept_out_mm, 'mm')} short of its place: turn the "
            "plunger until the slot is under it"
        )
    return "plunger turned half round, slot away from the screw", rolled.orientation, told


def _deep(tool: Tool, deep: Deep) -> tuple[str, str, str]:
    wrong = "set screw turned in as far as it goes"
    if deep.free_mm != deep.free_mm:
        return wrong, deep.orientation, "the screw does not reach the slot"
    assert tool.parameters.set_screw is not None  # what is turned in too deep is a screw
    pitch_mm = Thread.find(tool.parameters.set_screw.thread).pitch_mm
    turns = f"{number(deep.free_mm / pitch_mm, 2)} turns"
    meets = "its shoulder meets the plunger" if deep.shoulder_first else "it meets the floor"
    return (
        wrong,
        deep.orientation,
        f"after {shown(deep.free_mm, 'mm')}, {turns}, {meets} and clamps the plunger: turn back "
        f"by {turns}, feel that the plunger runs free, lock the screw",
    )
