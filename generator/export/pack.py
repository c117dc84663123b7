"""Writing a pack: every file of one tool in one folder, whole or not at all.

The papers are made in a second process, which loads its libraries and lays the papers out while
this one loads the CAD kernel and proves the motion, and writes them while this one writes the
solids. The page for a tablet is handed back unfinished: this one puts the surfaces in.
"""

from __future__ import annotations

import ctypes
import multiprocessing
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager, suppress
from functools import cache
from importlib import import_module
from multiprocessing import connection
from pathlib import Path
from secrets import token_hex
from threading import Thread
from types import ModuleType
from typing import Final, Self

from generator.checks.finding import Finding
from generator.errors import ExportError
from generator.export.page import Page, write_page
from generator.loading import loading
from generator.model.contacts import Proof
from generator.model.tool import Tool

ENDINGS: Final = frozenset({".step", ".dxf", ".pdf", ".json", ".html"})
SWEEP: Final = """import os, shutil, sys, time
for folder in filter(None, sys.stdin.buffer.read().split(b"\\0")):
    for _ in range(100):
        shutil.rmtree(folder, ignore_errors=True)
        if not os.path.lexists(folder):
            break
        time.sleep(0.05)
"""
LEAST_FREE_BYTES: Final = 2_000_000
AT_FDCWD: Final = -100
RENAME_EXCHANGE: Final = 2


class Packer:
    """Writes packs; holds the second process and the sweeper, so that a further pack costs little.

    Use it as a context: leaving it ends both.
    """

    def __init__(self) -> None:
        """Start the second process, which loads its libraries meanwhile, and the sweeper.

        The second process is spawned, not forked: it inherits neither the threads of a library
        nor the sweeper's pipe.
        """
        self._papers = ProcessPoolExecutor(
            max_workers=1, mp_context=multiprocessing.get_context("spawn"), initializer=_settle
        )
        with _undisturbed():
            self._papers.submit(_load_papers)
        self._sweeper = subprocess.Popen(
            [sys.executable, "-S", "-E", "-c", SWEEP],
            stdin=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )

    def __enter__(self) -> Self:
        """Return the packer itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """End the second process and the sweeper."""
        self._papers.shutdown(cancel_futures=True)
        self._sweeper.communicate()

    def prepare(self, tool: Tool, findings: tuple[Finding, ...]) -> None:
        """Have the papers of a tool laid out, as far as that goes before its motion is proved.

        What goes wrong is told when the pack is written.
        """
        self._papers.submit(_prepare_papers, tool, findings)

    def write(
        self,
        tool: Tool,
        findings: tuple[Finding, ...],
        proof: Proof,
        out: Path,
        tell: Callable[[str], None] = lambda _: None,
    ) -> Path:
        """Write the pack of a tool and return its folder.

        Args:
            tool: The tool.
            findings: What the checks found; failures are marked on every sheet.
            proof: The proof of its motion.
            out: The folder that holds the packs; it is made if need be.
            tell: Called with the name of each stage as it begins.

        Raises:
            ExportError: If a file cannot be written or does not read back as it should, or if the
                pack's place holds anything that is no pack. The former pack is then untouched.
        """
        place = out / tool.name
        refuse_foreign(place, ENDINGS)
        with self._staging(out, tool.name) as folder:
            tell("papers")
            papers = self._papers.submit(_write_papers, tool, findings, proof, str(folder))
            try:
                tell("solids")
                meshes = _solids().write_solids(tool, folder)
                tell("papers")
            finally:
                failure = papers.exception()
            if failure is not None:
                raise failure
            write_page(papers.result(), meshes, folder / "bench.html")
            move_in(folder, place)
        return place

    @contextmanager
    def _staging(self, out: Path, name: str) -> Iterator[Path]:
        """Yield a folder beside the pack's place that never outlives this process.

        The sweeper, a small process of its own, is told of it before it exists, waits for the end
        of this one and sweeps it away, again while the second process still writes, so that even a
        killed build leaves nothing behind.
        """
        assert self._sweeper.stdin is not None
        made = [folder for folder in (out, *out.parents) if not folder.exists()]
        try:
            out.mkdir(parents=True, exist_ok=True)
            folder = out / f".{name}.{token_hex(8)}"
            with suppress(BrokenPipeError):
                self._sweeper.stdin.write(os.fsencode(folder.resolve()) + b"\0")
                self._sweeper.stdin.flush()
            folder.mkdir()
            folder.chmod(0o755)
        except OSError as error:
            _remove_empty(made)
            raise cannot_write(out, error) from None
        try:
            yield folder
        except ExportError as error:
            full = "; the disk is full" if shutil.disk_usage(out).free < LEAST_FREE_BYTES else ""
            told = str(error).replace(str(folder), str(out / name))
            raise ExportError(f"{told}{full}") from None
        except OSError as error:
            raise cannot_write(out, error) from None
        finally:
            shutil.rmtree(folder, ignore_errors=True)
            _remove_empty(made)


def refuse_unwritable(out: Path, name: str) -> None:
    """Refuse a place where no pack can be written, before the seconds that a pack takes.

    Nothing is left behind, not even by a process killed meanwhile: the file that is tried has no
    name. What goes wrong later, such as a full disk, is told by the writing.

    Args:
        out: The folder that is to hold the packs.
        name: The name of the tool.

    Raises:
        ExportError: If the pack's place holds anything that is no pack, or nothing can be written.
    """
    if out.exists() and not out.is_dir():
        raise ExportError(f"{out}: cannot be written: it is no folder; choose another --out")
    refuse_foreign(out / name, ENDINGS)
    made = [folder for folder in (out, *out.parents) if not folder.exists()]
    try:
        out.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=out):
            pass
    except OSError as error:
        raise cannot_write(out, error) from None
    finally:
        _remove_empty(made)


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Keep Ctrl-C from a process that is started here, even before it settles."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    former = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, former)


def _settle() -> None:
    """Make the second process leave interrupts to the first, and end when the first does."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    parent = multiprocessing.parent_process()
    assert parent is not None

    def follow() -> None:
        connection.wait([parent.sentinel])
        os._exit(1)

    Thread(target=follow, daemon=True).start()


