"""The tool run through its stroke: what the page shows of it, and the data that moves it."""

from __future__ import annotations

from typing import Any, Final

from generator.documents.stroke_section import Layer, StrokeSection
from generator.documents.stroke_view import Coil, Colour, Position, StrokeView, legend
from generator.export.html_blocks import plain
from generator.export.linework import area, paths
from generator.model.mesh import STEP_MM, WHOLE

DIGITS: Final = 9
"""As many decimals as the report for programs has."""

TINT: Final = 0.45
"""Share of a part's colour in the section, the rest white."""

STEPS: Final = (
    ("-1000", "Out"),
    ("-1", "\N{MINUS SIGN}1"),
    ("-0.1", "\N{MINUS SIGN}0.1"),
    ("0.1", "+0.1"),
    ("1", "+1"),
    ("1000", "Home"),
)
BELOW: Final = 12.0
"""Room below the section for the length that the plunger stands out."""


def stage_data(view: StrokeView, section: StrokeSection, *, inches: bool) -> dict[str, Any]:
    """Return what moves the pictures, as the script reads it; null for what cannot be told."""
    rows = [position for way in view.ways for position in way.positions]
    ends = [z for row in rows for z in row.places_mm]
    front = min(0.0, *(-row.projection_mm for row in rows))
    rear = max(section.box[0] / -section.scale, *ends)
    return {
        "scale": section.scale,
        "stepMm": STEP_MM,
        "wholeMm": rear - front,
        "middleMm": (front + rear) / 2,
        "inches": inches,
        "most": _most_N(view),
        "bodies": [
            {
                "name": body.name,
                "part": body.part,
                "across": body.across_mm,
                "colour": body.colour,
                "cut": body.part not in WHOLE,
            }
            for body in view.bodies
        ],
        "coils": [
            {
                "name": coil.name,
                "wire": coil.wire_mm,
                "mean": coil.mean_mm,
                "turns": coil.turns,
                "upper": coil.upper,
                "ground": coil.ground,
                "knots": coil.knots,
            }
            for coil in view.coils
        ],
        "ways": [
            {
                "key": way.key,
                "name": way.name,
                "axes": way.axes,
                "positions": [_row(position) for position in way.positions],
            }
            for way in view.ways
        ],
        "taps": [
            {
                "work": tap.work,
                "way": tap.way,
                "twoHands": _known(tap.two_hands_N),
                "oneHand": _known(tap.one_hand_N),
                "ceiling": _known(tap.ceiling_N),
                "ceilingOf": tap.ceiling_of,
                "rests": tap.rests,
                "verdict": tap.verdict,
            }
            for tap in view.taps
        ],
    }


def _row(position: Position) -> dict[str, Any]:
    return {
        "pushed": _known(position.pushed_mm),
        "projection": _known(position.projection_mm),
        "force": _known(position.force_N),
        "places": [_known(z) for z in position.places_mm],
        "lengths": [_known(length) for length in position.lengths_mm],
        "left": [_known(left) for left in position.left_mm],
    }


def _known(value: float) -> float | None:
    short = round(value, DIGITS) + 0.0
    return short if abs(short) < float("inf") else None


def _most_N(view: StrokeView) -> float:
    """Return the force at the right end of the band: a little over all that is given or wanted."""
    given = [row.force_N for way in view.ways for row in way.positions]
    wanted = [floor for tap in view.taps for floor in (tap.one_hand_N, tap.two_hands_N)]
    return 1.2 * max(force for force in (1.0, *given, *wanted) if force == force)


def stage_html(title: str, view: StrokeView, section: StrokeSection) -> str:
    """Return section, view in three dimensions, slider and readings."""
    return (
        f'<section id="at-work"><h2>{title}</h2><div id="stage"><div id="pictures">'
        f"{_section(view, section)}"
        '<p class="hint">Cut along the axis, nose to the right; to no scale.</p></div>'
        f'<div id="told">{_readings(view)}{_tap(view)}</div>'
        '<div id="solid"><canvas id="model" tabindex="0" role="img" aria-label="The tool in three '
        'dimensions, its body cut open"></canvas><p id="no-model" hidden>This browser shows no '
        "three dimensions (WebGL is off or missing). The section shows the same.</p>"
        '<p class="hint">Turn it with a finger; pinch or wheel to enlarge; tap twice to begin '
        f"again. Tap a part to hide it:</p>{_legend(view)}</div>{_drive(view)}</div></section>"
    )


def _section(view: StrokeView, section: StrokeSection) -> str:
    left, bottom, right, top = section.box
    right += 34.0
    tints = {part: _mixed(colour) for part, _, colour in legend(view)}
    coils = {coil.name: coil for coil in view.coils}
    layers = "".join(_layer(layer, tints, coils, section.scale) for layer in section.layers)
    low = -bottom + BELOW / 2
    return (
        f'<svg id="section" xmlns="http://www.w3.org/2000/svg" viewBox="{left:.2f} {-top:.2f} '
        f'{right - left:.2f} {top - bottom + BELOW:.2f}" role="img" '
        f'aria-label="Section of the tool">{layers}'
        f'<path d="M{left + 1:.2f} 0H{right - 30:.2f}" stroke="black" stroke-width="0.25" '
        'stroke-dasharray="8 1.5 1.5 1.5"/>'
        f'<g stroke="black" stroke-width="0.35" fill="none"><path d="M0 {-bottom - 2:.2f}'
        f'V{low + 2:.2f}"/><line id="tip" y1="2" y2="{low + 2:.2f}"/>'
        f'<line id="out" x1="0" y1="{low:.2f}" y2="{low:.2f}"/></g>'
        f'<text id="out-told" y="{low + 2:.2f}" font-size="6"></text></svg>'
    )


