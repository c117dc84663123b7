"""Random parameter tables of tools that the checks let pass: the shipped ones, varied soundly.

What hangs together is changed together: whoever lengthens the stroke lengthens the slot, and the
springs take up the room that comes of it; a larger bore takes the larger mount, screw and plug.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from random import Random
from typing import Any, Final

from hypothesis import strategies as st

from generator.checks.finding import Verdict, worst
from generator.checks.run import run_checks
from generator.errors import GeneratorError
from generator.inputs.profile import parameters_from
from generator.model.completion import up
from generator.model.shank import shank_of
from generator.model.tool import Tool, design
from tests.tools import plug_of, slot_of

PROFILES: Final = Path(__file__).parents[1] / "profiles"
SHIPPED: Final = tuple(
    sorted(path.stem for path in PROFILES.glob("*.toml") if not path.stem.startswith("refused"))
)
Table = dict[str, Any]
Change = Callable[[Random, Table, Tool], None]
TRIES: Final = 20
SUNK_MM: Final = 0.5
RIM_MM: Final = 0.1


@dataclass(frozen=True, slots=True)
class Good:
    """A table, and the tool that it describes."""

    table: Table
    tool: Tool


@cache
def shipped(stem: str) -> tuple[Table, Tool]:
    """Return the table of a shipped profile and its tool."""
    table = tomllib.loads((PROFILES / f"{stem}.toml").read_text("utf-8"))
    return table, design(parameters_from(table, stem))


def proposed(random: Random) -> Table:
    """Return a table that will most likely pass."""
    stem = random.choice(SHIPPED)
    base, tool = shipped(stem)
    table = deepcopy(base)
    table["name"] = f"{stem}-varied"
    for change in random.sample(CHANGES, random.randint(2, len(CHANGES))):
        change(random, table, tool)
    return refitted(table, tool)


def refitted(table: Table, base: Tool) -> Table:
    """Return the table with springs as much longer as there is more room for them than before.

    Springs in a row share the difference; one inside another takes all that its place takes.
    """
    varied = design(parameters_from(table, "varied"))
    more_mm = min(
        one.room_extended_mm - other.room_extended_mm
        for one, other in zip(
            sorted(varied.orientations, key=lambda o: o.outer.tip.style),
            sorted(base.orientations, key=lambda o: o.outer.tip.style),
            strict=True,
        )
    )
    more_mm = round(more_mm / len(table["springs"]) * 4) / 4
    asked = parameters_from(table, "varied").springs
    for spring, read in zip(table["springs"], asked, strict=True):
        if read.cut_to_mm is None:
            spring["free_mm"] = read.free_mm + more_mm
        else:
            spring["cut_to_mm"] = read.cut_to_mm + more_mm
        if read.inner is not None:
            spring["inner"]["free_mm"] = read.inner.free_mm + more_mm
    return table


def good(table: Table) -> Good | None:
    """Return the tool of a table if no check fails on it."""
    try:
        tool = design(parameters_from(table, "varied"))
    except GeneratorError:
        return None
    return None if worst(run_checks(tool)) is Verdict.FAIL else Good(table, tool)


def good_profiles(seed: int, count: int) -> Iterator[Good]:
    """Yield so many tools that pass, the same ones for the same seed."""
    random = Random(seed)
    while count > 0:
        found = good(proposed(random))
        if found is not None:
            count -= 1
            yield found


@st.composite
def goods(draw: st.DrawFn) -> Good:
    """Return a tool that passes, as a strategy for property tests."""
    random = draw(st.randoms(use_true_random=False, note_method_calls=False))
    for _ in range(TRIES):
        found = good(proposed(random))
        if found is not None:
            return found
    table, tool = shipped(random.choice(SHIPPED))
    return Good(table, tool)


def _stroke(random: Random, table: Table, tool: Tool) -> None:
    """Shorten the stroke; screw, nose and plunger follow by themselves."""
    if any("position_mm" in table.get(name, {}) for name in ("set_screw", "cross_pin")):
        return
    travel_mm = tool.orientations[0].travel_mm
    less_mm = random.choice([-0.5 * n for n in range(round(0.6 * travel_mm))])
    if "shoulder" in table:
        table["shoulder"]["travel_mm"] = travel_mm + less_mm
        return
    table["slot"]["length_mm"] = slot_of(tool.parameters).length_mm + less_mm


def _slot(random: Random, table: Table, tool: Tool) -> None:
    """Mill the slot deeper, or not in the middle of the plunger."""
    if "slot" not in table or "cross_pin" in table:
        return
    slot, plunger = slot_of(tool.parameters), tool.parameters.plunger
    table["slot"]["depth_mm"] = round(slot.depth_mm + random.choice([0.0, 0.1, 0.2]), 2)
    if "length_mm" not in table["plunger"] and random.random() < 0.3:
        off_mm = random.choice([0.5, 1.0])
        table["plunger"]["length_mm"] = plunger.length_mm + off_mm
        table["slot"]["front_mm"] = slot.front_mm + random.choice([0.0, off_mm])
        table["slot"]["length_mm"] = slot.length_mm


def _tips(random: Random, table: Table, tool: Tool) -> None:
    """Vary flat, mouth, pilot and chamfer in proportion to the plunger; exchange the ends."""
    diameter_mm = tool.parameters.plunger.diameter_mm
    plunger = table["plunger"]
    for end in ("front", "rear"):
        tip = plunger[end] = dict(plunger[end])
        if tip["style"] == "point":
            tip["flat_mm"] = random.choice([0.0, 0.2, 0.4, 0.5])
        elif tip["style"] == "countersink":
            tip["mouth_mm"] = round(random.uniform(0.8, 0.88) * diameter_mm, 1)
            tip["pilot_mm"] = round(random.uniform(0.18, 0.28) * diameter_mm, 1)
            tip["pilot_depth_mm"] = round(random.uniform(0.2, 0.35) * diameter_mm, 1)
            room_mm = (diameter_mm - tip["mouth_mm"]) / 2 - RIM_MM
            tip["chamfer_mm"] = round(min(random.choice([0.2, 0.3, 0.4]), room_mm), 2)
    at_middle = "front_mm" not in table.get("slot", {})
    if random.random() < 0.4 and tool.reversible and at_middle and "purpose" not in table:
        plunger["front"], plunger["rear"] = plunger["rear"], plunger["front"]


def _forms(random: Random, table: Table, tool: Tool) -> None:
    """Give an end of a follower's plunger another form, such as a ball or a half centre."""
    ends = [end for end in ("front", "rear") if table["plunger"][end]["style"] != "plain"]
    if "purpose" in table or not ends or random.random() < 0.5:
        return
    whole: list[Table] = [
        {"style": "point", "angle_deg": 75.0},
        {"style": "point", "angle_deg": 90.0},
    ]
    tilts = "shoulder" in table or table.get("button", {}).get("recess_mm", 0.0) > 0
    cut: list[Table] = [] if tilts else [{"style": "half centre"}]
    other: list[Table] = (
        [{"style": "ball"}, {"style": "blank"}] if len(ends) > 1 else [{"style": "ball"}]
    )
    table["plunger"][random.choice(ends)] = dict(random.choice([*whole, *cut, *other]))


