"""Tell of a chart made from a picture: its size, its colours, what was tidied and replaced."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from publisher.model import units

if TYPE_CHECKING:
    from publisher.catalogue.charting.outcome import Charted, Replaced
    from publisher.model.pattern import YarnColour


def tell_chart(charted: Charted) -> None:
    """Print what became of a chart, line by line."""
    for line in _lines(charted):
        click.echo(line)


def _lines(charted: Charted) -> Iterator[str]:
    done = "changed" if charted.replaced else "made"
    knots = charted.columns * charted.rows
    yield (
        f"{done} {charted.path}: {_count(charted.columns, 'column')} x "
        f"{_count(charted.rows, 'row')}, {_size(charted)}, {_count(knots, 'knot')}"
    )
    if charted.replaced:
        yield from _replaced(charted.replaced)
    yield f"{_count(len(charted.colours), 'colour')}:"
    yield from _colours(charted.colours)
    yield f"tidied: {_tidied(charted)}"
    yield from _notes(charted)
    yield f"`publisher build {charted.path}` makes its booklet"


def _size(charted: Charted) -> str:
    width, height = charted.width_mm, charted.height_mm
    metric = f"{units.centimetres(width)} x {units.centimetres(height)} cm"
    inch = f"{units.inches(width)} x {units.inches(height)} in"
    first, second = (inch, metric) if charted.units == "inch-first" else (metric, inch)
    return f"{'' if charted.measured else 'about '}{first} ({second})"


def _replaced(replaced: Replaced) -> Iterator[str]:
    size = f"{_count(replaced.columns, 'column')} x {_count(replaced.rows, 'row')}"
    where = f", which was {replaced.picture} and is still there" if replaced.picture else ""
    yield f"replaced: the chart of {replaced.piece} ({size}){where}"
    if replaced.colours:
        yield f"replaced: {_names(replaced.colours)}"
    if replaced.kept:
        yield f"kept, though the chart does not have them: {_names(replaced.kept)}"


def _names(colours: tuple[YarnColour, ...]) -> str:
    named = (f"{colour.letter} {colour.name} {colour.srgb}" for colour in colours)
    return ", ".join(named)


def _colours(colours: tuple[tuple[YarnColour, int], ...]) -> Iterator[str]:
    """A line each, in columns."""
    names = max(len(colour.name) for colour, _ in colours)
    numbers = max(len(units.whole(knots)) for _, knots in colours)
    for colour, knots in colours:
        indent = " " * (numbers - len(units.whole(knots)))
        named = f"{colour.letter}  {colour.name.ljust(names)}  {colour.srgb}"
        yield f"  {named}  {indent}{_count(knots, 'knot')}"


def _tidied(charted: Charted) -> str:
    before, after = charted.tidied.single_knots
    told = f"{_count(before, 'single knot')} before, {units.whole(after)} now"
    if charted.tidied.yarns:
        before, after = charted.tidied.yarns
        told += f"; {_count(before, 'yarn')} before, {units.whole(after)} now"
    return told


def _notes(charted: Charted) -> Iterator[str]:
    if charted.see_through:
        yield "what is see-through in the picture became white"
    if charted.pictures > 1:
        yield f"the file has {units.whole(charted.pictures)} pictures; the first was taken"
    if charted.pixels < charted.columns:
        yield (
            f"the picture is {_count(charted.pixels, 'pixel')} wide, which is fewer than columns: "
            "a larger one would show more"
        )
    if charted.patterns is not None:
        yield (
            f"house.toml has no [colours], so those of its yarns in "
            f"{_count(charted.patterns, 'other pattern')} were taken"
        )
    for path in charted.passed_over:
        yield f"{path} can't be read and gave no colours (see: publisher check {path.stem})"


def _count(number: int, thing: str) -> str:
    return f"{units.whole(number)} {thing}{'s' * (number != 1)}"
