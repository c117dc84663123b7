"""The designs of a choice as parameter files in one folder, all of them or none."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from generator.export.pack import cannot_write, move_in, refuse_foreign

ENDINGS: Final = frozenset({".toml"})


def write_designs(texts: Mapping[str, str], place: Path) -> None:
    """Write some files into a folder of their own, in place of a former one.

    Args:
        texts: The text of each file, by its name.
        place: The folder.

    Raises:
        ExportError: If a file cannot be written, or the place holds anything else. The former
            folder is then untouched.
    """
    refuse_foreign(place, ENDINGS)
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        folder = Path(tempfile.mkdtemp(prefix=f".{place.name}.", dir=place.parent))
    except OSError as error:
        raise cannot_write(place, error) from None
    try:
        folder.chmod(0o755)
        for name, text in texts.items():
            (folder / name).write_text(text, "utf-8")
        move_in(folder, place)
    except OSError as error:
        raise cannot_write(place, error) from None
    finally:
        shutil.rmtree(folder, ignore_errors=True)
