"""Read what is to be released: the pattern, its plan and its content, with nothing written."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build import Run
from publisher.catalogue.digests import digest_of
from publisher.catalogue.kept import keep, plan_from_bytes, plan_path, plan_to_bytes
from publisher.catalogue.putting import WorkFolder
from publisher.catalogue.reading import read_source
from publisher.catalogue.workshop import read_text
from publisher.errors import Place
from publisher.frozen import frozen
from publisher.plan.errata.content import Content, content_of
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.plan.values import Plan
    from publisher.source.pattern import Pattern


@frozen
class Draft:
    """A pattern that may become a release. `sources`: the digests of the files it is read from;
    `templates`: for what a release has besides its editions, marked as they are used."""

    pattern: Pattern
    plan: Plan
    content: Content
    sources: dict[str, str]
    templates: Templates
    fresh: bool
    """The plan was made just now, and is not kept yet."""

    @property
    def version_place(self) -> Place:
        """Where the version stands in the pattern's file."""
        from publisher.source.syntax_tree import Places

        text = read_text(Path(self.pattern.path))
        return Place(self.pattern.path, Places(text).line(("version",)))


def read_draft(run: Run, path: Path) -> Draft:
    """SourceError and TemplateError as their rooms raise them."""
    from publisher.manuscript.terms import terms_paragraphs

    pattern, sources = read_source(run.bench.stages, run.present, path)
    plan = None
    with suppress(OSError):
        plan = plan_from_bytes(plan_path(run.workshop.out, pattern, "right").read_bytes())
    fresh = plan is None
    plan = plan or run.bench.stages.make_plan(pattern)
    templates = run.bench.templates()
    terms = "\n\n".join(terms_paragraphs(pattern, templates))
    own = {Path(file).stem: digest_of(text.encode()) for file, text in run.bench.own_knots.items()}
    content = content_of(pattern, plan, terms, own)
    return Draft(pattern, plan, content, sources, templates, fresh)


def keep_plan(run: Run, draft: Draft, work: WorkFolder) -> None:
    """Keep a plan that was made, for the build that follows."""
    if draft.fresh:
        path = plan_path(run.workshop.out, draft.pattern, "right")
        keep(work, path, plan_to_bytes(draft.plan))
