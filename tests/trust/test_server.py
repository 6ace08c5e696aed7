"""The server as it is started: who may hold it up, and what its processes share."""

from __future__ import annotations

import io
import shutil
import socket
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from threading import Event, Thread
from time import monotonic, sleep

import pytest
from PIL import Image

from config.sign_in import MOST_OF_ADDRESS
from tests.factories import PASSWORD
from tests.trust.browser import Browser
from tests.trust.servers import Server
from tests.trust.visitors import Visitor

MOST = 8
IDLE, SLOW, FETCHING = 40, 40, 24
HEAD_S, REQUEST_S = 3, 8
DRIP_S = 0.2
ANSWERED_WITHIN_MS = 2000  # who is held up waits until the others' time is over, HEAD_S at least
LARGE = 8_000_000
HEADS = (
    b"GET /health/?" + b"a" * 500 + b" HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n",
    b"POST /sign-in/ HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 999\r\n"
    b"Content-Type: application/x-www-form-urlencoded\r\n\r\n" + b"username=" + b"a" * 990,
)


class StrictServer(Server):
    """With limits that a test can reach."""

    @property
    def environment(self):
        limits = {"WEB_HEAD_S": HEAD_S, "WEB_REQUEST_S": REQUEST_S, "PUBLIC_POSTS_A_MINUTE": MOST}
        return super().environment | {name: str(value) for name, value in limits.items()}


@pytest.fixture(scope="module")
def house(tmp_path_factory, migrated):
    folder = tmp_path_factory.mktemp("house")
    server = StrictServer(folder, f"sqlite:///{shutil.copy(migrated, folder)}")
    [code] = server.make_classes(MOST * 2)
    (folder / "static").mkdir(exist_ok=True)
    (folder / "static" / "large.txt").write_bytes(bytes(LARGE))
    try:
        server.start()
        yield server, code
    finally:
        server.kill()


def call(server) -> socket.socket:
    return socket.create_connection(("127.0.0.1", server.port), timeout=60)


def health(house) -> float:
    """How long the page of the server's health takes to come, in milliseconds."""
    server, code = house
    page = Visitor(server.port, code, "Guest").ask("GET", "/health/")
    assert page.status == 200
    return page.took_ms


@contextmanager
def dripping(server, whole: bytes, count: int, begun: int) -> Iterator[list[socket.socket]]:
    """Connections that have sent the beginning of a request, and go on byte by byte."""
    over, going_on = Event(), Event()

    def drip() -> None:
        at = begun
        while not over.wait(DRIP_S) and at < len(whole):
            for one in callers:
                try:
                    one.send(whole[at : at + 1])
                except OSError:
                    continue
            at += 1
            going_on.set()

    with ExitStack() as opened:
        callers = [opened.enter_context(call(server)) for _ in range(count)]
        for one in callers:
            one.sendall(whole[:begun])
        thread = Thread(target=drip)
        thread.start()
        try:
            going_on.wait()
            yield callers
        finally:
            over.set()
            thread.join()


@pytest.mark.skipif(
    not hasattr(socket, "TCP_DEFER_ACCEPT"), reason="this system's kernel keeps none back"
)
def test_connections_that_ask_nothing_hold_nobody_up(house):
    with ExitStack() as opened:
        for _ in range(IDLE):
            opened.enter_context(call(house[0]))
        assert max(health(house) for _ in range(20)) < ANSWERED_WITHIN_MS


@pytest.mark.parametrize(
    ("whole", "begun"), [(HEADS[0], 40), (HEADS[1], 150)], ids=["head", "body"]
)
def test_who_sends_byte_by_byte_holds_nobody_up(house, whole, begun):
    with dripping(house[0], whole, SLOW, begun):
        assert max(health(house) for _ in range(20)) < ANSWERED_WITHIN_MS


@pytest.mark.parametrize(
    ("whole", "begun", "limit_s"),
    [(HEADS[0], 40, HEAD_S), (HEADS[1], 150, REQUEST_S)],
    ids=["head", "body"],
)
def test_a_request_that_does_not_end_is_ended_though_it_goes_on(house, whole, begun, limit_s):
    began = monotonic()
    with dripping(house[0], whole, 1, begun) as [caller]:
        answer = caller.recv(4096)
    assert answer.startswith(b"HTTP/1.1 408 ")
    assert limit_s <= monotonic() - began < limit_s + 10


ASKS_FOR_MUCH = b"GET /static/large.txt HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"


def test_who_fetches_nothing_of_an_answer_holds_nobody_up(house):
    with ExitStack() as opened:
        for _ in range(FETCHING):
            opened.enter_context(call(house[0])).sendall(ASKS_FOR_MUCH)
        sleep(0.5)
        assert max(health(house) for _ in range(20)) < ANSWERED_WITHIN_MS


def test_who_fetches_an_answer_slowly_gets_it_whole(house):
    got = 0
    with call(house[0]) as caller:
        caller.sendall(ASKS_FOR_MUCH)
        while data := caller.recv(500_000):
            got += len(data)
            sleep(0.02)
    assert got > LARGE


def test_a_photo_over_a_slow_line_is_taken(house):
    """It comes for half of the time that a request may take, in forty parts."""
    server, _ = house
    [(username, slug)] = server.rows(
        "SELECT username, slug FROM recipes_recipe "
        "JOIN auth_user ON auth_user.id = owner_id LIMIT 1"
    )
    signed_in = Browser(server.port)
    signed_in.sign_in(username, PASSWORD)
    post = signed_in.with_photo(f"/recipes/{slug}/photos/", noise_of(600_000))
    began = monotonic()
    with call(server) as caller:
        for part in range(40):
            sleep(max(0, began + REQUEST_S / 2 * part / 40 - monotonic()))
            caller.sendall(post[len(post) * part // 40 : len(post) * (part + 1) // 40])
        assert monotonic() - began > HEAD_S
        answer = caller.recv(4096)
    assert answer.startswith(b"HTTP/1.1 302 "), answer
    assert server.rows("SELECT count(*) FROM recipes_photo") == [(1,)]


def noise_of(least_bytes: int) -> bytes:
    """A photo whose file is at least so large."""
    written = io.BytesIO()
    Image.effect_noise((900, 900), 120).convert("RGB").save(written, "PNG")
    assert len(written.getvalue()) >= least_bytes
    return written.getvalue()


@pytest.mark.parametrize(
    "head",
    [b"/mine/12-aBcD_9/\r\n", b"GET / HTTP/1.1\r\nto /mine/12-aBcD_9/\r\n"],
)
def test_what_the_server_logs_of_a_broken_request_holds_no_signed_word(house, head):
    server, _ = house
    with call(server) as caller:
        caller.sendall(head + b"\r\n")
        assert caller.recv(4096).startswith(b"HTTP/1.1 400 ")
    log = server.log.read_text()
    assert "/mine/…" in log
    assert "aBcD_9" not in log


def test_all_processes_count_the_posts_of_an_address_together(house):
    server, code = house
    person = Visitor(server.port, code, "Guest")
    person.open_class()
    answers = [person.hold().status for _ in range(MOST * 3)]
    assert answers == [302] * MOST + [429] * MOST * 2


def test_all_processes_count_the_wrong_passwords_of_an_address_together(house):
    server, _ = house
    stranger = Browser(server.port)
    answers = [
        stranger.post("/sign-in/", {"username": f"name{number}", "password": "wrong"})
        for number in range(MOST_OF_ADDRESS + 5)
    ]
    assert answers == [200] * MOST_OF_ADDRESS + [429] * 5
