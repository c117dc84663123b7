"""For every limit: a parameter that carries the worked tool from passing to beyond the limit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from tests.tools import BASE, REMOVED, changed


@dataclass(frozen=True, slots=True)
class Slide:
    """A number that carries one finding from passing to its gravest verdict.

    Attributes:
        limit: The limit.
        key: Dotted key of the parameter.
        good: A value that passes.
        bad: A value beyond every level of the limit.
        base: Changes to the worked tool before.
        subject: The subject of the finding; "" for its only one.
        unreached: A level that stands in the table and has its own case.
    """

    limit: str
    key: str
    good: float
    bad: float
    base: Mapping[str, Any] = field(default_factory=dict)
    subject: str = ""
    unreached: str = ""

    def table(self, value: float) -> dict[str, Any]:
        """Return the parameter table with this value."""
        return changed(BASE, {**self.base, self.key: value})

    def __str__(self) -> str:
        """Return a short name for the test."""
        return f"{self.limit} by {self.key}"


@dataclass(frozen=True, slots=True)
class Switch:
    """A choice that makes one finding pass or not; its value at the passing side is the limit."""

    limit: str
    good: Mapping[str, Any]
    bad: Mapping[str, Any]
    verdict: str

    def __str__(self) -> str:
        """Return a short name for the test."""
        return f"{self.limit}, {self.verdict}"


STRAIGHT: Final = {
    "mount": {"kind": "straight", "diameter_mm": 20.0, "length_mm": 60.0},
    "plug.thread": "M10",
}
IN_COLLET: Final = {**STRAIGHT, "mount.holder": "ER32"}
FLATTED: Final = {**STRAIGHT, "mount.flats": "one"}
EJECTED: Final = {
    "mount": {"kind": "morse ejected", "size": "MT2", "extension_length_mm": 4.0},
    "machine.ejection_depth_mm": 66.0,
    "plug.thread": "M10",
}
OWN_EJECTED: Final = {
    "mount": {
        "kind": "own taper ejected",
        "taper": 0.05,
        "gauge_diameter_mm": 18.0,
        "length_mm": 64.0,
        "stand_out_mm": 5.0,
    },
    "machine.ejection_depth_mm": 66.0,
    "plug.thread": "M10",
}
TANG: Final = {
    "mount": {"kind": "morse tang", "size": "MT2"},
    "plug": REMOVED,
    "disc": {"bottom_mm": 70.0},
}
ARBOR: Final = {
    "mount": {"kind": "arbor thread", "thread": "M12x1.5", "diameter_mm": 20.0, "length_mm": 76.0},
    "body.nose_length_mm": 24.0,
    "plug": REMOVED,
    "disc": {"bottom_mm": 72.0},
}
VENTED: Final = {
    "mount": {"kind": "straight", "diameter_mm": 20.0, "length_mm": 60.0},
    "body.nose_length_mm": 80.0,
    "plug": REMOVED,
    "disc": {"bottom_mm": 72.0, "vent": "side"},
}
FRONT_LOADED: Final = {"body.assembly": "front-loaded", "springs.0.rate_N_per_mm": 5.0}
RECESSED: Final = {
    "button.recess_mm": 4.0,
    "button.thickness_mm": 4.0,
    "button.vent_mm": 1.5,
}
BLIND: Final = {"taps.0.hole": "blind", "taps.0.depth_mm": 12.0, "taps.0.drilled_mm": 18.0}
NESTED: Final = {
    "springs.0.inner": {
        "wire_mm": 0.5,
        "outside_mm": 4.0,
        "free_mm": 30.0,
        "active_coils": 15.0,
        "hand": "left",
    }
}
PINNED: Final = {
    "set_screw": REMOVED,
    "cross_pin": {"diameter_mm": 2.5, "position_mm": 16.0},
    "slot": {"length_mm": 14.5, "front_mm": 23.75},
}
HEADED: Final = {
    **STRAIGHT,
    "plug.thread": "M14",
    "set_screw": REMOVED,
    "slot": REMOVED,
    "button": REMOVED,
    "plunger": {
        "diameter_mm": 6.0,
        "material": "silver steel 115CrV3",
        "front": {"style": "point"},
        "rear": {"style": "plain"},
    },
    "bore.diameter_mm": 6.0,
    "shoulder": {"pocket_mm": 10.0, "travel_mm": 10.0},
    "springs.0.outside_mm": 9.0,
}
SCREWED: Final = {
    **HEADED,
    "screwed_tips": {"thread": "M2.5", "spare": [{"style": "countersink"}]},
}
"""A head behind a stem of 6 mm, and two tips that screw into it."""

BUSHED: Final = {
    **HEADED,
    "body.assembly": "front-loaded",
    "body.nose_diameter_mm": 24.0,
    "bush": {},
    "making.runout_mm": 0.05,
}
SHOULDERED_TIP: Final = {
    "set_screw.locking": "shoulder",
    "set_screw.tip_mm": 2.0,
    "set_screw.tip_length_mm": 2.6,
}
BALL_IN_CENTRE: Final = {
    "plunger.front": {"style": "ball"},
    "taps": [{"standard": "ISO 529", "size": "M10", "end": "centre"}],
}
HALF_CENTRE: Final = {"plunger.front": {"style": "half centre"}}
HALF_IN_CENTRE: Final = {**BALL_IN_CENTRE, **HALF_CENTRE}
OWN_BORE: Final = {"bore.limits_um": [0.0, 15.0]}
PICK_UP: Final = {
    "purpose": "pick-up centre",
    "taps": REMOVED,
    "plunger.rear": {"style": "plain"},
    "plunger.front.flat_mm": 0.3,
    "springs.0.rate_N_per_mm": 0.2,
    "pick_up": {"target": "hole", "width_mm": 4.0},
}
"""The worked tool with a soft spring, to find a hole of 4 mm."""

SUPPORT: Final = {
    "purpose": "support centre",
    "taps": REMOVED,
    "plunger.rear": {"style": "plain"},
    "plunger.front.flat_mm": 0.4,
    "machine.spindle": "horizontal",
    "support": {
        "centre": "A2.5",
        "length_mm": 200.0,
        "diameter_mm": 16.0,
        "accept_mm": 0.2,
        "set_mm": 9.0,
    },
}
"""The worked tool against a bar of 16 mm."""

BY_FEEL: Final = {"pick_up.read_by": "feel"}
STIFF: Final = {
    **SUPPORT,
    "springs.0.rate_N_per_mm": 20.0,
    "springs.0.free_mm": 28.0,
    "support.set_mm": 2.0,
    "support.length_mm": 400.0,
}
"""The same with a stiff spring that hardly presses, and longer work."""

SLIDES: Final = (
    Slide("wall over the bore at the small end", "bore.diameter_mm", 8, 13.9),
    Slide("wall over the rear thread", "mount.diameter_mm", 20, 11, STRAIGHT),
    Slide("wall of the nose", "body.nose_diameter_mm", 20, 8.5),
    Slide("rim of the nose face", "body.nose_diameter_mm", 20, 9),
    Slide("bevel at the front of the bore", "body.bevel_mm", 1.5, 0.2),
    Slide("wall under the jaws", "mount.diameter_mm", 20, 9, STRAIGHT),
    Slide("length for the jaws", "mount.length_mm", 80, 1, STRAIGHT),
    Slide("gripped length", "mount.grip_mm", 60, 10, STRAIGHT),
    Slide("shank in the clamping range", "mount.diameter_mm", 19, 21, IN_COLLET, "ER32"),
    Slide("wall under flat or key slot", "mount.flat_depth_mm", 1.8, 5.5, FLATTED),
    Slide("flat within the grip", "mount.flat_position_mm", 30, 3, FLATTED),
    Slide("flat against the shank", "mount.flat_depth_mm", 1.8, 6, FLATTED),
    Slide("thread height in the rear hole", "bore.diameter_mm", 8.5, 9.9),
    Slide("rear hole against the thread's greatest minor diameter", "bore.diameter_mm", 8.5, 9.5),
    Slide(
        "relief of the rear thread over the bore",
        "bore.diameter_mm",
        4.5,
        4.95,
        {"plug.thread": "M6"},
    ),
    Slide("draw-bar engagement", "mount.drawbar_engagement_mm", 12, 1),
    Slide("room between draw-bar and plug", "plug.sunk_mm", 15, 12),
    Slide("thread of the plug", "plug.length_mm", 8, 1),
    Slide("web of the plug beside its vent", "plug.vent_mm", 2, 8.3),
    Slide(
        "web of the plug beside its vent",
        "plug.drive_width_mm",
        4,
        8,
        {"plug.drive": "hexagon"},
    ),
    Slide("hexagon around the vent", "plug.vent_mm", 2, 5.5, {"plug.drive": "hexagon"}),
    Slide("floor under the plug's drive", "plug.drive_depth_mm", 2, 7.9),
    Slide("plug below the rear end", "plug.sunk_mm", 15, 0),
    Slide("thread ahead of the plug", "plug.tapped_mm", 26, 20),
    Slide(
        "thread left when the springs are slack",
        "springs.0.free_mm",
        34,
        60,
        {"springs.0.rate_N_per_mm": 0.5},
        unreached="fail",
    ),
    Slide(
        "thread left when the springs are slack",
        "springs.0.free_mm",
        34,
        60,
        {"springs.0.rate_N_per_mm": 5.0},
    ),
    Slide("force let go at the nose", "springs.0.free_mm", 20, 60, FRONT_LOADED),
    Slide("energy let go at the nose", "springs.0.free_mm", 20, 60, FRONT_LOADED),
    Slide("screw thread in the wall", "body.nose_diameter_mm", 20, 10),
    Slide(
        "room for the jam screw",
        "body.nose_diameter_mm",
        30,
        12,
        {"set_screw.locking": "jam screw"},
    ),
    Slide("set screw below the nose", "body.nose_diameter_mm", 24, 9),
    Slide("gap under the screw tip", "set_screw.gap_mm", 0.3, 0),
    Slide("gap under the screw tip, greatest", "set_screw.gap_mm", 0.3, 1),
    Slide("side engagement of the screw tip", "slot.depth_mm", 1.6, 0.4),
    Slide("slot depth", "slot.depth_mm", 1.6, 5),
    Slide("core under the slot", "slot.depth_mm", 1.6, 7),
    Slide("screw thread outside the bore", "slot.depth_mm", 1.6, 3),
    Slide("screw thread outside the bore", "slot.depth_mm", 1, 3, {"set_screw.point": "cup"}),
    Slide("thread running in the slot", "slot.depth_mm", 1.6, 3, {"slot.width_mm": 4.5}),
    Slide("play of the tip in the slot, least", "slot.width_mm", 3, 2.4),
    Slide("play of the tip in the slot, greatest", "slot.width_mm", 3, 5),
    Slide("travel", "slot.length_mm", 14.5, 2.6),
    Slide("metal between slot and end", "slot.front_mm", 23.75, 1, subject="front"),
    Slide(
        "metal between slot and end",
        "plunger.length_mm",
        62,
        39,
        {"plunger.rear": {"style": "point"}, "plunger.front": {"style": "countersink"}},
        subject="rear",
    ),
    Slide("slot ends apart", "slot.length_mm", 14.5, 1),
    Slide(
        "ledge under the screw's shoulder",
        "set_screw.tip_length_mm",
        2.6,
        1.4,
        SHOULDERED_TIP,
    ),
    Slide("seat of the screw's shoulder", "set_screw.tip_mm", 2.0, 3.2, SHOULDERED_TIP),
    Slide("section left beside the slot", "slot.width_mm", 2.6, 6, PINNED),
    Slide(
        "pin in the wall",
        "body.nose_diameter_mm",
        20,
        9,
        {**PINNED, "cross_pin": {"diameter_mm": 2.5, "position_mm": 16.0, "length_mm": 19.6}},
    ),
    Slide("ends of the pin below the nose", "cross_pin.length_mm", 19, 21, PINNED),
    Slide("bending of the pin", "cross_pin.diameter_mm", 4, 1, {**PINNED, "slot.width_mm": 5.0}),
    Slide("step under the head", "shoulder.head_diameter_mm", 9.7, 6.2, HEADED),
    Slide("length of the head", "shoulder.head_length_mm", 4, 0.5, HEADED),
    Slide("tail free in the springs", "shoulder.tail_diameter_mm", 6, 7.5, HEADED),
    Slide("tail on the plug", "shoulder.tail_diameter_mm", 6, 2, HEADED),
    Slide("length of the tail", "shoulder.travel_mm", 10, 44, HEADED),
    Slide("thread of the tip in the stem", "screwed_tips.stud_mm", 6, 1, SCREWED),
    Slide("thread ahead of the tip's stud", "screwed_tips.tapped_mm", 12, 3, SCREWED),
    Slide("metal behind the tip's hole", "screwed_tips.tapped_mm", 12, 60, SCREWED),
    Slide("length of the tip's register", "screwed_tips.register_length_mm", 2.5, 0.5, SCREWED),
    Slide("register over the tip's thread", "screwed_tips.register_mm", 3.5, 2.51, SCREWED),
    Slide(
        "wall of the stem round the tip's register", "screwed_tips.register_mm", 3.5, 5.4, SCREWED
    ),
    Slide("seat of the tip on the stem", "screwed_tips.edge_mm", 0.2, 0.9, SCREWED),
    Slide("metal behind the hollow of a tip", "screwed_tips.length_mm", 11, 3, SCREWED, "tip 2"),
    Slide(
        "round metal before the flats of a tip", "screwed_tips.length_mm", 11, 3, SCREWED, "tip 1"
    ),
    Slide("bending of the tip's stud", "springs.0.rate_N_per_mm", 0.2, 20, SCREWED),
    Slide("screwed tip clear of the nose", "shoulder.stem_mm", 30, 20, SCREWED),
    Slide("flats of the stem in reach", "shoulder.stem_mm", 30, 16, SCREWED),
    Slide("width of the spanner flats", "screwed_tips.flats_mm", 5, 5.95, SCREWED),
    Slide(
        "blow on the step",
        "shoulder.head_diameter_mm",
        9.7,
        6.601,
        {**HEADED, "springs.0.rate_N_per_mm": 5.0},
    ),
    Slide("thread of the nose bush", "shoulder.guide_mm", 16, 8, BUSHED),
    Slide(
        "thread height in the nose",
        "shoulder.pocket_mm",
        11,
        11.9,
        {**BUSHED, "bush": {"thread": "M12x1"}},
    ),
    Slide("register of the nose bush", "bush.register_length_mm", 5, 2, BUSHED),
    Slide("step from thread to register", "bush.register_mm", 13, 12.05, BUSHED),
    Slide("run-out left to the register", "making.runout_mm", 0.05, 0.01, BUSHED),
    Slide("seat of the flange", "bush.flange_diameter_mm", 17, 13.1, BUSHED),
    Slide("wall of the nose bush", "bore.diameter_mm", 6, 9, BUSHED),
    Slide("wall over the nose thread", "body.nose_diameter_mm", 24, 13, BUSHED),
    Slide("flange for the spanner", "bush.flange_mm", 4, 1, BUSHED),
    Slide("depth of the spanner flats", "bush.flats_mm", 14, 15.9, BUSHED),
    Slide("bush thread left when the springs are slack", "springs.0.free_mm", 38, 60, BUSHED),
    Slide("land in front of the slot", "set_screw.position_mm", 16, 11),
    Slide("nose behind the screw hole", "body.nose_length_mm", 24, 16),
    Slide("nose in front of the screw hole", "set_screw.position_mm", 16, 1),
    Slide("screw hole against the bore", "bore.diameter_mm", 8, 4),
    Slide(
        "tip clear of the nose when compressed",
        "set_screw.position_mm",
        16,
        20,
        subject="point out",
    ),
    Slide("guide length", "plunger.length_mm", 62, 30, subject="point out"),
    Slide("plunger clear of the rear hole", "plunger.length_mm", 62, 80, subject="point out"),
    Slide("rim of the countersink", "plunger.rear.mouth_mm", 7, 8),
    Slide("step from pilot to mouth", "plunger.rear.pilot_mm", 2, 7, subject="rear"),
    Slide(
        "step from pilot to mouth",
        "plunger.front.flat_mm",
        0.4,
        8,
        subject="front flat to diameter",
    ),
    Slide(
        "ball on the flank of its seat",
        "plunger.front.pilot_mm",
        1.5,
        3.5,
        {"plunger.front": {"style": "ball"}},
        "front",
    ),
    Slide("face of the plunger clear of the tap", "plunger.front.mouth_mm", 4, 7, BALL_IN_CENTRE),
    Slide(
        "ball wider than the button's hole",
        "button.vent_mm",
        1.5,
        4.2,
        {"plunger.rear": {"style": "ball"}},
    ),
    Slide("side flat clear of the tip", "plunger.front.relief_mm", 0.8, 0.1, HALF_CENTRE, "front"),
    Slide(
        "side flat clear of the cone", "plunger.front.relief_length_mm", 9, 5, HALF_CENTRE, "front"
    ),
    Slide("hold toward the relieved side", "plunger.front.relief_mm", 1, 0.4, HALF_IN_CENTRE),
    Slide("core between the ends", "plunger.length_mm", 62, 10),
    Slide("clearance, least", "bore.limits_um.0", 0, -20, OWN_BORE),
    Slide("clearance, greatest", "bore.limits_um.1", 15, 100, OWN_BORE),
    Slide("tilt of the plunger", "bore.limits_um.1", 15, 500, OWN_BORE, subject="point out"),
    Slide("run-out of the bore", "making.runout_mm", 0.02, 0.5),
    Slide("spring free in the bore", "bore.diameter_mm", 8, 7.1),
    Slide("solid margin", "plug.sunk_mm", 15, 18),
    Slide("solid margin", "plug.sunk_mm", 15, 24.8, {"springs.0.active_coils": 4.0}),
    Slide("corrected stress at full compression", "springs.0.rate_N_per_mm", 1, 4),
    Slide(
        "corrected stress at full compression",
        "springs.0.rate_N_per_mm",
        1,
        4,
        {"springs.0.wire": "ASTM A227"},
    ),
    Slide("uncorrected stress when solid", "springs.0.free_mm", 34, 60),
    Slide("coil index, least", "springs.0.outside_mm", 7, 3.5),
    Slide("coil index, greatest", "springs.0.outside_mm", 5, 7, {"springs.0.wire_mm": 0.3}),
    Slide("active coils", "springs.0.active_coils", 12, 1),
    Slide(
        "active coils",
        "springs.0.total_coils",
        14,
        3,
        {"springs.0.active_coils": REMOVED},
    ),
    Slide("active coils", "springs.0.cut_to_mm", 28, 5),
    Slide(
        "gap between nested coils",
        "springs.0.inner.outside_mm",
        4,
        5,
        NESTED,
        subject="spring 1 inner",
    ),
    Slide("seat of the inner spring", "button.vent_mm", 1.5, 6, NESTED),
    Slide("preload with tolerances", "plug.sunk_mm", 15, 5, subject="point out"),
    Slide("solid margin with tolerances", "plug.sunk_mm", 15, 18.2),
    Slide("preload", "plug.sunk_mm", 15, 5, subject="point out"),
    Slide("force ratio", "plug.sunk_mm", 15, 9, subject="point out"),
    Slide("difference of the preloads", "slot.front_mm", 23.75, 26),
    Slide("button thickness", "button.thickness_mm", 2, 0.2),
    Slide("disc free in the bore, least", "button.diameter_mm", 7.7, 8.1),
    Slide("disc free in the bore, greatest", "button.diameter_mm", 7.7, 5),
    Slide("disc around its hole", "button.vent_mm", 1.5, 7.5),
    Slide("floor of the button's recess", "button.thickness_mm", 4, 2.17, RECESSED),
    Slide("working tip clear of the button", "plunger.front.flat_mm", 0, 3, RECESSED),
    Slide("vent", "plug.vent_mm", 2, 0),
    Slide("snap on the screw tip", "springs.0.rate_N_per_mm", 1.4, 10),
    Slide("ends of the slot relieved", "springs.0.rate_N_per_mm", 1.4, 10),
    Slide("rear end past the ejection depth", "mount.extension_length_mm", 4, 0, EJECTED),
    Slide(
        "rear end past the ejection depth, greatest",
        "mount.extension_length_mm",
        4,
        10,
        EJECTED,
    ),
    Slide("solid metal behind a blind bore", "disc.bottom_mm", 70, 85.5, TANG),
    Slide("wall over the socket of the arbor", "mount.diameter_mm", 20, 13, ARBOR),
    Slide("vent behind the plunger", "disc.bottom_mm", 72, 58, VENTED),
    Slide("vent clear of what holds the body", "disc.bottom_mm", 72, 89, ARBOR),
    Slide(
        "included angle of a taper that holds itself",
        "mount.taper",
        0.05,
        0.2,
        OWN_EJECTED,
    ),
    Slide("extension below the small end", "mount.extension_diameter_mm", 13.9, 14.5, EJECTED),
    Slide("headroom", "machine.headroom_mm", 220, 50),
    Slide("reamer reach", "workshop.reamer_length_mm", 165, 60),
    Slide("drill reach", "workshop.drill_reach_mm", 100, 10),
    Slide("tap reach", "workshop.tap_reach_mm", 40, 10),
    Slide("compound travel", "workshop.compound_travel_mm", 80, 20),
    Slide("tap seats", "plunger.rear.pilot_mm", 2, 6.9),
    Slide(
        "plunger wider than the tap's centre",
        "taps.0.end_mm",
        3,
        8,
        {"taps": [{"standard": "ISO 529", "size": "M12", "end": "centre"}]},
    ),
    Slide("tip of the tap clear of the pilot", "plunger.rear.pilot_depth_mm", 2, 0.1),
    Slide("clear below the tap in a blind hole", "taps.0.drilled_mm", 20, 12, BLIND),
    Slide("clear below the tap in a blind hole", "taps.0.lead_threads", 2, 9, BLIND),
    Slide("length of the tap", "taps.0.depth_mm", 12, 30),
    Slide("travel of one setting", "slot.length_mm", 14.5, 4),
    Slide("settings for a hole", "taps.0.depth_mm", 12, 60),
    Slide("quill travel", "machine.quill_travel_mm", 60, 5, {"taps.0.depth_mm": 12.0}),
    Slide(
        "tip clear of the bottom of the tap's centre",
        "plunger.front.angle_deg",
        60,
        40,
        {"taps": [{"standard": "ISO 529", "size": "M12", "end": "centre"}]},
    ),
    Slide("plunger reaches the hidden end", "taps.0.hidden_mm", 1, 30),
    Slide("plunger in the wrench's opening", "taps.0.opening_mm", 10, 5, {"taps.0.hidden_mm": 2.0}),
    Slide("stroke inside the force window", "springs.0.rate_N_per_mm", 1.4, 30),
    Slide("stroke inside the force window", "taps.0.wrench_arm_mm", 80, 5),
    Slide("lean of the thread", "alignment.hole_deg", 0.05, 4),
    Slide("lean of the thread", "alignment.height_mm", 0, 3, {"machine.spindle": "horizontal"}),
    Slide("force on the work", "springs.0.rate_N_per_mm", 0.2, 2, PICK_UP),
    Slide("preload", "springs.0.rate_N_per_mm", 0.2, 0.001, PICK_UP),
    Slide("headroom", "machine.headroom_mm", 220, 20, PICK_UP),
    Slide("pressure of the tip on the work", "plunger.front.flat_mm", 0.3, 0.06, PICK_UP),
    Slide("target over the flat of the tip", "pick_up.width_mm", 4, 0.1, PICK_UP),
    Slide("plunger over the target", "pick_up.width_mm", 4, 9, PICK_UP),
    Slide("off after two readings", "pick_up.reading_mm", 0.02, 1, PICK_UP),
    Slide("off after two readings", "alignment.slope_mm", 0.02, 1, {**PICK_UP, **BY_FEEL}),
    Slide("contact in the centre hole", "plunger.front.flat_mm", 0.4, 5.2, SUPPORT),
    Slide(
        "plunger wider than the centre hole",
        "plunger.diameter_mm",
        8,
        5,
        {**SUPPORT, "springs.0.outside_mm": 4.0},
    ),
    Slide("angle of the point against the centre hole", "plunger.front.angle_deg", 60, 80, SUPPORT),
    Slide("tip clear of the bottom of the centre hole", "plunger.front.angle_deg", 60, 40, SUPPORT),
    Slide("side load held by the thrust", "support.side_N", 5, 200, SUPPORT),
    Slide("travel left when the work has grown", "support.set_mm", 9, 14, SUPPORT),
    Slide("change of thrust as the work grows", "support.warmer_K", 20, 300, STIFF),
    Slide("point held in the centre hole", "support.set_mm", 9, 2, SUPPORT),
    Slide("rubbing speed in the centre hole", "support.rpm", 0, 2000, SUPPORT),
    Slide("support off the spindle's axis", "alignment.height_mm", 0.04, 1, SUPPORT),
)

TWO_SPRINGS: Final = [
    {"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 17.0, "active_coils": 5.0},
    {"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 17.0, "active_coils": 5.0},
]
SWITCHES: Final = (
    Switch(
        "draw-bar thread against the rear thread",
        {"plug.thread": "M10"},
        {"plug.thread": "M12"},
        "fail",
    ),
    Switch("plug locked", {}, {"plug.locking": "none"}, "warn"),
    Switch(
        "plug locked",
        {"body.assembly": "front-loaded"},
        {"body.assembly": "front-loaded", "plug.locking": "none"},
        "fail",
    ),
    Switch("set screw locked", {}, {"set_screw.locking": "none"}, "warn"),
    Switch("nose bush locked", BUSHED, {**BUSHED, "bush.locking": "none"}, "fail"),
    Switch("pin locked", PINNED, {**PINNED, "cross_pin.locking": "none"}, "warn"),
    Switch("screwed tip locked", SCREWED, {**SCREWED, "screwed_tips.locking": "none"}, "warn"),
    Switch("flat seat for the springs", {}, {"button": REMOVED}, "warn"),
    Switch(
        "unground ends on a disc",
        {"springs.0.ends": "closed"},
        {"springs.0.ends": "closed", "button": REMOVED},
        "warn",
    ),
    Switch(
        "unground ends on a disc",
        {"springs.0.cut_to_mm": 30.0},
        {"springs.0.cut_to_mm": 30.0, "button": REMOVED},
        "warn",
    ),
    Switch("hands of nested springs", NESTED, {**NESTED, "springs.0.inner.hand": "right"}, "warn"),
    Switch(
        "separators",
        {"springs": TWO_SPRINGS, "separator": {}},
        {"springs": TWO_SPRINGS},
        "warn",
    ),
)
