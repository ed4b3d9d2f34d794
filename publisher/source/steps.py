"""Turn the table of a piece of steps into the piece, checking what can be done with its cords."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from publisher.errors import Place
from publisher.knots.defaults import defaults
from publisher.knots.load import names_of_ours
from publisher.knots.tying import NOT_TIED, Tying
from publisher.model.parts import (
    Add,
    Bar,
    Cross,
    Drop,
    Gap,
    Gather,
    Glue,
    PartCord,
    Repeat,
    Sew,
    Step,
    StepsPiece,
    Tie,
    Trim,
    Wrap,
)
from publisher.source.follow import (
    MOST_ENDS,
    MOST_STEPS,
    ROUND_ONE,
    StepPath,
    ends_at_first,
    find_faults,
    steps_in_all,
    too_few_or_many,
)
from publisher.source.format.steps import PartCordTable, PlainStepTable, StepsTable, StepTable
from publisher.source.given import Given
from publisher.source.step_keys import find_key_faults, verb_of
from publisher.tables.findings import KeyPath


def make_part(
    given: Given, table: StepsTable, path: KeyPath, letters: Sequence[str], allowance: float
) -> StepsPiece:
    """The piece; it holds what can be made of it where something was found to be wrong."""
    reader = _Reader(given, path, letters)
    cords = reader.cords(table)
    steps = reader.steps(table.steps, ("steps",))
    reader.follow(cords, steps)
    return StepsPiece(
        id=table.id,
        make=table.make,
        bar=None if table.mount is None else Bar(table.mount.on, table.mount.diameter_mm),
        cords=cords,
        steps=steps,
        tail_mm=table.tail_mm,
        allowance_percent=allowance,
        seconds_per_knot=table.seconds_per_knot,
        place=Place(given.file),
    )


class _Reader:
    """Reads one piece; `path` is the way to it."""

    def __init__(self, given: Given, path: KeyPath, letters: Sequence[str]) -> None:
        self.given, self.path, self.letters = given, path, letters

    def find(self, path: StepPath, message: str, hint: str) -> None:
        self.given.findings.add(self.given.file, (*self.path, *path), message, hint)

    def knows(self, *path: str | int) -> bool:
        return self.given.findings.knows(self.given.file, *self.path, *path)

    def cords(self, table: StepsTable) -> tuple[PartCord, ...]:
        cords: list[PartCord] = []
        for index, entry in enumerate(table.cords):
            place: StepPath = ("cords", index)
            self.check_colour(entry.colour, (*place, "colour"))
            self.check_mount(entry, place, cords, table)
            knot = (entry.knot or defaults().mount) if entry.lay == "folded" else ""
            cord = PartCord(entry.colour, entry.lay, entry.on, knot)
            cords += [cord] * entry.count
        return tuple(cords)

    def check_mount(
        self, entry: PartCordTable, place: StepPath, before: list[PartCord], table: StepsTable
    ) -> None:
        """A folded cord hangs on something that is there."""
        if self.knows(*place):
            return
        if entry.on is not None and entry.lay != "folded":
            hint = 'take `on` out, or write lay = "folded"'
            self.find((*place, "on"), "only a folded cord is mounted on another", hint)
        elif entry.lay == "folded" and entry.on is None and table.mount is None:
            hint = (
                'write on = 1 for a cord laid across, or mount = { on = "ring", diameter_mm = 2 }'
            )
            self.find(place, "nothing says what this cord is mounted on", hint)
        elif entry.on is not None and not 1 <= entry.on <= len(before):
            hint = "count the cords from the top of the list; those that others hang on come first"
            self.find((*place, "on"), f"there is no cord {entry.on} above this one", hint)
        elif entry.on is not None and before[entry.on - 1].lay != "across":
            hint = 'give that cord lay = "across", or name one that has it'
            self.find((*place, "on"), f"cord {entry.on} is not laid across", hint)

    def check_colour(self, letter: str, place: StepPath) -> None:
        if self.letters and letter and letter not in self.letters:
            from publisher.tables.words import listed

            hint = f"use one of {listed(self.letters)}"
            self.find(place, f"the colour {letter} is none of the [colours]", hint)

    def steps(self, tables: Iterable[PlainStepTable], above: StepPath) -> tuple[Step, ...]:
        return tuple(self.step(table, (*above, index)) for index, table in enumerate(tables))

    def step(self, table: PlainStepTable, place: StepPath) -> Step:
        """The step, or what stands in for it where its keys don't say one."""
        if self.knows(*place):
            return self.stand_in()
        rule = self.given.knots.tying(table.tie) if table.tie else NOT_TIED
        faults = list(find_key_faults(table, rule))
        if not faults and rule:
            faults = list(_knot_faults(table, rule))
        elif not faults and table.tie is not None:
            faults = list(self.no_such_knot(table.tie))
        for key, message, hint in faults[:1]:
            self.find((*place, key) if key else place, message, hint)
        if faults:
            return self.stand_in()
        for colour, way in _colours(table):
            self.check_colour(colour, (*place, *way))
        if isinstance(table, StepTable) and table.repeat is not None:
            inner = self.steps(table.steps or (), (*place, "steps"))
            return Repeat(times=table.repeat, steps=inner, note=table.note)
        return _plain(table)

    def no_such_knot(self, knot: str) -> Iterator[tuple[str, str, str]]:
        from publisher.tables.words import nearest, shown

        own = self.given.knots.find(knot)
        if own is not None:
            yield "tie", *own.fault
            return
        known = (*names_of_ours(lambda ours: ours.tying), *self.given.knots.names())
        near = nearest(knot, known)
        hint = f'did you mean "{near}"?' if near else f"it can be {' or '.join(map(shown, known))}"
        yield "tie", f"`tie` can't be {shown(knot)}", hint

    def stand_in(self) -> Step:
        """In the place of a step that can't be read, so that the others keep theirs."""
        return Glue(what="")

    def follow(self, cords: tuple[PartCord, ...], steps: tuple[Step, ...]) -> None:
        """Count the cords through the steps, where the cords themselves are known."""
        ends = ends_at_first(cords)
        if self.knows("cords"):
            return
        if ends > MOST_ENDS:
            hint = "part the work into two pieces"
            self.find(("cords",), f"these cords have {ends} ends; the most are {MOST_ENDS}", hint)
        elif steps_in_all(steps) > MOST_STEPS:
            message = f"with its repeats, this piece has more than {MOST_STEPS:,} steps"
            self.find(("steps",), message, "part the work into two pieces")
        elif not self.skipped():
            for fault in find_faults(steps, ends, self.given.knots.tying):
                self.find(("steps", *fault.path), fault.message, fault.hint)

    def skipped(self) -> bool:
        """Return whether a step could not be read: then nobody knows how many cords hang after
        it."""
        return self.knows("steps")


