"""Turn the tables of a pattern and its house into a `Pattern`, checking what they mean."""

from __future__ import annotations

import datetime
import re

from publisher.knots.load import is_tied_as_ours
from publisher.model.parts import StepsPiece
from publisher.model.pattern import OwnKnot, Pattern, Piece
from publisher.source.assemble import make_assembly
from publisher.source.colours import make_colours, make_house_colours, make_yarns
from publisher.source.follow import knots_tied
from publisher.source.given import Given
from publisher.source.pieces import make_pieces

_PARAGRAPHS = re.compile(r"\n[ \t]*\n\s*")
_USUAL_TERMS = "personal-use"


def compose(given: Given, slug: str) -> Pattern:
    """The pattern; it holds stand-ins where something was found to be wrong."""
    table, house = given.table, given.house
    yarns = make_yarns(given)
    colours = make_colours(given, yarns)
    make_house_colours(given, yarns)  # for what is wrong with them
    pieces = make_pieces(given, colours)
    assembly = make_assembly(given, pieces)
    own_knots = _own_knots(given, pieces)
    if not table.pieces:
        given.find_missing("pieces")
    return Pattern(
        slug=slug,
        title=table.title,
        version=table.version,
        subtitle=table.subtitle,
        designer=_first(table.designer, house.designer, ""),
        contact=_first(table.contact, house.contact, ""),
        date=table.date,
        level=table.level,
        about=_paragraphs(table.about),
        terms=_first(table.terms, house.terms, _USUAL_TERMS),
        currency=table.currency or house.currency,
        units=table.units or house.units or "metric-first",
        colours=colours,
        pieces=pieces,
        path=given.file,
        files=_files(given, pieces, own_knots),
        assembly=assembly,
        own_knots=own_knots,
        prices_as_of=_prices_as_of(given),
    )


def _prices_as_of(given: Given) -> datetime.date | None:
    """Of which day the prices to be printed are; None where none are asked for."""
    table, house = given.table, given.house
    own = table.prices is not None
    if not (table.prices if own else house.prices):
        return None
    day = table.prices_as_of or house.prices_as_of
    files = (given.file, given.house_file)
    doubtful = any(given.findings.knows(file, "prices_as_of") for file in files)
    if day is None and not doubtful and given.house_known:
        message = "prices are printed with their month, but nothing says of which one they are"
        hint = "add a line such as prices_as_of = 2026-09-01"
        given.findings.add(given.file if own else given.house_file, ("prices",), message, hint)
    return day


def _own_knots(given: Given, pieces: tuple[Piece, ...]) -> tuple[OwnKnot, ...]:
    """The writer's own knots that steps tie; a knot of ours is tied as ours, whoever draws it."""
    parts = (piece for piece in pieces if isinstance(piece, StepsPiece))
    names = {name for part in parts for name in knots_tied(part.steps)}
    hers = sorted(name for name in names if not is_tied_as_ours(name))
    found = ((name, given.knots.find(name)) for name in hers)
    return tuple(OwnKnot(name, own.text) for name, own in found if own)


def _files(
    given: Given, pieces: tuple[Piece, ...], own_knots: tuple[OwnKnot, ...]
) -> tuple[str, ...]:
    """The pattern, the house, the pictures and the knots."""
    knots = (str(given.knots.folder / f"{knot.name}.toml") for knot in own_knots)
    files = (given.file, given.house_file, *(piece.place.file for piece in pieces), *knots)
    return tuple(dict.fromkeys(file for file in files if file))


def _first(own: str | None, shared: str | None, usual: str) -> str:
    if own is not None:
        return own
    return usual if shared is None else shared


def _paragraphs(text: str) -> tuple[str, ...]:
    """Parted by blank lines; within one, line ends are blanks."""
    parts = (" ".join(part.split()) for part in _PARAGRAPHS.split(text))
    return tuple(part for part in parts if part)
