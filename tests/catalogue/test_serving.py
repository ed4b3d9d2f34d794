"""The watch's server: what it gives, and that nothing else on the disk can be had from it."""

from __future__ import annotations

import contextlib
import http.client
import json
import os
import random
import socket
import struct
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from publisher.catalogue.watch.board import Board, BoardEntry, ShownBook
from publisher.catalogue.watch.serving import Server, file_within, start_server
from publisher.errors import Place, Problem, UsageError
from tests.support.stand_ins import StandIns

SECRET = b"the writer's diary"


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """An output folder with a book, and secrets around it."""
    out = tmp_path / "build"
    (out / "tide" / "releases").mkdir(parents=True)
    (out / "tide/tide.pdf").write_bytes(b"%PDF the book")
    (out / "tide/with space.txt").write_bytes(b"spaced")
    (out / ".cache").mkdir()
    for secret in ("secret.txt", "build/.cache/secret.txt", "build/tide/.hidden", "build-2.txt"):
        (tmp_path / secret).write_bytes(SECRET)
    (out / "tide/link.txt").symlink_to(tmp_path / "secret.txt")
    (out / "linked").symlink_to(tmp_path)
    (out / "tide/own-cache.txt").symlink_to(out / ".cache/secret.txt")
    (out / "tide/round.txt").symlink_to(out / "tide/round.txt")
    (out / "tide/same.pdf").symlink_to(out / "tide/tide.pdf")
    os.mkfifo(out / "tide/pipe")
    return out


@pytest.fixture
def server(out: Path) -> Iterator[Server]:
    server = start_server(Board(), out, StandIns(out.parent / "log"), 0)
    threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True).start()
    yield server
    server.shutdown()
    server.server_close()


def ask(
    server: Server, path: str, method: str = "GET", **headers: str
) -> tuple[int, bytes, http.client.HTTPMessage]:
    """Ask for a path exactly as it is written."""
    connection = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=30)
    try:
        connection.request(
            method, path, headers={name.replace("_", "-"): value for name, value in headers.items()}
        )
        answer = connection.getresponse()
        return answer.status, answer.read(), answer.headers
    finally:
        connection.close()


def test_gives_the_page_and_its_parts(server: Server) -> None:
    status, page, headers = ask(server, "/")
    assert status == 200 and b"watch.js" in page
    assert "script-src 'self'" in headers["Content-Security-Policy"]
    for part, kind in (("/watch.js", "javascript"), ("/watch.css", "text/css")):
        status, content, headers = ask(server, part)
        assert status == 200 and content and kind in headers["Content-Type"]


def test_gives_what_was_made(server: Server) -> None:
    assert ask(server, "/out/tide/tide.pdf")[:2] == (200, b"%PDF the book")
    assert ask(server, "/out/tide/with%20space.txt")[:2] == (200, b"spaced")
    assert ask(server, "/out/tide/same.pdf")[0] == 200
    status, content, headers = ask(server, "/out/tide/tide.pdf", "HEAD")
    assert (status, content, headers["Content-Length"]) == (200, b"", "13")


STRANGE = [
    "/secret.txt",
    "/out/../secret.txt",
    "/out/tide/../../secret.txt",
    "/out/%2e%2e/secret.txt",
    "/out/%2e%2e%2fsecret.txt",
    "/out/..%2fsecret.txt",
    "/out/%252e%252e/secret.txt",
    "/out/..%5csecret.txt",
    "/out/..\\secret.txt",
    "/out//etc/passwd",
    "/out/%2fetc%2fpasswd",
    "/out//secret.txt",
    "/out/tide/%2e%2e/%2e%2e/secret.txt",
    "/out/..%c0%afsecret.txt",
    "/out/%c0%ae%c0%ae/secret.txt",
    "/out/tide/tide.pdf%00.txt",
    "/out/.cache/secret.txt",
    "/out/%2ecache/secret.txt",
    "/out/tide/.hidden",
    "/out/tide/link.txt",
    "/out/tide/own-cache.txt",
    "/out/tide/round.txt",
    "/out/linked/secret.txt",
    "/out/linked/build-2.txt",
    "/out/../build-2.txt",
    "/out-2.txt",
    "/out",
    "/out/",
    "/out/tide",
    "/out/tide/",
    "/out/tide/releases",
    "/out/tide/pipe",
    "/out/" + "a/" * 3000,
    "/out/" + "a" * 5000,
    "/page/tide/tide.pdf/1",
    "/page/../../secret.txt/1",
    "/page/%2e%2e/secret.txt/1",
    "/../secret.txt",
    "/watch.html/../../serving.py",
    "/web/watch.html",
    "//etc/passwd",
    "/etc/passwd",
]