def _colours(table: PlainStepTable) -> Iterator[tuple[str, StepPath]]:
    if table.colour:
        yield table.colour, ("colour",)
    if table.add:
        yield table.add.colour, ("add", "colour")


def _knot_faults(table: PlainStepTable, rule: Tying) -> Iterator[tuple[str, str, str]]:
    """A knot round one filler is written on purpose; fillers that are said are there."""
    if table.on is None:
        return
    count, knot = len(table.on), table.tie or ""
    if table.fillers is not None and not rule.around:
        yield "fillers", f'"{knot}" has no fillers', "take `fillers` out"
    elif table.fillers is not None and table.fillers != count - 2:
        message = f'"{knot}" on {count} cords does not go round {table.fillers}'
        yield "fillers", message, "name the fillers and the two cords beside them in `on`"
    elif rule.around and count == ROUND_ONE and table.fillers is None:
        message, hint = too_few_or_many(knot, rule, count)
        yield "on", message, f"{hint}; or, to go round one cord, add fillers = 1"
    elif not (rule.least if table.fillers is None else ROUND_ONE) <= count <= rule.most:
        yield "on", *too_few_or_many(knot, rule, count)


def _plain(table: PlainStepTable) -> Step:
    """A step whose keys are those of its verb."""
    on, note = tuple(table.on or ()), table.note
    match verb_of(table):
        case "tie":
            return Tie(
                knot=table.tie or "",
                on=on,
                leader=table.leader,
                worker=table.worker,
                facing=table.facing or "left",
                times=table.times or 1,
                note=note,
            )
        case "gap_mm":
            return Gap(gap_mm=table.gap_mm or 0.0, on=on, note=note)
        case "cross":
            front, back = table.cross or (0, 0)
            return Cross(front=front, back=back, note=note)
        case "gather":
            return Gather(on=tuple(table.gather or ()), note=note)
        case "drop":
            return Drop(on=tuple(table.drop or ()), note=note)
        case "add":
            assert table.add is not None
            return Add(colour=table.add.colour, lay=table.add.lay, at=table.add.at, note=note)
        case "wrap":
            wrapped = tuple(table.wrap or ())
            return Wrap(on=wrapped, turns=table.turns or 2, colour=table.colour or "", note=note)
        case "trim_mm":
            return Trim(trim_mm=table.trim_mm or 0.0, on=on, note=note)
        case "glue":
            return Glue(what=table.glue or "", note=note)
        case _:
            return Sew(what=table.sew or "", note=note)
