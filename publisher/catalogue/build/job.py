"""Do one job: from a pattern to the bytes of its files. No disk, no clock but to time itself."""

from __future__ import annotations

import json
import time
from collections import ChainMap
from collections.abc import Callable, Mapping
from dataclasses import field, replace
from datetime import datetime
from functools import cached_property, partial
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.digests import digest_of, digest_of_book, digest_of_pattern
from publisher.catalogue.build.entries import entry_to_bytes
from publisher.catalogue.build.libraries import is_large
from publisher.catalogue.build.packs import plan_slot
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.values import (
    COMPANIONS,
    CUTTING_LISTS,
    FIGURES,
    BuildJob,
    Made,
    Result,
    Target,
)
from publisher.errors import (
    MORE_OPEN,
    TOO_MANY_OPEN,
    FontError,
    Place,
    Problem,
    PublisherError,
    is_at_limit,
)
from publisher.frozen import frozen
from publisher.store import NO_STORE, Memory, Store
from publisher.templates import KNOT_WORDS, TemplateFile, Templates

if TYPE_CHECKING:
    from publisher.knots import KnotLibrary
    from publisher.manuscript.blocks import Manuscript
    from publisher.model.book import Book
    from publisher.model.pattern import Pattern
    from publisher.model.plan import Plan

_PICTURE_DPI = 150.0


@frozen(slots=False)
class Toolkit:
    """The things that all jobs of a run share; a worker gets them once."""

    files: Mapping[str, TemplateFile]
    own_knots: Mapping[str, str]
    pipeline: Pipeline = field(default_factory=Pipeline)
    made_by: str = ""
    """A digest of all that drawings are made by."""
    shared: Mapping[str, bytes] = field(default_factory=dict)
    """What was drawn before for all targets."""

    @cached_property
    def memory(self) -> Memory:
        """The values that this process has at hand."""
        return Memory(self.made_by, self.shared)

    @cached_property
    def _knots(self) -> KnotLibrary:
        return self.pipeline.load_knots(self.own_knots, self.files[KNOT_WORDS])

    def knots(self, templates: Templates) -> KnotLibrary:
        """The knots, for what is made with these templates."""
        templates.used.add(KNOT_WORDS)
        return self._knots

    def knots_for(self, pattern: Pattern, templates: Templates) -> KnotLibrary:
        """The knots; those that the pattern's steps tie, as they lie beside it."""
        texts, words = self.knot_texts(pattern), templates.file(KNOT_WORDS)
        return self._knots if texts == self._own_texts else self.pipeline.load_knots(texts, words)

    def knot_texts(self, pattern: Pattern) -> dict[str, str]:
        """The files of the writer's own knots by name, as they are for a pattern."""
        return self._own_texts | {knot.name: knot.text for knot in pattern.own_knots}

    @cached_property
    def _own_texts(self) -> dict[str, str]:
        return {Path(path).stem: text for path, text in self.own_knots.items()}

    def templates(self) -> Templates:
        """The templates, none of them marked as used."""
        return Templates(self.files)


def do(toolkit: Toolkit, job: BuildJob) -> Result:
    """Make every target of a job that can be made; what can't is told as problems."""
    started = time.perf_counter()
    result = Result(job.pattern.slug)
    try:
        plans = _Plans(toolkit, job)
        plan = plans.of("right").plan
        result = replace(result, advice=plan.advice, knots=plan.knot_names, large=is_large(plan))
        stores = {
            target: Store(toolkit.memory, job.packs.get(target.name, b"")) for target in job.targets
        }
        begun = [_begin(toolkit, job, plans, target, stores[target]) for target in job.targets]
        for finish in begun:
            result = _with_made(result, job, finish)
        if not job.dry:
            shared = [store.collect_shared() for store in stores.values()]
            result = replace(result, packs=plans.fresh, shared=dict(ChainMap(*shared)))
    except Exception as error:
        result = with_error(result, job.pattern.path, error)
    return replace(result, seconds=time.perf_counter() - started)


def with_error(result: Result, file: str, error: BaseException) -> Result:
    """The result with an error's problems; one that nobody foresaw is told in a line."""
    if isinstance(error, PublisherError):
        told = dict.fromkeys((*result.problems, *error.problems))  # several targets may tell one
        return replace(result, problems=tuple(told))
    problem, trace = unforeseen(file, error)
    return replace(result, problems=(*result.problems, problem), trace=trace)


