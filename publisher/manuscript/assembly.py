"""Write how the pieces are put together: steps in order, and where each part goes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import compress, groupby

from publisher import units
from publisher.drawing import draw_hanging, place_parts
from publisher.manuscript.blocks import (
    Block,
    Caution,
    Cell,
    Column,
    Heading,
    Items,
    Paragraph,
    Picture,
    Section,
    Table,
    TableRow,
    Text,
)
from publisher.manuscript.brief import Brief
from publisher.manuscript.cautions import caution_words
from publisher.manuscript.markup import page_of, read_marks
from publisher.plan.part_values import AssemblyPlan, Placement
from publisher.plan.values import ChartPlan

_PICTURE, _PICTURE_LARGE = 0.38, 0.6
"""Of a page's height."""
TRIM_MM = 20.0


def write_assembly(brief: Brief) -> list[Section]:
    """One section, if there is anything to put together."""
    plan, words = brief.plan, brief.words
    if not plan.assembly:
        return []
    body: list[Block] = []
    caution = caution_words(brief, _cautions(brief))
    if caution:
        body.append(Caution(words("assembly.caution"), caution))
    told: list[Block] = []
    if any(step.deed == "sew" for step in plan.assembly):
        page = page_of("knot-pair-tied-double-knot")
        length = brief.measures.metric_or_inch(TRIM_MM)
        told.append(Paragraph(words.say("assembly.sewing", page=page, length=length)))
    told.append(Items(tuple(_steps(brief)), numbered=True))
    pictures = tuple(_picture(brief, chart) for chart in brief.charts if _places(brief, chart))
    if pictures and brief.on_paper:
        body += brief.beside((tuple(told), pictures), (1.0, 1.0))
    else:
        body += told
    for chart in brief.charts:
        body += _place_table(brief, chart)
    title, running = words("assembly.title"), words("assembly.running")
    return [Section("assembly", "text", title, running, tuple(body))]


def _cautions(brief: Brief) -> Iterator[str]:
    deeds = {step.deed for step in brief.plan.assembly}
    if "glue" in deeds:
        yield "hot-glue"
    if deeds & {"sew", "glue"}:
        yield "small-parts"
    if "sew" in deeds:
        yield "cutting-tools"


def _steps(brief: Brief) -> Iterator[Text]:
    """Steps that follow one another and are alike, together."""

    def alike(step: AssemblyPlan) -> tuple[object, ...]:
        place = step.placement
        marked = place is not None and place.mark is not None
        own = "" if marked else f"{step.number}" * bool(step.note)
        return step.deed, step.piece, place.piece if place else "", marked, own

    for _, group in groupby(brief.plan.assembly, key=alike):
        yield _step(brief, list(group))


def _step(brief: Brief, steps: Sequence[AssemblyPlan]) -> Text:
    words = brief.words
    first = steps[0]
    count = sum(step.count for step in steps)
    name = brief.piece_name(first.piece)
    said = words.say(f"assembly.{first.deed}", n=count, piece=name)
    marks = [step.placement.mark for step in steps if step.placement and step.placement.mark]
    if len(marks) == 1:
        said += words.say("assembly.at_mark", mark=marks[0])
    elif marks:
        key = "assembly.at_two_marks" if len(marks) == 2 else "assembly.at_marks"
        said += words.say(key, first=marks[0], last=marks[-1])
    elif first.placement is not None:
        said += words.say("assembly.on_piece", piece=brief.piece_name(first.placement.piece))
    said += words.say("assembly.stop")
    for step in steps:
        if step.note and not (step.placement and step.placement.mark):
            said += read_marks(" " + step.note.replace("{", "{{").replace("}", "}}"))
    return said


def _places(brief: Brief, chart: ChartPlan) -> list[tuple[AssemblyPlan, Placement]]:
    """Every numbered place on a chart, with the step that fills it."""
    return [
        (step, step.placement)
        for step in brief.plan.assembly
        if step.placement and step.placement.piece == chart.id and step.placement.mark
    ]


