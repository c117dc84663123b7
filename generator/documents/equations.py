"""The results for readers: every symbol explained, every equation printed with its numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from generator.checks.making import LEAD_AND_RUN_OFF_MM
from generator.documents import results
from generator.documents.signs import SIGNS
from generator.documents.table import Column, Table
from generator.model import keeping, parts, screwed
from generator.model.parts import front_bevel_mm
from generator.model.shank import shank_of
from generator.model.springs import SOLID_SHARE, InPlace
from generator.model.tool import Orientation, Tool
from generator.units import DECIMALS, number

Value = float | Callable[[Orientation], float]
Row = tuple[str, str, str, Value, str]

MINUS: Final = "\N{MINUS SIGN}"


def figure(value: float, unit: str) -> str:
    """Return a number for a table, with the decimals of its unit; a dash where there is none."""
    if value != value:
        return "\N{EN DASH}"
    return number(value, 5 if unit == "mm/mm" else DECIMALS.get(unit, 3))


def equation_tables(tool: Tool) -> tuple[Table, ...]:
    """Return the tables of what goes in and of what comes out, a column for each orientation."""
    names = [Column(o.name, "number") for o in tool.orientations]
    symbol, meaning, unit = Column("symbol", "symbol"), Column("what it is"), Column("unit")
    taken = tuple(
        (mark, text, *_figures(tool, value, unit), SIGNS.get(unit, unit))
        for mark, text, _, value, unit in _taken(tool)
    )
    found = tuple(
        (mark, text, equation, *_figures(tool, value, unit), SIGNS.get(unit, unit))
        for mark, text, equation, value, unit in _found(tool)
    )
    return (
        Table("", (symbol, meaning, Column("equation", "symbol"), *names, unit), found),
        Table("What goes into them", (symbol, meaning, *names, unit), taken),
    )


def _figures(tool: Tool, value: Value, unit: str) -> tuple[str, ...]:
    return tuple(figure(value(o) if callable(value) else value, unit) for o in tool.orientations)


def _taken(tool: Tool) -> Iterator[Row]:
    """Yield the sizes that the equations take."""
    p = tool.parameters
    if p.shoulder is not None:
        s = p.shoulder
        meets = "step" if p.bush is None else "rear end of the nose bush"
        yield "L_f", f"from the nose face to the {meets}", "", s.guide_mm, "mm"
        if p.bush is not None:
            yield "f", "flange of the bush, before the nose face", "", p.bush.flange_mm, "mm"
        yield "L_h", "length of the head", "", s.head_length_mm, "mm"
        yield "L_t", "length of the tail", "", s.tail_length_mm, "mm"
        ahead_mm = screwed.front_mm(p)
        yield "a", "from the tip at work to the head", "", s.stem_mm + ahead_mm, "mm"
        yield "D_c", "diameter of the spring pocket", "", s.pocket_mm, "mm"
    elif p.slot is not None:
        what = "screw" if p.set_screw is not None else "pin"
        yield "L_s", "length of the slot, over its ends", "", p.slot.length_mm, "mm"
        yield "d_t", f"diameter of the {what} that meets the slot's ends", "", tool.across_mm, "mm"
        yield "a", "from the tip at work to the slot", "", lambda o: o.slot_mm, "mm"
        place_mm = keeping.position_mm(p)
        yield "x_s", f"from the nose face to the axis of the {what}", "", place_mm, "mm"
    whole_mm = p.plunger.length_mm + screwed.front_mm(p)
    yield "L_p", f"length of the plunger{', tip and all' * bool(tool.tips)}", "", whole_mm, "mm"
    yield (
        "x_p",
        f"from the nose face to the {tool.abutment.name}'s front face",
        "",
        tool.plug_face_mm,
        "mm",
    )
    yield "s", "what the seat adds to the springs' room", "", lambda o: o.seat_mm, "mm"
    yield "e", "form of the inner end, which is not guided", "", lambda o: o.inner.outer_mm, "mm"
    mouth = "recess and bevel at the mouth of the bore"
    if p.bush is not None:
        mouth = "bevels at both mouths of the bush"
    yield "m", mouth, "", front_bevel_mm(p), "mm"
    yield "d_p", "diameter of the plunger", "", p.plunger.diameter_mm, "mm"
    yield "D_b", "diameter of the bore", "", p.bore.diameter_mm, "mm"
    yield (
        "D_s",
        "diameter over the bore at the small end",
        "",
        shank_of(p.mount).rear_diameter_mm,
        "mm",
    )
    free_mm = tool.curve.free_mm
    many = len(tool.in_place) > 1
    stack = "free length of springs and separators" if many else "free length of the spring"
    yield "L_0", stack, "", free_mm, "mm"
    for one in tool.in_place:
        n, spring = _place(tool, one), one.spring
        which = f" of {one.label}" if many else " of the spring"
        yield f"k_{n}" if many else "k", f"rate{which}", "", spring.rate_N_per_mm, "N/mm"
        yield f"L_c{n}", f"solid length{which}, handbook", "", spring.solid_mm, "mm"
        if spring.solid_en_mm is not None:
            text = f"greatest solid length{which}, EN 13906-1"
            yield f"L_e{n}", text, "", spring.solid_en_mm, "mm"
    cone = shank_of(p.mount).taper
    if cone is not None:
        yield "t", "taper on the diameter", "", cone.rate, "mm/mm"
        yield "l", "length of the taper", "", cone.whole_mm, "mm"


def _found(tool: Tool) -> Iterator[Row]:
    """Yield the results with their equations."""
    p = tool.parameters
    headed = p.shoulder is not None
    travel = f"x_p {MINUS} L_f {MINUS} L_h {MINUS} L_t" if headed else f"L_s {MINUS} d_t"
    yield "S", "travel", travel, lambda o: o.travel_mm, "mm"
    yield from _reach(headed=headed)
    yield from _springs(tool)
    yield from _guidance(tool)
    land_mm = results.land_mm(tool)
    cover = "cover of the slot by the nose, plunger out"
    if not headed:
        yield "land", cover, f"x_s {MINUS} (S + d_t/2)", land_mm, "mm"
    if land_mm < 0:
        yield "", "slot showing beyond the nose, plunger out", f"{MINUS}land", -land_mm, "mm"
    wall_mm = (shank_of(p.mount).rear_diameter_mm - parts.pocket_mm(p)) / 2
    over = f"(D_s {MINUS} {'D_c' if headed else 'D_b'})/2"
    yield "", "wall over the bore at the small end", over, wall_mm, "mm"
    if shank_of(p.mount).taper:
        half_deg = results.taper_half_angle_deg(tool)
        need_mm = results.compound_travel_needed_mm(tool)
        lead = number(LEAD_AND_RUN_OFF_MM)
        yield "h", "half angle of the taper: the compound's setting", "atan(t/2)", half_deg, "deg"
        yield "", "compound travel for one pass", f"l/cos h + {lead}", need_mm, "mm"


def _reach(*, headed: bool) -> Iterator[Row]:
    extended = f"a {MINUS} L_f" if headed else f"a + L_s {MINUS} d_t/2 {MINUS} x_s"
    yield "P_ext", "tip out of the nose, plunger out", extended, _out, "mm"
    home = f"P_ext {MINUS} S" if headed else f"a + d_t/2 {MINUS} x_s"
    yield (
        "P_min",
        "tip out of the nose, pushed home",
        home,
        lambda o: o.projection_compressed_mm,
        "mm",
    )
    inner = "inner end behind the nose face, plunger out"
    yield "x_r", inner, f"L_p {MINUS} P_ext", lambda o: o.inner_extended_mm, "mm"


def _out(o: Orientation) -> float:
    return o.projection_extended_mm


def _springs(tool: Tool) -> Iterator[Row]:
    room = f"x_p {MINUS} x_r + s"
    yield "L_1", "room for the springs, plunger out", room, lambda o: o.room_extended_mm, "mm"
    left = f"L_1 {MINUS} S"
    yield "L_2", "room for the springs, pushed home", left, lambda o: o.room_compressed_mm, "mm"
    bent = any(tool.bent(o) for o in tool.orientations)
    nested = any(one.inner for one in tool.in_place)
    preload, full = f"k (L_0 {MINUS} L_1)", "F_1 + k S"
    if bent:
        preload, full = "by the curve at L_1", "by the curve at L_2"
    if bent or nested:
        mean = "mean rate of all springs over the stroke"
        yield "k", mean, f"(F_2 {MINUS} F_1)/S", lambda o: o.rate_N_per_mm, "N/mm"
    elif len(tool.springs) > 1:
        marks = " + ".join(f"1/k_{n}" for n in range(1, len(tool.springs) + 1))
        rate = tool.curve.rate_N_per_mm(tool.curve.free_mm)
        yield "k", "rate of all springs in series", f"1/({marks})", rate, "N/mm"
    yield "F_1", "preload, plunger out", preload, lambda o: o.preload_N, "N"
    yield "F_2", "full force, pushed home", full, lambda o: o.full_force_N, "N"
    held = "energy held by the springs, "
    for mark, state, force in (
        ("E_1", "plunger out", lambda o: o.preload_N),
        ("E_2", "pushed home", lambda o: o.full_force_N),
    ):
        equation = "area under the curve" if bent or nested else f"F_{mark[-1]}²/(2k)"
        yield mark, held + state, equation, _energy_J(tool, force), "J"
    for one in tool.in_place:
        yield _margin(tool, one)


def _place(tool: Tool, one: InPlace) -> str:
    """Return the number of a spring in the symbols, such as "1" or "1i"; "" for the only one."""
    if len(tool.in_place) == 1:
        return ""
    place = next(n for n, outer in enumerate(tool.springs, 1) if outer is one.place)
    return f"{place}i" if one.inner else str(place)


def _margin(tool: Tool, one: InPlace) -> Row:
    """Return the row of what is left over the longest solid length of a spring."""
    n, spring = _place(tool, one), one.spring
    which = one.label if n else "the spring"
    stood = f"length of {which} at F_2"
    if not one.place.inner and not any(map(tool.bent, tool.orientations)):
        stood = f"L_0{n} {MINUS} F_2/k{f'_{n}' if n else ''}"
    by_en = spring.solid_en_mm is not None and spring.longest_solid_mm == spring.solid_en_mm
    solid = f"L_e{n}" if by_en else f"{number(SOLID_SHARE)} L_c{n}"
    text = f"margin of {which} over its longest solid length"
    return "", text, f"{stood} {MINUS} {solid}", _margin_mm(one), "mm"


def _margin_mm(one: InPlace) -> Value:
    return lambda o: one.room_mm(o.full_force_N) - one.spring.longest_solid_mm


def _energy_J(tool: Tool, force: Callable[[Orientation], float]) -> Value:
    return lambda o: tool.energy_J(force(o))


def _guidance(tool: Tool) -> Iterator[Row]:
    least_um, most_um = tool.least_clearance_um, tool.greatest_clearance_um
    guide = f"L_p {MINUS} P_ext {MINUS} e {MINUS} m"
    out = "P_ext"
    if tool.parameters.shoulder is not None:
        guide = f"L_f {MINUS} m"
    if tool.bush is not None:
        guide, out = f"L_f + f {MINUS} m", f"(P_ext {MINUS} f)"
    yield "L_g", "guided length, plunger out", guide, lambda o: o.guide_mm, "mm"
    yield "", "guided length in plunger diameters", "L_g/d_p", lambda o: o.guide_ratio, ""
    yield "C_min", "clearance on the diameter, least", "by the limits of size", least_um, "um"
    yield "C_max", "clearance on the diameter, greatest", "by the limits of size", most_um, "um"
    for mark, word, clearance_um in (("e_min", "least", least_um), ("e_max", "greatest", most_um)):
        equation = f"C_{mark[2:]} (1/2 + {out}/L_g)"
        yield mark, f"tip off the axis, {word}", equation, _tip_um(clearance_um), "um"
    yield "", "tilt of the plunger, greatest", "atan(C_max/L_g)", _tilt_deg(most_um), "deg"


def _tip_um(clearance_um: float) -> Value:
    return lambda o: results.tip_error_um(o, clearance_um)


def _tilt_deg(clearance_um: float) -> Value:
    return lambda o: results.tilt_deg(o, clearance_um)


def equation_lines(tool: Tool) -> tuple[str, ...]:
    """Return what the reader must know of the equations."""
    p = tool.parameters
    what = "screw" if p.set_screw is not None else "pin"
    meets = "step" if p.bush is None else "nose bush"
    stops = (
        f"the head rests on the {meets}. Pushed home: the tail meets the plug"
        if p.shoulder is not None
        else f"the {what} meets the slot's end nearer the springs. Pushed home: it meets the other"
    )
    lines = [
        "Lengths along the axis count from the nose face: projections out of it, positions into "
        f"it. Plunger out: {stops}. Sizes are nominal; clearances are those of the limits of size.",
    ]
    if len(tool.springs) > 1:
        lines.append(
            "Springs in series bear the same force. A spring that is solid gives no more; the "
            "figures follow each spring to its solid length."
        )
    if any(tool.bent(o) for o in tool.orientations):
        lines.append(
            "The force does not grow evenly over the stroke, since a spring goes solid or one "
            "inside another begins to bear: the forces are those of the force-length curve."
        )
    if any(o.full_force_N != o.full_force_N for o in tool.orientations):
        lines.append(
            "A dash for the full force: pushed home, the springs have less room than their solid "
            "length."
        )
    return tuple(lines)
