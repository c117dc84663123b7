"""The version of the generator: packs of one version and one file are the same bytes."""

from __future__ import annotations

from typing import Final

VERSION: Final = "0.1.0"
