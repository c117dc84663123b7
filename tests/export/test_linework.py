import xml.etree.ElementTree as ET
from math import sqrt

import pytest

from generator.documents.drawing import BLACK, STYLES, Arc, Curve, Fill, Line, Text
from generator.export.linework import linework_svg

SVG = "{http://www.w3.org/2000/svg}"


def paths(*marks: Line | Arc | Curve | Fill | Text) -> list[dict[str, str]]:
    root = ET.fromstring(linework_svg(marks, width_mm=297, height_mm=210))
    assert root.attrib["viewBox"] == "0 0 297 210"
    assert (root.attrib["width"], root.attrib["height"]) == ("297mm", "210mm")
    return [dict(path.attrib) for path in root.iter(f"{SVG}path")]


@pytest.mark.parametrize("style", STYLES)
def test_each_style_has_its_width_and_dashes(style: str) -> None:
    (path,) = paths(Line((10, 200), (110, 200), style))
    assert path["d"] == "M10 10L110 10"
    assert float(path["stroke-width"]) == STYLES[style].width_mm
    dashes = tuple(float(dash) for dash in path.get("stroke-dasharray", "").split())
    assert dashes == STYLES[style].dashes_mm
    colour = STYLES[style].colour
    assert path["stroke"] == ("black" if colour == BLACK else colour)


def test_arc_runs_anticlockwise_on_paper() -> None:
    (path,) = paths(Arc((100, 100), 10, 0, 90))
    assert path["d"] == "M110 110A10 10 0 0 0 100 100"


def test_long_arc_takes_the_long_way() -> None:
    (path,) = paths(Arc((100, 100), 10, 0, 270))
    assert path["d"] == "M110 110A10 10 0 1 0 100 120"


def test_arc_through_zero_keeps_its_sweep() -> None:
    (path,) = paths(Arc((100, 100), 10, 315, 45))
    h = round(10 / sqrt(2), 4)
    assert path["d"] == f"M{100 + h} {110 + h}A10 10 0 0 0 {100 + h} {round(110 - h, 4)}"


def test_circle_is_two_halves() -> None:
    (path,) = paths(Arc((100, 100), 10))
    assert path["d"] == "M110 110A10 10 0 0 0 90 110A10 10 0 0 0 110 110"


def test_curve_is_one_run_with_round_corners() -> None:
    (path,) = paths(Curve(((10, 200), (20, 200), (30, 195)), "thin"))
    assert path["d"] == "M10 10L20 10L30 15"
    assert (path["stroke-linecap"], path["stroke-linejoin"]) == ("round", "round")


def test_fill_has_no_outline_and_text_is_left_out() -> None:
    (path,) = paths(Fill(((0, 0), (3, 1), (3, -1))), Text((5, 5), "<b>&"))
    assert path == {"d": "M0 210L3 209L3 211Z", "fill": "black"}


def test_tones_lie_under_coloured_lines_and_these_under_black_ones() -> None:
    marks = (
        Fill(((0, 0), (3, 1), (3, -1))),
        Line((0, 0), (9, 0)),
        Line((0, 0), (9, 0), "scale"),
        Fill(((0, 0), (9, 0), (9, 9), (5, 12), (0, 9)), "warm"),
        Fill(((0, 0), (9, 0), (9, 9)), "light"),
    )
    tones = (STYLES["warm"].colour, STYLES["light"].colour)
    found = [(path["fill"], path.get("stroke")) for path in paths(*marks)]
    scale = STYLES["scale"].colour
    assert found[:2] == [(tone, None) for tone in tones]
    assert found[2:] == [("none", scale), ("none", "black"), ("black", None)]


def test_unknown_style_is_refused() -> None:
    with pytest.raises(KeyError):
        linework_svg([Line((0, 0), (1, 1), "wavy")], width_mm=10, height_mm=10)