def _body(random: Random, table: Table, tool: Tool) -> None:
    """Vary nose, bevel, recess and edges."""
    body, asked = table["body"], tool.parameters.body
    if table["mount"]["kind"] != "straight":
        body["nose_diameter_mm"] = asked.nose_diameter_mm + random.choice([0.0, 0.5, 1.0, 2.0])
    body["edge_mm"] = random.choice([0.5, 0.8, 1.0, 1.2])
    body["bevel_mm"] = random.choice([1.0, 1.5, 2.0])
    body["recess_mm"] = random.choice([0.0, 0.2, 0.3, 0.4])
    body["material"] = random.choice(["steel 11SMn30", "steel C45", "steel 12L14"])


def _mount(random: Random, table: Table, tool: Tool) -> None:
    """Change the mount: its length, or a plain shank in place of a taper."""
    mount, p = table["mount"], tool.parameters
    shank = shank_of(p.mount)
    if mount["kind"] != "straight" and p.plug is not None and random.random() < 0.5:
        table["mount"] = {
            "kind": "straight",
            "diameter_mm": up(shank.diameter_mm + random.choice([0.0, 1.0]), 1.0),
            "length_mm": shank.length_mm - (plug_of(p).sunk_mm - SUNK_MM),
        }
        table["body"]["nose_diameter_mm"] = table["mount"]["diameter_mm"]
        table["plug"] = {
            **table.get("plug", {}),
            "length_mm": plug_of(p).length_mm,
            "sunk_mm": SUNK_MM,
        }
        return
    if mount["kind"] == "morse draw-bar" and random.random() < 0.4:
        cone, bar = shank.taper, shank.draw_bar
        assert cone is not None
        assert bar is not None
        table["mount"] = {
            "kind": "own taper draw-bar",
            "taper": round(cone.rate * random.choice([0.9, 1.0, 1.1]), 5),
            "gauge_diameter_mm": cone.gauge_diameter_mm,
            "length_mm": cone.length_mm,
            "stand_out_mm": cone.stand_out_mm,
            "drawbar_thread": bar.thread,
            "drawbar_engagement_mm": bar.engaged_mm,
        }
        return
    match mount["kind"]:
        case _ if p.disc is not None:
            table["disc"]["vent_mm"] = random.choice([1.5, 2.0])
            table["disc"]["thickness_mm"] = random.choice([2.5, 3.0, 3.5])
        case "morse and straight":
            mount["length_mm"] = shank.cylinder.length_mm + random.randint(-1, 6)  # type: ignore[union-attr]
        case "straight":
            mount["length_mm"] = shank.length_mm + random.randint(-3, 12)
            mount["diameter_mm"] = table["body"]["nose_diameter_mm"] = random.choice([16, 18, 20])
            mount["flats"] = random.choice([*["none"] * 4, "one", "two"])
            mount["holder"] = random.choice(["none", "ER32", "ER40"])
        case "r8":
            mount["key_slot"] = random.choice(["milled", "none"])
            mount["stand_out_mm"] = random.choice([2.0, 3.0, 4.5])
        case kind if kind.endswith("draw-bar"):
            bar = shank.draw_bar
            assert bar is not None
            mount["drawbar_engagement_mm"] = bar.engaged_mm - random.choice([0.0, 0.5, 1.0])
        case _:
            table["machine"]["ejection_depth_mm"] = (
                tool.parameters.machine.ejection_depth_mm + random.choice([-1.0, 0.0, 1.0])
            )


