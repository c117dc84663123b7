"""What is behind the nose, and how the machine holds it: all that is read of a mount."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

from generator.formulas.slot import chord_mm
from generator.inputs.quantities import is_derived
from generator.inputs.tables import (
    ArborTaperMount,
    ArborThreadMount,
    CombinedMount,
    DrawbarMount,
    EjectedMount,
    Mount,
    OwnDrawbarMount,
    OwnEjectedMount,
    R8Mount,
    StraightMount,
    TangMount,
)
from generator.model.fits import Limits, limits_of
from generator.model.mouths import RUN_OUT_TURNS
from generator.model.part import Slot
from generator.standards.mounts import ChuckTaper, MorseTang, R8Shank
from generator.standards.rows import MorseTaper, Row, Thread

BEYOND_ARBOR_MM = 1.5
"""How much deeper a tapered socket is than its arbor is long; common practice, no source."""

R8 = "R8"
DRIVE_FLAT, KEY_SLOT = "drive flat", "key slot"
"""What is milled into a shank."""

Held = Literal["draw-bar", "pushed out", "drift", "gripped", "taper or grip", "arbor"]


@dataclass(frozen=True, slots=True)
class Taper:
    """The taper of a shank.

    Attributes:
        name: What it is called.
        rate: Taper on the diameter, millimetres a millimetre.
        gauge_diameter_mm: Diameter at the gauge plane, the face of its socket.
        stand_out_mm: How far the taper stands out of the socket.
        length_mm: From the gauge plane to the small end.
        row: The row of the table it comes from; None for one that the user gives.
    """

    name: str
    rate: float
    gauge_diameter_mm: float
    stand_out_mm: float
    length_mm: float
    row: Row | None

    @property
    def whole_mm(self) -> float:
        """From the shoulder to the small end."""
        return self.stand_out_mm + self.length_mm

    @property
    def large_diameter_mm(self) -> float:
        """Diameter at the shoulder."""
        return self.gauge_diameter_mm + self.rate * self.stand_out_mm

    @property
    def small_diameter_mm(self) -> float:
        """Diameter at the small end."""
        return self.gauge_diameter_mm - self.rate * self.length_mm


@dataclass(frozen=True, slots=True)
class Cylinder:
    """The parallel part of a shank: all of it, or what lies behind the taper.

    Attributes:
        surface: "shank" where it is gripped, "extension" where nothing holds it, "tang neck" where
            a tang is milled from it, "barrel" where an arbor goes into it, "parallel body" where
            the spindle guides it.
        diameter_mm: Its diameter.
        length_mm: Its length.
        keys: The keys that tell diameter and length.
        grip_mm: Length that collet or chuck holds, from the rear end; 0 for an extension.
        limits: Its limits of size; None for those of any size without its own.
    """

    surface: Literal["shank", "extension", "tang neck", "barrel", "parallel body"]
    diameter_mm: float
    length_mm: float
    keys: tuple[str, str] = ("", "")
    grip_mm: float = 0.0
    limits: Limits | None = None


@dataclass(frozen=True, slots=True)
class DrawBar:
    """The draw-bar that pulls a shank home.

    Attributes:
        thread: Its thread.
        engaged_mm: Length of thread that it has in the body.
    """

    thread: str
    engaged_mm: float


@dataclass(frozen=True, slots=True)
class Socket:
    """What an arbor goes into, in the rear end of a body.

    Attributes:
        name: What it is called.
        mouth_mm: Diameter at the rear face; of a thread, its major diameter.
        foot_mm: Diameter at the bottom; of a thread, that of the tapping drill.
        length_mm: Length that the arbor fills.
        room_mm: How much deeper the hole is.
        register_mm: Diameter of the plain register before a thread; 0 for none.
        register_length_mm: Length of that register.
        thread: The thread; None for a taper.
        row: The row of the table of tapers; None for a thread.
    """

    name: str
    mouth_mm: float
    foot_mm: float
    length_mm: float
    room_mm: float
    register_mm: float = 0.0
    register_length_mm: float = 0.0
    thread: Thread | None = None
    row: ChuckTaper | None = None

    @property
    def depth_mm(self) -> float:
        """The depth of the whole hole, from the rear face."""
        return self.register_length_mm + self.length_mm + self.room_mm

    @property
    def surface(self) -> Literal["socket taper", "arbor thread"]:
        """The name of its surface."""
        return "socket taper" if self.thread is None else "arbor thread"


@dataclass(frozen=True, slots=True)
class Shank:
    """All that is behind the nose, from the shoulder to the rear end.

    Attributes:
        name: What it is called, such as "MT2" or "straight shank".
        held: How the machine holds it.
        taper: Its taper; None for a straight shank.
        cylinder: Its parallel part; None for a taper that ends the body.
        draw_bar: What pulls it home; None where nothing does.
        tang: The tang milled from its end, which closes it; None for none.
        socket: What an arbor goes into, which closes the rear; None for none.
        milled: What is milled into its parallel part, placed from the shoulder; None for none.
    """

    name: str
    held: Held
    taper: Taper | None = None
    cylinder: Cylinder | None = None
    draw_bar: DrawBar | None = None
    tang: MorseTang | None = None
    socket: Socket | None = None
    milled: Slot | None = None

    @property
    def held_mm(self) -> float:
        """Length of the body, from its rear end, that socket, jaws or arbor cover or fill."""
        if self.taper is not None:
            return self.length_mm - self.taper.stand_out_mm
        if self.socket is not None:
            return self.socket.depth_mm
        return self.gripped.grip_mm if self.gripped else 0.0

    @property
    def length_mm(self) -> float:
        """The length of the body behind the nose."""
        return sum(
            part
            for part in (
                self.taper.whole_mm if self.taper else 0.0,
                self.cylinder.length_mm if self.cylinder else 0.0,
            )
        )

    @property
    def diameter_mm(self) -> float:
        """The diameter at the shoulder."""
        if self.taper is not None:
            return self.taper.large_diameter_mm
        assert self.cylinder is not None
        return self.cylinder.diameter_mm

    @property
    def rear_diameter_mm(self) -> float:
        """The outside diameter at the rear end, over the rear thread."""
        if self.cylinder is not None:
            return self.cylinder.diameter_mm
        assert self.taper is not None
        return self.taper.small_diameter_mm

    @property
    def stand_out_mm(self) -> float:
        """How far a taper stands out of its socket; 0 for a straight shank."""
        return self.taper.stand_out_mm if self.taper else 0.0

    @property
    def out_mm(self) -> float:
        """How much of it stands out of socket or jaws, or off the end of its arbor."""
        if self.socket is not None:
            return self.length_mm
        return self.stand_out_mm

    @property
    def fitted(self) -> Literal["taper", "shank", "socket taper", "arbor register", "barrel"]:
        """The surface by which the bore is to run true: what sits in the machine or on the arbor.

        A thread has none of its own: it is cut in one setting with the outside about it.
        """
        if self.socket is None:
            return "taper" if self.taper else "shank"
        if self.socket.thread is None:
            return "socket taper"
        return "arbor register" if self.socket.register_mm > 0 else "barrel"

    @property
    def gripped(self) -> Cylinder | None:
        """The parallel part that collet or chuck can hold; None where there is none."""
        return self.cylinder if self.cylinder and self.cylinder.surface == "shank" else None

    @property
    def extension(self) -> Cylinder | None:
        """The parallel part that nothing holds; None where there is none."""
        return self.cylinder if self.cylinder and self.cylinder.surface == "extension" else None


def taper_of(mount: Mount) -> Taper | None:
    """Return the taper of a mount; None for a straight shank."""
    match mount:
        case DrawbarMount() | EjectedMount() | CombinedMount() | TangMount():
            row = MorseTaper.find(mount.row_name)
            length_mm = row.length_mm
            if isinstance(mount, TangMount):
                tang = MorseTang.find(row.name)
                length_mm = tang.end_mm - tang.neck_mm
            return Taper(
                row.name,
                row.taper,
                row.gauge_diameter_mm,
                row.projection_mm,
                length_mm,
                row,
            )
        case OwnDrawbarMount() | OwnEjectedMount():
            return Taper(
                mount.name,
                mount.taper,
                mount.gauge_diameter_mm,
                mount.stand_out_mm,
                mount.length_mm,
                None,
            )
        case R8Mount():
            r8 = R8Shank.find(R8)
            return Taper(
                r8.name, r8.taper, r8.large_diameter_mm, mount.stand_out_mm, r8.cone_mm, r8
            )
        case StraightMount() | ArborTaperMount() | ArborThreadMount():
            return None


def drawbar_thread_of(mount: Mount) -> str:
    """Return the thread of the draw-bar: the file's, else the taper's own; "" for neither."""
    match mount:
        case DrawbarMount():
            return mount.drawbar_thread or MorseTaper.find(mount.row_name).drawbar_thread
        case OwnDrawbarMount():
            return mount.drawbar_thread
        case R8Mount():
            return mount.drawbar_thread or R8Shank.find(R8).drawbar_thread
        case _:
            return ""


def socket_of(mount: ArborTaperMount | ArborThreadMount) -> Socket:
    """Return what the arbor of a mount goes into."""
    if isinstance(mount, ArborTaperMount):
        row = ChuckTaper.find(mount.taper)
        deep_mm = row.length_mm + BEYOND_ARBOR_MM
        return Socket(
            name=row.name,
            mouth_mm=row.large_diameter_mm,
            foot_mm=row.large_diameter_mm - row.taper * deep_mm,
            length_mm=row.length_mm,
            room_mm=BEYOND_ARBOR_MM,
            row=row,
        )
    thread = Thread.find(mount.thread)
    return Socket(
        name=thread.name,
        mouth_mm=thread.major_mm,
        foot_mm=thread.tapping_drill_mm,
        length_mm=mount.thread_length_mm,
        room_mm=RUN_OUT_TURNS * thread.pitch_mm,
        register_mm=mount.register_mm,
        register_length_mm=mount.register_length_mm if mount.register_mm > 0 else 0.0,
        thread=thread,
    )


def _r8(mount: R8Mount) -> Shank:
    """Return the shank of a milling spindle R8."""
    row, taper = R8Shank.find(R8), taper_of(mount)
    assert taper is not None
    most_mm = row.body_greatest_mm
    limits = Limits(most_mm, (row.body_least_mm - most_mm) * 1000, 0.0, "")
    behind = Cylinder("parallel body", most_mm, row.overall_mm - taper.length_mm, limits=limits)
    slot = None
    if mount.key_slot == "milled":
        slot = Slot(
            KEY_SLOT,
            taper.whole_mm + behind.length_mm - row.slot_length_mm,
            row.slot_length_mm,
            row.slot_width_mm,
            row.slot_depth_mm,
            open=True,
        )
    bar = DrawBar(mount.drawbar_thread, mount.drawbar_engagement_mm)
    return Shank(row.name, "draw-bar", taper, behind, bar, milled=slot)


def _flats_of(mount: StraightMount) -> Slot | None:
    """Return the flats of a straight shank, as one cut; None for none, or while not settled."""
    if mount.flats == "none" or is_derived(mount.flat_depth_mm):
        return None
    return Slot(
        DRIVE_FLAT,
        mount.length_mm - mount.flat_position_mm - mount.flat_length_mm / 2,
        mount.flat_length_mm,
        chord_mm(diameter_mm=mount.diameter_mm, depth_mm=mount.flat_depth_mm),
        mount.flat_depth_mm,
        square=True,
        both=mount.flats == "two",
    )


@cache
def shank_of(mount: Mount) -> Shank:
    """Return what a mount looks like from outside, and how it is held.

    Args:
        mount: The mount, its derived values filled in.
    """
    taper = taper_of(mount)
    match mount:
        case StraightMount() | CombinedMount():
            keys = ("mount.diameter_mm", "mount.length_mm")
            limits = (
                limits_of(mount.diameter_mm, mount.tolerance, None) if mount.tolerance else None
            )
            held = Cylinder(
                "shank", mount.diameter_mm, mount.length_mm, keys, mount.grip_mm, limits
            )
            if isinstance(mount, StraightMount):
                return Shank("straight shank", "gripped", None, held, milled=_flats_of(mount))
            assert taper is not None
            return Shank(f"{taper.name} with a straight shank", "taper or grip", taper, held)
        case ArborTaperMount() | ArborThreadMount():
            barrel = Cylinder(
                "barrel",
                mount.diameter_mm,
                mount.length_mm,
                ("mount.diameter_mm", "mount.length_mm"),
            )
            socket = socket_of(mount)
            return Shank(f"arbor {socket.name}", "arbor", None, barrel, socket=socket)
        case TangMount():
            assert taper is not None
            tang = MorseTang.find(mount.row_name)
            neck = Cylinder("tang neck", tang.diameter_mm, tang.neck_mm)
            return Shank(f"{taper.name} with a tang", "drift", taper, neck, tang=tang)
        case R8Mount():
            return _r8(mount)
        case DrawbarMount() | OwnDrawbarMount():
            assert taper is not None
            bar = DrawBar(mount.drawbar_thread, mount.drawbar_engagement_mm)
            return Shank(taper.name, "draw-bar", taper, None, bar)
        case EjectedMount() | OwnEjectedMount():
            assert taper is not None
            keys = ("mount.extension_diameter_mm", "mount.extension_length_mm")
            behind = (
                Cylinder("extension", mount.extension_diameter_mm, mount.extension_length_mm, keys)
                if mount.extension_length_mm > 0
                else None
            )
            return Shank(taper.name, "pushed out", taper, behind)
