"""Read what is to be released: the pattern, its plans and what they tell, with nothing written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.digests import digest_of
from publisher.catalogue.build.job import for_hand, plan_of
from publisher.catalogue.build.packs import pack_path, plan_slot, read_pack
from publisher.catalogue.build.publish_files import WorkFolder
from publisher.catalogue.build.reading import read_source
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.build.values import COMPANIONS
from publisher.errata.compare.content import ReleaseContent, content_of
from publisher.errors import Place
from publisher.frozen import frozen
from publisher.tables.text_files import read_text
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.model.pattern import Pattern
    from publisher.model.plan import Plan


@frozen
class Handed:
    """The pattern for one hand, its plan, and what that tells. `pack`: the plan to keep, if it was
    made just now."""

    pattern: Pattern
    plan: Plan
    content: ReleaseContent
    pack: bytes


@frozen
class Draft:
    """A pattern that may become a release. `hands`: the right one, and the left where an edition
    for it is released. `sources`: the digests of the files it is read from; `templates`: for what
    a release has besides its editions, marked as they are used."""

    hands: Mapping[str, Handed]
    sources: Mapping[str, str]
    templates: Templates

    @property
    def pattern(self) -> Pattern:
        return self.hands["right"].pattern

    @property
    def without_prices(self) -> Draft:
        """The same, as it would be if nobody knew what a yarn costs."""
        return replace(self, hands={hand: _unpriced(it) for hand, it in self.hands.items()})

    @property
    def version_place(self) -> Place:
        """The place of the version in the pattern's file."""
        from publisher.tables.places import Places

        text = read_text(Path(self.pattern.path))
        return Place(self.pattern.path, Places(text).line(("version",)))


def _unpriced(handed: Handed) -> Handed:
    pattern, plan = handed.pattern, handed.plan
    colours = tuple(replace(one, yarn=replace(one.yarn, price=None)) for one in pattern.colours)
    shopping = tuple(replace(line, price=None) for line in plan.shopping)
    return replace(
        handed,
        pattern=replace(pattern, colours=colours, prices_as_of=None),
        plan=replace(plan, colours=colours, shopping=shopping),
    )


def read_draft(run: BuildRun, path: Path) -> Draft:
    """SourceError and TemplateError as their rooms raise them."""
    from publisher.manuscript.sections.terms import terms_paragraphs

    pipeline = run.toolkit.pipeline
    pattern, sources = read_source(pipeline, run.present, path)
    templates = run.toolkit.templates()
    pipeline.refuse_unknown_terms(pattern, templates)
    terms = "\n\n".join(terms_paragraphs(pattern, templates))
    editions = [target.edition for target in run.targets if target != COMPANIONS]
    hands = dict.fromkeys(("right", *(pipeline.edition_hand(templates, name) for name in editions)))
    return Draft(
        {hand: _handed(run, for_hand(pattern, hand), hand, terms) for hand in hands},
        sources,
        templates,
    )


def _handed(run: BuildRun, pattern: Pattern, hand: str, terms: str) -> Handed:
    kept = read_pack(pack_path(run.workshop.out, pattern.slug, plan_slot(hand)))
    plan, fresh = plan_of(run.stocked, pattern, kept)
    texts = run.toolkit.knot_texts(pattern).items()
    own = {name: digest_of(text.encode()) for name, text in texts}
    return Handed(pattern, plan, content_of(pattern, plan, terms, own), fresh)


def keep_plans(run: BuildRun, draft: Draft, work: WorkFolder) -> None:
    """Keep plans that were made, for the build that follows."""
    for hand, handed in draft.hands.items():
        if handed.pack:
            path = pack_path(run.workshop.out, handed.pattern.slug, plan_slot(hand))
            work.try_to_put(path, handed.pack)
