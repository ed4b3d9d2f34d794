"""Compare what a writer has measured with what can be: a slip of the unit shows.

A swatch is compared with the model of a hard cord (`knots.measures`), without the factor for soft
ones; a ball's weight with its metres. Cords differ, so there is advice from 0.6 and 1.6 times on,
and only what is a third or three times as much is refused.
"""

from __future__ import annotations

from collections.abc import Iterator

from publisher.errors import Problem, SourceError
from publisher.frozen import frozen
from publisher.model.pattern import ChartPiece, Pattern, Yarn
from publisher.model.plan import Advice
from publisher.plan.cord import chart_hitch
from publisher.source import written_at
from publisher.tables.findings import KeyPath

LEAST_USUAL, MOST_USUAL = 0.6, 1.6
LEAST, MOST = 0.3, 3.0
_NEAR = 0.4
_SLIPS = (10.0, 25.4, 1000.0, 0.1, 1 / 25.4, 0.001)
"""A centimetre, an inch or a metre for a millimetre, and the other way about."""


@frozen
class Measurement:
    """A value that was measured, at its key, and about what it should be; `what` is measured, as
    the advice names it."""

    path: KeyPath
    what: str
    value: float
    expected: float
    unit: str

    @property
    def key(self) -> str:
        return str(self.path[-1])

    @property
    def is_usual(self) -> bool:
        return LEAST_USUAL <= self.value / self.expected <= MOST_USUAL

    @property
    def is_possible(self) -> bool:
        return LEAST <= self.value / self.expected <= MOST

    @property
    def likely(self) -> float | None:
        """The value in the unit that was most likely meant."""
        meant = (round(self.value * slip, 2) for slip in _SLIPS)
        return next((one for one in meant if _NEAR <= one / self.expected <= 1 / _NEAR), None)


def refuse_slips(pattern: Pattern) -> None:
    """SourceError with every figure that can't be right, at its line."""
    wrong = [one for one in measurements(pattern) if not one.is_possible]
    if wrong:
        raise SourceError(*(_problem(pattern, one) for one in wrong))


def _problem(pattern: Pattern, one: Measurement) -> Problem:
    message = (
        f"`{one.key}` can't be {one.value:g} {one.unit}: {one.what} comes to about "
        f"{_rounded(one.expected):g} {one.unit}"
    )
    again = f"measure it again, in {one.unit}"
    hint = again if one.likely is None else f"was {one.key} = {one.likely:g} meant?"
    return Problem(written_at(pattern, one.path), message, hint)


def advise_figures(pattern: Pattern) -> Iterator[Advice]:
    """Tell what is measured and unlike what is usual, and percents that look like shares."""
    for one in measurements(pattern):
        if one.is_possible and not one.is_usual:
            values: dict[str, str | int | float] = {
                "key_path": _way(one.path),
                "figure": one.key,
                "value": _whole(one.value),
                "unit": one.unit,
                "what": one.what,
                "expected": _whole(_rounded(one.expected)),
            }
            yield Advice("unusual-figure", "", None, None, values)
    for index, piece in enumerate(pattern.pieces):
        if 0 < piece.allowance_percent < 1:
            percent = piece.allowance_percent
            values = {
                "key_path": _way(("pieces", index, "allowance_percent")),
                "percent": percent,
                "meant": f"{100 * percent:g}",
            }
            yield Advice("small-allowance", piece.id, None, None, values)


def measurements(pattern: Pattern) -> Iterator[Measurement]:
    """Everything that a pattern gives as measured, beside what it should come to."""
    for index, piece in enumerate(pattern.pieces):
        if isinstance(piece, ChartPiece):
            yield from _swatch(pattern, piece, ("pieces", index, "gauge"))
    for yarn in dict.fromkeys(colour.yarn for colour in pattern.colours):
        yield from _ball(yarn)


def _swatch(pattern: Pattern, piece: ChartPiece, way: KeyPath) -> Iterator[Measurement]:
    """The figures of a swatch, beside those of the thickest yarn that is worked."""
    gauge, strands = piece.gauge, piece.cords.strands
    letters = set("".join(piece.cells))
    yarn_mm = max(pattern.colour(letter).yarn.diameter_mm for letter in letters)
    cord_mm = pattern.colour(piece.cords.colour).yarn.diameter_mm
    hitch = chart_hitch(piece.knot)
    if gauge.columns and gauge.width_mm:
        width = gauge.columns * hitch.width_mm(strands, cord_mm, yarn_mm)
        what = f"a swatch of {_counted(gauge.columns, 'column')}"
        yield Measurement((*way, "width_mm"), what, gauge.width_mm, width, "mm")
    if gauge.rows and gauge.height_mm:
        height = gauge.rows * hitch.height * yarn_mm
        what = f"a swatch of {_counted(gauge.rows, 'row')}"
        yield Measurement((*way, "height_mm"), what, gauge.height_mm, height, "mm")
    if gauge.yarn_mm_per_knot:
        takes = hitch.in_a_row(strands, cord_mm, yarn_mm)
        path = (*way, "yarn_mm_per_knot")
        yield Measurement(path, "the yarn of one knot", gauge.yarn_mm_per_knot, takes, "mm")


def _ball(yarn: Yarn) -> Iterator[Measurement]:
    if yarn.ball_grams and yarn.ball_metres:
        weight = yarn.ball_metres * yarn.grams_per_metre
        what = f"a ball of {yarn.ball_metres:g} m at {yarn.grams_per_metre:g} g a metre"
        path = ("yarns", yarn.key, "ball_grams")
        yield Measurement(path, what, yarn.ball_grams, weight, "g")


def _way(path: KeyPath) -> str:
    """A key path as one of an advice's values."""
    return "/".join(map(str, path))


def _rounded(value: float) -> float:
    """A figure to two digits: more of them would claim too much."""
    return float(f"{value:.2g}")


def _whole(value: float) -> float | int:
    return int(value) if value.is_integer() else value


def _counted(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
