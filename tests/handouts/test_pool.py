"""Processes of the press: they lay out, they say what went wrong, and they can be killed."""

import os
import signal
from concurrent.futures.process import BrokenProcessPool
from time import monotonic, sleep

import pytest

from handouts import pool as pools
from handouts.markup import Markup
from handouts.pool import Pool
from handouts.press_errors import AddressRefused, TooLong
from handouts.render import PageSize
from tests.handouts.pdfs import page_texts

PAGE = '<!doctype html><html lang="en"><head><title>T</title></head><body>{}</body></html>'


def markup(body):
    return Markup(PAGE.format(body), "print", PageSize.A4, "content", "digest")


@pytest.fixture(scope="module")
def pool():
    with Pool(1) as made:
        made.warm()
        yield made


def test_a_process_lays_out_what_it_is_given(pool):
    assert page_texts(pool.lay_out(markup("<p>Rye, 12 g</p>")).result()) == ["Rye, 12 g"]


def test_without_processes_it_lays_out_in_place():
    with Pool(0) as made:
        assert page_texts(made.lay_out(markup("<p>Salt</p>")).result()) == ["Salt"]


def test_a_refused_address_is_told_by_its_name(pool):
    with pytest.raises(AddressRefused) as error:
        pool.lay_out(markup('<img alt="" src="http://127.0.0.1:9/x.png">')).result()
    assert error.value.addresses == ["http://127.0.0.1:9/x.png"]


def test_a_paper_that_takes_too_long_is_given_up(monkeypatch):
    monkeypatch.setattr(pools, "LONGEST_S", 1)
    with pytest.raises(TooLong):
        pools._lay_out(markup("<p>Flour and water, " * 40_000))
    assert signal.alarm(0) == 0


def test_after_a_process_has_died_the_press_starts_again(pool):
    waits = pool._executor.submit(os.getpid)
    os.kill(waits.result(), signal.SIGKILL)
    until = monotonic() + 30
    while not pool._executor._broken:
        assert monotonic() < until, "its death was not noticed"
        sleep(0.02)
    with pytest.raises(BrokenProcessPool):
        pool.lay_out(markup("<p>Lost</p>")).result()
    pool.start_again()
    assert page_texts(pool.lay_out(markup("<p>Found</p>")).result()) == ["Found"]


def test_the_processes_leave_when_whoever_started_them_is_killed(tmp_path):
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:  # pragma: no cover - this branch is killed
        made = Pool(1)
        made.warm()
        os.write(writer, str(made._executor.submit(os.getpid).result()).encode())
        sleep(60)
        os._exit(1)
    layout = int(os.read(reader, 20))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    until = monotonic() + 60
    while monotonic() < until and _is_alive(layout):
        sleep(0.05)
    assert not _is_alive(layout)


def _is_alive(process):
    """Whether it runs: one that has ended and that nobody has asked about does not."""
    try:
        with open(f"/proc/{process}/stat") as file:
            return file.read().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False
