"""Draw the key to a chart, its colours in the order of the pattern's file, as everywhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.lettering import fitted_lines
from publisher.drawing.base.symbols import Symbol, assign_symbols
from publisher.drawing.chart.swatch import paint_swatch
from publisher.fonts import proportions, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.pattern import YarnColour
from publisher.model.plan import ChartPlan

_TEXT_GAP_MM = 2.0
_COLUMN_GAP_MM = 4.0
_ROW_GAP = 0.65
_MOST_LINES = 3
_BLANK = " "


def draw_key(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    words: Mapping[str, str],
) -> Figure:
    """The colours of a piece: cell in true proportion, symbol, letter, name and knots."""
    entries = _entries(plan, colours, look, width_mm, words)
    columns = look.chart.key_columns
    gap = _ROW_GAP * look.type["key"].size_pt * MM_PER_PT
    canvas, y = FigureCanvas(), 0.0
    for start in range(0, len(entries), columns):
        line = entries[start : start + columns]
        for index, entry in enumerate(line):
            entry.paint(canvas, index * _column_mm(look, width_mm), y, look)
        y += max(entry.height_mm for entry in line) + gap
    alt = words["key_alt"].format(entries="; ".join(entry.spoken for entry in entries))
    return canvas.figure(width_mm, max(0.0, y - gap), alt)


@frozen
class _Entry:
    colour: YarnColour
    symbol: Symbol
    cell_mm: tuple[float, float]
    name: tuple[str, ...]
    """The name in lines; the letter stands before the first."""
    count: str
    height_mm: float
    spoken: str

    def paint(self, canvas: FigureCanvas, x: float, y: float, look: Look) -> None:
        name, count = look.type["key"], look.type["key-count"]
        wide, tall = self.cell_mm
        text_mm = _text_height(len(self.name), bool(self.count), look)
        top = y + max(0.0, (text_mm - tall) / 2)
        paint_swatch(canvas, self.colour, self.symbol, look, wide, tall, x, top)
        x += wide + _TEXT_GAP_MM
        base = y + max(0.0, (tall - text_mm) / 2) + _cap_mm(look)
        ink = look.colours[name.colour]
        after = canvas.text(x, base, self.colour.letter, name.strong, name.size_pt, ink)
        after += text_width_mm(_BLANK, name.face, name.size_pt)
        for line in self.name:
            canvas.text(after, base, line, name.face, name.size_pt, ink)
            base, after = base + name.lead_mm, x
        if self.count:
            base += count.lead_mm - name.lead_mm
            canvas.text(x, base, self.count, count.face, count.size_pt, look.colours[count.colour])


def _entries(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    words: Mapping[str, str],
) -> list[_Entry]:
    symbols = assign_symbols(colours)
    cell_mm = _cell(plan, look)
    name_mm = _column_mm(look, width_mm) - cell_mm[0] - _TEXT_GAP_MM - _COLUMN_GAP_MM
    found = []
    for colour in colours:
        knots = plan.knots.get(colour.letter, 0)
        if not knots:
            continue
        counted = words["knots_one" if knots == 1 else "knots_many"].format(n=f"{knots:,}")
        count = counted if look.chart.key_counts else ""
        name = _name_lines(colour, look, name_mm)
        height = max(cell_mm[1], _text_height(len(name), bool(count), look))
        spoken = words["key_entry"].format(letter=colour.letter, name=colour.name, knots=counted)
        entry = _Entry(colour, symbols[colour.letter], cell_mm, name, count, height, spoken)
        found.append(entry)
    return found


def _name_lines(colour: YarnColour, look: Look, width_mm: float) -> tuple[str, ...]:
    """The name broken to a column, its first line shortened by the letter before it."""
    style = look.type["key"]
    letter = text_width_mm(colour.letter, style.strong, style.size_pt)
    indent = letter + text_width_mm(_BLANK, style.face, style.size_pt)
    whole = fitted_lines(colour.name, style.face, style.size_pt, width_mm - indent, 1)
    if not whole or not whole[0].endswith("…"):
        return tuple(whole)
    return tuple(
        fitted_lines(colour.name, style.face, style.size_pt, width_mm - indent, _MOST_LINES)
    )


def _cell(plan: ChartPlan, look: Look) -> tuple[float, float]:
    """A cell as large as the chart's may be, in true proportion."""
    ratio = plan.cell.width_mm / plan.cell.height_mm
    wide, high = max(1.0, ratio), max(1.0, 1 / ratio)
    unit = max(look.chart.cell_min_mm, look.chart.cell_max_mm / max(wide, high))
    return unit * wide, unit * high


def _column_mm(look: Look, width_mm: float) -> float:
    return (width_mm + _COLUMN_GAP_MM) / look.chart.key_columns


def _text_height(lines: int, with_count: bool, look: Look) -> float:
    """From the top of the capitals to a little under the last base line."""
    name, count = look.type["key"], look.type["key-count"]
    height = _cap_mm(look) + max(0, lines - 1) * name.lead_mm
    if with_count:
        height += count.lead_mm
    last = count if with_count else name
    return height + 0.2 * last.size_pt * MM_PER_PT


def _cap_mm(look: Look) -> float:
    style = look.type["key"]
    return proportions(style.strong).cap_height_em * style.size_pt * MM_PER_PT
