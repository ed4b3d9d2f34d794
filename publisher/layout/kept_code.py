"""Keep the compiled code of the package's own templates, as Python keeps that of its modules.

It lies among the package's own compiled modules: whoever can write there can change the program
anyway. A template that a writer has changed is compiled by every process, and nothing that lies in
a folder of hers, or in the output, is ever run as code.
"""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

import jinja2
from jinja2.bccache import Bucket

from publisher.templates import TemplateFile


class KeptCode(jinja2.FileSystemBytecodeCache):
    """Jinja2's cache, for templates that are as they came with the package.

    `settings`: what else the code depends on; code that was made under others is not used.
    """

    def __init__(self, files: Mapping[str, TemplateFile], settings: str) -> None:
        super().__init__(str(_folder()), f"%s.{sys.implementation.cache_tag}.jinja")
        self._files = files
        self._settings = f"{jinja2.__version__} {settings}"

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        return name.replace("/", ".")

    def get_source_checksum(self, source: str) -> str:
        return super().get_source_checksum(f"{self._settings}\n{source}")

    def load_bytecode(self, bucket: Bucket) -> None:
        if not self._keeps(bucket):
            return
        try:
            super().load_bytecode(bucket)
        except Exception:  # whatever a damaged file can raise: it is made anew
            bucket.reset()

    def dump_bytecode(self, bucket: Bucket) -> None:
        if self._keeps(bucket) and not sys.dont_write_bytecode:
            with suppress(OSError):  # a package that may only be read
                super().dump_bytecode(bucket)

    def _keeps(self, bucket: Bucket) -> bool:
        return any(
            file.as_installed and self.get_cache_key(name) == bucket.key
            for name, file in self._files.items()
        )


def _folder() -> Path:
    return Path(importlib.util.cache_from_source(__file__)).parent
