"""Show the board in a web page of this machine: what is asked for, by whom, and nothing else.

The server listens on 127.0.0.1 alone. It answers only where the Host header names it, so that no
other site's page can reach it under a name of its own, and only GET and HEAD. Of the disk it reads
regular files within the output folder, hidden ones not among them.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Mapping, Sequence
from functools import lru_cache
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from mimetypes import MimeTypes
from pathlib import Path
from typing import Any
from urllib.parse import SplitResult, parse_qs, unquote_to_bytes, urlsplit

from publisher.catalogue.build.job import unforeseen
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.watch.board import Board, as_data
from publisher.errors import Place, Problem, UsageError

HOST = "127.0.0.1"
USUAL_PORT = 8040
_PAGE_DPI = 120.0
_KEPT_PAGES = 200
_PATIENCE_S = 20.0
_GONE = (ConnectionError, TimeoutError)
"""How a page that has gone away shows."""
_WEB = Path(__file__).with_name("web")
_KINDS = MimeTypes()
"""Those that the standard library knows, whatever else a system thinks of an ending."""
_OWN = {"": "watch.html", "watch.js": "watch.js", "watch.css": "watch.css"}
_OWN_RULES = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'"
)
_OUT_RULES = (
    "default-src 'none'; img-src 'self' data:; font-src data:; "
    "style-src 'unsafe-inline'; script-src 'unsafe-inline'"
)


class Server(ThreadingHTTPServer):
    """The local page. `serve_forever` runs it, `shutdown` ends it."""

    daemon_threads = True

    def __init__(self, board: Board, out: Path, pipeline: Pipeline, port: int | None) -> None:
        self.board, self.out = board, out
        self._stages = pipeline
        self.page_picture = lru_cache(_KEPT_PAGES)(self._page_picture)
        super().__init__((HOST, port if port is not None else USUAL_PORT), _Answer)

    @property
    def address(self) -> str:
        return f"http://{HOST}:{self.server_port}/"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing of a page that went away, as they do; of anything else a line.

        A tab that is closed breaks its connections off, also between two requests.
        """
        error = sys.exception()
        if error is None or isinstance(error, _GONE):
            return
        problem, trace = unforeseen("publisher watch", error)
        sys.stderr.write(f"{problem}\n")
        if os.environ.get("PUBLISHER_DEBUG") == "1":
            sys.stderr.write(trace)

    def _page_picture(self, file: str, digest: str, number: int) -> bytes:
        """A page as it is now; `digest` says of which file, so that an old one is not kept."""
        return self._stages.page_picture((self.out / file).read_bytes(), number, _PAGE_DPI)


def start_server(board: Board, out: Path, pipeline: Pipeline, port: int | None) -> Server:
    """A server on this port, or on any if none is asked for and the usual one is taken.

    UsageError if it can't be had.
    """
    try:
        return Server(board, out, pipeline, port)
    except (OSError, OverflowError) as error:
        if port is None:
            return Server(board, out, pipeline, 0)
        reason = getattr(error, "strerror", None) or str(error)
        problem = Problem(Place(f"--port {port}"), f"it can't be had ({reason})", "choose another")
        raise UsageError(problem) from None


def file_within(folder: Path, asked: str) -> Path | None:
    """The regular file in a folder that an address asks for, still encoded; None if there is none.

    No part may be empty, hidden or lead up; a link counts as what it leads to.
    """
    try:
        parts = unquote_to_bytes(asked).decode().split("/")
    except UnicodeDecodeError:
        return None
    if any(not part or part.startswith(".") or set(part) & _NOT_IN_NAMES for part in parts):
        return None
    try:
        root = folder.resolve(strict=True)
        found = root.joinpath(*parts).resolve(strict=True)
    except (OSError, ValueError, RuntimeError):
        return None
    hidden = not found.is_relative_to(root) or any(
        part.startswith(".") for part in found.relative_to(root).parts
    )
    return None if hidden or not found.is_file() else found


_NOT_IN_NAMES = frozenset(map(chr, range(32))) | {"\\", ":", "\x7f"}


