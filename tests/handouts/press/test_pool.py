"""Processes of the press: they lay out, they say what went wrong, and they can be killed."""

import os
import signal
import subprocess
import sys
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from time import monotonic, sleep

import pytest

from handouts.press import pool as pools
from handouts.press.errors import AddressRefused, TooLong
from handouts.press.markup import Markup
from handouts.press.pool import Pool
from handouts.press.render import PageSize
from tests.handouts.pdfs import page_texts
from tests.styled import ROOT

PAGE = '<!doctype html><html lang="en"><head><title>T</title></head><body>{}</body></html>'


def markup(body):
    return Markup(PAGE.format(body), "components", PageSize.A4, "content", "digest")


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
    lay_out, until = pools._pdf, monotonic() + 30

    def again_and_again(paper):
        while monotonic() < until:
            lay_out(paper)

    monkeypatch.setattr(pools, "LONGEST_S", 1)
    monkeypatch.setattr(pools, "_pdf", again_and_again)
    with pytest.raises(TooLong):
        pools._lay_out(markup("<p>Flour and water"))
    assert signal.alarm(0) == 0


def test_a_paper_is_given_up_though_what_lays_it_out_throws_the_first_word_of_it_away(monkeypatch):
    until = monotonic() + 30

    def deaf_once(paper):
        with suppress(TooLong):
            while monotonic() < until:
                pass
        while monotonic() < until:
            pass

    monkeypatch.setattr(pools, "LONGEST_S", 1)
    monkeypatch.setattr(pools, "_pdf", deaf_once)
    with pytest.raises(TooLong):
        pools._lay_out(markup("<p>Flour and water"))


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


STARTS_A_POOL = """
import os, time
from handouts.press.pool import Pool

made = Pool(1)
made.warm()
print(made._executor.submit(os.getpid).result(), flush=True)
time.sleep(600)
"""


def test_the_processes_leave_when_whoever_started_them_is_killed():
    command = [sys.executable, "-c", STARTS_A_POOL]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as starter:
        layout = int(starter.stdout.readline())
        assert _is_alive(layout)
        starter.kill()
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


def test_a_process_of_the_press_loads_no_models():
    """It unpickles its first job before Django's registry is there, and would die of a model."""
    looks = "import sys, handouts.press.pool; sys.exit('recipes.models' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", looks], cwd=ROOT, check=False).returncode == 0
