from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.documents.drawing import STYLES, Figure, Fill, Line, Text
from generator.documents.force_plot import ForceBand, force_figure, force_figures
from generator.documents.layout import as_rows, touching
from generator.documents.lean_plot import LeanRange, lean_figure
from generator.documents.plot import (
    WIDEST_MM,
    Axes,
    Axis,
    axis,
    figure,
    key,
    nice_step,
    spread,
)
from generator.documents.plot_labels import Label, placed_labels
from generator.documents.stroke_plot import Limits, Stroke, stroke_figure
from generator.documents.text import text_box
from tests.documents.plots import TAPS, bands, force_line, lean, strokes, touches

ISO_128_MM = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
"""Line widths of ISO 128-2, from memory, unverified."""

STEEP = force_line("point out", (0, 10.2), (5, 13), (12, 27.5))
DEMO = force_line("point out", (0, 12), (12, 29.5))
TWIN = replace(DEMO, name="countersink out")
LONG = "bore out of line with the mount, at the tip of the plunger"
LIMITS = Limits(extended_mm=20.75, compressed_mm=8.75, front_reserve_mm=1.0, rear_reserve_mm=1.0)
SHORT = replace(LIMITS, compressed_mm=15.75)
FORCES = ((20.75, 12.0), (8.75, 29.5))


def stroke(needed_mm: float, limits: Limits = LIMITS) -> Figure:
    cutting, backing = strokes(needed_mm, limits)
    return stroke_figure(cutting, backing, limits=limits, forces=FORCES, of="M6, 12 mm deep")


FIGURES = {
    "demo force": lambda: force_figure([DEMO, TWIN], bands("M4", "M6", "M8", "M10")),
    "one tap": lambda: force_figure([DEMO], bands("M6")),
    "no tap": lambda: force_figure([DEMO], []),
    "eight taps, two curves": lambda: force_figure(
        [STEEP, force_line("countersink out", (0, 3.4), (12, 20.5))], bands(*TAPS)
    ),
    "weak spring": lambda: force_figure([force_line("out", (0, 2), (6, 4))], bands(*TAPS)),
    "no window": lambda: force_figure(
        [DEMO],
        [ForceBand(name="M1.6", two_hands_N=9, one_hand_N=45, ceiling_N=6, gives_N=(12, 29.5))],
    ),
    "the wrench at rest": lambda: force_figure(
        [DEMO, TWIN], [replace(each, rests=True) for each in bands("M4", "M6")]
    ),
    "long names": lambda: force_figure(
        [replace(DEMO, name=f"{end} countersink out") for end in ("front", "rear")],
        [replace(band, name=f"ASME B94.9 {band.name} UNC") for band in bands(*TAPS)],
    ),
    "demo lean": lambda: lean(0.04, others=("M4", "M8", "M10")),
    "lean of 0.001 degrees": lambda: lean(0.0003),
    "lean at the limit": lambda: lean(0.1, others=[f"M{n}" for n in range(3, 9)]),
    "limit on a quantile": lambda: lean(0.1, limit_deg=0.244775),
    "many causes": lambda: lean(0.1, causes=[(f"{n}: {LONG}", 1 / (n + 2)) for n in range(12)]),
    "many long taps": lambda: lean(
        0.1, causes=[(LONG, 1.0)], others=[f"ASME B94.9 {n} 1/8-12 UNF" for n in range(29)]
    ),
    "no cause": lambda: lean(0.4, limit_deg=0.5, causes=()),
    "demo stroke": lambda: stroke(16),
    "one setting": lambda: stroke(8),
    "five settings": lambda: stroke(14, SHORT),
    "sixteen settings": lambda: stroke(48, SHORT),
    "no reserve": lambda: stroke(12, replace(LIMITS, front_reserve_mm=0, rear_reserve_mm=0)),
    "long travel": lambda: stroke(6, replace(LIMITS, extended_mm=80)),
}
each_figure = pytest.mark.parametrize("name", FIGURES)


@each_figure
def test_no_text_touches_anything(name: str) -> None:
    assert touches(FIGURES[name]()) == ()


