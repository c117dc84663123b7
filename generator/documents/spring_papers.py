"""What the papers say of the springs: wire, stress, force against length, and tolerances."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, isclose
from typing import Any

from generator.checks.spring_stress import corrected_limit
from generator.checks.springs import full_force_N, least_margin
from generator.documents.table import Column, Section, Table
from generator.formulas import spring as springs
from generator.formulas import stack
from generator.model.springs import SOLID_SHARE, InPlace
from generator.model.tool import Tool
from generator.standards.bands import SpringWire
from generator.units import number, shown
from generator.use.bands import ForceBand, PlugRange, Span, force_bands, least_margin_mm, plug_range

DASH = "\N{EN DASH}"


def springs_section(tool: Tool) -> Section:
    """Return the section of the report on the springs."""
    tables = [_coils(tool), _solid(tool), _stress(tool), _curve(tool), _bands(tool), _depths(tool)]
    return Section("Springs", tuple(_lines(tool)), tuple(tables))


def _number(value: float | None, decimals: int) -> str:
    return DASH if value is None or value != value else number(value, decimals)


def _lines(tool: Tool) -> Iterator[str]:
    """Yield what each table shows, and what it rests on."""
    assumed = tool.parameters.assumptions
    share = number(SOLID_SHARE)
    many = len(tool.in_place) > 1
    cut = ", cut springs cut" if any(one.spring.bought for one in tool.in_place) else ""
    yield (
        f"Coils: {'each' if many else 'the'} spring as it goes in{cut}. Index is the mean coil "
        "diameter over the wire."
    )
    yield (
        "Solid: two lengths with all coils touching, the handbook's and the greatest of EN "
        "13906-1; a dash where the standard does not cover ends or wire. The solid margin is kept "
        f"over the longer of EN and {share} times the handbook's. Margin: what is left over it at "
        "full compression, and at the very worst with the tolerances below; wanted is the "
        f"least gap of EN 13906-1, or 1 mm. {_order(tool)}"
    )
    yield (
        "Stress: in shares of the wire's least tensile strength. The corrected stress, at the "
        "inside of the coil (Bergsträsser; Wahl beside it), is held at full compression against "
        "the handbook's share for that kind of wire; the uncorrected one, of the solid spring, "
        "against EN 13906-1. The two are never mixed."
    )
    yield from dict.fromkeys(
        f"{row.name}: {number(row.corrected_share)} by {row.share_source}."
        for row in (SpringWire.find(one.spring.grade) for one in tool.in_place)
    )
    yield (
        "Force against length: the corners of the curve"
        f"{' of all springs and separators' if many else ''}; straight between them."
    )
    length = f"{'free lengths' if many else 'the free length'} off by"
    length += f" {number(assumed.free_percent, 1)} %"
    yours = "springs are" if many else "spring is"
    yield (
        f"Forces with tolerances: least and greatest by the curve itself, with {_rates(tool)}"
        f"{length} and the plug by {shown(assumed.plug_mm, 'mm')}, all at once the same way. Plug "
        "depths: where the plug's rear face must lie below the rear end for the nominal preload if "
        f"your {yours} the weakest or the stiffest of these, a depth below 0 standing proud; set "
        "it by the force."
    )


def _rates(tool: Tool) -> str:
    """Return by how much the rates may be off, up to what follows; "" where all were measured."""
    measured = [one.spring.measured for one in tool.in_place]
    if all(measured):
        return ""
    rates = "the rate" if len(measured) == 1 else "rates"
    which = " that were not measured" if any(measured) else ""
    return f"{rates}{which} off by {number(tool.parameters.assumptions.rate_percent, 1)} %, "


def _order(tool: Tool) -> str:
    """Return which spring goes solid first as the force grows."""
    if len(tool.in_place) == 1:
        return ""
    places = [(one.label, one.place.curve) for one in tool.in_place if not one.inner]
    label, curve = places[stack.first_to_end([curve for _, curve in places])]
    place = next(one.place for one in tool.in_place if one.label == label)
    if place.inner is not None and place.inner.solid_mm >= place.solid_mm:
        label = f"{label} inner"
    return f"First solid is {label}, at {shown(curve.end_force_N, 'N')} on all springs."


def _coils(tool: Tool) -> Table:
    columns = (
        *(Column("spring"), Column("wire")),
        *(Column(text, "number") for text in ("wire, mm", "outside, mm", "free, mm")),
        *(Column(text, "number") for text in ("coils", "active", "index", "rate, N/mm")),
        Column("ends"),
    )
    return Table("Coils", columns, tuple(_coil_row(one) for one in tool.in_place))


def _coil_row(one: InPlace) -> tuple[str, ...]:
    spring = one.spring
    hand = ", left-hand" if spring.hand == "left" else ""
    return (
        one.label,
        spring.grade,
        number(spring.wire_mm),
        number(spring.outside_mm),
        f"{number(spring.free_mm)}{' cut' if spring.bought else ''}",
        number(spring.total_coils, 2),
        number(spring.active_coils, 2),
        number(spring.index, 2),
        f"{number(spring.rate_N_per_mm)}{' measured' if spring.measured else ''}",
        f"{spring.ends}{hand}",
    )


def _solid(tool: Tool) -> Table:
    names = ("handbook, mm", "EN 13906-1, mm", "force alone, N", "margin, mm", "at worst, mm")
    columns = (Column("spring"), *(Column(text, "number") for text in (*names, "wanted, mm")))
    rows = tuple(
        (
            one.label,
            number(one.spring.solid_mm, 2),
            _number(one.spring.solid_en_mm, 2),
            number(one.spring.solid_force_N, 1),
            _number(one.room_mm(full_force_N(tool)) - one.spring.longest_solid_mm, 2),
            _number(_worst_mm(tool, one), 2),
            number(least_margin(tool, one.spring).warn, 2),
        )
        for one in tool.in_place
    )
    return Table("Solid", columns, rows)


def _worst_mm(tool: Tool, one: InPlace) -> float:
    place = next(n for n, outer in enumerate(tool.springs) if outer is one.place)
    return least_margin_mm(tool, place, one.spring.longest_solid_mm)


def _stress(tool: Tool) -> Table:
    first = ("strength, MPa", "bears, N", "corrected, full", "by Wahl", "limit")
    names = (*first, "uncorrected, solid", "EN limit")
    columns = (Column("spring"), *(Column(text, "number") for text in names))
    return Table("Stress", columns, tuple(_stress_row(tool, one) for one in tool.in_place))


def _stress_row(tool: Tool, one: InPlace) -> tuple[str, ...]:
    found = _stress_data(tool, one)
    return (
        one.label,
        number(one.spring.strength_MPa, 0),
        _number(found["bears_N"], 1),
        _number(found["corrected_share"], 3),
        _number(found["wahl_share"], 3),
        _levels(found["corrected_warn"], found["corrected_fail"]),
        number(found["solid_uncorrected_share"], 3),
        _levels(found["solid_warn"], found["solid_fail"]),
    )


def _levels(warn: float, fail: float) -> str:
    """Return the levels that judge, the warning one first."""
    return ", ".join(number(level) for level in (warn, fail) if level == level)


def _stress_data(tool: Tool, one: InPlace) -> dict[str, float]:
    spring, force_N = one.spring, one.bears_N(full_force_N(tool))
    plain = force_N if force_N != force_N else spring.stress_MPa(force_N) / spring.strength_MPa
    judged, solid = corrected_limit(tool, spring), tool.limit("uncorrected stress when solid")
    return {
        "bears_N": force_N,
        "corrected_share": plain * springs.bergstraesser_factor(index=spring.index),
        "wahl_share": plain * springs.wahl_factor(index=spring.index),
        "corrected_warn": judged.warn,
        "corrected_fail": judged.fail,
        "solid_uncorrected_share": spring.stress_MPa(spring.solid_force_N) / spring.strength_MPa,
        "solid_warn": solid.warn,
        "solid_fail": solid.fail,
    }


def _curve(tool: Tool) -> Table:
    columns = (Column("length, mm", "number"), Column("force, N", "number"), Column("there"))
    points = tool.curve.points
    return Table(
        "Force against length",
        columns,
        tuple(
            (number(length_mm, 2), number(force_N, 1), ", ".join(_there(tool, force_N)))
            for length_mm, force_N in points
        ),
    )


def _there(tool: Tool, force_N: float) -> Iterator[str]:
    """Yield what happens at a corner of the curve."""
    if force_N == 0:
        yield "at rest"
    for one in tool.in_place:
        curve, own = one.place.curve, one.spring.own_curve
        begins_N = curve.force_N(max(own.free_mm, curve.end_mm))
        if isclose(force_N, curve.end_force_N, rel_tol=1e-9) and own.end_mm == curve.end_mm:
            yield f"{one.label} solid"
        elif force_N > 0 and isclose(force_N, begins_N, rel_tol=1e-9):
            yield f"{one.label} begins to bear"


def _bands(tool: Tool) -> Table:
    columns = (
        *(Column("plunger"), Column("force")),
        *(Column(text, "number") for text in ("least, N", "nominal, N", "greatest, N")),
    )
    rows = tuple(
        (band.orientation.name, name, *(_number(value, 1) for value in _values(span)))
        for band in force_bands(tool)
        for name, span in (("preload", band.preload_N), ("full force", band.full_force_N))
    )
    return Table("Forces with tolerances", columns, rows)


def _values(span: Span) -> tuple[float, float, float]:
    return span.least, span.nominal, span.greatest


def _depths(tool: Tool) -> Table:
    """Return what brings the preload back to nominal: the plug's depth, or the disc's thickness."""
    p = tool.parameters
    plug = p.plug
    noun = "springs" if len(tool.in_place) > 1 else "spring"
    what = "plug sunk" if plug is not None else "disc thick"
    drawn_mm = tool.abutment.outline.length_mm if plug is None else plug.sunk_mm
    columns = [
        Column("plunger"),
        Column(f"{what}, as drawn, mm", "number"),
        Column(f"{what}, weakest {noun}, mm", "number"),
        Column(f"{what}, stiffest {noun}, mm", "number"),
    ]
    if plug is not None:
        columns.insert(3, Column("thread"))
        columns.append(Column("room behind"))
    rows = []
    for band in force_bands(tool):
        row = [
            band.orientation.name,
            number(drawn_mm, 2),
            _number(band.sunk_weakest_mm, 2),
            _number(band.sunk_stiffest_mm, 2),
        ]
        if plug is not None:
            reach = plug_range(tool, plug)
            row.insert(3, _thread(reach, band))
            row.append(_behind(reach, band))
        rows.append(tuple(row))
    title = "Plug depths" if plug is not None else "Disc thicknesses"
    return Table(f"{title} for the nominal preload", tuple(columns), tuple(rows))


def _thread(reach: PlugRange, band: ForceBand) -> str:
    """Return whether the rear thread lets the plug go as far in as the weakest springs ask."""
    if band.sunk_weakest_mm != band.sunk_weakest_mm:
        return DASH
    short_mm = band.sunk_weakest_mm - reach.greatest_mm
    return "long enough" if short_mm <= 0 else f"cut it {_up_mm(short_mm)} deeper"


def _behind(reach: PlugRange, band: ForceBand) -> str:
    """Return whether the plug may come as far out as the stiffest springs ask."""
    if band.sunk_stiffest_mm != band.sunk_stiffest_mm:
        return DASH
    short_mm = reach.least_mm - band.sunk_stiffest_mm
    return "enough" if short_mm <= 0 else f"{_up_mm(short_mm)} short"


def _up_mm(value_mm: float) -> str:
    """Return a length raised to a tenth."""
    return shown(ceil(10 * value_mm - 1e-6) / 10, "mm")


def springs_data(tool: Tool) -> dict[str, Any]:
    """Return the same as plain values for the report data; None where there is none."""
    plug = tool.parameters.plug
    depth = "disc_thickness" if plug is None else "plug_sunk"
    reach = None if plug is None else plug_range(tool, plug)
    return {
        "springs": [_spring_data(tool, one) for one in tool.in_place],
        "curve": [
            {"length_mm": length_mm, "force_N": force_N} for length_mm, force_N in tool.curve.points
        ],
        "bands": {
            band.orientation.key: {
                "preload_N": _span_data(band.preload_N),
                "full_force_N": _span_data(band.full_force_N),
                f"{depth}_weakest_mm": _plain(band.sunk_weakest_mm),
                f"{depth}_stiffest_mm": _plain(band.sunk_stiffest_mm),
            }
            for band in force_bands(tool)
        },
        "plug_sunk_least_mm": None if reach is None else reach.least_mm,
        "plug_sunk_greatest_mm": None if reach is None else reach.greatest_mm,
    }


def _spring_data(tool: Tool, one: InPlace) -> dict[str, Any]:
    spring, row = one.spring, SpringWire.find(one.spring.grade)
    return {
        "name": one.label,
        "wire": spring.grade,
        "wire_mm": spring.wire_mm,
        "outside_mm": spring.outside_mm,
        "free_mm": spring.free_mm,
        "cut_from_mm": spring.bought.free_mm if spring.bought else None,
        "total_coils": spring.total_coils,
        "active_coils": spring.active_coils,
        "ends": spring.ends,
        "hand": spring.hand,
        "index": spring.index,
        "rate_N_per_mm": spring.rate_N_per_mm,
        "rate_measured": spring.measured,
        "solid_handbook_mm": spring.solid_mm,
        "solid_en_mm": spring.solid_en_mm,
        "solid_force_alone_N": spring.solid_force_N,
        "solid_force_on_all_N": _solid_on_all_N(one),
        "strength_MPa": spring.strength_MPa,
        **{name: _plain(value) for name, value in _stress_data(tool, one).items()},
        "corrected_source": row.share_source,
        "solid_margin_least_mm": _plain(_worst_mm(tool, one)),
    }


def _solid_on_all_N(one: InPlace) -> float | None:
    """Return the force on all springs that closes one; None if its partner closes before it."""
    curve = one.place.curve
    return curve.end_force_N if one.spring.solid_mm == curve.end_mm else None


def _span_data(span: Span) -> dict[str, float | None]:
    return {name: _plain(getattr(span, name)) for name in ("least", "nominal", "greatest")}


def _plain(value: float) -> float | None:
    return None if value != value else value
