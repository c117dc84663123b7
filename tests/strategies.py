"""Random parameters, sensible and silly."""

from __future__ import annotations

from typing import Any, Final

from hypothesis import strategies as st

from generator.standards.bands import SpringWire
from generator.standards.rows import Material, MorseTaper, Tap, Thread, WorkMaterial
from tests.tools import REMOVED

THREADS: Final = st.sampled_from([row.name for row in Thread.rows()])
SIZES: Final = st.sampled_from([0.001, 0.3, 1.0, 2.5, 3.7, 8.0, 12.0, 20.0, 60.0, 200.0])
LENGTH: Final = st.one_of(SIZES, st.floats(0.01, 100))
TIP: Final = st.one_of(
    st.fixed_dictionaries(
        {"style": st.just("point")},
        optional={"angle_deg": st.floats(30, 120), "flat_mm": LENGTH},
    ),
    st.fixed_dictionaries(
        {"style": st.just("countersink")},
        optional={
            "angle_deg": st.floats(30, 120),
            "mouth_mm": LENGTH,
            "pilot_mm": LENGTH,
            "pilot_depth_mm": LENGTH,
            "chamfer_mm": LENGTH,
        },
    ),
    st.fixed_dictionaries({"style": st.just("plain")}, optional={"chamfer_mm": LENGTH}),
)
MOUNT: Final = st.one_of(
    st.fixed_dictionaries(
        {"kind": st.just("straight"), "diameter_mm": LENGTH, "length_mm": LENGTH}
    ),
    st.fixed_dictionaries(
        {"kind": st.just("morse ejected"), "size": st.sampled_from(MorseTaper.sizes())},
        optional={"extension_length_mm": LENGTH, "extension_diameter_mm": LENGTH},
    ),
    st.fixed_dictionaries(
        {"kind": st.just("morse and straight"), "size": st.sampled_from(MorseTaper.sizes())},
        optional={"diameter_mm": LENGTH, "length_mm": LENGTH, "grip_mm": LENGTH},
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("own taper ejected"),
            "taper": st.sampled_from([0.001, 0.05, 0.3, 1.0]),
            "gauge_diameter_mm": LENGTH,
            "length_mm": LENGTH,
            "stand_out_mm": LENGTH,
        },
        optional={"extension_length_mm": LENGTH, "extension_diameter_mm": LENGTH},
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("morse draw-bar"),
            "size": st.sampled_from(MorseTaper.sizes()),
            "drawbar_thread": THREADS,
        },
        optional={"drawbar_engagement_mm": LENGTH, "lengths": st.sampled_from(["ISO", "US"])},
    ),
)
_SIZES_OF_A_SPRING: Final = {
    "wire_mm": st.sampled_from([0.3, 0.5, 0.8, 1.0, 1.5]),
    "outside_mm": st.floats(2, 15),
    "free_mm": st.floats(10, 100),
    "active_coils": st.floats(1, 30),
}
_CHOICES_OF_A_SPRING: Final = {
    "ends": st.sampled_from(["closed and ground", "closed", "open", "open and ground"]),
    "wire": st.sampled_from([row.name for row in SpringWire.rows()]),
    "rate_N_per_mm": st.sampled_from([0.01, 1.0, 50.0]),
    "cut_to_mm": st.floats(5, 60),
    "hand": st.sampled_from(["right", "left"]),
}
SPRING: Final = st.fixed_dictionaries(
    _SIZES_OF_A_SPRING,
    optional={
        **_CHOICES_OF_A_SPRING,
        "inner": st.fixed_dictionaries(_SIZES_OF_A_SPRING, optional=_CHOICES_OF_A_SPRING),
    },
)
HANDLED: Final = st.fixed_dictionaries(
    {},
    optional={
        "lead_threads": st.floats(0.01, 20),
        "hole": st.sampled_from(["through", "blind"]),
        "depth_mm": LENGTH,
        "drilled_mm": LENGTH,
        "wrench_arm_mm": LENGTH,
        "wrench_g": st.floats(0, 5000),
        "wrench_height_mm": LENGTH,
        "hidden_mm": LENGTH,
        "opening_mm": LENGTH,
    },
)
TAP: Final = st.builds(
    lambda row, end, handled: {
        "standard": row.standard,
        "size": row.size,
        **({"end": end} if end else {}),
        **handled,
    },
    st.sampled_from(Tap.rows()),
    st.sampled_from(["point", "centre", "bevel", "none", ""]),
    HANDLED,
)
ERROR: Final = st.one_of(st.just(0.0), st.floats(0.001, 0.3), SIZES)
SLOPE: Final = st.one_of(st.just(0.0), st.floats(0, 5))
ERRORS: Final = (
    *("height", "side", "seat", "bore", "bore_slope"),
    *("cone", "start", "tap", "wrench"),
)
CHANGES: Final[dict[str, st.SearchStrategy[Any]]] = {
    "mount": MOUNT,
    "machine.ejection_depth_mm": LENGTH,
    "body.material": st.sampled_from([row.name for row in Material.rows()]),
    "body.nose_diameter_mm": LENGTH,
    "body.nose_length_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "body.bevel_mm": LENGTH,
    "body.recess_mm": LENGTH,
    "body.edge_mm": LENGTH,
    "body.assembly": st.sampled_from(["rear-loaded", "front-loaded"]),
    "bore.diameter_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "plunger.diameter_mm": LENGTH,
    "plunger.length_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "plunger.front": TIP,
    "plunger.rear": TIP,
    "slot.length_mm": LENGTH,
    "slot.width_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "slot.depth_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "slot.front_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "set_screw.thread": THREADS,
    "set_screw.point": st.sampled_from(["dog short", "dog long", "cup", "flat", "cone"]),
    "set_screw.position_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "set_screw.length_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "set_screw.gap_mm": LENGTH,
    "set_screw.tip_mm": LENGTH,
    "set_screw.tip_length_mm": LENGTH,
    "set_screw.locking": st.sampled_from(["threadlocker", "jam screw", "none"]),
    "springs": st.lists(SPRING, min_size=1, max_size=3),
    "separator": st.fixed_dictionaries({}, optional={"thickness_mm": LENGTH, "hole_mm": LENGTH}),
    "button": st.one_of(
        st.just(REMOVED),
        st.fixed_dictionaries(
            {}, optional={"thickness_mm": LENGTH, "vent_mm": LENGTH, "recess_mm": LENGTH}
        ),
    ),
    "plug.thread": THREADS,
    "plug.length_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "plug.sunk_mm": st.one_of(LENGTH, st.just(REMOVED)),
    "plug.vent_mm": LENGTH,
    "plug.drive": st.sampled_from(["slot", "hexagon"]),
    "plug.drive_width_mm": LENGTH,
    "plug.drive_depth_mm": LENGTH,
    "taps": st.lists(TAP, min_size=1, max_size=3, unique_by=str),
    "taps.0.work": st.sampled_from([row.name for row in WorkMaterial.rows()]),
    "taps.0.wrench_arm_mm": LENGTH,
    "taps.0.wrench_height_mm": LENGTH,
    "taps.0.hidden_mm": LENGTH,
    "taps.0.opening_mm": LENGTH,
    "machine.spindle": st.sampled_from(["vertical", "horizontal"]),
    "machine.turned": st.sampled_from(["tap", "work"]),
    "assumptions.worn_factor": st.sampled_from([0.01, 2.0, 100.0]),
    "assumptions.rate_percent": st.floats(0, 50),
    "assumptions.free_percent": st.floats(0, 50),
    "assumptions.plug_mm": st.floats(0, 5),
    "machine.headroom_mm": LENGTH,
    "workshop.tap_reach_mm": LENGTH,
    "machine.quill_travel_mm": LENGTH,
    "machine.quill_division_mm": LENGTH,
    "making.runout_mm": LENGTH,
    "machine.drilled": st.sampled_from(["same setting", "elsewhere"]),
    "alignment.accept": st.sampled_from(["fine", "general", "rough"]),
    "alignment.slope_mm": SLOPE,
    "alignment.hole_deg": SLOPE,
    **{f"alignment.{error}_mm": ERROR for error in ERRORS},
}


