"""What a release is known by: all that a plan and the writer's own words tell a maker, as values.

Not in it: the version, the date, what yarns cost, and everything that only changes how pages look.
Lengths in mm, to a thousandth, so that no machine's arithmetic makes another content.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import TYPE_CHECKING, TypeVar

from publisher.errata.compare.keeping import from_plain, to_plain
from publisher.frozen import frozen
from publisher.model.part_plan import (
    AssemblyPlan,
    PartCordPlan,
    PartStep,
    RepeatPlan,
    StepKind,
    StepsPlan,
)
from publisher.model.parts import Bar, Facing, Lay
from publisher.model.pattern import Fibre, Mount, Order, Pattern, Side
from publisher.model.plan import ChartPlan, CutLine, Note, Plan

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

    _Record = TypeVar("_Record", bound=DataclassInstance)


@frozen
class ColourTold:
    """A colour; `srgb` as `#rrggbb`, `yarn` the key of what it is spun in."""

    letter: str
    name: str
    srgb: str
    yarn: str


@frozen
class YarnTold:
    """A yarn as it can be bought, of those that some colour is spun in."""

    key: str
    name: str
    diameter_mm: float
    grams_per_metre: float
    ball_metres: float | None
    ball_grams: float | None
    fibre: Fibre | None


@frozen
class BuyTold:
    """The amount to buy of one colour, whatever it costs. `left_m`: what stays on the balls."""

    colour: str
    yarn: str
    length_m: float
    mass_g: float
    balls: int | None
    left_m: float | None


@frozen
class ChartTold:
    """A chart piece. By row: the yarn notes. By column: what hangs below it, and the cut cords.

    `pairs` and `singles`: the ends of the back, each by its row and cord.
    """

    id: str
    make: int
    cells: tuple[str, ...]
    first_row_from: Side
    order: Order
    knot: str
    mount: Mount
    cord_colour: str
    cord_strands: int
    width_mm: float
    height_mm: float
    measured: bool
    fringe_mm: tuple[float, ...]
    cords_mm: tuple[float, ...]
    tail_mm: float
    allowance_percent: float
    dowel_length_mm: float
    hanging_loop_mm: float
    notes: tuple[tuple[Note, ...], ...]
    pairs: tuple[tuple[tuple[int, int], tuple[int, int]], ...]
    singles: tuple[tuple[int, int], ...]
    full_length_mm: float | None = None
    """None in records from before it was told."""

    def start(self, row: int) -> Side:
        """The side that a row starts from."""
        if self.order == "one-way" or row % 2:
            return self.first_row_from
        return "right" if self.first_row_from == "left" else "left"


@frozen
class CordTold:
    """A cord of a part; `legs_mm`: each working end's share of its cut length."""

    colour: str
    lay: Lay
    on: int | None
    knot: str
    step: int
    cut_mm: float
    legs_mm: tuple[float, ...]


@frozen
class StepTold:
    """A step of a part as the instructions tell it; `colour` of the cord that it brings in."""

    number: int
    kind: StepKind
    on: tuple[int, ...]
    knot: str
    leader: int | None
    worker: int | None
    facing: Facing
    times: int
    turns: int
    length_mm: float
    colour: str
    what: str
    note: str


@frozen
class PartTold:
    """A knotted part as it is told, and made once."""

    id: str
    make: int
    bar: Bar | None
    cords: tuple[CordTold, ...]
    steps: tuple[StepTold, ...]
    repeats: tuple[RepeatPlan, ...]
    width_mm: float
    height_mm: float
    tail_mm: float
    allowance_percent: float


@frozen
class ReleaseContent:
    """The content of a release. `words`: the writer's texts by name, in paragraphs. `knots`: those
    that are drawn; with each the digest of the writer's own file, "" for a knot of the package."""

    slug: str
    words: Mapping[str, tuple[str, ...]]
    colours: tuple[ColourTold, ...]
    yarns: tuple[YarnTold, ...]
    charts: tuple[ChartTold, ...]
    parts: tuple[PartTold, ...]
    assembly: tuple[AssemblyPlan, ...]
    cutting: tuple[CutLine, ...]
    shopping: tuple[BuyTold, ...]
    cautions: tuple[str, ...]
    knots: Mapping[str, str]


def content_of(
    pattern: Pattern, plan: Plan, terms: str, own_knots: Mapping[str, str] | None = None
) -> ReleaseContent:
    """The content of a pattern and its plan. `terms`: the text of its terms of use; `own_knots`:
    the digest of each of the writer's own knots, by name."""
    own = own_knots or {}
    found = ReleaseContent(
        slug=pattern.slug,
        words=_words(pattern, terms),
        colours=tuple(
            ColourTold(colour.letter, colour.name, colour.srgb.hex, colour.yarn.key)
            for colour in plan.colours
        ),
        yarns=_yarns(plan),
        charts=tuple(map(_chart, plan.charts)),
        parts=tuple(map(_part, plan.parts)),
        assembly=plan.assembly,
        cutting=plan.cutting_list,
        shopping=tuple(_taken(BuyTold, line) for line in plan.shopping),
        cautions=plan.cautions,
        knots={name: own.get(name, "") for name in plan.knot_names},
    )
    return from_plain(ReleaseContent, to_plain(found))


def _words(pattern: Pattern, terms: str) -> dict[str, tuple[str, ...]]:
    texts = {
        "title": (pattern.title,),
        "subtitle": (pattern.subtitle,),
        "designer": (pattern.designer,),
        "contact": (pattern.contact,),
        "level": (pattern.level,),
        "about": pattern.about,
        "terms": tuple(" ".join(part.split()) for part in terms.split("\n\n") if part.strip()),
    }
    return {name: tuple(filter(None, paragraphs)) for name, paragraphs in texts.items()}


def _yarns(plan: Plan) -> tuple[YarnTold, ...]:
    yarns = dict.fromkeys(colour.yarn for colour in plan.colours)
    return tuple(_taken(YarnTold, yarn) for yarn in yarns)


def _chart(chart: ChartPlan) -> ChartTold:
    places = {end.id: (end.row, end.cord) for end in chart.ends}
    return _taken(
        ChartTold,
        chart,
        chart.piece,
        cord_colour=chart.piece.cords.colour,
        cord_strands=chart.piece.cords.strands,
        measured=chart.cell.measured,
        cords_mm=tuple(cord.length_mm for cord in chart.hanging_cords),
        notes=tuple(row.notes for row in chart.row_list),
        pairs=tuple((places[one], places[other]) for one, other in chart.end_pairs),
        singles=tuple(places[end] for end in chart.single_ends),
    )


def _part(part: StepsPlan) -> PartTold:
    cords, steps = tuple(map(_cord, part.cords)), tuple(_step(part, step) for step in part.told)
    return _taken(PartTold, part, part.piece, cords=cords, steps=steps)


def _cord(cord: PartCordPlan) -> CordTold:
    return _taken(CordTold, cord, legs_mm=tuple(leg.cut_mm for leg in cord.legs))


def _step(part: StepsPlan, step: PartStep) -> StepTold:
    colour = "" if step.cord is None else part.cord(step.cord).colour
    return _taken(StepTold, step, colour=colour)


def _taken(kind: type[_Record], *sources: object, **found: object) -> _Record:
    """Fill a record with what the sources have under the names of its fields, the first that has
    it."""
    for field in dataclasses.fields(kind):
        if field.name not in found:
            source = next(source for source in sources if hasattr(source, field.name))
            found[field.name] = getattr(source, field.name)
    return kind(**found)