def _place_table(brief: Brief, chart: ChartPlan) -> Iterator[Block]:
    """Every mark with its part and its place; only columns that have something to say."""
    words, placed = brief.words, _places(brief, chart)
    if not placed:
        return
    yield Heading(words("assembly.places"), words("assembly.places_lead"))
    if not brief.on_paper or brief.edition.option("tables_as_lists"):
        yield Items(tuple(_place_words(brief, chart, step, place) for step, place in placed))
        return
    columns = (
        Column(words("assembly.mark"), 12),
        Column(words("assembly.part"), 22),
        Column(words("assembly.row"), 11, right=True),
        Column(words("assembly.cord"), 11, right=True),
        Column(words("assembly.tails"), 38),
        Column(words("assembly.lean"), 26),
        Column(words("assembly.note"), 58),
    )
    rows = [_cells(brief, chart, step, place) for step, place in placed]
    told = [any(cells[at].text for cells in rows) for at in range(len(columns))]
    yield Table(
        tuple(compress(columns, told)),
        tuple(TableRow(tuple(compress(cells, told))) for cells in rows),
    )


def _place_words(brief: Brief, chart: ChartPlan, step: AssemblyPlan, place: Placement) -> Text:
    """A line of the table, said in a sentence."""
    words = brief.words
    said = words.say(
        "assembly.place",
        mark=place.mark,
        piece=brief.piece_name(step.piece),
        row=place.row,
        cord=place.cord,
        lean=_lean(brief, place),
    )
    if place.between is not None:
        said += words.say("assembly.place_tails", tails=_tails(brief, chart, place))
    note = f" ({step.note})" if step.note else ""
    return (
        said + read_marks(note.replace("{", "{{").replace("}", "}}")) + words.say("assembly.stop")
    )


def _picture(brief: Brief, chart: ChartPlan) -> Picture:
    """The piece with all that is fastened to it, every place with its number."""
    look = brief.edition.look
    count = len(_places(brief, chart))
    wide = look.paper.text_width_mm
    tall = look.paper.text_bottom_mm - look.frame.title_mm
    if not brief.edition.option("one_column"):
        wide, tall = (wide - look.frame.column_gap_mm) / 2, tall * _PICTURE
    else:
        tall *= _PICTURE_LARGE
    figure = draw_hanging(
        chart,
        brief.plan.colours,
        look,
        wide,
        tall,
        place_parts(brief.plan, chart.id, brief.knots.__getitem__),
        look.type["map-number"].size_pt,
    )
    return Picture(figure.with_alt(brief.words("assembly.alt", count=count)))


def _cells(
    brief: Brief, chart: ChartPlan, step: AssemblyPlan, place: Placement
) -> tuple[Cell, ...]:
    return (
        Cell(units.whole(place.mark or 0)),
        Cell(brief.piece_name(step.piece)),
        Cell(units.whole(place.row or 0)),
        Cell(units.whole(place.cord or 0)),
        Cell(_tails(brief, chart, place)),
        Cell(_lean(brief, place)),
        Cell(step.note),
    )


def _tails(brief: Brief, chart: ChartPlan, place: Placement) -> str:
    """The gaps between cords that the two tails go through."""
    if place.between is None:
        return ""
    return brief.words("assembly.and").join(
        brief.words("assembly.edge")
        if pair[0] == 0 or pair[1] > chart.columns
        else brief.words("assembly.between", one=pair[0], other=pair[1])
        for pair in place.between
    )


def _lean(brief: Brief, place: Placement) -> str:
    words, turn = brief.words, place.turn_degrees
    if not turn:
        return words("assembly.upright")
    side = words("sides.right" if turn > 0 else "sides.left")
    return words("assembly.leaning", degrees=units.whole(abs(turn)), side=side)
