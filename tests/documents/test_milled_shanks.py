"""What the papers say of an R8, of flats on a shank and of what grips it."""

from __future__ import annotations

import pytest

from generator.documents.cautions import cautions
from generator.documents.unverified import unverified
from generator.documents.use_card import seat_step
from generator.making.inspect_body import body_lines
from generator.making.operation import Operation
from generator.making.plan import plan
from generator.making.sizes import sizes
from generator.model.tool import Tool
from tests.tools import tool

R8 = {"mount": {"kind": "r8"}, "body.nose_diameter_mm": 36.0, "plug.sunk_mm": 17.0}
STRAIGHT = {
    "mount": {"kind": "straight", "diameter_mm": 20.0, "length_mm": 62.0},
    "plug.thread": "M10",
}
FLATTED = {**STRAIGHT, "mount.flats": "two"}


def milling(made: Tool) -> Operation:
    found = [each for each in plan(made).operations if "shank" in each.title and each.asks]
    (one,) = (each for each in found if any(ask.what == "end mill" for ask in each.asks))
    return one


def lines(made: Tool) -> dict[str, tuple[float, float]]:
    known = {each.key: each for each in sizes(made)}
    return {
        line.what: (line.limits.least, line.limits.greatest) for line in body_lines(made, known)
    }


def test_key_slot_is_milled_last_with_a_cutter_within_its_limits() -> None:
    """A slot of 3.97 that may be 0.1 wider takes a cutter of 4."""
    operation = milling(tool(R8))
    assert operation.features == ("key slot",)
    assert operation.asks[0].size_mm == 4.0
    deep = next(step for step in operation.steps if step.do.startswith("Pass by pass"))
    assert (deep.low_mm, deep.set_mm) == (2.3813, 2.3813)
    far = next(step for step in operation.steps if step.do.startswith("Cut in"))
    assert far.set_mm == pytest.approx(28.575 - 3.9688 / 2)


def test_a_shop_without_that_cutter_is_told_what_else_serves() -> None:
    operation = milling(tool({**R8, "workshop.end_mills_mm": [3.0, 6.0]}))
    assert any("Ø3" in line for line in operation.instead)


def test_a_lathe_alone_files_the_flats() -> None:
    operation = milling(tool({**FLATTED, "workshop.machines": "lathe"}))
    assert operation.station == "lathe"
    assert any("file" in line for line in operation.instead)


def test_second_flat_is_measured_over_both() -> None:
    """16.4 A/F, h11: 0/-0.11; the first 18.2 to the far side."""
    first, second = (s for s in milling(tool(FLATTED)).steps if s.dial == "0 = top of the shank")
    assert (first.low_mm, first.high_mm) == pytest.approx((18.09, 18.2))
    assert (second.low_mm, second.high_mm) == pytest.approx((16.29, 16.4))
    (only,) = (
        s
        for s in milling(tool({**STRAIGHT, "mount.flats": "one"})).steps
        if s.dial == "0 = top of the shank"
    )
    assert only.high_mm == pytest.approx(18.2)


def test_parallel_body_and_key_slot_of_an_r8_are_measured() -> None:
    found = lines(tool(R8))
    assert found["parallel body, diameter"] == pytest.approx((24.1046, 24.1173))
    assert found["key slot, width"] == pytest.approx((3.9688, 4.0688))
    assert "key slot, width" not in lines(tool({**R8, "mount.key_slot": "none"}))


def test_flats_are_measured() -> None:
    found = lines(tool(FLATTED))
    assert found["flat to other flat"] == pytest.approx((16.29, 16.4))
    assert found["shank diameter"] == pytest.approx((19.967, 20.0))
    assert "flat to far side" in lines(tool({**STRAIGHT, "mount.flats": "one"}))


def test_an_r8_is_turned_to_its_key_and_told_that_it_does_not_hold_itself() -> None:
    assert "key" in seat_step(tool(R8))
    assert any("slot finds the key" in line for line in cautions(tool(R8)))
    keyless = tool({**R8, "mount.key_slot": "none"})
    assert "key" not in seat_step(keyless)
    assert any("take the key out of the spindle" in line for line in cautions(keyless))
    assert all("does not hold itself" not in line for line in cautions(tool()))


def test_the_collet_is_named_by_size_and_range() -> None:
    made = tool({**STRAIGHT, "mount.diameter_mm": 19.05, "mount.holder": "ER32"})
    assert seat_step(made).startswith("ER32, collet 20 (20 to 19 mm). Grip at least 57.15 mm")
    assert any("0.02 mm in all, 50 mm in front of it" in line for line in cautions(made))
    assert seat_step(tool({**STRAIGHT, "mount.holder": "drill chuck 16 mm"})).startswith("Drill")
    both = {"kind": "morse and straight", "size": "MT2", "holder": "ER25"}
    combined = tool({"mount": both, "plug.thread": "M10"})
    assert "ER25, collet 14 (14 to 13 mm)" in seat_step(combined)
    assert any(line.startswith("ER25 runs out") for line in cautions(combined))


def test_flats_are_for_the_set_screw_of_a_holder_that_is_no_collet() -> None:
    assert "set screw" in seat_step(tool(FLATTED))
    assert "set screw" not in seat_step(tool({**FLATTED, "mount.holder": "ER32"}))


def test_figures_of_the_tables_that_nobody_confirmed_are_told() -> None:
    told = {each.subject: each.text for each in unverified(tool(R8), ())}
    assert "slot depth 2.3813 mm" in told["taper R8"]
    assert "included angle" not in told["taper R8"]
    without = {
        each.subject: each.text for each in unverified(tool({**R8, "mount.key_slot": "none"}), ())
    }
    assert "slot" not in without.get("taper R8", "")
    flats = {**STRAIGHT, "mount.diameter_mm": 16.0, "mount.flats": "one"}
    told = {each.subject: each.text for each in unverified(tool(flats), ())}
    assert "over flat 14.2 mm" in told["flats of DIN 6535 HB 16"]
    given = tool({**flats, "mount.flat_depth_mm": 1.5})
    told = {each.subject: each.text for each in unverified(given, ())}
    assert "over flat" not in told["flats of DIN 6535 HB 16"]
