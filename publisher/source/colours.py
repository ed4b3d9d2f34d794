"""Turn the tables of yarns and colours into yarns and colours, each colour with its yarn."""

from __future__ import annotations

from publisher.colour import Colour
from publisher.source.findings import Findings
from publisher.source.format.yarns import ColourTable, YarnTable
from publisher.source.given import Given, carry_limit, narrowest, piece_carry
from publisher.source.pattern import Yarn, YarnColour
from publisher.source.wording import nearest


def make_yarns(given: Given, findings: Findings) -> dict[str, Yarn]:
    """Every yarn by its key: the house's, and the pattern's own in front of them."""
    currency = given.table.currency or given.house.currency
    yarns: dict[str, Yarn] = {}
    for file, table in ((given.house_file, given.house), (given.file, given.table)):
        for name, yarn in table.yarns.items():
            path = ("yarns", name)
            yarns[name] = _yarn(name, yarn, file, findings)
            if yarn.price is not None and not currency and given.house_known:
                message = f"yarn {name} has a price, but no currency is set"
                hint = 'add a line such as currency = "GBP" to house.toml, or take the price out'
                findings.add(file, (*path, "price"), message, hint)
    return yarns


def _yarn(name: str, table: YarnTable, file: str, findings: Findings) -> Yarn:
    path = ("yarns", name)
    weight = table.grams_per_metre
    if weight is None and table.tex is not None:
        weight = table.tex / 1000
    elif weight is not None and table.tex is not None and abs(table.tex / 1000 / weight - 1) > 0.01:
        message = f"yarn {name} has two weights: {weight:g} g a metre and {table.tex:g} tex"
        hint = f"keep one of them ({weight:g} g a metre is {weight * 1000:g} tex)"
        findings.add(file, (*path, "tex"), message, hint)
    told = any(findings.knows(file, (*path, key)) for key in ("grams_per_metre", "tex"))
    if weight is None and not told:
        message = f"yarn {name} does not say what it weighs"
        hint = "weigh ten metres, and add a line such as grams_per_metre = 4.6"
        findings.add(file, path, message, hint)
    return Yarn(
        name,
        table.name,
        table.diameter_mm,
        weight or 1.0,
        table.ball_metres,
        table.ball_grams,
        table.price,
    )


def make_colours(given: Given, findings: Findings) -> tuple[YarnColour, ...]:
    """The colours in the file's order, each with its yarn."""
    yarns = make_yarns(given, findings)
    base = narrowest([piece_carry(given, piece) for piece in given.table.pieces])
    colours = []
    for letter, table in given.table.colours.items():
        yarn = yarns.get(table.yarn)
        if yarn is None and given.house_known:
            message, hint = _unknown_yarn(letter, table, list(yarns))
            findings.add(given.file, ("colours", letter, "yarn"), message, hint)
        colours.append(
            YarnColour(
                letter,
                table.name,
                Colour.from_hex(table.srgb or "#000000"),
                yarn or Yarn("", "", 1.0, 1.0),
                None if table.carry is None else carry_limit(base, table.carry),
            )
        )
    return tuple(colours)


def _unknown_yarn(letter: str, table: ColourTable, known: list[str]) -> tuple[str, str]:
    message = f"colour {letter} is of the yarn {table.yarn}, which is nowhere described"
    near = nearest(table.yarn, known)
    if near:
        return message, f"did you mean {near}?"
    hint = f"describe it under [yarns.{table.yarn}], here or in house.toml"
    return message, f"{hint}; there are {', '.join(known)}" if known else hint
