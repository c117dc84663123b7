from dataclasses import replace

import pytest

from generator.documents.drawing import Arc, Curve, Dimension, Drawing, Line, Mark, Text
from generator.documents.hatch import hatched
from generator.documents.layout import arc_points, bounds, collisions, moved

SHEET = Drawing("sheet", "Sheet", 100.0, 50.0, 1.0, (), ())
WORD = Text((20.0, 20.0), "MASS", 3.5)


@pytest.mark.parametrize(
    "mark",
    [
        Line((0.0, 21.0), (90.0, 21.0), "dimension"),
        Line((15.0, 10.0), (30.0, 35.0), "hatch"),
        Line((22.0, 21.0), (23.0, 22.0), "thin"),
        Arc((25.0, 21.0), 2.0),
        Curve(((10.0, 10.0), (12.0, 21.0), (40.0, 21.0)), "thin"),
        Text((23.0, 21.0), "A", 3.5),
        Text((26.0, 15.0), "TURNED", 3.5, rotation_deg=90.0),
    ],
)
def test_whatever_touches_a_text_is_named(mark: Mark) -> None:
    found = collisions(replace(SHEET, marks=(WORD, mark)))
    assert any("MASS" in line for line in found)


@pytest.mark.parametrize(
    "mark",
    [
        Line((0.0, 19.0), (90.0, 19.0), "dimension"),
        Line((0.0, 24.5), (90.0, 24.5)),
        Arc((25.0, 21.0), 20.0),
        Curve(((10.0, 10.0), (12.0, 30.0), (40.0, 30.0))),
        Text((40.0, 20.0), "A", 3.5),
    ],
)
def test_what_stands_clear_is_not_named(mark: Mark) -> None:
    assert collisions(replace(SHEET, marks=(WORD, mark))) == ()


def test_text_and_line_beyond_the_sheet_are_named() -> None:
    marks = (Text((95.0, 20.0), "MASS", 3.5), Line((50.0, 40.0), (50.0, 51.0)))
    found = collisions(replace(SHEET, marks=marks))
    assert sorted("beyond the sheet" in line for line in found) == [True, True]


def test_dimension_lines_upon_each_other_are_named() -> None:
    def dimension(left: float, right: float) -> Dimension:
        text = Text(((left + right) / 2, 31.0), f"{right - left:g}", 3.5, "centre")
        points = ((left, 10.0), (right, 10.0), (right, 30.0))
        return Dimension("horizontal", points, 1.0, "<>", text, (text,))

    upon = replace(SHEET, dimensions=(dimension(10.0, 40.0), dimension(30.0, 90.0)))
    beside = replace(SHEET, dimensions=(dimension(10.0, 40.0), dimension(40.0, 90.0)))
    assert any("runs upon" in line for line in collisions(upon))
    assert collisions(beside) == ()


def test_arc_points_lie_on_the_arc() -> None:
    points = arc_points(Arc((1.0, 2.0), 5.0, -30.0, 30.0))
    assert points[0][1] == pytest.approx(2.0 - 2.5)
    assert all((x - 1) ** 2 + (y - 2) ** 2 == pytest.approx(25.0) for x, y in points)


def test_hatch_covers_its_share_of_a_square_with_a_hole() -> None:
    # total length times spacing is the area hatched, to within one spacing along the edge
    square = [(0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)]
    lines = hatched(square, spacing_mm=0.5, without=[(10.0, 20.0)])
    length = sum(
        ((a.end[0] - a.start[0]) ** 2 + (a.end[1] - a.start[1]) ** 2) ** 0.5 for a in lines
    )
    assert length * 0.5 == pytest.approx(1600.0 - 400.0, rel=0.01)
    assert not any(10.01 < x < 19.99 for a in lines for x, _ in (a.start, a.end))


@pytest.mark.parametrize("rising", [True, False])
def test_hatch_runs_at_45_degrees(*, rising: bool) -> None:
    lines = hatched([(0.0, 0.0), (30.0, 0.0), (0.0, 20.0)], rising=rising)
    slope = 1.0 if rising else -1.0
    assert len(lines) > 5
    assert all(
        a.end[1] - a.start[1] == pytest.approx(slope * (a.end[0] - a.start[0])) for a in lines
    )


def test_a_curve_is_bounded_by_its_corners_and_moves_with_them() -> None:
    curve = Curve(((0.0, 0.0), (1.0, 5.0), (3.0, -1.0)), "thin")
    assert bounds([curve]) == (0.0, -1.0, 3.0, 5.0)
    assert moved(curve, 1.0, 2.0) == Curve(((1.0, 2.0), (2.0, 7.0), (4.0, 1.0)), "thin")