def unforeseen(file: str, error: BaseException) -> tuple[Problem, str]:
    """A mistake of the program's own, or a limit of the machine: what a person is told, and what
    those who mend it need."""
    import traceback

    trace = "".join(traceback.format_exception(error))
    if is_at_limit(error):
        return Problem(Place(file), TOO_MANY_OPEN, MORE_OPEN), trace
    told = " ".join(f"{type(error).__name__}: {error}".split())[:200]
    last = traceback.extract_tb(error.__traceback__)[-1:]
    where = "".join(f" at {frame.filename.rsplit('/', 1)[-1]}:{frame.lineno}" for frame in last)
    problem = Problem(
        Place(file),
        f"the program failed here, by a mistake of its own ({told}{where})",
        "report this line; PUBLISHER_DEBUG=1 shows more",
    )
    return problem, trace


@frozen
class Planned:
    """A pattern for one hand, with its plan."""

    pattern: Pattern
    plan: Plan


@frozen
class _Plans:
    """A job's plans, each taken from what was kept, or made, when it is first asked for. `fresh`:
    the packs of those made."""

    toolkit: Toolkit
    job: BuildJob
    known: dict[str, Planned] = field(default_factory=dict)
    fresh: dict[str, bytes] = field(default_factory=dict)

    def of(self, hand: str) -> Planned:
        if hand not in self.known:
            self.known[hand] = self._get(hand)
        return self.known[hand]

    def _get(self, hand: str) -> Planned:
        pattern, slot = for_hand(self.job.pattern, hand), plan_slot(hand)
        plan, packed = plan_of(self.toolkit, pattern, self.job.packs.get(slot, b""))
        if packed:
            self.fresh[slot] = packed
        return Planned(pattern, plan)


def plan_of(
    toolkit: Toolkit, pattern: Pattern, packed: bytes, known: Plan | None = None
) -> tuple[Plan, bytes]:
    """A pattern's plan, from what was kept or made anew; and the pack to keep if it was not kept.

    `known`: the plan, where there is one already.
    """
    store = Store(toolkit.memory, packed)
    told = "plan", digest_of_pattern(pattern)
    plan = store.get(told, lambda: known or toolkit.pipeline.make_plan(pattern), _weight_of_plan)
    return plan, store.collect()


def _weight_of_plan(plan: Plan) -> int:
    return 300 * sum(chart.total_knots for chart in plan.charts)


def for_hand(pattern: Pattern, hand: str) -> Pattern:
    """The pattern as it is, or for those who work from the other side."""
    if hand != "left":
        return pattern
    from publisher.source.mirror import for_left_hand

    return for_left_hand(pattern)


_Finish = Callable[[], Made]


def _begin(toolkit: Toolkit, job: BuildJob, plans: _Plans, target: Target, store: Store) -> _Finish:
    """Make a target, but for what others do meanwhile. What fails is told in the target's turn."""
    try:
        return _make(toolkit, job, plans, target, store)
    except Exception as error:
        return partial(_fail, error)


def _fail(error: Exception) -> Made:
    raise error


def _with_made(result: Result, job: BuildJob, finish: _Finish) -> Result:
    try:
        made = finish()
    except Exception as error:
        return with_error(result, job.pattern.path, error)
    problems = (*result.problems, *made.problems)
    return replace(result, made=(*result.made, made), problems=problems)


def _make(toolkit: Toolkit, job: BuildJob, plans: _Plans, target: Target, store: Store) -> _Finish:
    templates = toolkit.templates()
    if target == COMPANIONS:
        finish = _companions(toolkit, job, plans.of("right"), templates, store)
        return lambda: replace(finish(), pack=store.collect())
    if target == FIGURES:
        from publisher.catalogue.build.draw_figures import draw_files

        drawn = draw_files(toolkit, job, plans.of("right"), templates, store)
        return lambda: replace(drawn, pack=store.collect())
    hand = toolkit.pipeline.edition_hand(templates, target.edition)
    files, digest = _edition(toolkit, job, plans.of(hand), target, templates, store)
    pack = b"" if job.dry or files is None else store.collect()
    made = Made(target, files, digest, used_of(templates), pack=pack)
    return lambda: made


def used_of(templates: Templates) -> tuple[str, ...]:
    return tuple(sorted(templates.used))


