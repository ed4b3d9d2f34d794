"""Close the cords of a model outside the picture, and name the knot or link that they make.

Written apart from `publisher.knots.crossings`, so that the one checks the other. Invariants come
from spherogram and knot_floer_homology (tests only), names from the KnotInfo tables.
"""

from __future__ import annotations

import ast
import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import Any

import numpy as np
import spherogram
from knot_floer_homology import pd_to_hfk

from publisher.knots.model import KnotForm

Curves = Mapping[str, np.ndarray]
Plan = Sequence[Sequence[tuple[str, int]]]
"""Components, each a ring of strands with the way (+1, -1) in which they are gone through."""

_TILT = np.array([[1, 3.1e-4, 0], [-2.3e-4, 1, 0], [1.37e-3, 0.83e-3, 1]])
"""A view in which no vertex falls on another."""


@dataclass(frozen=True)
class Meeting:
    """A crossing of closed curves: component and parameter of the upper and the lower pass."""

    over: tuple[str, float]
    under: tuple[str, float]
    place: tuple[float, float]
    sign: int


@dataclass(frozen=True)
class Invariants:
    """Alexander polynomial from its lowest coefficient, determinant, signature, linking numbers."""

    alexander: tuple[int, ...]
    determinant: int
    signature: int
    linking: tuple[int, ...]
    genus: int | None


def curves_of(form: KnotForm) -> dict[str, np.ndarray]:
    """The strands as polylines, (n, 3), with y up."""
    found = {}
    for name, curve in form.curves.items():
        plane, height = curve.samples()
        found[name] = np.array([(p.real, -p.imag, z) for p, z in zip(plane, height, strict=True)])
    return found


def closed(curves: Curves, plan: Plan) -> dict[str, np.ndarray]:
    """Join strands by arcs outside the picture, each in its own height above everything.

    The arcs may cross each other (layer over layer), but never the knot.
    """
    everything = np.vstack(list(curves.values()))
    middle = (everything.min(0) + everything.max(0))[:2] / 2
    reach = np.max(np.hypot(*(everything[:, :2] - middle).T)) + 3
    joined, arcs = {}, 0
    for ring in plan:
        lines = [curves[name] if way > 0 else curves[name][::-1] for name, way in ring]
        parts = []
        for line, following in zip(lines, [*lines[1:], lines[0]], strict=True):
            parts += [line, _arc(line[-1], following[0], middle, reach + 0.37 * arcs, 50 + arcs)]
            arcs += 1
        joined["".join(name for name, _ in ring)] = np.vstack(parts)
    return joined


def _arc(
    end: np.ndarray, start: np.ndarray, middle: np.ndarray, radius: float, height: float
) -> np.ndarray:
    first = math.atan2(*(end[:2] - middle)[::-1])
    last = math.atan2(*(start[:2] - middle)[::-1])
    turn = (last - first + math.pi) % (2 * math.pi) - math.pi
    angles = first + (turn or 2 * math.pi) * np.linspace(0, 1, 48)
    return np.column_stack(
        [
            middle[0] + radius * np.cos(angles),
            middle[1] + radius * np.sin(angles),
            np.full(48, height),
        ]
    )


def meetings(rings: Curves) -> list[Meeting]:
    """Every crossing of closed polygons seen from the front."""
    starts, steps, owners = [], [], []
    for name, ring in rings.items():
        points = ring @ _TILT
        starts.append(points)
        steps.append(np.roll(points, -1, axis=0) - points)
        owners += [(name, k, len(ring)) for k in range(len(ring))]
    at, way = np.vstack(starts), np.vstack(steps)
    found = []
    for i in range(len(at)):
        rest = slice(i + 1, len(at))
        across = way[i, 0] * way[rest, 1] - way[i, 1] * way[rest, 0]
        across[np.abs(across) < 1e-9] = np.nan  # along one line
        gap = at[rest] - at[i]
        with np.errstate(divide="ignore", invalid="ignore"):
            mine = (gap[:, 0] * way[rest, 1] - gap[:, 1] * way[rest, 0]) / across
            theirs = (gap[:, 0] * way[i, 1] - gap[:, 1] * way[i, 0]) / across
        for k in np.flatnonzero((mine >= 0) & (mine < 1) & (theirs >= 0) & (theirs < 1)):
            j = i + 1 + int(k)
            if not _neighbours(owners[i], owners[j]):
                found.append(_meeting(at, way, owners, i, j, mine[k], theirs[k]))
    return found


def _neighbours(one: tuple[str, int, int], other: tuple[str, int, int]) -> bool:
    return one[0] == other[0] and (one[1] - other[1]) % one[2] in (1, one[2] - 1)


def _meeting(
    at: np.ndarray, way: np.ndarray, owners: Any, i: int, j: int, mine: float, theirs: float
) -> Meeting:
    one, other = (owners[i][0], owners[i][1] + mine), (owners[j][0], owners[j][1] + theirs)
    above = at[i, 2] + mine * way[i, 2] > at[j, 2] + theirs * way[j, 2]
    upper, lower = (i, j) if above else (j, i)
    turn = way[upper, 0] * way[lower, 1] - way[upper, 1] * way[lower, 0]
    place = at[i, :2] + mine * way[i, :2]
    over, under = (one, other) if above else (other, one)
    return Meeting(over, under, (float(place[0]), float(place[1])), 1 if turn > 0 else -1)


def flipped(meeting: Meeting) -> Meeting:
    """The other cord on top."""
    return replace(meeting, over=meeting.under, under=meeting.over, sign=-meeting.sign)


