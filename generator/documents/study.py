"""What is studied once for a tool and shown both to readers and to programs.

Each subject is worked out where its formulas are, and bundled here in the order of the report.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any, Final

from generator.documents.document import Block


@dataclass(frozen=True, slots=True)
class Subject:
    """One subject.

    Attributes:
        blocks: For readers.
        data: For programs: numbers, text, None, lists and objects; NaN and infinity become null.
    """

    blocks: tuple[Block, ...]
    data: Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """The subjects in their order; None for one that was not studied.

    The name of a field is the key of its data in the report for programs.

    Attributes:
        making: The routes and the operations.
        setups: How machine and work are set up for them.
        inspection: How each part and the tool are measured.
        springs: The spring set.
        force_window: The force against what each tap needs and bears.
        lean: How far the thread may lean.
        setting_cards: Settings of the quill for each hole.
        pick_up: How near a pick-up centre finds a place.
        support: How a support centre holds its work.
        motion: Proof that nothing fouls over the whole travel.
    """

    making: Subject | None = None
    setups: Subject | None = None
    inspection: Subject | None = None
    springs: Subject | None = None
    force_window: Subject | None = None
    lean: Subject | None = None
    setting_cards: Subject | None = None
    pick_up: Subject | None = None
    support: Subject | None = None
    motion: Subject | None = None

    @property
    def subjects(self) -> Iterator[tuple[str, Subject]]:
        """Key and subject of all that was studied."""
        for field in fields(self):
            subject = getattr(self, field.name)
            if subject is not None:
                yield field.name, subject


NOTHING: Final = Study()
"""Stands for a tool of which no more is told than its checks and results."""
