"""Write a plan as plain text for a person at a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.manuscript.markup import plain
from publisher.manuscript.measures import Measures
from publisher.manuscript.notes import NoteWords
from publisher.manuscript.words import Words, read_words
from publisher.model import units
from publisher.model.pattern import Pattern
from publisher.model.plan import ChartPlan, Plan
from publisher.templates import Templates

_ARROWS = {"left": "→", "right": "←"}


def plan_for_people(plan: Plan, pattern: Pattern, templates: Templates) -> str:
    """Sizes, lists, yarns and rows, a line each; ends with a line break."""
    words = read_words(templates)
    measures = Measures(words, pattern.units)
    lines = [words("plan.head", title=plan.title, version=plan.version), ""]
    for piece in plan.charts:
        lines += [*_piece(piece, words, measures), ""]
    lines += [*_parts(plan, words, measures), ""] if plan.parts else []
    lines += [words("materials.cutting"), *_cutting(plan, words, measures), ""]
    lines += [words("materials.shopping"), *_shopping(plan, words), ""]
    for piece in plan.charts:
        of = f" · {piece.id}" if len(plan.charts) > 1 else ""
        lines += [words("plan.yarns") + of, *_yarns(piece, words), ""]
        lines += [words("contents.rows") + of, *_rows(piece, words, measures), ""]
    return "\n".join(lines).rstrip() + "\n"


def _piece(piece: ChartPlan, words: Words, measures: Measures) -> Iterator[str]:
    width, height = (measures.length(n) for n in (piece.width_mm, piece.height_mm))
    yield words(
        "plan.piece",
        id=piece.id,
        columns=piece.columns,
        rows=piece.rows,
        knots=units.whole(piece.total_knots),
        width=width,
        height=height,
    )
    yield words(
        "plan.ends",
        yarns=len(piece.yarns),
        ends=len(piece.ends),
        pairs=len(piece.end_pairs),
        singles=len(piece.single_ends),
    )


def _parts(plan: Plan, words: Words, measures: Measures) -> Iterator[str]:
    for part in plan.parts:
        yield words(
            "plan.part",
            id=part.id,
            make=part.make,
            knots=units.whole(part.total_knots),
            width=measures.length(part.width_mm),
            height=measures.length(part.height_mm),
        )
    places = [step for step in plan.assembly if step.placement and step.placement.mark]
    if places:
        yield words("plan.places")
    for step in places:
        place = step.placement
        assert place is not None
        yield words(
            "plan.place",
            mark=place.mark,
            piece=step.piece,
            row=place.row,
            cord=place.cord,
            on=place.piece,
        )


def _cutting(plan: Plan, words: Words, measures: Measures) -> Iterator[str]:
    for line in plan.cutting_list:
        yield words(
            "plan.cut",
            count=line.count,
            length=measures.length(line.length_mm, "up"),
            colour=f"{line.colour} {plan.colour(line.colour).name}",
            purpose=line.purpose,
        )


def _shopping(plan: Plan, words: Words) -> Iterator[str]:
    for line in plan.shopping:
        balls = "" if line.balls is None else words.count("plan.balls", line.balls)
        yield words(
            "plan.buy",
            colour=f"{line.colour} {plan.colour(line.colour).name}",
            metres=units.metres(line.length_m * 1000),
            grams=units.grams(line.mass_g),
            balls=balls,
        )


def _yarns(piece: ChartPlan, words: Words) -> Iterator[str]:
    for yarn in piece.yarns:
        first, last = yarn.stretches[0], yarn.stretches[-1]
        yield words(
            "plan.yarn",
            id=yarn.id,
            knots=yarn.knots,
            metres=units.metres(yarn.length_mm, "nearest", 2),
            row=first.row,
            cord=first.first_cord,
            last_row=last.row,
            last_cord=last.last_cord,
            carries=len(yarn.carries),
            joins=len(yarn.joins),
        )


def _rows(piece: ChartPlan, words: Words, measures: Measures) -> Iterator[str]:
    notes_in = NoteWords(words, measures, piece)
    for row in piece.row_list:
        runs = words("rows.between").join(
            plain(words.say("rows.run", knots=run.knots, letter=run.colour)) for run in row.runs
        )
        notes = "; ".join(f"{note.cord}: {plain(note.text)}" for note in notes_in.say(row))
        head = f"{row.row:>4} {_ARROWS[row.start]} {runs}"
        yield f"{head}  [{notes}]" if notes else head