@st.composite
def silly_changes(draw: st.DrawFn, most: int = 6) -> dict[str, Any]:
    """Return changes to the worked tool, each by itself of a kind that the reader takes."""
    keys = draw(st.lists(st.sampled_from(sorted(CHANGES)), max_size=most, unique=True))
    return {key: draw(CHANGES[key]) for key in sorted(keys)}


NEAR: Final = {
    "body.nose_diameter_mm": (16, 40),
    "body.nose_length_mm": (21.5, 40),
    "body.bevel_mm": (0, 6),
    "body.recess_mm": (0, 3),
    "body.edge_mm": (0, 4),
    "plunger.length_mm": (50, 66),
    "plunger.front.flat_mm": (0, 6),
    "plunger.rear.mouth_mm": (2, 8),
    "plunger.rear.pilot_mm": (0.3, 6),
    "plunger.rear.pilot_depth_mm": (0, 20),
    "plunger.rear.chamfer_mm": (0, 1.5),
    "slot.length_mm": (6, 20),
    "slot.width_mm": (2.6, 4.5),
    "slot.depth_mm": (1.2, 2.8),
    "slot.front_mm": (10, 30),
    "set_screw.position_mm": (5, 20),
    "set_screw.tip_length_mm": (0.5, 9),
    "button.thickness_mm": (0.5, 5),
    "button.vent_mm": (0, 6),
    "button.recess_mm": (0, 7.5),
    "plug.length_mm": (3, 12),
    "plug.vent_mm": (0, 7),
    "plug.drive_width_mm": (0.5, 8),
    "plug.drive_depth_mm": (0.2, 11),
    "springs.0.free_mm": (28, 40),
}
"""Ranges about the worked tool, wide enough to breach a limit, narrow enough to pass often."""


@st.composite
def near_changes(draw: st.DrawFn, most: int = 4) -> dict[str, Any]:
    """Return changes that stay near the worked tool."""
    keys = draw(st.lists(st.sampled_from(sorted(NEAR)), max_size=most, unique=True))
    changes: dict[str, Any] = {key: draw(st.floats(*NEAR[key])) for key in sorted(keys)}
    if draw(st.booleans()):
        changes["plug.drive"] = "hexagon"
    return changes