@each_figure
def test_figures_fit_the_page_and_keep_one_style(name: str) -> None:
    made = FIGURES[name]()
    assert 50 < made.width_mm <= WIDEST_MM == 175.0
    assert 40 < made.height_mm < 230
    assert made.caption.endswith(".")
    assert {mark.height_mm for mark in made.marks if isinstance(mark, Text)} == {2.5}
    assert {STYLES[mark.style].width_mm for mark in made.marks} <= set(ISO_128_MM)


def test_three_tones_stay_apart_on_a_grey_print() -> None:
    # Luma of ITU-R BT.601: 0.299 red, 0.587 green, 0.114 blue.
    tones = [STYLES[name].colour for name in ("light", "middle", "warm")]
    rgb = [[int(tone[n : n + 2], 16) for n in (1, 3, 5)] for tone in tones]
    greys = sorted(0.299 * r + 0.587 * g + 0.114 * b for r, g, b in rgb)
    assert greys[0] > 150
    assert all(b - a > 25 for a, b in pairwise([*greys, 258]))


@pytest.mark.parametrize(
    ("span", "most", "step"),
    [(30, 6, 5), (31, 6, 10), (1, 10, 0.1), (0.0011, 6, 0.0002), (7, 1, 10), (10, 5, 2)],
)
def test_steps_are_one_two_or_five_times_a_power_of_ten(
    span: float, most: int, step: float
) -> None:
    assert nice_step(span, most) == pytest.approx(step)


@given(
    low=st.floats(-1e4, 1e4),
    span=st.floats(1e-4, 1e5),
    most=st.integers(2, 10),
    rounded=st.booleans(),
)
def test_scales_hold_their_values_and_mark_round_numbers(
    low: float, span: float, most: int, *, rounded: bool
) -> None:
    made = axis("force, N", low, low + span, most=most, rounded=rounded)
    slack = 1e-4 * made.step
    assert made.low <= low + slack
    assert made.high >= low + span - slack
    assert 1 <= len(made.ticks) <= most + 2 or not rounded
    for tick in made.ticks:
        assert made.low - slack <= tick <= made.high + slack
        assert tick / made.step == pytest.approx(round(tick / made.step), abs=1e-6)
        assert float(made.text(tick)) == pytest.approx(tick, abs=1e-6 * made.step)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_not_finite_has_no_scale(value: float) -> None:
    with pytest.raises(ValueError, match="force, N"):
        axis("force, N", 0.0, value)


def test_values_lie_where_the_scale_says() -> None:
    axes = Axes(x=Axis("a", 0, 50, 10), y=Axis("b", -1, 1, 1), width_mm=100, height_mm=40)
    assert axes.at(25, 0) == (50, 20)
    (line,) = axes.line([(0, -1), (50, 1)])
    assert (line.start, line.end) == ((0, 0), (100, 40))
    assert axes.bar((0, 25), (0, 1), "light").points == ((0, 20), (50, 20), (50, 40), (0, 40))


def test_lines_of_the_scale_give_way_to_letters() -> None:
    axes = Axes(x=axis("a", 0, 10), y=axis("b", 0, 10), width_mm=100, height_mm=50)
    words = Text((30, 19), "right on a line", 2.5)
    made = figure("f", "F", "C.", [*axes.frame(), words], axes.scale_lines())
    assert touches(made) == ()
    scales = [mark for mark in made.marks if isinstance(mark, Line) and mark.style == "scale"]
    assert len(scales) > len(list(axes.scale_lines()))


def test_a_figure_wider_than_the_page_is_refused() -> None:
    with pytest.raises(ValueError, match="175 mm"):
        figure("f", "F", "C.", [Line((0, 0), (180, 0))])


def test_a_key_breaks_into_rows_that_fit() -> None:
    entries = [("tone", "light", "held with two hands")] * 4
    marks = list(key(entries, left_mm=0, bottom_mm=0, room_mm=60))  # type: ignore[arg-type]
    texts = [mark for mark in marks if isinstance(mark, Text)]
    assert len({text.at[1] for text in texts}) == 4
    assert max(text_box(text)[2] for text in texts) <= 60


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(1, 15)), min_size=1, max_size=5))
def test_intervals_side_by_side_keep_their_order_and_their_gap(
    wished: list[tuple[float, float]],
) -> None:
    wished.sort()
    widths = [width for _, width in wished]
    middles = spread([want for want, _ in wished], widths, 0, 100, 2)
    edges = [(m - w / 2, m + w / 2) for m, w in zip(middles, widths, strict=True)]
    assert all(b[0] - a[1] >= 2 - 1e-9 for a, b in pairwise(edges))
    assert edges[0][0] >= -1e-9
    assert edges[-1][1] <= 100 + 1e-9


