"""Turn the tables of yarns and colours into yarns and colours, each colour with its yarn."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.model.colour import Colour
from publisher.model.pattern import CarryLimit, Yarn, YarnColour
from publisher.source.format.yarns import ColourTable, YarnTable
from publisher.source.given import Given, carry_limit, narrowest, piece_carry

_NO_YARN = Yarn("", "", 1.0, 1.0)
_SAME_WEIGHT = 0.01


def make_colours(given: Given, yarns: Mapping[str, Yarn]) -> tuple[YarnColour, ...]:
    """The colours in the file's order, each with its yarn."""
    base = narrowest([piece_carry(given, piece) for piece in given.table.charts])
    if not given.table.colours:
        given.find_missing("colours")
    for letter, table in given.table.colours.items():
        if table.yarn not in yarns and given.house_known:
            message, hint = _unknown_yarn(letter, table, list(yarns))
            given.findings.add(given.file, ("colours", letter, "yarn"), message, hint)
    return tuple(
        _make_colour(letter, table, yarns, base) for letter, table in given.table.colours.items()
    )


def make_house_colours(given: Given, yarns: Mapping[str, Yarn]) -> tuple[YarnColour, ...]:
    """The colours of house.toml, each of one of its yarns."""
    own = {name: yarn for name, yarn in yarns.items() if name in given.house.yarns}
    colours = []
    for letter, table in given.house.colours.items():
        if table.yarn not in own:
            message, hint = _unknown_yarn(letter, table, list(own))
            given.findings.add(given.house_file, ("colours", letter, "yarn"), message, hint)
        colours.append(_make_colour(letter, table, own, CarryLimit()))
    return tuple(colours)


def _make_colour(
    letter: str, table: ColourTable, yarns: Mapping[str, Yarn], base: CarryLimit
) -> YarnColour:
    return YarnColour(
        letter,
        table.name,
        Colour.from_hex(table.srgb),
        yarns.get(table.yarn, _NO_YARN),
        None if table.carry is None else carry_limit(base, table.carry),
    )


def make_yarns(given: Given) -> dict[str, Yarn]:
    """Every yarn by its key: the house's, and the pattern's own in front of them."""
    priced = given.table.currency or given.house.currency or not given.house_known
    if given.findings.knows(given.file, "currency"):
        priced = True
    if given.findings.knows(given.house_file, "currency"):
        priced = True
    yarns: dict[str, Yarn] = {}
    for file, table in ((given.house_file, given.house), (given.file, given.table)):
        for name, yarn in table.yarns.items():
            yarns[name] = _make_yarn(name, yarn, file, given)
            if yarn.price is not None and not priced:
                message = f"yarn {name} has a price, but no currency is set"
                hint = 'add a line such as currency = "GBP" to house.toml, or take the price out'
                given.findings.add(file, ("yarns", name, "price"), message, hint)
    return yarns


def _make_yarn(name: str, table: YarnTable, file: str, given: Given) -> Yarn:
    weight = table.grams_per_metre
    tex = table.tex
    if weight is None and tex is not None:
        weight = tex / 1000
    elif (
        weight is not None and tex is not None and abs(tex / 1000 - weight) > _SAME_WEIGHT * weight
    ):
        message = f"yarn {name} has two weights: {weight:g} grams_per_metre and {tex:g} tex"
        hint = f"keep the right one ({weight:g} grams a metre would be {weight * 1000:g} tex)"
        given.findings.add(file, ("yarns", name, "tex"), message, hint)
    if weight is None and not given.findings.knows(file, "yarns", name, "tex"):
        message = f"yarn {name} does not say what it weighs"
        hint = "weigh ten metres, and add a line such as grams_per_metre = 4.6"
        given.findings.add(file, ("yarns", name, "grams_per_metre"), message, hint)
    return Yarn(
        key=name,
        name=table.name,
        diameter_mm=table.diameter_mm,
        grams_per_metre=weight or 1.0,
        ball_metres=table.ball_metres,
        ball_grams=table.ball_grams,
        price=table.price,
        fibre=table.fibre,
    )


def _unknown_yarn(letter: str, table: ColourTable, known: list[str]) -> tuple[str, str]:
    from publisher.tables.words import listed, nearest

    message = f"colour {letter} is of a yarn {table.yarn}, but there is none of that name"
    near = nearest(table.yarn, known)
    if near:
        return message, f"did you mean {near}?"
    hint = f"describe it under [yarns.{table.yarn}], here or in house.toml"
    return message, f"{hint}, or use {listed(known)}" if known else hint
