"""Find the compiled code of the package's own templates, which was made when it was packed.

Only the package's own folder is read: whoever can write there can change the program anyway. What a
writer has changed is compiled by every process, and nothing that lies in a folder of hers, or in
the output, is ever run as code. Compiling all templates takes a process 50 ms, a tenth of what all
books take after a change of theirs.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path

import jinja2
from jinja2.bccache import Bucket

from publisher.store import digest_of_values, pack, unpack
from publisher.templates import TemplateFile

CODE_FILE = Path(__file__).with_name("templates.pack")


class InstalledCode(jinja2.BytecodeCache):
    """Jinja2's cache, for templates that are as they came with the package."""

    def __init__(self, files: Mapping[str, TemplateFile], known: Mapping[str, bytes]) -> None:
        self._files = files
        self._known = known
        self.compiled: dict[str, bytes] = {}
        """The code that was made here, by the templates' names."""

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        return name

    def load_bytecode(self, bucket: Bucket) -> None:
        known = self._known.get(bucket.key)
        if known is not None and self._files[bucket.key].as_installed:
            with suppress(Exception):  # whatever strange bytes can raise: it is made anew
                bucket.bytecode_from_string(known)

    def dump_bytecode(self, bucket: Bucket) -> None:
        if self._files[bucket.key].as_installed:
            self.compiled[bucket.key] = bucket.bytecode_to_string()


@cache
def installed_code(settings: str) -> Mapping[str, bytes]:
    """Return the code that came with the package; none if it was made under other settings."""
    try:
        packed = CODE_FILE.read_bytes()
    except OSError:
        return {}
    return unpack(packed, _made_by(settings))


def pack_code(compiled: Mapping[str, bytes], settings: str) -> None:
    """Put compiled templates where `installed_code` finds them."""
    CODE_FILE.write_bytes(pack(compiled, _made_by(settings)))


def _made_by(settings: str) -> str:
    """Return a digest of all that compiled code depends on but its template's text."""
    return digest_of_values((jinja2.__version__, sys.implementation.cache_tag, settings))