@pytest.mark.parametrize("path", STRANGE)
def test_nothing_else_can_be_had(server: Server, path: str) -> None:
    status, content, _ = ask(server, path)
    assert status in (400, 403, 404, 414), path
    assert SECRET not in content and b"root:" not in content


def test_raw_lines_that_no_client_would_send(server: Server) -> None:
    for line in (b"GET file:///etc/passwd HTTP/1.1", b"GET ../secret.txt HTTP/1.1", b"\x00\xff"):
        with socket.create_connection(("127.0.0.1", server.server_port), 10) as raw:
            host = f"Host: 127.0.0.1:{server.server_port}\r\nConnection: close\r\n\r\n"
            raw.sendall(line + b"\r\n" + host.encode())
            got = b""
            while part := raw.recv(65536):
                got += part
        assert SECRET not in got and b"root:" not in got and b" 200 " not in got[:20]


HOST_LINE = b"Host: 127.0.0.1:%d\r\n"


@pytest.mark.parametrize(
    ("lines", "status"),
    [
        (b"GET http://[::1 HTTP/1.1\r\n" + HOST_LINE, 400),
        (b"GET /state?after=[ HTTP/1.1\r\n" + HOST_LINE, 200),
        (b"GET /\x00 HTTP/1.1\r\n" + HOST_LINE, 400),
        (b"GET /\xff\xfe HTTP/1.1\r\n" + HOST_LINE, 400),
        (b"GET / HTTP/1.1\r\n", 400),
        (b"GET / HTTP/1.1\r\n" + HOST_LINE + HOST_LINE, 400),
        (b"GET / HTTP/1\r\n" + HOST_LINE, 400),
        (b"GET / HTTP/x.y\r\n" + HOST_LINE, 400),
        (b"GET / / HTTP/1.1\r\n" + HOST_LINE, 400),
        (b"GET\r\n" + HOST_LINE, 400),
        (b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n", 400),
        (b"GET /" + b"a" * 70_000 + b" HTTP/1.1\r\n" + HOST_LINE, 414),
        (b"GET / HTTP/1.1\r\n" + HOST_LINE + b"X: y\r\n" * 200, 431),
        (b"GET / HTTP/1.1\r\n" + HOST_LINE + b"X: " + b"y" * 70_000 + b"\r\n", 431),
    ],
)
def test_malformed_requests_are_answered_as_such_and_no_traceback_is_printed(
    server: Server, capfd: pytest.CaptureFixture[str], lines: bytes, status: int
) -> None:
    """Statuses: RFC 9110, 15.5, RFC 9112, 3.2 (one Host, 400 else) and RFC 6585, 5."""
    got = raw_answer(server, lines.replace(b"%d", str(server.server_port).encode()) + b"\r\n")
    assert b" %d " % status in got.split(b"\r\n")[0], got[:80]
    assert ask(server, "/")[0] == 200, "and the next one is answered"
    assert capfd.readouterr().err == ""


def raw_answer(server: Server, sent: bytes) -> bytes:
    """All that comes back where nothing more is sent."""
    with socket.create_connection(("127.0.0.1", server.server_port), 10) as raw:
        raw.sendall(sent)
        raw.shutdown(socket.SHUT_WR)
        got = b""
        with contextlib.suppress(ConnectionError):
            while part := raw.recv(65536):
                got += part
    return got


def test_no_bytes_at_all_make_a_traceback(
    server: Server, capfd: pytest.CaptureFixture[str]
) -> None:
    """Requests cut off, doubled and with signs exchanged at random."""
    chance = random.Random(400)
    whole = b"GET /out/tide/tide.pdf?after=1&x=%%41 HTTP/1.1\r\nHost: 127.0.0.1:%d\r\n\r\n"
    for _ in range(300):
        sent = bytearray(whole % server.server_port)
        for _ in range(chance.randrange(1, 6)):
            sent[chance.randrange(len(sent))] = chance.choice(b"\x00\r\n []%:/?#@\xff\\0A")
        cut = chance.randrange(len(sent)) if chance.random() < 0.2 else len(sent)
        raw_answer(server, bytes(sent[:cut]))
    assert ask(server, "/")[0] == 200
    assert capfd.readouterr().err == ""


def test_a_mistake_of_the_program_is_told_in_a_line(
    server: Server, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("the ink ran out")

    monkeypatch.setattr("publisher.catalogue.watch.serving.as_data", fail)
    request = f"GET /state HTTP/1.1\r\nHost: 127.0.0.1:{server.server_port}\r\n\r\n"
    raw_answer(server, request.encode())
    give_up = time.monotonic() + 5
    told = ""
    while not told and time.monotonic() < give_up:
        told = capfd.readouterr().err
        time.sleep(0.02)
    assert told.startswith("publisher watch: the program failed here, by a mistake of its own (")
    assert told.count("\n") == 1
    assert "Traceback" not in told


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:80", "127.0.0.1", "127.0.0.1:1", "127.0.0.1.evil.example"],
)
@pytest.mark.parametrize("path", ["/", "/state", "/out/tide/tide.pdf"])
def test_answers_to_its_own_name_only(server: Server, host: str, path: str) -> None:
    """Or another site's page could read it under a name that leads to this machine."""
    assert ask(server, path, Host=host)[0] == 403


def test_other_sites_pages_get_nothing(server: Server) -> None:
    assert ask(server, "/out/tide/tide.pdf", Sec_Fetch_Site="cross-site")[0] == 403
    assert ask(server, "/out/tide/tide.pdf", Sec_Fetch_Site="same-origin")[0] == 200
    headers = ask(server, "/")[2]
    assert headers["X-Frame-Options"] == "DENY" and "Access-Control-Allow-Origin" not in headers


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS"])
def test_only_reading(server: Server, method: str) -> None:
    assert ask(server, "/", method)[0] == 501


def test_listens_on_this_machine_alone(server: Server) -> None:
    assert server.server_address[0] == "127.0.0.1"


def test_localhost_is_a_name_of_it(server: Server) -> None:
    assert ask(server, "/", Host=f"localhost:{server.server_port}")[0] == 200


def test_state_waits_for_a_change(server: Server) -> None:
    status, content, _ = ask(server, "/state?after=-1")
    assert status == 200
    revision = json.loads(content)["revision"]
    answers: list[bytes] = []
    waiting = threading.Thread(
        target=lambda: answers.append(ask(server, f"/state?after={revision}&looking-at=tide")[1])
    )
    waiting.start()
    waiting.join(0.3)
    assert waiting.is_alive()
    assert server.board.looked_at == "tide"
    problem = Problem(Place("patterns/tide.toml", 7, 3), "it is torn", "mend it")
    server.board.show(0, {"tide": BoardEntry("tide", (), (problem,))})
    waiting.join(5)
    (told,) = json.loads(answers[0])["patterns"]
    assert told["problems"] == [
        {"place": "patterns/tide.toml:7:3", "message": "it is torn", "hint": "mend it"}
    ]


def test_pages_of_the_books_on_the_board(server: Server, out: Path) -> None:
    book = ShownBook("booklet-a4", "tide/tide.pdf", "d", ((595.0, 842.0),) * 2)
    server.board.show(0, {"tide": BoardEntry("tide", (book,))})
    status, content, headers = ask(server, "/page/tide/tide.pdf/2?d")
    assert (status, headers["Content-Type"]) == (200, "image/png")
    assert b"the book" in content
    for wrong in ("0", "3", "", "x", "-1", "9" * 30, "%C2%B2"):
        assert ask(server, f"/page/tide/tide.pdf/{wrong}")[0] == 404, wrong
    (out / "tide/tide.pdf").unlink()
    assert ask(server, "/page/tide/tide.pdf/1")[0] == 404


def test_a_page_that_is_closed_in_the_middle_is_not_told_of(
    server: Server, capfd: pytest.CaptureFixture[str]
) -> None:
    """It breaks its connection off, with an answer still unread."""
    for asked in (b"GET / HTTP/1.1\r\n", b"GET /state?after=0 HTTP/1.1\r\n", b"GE"):
        with socket.create_connection(("127.0.0.1", server.server_port), 10) as raw:
            host = f"Host: 127.0.0.1:{server.server_port}\r\n\r\n"
            raw.sendall(asked + host.encode() if asked.endswith(b"\n") else asked)
            time.sleep(0.2)
            raw.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
    server.board.show(1)
    assert ask(server, "/")[0] == 200
    time.sleep(0.2)
    assert capfd.readouterr().err == ""


def test_port_that_is_taken(server: Server, out: Path) -> None:
    with pytest.raises(UsageError, match=f"--port {server.server_port}: it can't be had"):
        start_server(Board(), out, StandIns(out / "log"), server.server_port)


def test_folder_that_is_not_there_yet(tmp_path: Path) -> None:
    assert file_within(tmp_path / "none", "tide/tide.pdf") is None
