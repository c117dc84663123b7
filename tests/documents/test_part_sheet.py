import re
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.documents.drawing import Drawing, Line, Text
from generator.documents.layout import collisions
from generator.documents.part_notes import PartNotes, place_mm
from generator.documents.part_sheet import part_sheet
from generator.documents.sheet import inner_frame
from generator.documents.symbols import printed
from generator.errors import ExportError
from generator.model.outline import Outline
from tests.documents.samples import (
    body_notes,
    button,
    header,
    morse_body,
    plug,
    plunger,
    plunger_notes,
    straight_body,
)

NUMBER = r"\d*\.?\d+"

SHEETS = {
    "morse body": lambda: part_sheet([body_notes(morse_body())], header("Body")),
    "body with extension": lambda: part_sheet(
        [body_notes(morse_body(extension=12.0))], header("Body")
    ),
    "straight body": lambda: part_sheet([body_notes(straight_body())], header("Body")),
    "plunger": lambda: part_sheet([plunger_notes(plunger())], header("Plunger")),
    "plunger, two centres": lambda: part_sheet(
        [plunger_notes(plunger(front="countersink"))], header("Plunger")
    ),
    "plunger, two points": lambda: part_sheet(
        [plunger_notes(plunger(rear="point"))], header("Plunger")
    ),
    "plunger, plain ends": lambda: part_sheet(
        [plunger_notes(plunger(front="plain", rear="plain"))], header("Plunger")
    ),
    "small parts": lambda: part_sheet(
        [PartNotes(plug(), "bar"), PartNotes(button(), "bar")], header("Small parts")
    ),
    "small parts, hexagon": lambda: part_sheet(
        [PartNotes(plug(hexagon=True)), PartNotes(button(thickness=4.0, recess=5.0))],
        header("Small parts"),
    ),
    "refused": lambda: part_sheet(
        [body_notes(morse_body())],
        header(
            "Body",
            failed=("wall over the rear thread", "hold of the set screw", "solid length") * 3,
            changed=("wall over the bore 1.5 to 1.2 mm",),
        ),
    ),
}


def texts(drawing: Drawing) -> list[str]:
    marks = [*drawing.marks, *(m for d in drawing.dimensions for m in d.marks)]
    return [mark.text for mark in marks if isinstance(mark, Text)]


def measured(drawing: Drawing) -> list[str]:
    return [d.text.text for d in drawing.dimensions]


@pytest.fixture(scope="module", params=SHEETS, ids=str)
def sheet(request: pytest.FixtureRequest) -> Drawing:
    return SHEETS[request.param]()


def test_nothing_touches_a_text(sheet: Drawing) -> None:
    assert collisions(sheet) == ()


def test_everything_lies_within_the_frame(sheet: Drawing) -> None:
    left, bottom, right, top = inner_frame("A4" if sheet.width_mm < 300 else "A3")
    marks = [*sheet.marks, *(m for d in sheet.dimensions for m in d.marks)]
    for mark in marks:
        if isinstance(mark, Line) and mark.style != "frame":
            for x, y in (mark.start, mark.end):
                assert left <= x <= right
                assert bottom <= y <= top


def test_every_dimension_prints_what_it_measures(sheet: Drawing) -> None:
    for each in sheet.dimensions:
        if each.kind == "angular":
            continue
        a, b, _ = each.points
        along = 0 if each.kind == "horizontal" else 1
        assert a[1 - along] == b[1 - along]
        size_mm = abs(b[along] - a[along]) / each.scale
        assert printed(each.pattern, size_mm, each.spelling) == each.text.text
        assert size_mm == pytest.approx(float(re.findall(NUMBER, each.text.text)[0]), abs=0.0051)


def test_no_dimension_is_given_twice(sheet: Drawing) -> None:
    spots = Counter(
        (d.kind, *(tuple(round(c, 3) for c in point) for point in d.points[:2]))
        for d in sheet.dimensions
    )
    assert max(spots.values()) == 1


def test_centre_line_overruns_every_view(sheet: Drawing) -> None:
    centre = [m for m in sheet.marks if isinstance(m, Line) and m.style == "centre"]
    assert len(centre) > 3  # three stand in the projection symbol


def test_title_block_names_what_it_must(sheet: Drawing) -> None:
    written = texts(sheet)
    for wanted in ("MT2 tap follower", "0123456789ab", "ISO 2768-m", "mm, NOMINAL", "B"):
        assert wanted in written


def test_letters_of_dimensions_are_large_enough(sheet: Drawing) -> None:
    assert all(d.text.height_mm >= 3.5 for d in sheet.dimensions)


