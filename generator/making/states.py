"""The part after each step: outside and inside cut down, turn by turn, to the finished outline.

Outside and inside are profiles: runs of the radius along the axis, front to rear, each with the
name of the surface it belongs to. A cut is a profile of its own over the length that it reaches;
the outside takes the lesser radius of the two, the inside the greater, so metal is only ever lost.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.model.outline import Corner, Outline
from generator.model.part import Cut, Part, Thread

NIL = 1e-9


@dataclass(frozen=True, slots=True)
class Run:
    """A straight run of a profile.

    Attributes:
        front_mm: Where it begins.
        rear_mm: Where it ends.
        front_r_mm: Radius where it begins.
        rear_r_mm: Radius where it ends.
        surface: Name of the surface, "" for a rough one.
    """

    front_mm: float
    rear_mm: float
    front_r_mm: float
    rear_r_mm: float
    surface: str = ""

    def radius_mm(self, z_mm: float) -> float:
        """Return the radius at a position."""
        if z_mm == self.front_mm:
            return self.front_r_mm
        if z_mm == self.rear_mm:
            return self.rear_r_mm
        share = (z_mm - self.front_mm) / (self.rear_mm - self.front_mm)
        return self.front_r_mm + share * (self.rear_r_mm - self.front_r_mm)

    def between(self, front_mm: float, rear_mm: float) -> Run:
        """Return the part of the run between two positions within it."""
        front_r_mm, rear_r_mm = self.radius_mm(front_mm), self.radius_mm(rear_mm)
        return Run(front_mm, rear_mm, front_r_mm, rear_r_mm, self.surface)


Profile = tuple[Run, ...]


def cylinder(front_mm: float, rear_mm: float, diameter_mm: float, surface: str = "") -> Profile:
    """Return the profile of a cylinder; none if it has no length."""
    if rear_mm - front_mm <= NIL:
        return ()
    return (Run(front_mm, rear_mm, diameter_mm / 2, diameter_mm / 2, surface),)


def outside(outline: Outline) -> Profile:
    """Return the outside of an outline: the runs that lead away from the working end."""
    return tuple(
        Run(s.start.z_mm, s.end.z_mm, s.start.r_mm, s.end.r_mm, s.surface)
        for s in outline.segments()
        if s.end.z_mm > s.start.z_mm + NIL
    )


def inside(outline: Outline) -> Profile:
    """Return the inside of an outline, front to rear; at radius 0 where it is solid."""
    back = [
        Run(s.end.z_mm, s.start.z_mm, s.end.r_mm, s.start.r_mm, s.surface)
        for s in outline.segments()
        if s.end.z_mm < s.start.z_mm - NIL
    ]
    return tuple(reversed(back))


def named(profile: Profile, names: Iterable[str]) -> Profile:
    """Return the runs of these surfaces."""
    kept = frozenset(names)
    return tuple(run for run in profile if run.surface in kept)


def within(profile: Profile, front_mm: float, rear_mm: float) -> Profile:
    """Return what lies between two positions."""
    found = []
    for run in profile:
        first, last = max(run.front_mm, front_mm), min(run.rear_mm, rear_mm)
        if last - first > NIL:
            found.append(run.between(first, last))
    return tuple(found)


def _lesser(base: Run, cut: Run) -> Iterator[Run]:
    """Yield the lesser of two runs over the same length."""
    first, last = base.front_r_mm - cut.front_r_mm, base.rear_r_mm - cut.rear_r_mm
    if first >= -NIL and last >= -NIL:
        yield cut
    elif first <= NIL and last <= NIL:
        yield base
    else:
        share = first / (first - last)
        z_mm = base.front_mm + share * (base.rear_mm - base.front_mm)
        if base.front_mm + NIL < z_mm < base.rear_mm - NIL:
            one, other = (cut, base) if first > 0 else (base, cut)
            yield one.between(base.front_mm, z_mm)
            yield other.between(z_mm, base.rear_mm)
        else:
            yield cut if first + last > 0 else base


def _turned_over(profile: Profile) -> Profile:
    return tuple(
        replace(run, front_r_mm=0.0 - run.front_r_mm, rear_r_mm=0.0 - run.rear_r_mm)
        for run in profile
    )


def lesser(base: Profile, cut: Profile) -> Profile:
    """Return the lesser radius of two profiles over the length of the first.

    Where the second does not reach, the first stays.
    """
    found: list[Run] = []
    for run in base:
        places = {run.front_mm, run.rear_mm}
        for other in cut:
            places.update(
                z for z in (other.front_mm, other.rear_mm) if run.front_mm < z < run.rear_mm
            )
        ends = sorted(places)
        for first, last in pairwise(ends):
            if last - first <= NIL:
                continue
            piece, middle = run.between(first, last), (first + last) / 2
            over = next((o for o in cut if o.front_mm <= middle <= o.rear_mm), None)
            found += [piece] if over is None else _lesser(piece, _clipped(over, first, last))
    return _joined(found)


def _clipped(run: Run, front_mm: float, rear_mm: float) -> Run:
    return run.between(max(front_mm, run.front_mm), min(rear_mm, run.rear_mm))


def greater(base: Profile, cut: Profile) -> Profile:
    """Return the greater radius of two profiles over the length of the first."""
    return _turned_over(lesser(_turned_over(base), _turned_over(cut)))


def _joined(runs: list[Run]) -> Profile:
    """Return the runs, each with those that go on in line with it under the same name."""
    kept: list[Run] = []
    for run in runs:
        before = kept[-1] if kept else None
        if before is not None and before.surface == run.surface and _in_line(before, run):
            kept[-1] = replace(before, rear_mm=run.rear_mm, rear_r_mm=run.rear_r_mm)
        else:
            kept.append(run)
    return tuple(kept)


def _in_line(first: Run, second: Run) -> bool:
    slope = (second.rear_r_mm - first.front_r_mm) / (second.rear_mm - first.front_mm)
    at_mm = first.front_r_mm + slope * (first.rear_mm - first.front_mm)
    return abs(at_mm - first.rear_r_mm) < NIL and abs(at_mm - second.front_r_mm) < NIL


@dataclass(frozen=True, slots=True)
class Workpiece:
    """A part under way.

    Attributes:
        part: The finished part.
        outer: Its outside as it is now.
        inner: Its inside.
        cuts: The cuts it has by now.
        threads: The threads it has by now.
    """

    part: Part
    outer: Profile
    inner: Profile
    cuts: tuple[Cut, ...] = ()
    threads: tuple[Thread, ...] = ()

    @property
    def front_mm(self) -> float:
        """Position of its front face."""
        return self.outer[0].front_mm

    @property
    def rear_mm(self) -> float:
        """Position of its rear face."""
        return self.outer[-1].rear_mm

    @property
    def diameter_mm(self) -> float:
        """Its largest diameter."""
        return 2 * max(max(run.front_r_mm, run.rear_r_mm) for run in self.outer)

    def outside_mm(self, z_mm: float) -> float:
        """Return the outside diameter at a position; the larger one at a step."""
        return 2 * max(r.radius_mm(z_mm) for r in self.outer if r.front_mm <= z_mm <= r.rear_mm)

    def faced(self, *, front_mm: float | None = None, rear_mm: float | None = None) -> Workpiece:
        """Return it with its ends cut back to these positions."""
        front = self.front_mm if front_mm is None else max(front_mm, self.front_mm)
        rear = self.rear_mm if rear_mm is None else min(rear_mm, self.rear_mm)
        return replace(
            self, outer=within(self.outer, front, rear), inner=within(self.inner, front, rear)
        )

    def turned(self, *cuts: Profile) -> Workpiece:
        """Return it with its outside turned down by cuts, one after the other."""
        outer = self.outer
        for cut in cuts:
            outer = lesser(outer, cut)
        return replace(self, outer=outer)

    def bored(self, *cuts: Profile) -> Workpiece:
        """Return it with its inside opened by cuts, one after the other."""
        inner = self.inner
        for cut in cuts:
            inner = greater(inner, cut)
        return replace(self, inner=inner)

    def threaded(self, thread: Thread) -> Workpiece:
        """Return it with one more thread, in the order in which the finished part has them."""
        done = (*self.threads, thread)
        return replace(self, threads=tuple(each for each in self.part.threads if each in done))

    def finished(self, *names: str) -> Workpiece:
        """Return it with these surfaces of the finished outline cut, inside and outside."""
        outline = self.part.outline
        return self.turned(named(outside(outline), names)).bored(named(inside(outline), names))

    @property
    def as_part(self) -> Part:
        """The part with this outline, its faces named where they are those of the finished one."""
        outline = replace(self.part.outline, corners=self._corners())
        return replace(self.part, outline=outline, cuts=self.cuts, threads=self.threads)

    def _corners(self) -> tuple[Corner, ...]:
        """Return the corners in the order of an outline, up the front face first."""
        chain: list[Corner] = []

        def to(z_mm: float, r_mm: float, surface: str) -> None:
            if not chain or abs(chain[-1].z_mm - z_mm) + abs(chain[-1].r_mm - r_mm) > NIL:
                chain.append(Corner(z_mm, r_mm, surface))

        for run in self.outer:
            to(run.front_mm, run.front_r_mm, self._face(run.front_mm, chain, run.front_r_mm))
            to(run.rear_mm, run.rear_r_mm, run.surface)
        for run in reversed(self.inner):
            to(run.rear_mm, run.rear_r_mm, self._face(run.rear_mm, chain, run.rear_r_mm))
            to(run.front_mm, run.front_r_mm, run.surface)
        if abs(chain[0].z_mm - chain[-1].z_mm) + abs(chain[0].r_mm - chain[-1].r_mm) <= NIL:
            return tuple(chain[1:])
        before = chain[-1].r_mm
        face = self._named_face(chain[0].z_mm, min(before, chain[0].r_mm), chain[0].r_mm)
        return (replace(chain[0], surface=face), *chain[1:])

    def _face(self, z_mm: float, chain: list[Corner], r_mm: float) -> str:
        if not chain:
            return ""
        low, high = sorted((chain[-1].r_mm, r_mm))
        return self._named_face(z_mm, low, high)

    def _named_face(self, z_mm: float, low_mm: float, high_mm: float) -> str:
        """Return the name of the finished face that lies here."""
        for s in self.part.outline.segments():
            low, high = sorted((s.start.r_mm, s.end.r_mm))
            flat = s.length_mm <= NIL and abs(s.end.z_mm - z_mm) <= NIL
            if flat and min(high, high_mm) - max(low, low_mm) > NIL:
                return s.surface
        return ""


def blank(part: Part, *, diameter_mm: float, front_mm: float, rear_mm: float) -> Workpiece:
    """Return the bar that a part is cut from, between two positions."""
    return Workpiece(
        part,
        cylinder(front_mm, rear_mm, diameter_mm),
        cylinder(front_mm, rear_mm, 0.0),
    )


def holds(former: Part, later: Part) -> bool:
    """Tell whether the metal of a later state lies within that of a former one."""
    ends = [corner.z_mm for corner in (*former.outline.corners, *later.outline.corners)]
    outer, inner = outside(former.outline), inside(former.outline)
    if later.outline.length_mm > former.outline.length_mm + 1e-6:
        return False
    for first, last in pairwise(sorted(set(ends))):
        if last - first <= 1e-7:
            continue
        z_mm = (first + last) / 2
        new_outer, new_inner = _at(outside(later.outline), z_mm), _at(inside(later.outline), z_mm)
        if new_outer is None or new_inner is None:
            continue
        old_outer, old_inner = _at(outer, z_mm), _at(inner, z_mm)
        if old_outer is None or old_inner is None:
            return False
        if new_outer > old_outer + 1e-6 or new_inner < old_inner - 1e-6:
            return False
    return True


def _at(profile: Profile, z_mm: float) -> float | None:
    found = [run.radius_mm(z_mm) for run in profile if run.front_mm <= z_mm <= run.rear_mm]
    return found[0] if found else None
