"""Make what comes with the program ready to use: drawings of its knots, code of its templates.

It is called while a wheel is built, never by a program that is installed.
"""

from __future__ import annotations

from publisher.catalogue.build.digests import knots_digest
from publisher.catalogue.build.packs import installed_pack
from publisher.catalogue.workshop import read_templates
from publisher.layout.installed_code import pack_code
from publisher.layout.sandbox import SETTINGS
from publisher.layout.templating import Compiled
from publisher.manuscript.knot_figures import draw_booklets_knots
from publisher.press.papers import PAPERS_MM
from publisher.store import pack


def draw_knots() -> None:
    """Draw our own knots as booklets show them."""
    drawn = draw_booklets_knots(read_templates(None), PAPERS_MM)
    installed_pack().write_bytes(pack(drawn, knots_digest()))


def compile_templates() -> None:
    """Compile our own templates."""
    compiled = Compiled(read_templates(None))
    for name in compiled.files:
        if name.startswith(("blocks/", "pages/")):
            compiled.template(name)
    pack_code(compiled.code.compiled, SETTINGS)