def _edition(
    toolkit: Toolkit,
    job: BuildJob,
    planned: Planned,
    target: Target,
    templates: Templates,
    store: Store,
) -> tuple[dict[str, bytes] | None, str]:
    """Files, none where they came out as before, and the digest of the layout."""
    name = f"{planned.pattern.slug}-{planned.pattern.version}-{target.edition}"
    lists = _left_cutting_list(toolkit, planned, templates, target)
    form = toolkit.pipeline.edition_form(templates, target.edition)
    if form != "pages":
        texts = _texts(toolkit, planned, target, templates, job, form, store)
        digest = digest_of(name.encode(), *texts.values(), *lists.values())
        files = {f"{name}{ending}": text for ending, text in texts.items()} | lists
        return (None if job.dry or job.before.get(target) == digest else files), digest
    if job.unprintable:
        raise FontError(*job.unprintable)
    book = lay_out(toolkit, planned, target, templates, job.date, job.students, store)
    digest = digest_of(name.encode(), digest_of_book(book).encode(), *lists.values())
    if job.dry and _draws_with_own(templates):
        toolkit.pipeline.print_book(book)
    if job.dry or job.before.get(target) == digest:
        return None, digest
    pdf = toolkit.pipeline.print_book(book, store)
    return {f"{name}-{target.paper}.pdf": pdf, **lists}, digest


def _left_cutting_list(
    toolkit: Toolkit, planned: Planned, templates: Templates, target: Target
) -> dict[str, bytes]:
    """Return the cutting list that lies beside an edition for the left hand, by its name."""
    if toolkit.pipeline.edition_hand(templates, target.edition) != "left":
        return {}
    return {CUTTING_LISTS["left"]: toolkit.pipeline.cutting_list_csv(planned.plan).encode()}


def _draws_with_own(templates: Templates) -> bool:
    """Has a book been laid out with templates that a writer has changed?"""
    used = (templates.files[name] for name in templates.used if name.endswith(".svg"))
    return any(not file.as_installed for file in used)


def lay_out(
    toolkit: Toolkit,
    planned: Planned,
    target: Target,
    templates: Templates,
    date: datetime,
    students: int | None = None,
    store: Store = NO_STORE,
) -> Book:
    """An edition's pages."""
    manuscript = _manuscript(toolkit, planned, target, templates, date, students, store)
    return toolkit.pipeline.lay_out(manuscript, templates, store)


def _texts(
    toolkit: Toolkit,
    planned: Planned,
    target: Target,
    templates: Templates,
    job: BuildJob,
    form: str,
    store: Store,
) -> dict[str, bytes]:
    """An edition without pages, by the ending of its files."""
    manuscript = _manuscript(toolkit, planned, target, templates, job.date, job.students, store)
    if form == "bench":
        return {".html": toolkit.pipeline.lay_out_bench(manuscript, templates, store).encode()}
    return {
        ".txt": toolkit.pipeline.lay_out_text(manuscript).encode(),
        ".html": toolkit.pipeline.lay_out_web(manuscript, templates).encode(),
    }


def _manuscript(
    toolkit: Toolkit,
    planned: Planned,
    target: Target,
    templates: Templates,
    date: datetime,
    students: int | None,
    store: Store,
) -> Manuscript:
    return toolkit.pipeline.write_manuscript(
        planned.pattern,
        planned.plan,
        toolkit.knots_for(planned.pattern, templates),
        templates,
        target.edition,
        target.paper,
        date,
        {} if students is None else {"students": students},
        store,
    )


def _companions(
    toolkit: Toolkit, job: BuildJob, planned: Planned, templates: Templates, store: Store
) -> _Finish:
    """The plan for programs, the cutting list for spreadsheets, the picture for the shop."""
    pipeline, plan = toolkit.pipeline, planned.plan
    knots = toolkit.knots_for(planned.pattern, templates)
    texts = {
        "plan.json": plan_json(pipeline, plan).encode(),
        CUTTING_LISTS["right"]: pipeline.cutting_list_csv(plan).encode(),
    }
    picture = pipeline.lay_out_picture(plan, knots, templates, store)
    digest = digest_of(*texts.values(), digest_of_book(picture).encode())
    same = job.dry or job.before.get(COMPANIONS) == digest
    painted = None if same else pipeline.picture_of(picture, _PICTURE_DPI)
    entry = entry_to_bytes(pipeline.write_entry(planned.pattern, plan, knots, templates, store))
    made = Made(COMPANIONS, None, digest, used_of(templates), entry)
    if painted is None:
        return lambda: made
    return lambda: replace(made, files={**texts, "picture.png": painted()})


def plan_json(pipeline: Pipeline, plan: Plan) -> str:
    """The plan as JSON text: one line, as it is large and read by programs, and in ASCII, which
    any console passes on as it is."""
    return json.dumps(pipeline.plan_as_json(plan)) + "\n"
