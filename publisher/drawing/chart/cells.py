"""Paint the cells of a tile: their colours and their symbols."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number, run_paths
from publisher.drawing.base.shapes import svg_path
from publisher.drawing.base.symbols import BLANK, Symbol, letter_on, plain_ink, symbol_ink, tile_ink
from publisher.drawing.chart.counts import Count
from publisher.drawing.chart.view import View
from publisher.fonts import svg_font
from publisher.frozen import frozen
from publisher.model.colour import WHITE, Colour

FADED = 0.55
"""How much white is in a cell that is worked from another tile."""

_OVERLAP = 1.02
_LETTER_STEP = 0.12


def paint_colours(canvas: FigureCanvas, view: View, colours: Mapping[str, Colour]) -> None:
    """Fill the cells: whole colour where they are worked, faded where they are only shown."""
    grid = canvas.group(transform=_grid(view))
    for faded, stretches in zip((False, True), _stretches(view), strict=True):
        paths = run_paths(stretches)
        for letter, path in paths.items():
            paint = colours[letter]
            shown = paint.mix(WHITE, FADED) if faded else paint
            grid.stroke(path, shown, _OVERLAP)


def paint_symbols(
    canvas: FigureCanvas,
    view: View,
    colours: Mapping[str, Colour] | None,
    symbols: Mapping[str, Symbol],
    counts: tuple[Count, ...],
) -> None:
    """Set a row's symbols as lines of text, one for each ink. Without colours: in plain ink."""
    covered: dict[int, set[int]] = {}
    for count in counts:
        covered.setdefault(count.row, set()).update(count.cords)
    used = {letter: symbols[letter] for letter in view.plan.knots}
    for faded, all_cells in zip((False, True), _stretches(view), strict=True):
        stretches = [
            (row, first, _without(letters, first, covered.get(row + view.tile.first_row), view))
            for row, first, letters in all_cells
        ]
        inks = _inks(view, colours, used, faded)
        _paint_grounds(canvas, view, stretches, used, inks)
        for style in _styles(used, inks):
            _paint_style(canvas, view, stretches, style)


def _grid(view: View) -> str:
    """The transform from cells, counted from 0 at the tile's corner, to mm."""
    width, height = number(view.cell_width, 4), number(view.cell_height, 4)
    return f"translate({number(view.left, 3)} {number(view.top, 3)}) scale({width} {height})"


_Stretch = tuple[int, int, str]
"""Row, first column, letters; from 0."""


def _stretches(view: View) -> tuple[list[_Stretch], list[_Stretch]]:
    """Return what is worked here, and what is only shown."""
    worked, shown = [], []
    tile = view.tile
    columns, last_row = view.own_columns, view.tiles.own_rows(tile)[1]
    for row in view.row_numbers:
        letters, own = view.letters(row), columns if row <= last_row else 0
        if own:
            worked.append((row - tile.first_row, 0, letters[:own]))
        if own < len(letters):
            shown.append((row - tile.first_row, own, letters[own:]))
    return worked, shown


def _without(letters: str, first: int, cords: set[int] | None, view: View) -> str:
    """The letters with blanks where a count stands."""
    if not cords:
        return letters
    shown = list(letters)
    for column in (cord - view.tile.first_cord - first for cord in cords):
        if 0 <= column < len(shown):
            shown[column] = BLANK
    return "".join(shown)


@frozen
class _Style:
    """Symbols that can stand in one line of text: letter → character, the rest blank."""

    letters: frozenset[str]
    face: str
    size: float
    left: float
    base: float
    ink: Colour
    table: Mapping[int, str]


@frozen
class _Ink:
    """The ink of a symbol: of its character, and of the ground under a letter."""

    character: Colour
    ground: Colour


def _inks(
    view: View, colours: Mapping[str, Colour] | None, used: Mapping[str, Symbol], faded: bool
) -> dict[str, _Ink]:
    """The inks of every symbol. Faded cells share the one that the darkest of them needs."""
    if colours is None:
        plain = view.look.colours["ink"]
        return {letter: _ink(symbol, plain, plain) for letter, symbol in used.items()}
    cells = {letter: colours[letter] for letter in used}
    if faded:
        pale = [paint.mix(WHITE, FADED) for paint in cells.values()]
        shared = symbol_ink(min(pale, key=lambda paint: paint.luminance))
        return {letter: _ink(symbol, shared, shared) for letter, symbol in used.items()}
    return {
        letter: _ink(
            symbol,
            plain_ink(cells[letter]) if symbol.lettered else symbol_ink(cells[letter]),
            tile_ink(cells[letter]) if symbol.tile else symbol_ink(cells[letter]),
        )
        for letter, symbol in used.items()
    }


def _ink(symbol: Symbol, character: Colour, ground: Colour) -> _Ink:
    return _Ink(letter_on(ground) if symbol.tile else character, ground)


def _styles(used: Mapping[str, Symbol], inks: Mapping[str, _Ink]) -> Iterator[_Style]:
    """Group symbols by face, ink and width, so that each group is one line of text a row."""
    groups: dict[tuple[str, Colour, int], dict[str, Symbol]] = {}
    for letter, symbol in used.items():
        key = symbol.face, inks[letter].character, round(symbol.left / _LETTER_STEP)
        groups.setdefault(key, {})[letter] = symbol
    for (face, ink, _), group in sorted(groups.items()):
        table = {ord(other): BLANK for other in used if other not in group}
        table |= {ord(letter): symbol.character for letter, symbol in group.items()}
        lefts = [symbol.left for symbol in group.values()]
        left = (min(lefts) + max(lefts)) / 2
        one = next(iter(group.values()))
        yield _Style(frozenset(group), face, one.size, left, one.base, ink, table)


def _paint_style(
    canvas: FigureCanvas, view: View, stretches: list[_Stretch], style: _Style
) -> None:
    unit, width = view.unit, view.cell_width
    group = canvas.group(
        **svg_font(style.face), fill=str(style.ink), font_size=number(style.size * unit, 3)
    )
    advance = number(width, 4)
    for row, first, letters in stretches:
        if style.letters.isdisjoint(letters):
            continue
        text = letters.translate(style.table).rstrip(BLANK)
        signs = text.lstrip(BLANK)
        column = first + len(text) - len(signs)
        x = view.left + (column + 0.5) * width + style.left * unit
        y = view.top + (row + 0.5) * view.cell_height + style.base * unit
        group.label(x, y, signs, advance)


def _paint_grounds(
    canvas: FigureCanvas,
    view: View,
    stretches: list[_Stretch],
    used: Mapping[str, Symbol],
    inks: Mapping[str, _Ink],
) -> None:
    """Paint what letters stand on: frames and tiles, one path an ink."""
    grounds = {letter: symbol for letter, symbol in used.items() if symbol.lettered}
    if not grounds:
        return
    paths: dict[Colour, list[str]] = {}
    for row, first, letters in stretches:
        y = view.top + (row + 0.5) * view.cell_height
        for column, letter in enumerate(letters, first):
            symbol = grounds.get(letter)
            if symbol and symbol.outlines:
                x = view.left + (column + 0.5) * view.cell_width
                paths.setdefault(inks[letter].ground, []).append(
                    svg_path(symbol.outlines, view.unit, x, y)
                )
    for ink in sorted(paths):
        canvas.fill("".join(paths[ink]), ink, fill_rule="evenodd")
