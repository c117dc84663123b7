"""Sheets of operations as a plan would write them, for tests of the papers."""

from dataclasses import replace

from generator.documents.document import OperationSheet
from generator.documents.drawing import Figure, Line, Text

LINES = (
    Line((20, 10), (155, 10)),
    Line((155, 10), (155, 50)),
    Line((155, 50), (20, 50)),
    Line((20, 50), (20, 10)),
    Line((10, 30), (165, 30), "centre"),
    Text((87, 54), "Ø23.0", 3.5, "centre"),
)
SKETCH = Figure("rough", "Body, rough", "The body after the operation.", 175.0, 60.0, LINES)

STEPS = (
    ("1", "Face the sawn end, just clean.", "facing tool HSS", "450 rpm", "zero on the face", ""),
    ("2", "Centre drill.", "centre drill A2.5", "1200 rpm", "by hand", ""),
    (
        "3",
        "Drill through in pecks: three diameters first, then one at a time; clear and oil.",
        "drill 4.8",
        "1200 rpm",
        "tailstock, stop at 94",
        "",
    ),
    ("4", "Open out in pecks.", "drill 7.8", "730 rpm", "tailstock, stop at 94", "7.8 to 7.9"),
    ("STOP: measure the mouth of the bore. Over 7.9 the reamer cannot clean it up.",),
    (
        "5",
        "Ream through, slow, oil, no reverse.",
        "machine reamer 8 H7",
        "100 rpm",
        "tailstock, stop at 96",
        "8.000 to 8.015",
    ),
    ("6", "Bevel the mouth at 60°.", "boring tool, top slide at 30°", "450 rpm", "1.5 in", ""),
    ("7", "Try the plunger's bar in the bore: it drops by its own weight.", "", "", "", ""),
)
SHEET = OperationSheet(
    "20",
    "Drill and ream the bore, bevel its mouth",
    "Body",
    "lathe",
    "4-jaw chuck, clocked within 0.01 on the sawn bar, 40 out of the jaws.",
    SKETCH,
    STEPS,
    (
        "Chips of a deep hole pack: withdraw the drill wholly at every peck.",
        "Without a reamer: bore to size; the bore then runs true, but its finish costs feel.",
    ),
)


def long_sheet(count: int) -> OperationSheet:
    """Return a sheet of so many steps, with a warning before each fourth."""
    steps: list[tuple[str, ...]] = []
    for n in range(1, count + 1):
        if n % 4 == 0:
            steps.append((f"STOP: think before step {n}.",))
        steps.append((str(n), f"Step number {n}.", "tool", "450 rpm", "stop at 5", "1.0 to 1.1"))
    return replace(SHEET, number="30", title="A long operation", steps=tuple(steps))
