"""Read a knot file: TOML text to a checked Knot, every mistake with its line."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from publisher.errors import Problem, SourceError
from publisher.knots.derive import DERIVED_KEYS, derived
from publisher.knots.model import Kind, Knot, KnotForm, Role, Strand, ViewBox
from publisher.knots.points import read_points
from publisher.knots.reader import (
    Reader,
    read_box,
    read_cords,
    read_measures,
    read_place,
    read_tying,
)
from publisher.knots.stages import read_stages
from publisher.knots.words import NO_WORDS, WORD_KEYS, mirror_words, read_words
from publisher.tables.findings import KeyPath
from publisher.tables.syntax import parse
from publisher.templates import TemplateFile

MARGIN = 1.6
THICKEST = 20.0
"""A strand's diameter at most, in that of the working cord."""
KINDS: tuple[Kind, ...] = ("knot", "procedure")
ROLES: tuple[Role, ...] = ("working", "second", "filler", "leader", "dowel", "guide")


def read_knot(
    text: str,
    file: str,
    name: str,
    library: Callable[[str], Knot],
    words: TemplateFile = NO_WORDS,
    *,
    own: bool = True,
) -> tuple[Knot | None, list[Problem]]:
    """The knot in a file's text, and every problem; the knot is None if there is any.

    `library` gives another knot by name (KeyError if there is none), for a file that says `of`.
    `words`: the list that says which words change places in a mirror; one of our own knots (not
    `own`) has all its words there.
    """
    reader = Reader(text, file, library)
    try:
        data = parse(text, file)
    except SourceError as error:
        return None, [*error.problems]
    _check_format(reader, data)
    turned = "of" in data
    known = (*_KEYS, *(DERIVED_KEYS if turned else _DRAWN_KEYS), *(WORD_KEYS if own else ()))
    reader.known(data, (), known)
    knot = derived(reader, data) if turned else _drawn(reader, data, name, words, own=own)
    if knot is None:
        return None, reader.problems
    knot = _as_said(reader, data, replace(knot, name=name))
    if own:
        knot = read_words(reader, data, (), knot, needed=not turned)
    return (None if reader.problems else knot), reader.problems


def _as_said(reader: Reader, data: Mapping[str, Any], knot: Knot) -> Knot:
    """A drawing with what its file says of tying and measuring it."""
    cords_in, cords_out = read_cords(reader, data, knot.loose.strands)
    return replace(
        knot,
        cords_in=cords_in,
        cords_out=cords_out,
        tying=read_tying(reader, data, cords_in, cords_out),
        measures=read_measures(reader, data),
    )


_KEYS = ("format", "view", "tight_view", "cords_in", "cords_out", "steps", "measures")
_DRAWN_KEYS = ("kind", "fillers_vary", "sides", "strands", "stages")


def _drawn(
    reader: Reader, data: Mapping[str, Any], name: str, words: TemplateFile, *, own: bool
) -> Knot:
    strands: dict[str, Strand] = {}
    tight: dict[str, Strand] = {}
    for strand_name, table in reader.take(data, ("strands",), dict).items():
        _read_strand(reader, strand_name, table, strands, tight)
    view = _view(reader, data, "view", strands)
    tight_form = KnotForm(tight, _view(reader, data, "tight_view", tight)) if tight else None
    fillers_vary = reader.take(data, ("fillers_vary",), bool, False)
    if fillers_vary and not any(strand.role == "filler" for strand in strands.values()):
        reader.problem(("fillers_vary",), "there is no filler to vary", "leave it out")
    sides, faces = mirror_words(words)
    return Knot(
        name=name,
        kind=_kind(reader, data),
        titles=(name,),
        loose=KnotForm(strands, view),
        tight=tight_form,
        stages=read_stages(reader, data, strands, tight_form is not None, own=own),
        fillers_vary=fillers_vary,
        sides=_sides(reader, data, sides),
        faces=faces,
    )


def _kind(reader: Reader, data: Mapping[str, Any]) -> Kind:
    kind = reader.take(data, ("kind",), str, "knot")
    for known in KINDS:
        if kind == known:
            return known
    reader.problem(("kind",), f"{kind!r} is no kind", f"one of {', '.join(KINDS)}")
    return "knot"


def _sides(reader: Reader, data: Mapping[str, Any], usual: tuple[str, ...]) -> tuple[str, ...]:
    sides = reader.texts(data, ("sides",), usual)
    if len(sides) == 2 or "sides" not in data:
        return sides
    reader.problem(("sides",), "sides are two words", 'write ["left", "right"]')
    return usual


def _check_format(reader: Reader, data: Mapping[str, Any]) -> None:
    if reader.take(data, ("format",), int, 0) != 1:
        reader.problem(("format",), "the format of this file is not known", "write format = 1")


_STRAND_KEYS = ("role", "label", "label_at", "diameter", "points", "tight", "tight_label_at")


def _read_strand(
    reader: Reader,
    name: str,
    table: Any,
    loose: dict[str, Strand],
    tight: dict[str, Strand],
) -> None:
    key: KeyPath = ("strands", name)
    if not isinstance(table, dict):
        reader.problem(key, f"{name} must be a table", f"write [strands.{name}]")
        return
    reader.known(table, key, _STRAND_KEYS)
    role = reader.take(table, (*key, "role"), str)
    if role not in ROLES:
        reader.problem((*key, "role"), f"{role!r} is no role", f"one of {', '.join(ROLES)}")
    diameter = reader.take(table, (*key, "diameter"), float, 1.0)
    if not 0 < diameter <= THICKEST:
        hint = f"write a number up to {THICKEST:g}, in working cords"
        reader.problem((*key, "diameter"), f"a cord can't be {diameter:g} thick", hint)
    label = reader.take(table, (*key, "label"), str, "")

    def strand(points_key: str, label_key: str) -> Strand:
        points = read_points(reader, table[points_key], (*key, points_key), least=2)
        at = read_place(reader, table, (*key, label_key))
        return Strand(name, role, points, diameter, label, at)

    reader.take(table, (*key, "points"), str)
    if isinstance(table.get("points"), str):
        loose[name] = strand("points", "label_at")
    if isinstance(table.get("tight"), str):
        tight[name] = strand("tight", "tight_label_at")


def _view(
    reader: Reader, data: Mapping[str, Any], name: str, strands: Mapping[str, Strand]
) -> ViewBox:
    """The box that a file states, or one round all its points, with room for an arrow head."""
    stated = read_box(reader, data, (name,))
    if stated is not None:
        return stated
    places = [point.xy for strand in strands.values() for point in strand.points] or [0j]
    xs, ys = [place.real for place in places], [place.imag for place in places]
    return ViewBox(min(xs) - MARGIN, min(ys) - MARGIN, max(xs) + MARGIN, max(ys) + MARGIN)