def test_labels_keep_clear_and_are_led_where_they_are_far() -> None:
    wall = [Line((x, 20 - y), (x + 12, 20 - y)) for x in (15, 20) for y in range(-3, 4)]
    placed = placed_labels([Label("28 N", (25, 20))], wall, (0, 0, 60, 60))
    (text,) = [mark for mark in placed if isinstance(mark, Text)]
    (lead,) = [mark for mark in placed if isinstance(mark, Line)]
    assert lead.start == (25, 20)
    box = text_box(text)
    runs = as_rows([(*mark.start, *mark.end) for mark in (*wall, lead)])
    assert not touching(as_rows([box]), runs).any()
    assert 0 <= box[0] <= box[2] <= 60


def test_a_label_that_can_be_spared_is_left_out_where_there_is_no_place() -> None:
    full = [Line((0, y / 2), (60, y / 2)) for y in range(120)]
    label = Label("28 N", (25, 20))
    assert len(placed_labels([label], full, (0, 0, 60, 60))) > 0
    assert placed_labels([replace(label, needed=False)], full, (0, 0, 60, 60)) == ()


def texts(made: Figure) -> list[str]:
    return [mark.text for mark in made.marks if isinstance(mark, Text)]


def test_curves_that_coincide_are_one_line_with_both_names() -> None:
    both = force_figure([DEMO, TWIN], [])
    curves = [m for m in both.marks if isinstance(m, Line) and m.style == "outline"]
    assert len(curves) == 1
    assert "point out and countersink out" in texts(both)
    apart = force_figure([DEMO, force_line("countersink out", (0, 3.4), (12, 20.5))], [])
    assert {"point out", "countersink out", "3.4 N", "27.5 N", "29.5 N"} - set(texts(apart)) == {
        "27.5 N"
    }


def test_the_force_lies_at_its_value() -> None:
    # 12 to 29.5 N over 12 mm on a scale from 0 to 40 N, 62 mm high and 86 mm wide.
    made = force_figure([DEMO], bands("M4", "M6", "M8", "M10"))
    (curve,) = [
        m
        for m in made.marks
        if isinstance(m, Line)
        and m.style == "outline"
        and m.start[0] < m.end[0]
        and m.start[1] < m.end[1]
    ]
    rise = (curve.end[1] - curve.start[1]) / (29.5 - 12)
    ten = next(
        m for m in made.marks if isinstance(m, Text) and m.anchor == "right" and m.text == "10"
    ).at[1]
    assert curve.start[1] - 2 * rise == pytest.approx(ten + 1.25, abs=0.01)  # middle of a 2.5


def test_windows_show_their_floors_and_go_on_beyond_the_scale() -> None:
    made = force_figure([DEMO], bands("M3", "M6"))
    taps = 2
    fills = {
        style: [m for m in made.marks if isinstance(m, Fill) and m.style == style]
        for style in ("light", "middle", "dimension")
    }
    assert len(fills["light"]) == taps + 1  # and the key
    tall = sorted(m.points[2][1] - m.points[0][1] for m in fills["middle"][:2])
    light = sorted(m.points[2][1] - m.points[0][1] for m in fills["light"][:2])
    scale = 62 / 40
    assert tall == pytest.approx([(25 - 2.8) * scale, (40 - 14) * scale])
    assert light == pytest.approx([(25 - 2.8 / 5) * scale, (40 - 14 / 5) * scale])
    arrows = [m for m in fills["dimension"] if len(m.points) == 3]
    assert len(arrows) == 1
    assert {"M3", "M6", "25", "100", "14", "2.8"} <= set(texts(made))


def test_each_column_shows_the_force_that_its_tap_gets() -> None:
    made = force_figure([DEMO], bands("M3"))
    upright = [
        m
        for m in made.marks
        if isinstance(m, Line) and m.style == "outline" and m.start[0] == m.end[0] > 87
    ]
    (given_force,) = [m for m in upright if m.end[1] - m.start[1] < 62]
    assert given_force.end[1] - given_force.start[1] == pytest.approx((29.5 - 12) * 62 / 40)


