"""A connection whose request comes in parts, and what of it is refused."""

from __future__ import annotations

import socket
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from config.server.callers import KEPT_IN_MEMORY, LINGER_S, Caller, ConnectionStage, Limits, Refused

LIMITS = Limits(head_s=5, request_s=50, answer_s=70, head_bytes=2000, body_bytes=200_000)
GET = b"GET /health/ HTTP/1.1\r\nHost: h\r\n\r\n"


@pytest.fixture
def pair():
    """Both ends of a connection: the visitor's and the server's."""
    far, near = socket.socketpair()
    with far, near:
        far.settimeout(10)
        yield far, near


def post_of(body: bytes, more: bytes = b"") -> bytes:
    return b"POST / HTTP/1.1\r\nContent-Length: %d\r\n%s\r\n%s" % (len(body), more, body)


def caller_at(near, at=0.0) -> Caller:
    return Caller(near, None, None, LIMITS, at=at)


def read_all(caller) -> bytes:
    return b"".join(iter(lambda: caller.recv(100), b""))


def sent(far, near, data) -> Caller:
    caller = caller_at(near)
    far.sendall(data)
    caller.take_in(at=1)
    return caller


@given(cuts=st.lists(st.integers(0, 400), max_size=6), body=st.binary(max_size=300))
def test_a_request_is_whole_with_its_last_byte_however_it_is_cut(cuts, body):
    whole = post_of(body)
    edges = sorted({0, len(whole), *(cut for cut in cuts if cut < len(whole))})
    far, near = socket.socketpair()
    with far, near:
        caller = caller_at(near)
        for start, end in pairwise(edges):
            assert caller.stage in (ConnectionStage.HEAD, ConnectionStage.BODY)
            far.sendall(whole[start:end])
            caller.take_in(at=1)
        assert caller.stage is ConnectionStage.WHOLE
        assert read_all(caller) == whole


def test_a_large_body_comes_whole_out_of_its_file(pair):
    whole = post_of(bytes(range(256)) * 600)
    assert len(whole) > 2 * KEPT_IN_MEMORY
    far, near = pair
    caller = caller_at(near)
    for at in range(0, len(whole), 10_000):
        far.sendall(whole[at : at + 10_000])
        caller.take_in(at=1)
    assert read_all(caller) == whole
    caller.hang_up()


def test_what_follows_the_request_is_not_part_of_it(pair):
    assert read_all(sent(*pair, post_of(b"abc") + GET)) == post_of(b"abc")


@pytest.mark.parametrize(
    ("head", "status"),
    [
        (b"POST / HTTP/1.1\r\nContent-Length: 200001\r\n\r\n", 413),
        (b"POST / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\n", 411),
        (b"GET /" + b"a" * 2001, 431),
    ],
)
def test_what_is_too_large_or_of_no_told_length_is_refused(pair, head, status):
    with pytest.raises(Refused) as refused:
        sent(*pair, head)
    assert refused.value.status == status


def test_who_asks_whether_to_go_on_is_told_so(pair):
    far, near = pair
    caller = sent(far, near, post_of(b"", b"Expect: 100-continue\r\n").replace(b": 0", b": 3"))
    assert caller.stage is ConnectionStage.BODY
    assert far.recv(100) == b"HTTP/1.1 100 Continue\r\n\r\n"


def test_each_stage_has_its_own_time(pair):
    far, near = pair
    caller = caller_at(near, at=100)
    assert caller.ends_at == 105
    far.sendall(post_of(b"abc")[:-1])
    caller.take_in(at=101)
    assert caller.ends_at == 150
    far.sendall(b"c")
    caller.take_in(at=140)
    near.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, 1)
    caller.sendall(b"x" * 5_000_000)
    caller.send_out(at=145)
    assert (caller.stage, caller.ends_at) == (ConnectionStage.ANSWER, 215)


def test_an_answer_goes_out_in_parts_and_the_connection_ends_with_it(pair):
    far, near = pair
    caller = sent(far, near, GET)
    parts = [bytes([number]) * 300_000 for number in range(9)]
    for part in parts:
        caller.sendall(part)
    got = b""
    while caller.stage is not ConnectionStage.OVER:
        caller.send_out(at=2)
        got += far.recv(100_000)
    got += b"".join(iter(lambda: far.recv(100_000), b""))
    assert got == b"".join(parts)


def test_a_refused_sender_can_read_why_while_still_sending(pair):
    far, near = pair
    caller = sent(far, near, post_of(b"abc")[:-1])
    caller.sendall(b"too slow")
    caller.send_out(at=9)
    assert (caller.stage, caller.ends_at) == (ConnectionStage.LINGER, 9 + LINGER_S)
    far.sendall(b"more of it")
    caller.take_in(at=9.5)
    assert far.recv(100) == b"too slow"
    far.close()
    caller.take_in(at=9.6)
    assert caller.stage is ConnectionStage.OVER


def test_who_leaves_in_the_middle_is_gone(pair):
    far, near = pair
    caller = sent(far, near, post_of(b"abc")[:-1])
    far.close()
    caller.take_in(at=2)
    assert caller.stage is ConnectionStage.OVER


def test_what_was_announced_weighs_from_the_start(pair):
    caller = sent(*pair, post_of(b"").replace(b": 0", b": 150000"))
    assert caller.weight > 150_000
    caller.hang_up()