def _plug(random: Random, table: Table, tool: Tool) -> None:
    """Vary the plug."""
    plug = tool.parameters.plug
    if plug is None:
        return
    table.setdefault("plug", {})["length_mm"] = plug.length_mm + random.choice([0.0, 0.5, 1.0])
    table["plug"]["vent_mm"] = random.choice([1.5, 2.0])
    if random.random() < 0.4:
        hexagon_mm = {6: 3.0, 8: 4.0, 10: 5.0, 12: 6.0, 16: 8.0}
        size = plug.thread.removeprefix("M")
        if size.isdigit() and int(size) in hexagon_mm:
            table["plug"]["drive"] = "hexagon"
            table["plug"]["drive_width_mm"] = hexagon_mm[int(size)]
            table["plug"]["drive_depth_mm"] = round(0.4 * plug.length_mm, 1)


def _locks(random: Random, table: Table, tool: Tool) -> None:
    """Keep screw and plug from turning in another way; a jam screw asks for a thicker nose."""
    body = tool.parameters.body
    if "set_screw" in table and table["set_screw"].get("locking") != "shoulder":
        screw = table["set_screw"] = dict(table["set_screw"])
        screw["locking"] = random.choice(["jam screw", "threadlocker", "none"])
        if screw["locking"] == "jam screw" and table["mount"]["kind"] != "straight":
            table["body"]["nose_diameter_mm"] = body.nose_diameter_mm + random.choice([4.0, 6.0])
    if "cross_pin" in table:
        ways = ["pressed", "retaining compound", "staked", "none"]
        table["cross_pin"]["locking"] = random.choice(ways)
    if tool.parameters.plug is not None:
        table.setdefault("plug", {})["locking"] = random.choice(
            ["second plug", "threadlocker", "none"]
        )