class _Answer(BaseHTTPRequestHandler):
    """One request and what is answered."""

    server: Server
    server_version = "publisher"
    sys_version = ""
    protocol_version = "HTTP/1.1"
    timeout = 60

    def do_GET(self) -> None:
        address, hosts = _address(self.path), self.headers.get_all("Host") or []
        try:
            if address is None or len(hosts) != 1:
                self.close_connection = True
                text = b"this is no request that can be understood\n"
                self._send(HTTPStatus.BAD_REQUEST, text, "text/plain")
            elif not self._is_meant_for_us(hosts[0]):
                text = b"this page is for this machine alone\n"
                self._send(HTTPStatus.FORBIDDEN, text, "text/plain")
            else:
                self._answer(address.path.removeprefix("/"), parse_qs(address.query))
        except _GONE:
            self.close_connection = True

    def do_HEAD(self) -> None:
        self.do_GET()

    def _is_meant_for_us(self, host: str) -> bool:
        port = self.server.server_port
        ours = host.lower() in (f"{HOST}:{port}", f"localhost:{port}")
        return ours and self.headers.get("Sec-Fetch-Site") != "cross-site"

    def _answer(self, path: str, asked: Mapping[str, Sequence[str]]) -> None:
        first, _, rest = path.partition("/")
        if path in _OWN:
            name = _OWN[path]
            self._send_file(_WEB / name, _OWN_RULES)
        elif path == "state":
            self._send_state(asked)
        elif first == "page":
            self._send_page(rest)
        elif first == "out" and (found := file_within(self.server.out, rest)):
            self._send_file(found, _OUT_RULES)
        else:
            self._send_nothing()

    def _send_state(self, asked: Mapping[str, Sequence[str]]) -> None:
        """The board as it is after the revision that the page has, or after a while."""
        since = asked.get("after", [""])[0]
        self.server.board.looked_at = asked.get("looking-at", [""])[0]
        known = int(since) if since.isascii() and since.isdigit() and len(since) < 12 else -1
        state = self.server.board.after(known, _PATIENCE_S)
        self._send(HTTPStatus.OK, json.dumps(as_data(state)).encode(), "application/json")

    def _send_page(self, rest: str) -> None:
        """`FILE/NUMBER` of a book on the board, as a picture."""
        file, _, number = rest.rpartition("/")
        for entry in self.server.board.state.entries.values():
            for book in entry.books:
                if book.file == file and number.isascii() and number.isdigit():
                    self._send_picture(file, book.digest, int(number[:6]))
                    return
        self._send_nothing()

    def _send_picture(self, file: str, digest: str, number: int) -> None:
        try:
            picture = self.server.page_picture(file, digest, number)
        except Exception:  # no such page, or the file is being made anew
            self._send_nothing()
        else:
            self._send(HTTPStatus.OK, picture, "image/png")

    def _send_file(self, path: Path, rules: str) -> None:
        kind = _KINDS.guess_type(path.name)[0] or "application/octet-stream"
        try:
            with open(path, "rb", opener=_open_itself) as file:
                content = file.read()
        except OSError:
            self._send_nothing()
        else:
            charset = "; charset=utf-8" if kind.startswith("text/") else ""
            self._send(HTTPStatus.OK, content, kind + charset, {"Content-Security-Policy": rules})

    def _send_nothing(self) -> None:
        self._send(HTTPStatus.NOT_FOUND, b"there is nothing here\n", "text/plain")

    def _send(
        self, status: HTTPStatus, content: bytes, kind: str, more: Mapping[str, str] | None = None
    ) -> None:
        self.send_response(status)
        headers = {
            "Content-Type": kind,
            "Content-Length": str(len(content)),
            "Cache-Control": "no-store",
            "X-Content-Type-Options": "nosniff",
            "X-Frame-Options": "DENY",
            "Referrer-Policy": "no-referrer",
            "Cross-Origin-Resource-Policy": "same-origin",
            **(more or {}),
        }
        for name, value in headers.items():
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing is said of each request."""


def _address(text: str) -> SplitResult | None:
    """Return what a request is for; None where it is no address (RFC 3986: signs of ASCII
    alone)."""
    try:
        return urlsplit(text) if text.isascii() and text.isprintable() else None
    except ValueError:
        return None


def _open_itself(path: str, flags: int) -> int:
    """Open a file, but not what a link put in its place meanwhile leads to."""
    return os.open(path, flags | getattr(os, "O_NOFOLLOW", 0))
