"""Set a manuscript as one web page that reads well aloud, through the writer's template."""

from __future__ import annotations

from publisher.layout.reading import read_aloud
from publisher.layout.templating import web_page
from publisher.manuscript.blocks import Manuscript
from publisher.templates import Templates


def lay_out_web(manuscript: Manuscript, templates: Templates) -> str:
    """The whole book as HTML, in itself complete. TemplateError where the template is wrong."""
    return web_page(
        templates,
        "reading",
        manuscript.look,
        said=read_aloud(manuscript),
        title=manuscript.title,
        author=manuscript.author,
        language=manuscript.language,
        version=manuscript.version,
        labels=manuscript.words,
    )