def test_a_wrench_at_rest_has_one_floor_and_no_hands() -> None:
    made = FIGURES["the wrench at rest"]()
    assert {"held, the wrench at rest", "at least, N"} <= set(texts(made))
    assert not any("hand" in text for text in texts(made))


def test_figures_of_two_forces_stand_on_their_own_side() -> None:
    made = force_figure([DEMO, force_line("countersink out", (0, 10.6), (12, 28.1))], [])
    at = {m.text: m.at[1] for m in made.marks if isinstance(m, Text)}
    assert at["12 N"] > at["10.6 N"]
    assert at["29.5 N"] > at["28.1 N"]


def test_a_lathe_has_a_barrel_and_may_turn_the_chuck() -> None:
    cutting, backing = strokes(8, LIMITS)
    made = stroke_figure(
        *(cutting, backing), limits=LIMITS, forces=FORCES, of="M6", moved="barrel", turned="chuck"
    )
    assert {"barrel locked, the chuck turns", "barrel moved"} <= set(texts(made))
    assert "quill" not in made.caption


def test_many_taps_are_shared_evenly_among_figures() -> None:
    many = [replace(band, name=f"{band.name}-{n}") for n in range(3) for band in bands(*TAPS)]
    made = force_figures([DEMO], many)
    assert len(made) == 3
    assert [each.title[-8:] for each in made] == ["(1 of 3)", "(2 of 3)", "(3 of 3)"]
    shown = [text for each in made for text in texts(each)]
    assert all(shown.count(band.name) == 1 for band in many)
    assert all(touches(each) == () for each in made)


def test_a_force_that_is_not_finite_is_refused() -> None:
    with pytest.raises(ValueError, match="not finite"):
        force_figure([force_line("point out", (0, 12), (12, float("nan")))], [])


@given(
    first=st.floats(0.5, 80),
    rise=st.floats(0, 120),
    travel=st.floats(3, 60),
    tolerance=st.floats(0.01, 0.4),
    taps=st.lists(st.sampled_from(list(TAPS)), unique=True),
)
def test_force_figures_of_any_spring_are_clean(
    first: float, rise: float, travel: float, tolerance: float, taps: list[str]
) -> None:
    curve = force_line("point out", (0, first), (travel, first + rise), tolerance=tolerance)
    assert touches(force_figure([curve], bands(*taps))) == ()


@given(scale=st.floats(1e-4, 1), limit=st.sampled_from([0.1, 0.25, 0.5]))
def test_lean_figures_of_any_lean_are_clean(scale: float, limit: float) -> None:
    made = lean(scale, limit_deg=limit)
    assert touches(made) == ()
    assert ("limit" in texts(made)) != any("limit, general" in text for text in texts(made))


def test_causes_are_ranked_and_as_long_as_their_shares() -> None:
    made = lean(0.04, causes=[("seat", 0.2), ("height", 0.5), ("cone", 0.3)])
    names = [text for text in texts(made) if text in ("seat", "height", "cone")]
    assert names == ["height", "cone", "seat"]
    bars = [m for m in made.marks if isinstance(m, Fill) and m.style == "middle"]
    lengths = [m.points[1][0] - m.points[0][0] for m in bars]
    assert lengths == pytest.approx([lengths[0], 0.6 * lengths[0], 0.4 * lengths[0]])
    assert {"50", "30", "20"} <= set(texts(made))


def test_the_steps_of_the_histogram_enclose_all_assemblies() -> None:
    # Area under the steps over the area of the plot, in the units of both scales, is 100 %.
    made = lean(0.04, limit_deg=0.25)
    (tone,) = [m for m in made.marks if isinstance(m, Fill) and m.style == "light"]
    pairs = zip(tone.points, (*tone.points[1:], tone.points[0]), strict=True)
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2
    # The scale runs to 0.3 degrees over 78 mm; a class is 5 x 0.04 / 50 degrees wide; what a per
    # cent is high is read from the ticks.
    ticks = {m.text: m.at[1] for m in made.marks if isinstance(m, Text) and m.anchor == "right"}
    per_percent = (ticks["4"] - ticks["2"]) / 2
    class_mm = 78 / 0.3 * (5 * 0.04 / 50)
    assert area / (per_percent * class_mm) == pytest.approx(100, abs=0.5)


