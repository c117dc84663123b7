"""What may be asked of the generator: a whole parameter file."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from generator.inputs import rules
from generator.inputs.names import NAME_PATTERN, ONE_LINE, LimitName
from generator.inputs.purposes import PickUp, Purpose, Support
from generator.inputs.quantities import DERIVED_TEXT, Checked, Entries, Told, Words
from generator.inputs.screwed_tips import ScrewedTips
from generator.inputs.shop import (
    Alignment,
    Assumptions,
    FollowedTap,
    LimitChange,
    Machine,
    Making,
)
from generator.inputs.tables import (
    Body,
    Bore,
    Button,
    CrossPin,
    Disc,
    Mount,
    NoseBush,
    Plug,
    Plunger,
    RetainingScrew,
    RetainingSlot,
    Separator,
    Shoulder,
    Spring,
)
from generator.inputs.workshop import Workshop


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameters:
    """One tool, as asked for."""

    title: Annotated[
        str,
        Words(least=1, most=60, pattern=ONE_LINE),
        Told("What the tool is, for the title blocks."),
    ]
    name: Annotated[
        str,
        Words(pattern=f"^{NAME_PATTERN}$"),
        Told("Name of the pack and of its folder. Derived: the name of the file."),
    ] = DERIVED_TEXT
    purpose: Annotated[
        Purpose,
        Told(
            '"tap follower" keeps a hand tap square and has [[taps]]; "pick-up centre" finds a '
            'hole or punch mark under the spindle and has [pick_up]; "support centre" steadies '
            "light work in the tailstock and has [support]."
        ),
    ] = "tap follower"
    mount: Annotated[Mount, Checked(rules.drawbar_thread)]
    body: Body
    bore: Annotated[Bore, Checked(rules.fit)] = field(default_factory=Bore)
    plunger: Annotated[Plunger, Checked(rules.plunger_ends)]
    slot: RetainingSlot | None = None
    set_screw: Annotated[RetainingScrew, Checked(rules.screw_point)] | None = None
    cross_pin: CrossPin | None = None
    shoulder: Annotated[Shoulder, Checked(rules.shoulder_stop)] | None = None
    bush: Annotated[NoseBush, Checked(rules.nose_bush)] | None = None
    screwed_tips: ScrewedTips | None = None
    springs: Annotated[
        tuple[Annotated[Spring, Checked(rules.spring_coils)], ...],
        Entries(1, 6),
    ]
    separator: Separator | None = None
    button: Button | None = None
    plug: Plug | None = field(default_factory=Plug)
    disc: Disc | None = None
    taps: Annotated[
        tuple[Annotated[FollowedTap, Checked(rules.tap_size)], ...],
        Entries(1, 30),
    ] = ()
    pick_up: PickUp | None = None
    support: Support | None = None
    machine: Machine
    workshop: Workshop
    making: Making = field(default_factory=Making)
    alignment: Alignment = field(default_factory=Alignment)
    assumptions: Assumptions = field(default_factory=Assumptions)
    limits: dict[LimitName, LimitChange] = field(default_factory=dict)

    @property
    def screw_and_slot(self) -> tuple[RetainingScrew, RetainingSlot] | None:
        """The set screw and the slot it runs in; None for a plunger kept in otherwise."""
        if self.set_screw is None or self.slot is None:
            return None
        return self.set_screw, self.slot

    @property
    def pin_and_slot(self) -> tuple[CrossPin, RetainingSlot] | None:
        """The cross pin and the slot it runs in; None for a plunger kept in otherwise."""
        if self.cross_pin is None or self.slot is None:
            return None
        return self.cross_pin, self.slot


ParameterFile = Annotated[Parameters, Checked(rules.whole_file)]
"""The type a whole file is held against."""
