"""The card for changing a screwed tip: which tip for which tap, how it is done, which way it drags.

Seen from the spindle a right-hand tap turns clockwise into the work. The tip that rests on it is
dragged the same way, which is anticlockwise seen from the tip's own front: the way that opens a
right-hand thread. Backing the tap off drags it shut. Where the work is turned and the tap stands
still, nothing turns on the tip.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.documents.table import Column, Section, Table
from generator.inputs.screwed_tips import ScrewedTips
from generator.model import screwed
from generator.model.tool import Tool
from generator.units import number, shown
from generator.use.seats import seats, side_push_N


def tip_sections(tool: Tool) -> tuple[Section, ...]:
    """Return the card for changing the tip; none where the tip is turned on the plunger."""
    tips = tool.parameters.screwed_tips
    if tips is None:
        return ()
    return (
        Section(
            "Card for changing the tip",
            tuple(_steps(tips)),
            (_table(tool),),
            listed=True,
            large=True,
        ),
        Section("The joint of the tips", tuple(_dragged(tool, tips)), (_joint(tool, tips),)),
    )


def tips_for(tool: Tool, place: int) -> tuple[str, ...]:
    """Return the taps that a tip serves best, counted from 0, the fitted one."""
    found = (
        f"{seat.name} with {seat.end}"
        for seat in seats(tool)
        if seat.serves and seat.orientation is not None and seat.orientation.tip == place
    )
    return tuple(dict.fromkeys(found))


def _steps(tips: ScrewedTips) -> Iterator[str]:
    across = shown(tips.flats_mm, "mm")
    yield (
        "Power isolated, the tool out of the machine or the quill locked; nothing on the tip. The "
        "plunger is out: its springs hold it there."
    )
    yield (
        f"Two thin spanners of {across}: one on the flats of the stem, which stand outside the "
        "nose, one on those of the tip. Never turn the tip against the body alone: the plunger "
        "turns freely in it."
    )
    yield "Hold the stem still and unscrew the tip, anticlockwise seen from its front."
    yield (
        "Wipe register, spigot and both faces; look for a chip and for a burr. A chip under the "
        "shoulder tilts the tip."
    )
    if tips.locking == "threadlocker":
        yield (
            "One drop of weak threadlocker on the stud, none on the spigot. Medium or strong does "
            "not let go to so small a spanner."
        )
    yield (
        "Screw the new tip in by hand until the spigot is in and the shoulder bears all round; "
        "then tight between the two spanners, by two fingers on each."
    )
    yield (
        "All tips are of one length: travel, preload and the settings stay as they are, but for a "
        "ball, which stands out of the face by what its sheet says."
    )


def _table(tool: Tool) -> Table:
    columns = (Column("tip"), Column("for"), Column("fitted"))
    rows = tuple(
        (
            part.title,
            "; ".join(tips_for(tool, n)) or _without(tool, n),
            "as drawn" if n == 0 else "spare",
        )
        for n, part in enumerate(tool.tips)
    )
    return Table("Which tip for which tap", columns, rows)


def _joint(tool: Tool, tips: ScrewedTips) -> Table:
    """Return what the joint holds by and what it may be off."""
    found = joint_figures(tool, tips)
    low_um, high_um = found["register_play_um"]
    rows = (
        ("full thread engaged", shown(found["engaged_mm"], "mm")),
        ("play of the spigot in its register", f"{number(low_um, 0)} to {number(high_um, 0)} um"),
        ("tip off the axis of the stem by that, at most", shown(found["off_axis_mm"], "mm")),
        (
            "push sideways that lifts a tap off the cone, plunger home",
            shown(found["side_push_N"], "N"),
        ),
        ("bending of the stud under it, if it bore all alone", shown(found["stud_MPa"], "MPa")),
    )
    return Table("", (Column(""), Column("", "number")), rows)


def joint_figures(tool: Tool, tips: ScrewedTips) -> dict[str, Any]:
    """Return the figures of the joint by their names, units in them."""
    play_um, side_N = screwed.register_play_um(tips), side_push_N(tool)
    return {
        "engaged_mm": screwed.engaged_mm(tips),
        "register_play_um": play_um,
        "off_axis_mm": max(0.0, play_um[1]) / 2000,
        "side_push_N": side_N,
        "stud_MPa": screwed.stud_bending_MPa(tips, side_N),
    }


def _without(tool: Tool, place: int) -> str:
    end = screwed.tip_ends(tool.parameters)[place]
    if end.stock_mm > 0:
        return "finish it to suit"
    return "none of these taps seats better on it"


def _dragged(tool: Tool, tips: ScrewedTips) -> Iterator[str]:
    if tool.parameters.machine.turned == "work":
        yield (
            "The work is turned and the tap stands still, and so does the tip: nothing drags it "
            "about its axis."
        )
    else:
        yield (
            "Seen from the spindle a right-hand tap turns clockwise into the work and drags the "
            "tip with it: that is anticlockwise seen from the tip's front, the way that unscrews "
            "it. Backing off drags it tight again. The plunger turns freely in the nose, so the "
            "drag that reaches the joint is no more than what bore and springs hold back of the "
            "plunger; dry or with chips in the bore that is all of it."
        )
    yield (
        "Therefore it is locked by weak threadlocker as well as by its tightness."
        if tips.locking == "threadlocker"
        else "It is not locked: try it by hand before each hole, and after each re-set."
    )