def _layer(layer: Layer, tints: dict[str, str], coils: dict[str, Coil], scale: float) -> str:
    if layer.kind == "spring":
        return _spring(coils[layer.body], tints["spring"], scale)
    moves = f' data-body="{plain(layer.body)}"' if layer.kind == "slide" else ""
    way = f' data-way="{layer.way}"' if layer.way else ""
    hidden = "".join(area(polygon, 0.0) for polygon in layer.hides)
    hides = f'<path d="{hidden}" fill="white"/>' if hidden else ""
    tinted = "".join(
        f'<path d="{area(polygon, 0.0)}" fill="{tints.get(part, "none")}"/>'
        for part, polygon in layer.tinted
    )
    return f"<g{moves}{way}>{hides}{tinted}{paths(layer.marks, 0.0)}</g>"


def _spring(coil: Coil, tint: str, scale: float) -> str:
    """Return the empty shape of a spring; the script winds it."""
    wire, high = scale * coil.wire_mm, scale * (coil.mean_mm + coil.wire_mm) / 2
    clip = f"clip-{coil.name.replace(' ', '-')}"
    box, line = f'y="{-high:.2f}" height="{2 * high:.2f}"', min(0.35, wire / 4)
    return (
        f'<g data-body="{plain(coil.name)}"><clipPath id="{clip}">'
        f'<rect y="{-high - line:.2f}" height="{2 * (high + line):.2f}"/></clipPath>'
        f'<rect {box} fill="white"/>'
        f'<g clip-path="url(#{clip})" fill="none" stroke="black">'
        f'<path class="behind" stroke-width="{wire:.3f}"/>'
        f'<path class="behind" stroke="{tint}" stroke-width="{wire - 2 * line:.3f}"/>'
        f'<path class="cuts" fill="white" stroke-width="{line:.3f}"/></g></g>'
    )


def _mixed(colour: Colour) -> str:
    """Return a colour thinned with white, as red, green and blue in hexadecimal."""
    return _hex(tuple(1 - TINT * (1 - each) for each in colour))


def _hex(colour: tuple[float, ...]) -> str:
    return "#" + "".join(f"{round(255 * each):02x}" for each in colour)


def _drive(view: StrokeView) -> str:
    ways = "".join(
        f'<label><input type="radio" name="way"{" checked" if n == 0 else ""}>'
        f"<span>{plain(way.name)}</span></label>"
        for n, way in enumerate(view.ways)
    )
    steps = "".join(f'<button type="button" data-step="{by}">{word}</button>' for by, word in STEPS)
    most = view.ways[0].positions[-1].pushed_mm
    return (
        f'<div id="drive"><input type="range" id="pushed" min="0" max="{most!r}" step="any" '
        'value="0" aria-label="pushed in">'
        f'<fieldset id="ways"><legend>End at work</legend>{ways}</fieldset>'
        f'<div id="steps">{steps}</div></div>'
    )


def _readings(view: StrokeView) -> str:
    tiles = [
        [("pushed", "pushed in")],
        [("projection", "stands out of the nose")],
        [("force", "force")],
        *(
            [(f"length-{n}", f"length of {coil.label}"), (f"left-{n}", "room left to solid")]
            for n, coil in enumerate(view.coils)
        ),
    ]
    cells = (
        "".join(f'<dt>{plain(label)}</dt><dd id="told-{name}"></dd>' for name, label in tile)
        for tile in tiles
    )
    return f'<dl id="readings">{"".join(f"<div>{cell}</div>" for cell in cells)}</dl>'


def _tap(view: StrokeView) -> str:
    if not view.taps:
        return ""
    options = "".join(
        f'<option value="{n}">{plain(tap.tap)}</option>' for n, tap in enumerate(view.taps)
    )
    zones = "".join(
        f'<rect class="zone {grade}" y="0" height="20"/>'
        for grade in ("bad", "fair", "good", "bad")
    )
    key = "".join(
        f'<span class="{grade}"><i></i>{words}</span>'
        for grade, words in (
            ("bad", "slips off, or too much"),
            ("fair", "two hands"),
            ("good", "one hand will do"),
        )
    )
    return (
        f'<div id="for-a-tap"><label for="tap">Force for the tap</label>'
        f'<select id="tap">{options}</select><p id="verdict" role="status"></p>'
        '<svg id="window" viewBox="0 0 100 20" preserveAspectRatio="none" role="img" '
        f'aria-label="Where the force stands">{zones}'
        '<rect id="mark" y="0" width="1.2" height="20"/></svg>'
        f'<p class="key">{key}</p><p id="wants"></p></div>'
    )


def _legend(view: StrokeView) -> str:
    parts = "".join(
        f'<button type="button" data-part="{part}" aria-pressed="true"><svg viewBox="0 0 1 1">'
        f'<rect width="1" height="1" fill="{_hex(colour)}"/></svg>{plain(title)}</button>'
        for part, title, colour in legend(view)
    )
    return f'<div id="legend" role="group" aria-label="Parts">{parts}</div>'
