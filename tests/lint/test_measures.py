"""What dimensions of all kinds measure and print, in millimetres and inches."""

from __future__ import annotations

from dataclasses import replace
from math import nan
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from generator.export.dxf_reader import read_dxf
from generator.lint.measures import length_mm, numbers_true
from generator.lint.page import Page
from generator.lint.sheet import Letters, Measure, Sheet

HERE = (0.0, 0.0)
KINDS: dict[str, Any] = {
    "linear": lambda s: s.add_linear_dim((0, 9), p1=(1, 2), p2=(8, 5)),
    "linear, upright": lambda s: s.add_linear_dim((9, 0), p1=(1, 2), p2=(8, 5), angle=90),
    "linear, slanting": lambda s: s.add_linear_dim((0, 9), p1=(1, 2), p2=(8, 5), angle=30),
    "linear, along": lambda s: s.add_aligned_dim(p1=(1, 2), p2=(8, 5), distance=2),
    "diameter": lambda s: s.add_diameter_dim(center=(3, 4), radius=2.5, angle=40),
    "radius": lambda s: s.add_radius_dim(center=(3, 4), radius=2.5, angle=40),
    "angular": lambda s: s.add_angular_dim_2l(
        base=(5, 4), line1=((0, 0), (5, 0)), line2=((0, 0), (4, 4))
    ),
    "angular by points": lambda s: s.add_angular_dim_3p(
        base=(5, 4), center=(0, 0), p1=(5, 0), p2=(3, 4)
    ),
    "ordinate": lambda s: s.add_ordinate_x_dim((7, 3), offset=(0, 5), origin=(2, 1)),
}


@pytest.mark.parametrize("kind", KINDS, ids=str)
@pytest.mark.parametrize("units", [1, 4])
def test_measure_is_that_of_another_reader(kind: str, units: int, tmp_path: Path) -> None:
    document = ezdxf.new("R2010", setup=True, units=units)
    KINDS[kind](document.modelspace()).render()
    document.saveas(tmp_path / "one.dxf")
    sheet = read_dxf(tmp_path / "one.dxf")
    assert isinstance(sheet, Sheet)
    (measure,) = sheet.measures
    wanted = document.modelspace().query("DIMENSION").first.get_measurement()
    assert measure.kind == kind.partition(",")[0]
    unit_mm = 1.0 if "angular" in kind else sheet.unit_mm
    assert length_mm(measure) / unit_mm == pytest.approx(getattr(wanted, "x", wanted))


MEASURE = Measure(
    0,
    "linear",
    ((0.0, 5.0), (0.0, 0.0), (29.166, 0.0), (nan, nan), (nan, nan)),
    0.0,
    False,
    "<>",
    nan,
    1.0,
    "DIMENSION",
    "14.583",
    HERE,
)
"""14.583 mm long at 2:1."""


def test_aligned_dimension_measures_the_distance_of_its_points() -> None:
    points = ((nan, nan), (1.0, 2.0), (4.0, 6.0), (nan, nan), (nan, nan))
    assert length_mm(replace(MEASURE, kind="aligned", points=points)) == 5.0


def page(measure: Measure, *, inches: bool = False, unit_mm: float = 1.0) -> Page:
    """Return a page at 2:1 that holds one dimension."""
    told = Letters("inch", (1.0, 1.0, 9.0, 4.0), 3.5, 1.0, False, "TEXT", -1)
    letters = (told,) if inches else ()
    sheet = Sheet(
        "a.dxf", 2.0, unit_mm, (297.0, 210.0), letters, (), (), (), (measure,), (), (), True
    )
    return Page(sheet, None, ((0.0, 0.0, 20.0, 10.0),), (), (5.0,))


def rules(page: Page) -> list[str]:
    return [fault.what for fault in numbers_true(page)]


@pytest.mark.parametrize(
    ("text", "is_true"),
    [
        ("14.583", True),
        ("14.58", True),
        ("14.59", False),
        ("14.6", False),
        ("15", False),
        ("(14.583)", True),
        ("14.583 H7 (+0.018/0)", True),
        ("14.583 ±0.1", True),
        ("14.583 (0/-0.018)", True),
        ("14.583 (-0.018/0)", False),
    ],
)
def test_number_is_the_measure_as_finely_as_it_is_printed(text: str, is_true: bool) -> None:
    pattern = text.replace("14.583", "<>") if "14.583" in text else text
    assert (not rules(page(replace(MEASURE, text=text, pattern=pattern)))) is is_true


def test_number_behind_a_sign_that_stands_in_the_pattern_is_read() -> None:
    assert not rules(page(replace(MEASURE, text="Ø14.583 gauge", pattern="Ø<> gauge")))
    assert not rules(page(replace(MEASURE, text="(Ø14.583)", pattern="(Ø<>)")))


def test_sheet_in_inches_prints_inches() -> None:
    inch = replace(MEASURE, text=".574", factor=1 / 25.4)
    assert not rules(page(inch, inches=True))
    assert not rules(page(replace(inch, factor=1.0), inches=True, unit_mm=25.4))
    assert rules(page(replace(inch, text=".575"), inches=True))
    assert rules(page(inch))
    (what,) = rules(page(replace(inch, factor=1.0), inches=True))
    assert "drawn anew by a reader" in what


def test_literal_text_in_a_detail_view_may_tell_its_own_scale() -> None:
    assert not rules(page(replace(MEASURE, text="5.833", pattern="5.833")))
    assert rules(page(replace(MEASURE, text="5.833", pattern="<>")))
    assert rules(page(replace(MEASURE, text="5.9", pattern="5.9")))


def test_stated_measure_is_held_against_the_points() -> None:
    assert not rules(page(replace(MEASURE, stated=14.583)))
    (what,) = rules(page(replace(MEASURE, stated=14.6)))
    assert "states a measure of 14.6" in what
