"""How much room a chart needs round its grid, and where in it everything stands."""

from __future__ import annotations

from typing import Literal

from publisher.fonts import proportions
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.model.look import Look

_CORD_GAP_MM = 1.5
_BOOKLET_CORD_MM = 8 * MM_PER_PT


@frozen
class Surround:
    """Distances from the grid's edge outward, in mm. Base lines of cord numbers and words;
    `band`: how far the tint of an overlap reaches; `above`, `below` and `side`: the whole room."""

    side: float
    above: float
    cord_above: float
    band_above: float
    words_above: float
    below: float
    cord_below: float
    band_below: float
    words_below: float

    def grid(self, width_mm: float, height_mm: float) -> tuple[float, float]:
        """Return what is left for the grid of a figure's width and height."""
        return width_mm - 2 * self.side, height_mm - self.above - self.below


Others = Literal["none", "beside", "among"]
"""Where a tile's neighbours are: only beside it, or also above or below."""


def surround(look: Look, others: Others = "none") -> Surround:
    """The room that a look's type asks for, and the words of an overlap with other tiles."""
    cord, words = look.type[look.chart.cord_number], look.type[look.chart.overlap_words]
    cord_mm, words_mm = cord.size_pt * MM_PER_PT, words.size_pt * MM_PER_PT
    cap = proportions(cord.face).cap_height_em * cord_mm
    words_cap = proportions(words.face).cap_height_em * words_mm
    larger = 0.28 * (cord_mm - _BOOKLET_CORD_MM)
    numbers = _CORD_GAP_MM + cap
    band_above, band_below = numbers + 3.2 + larger, numbers + 2.2 + larger
    words_above, words_below = band_above + 1.75, band_below + 1.05 + words_cap
    below = {
        "none": numbers + 0.6,
        "beside": band_below + 0.6,
        "among": words_below + 0.3 * words_mm,
    }
    return Surround(
        side=look.chart.gutter_mm,
        above=numbers + 0.6 if others == "none" else words_above + words_cap + 0.4,
        cord_above=_CORD_GAP_MM,
        band_above=band_above,
        words_above=words_above,
        below=below[others],
        cord_below=numbers,
        band_below=band_below,
        words_below=words_below,
    )