def test_body_carries_the_dimensions_that_cut_it() -> None:
    sheet = SHEETS["morse body"]()
    # No. 2 Morse: gauge diameter 17.780, rate 1:20.020, small end 14.583 (published charts)
    assert sorted(measured(sheet)) == sorted(
        ["Ø8 H7 (+0.015/0)", "Ø20", "Ø17.78 gauge", "(Ø14.58)", "16 ±0.1", "24", "29", "93 ±0.2"]
    )
    written = " ".join(texts(sheet))
    assert re.search(r"1:20\.020 on dia\.", written)
    for wanted in ("M10-6H x 23", "drill Ø8.5 x 27.5", "M4-6H", "drill Ø3.3 to bore", "1 x 45°"):
        assert wanted in written


def test_half_angle_of_a_morse_taper_is_the_published_one() -> None:
    # Machinery's Handbook, Morse tapers: No. 2, angle with the axis 1 deg 25' 50''
    assert "(half angle 1°25'50'')" in texts(SHEETS["morse body"]())


def test_plunger_carries_the_dimensions_that_cut_it() -> None:
    assert sorted(measured(SHEETS["plunger"]())) == sorted(
        ["Ø8 h8 (0/-0.022)", "60°", "23.75", "14.5 +0.1/0", "62", "3", "1.6 +0.1/0", "(6.4)"]
    )


def test_failed_checks_and_changed_limits_stand_on_the_sheet() -> None:
    written = " ".join(texts(SHEETS["refused"]()))
    assert "FAILED CHECKS: wall over the rear thread" in written
    assert "LIMITS CHANGED: wall over the bore 1.5 to 1.2 mm" in written


def test_third_angle_puts_the_end_view_on_the_other_side() -> None:
    notes = [PartNotes(plug())]
    first = part_sheet(notes, header("Plug"))
    third = part_sheet(notes, replace(header("Plug"), projection="third"))
    assert collisions(third) == ()

    def place(sheet: Drawing, text: str) -> float:
        return next(d.text.at[0] for d in sheet.dimensions if d.text.text == text)

    assert place(first, "8") < place(first, "1.6")
    assert place(third, "8") > place(third, "1.6")


def test_place_of_what_a_part_lacks_is_none() -> None:
    part = plunger()
    assert place_mm(part, "gauge plane") is None
    assert place_mm(part, "rear of bore") is None
    assert place_mm(part, "rear of slot") == pytest.approx(38.25)


def test_part_that_fits_no_sheet_is_refused() -> None:
    part = straight_body(length=900.0)
    with pytest.raises(ExportError, match="fits no sheet"):
        part_sheet([body_notes(part)], header("Body"))


def test_same_part_gives_the_same_sheet() -> None:
    assert SHEETS["morse body"]() == SHEETS["morse body"]()


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    bore=st.floats(4.0, 8.2),
    nose=st.floats(18.5, 40.0),
    nose_length=st.floats(18.0, 40.0),
    screw=st.floats(0.4, 0.75),
    extension=st.sampled_from([0.0, 8.0, 20.0]),
)
def test_no_body_makes_a_collision(
    bore: float, nose: float, nose_length: float, screw: float, extension: float
) -> None:
    part = morse_body(
        bore=bore,
        nose=nose,
        nose_length=nose_length,
        screw=screw * nose_length,
        extension=extension,
    )
    assert collisions(part_sheet([body_notes(part)], header("Body"))) == ()


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    diameter=st.floats(5.0, 16.0),
    length=st.floats(4.5, 8.0),
    start=st.floats(0.3, 0.4),
    share=st.floats(0.15, 0.3),
    front=st.sampled_from(["point", "countersink", "plain"]),
    rear=st.sampled_from(["point", "countersink", "plain"]),
)
def test_no_plunger_makes_a_collision(
    diameter: float, length: float, start: float, share: float, front: str, rear: str
) -> None:
    long = diameter * length
    slot = (start * long, share * long, 0.35 * diameter, 0.2 * diameter)
    part = plunger(diameter=diameter, length=long, slot=slot, front=front, rear=rear)
    assert collisions(part_sheet([plunger_notes(part)], header("Plunger"))) == ()


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    diameter=st.floats(6.0, 20.0),
    length=st.floats(5.0, 16.0),
    hexagon=st.booleans(),
    recess=st.sampled_from([0.0, 0.6]),
)
def test_no_small_parts_make_a_collision(
    diameter: float, length: float, hexagon: bool, recess: float
) -> None:
    parts = [
        PartNotes(plug(diameter=diameter, length=length, hexagon=hexagon), "bar Ø20 x 30", 1),
        PartNotes(
            button(diameter=0.8 * diameter, thickness=0.4 * diameter, recess=recess * diameter)
        ),
    ]
    assert collisions(part_sheet(parts, header("Small parts"))) == ()


def test_outline_of_the_samples_is_a_ring_without_repeats() -> None:
    for part in (morse_body(), straight_body(), plunger(), plug(), button(recess=5.0)):
        assert isinstance(part.outline, Outline)
        assert part.outline.shortest_mm > 1e-6