@cache
def _solids() -> ModuleType:
    """Return the module that writes solids, and with it the CAD kernel."""
    with loading():
        return import_module("generator.export.write_solids")


@cache
def _papers() -> ModuleType:
    """Return the module that writes papers."""
    with loading():
        return import_module("generator.export.papers")


def _load_papers() -> None:
    _papers()


def _prepare_papers(tool: Tool, findings: tuple[Finding, ...]) -> None:
    _papers().prepare_papers(tool, findings)


def _write_papers(tool: Tool, findings: tuple[Finding, ...], proof: Proof, folder: str) -> Page:
    try:
        page: Page = _papers().write_papers(tool, findings, Path(folder), proof)
    except OSError as error:
        raise cannot_write(Path(folder), error) from None
    return page


def cannot_write(place: Path, error: OSError) -> ExportError:
    """Return what the system says against a file or a folder."""
    return ExportError(f"{place}: cannot be written: {error.strerror or error}")


def refuse_foreign(place: Path, endings: frozenset[str]) -> None:
    """Refuse to replace any folder but one of files with some endings, so that nothing is lost."""
    if place.is_symlink() or (place.exists() and not place.is_dir()):
        raise ExportError(f"{place}: is no folder; move it away or choose another --out")
    if not place.exists():
        return
    try:
        foreign = sorted(
            entry.name
            for entry in place.iterdir()
            if entry.suffix not in endings or not entry.is_file()
        )
    except OSError as error:
        raise cannot_write(place, error) from None
    if foreign:
        raise ExportError(
            f"{place}: holds {', '.join(foreign[:3])}, which was not written here; move it away or "
            "choose another --out"
        )


def _remove_empty(folders: list[Path]) -> None:
    """Remove folders made for a pack that did not come about."""
    for folder in folders:
        try:
            folder.rmdir()
        except OSError:
            return


def move_in(folder: Path, place: Path) -> None:
    """Put a finished folder in its place; a former one takes the folder's.

    Where the system cannot swap two folders in one step, the former one steps aside first.
    """
    try:
        folder.rename(place)
    except OSError:
        if not place.is_dir():
            raise
    else:
        return
    if not _exchange(folder, place):
        aside = folder.with_name(folder.name + ".old")
        place.rename(aside)
        folder.rename(place)
        aside.rename(folder)


def _exchange(one: Path, other: Path) -> bool:
    """Swap two folders in one step; False where the system cannot."""
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError):
        return False
    answer = rename(AT_FDCWD, os.fsencode(one), AT_FDCWD, os.fsencode(other), RENAME_EXCHANGE)
    return bool(answer == 0)
