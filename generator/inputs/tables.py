"""The tables of a parameter file that describe the tool itself.

The descriptions are the only explanation of the keys: the comments in the shipped profiles and the
JSON Schema are made from them. A number left out is ``DERIVED`` until the model works it out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from generator.inputs.names import (
    ONE_LINE,
    ChuckTaperName,
    HolderName,
    Limits_um,
    MaterialName,
    TaperSize,
    ThreadName,
    WireGrade,
    ZoneName,
)
from generator.inputs.quantities import (
    DERIVED,
    DERIVED_TEXT,
    Angle,
    Count,
    Depth,
    Rate,
    Share,
    Size,
    Told,
    Words,
)

STYLE = Told(
    '"point", "half centre", "countersink", "ball", "blank" or "plain": the form of this end.'
)
KIND = Told(
    '"morse draw-bar", "morse ejected", "morse tang", "morse and straight", "own taper draw-bar", '
    '"own taper ejected", "r8", "straight", "arbor taper" or "arbor thread": how the machine holds '
    "the tool."
)

DrawbarEngagement = Annotated[
    Size, Told("Length of draw-bar thread in the body. Derived: 1.2 thread diameters.")
]
ExtensionDiameter = Annotated[
    Size, Told("Diameter behind the taper. Derived: the small end less 0.6, down to a tenth.")
]
ExtensionLength = Annotated[
    Depth,
    Told(
        "Length behind the taper. Derived: so that the tool ends 3 mm deeper in the socket than "
        "machine.ejection_depth_mm."
    ),
]
Grip = Annotated[Size, Told("Length held by the collet or chuck. Derived: three shank diameters.")]
Holder = Annotated[
    HolderName,
    Told(
        'What grips the shank, such as "ER32" or "drill chuck 13 mm"; its clamping range and '
        'run-out are then counted with. "none": not told.'
    ),
]
Quality = Annotated[
    Literal["good", "ordinary"],
    Told(
        '"good" or "ordinary": how true that holder runs; a collet of class 1 or 2, a drill chuck '
        "as sold. Of a worn one give alignment.seat_mm."
    ),
]
ShankZone = Annotated[
    ZoneName,
    Told("ISO 286 zone of the shank. Derived: h8 up to 50 mm, above that none."),
]


@dataclass(frozen=True, slots=True, kw_only=True)
class MorseMount:
    """A Morse taper."""

    kind: Annotated[
        Literal["morse draw-bar", "morse ejected", "morse tang", "morse and straight"], KIND
    ]
    size: Annotated[TaperSize, Told("Size of the Morse taper, MT0 to MT6.")]
    lengths: Annotated[
        Literal["ISO", "US"], Told('"ISO" or "US": whose shank lengths, ISO 296 or ASME B5.10.')
    ] = "ISO"

    @property
    def row_name(self) -> str:
        """The name of its row in the table of tapers."""
        return self.size if self.lengths == "ISO" else f"{self.size} US"


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawbarMount(MorseMount):
    """A Morse taper, tapped at the rear and pulled home by a draw-bar."""

    kind: Annotated[Literal["morse draw-bar"], KIND]
    drawbar_thread: Annotated[
        ThreadName,
        Told("Thread of the draw-bar. Derived: the thread that belongs to the taper."),
    ] = DERIVED_TEXT
    drawbar_engagement_mm: DrawbarEngagement = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class EjectedMount(MorseMount):
    """A Morse taper with a rear extension that the tailstock screw pushes out."""

    kind: Annotated[Literal["morse ejected"], KIND]
    extension_diameter_mm: ExtensionDiameter = DERIVED
    extension_length_mm: ExtensionLength = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class TangMount(MorseMount):
    """A Morse taper with a tang, by which a drift drives it out; the bore is blind."""

    kind: Annotated[Literal["morse tang"], KIND]


@dataclass(frozen=True, slots=True, kw_only=True)
class CombinedMount(MorseMount):
    """A Morse taper with a straight shank behind it: the socket or a collet holds the tool."""

    kind: Annotated[Literal["morse and straight"], KIND]
    diameter_mm: Annotated[
        Size,
        Told(
            "Diameter of the straight shank; it passes the small end of the socket. Derived: the "
            "small end less 0.6, down to half a millimetre."
        ),
    ] = DERIVED
    length_mm: Annotated[
        Size,
        Told("Length of the straight shank. Derived: its grip and 2 mm, to half a millimetre."),
    ] = DERIVED
    grip_mm: Grip = DERIVED
    tolerance: ShankZone = DERIVED_TEXT
    holder: Holder = "none"
    holder_runs: Quality = "ordinary"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnTaper:
    """A taper that no table holds, told by its rate, gauge diameter and lengths."""

    kind: Annotated[Literal["own taper draw-bar", "own taper ejected"], KIND]
    name: Annotated[
        str,
        Words(least=1, most=24, pattern=ONE_LINE),
        Told("What you call the taper, for the papers."),
    ] = "own taper"
    taper: Annotated[
        Share,
        Told(
            "Taper on the diameter: millimetres a millimetre, such as 0.05 for 1 in 20. Twice the "
            "tangent of half the included angle."
        ),
    ]
    gauge_diameter_mm: Annotated[
        Size, Told("Diameter of the taper at the face of its socket, the gauge plane.")
    ]
    length_mm: Annotated[Size, Told("From the gauge plane to the small end.")]
    stand_out_mm: Annotated[
        Size, Told("How far the taper stands out of its socket, from gauge plane to shoulder.")
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnDrawbarMount(OwnTaper):
    """A taper of your own, tapped at the rear and pulled home by a draw-bar."""

    kind: Annotated[Literal["own taper draw-bar"], KIND]
    drawbar_thread: Annotated[ThreadName, Told("Thread of the draw-bar.")]
    drawbar_engagement_mm: DrawbarEngagement = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnEjectedMount(OwnTaper):
    """A taper of your own with a rear extension that the tailstock screw pushes out."""

    kind: Annotated[Literal["own taper ejected"], KIND]
    extension_diameter_mm: ExtensionDiameter = DERIVED
    extension_length_mm: ExtensionLength = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class R8Mount:
    """The shank of a milling spindle R8: a steep cone, which does not hold itself, and a body."""

    kind: Annotated[Literal["r8"], KIND]
    drawbar_thread: Annotated[
        ThreadName,
        Told('Thread of the draw-bar. Derived: 7/16-20 UNF; some spindles have "M12".'),
    ] = DERIVED_TEXT
    drawbar_engagement_mm: DrawbarEngagement = DERIVED
    key_slot: Annotated[
        Literal["milled", "none"],
        Told(
            '"milled": a slot, open at the rear, for the key in the spindle. "none": left out, '
            "for a spindle whose key is taken out."
        ),
    ] = "milled"
    stand_out_mm: Annotated[
        Size,
        Told("How far the cone stands out of the spindle, from its large end to the shoulder."),
    ] = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightMount:
    """A straight shank for a collet or a drill chuck."""

    kind: Annotated[Literal["straight"], KIND]
    diameter_mm: Annotated[Size, Told("Diameter of the shank.")]
    length_mm: Annotated[Size, Told("Length of the shank behind the nose.")]
    grip_mm: Grip = DERIVED
    tolerance: ShankZone = DERIVED_TEXT
    holder: Holder = "none"
    holder_runs: Quality = "ordinary"
    flats: Annotated[
        Literal["none", "one", "two"],
        Told(
            '"none", "one" or "two": flats milled across the shank for a set screw of the holder; '
            "two lie opposite each other. They keep the tool from turning and from dropping; "
            "they do not centre it."
        ),
    ] = "none"
    flat_depth_mm: Annotated[
        Size,
        Told(
            "Depth of a flat below the shank, at its middle. Derived: that of DIN 6535 HB where "
            "the diameter is one of its own, else 0.09 of the diameter, up to a tenth."
        ),
    ] = DERIVED
    flat_length_mm: Annotated[
        Size,
        Told(
            "Length of a flat along the shank. Derived: that of DIN 6535 HB, else 0.55 of the "
            "diameter, to half a mm."
        ),
    ] = DERIVED
    flat_position_mm: Annotated[
        Size,
        Told(
            "From the rear end to the middle of the flats: where the holder's set screw stands. "
            "Derived: that of DIN 6535 HB, else the middle of the grip."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class ArborMount:
    """A body with a socket in its rear, that goes on an arbor as a drill chuck does."""

    kind: Annotated[Literal["arbor taper", "arbor thread"], KIND]
    diameter_mm: Annotated[Size, Told("Diameter of the body behind the nose.")]
    length_mm: Annotated[
        Size,
        Told(
            "Length of the body behind the nose. Derived: bore, solid metal and socket one behind "
            "the other."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class ArborTaperMount(ArborMount):
    """A tapered socket in the rear, for the short taper of a drill chuck's arbor."""

    kind: Annotated[Literal["arbor taper"], KIND]
    taper: Annotated[
        ChuckTaperName, Told('Taper of the arbor: Jacobs "JT0" to "JT6", or "B10" to "B24".')
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class ArborThreadMount(ArborMount):
    """A thread in the rear, for the nose of an arbor or of a small spindle."""

    kind: Annotated[Literal["arbor thread"], KIND]
    thread: Annotated[ThreadName, Told("Thread of the arbor.")]
    thread_length_mm: Annotated[
        Size,
        Told(
            "Length of the arbor's thread. Derived: the usual one for a drill chuck, else its "
            "diameter, to a millimetre."
        ),
    ] = DERIVED
    register_mm: Annotated[
        Depth,
        Told(
            "Diameter of the plain register at the mouth of the thread, that the arbor's own fits; "
            "0 for none."
        ),
    ] = 0.0
    register_length_mm: Annotated[Depth, Told("Length of that register; 0 for none.")] = 0.0


Mount = (
    DrawbarMount
    | EjectedMount
    | TangMount
    | CombinedMount
    | OwnDrawbarMount
    | OwnEjectedMount
    | R8Mount
    | StraightMount
    | ArborTaperMount
    | ArborThreadMount
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """The body: what holds everything, and how it is put together."""

    material: Annotated[MaterialName, Told("Material of the body.")]
    nose_diameter_mm: Annotated[
        Size,
        Told(
            "Diameter of the nose. Derived: 2 mm over the mount, to a whole millimetre; of a body "
            "for an arbor, that of the body; as much as the flange of a nose bush and the chamfers "
            "take."
        ),
    ] = DERIVED
    nose_length_mm: Annotated[
        Size,
        Told(
            "Length of the nose in front of the mount. Derived: the set screw lies wholly in it, "
            "with 3 mm behind the hole; or the hole for the thread of a nose bush, with 1 mm."
        ),
    ] = DERIVED
    assembly: Annotated[
        Literal["rear-loaded", "front-loaded", ""],
        Told(
            '"rear-loaded": springs go in behind the plunger and the plug closes them in. '
            '"front-loaded": the rear is closed for good; springs, plunger and last the set screw, '
            "the pin or the nose bush go in from the nose. Derived: front-loaded with a "
            "nose bush and where the bore is blind."
        ),
    ] = DERIVED_TEXT
    bevel_mm: Annotated[
        Depth,
        Told("How much wider than the bore the 60 degree bevel at its front mouth is; 0 for none."),
    ] = 1.5
    recess_mm: Annotated[
        Depth, Told("How deep both bevels lie below the faces, out of harm's way; 0 for none.")
    ] = 0.3
    edge_mm: Annotated[Depth, Told("Chamfer on the outer edges.")] = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """The one reamed bore in which plunger and springs lie."""

    diameter_mm: Annotated[Size, Told("Nominal bore. Derived: the plunger's diameter.")] = DERIVED
    tolerance: Annotated[ZoneName, Told('ISO 286 zone of the bore, such as "H7". Derived: H7.')] = (
        DERIVED_TEXT
    )
    limits_um: Annotated[
        Limits_um | None,
        Told("Lower and upper deviation in micrometres, in place of the ISO 286 zone."),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ConeTip:
    """A plunger end with a cone."""

    style: Annotated[Literal["point", "half centre"], STYLE]
    angle_deg: Annotated[Angle, Told("Included angle of the cone.")] = 60.0
    flat_mm: Annotated[Depth, Told("Diameter of the small flat on the tip.")] = 0.4


@dataclass(frozen=True, slots=True, kw_only=True)
class PointTip(ConeTip):
    """A plunger end with a cone, for a drilled centre."""

    style: Annotated[Literal["point"], STYLE]


@dataclass(frozen=True, slots=True, kw_only=True)
class HalfCentreTip(ConeTip):
    """A point cut away on the slot's side, where a cutter or an eye then reaches the work's end."""

    style: Annotated[Literal["half centre"], STYLE]
    relief_mm: Annotated[
        Size,
        Told(
            "How far from the axis its side flat lies, so that a little over half is left. "
            "Derived: a tenth of the plunger's diameter, and past the flat on the tip."
        ),
    ] = DERIVED
    relief_length_mm: Annotated[
        Size,
        Told(
            "Length of the side flat from the tip. Derived: the cone and a quarter of the "
            "plunger's diameter, up to half a millimetre."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class SunkTip:
    """A plunger end with a countersink over a pilot hole."""

    style: Annotated[Literal["countersink", "ball"], STYLE]
    angle_deg: Annotated[Angle, Told("Included angle of the countersink.")] = 60.0
    mouth_mm: Annotated[
        Size, Told("Diameter of the mouth. Derived: 0.87 of the plunger's diameter, to a tenth.")
    ] = DERIVED
    pilot_mm: Annotated[
        Size, Told("Diameter of the pilot hole. Derived: a quarter of the plunger, to half a mm.")
    ] = DERIVED
    pilot_depth_mm: Annotated[
        Depth, Told("Full depth of the pilot hole below the countersink. Derived: its diameter.")
    ] = DERIVED
    chamfer_mm: Annotated[Depth, Told("Chamfer on the outer edge.")] = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class CountersinkTip(SunkTip):
    """A plunger end with a countersink, for a tap with a point or a bevel."""

    style: Annotated[Literal["countersink"], STYLE]


@dataclass(frozen=True, slots=True, kw_only=True)
class BallTip(SunkTip):
    """A plunger end with a bearing ball bonded in a countersink, for a drilled hole or centre."""

    style: Annotated[Literal["ball"], STYLE]
    angle_deg: Annotated[Angle, Told("Included angle of the seat under the ball.")] = 90.0
    mouth_mm: Annotated[
        Size, Told("Diameter of the mouth of the seat. Derived: the ball's diameter.")
    ] = DERIVED
    pilot_mm: Annotated[
        Size,
        Told("Diameter of the pilot hole. Derived: 0.4 of the ball, down to half a millimetre."),
    ] = DERIVED
    ball_mm: Annotated[
        Size,
        Told(
            "Diameter of the ball, which is bought. Derived: the largest usual one up to half the "
            "plunger's diameter."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainTip:
    """A plunger end left flat; it follows no tap."""

    style: Annotated[Literal["plain"], STYLE]
    chamfer_mm: Annotated[Depth, Told("Chamfer on the outer edge.")] = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankTip:
    """A plunger end left full, to be finished by you to suit; as drawn it follows no tap."""

    style: Annotated[Literal["blank"], STYLE]
    stock_mm: Annotated[
        Depth,
        Told(
            "How far from its face metal may come off when you finish it. Derived: the length of "
            "a sharp 60 degree point, up to half a millimetre."
        ),
    ] = DERIVED
    chamfer_mm: Annotated[Depth, Told("Chamfer on the outer edge.")] = 0.5


Tip = PointTip | HalfCentreTip | CountersinkTip | BallTip | BlankTip | PlainTip


@dataclass(frozen=True, slots=True, kw_only=True)
class Plunger:
    """The plunger: finished round bar with a form on each end."""

    diameter_mm: Annotated[Size, Told("Nominal diameter of the bar.")]
    material: Annotated[MaterialName, Told("Material of the plunger.")]
    front: Annotated[
        Tip,
        Told("The end that works as the drawing shows it."),
    ]
    rear: Annotated[
        Tip,
        Told("The end that works with the plunger reversed."),
    ]
    length_mm: Annotated[
        Size,
        Told("Overall length. Derived: equal ends about the slot, tip 2 mm clear of the nose."),
    ] = DERIVED
    tolerance: Annotated[ZoneName, Told('ISO 286 zone of the bar, such as "h8". Derived: h8.')] = (
        DERIVED_TEXT
    )
    limits_um: Annotated[
        Limits_um | None,
        Told(
            "Lower and upper deviation of the bar in micrometres, in place of the ISO 286 zone; "
            "drill rod is often sold as plus or minus."
        ),
    ] = None


SlotForm = Literal["slot", "flat", "through"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RetainingSlot:
    """The slot in the plunger that the set screw, or the cross pin, runs in."""

    form: Annotated[
        SlotForm | Literal[""],
        Told(
            '"slot": milled along with round ends. "flat": milled across, open to both sides. '
            '"through": a slot right through, for a cross pin. Derived: "slot" for a screw.'
        ),
    ] = DERIVED_TEXT
    length_mm: Annotated[Size, Told("Overall length, over the ends.")]
    width_mm: Annotated[
        Size,
        Told(
            "Width: the cutter. Derived: the next half millimetre over the screw's tip or the pin; "
            "of a flat, its chord."
        ),
    ] = DERIVED
    depth_mm: Annotated[
        Size,
        Told(
            "Depth on the centre line, from the outside of the plunger. Derived: enough for the "
            "screw's tip to bear on the side walls, or on the ends of a flat; right through for a "
            "pin."
        ),
    ] = DERIVED
    front_mm: Annotated[
        Size, Told("From the front tip to the slot. Derived: the slot lies in the middle.")
    ] = DERIVED


ScrewPoint = Literal["dog short", "dog long", "cup", "flat", "cone"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RetainingScrew:
    """The set screw (grub screw) that keeps the plunger in."""

    thread: Annotated[ThreadName, Told("Thread of the screw.")]
    point: Annotated[
        ScrewPoint, Told('"dog long", "dog short", "cup", "flat" or "cone": its point.')
    ] = "dog long"
    position_mm: Annotated[
        Size,
        Told("From the nose face to its axis. Derived: the slot stays 2 mm inside the nose."),
    ] = DERIVED
    length_mm: Annotated[
        Size,
        Told("Length of the screw. Derived: the longest stocked one that ends below the nose."),
    ] = DERIVED
    gap_mm: Annotated[
        Depth, Told("Gap between the tip and the floor of the slot, once set and locked.")
    ] = 0.3
    tip_mm: Annotated[
        Size, Told("Diameter of the tip, if you turn it yourself. Derived: from the standard.")
    ] = DERIVED
    tip_length_mm: Annotated[
        Size, Told("Length of the tip, if you turn it yourself. Derived: from the standard.")
    ] = DERIVED
    locking: Annotated[
        Literal["threadlocker", "jam screw", "shoulder", "none"],
        Told(
            '"threadlocker", "jam screw", "shoulder" or "none": what keeps it from turning. With '
            '"shoulder" the end of the thread is drawn tight on a ledge left in the hole, and only '
            "the turned tip goes on."
        ),
    ] = "threadlocker"


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossPin:
    """The pin across the nose, in place of the set screw; it runs in a slot through the plunger."""

    diameter_mm: Annotated[Size, Told("Diameter of the pin, bought or of ground bar.")]
    support: Annotated[
        Literal["both walls", "one wall"],
        Told(
            '"both walls": held on both sides of the plunger. "one wall": held on one side alone, '
            "for a nose that must stay whole on the other."
        ),
    ] = "both walls"
    position_mm: Annotated[
        Size,
        Told("From the nose face to its axis. Derived: the slot stays 2 mm inside the nose."),
    ] = DERIVED
    length_mm: Annotated[
        Size,
        Told(
            "Length of the pin. Derived: its ends lie 0.2 mm below the nose; in one wall it ends "
            "0.3 mm short of the plunger's far side."
        ),
    ] = DERIVED
    locking: Annotated[
        Literal["pressed", "retaining compound", "staked", "none"],
        Told('"pressed", "retaining compound", "staked" or "none": what keeps it in.'),
    ] = "pressed"
    temper: Annotated[
        Literal["hardened", "soft"],
        Told('"hardened": a bought dowel. "soft": cut from bar, as it comes.'),
    ] = "hardened"
    material: Annotated[MaterialName, Told("Material of the pin.")] = "silver steel 115CrV3"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shoulder:
    """A plunger with a head behind a stem, in a stepped bore: the step keeps it in."""

    pocket_mm: Annotated[
        Size, Told("Diameter of the wider bore behind the step, in which head and springs lie.")
    ]
    guide_mm: Annotated[
        Size,
        Told(
            "From the nose face to the step, or to the rear end of the nose bush: the bore in "
            "front of it guides the stem. Derived: two and a half stems are guided, to half a "
            "millimetre, or the thread of the bush is six turns long."
        ),
    ] = DERIVED
    travel_mm: Annotated[
        Size,
        Told("Travel, which the tail ends. Derived: from tail_length_mm; give one of the two."),
    ] = DERIVED
    stem_mm: Annotated[
        Size,
        Told(
            "From the front tip to the head, or from the face on which a screwed tip bears. "
            "Derived: the tip's cone, or the whole screwed tip, stays 2 mm clear of the nose when "
            "it is pushed home, to half a millimetre."
        ),
    ] = DERIVED
    head_diameter_mm: Annotated[
        Size, Told("Diameter of the head. Derived: 0.3 mm under the pocket.")
    ] = DERIVED
    head_length_mm: Annotated[
        Size, Told("Length of the head. Derived: half its diameter, 3 mm at least.")
    ] = DERIVED
    tail_diameter_mm: Annotated[
        Size,
        Told(
            "Diameter of the tail, which lies inside the spring and meets the plug. Derived: 1 mm "
            "under the inside of the first spring, to half a millimetre."
        ),
    ] = DERIVED
    tail_length_mm: Annotated[
        Size,
        Told("Length of the tail. Derived: from travel_mm; give one of the two."),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class NoseBush:
    """The bush screwed into the nose: it guides a shouldered plunger and keeps its head in."""

    thread: Annotated[
        ThreadName,
        Told(
            "Its thread, and so that of the nose. Derived: the smallest fine one with a pitch of "
            "1 mm or more that the head passes."
        ),
    ] = DERIVED_TEXT
    register_mm: Annotated[
        Size,
        Told(
            "Diameter of the plain register that locates it in the nose, fitted H7/g6; the thread "
            "only holds. Derived: 1 mm over the thread, to half a millimetre."
        ),
    ] = DERIVED
    register_length_mm: Annotated[
        Size,
        Told(
            "Length of its spigot, which lies in the register. Derived: 3 mm of it touch behind "
            "the bevel at the mouth, to half a millimetre."
        ),
    ] = DERIVED
    flange_diameter_mm: Annotated[
        Size,
        Told(
            "Diameter of its flange, which is drawn tight on the nose face. Derived: 1.5 mm of "
            "face about the recess, to a whole millimetre."
        ),
    ] = DERIVED
    flange_mm: Annotated[
        Size, Told("Thickness of its flange, which stands before the nose face.")
    ] = 4.0
    flats_mm: Annotated[
        Size,
        Told(
            "Across its two flats, for a spanner. Derived: 2 mm under the flange, to a whole "
            "millimetre."
        ),
    ] = DERIVED
    locking: Annotated[
        Literal["threadlocker", "none"],
        Told(
            '"threadlocker" or "none": what keeps it from turning. A right-hand tap drags the '
            "plunger the way that unscrews it."
        ),
    ] = "threadlocker"
    material: Annotated[MaterialName, Told("Material of the bush.")] = "bronze CC493K"


SpringEnds = Literal["closed and ground", "closed", "open", "open and ground"]


@dataclass(frozen=True, slots=True, kw_only=True)
class InnerSpring:
    """A second spring inside that one, wound the other way; leave the table out for none."""

    wire_mm: Annotated[Size, Told("Diameter of the wire.")]
    outside_mm: Annotated[Size, Told("Outside diameter of the coils.")]
    free_mm: Annotated[Size, Told("Free length, as bought.")]
    total_coils: Annotated[
        Count, Told("All coils as bought, end coils too. Derived: from active_coils and the ends.")
    ] = DERIVED
    active_coils: Annotated[
        Count, Told("Coils that give, as bought. Derived: from total_coils and the ends.")
    ] = DERIVED
    ends: Annotated[
        SpringEnds,
        Told('"closed and ground", "closed", "open" or "open and ground": the end coils.'),
    ] = "closed and ground"
    cut_to_mm: Annotated[
        Size | None,
        Told(
            "Free length to which you cut the spring down, if you do; the cut end goes toward the "
            "plunger."
        ),
    ] = None
    hand: Annotated[Literal["right", "left"], Told('"right" or "left": which way it is wound.')] = (
        "right"
    )
    wire: Annotated[WireGrade, Told("Grade of the wire.")] = "EN 10270-1 SM"
    rate_N_per_mm: Annotated[
        Rate,
        Told(
            "Rate of the spring as it goes in, in N/mm, if you measured it. Derived: from wire and "
            "coils."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class Spring(InnerSpring):
    """One compression spring; several in a row stand in series, first the one at the plunger."""

    inner: InnerSpring | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Separator:
    """The loose washer between two springs; there is one fewer than there are springs."""

    thickness_mm: Annotated[Size, Told("Thickness.")] = 1.0
    diameter_mm: Annotated[Size, Told("Outside diameter. Derived: 0.3 under the bore.")] = DERIVED
    hole_mm: Annotated[Size, Told("Hole, for the air.")] = 1.5
    material: Annotated[MaterialName, Told("Material.")] = "brass CW614N"


@dataclass(frozen=True, slots=True, kw_only=True)
class Button:
    """The disc between plunger and springs; leave the table out for none."""

    thickness_mm: Annotated[Size, Told("Thickness.")] = 2.0
    diameter_mm: Annotated[Size, Told("Outside diameter. Derived: 0.3 under the bore.")] = DERIVED
    vent_mm: Annotated[
        Depth,
        Told(
            "Hole through its middle, for the air; a point sits in its mouth. 0 for none: the air "
            "passes round the rim."
        ),
    ] = 1.5
    recess_mm: Annotated[
        Depth,
        Told(
            "Mouth of a 60 degree recess on the plunger's side, in which a point sits on its "
            "flank; 0 for a flat button."
        ),
    ] = 0.0
    material: Annotated[MaterialName, Told("Material.")] = "brass CW614N"


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """The loose disc on the bottom of a blind bore, on which the springs stand."""

    material: Annotated[MaterialName, Told("Material of the disc.")] = "brass CW614N"
    bottom_mm: Annotated[
        Size,
        Told(
            "Depth of the bore at full diameter, from the nose face; the drill's point goes on. "
            "Derived: the springs then have a third of their travel as preload."
        ),
    ] = DERIVED
    diameter_mm: Annotated[Size, Told("Diameter of the disc. Derived: 0.3 mm under the bore.")] = (
        DERIVED
    )
    thickness_mm: Annotated[
        Size, Told("Thickness of the disc; a thicker one gives more preload.")
    ] = 3.0
    vent: Annotated[
        Literal["rear", "side", ""],
        Told(
            '"rear": a hole through disc and solid end. "side": a hole through the wall, behind '
            "the plunger and clear of what holds the body. Derived: side for a body that goes on "
            "an arbor, else rear."
        ),
    ] = DERIVED_TEXT
    vent_mm: Annotated[Size, Told("Diameter of that hole, for the air.")] = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """The screwed plug that closes the bore behind the springs."""

    material: Annotated[MaterialName, Told("Material of the plug.")] = "brass CW614N"
    thread: Annotated[
        ThreadName,
        Told(
            "Thread of the plug, and so of the rear of the body. Derived: the draw-bar's thread, "
            "else the largest coarse one that leaves a wall of 1.5 mm."
        ),
    ] = DERIVED_TEXT
    length_mm: Annotated[
        Size, Told("Length. Derived: 0.8 thread diameters, to half a millimetre.")
    ] = DERIVED
    sunk_mm: Annotated[
        Depth,
        Told(
            "How deep its rear face lies below the rear end of the body. Derived: room for the "
            "draw-bar and 3 mm of air, else 0.5; and for the second plug."
        ),
    ] = DERIVED
    tapped_mm: Annotated[
        Depth,
        Told(
            "Depth of full thread in the body, from its rear end. Derived: as far as the plug's "
            "front face goes in with the weakest springs, to half a millimetre; less where tap or "
            "plunger leave less room."
        ),
    ] = DERIVED
    vent_mm: Annotated[Depth, Told("Hole through it, for the air; 0 for none.")] = 2.0
    drive: Annotated[Literal["slot", "hexagon"], Told('"slot" or "hexagon": what turns it.')] = (
        "slot"
    )
    drive_width_mm: Annotated[
        Size, Told("Width of the slot or of the hexagon. Derived: 0.15 or 0.5 thread diameters.")
    ] = DERIVED
    drive_depth_mm: Annotated[
        Size, Told("Depth of the slot or hexagon. Derived: a quarter of the plug's length.")
    ] = DERIVED
    locking: Annotated[
        Literal["threadlocker", "second plug", "none"],
        Told('"threadlocker", "second plug" or "none": what keeps it from turning.'),
    ] = "threadlocker"