def _button(random: Random, table: Table, tool: Tool) -> None:
    """Take a thicker button, one with a recess for the point, or none."""
    button, bore_mm = tool.parameters.button, tool.parameters.bore.diameter_mm
    if button is None:
        return
    styles = {table["plunger"][end]["style"] for end in ("front", "rear")}
    recess = ["thicker"] if "half centre" in styles else ["recess"]
    match random.choice([*["thicker"] * 6, *recess, "none"]):
        case "thicker":
            table["button"]["thickness_mm"] = button.thickness_mm + random.choice([0.25, 0.5])
        case "recess":
            table["button"]["recess_mm"] = round(0.5 * bore_mm, 1)
            table["button"]["thickness_mm"] = round(0.5 * bore_mm, 1)
        case _:
            del table["button"]


def _taps(random: Random, table: Table, tool: Tool) -> None:
    """Follow fewer taps."""
    taps = table.get("taps")
    if not taps:
        return
    table["taps"] = sorted(
        random.sample(taps, random.randint(1, len(taps))), key=lambda tap: taps.index(tap)
    )


def _papers(random: Random, table: Table, tool: Tool) -> None:
    """Draw in another way."""
    table["making"] = {
        "sheets": random.choice(["A", "US"]),
        "units": random.choice(["mm", "inch"]),
        "projection": random.choice(["first", "third"]),
        "revision": random.choice(["A", "C"]),
    }


def _fits(random: Random, table: Table, tool: Tool) -> None:
    """Take another fit."""
    if tool.parameters.plunger.limits_um is None:
        table["plunger"]["tolerance"] = random.choice(["h8", "h7", "h9"])
        table.setdefault("bore", {})["tolerance"] = random.choice(["H7", "H8"])


def _scaled(random: Random, table: Table, tool: Tool) -> None:
    """Take a plunger and bore a little thicker or thinner, the springs with them."""
    if tool.parameters.bore.diameter_mm != tool.parameters.plunger.diameter_mm:
        return
    if "shoulder" in table:
        return
    if any(spring.inner is not None for spring in tool.parameters.springs):
        return
    if tool.parameters.plunger.limits_um is not None:
        return
    more_mm = random.choice([0.1, 0.2, 0.25])
    table["plunger"]["diameter_mm"] = tool.parameters.plunger.diameter_mm + more_mm
    for spring, read in zip(table["springs"], tool.parameters.springs, strict=True):
        spring["outside_mm"] = round(read.outside_mm + more_mm, 3)


def _keeping(random: Random, table: Table, tool: Tool) -> None:
    """Keep the plunger in by a pin in place of the screw, or against a flat in place of a slot."""
    if "set_screw" not in table or table["set_screw"].get("locking") == "shoulder":
        return
    slot = slot_of(tool.parameters)
    kept = {"length_mm": slot.length_mm}
    match random.choice([*["pin", "flat", "slot"] * 2, "pin in one wall"]):
        case "flat":
            table["slot"] = {**kept, "form": "flat"}
        case "slot":
            return
        case kind:
            pin_mm = round(0.29 * tool.parameters.plunger.diameter_mm * 2) / 2
            support = "one wall" if kind == "pin in one wall" else "both walls"
            del table["set_screw"]
            table["slot"] = kept
            table["cross_pin"] = {"diameter_mm": pin_mm, "support": support}


CHANGES: Final[tuple[Change, ...]] = (
    _stroke,
    _slot,
    _keeping,
    _tips,
    _forms,
    _body,
    _mount,
    _plug,
    _locks,
    _button,
    _taps,
    _papers,
    _fits,
    _scaled,
)