def link(rings: Curves, crossings: Sequence[Meeting] | None = None) -> spherogram.Link:
    """The spherogram link of closed curves; crossing-free components are left out."""
    crossings = meetings(rings) if crossings is None else crossings
    incoming: dict[tuple[int, bool], int] = {}
    leaving: dict[tuple[int, bool], int] = {}
    label = 0
    for name in rings:
        passes = sorted(
            (parameter, number, over)
            for number, meeting in enumerate(crossings)
            for (owner, parameter), over in ((meeting.over, True), (meeting.under, False))
            if owner == name
        )
        for k, (_, number, over) in enumerate(passes):
            incoming[number, over] = label + k
            leaving[number, over] = label + (k + 1) % len(passes)
        label += len(passes)
    code = []
    for number, meeting in enumerate(crossings):
        under_in, under_out = incoming[number, False], leaving[number, False]
        over_in, over_out = incoming[number, True], leaving[number, True]
        sides = (over_out, over_in) if meeting.sign > 0 else (over_in, over_out)
        code.append((under_in, sides[0], under_out, sides[1]))
    return spherogram.Link(code) if code else spherogram.Link([])


def invariants(closed_link: spherogram.Link) -> Invariants:
    """Invariants, exactly; a signature in KnotInfo's sense (positive trefoil: -2)."""
    linking = closed_link.linking_matrix() if len(closed_link.crossings) else []
    pairs = tuple(int(row[k]) for number, row in enumerate(linking) for k in range(number))
    simple = closed_link.copy()
    simple.simplify("global")
    if not len(simple.crossings):
        return Invariants((1,), 1, 0, pairs, 0)
    seifert = [[int(entry) for entry in row] for row in simple.seifert_matrix()]
    both = [[a + b for a, b in zip(*rows, strict=True)] for rows in _with_transpose(seifert)]
    values = np.linalg.eigvalsh(np.array(both, float))
    # spherogram's Seifert matrix has the sign opposite to that of the KnotInfo tables.
    signature = int((values < -1e-9).sum() - (values > 1e-9).sum())
    one = len(simple.link_components) == 1
    genus = pd_to_hfk(simple)["seifert_genus"] if one else None
    return Invariants(_alexander(seifert), abs(int(_determinant(both))), signature, pairs, genus)


def _with_transpose(matrix: list[list[int]]) -> Any:
    return zip(matrix, map(list, zip(*matrix, strict=True)), strict=True)


def _alexander(seifert: list[list[int]]) -> tuple[int, ...]:
    """det(V - t V^T), trimmed, the last coefficient positive."""
    size = len(seifert)
    values = [
        _determinant(
            [[seifert[i][j] - t * seifert[j][i] for j in range(size)] for i in range(size)]
        )
        for t in range(size + 1)
    ]
    whole = [int(value) for value in _through(values)]
    while whole and not whole[-1]:
        whole.pop()
    while whole and not whole[0]:
        whole.pop(0)
    if not whole:
        return (0,)
    return tuple(whole if whole[-1] > 0 else [-value for value in whole])


def _through(values: list[Fraction]) -> list[Fraction]:
    """Coefficients of the polynomial with these values at 0, 1, 2, …"""
    total = [Fraction(0)] * len(values)
    for i, value in enumerate(values):
        basis, scale = [Fraction(1)], Fraction(1)
        for j in range(len(values)):
            if j != i:
                basis = [
                    (basis[k - 1] if k else Fraction(0)) - j * (basis[k] if k < len(basis) else 0)
                    for k in range(len(basis) + 1)
                ]
                scale *= i - j
        for k, part in enumerate(basis):
            total[k] += value * part / scale
    return total


def _determinant(matrix: Sequence[Sequence[int]]) -> Fraction:
    rows = [[Fraction(entry) for entry in row] for row in matrix]
    result = Fraction(1)
    for k in range(len(rows)):
        pivot = next((r for r in range(k, len(rows)) if rows[r][k]), None)
        if pivot is None:
            return Fraction(0)
        if pivot != k:
            rows[k], rows[pivot] = rows[pivot], rows[k]
            result = -result
        result *= rows[k][k]
        for r in range(k + 1, len(rows)):
            factor = rows[r][k] / rows[k][k]
            if factor:
                rows[r] = [a - factor * b for a, b in zip(rows[r], rows[k], strict=True)]
    return result


@cache
def knot_table(most_crossings: int = 8) -> tuple[tuple[str, Invariants], ...]:
    """KnotInfo's knots up to so many crossings, with the values that it gives."""
    from database_knotinfo import link_list

    found = []
    for row in itertools.islice(link_list(), 2, 60):
        if int(row["crossing_number"]) > most_crossings:
            break
        if row["name"] == "0_1":
            continue
        vector = ast.literal_eval(row["alexander_polynomial_vector"])[2:]
        alexander = tuple(v if vector[-1] > 0 else -v for v in vector)
        signature, genus = int(row["signature"]), int(row["three_genus"])
        value = Invariants(alexander, int(row["determinant"]), signature, (), genus)
        found.append((row["name"], value))
    return tuple(found)


def name(closed_link: spherogram.Link) -> str:
    """A knot by its KnotInfo names, mirror images as m(…), sums with #: `m(3_1)#m(3_1)`."""
    simple = closed_link.copy()
    simple.simplify("global")
    if not len(simple.crossings):
        return "unknot"
    parts = [part for part in simple.deconnect_sum() if len(part.crossings)]
    return "#".join(sorted(map(_prime, parts))) or "unknot"


def _prime(part: spherogram.Link) -> str:
    found = invariants(part)
    for known, value in knot_table():
        same = (found.alexander, found.determinant, found.genus) == (
            value.alexander,
            value.determinant,
            value.genus,
        )
        if same and found.signature == value.signature:
            return known
        if same and found.signature == -value.signature:
            return f"m({known})"
    return f"unknown {found}"
