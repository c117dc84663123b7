"""Every mount is read; what goes with none is refused once, with a reason."""

from __future__ import annotations

from typing import Any

import pytest

from generator.errors import ProfileError
from generator.inputs.profile import parameters_from
from tests.tools import BASE, REMOVED, changed

DISC: dict[str, Any] = {"plug": REMOVED, "disc": {"bottom_mm": 72.0}}
TANG: dict[str, Any] = {**DISC, "mount": {"kind": "morse tang", "size": "MT2"}}
THREAD: dict[str, Any] = {
    **DISC,
    "mount": {"kind": "arbor thread", "thread": "M12x1.5", "diameter_mm": 24.0},
}
STRAIGHT: dict[str, Any] = {"mount": {"kind": "straight", "diameter_mm": 20.0, "length_mm": 80.0}}

REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "a tang without a disc": (
        {**TANG, "disc": REMOVED},
        'disc: missing; a mount of kind "morse tang" closes the rear',
    ),
    "a tang and a plug": (
        {**TANG, "plug": {"length_mm": 8.0}},
        'plug: a mount of kind "morse tang" closes the rear',
    ),
    "a plug in a blind bore": (
        {**STRAIGHT, "disc": {"bottom_mm": 60.0}},
        "plug: the bore is blind; the springs stand on the [disc]",
    ),
    "a blind bore and a draw-bar": (DISC, "disc: the thread of the draw-bar opens the rear"),
    "a blind bore from the rear": (
        {**TANG, "body.assembly": "rear-loaded"},
        "body.assembly: a blind bore has no way in from the rear",
    ),
    "a vent into the arbor": (
        {**THREAD, "disc": {"bottom_mm": 70.0, "vent": "rear"}},
        "disc.vent: the arbor closes a hole to the rear",
    ),
    "a register within its thread": (
        {**THREAD, "mount.register_mm": 12.0, "mount.register_length_mm": 3.0},
        "mount.register_mm: must be above the thread's diameter, 12, or 0 for none, got 12",
    ),
    "a register without a length": (
        {**THREAD, "mount.register_mm": 13.0},
        "mount.register_length_mm: a register needs a length",
    ),
    "an unknown arbor": (
        {**DISC, "mount": {"kind": "arbor taper", "taper": "JT7", "diameter_mm": 24.0}},
        'mount.taper: unknown "JT7"; did you mean "JT',
    ),
    "a taper without a rate": (
        {"mount": {"kind": "own taper draw-bar", "drawbar_thread": "M10", "length_mm": 60.0}},
        "mount.taper: missing; Taper on the diameter",
    ),
    "an ejected taper without its depth": (
        {
            "mount": {
                "kind": "own taper ejected",
                "taper": 0.05,
                "gauge_diameter_mm": 18.0,
                "length_mm": 60.0,
                "stand_out_mm": 5.0,
            }
        },
        "machine.ejection_depth_mm: missing",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_makes_no_sense_is_refused_with_a_reason(name: str) -> None:
    changes, told = REFUSED[name]
    with pytest.raises(ProfileError) as caught:
        parameters_from(changed(BASE, changes), "worked-tool")
    lines = [line for line in str(caught.value).splitlines() if told in line]
    assert len(lines) == 1, str(caught.value)
