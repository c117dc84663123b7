"""Set-ups for readers: what belongs to a tool, his units, and every page readable."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from generator.documents.setup_papers import setup_data, setup_sections
from generator.documents.table import Section, Table
from generator.errors import ProfileError
from generator.export.columns import column_widths_mm, letters_mm
from generator.inputs.parameters import Parameters
from generator.inputs.profile import read_profile
from generator.inputs.workshop import Kit
from generator.making import setups
from generator.model.tool import Tool, design
from tests.documents.plots import touches
from tests.strategies import silly_changes
from tests.tools import tool

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
ROOM_MM, SMALL_PT, INSET_MM = 175.0, 7.5, 1.2
ALL: tuple[Kit, ...] = ("3-jaw chuck", "4-jaw chuck", "collets", "centres", "mandrel")
MORE: tuple[Kit, ...] = ("taper attachment", "tailstock set-over", "vertical slide")


def lathe_only(p: Parameters) -> Parameters:
    workshop = replace(
        p.workshop,
        machines="lathe",
        kit=(*ALL, *MORE),
        compound_travel_mm=p.workshop.compound_travel_mm * 0.6,
        dial="radius",
    )
    return replace(p, workshop=workshop)


def inches(p: Parameters) -> Parameters:
    workshop = replace(
        p.workshop, dial_division_mm=0.0254, compound_division_mm=0.0254, sine_bar_mm=127.0
    )
    return replace(p, workshop=workshop, making=replace(p.making, units="inch"))


def metric(p: Parameters) -> Parameters:
    return p


def section(made: Tool, start: str) -> Section:
    return next(each for each in setup_sections(made) if each.title.startswith(start))


def titles(made: Tool) -> list[str]:
    return [each.title.removeprefix("Set-up: ") for each in setup_sections(made)]


def told(made: Tool) -> str:
    return "\n".join(line for each in setup_sections(made) for line in each.lines)


def assert_readable(made: Tool) -> None:
    json.dumps(setup_data(made), allow_nan=False)
    for each in setup_sections(made):
        assert each.title.startswith("Set-up: ")
        for line in each.lines:
            assert "nan" not in line
            assert "inf" not in line.replace("in-feed", "")
        for table in each.tables:
            assert_fits(table)


def assert_fits(table: Table) -> None:
    room_mm = ROOM_MM - 2 * INSET_MM * len(table.columns)
    widths = column_widths_mm(table, room_mm, SMALL_PT)
    assert math.fsum(widths) <= room_mm + 1e-6
    for row in table.rows:
        assert len(row) == len(table.columns)
        for cell, wide_mm in zip(row, widths, strict=True):
            assert "nan" not in cell
            for word in cell.split():
                assert letters_mm(word, SMALL_PT) <= wide_mm


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
@pytest.mark.parametrize("shop", [metric, lathe_only, inches])
def test_set_ups_of_the_shipped_profiles_are_clean(path: Path, shop: Any) -> None:
    made = design(shop(read_profile(path)))
    assert_readable(made)
    figures = [figure for each in setup_sections(made) for figure in each.figures]
    ends = made.parameters.plunger.front, made.parameters.plunger.rear
    across = 0 if made.parameters.slot is None else 2
    assert len(figures) >= across + sum(tip.style != "plain" for tip in ends)
    for figure in figures:
        assert figure.width_mm <= ROOM_MM
        assert touches(figure) == ()


def test_sections_of_a_taper_and_of_a_straight_shank() -> None:
    assert titles(tool({"plunger.front.flat_mm": 0.4})) == [
        "how the taper is turned",
        "taper turned in steps",
        "angle of the compound slide",
        "in-feed by stand-off, and the fit",
        "the taper on the sine bar",
        "front end of the plunger, point",
        "rear end of the plunger, countersink",
        "slot, on the mill",
        "screw hole in the body",
    ]
    straight = {"mount": {"kind": "straight", "diameter_mm": 20.0, "length_mm": 60.0}}
    assert titles(tool(straight))[0] == "straight shank"
    assert not any("taper" in title or "stand-off" in title for title in titles(tool(straight)))
    assert "Between centres" in told(tool(straight))
    assert "Between centres" not in told(tool({**straight, "workshop.kit": ["collets"]}))


def test_kit_decides_what_is_told() -> None:
    short = {"workshop.compound_travel_mm": 50.0}
    assert "the taper in two passes" in titles(tool(short))
    kit = {**short, "body.bevel_mm": 1.5, "workshop.kit": [*ALL, *MORE]}
    assert {"tailstock set over", "taper attachment"} <= set(titles(tool(kit)))
    assert "the taper in two passes" not in titles(tool(kit))
    bought = tool({"workshop.compound_travel_mm": 30.0})
    assert titles(bought)[0] == "how the taper is turned"
    assert "in-feed by stand-off, and the fit" not in titles(bought)
    cnc = titles(tool({"workshop.machines": "cnc lathe"}))
    assert "in-feed by stand-off, and the fit" in cnc
    assert "taper turned in steps" not in cnc


def test_stand_off_and_dial_close_as_printed() -> None:
    """Both as printed: to go in times the taper is what the diameter dial takes off."""
    for dial, share in (("diameter", 1.0), ("radius", 0.5)):
        made = tool({"workshop.dial": dial})
        setup = setups.taper_setup(made)
        assert setup is not None
        (table,) = section(made, "Set-up: in-feed").tables
        assert table.columns[2].heading == f"your dial ({dial}), mm"
        for stand_off, to_go, own, divisions, other in table.rows:
            off_mm = float(to_go) * setup.rate
            assert float(own) == pytest.approx(off_mm * share, abs=0.0006)
            assert float(other) == pytest.approx(off_mm * (1.5 - share), abs=0.0006)
            assert float(stand_off) == pytest.approx(setup.stand_out_mm + float(to_go), abs=0.005)
            assert float(divisions) * 0.02 == pytest.approx(float(own), abs=0.0016)
        assert table.rows[-1] == ("5.00", "0.00", "0.000", "0.0", "0.000")


def test_steps_as_printed_reach_the_small_end() -> None:
    (table,) = section(tool(), "Set-up: taper turned in steps").tables
    assert table.rows[1] == ("0", "17.780", "18.28", "0.250", "12.5")
    assert table.rows[-1][:3] == ("64", "14.583", "15.08")


def test_inch_dials_on_a_metric_sheet_show_both() -> None:
    mixed = tool({"workshop.dial_division_mm": 0.0254})
    (table,) = section(mixed, "Set-up: in-feed").tables
    assert [column.heading for column in table.columns][2:] == [
        "your dial (diameter), in",
        "divisions",
        "a radius dial, in",
    ]
    assert table.rows[0][:4] == ("11.00", "6.00", "0.0118", "11.8")
    assert "0.001 in (0.0254 mm)" in told(mixed)


def test_inch_sheets_are_in_inches() -> None:
    made = tool({"making.units": "inch", "workshop.dial_division_mm": 0.0254})
    (table,) = section(made, "Set-up: in-feed").tables
    assert table.rows[-1][0] == "0.197"
    assert "81-piece" in {row[2] for row in section(made, "Set-up: the taper on").tables[0].rows}
    assert "Wind 3 in toward the chuck" in told(made)


def test_scale_of_a_slide_reads_the_complement() -> None:
    made = tool({"plunger.front.angle_deg": 82.0})
    line = section(made, "Set-up: front end").lines[1]
    assert "41° from" in line
    assert "reads 49°" in line


def test_slot_on_the_lathe_counts_as_his_dial_does() -> None:
    alone = {"workshop.machines": "lathe"}
    for dial, reading in (("diameter", "23 mm (1150 divisions)"), ("radius", "11.5 mm (575")):
        made = tool({**alone, "workshop.dial": dial})
        assert reading in " ".join(section(made, "Set-up: slot, on the lathe, in the").lines)
    strokes = " ".join(section(tool(alone), "Set-up: slot, on the lathe, planed").lines)
    assert "32 strokes to 3.2 mm (160 divisions)" in strokes


def test_data_hold_the_numbers() -> None:
    data = setup_data(tool())
    assert data["taper"]["indicator"][0]["rise_mm"] == pytest.approx(1.997, abs=5e-4)
    assert data["taper"]["in_feed"][-1]["radial_mm"] == 0
    assert [end["kind"] for end in data["ends"]] == ["point", "countersink"]
    assert data["slot"]["hole_1_mm"] == pytest.approx(25.25)
    assert data["screw_hole"]["position_mm"] == 16.0
    straight = {"mount": {"kind": "straight", "diameter_mm": 20.0, "length_mm": 60.0}}
    assert setup_data(tool(straight))["taper"] is None


@settings(max_examples=40)
@given(silly_changes())
def test_set_ups_of_silly_tools_are_readable(changes: dict[str, Any]) -> None:
    try:
        made = tool(changes)
    except ProfileError:
        return
    assert_readable(made)