@pytest.mark.parametrize("shares", [[0.5, 0.5], [0.0]])
def test_shares_that_do_not_fit_are_refused(shares: list[float]) -> None:
    of = LeanRange(name="M6", median_deg=0.1, most_deg=0.2, nearly_all_deg=0.3)
    with pytest.raises(ValueError, match="edges"):
        lean_figure(
            [0.0, 0.1], shares, of=of, limit_deg=0.25, limit_name="general", contributors=()
        )


def test_each_setting_is_drawn_numbered_and_read() -> None:
    # 16 mm with 12 of travel less a millimetre at either end: 10 and 6, and back 6 and 10.
    made = stroke(16)
    runs = [m for m in made.marks if isinstance(m, Line) and m.style == "outline"]
    runs = [m for m in runs if m.start[1] != m.end[1]]
    scale = 68 / 16
    across = [abs(m.end[0] - m.start[0]) / scale for m in runs]
    assert across == pytest.approx([10, 6, 6, 10])
    moves = [m for m in made.marks if isinstance(m, Line) and m.style == "hidden"]
    assert sum(m.start[0] == m.end[0] for m in moves) == 2
    assert {"1", "2", "3", "4", "1:", "2:", "3:", "4:", "10 mm", "20 mm"} <= set(texts(made))


def test_the_scale_of_force_follows_the_springs() -> None:
    # Two springs: 12 to 15 N over the first 6 mm, 15 to 29.5 over the rest; 20 N at 5/14.5 of it.
    cutting, backing = strokes(8, LIMITS)
    forces = ((20.75, 12.0), (14.75, 15.0), (8.75, 29.5))
    made = stroke_figure(cutting, backing, limits=LIMITS, forces=forces, of="M6")
    at = {m.text: m.at[1] for m in made.marks if isinstance(m, Text) and m.anchor == "left"}
    left = {m.text: m.at[1] for m in made.marks if isinstance(m, Text) and m.anchor == "right"}
    per_mm = (left["18"] - left["10"]) / 8
    assert (at["15"] - left["10"]) / per_mm + 10 == pytest.approx(14.75)
    assert (at["20"] - left["10"]) / per_mm + 10 == pytest.approx(14.75 - 6 * 5 / 14.5)


def test_forces_beyond_the_plot_are_not_marked() -> None:
    cutting, backing = strokes(8, SHORT)
    made = stroke_figure(cutting, backing, limits=SHORT, forces=FORCES, of="M6")
    (frame,) = {
        (m.start[1], m.end[1])
        for m in made.marks
        if isinstance(m, Line) and m.style == "thin" and m.end[1] - m.start[1] == 66
    }
    right = [m for m in made.marks if isinstance(m, Text) and m.text in ("15", "20", "25")]
    at = [m.at[1] + 1.25 for m in right if m.anchor == "left"]
    assert len(at) == 2
    assert all(frame[0] <= y <= frame[1] for y in at)


def test_a_plunger_without_travel_has_no_stroke() -> None:
    one = Stroke(reading="", start_depth_mm=0, start_mm=9, end_depth_mm=1, end_mm=10)
    with pytest.raises(ValueError, match="limits"):
        stroke_figure([one], [], limits=replace(LIMITS, extended_mm=8), forces=(), of="M6")


@given(
    needed=st.floats(1, 60),
    extended=st.floats(8, 40),
    travel=st.floats(3.5, 30),
    reserve=st.floats(0.2, 1.5),
)
def test_stroke_figures_of_any_hole_are_clean(
    needed: float, extended: float, travel: float, reserve: float
) -> None:
    limits = Limits(
        extended_mm=extended,
        compressed_mm=extended - travel,
        front_reserve_mm=reserve,
        rear_reserve_mm=reserve,
    )
    cutting, backing = strokes(needed, limits)
    forces = ((extended, 12.0), (extended - travel, 29.5))
    made = stroke_figure(cutting, backing, limits=limits, forces=forces, of="M6")
    assert touches(made) == ()
