"""How often something happened, counted in Django's cache by several processes."""

from __future__ import annotations

import json
import multiprocessing
import os
import shutil
import subprocess
import sys
import time
from collections import defaultdict
from contextlib import contextmanager
from itertools import chain
from pathlib import Path

import pytest
from django.core.cache import caches
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from classes.enrollment.services.chores import do_chores
from config import counts
from config.counts import REST_S, count
from config.environment import BASE_DIR
from tests.trust.servers import free_port

START = 1_900_000_000
PROCESSES, EACH = 4, 50
AWAY = "redis://127.0.0.1:1/0"


@pytest.fixture
def clock(monkeypatch):
    """The moment it is; call it to set another."""

    def set_to(seconds):
        monkeypatch.setattr(time, "time", lambda: START + seconds)

    set_to(0)
    return set_to


@contextmanager
def redis_server(folder):
    """The address of a Redis server of its own, thrown away afterwards."""
    port = free_port()
    words = ["redis-server", "--port", str(port), "--save", "", "--dir", str(folder)]
    with subprocess.Popen(words, stdout=subprocess.DEVNULL) as process:
        try:
            yield f"redis://127.0.0.1:{port}/0"
        finally:
            process.kill()


@pytest.fixture(params=["files", "redis"])
def cache(request, settings, tmp_path, monkeypatch):
    """The cache that counts, of either kind that the settings know."""
    monkeypatch.setattr(counts, "_rests_until", {})
    if request.param == "files":
        yield caches["default"]
    elif shutil.which("redis-server") is None:
        pytest.skip("redis-server (Debian's package of this name) is not installed")
    else:
        with redis_server(tmp_path) as url:
            settings.CACHES = caches_of(url)
            wait_for(caches["default"])
            yield caches["default"]


def caches_of(url):
    """What the settings make of an address."""
    script = "import json, config.settings as s; print(json.dumps(s.CACHES, default=str))"
    done = ask_settings(script, url)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def ask_settings(script, url):
    environment = os.environ | {"CACHE_URL": url}
    return subprocess.run(
        [sys.executable, "-c", script],
        cwd=BASE_DIR,
        env=environment,
        capture_output=True,
        text=True,
    )


def wait_for(cache):
    until = time.monotonic() + 10
    while True:
        try:
            cache.get("anything")
            return
        except Exception:
            assert time.monotonic() < until
            time.sleep(0.02)


def test_it_counts_each_thing_for_itself(cache):
    assert [count("one", 60) for _ in range(3)] == [1, 2, 3]
    assert count("other", 60) == 1


def test_a_count_ends_its_seconds_after_it_began(clock):
    count("one", 60)
    clock(59.9)
    assert count("one", 60) == 2
    clock(60.1)
    assert count("one", 60) == 1


def test_to_count_on_does_not_make_it_last(cache):
    count("one", 1)
    time.sleep(0.7)
    assert count("one", 1) == 2
    time.sleep(0.7)
    assert count("one", 1) == 1


def test_a_count_that_ended_while_it_was_looked_at_begins_anew_and_ends(cache, monkeypatch):
    monkeypatch.setattr(cache, "add", lambda *words: False)
    assert count("one", 1) == 1
    assert count("one", 1) == 2
    time.sleep(1.1)
    assert count("one", 1) == 1


@given(st.lists(st.text(max_size=8), max_size=40))
def test_it_counts_as_a_dictionary_does(words):
    caches["default"].clear()
    plain = defaultdict[str, int](int)
    for word in words:
        plain[word] += 1
        assert count(word, 3600) == plain[word]


def test_processes_that_count_at_once_lose_nothing(cache):
    split_off = multiprocessing.get_context("fork")
    begin = split_off.Barrier(PROCESSES)
    told = split_off.Queue()

    def work():
        begin.wait(30)
        told.put([count("one", 3600) for _ in range(EACH)])

    workers = [split_off.Process(target=work) for _ in range(PROCESSES)]
    for worker in workers:
        worker.start()
    seen = [told.get(timeout=60) for _ in workers]
    for worker in workers:
        worker.join()
    assert sorted(chain(*seen)) == list(range(1, PROCESSES * EACH + 1))


def test_what_is_kept_tells_nobody_what_was_counted(settings, cache):
    count("post|203.0.113.5", 60)
    if "in_files" not in settings.CACHES:
        kept = [path.name for path in Path(cache._dir).glob("*")]
    else:
        kept = cache._cache.get_client().keys()
    assert kept
    assert "203.0" not in str(kept)


class TestNobodyAnswers:
    @pytest.fixture
    def away(self, settings, monkeypatch):
        monkeypatch.setattr(counts, "_rests_until", {})
        settings.CACHES = caches_of(AWAY) | {"in_files": settings.CACHES["default"]}
        return caches["in_files"]

    def test_each_machine_counts_on_in_files(self, away, caplog):
        assert [count("one", 60) for _ in range(3)] == [1, 2, 3]
        assert "The cache default does not answer." in caplog.text

    def test_it_is_asked_again_only_after_a_while(self, away, caplog, monkeypatch):
        for _ in range(3):
            count("one", 60)
        assert len(caplog.records) == 1
        later = time.monotonic() + REST_S + 1
        monkeypatch.setattr(counts, "monotonic", lambda: later)
        count("one", 60)
        assert len(caplog.records) == 2

    def test_where_no_file_can_be_written_everything_was_too_often(self, away, monkeypatch):
        def full(*words):
            raise OSError("No space left on device")

        monkeypatch.setattr(away, "add", full)
        assert count("one", 60) > 1_000_000


@pytest.mark.parametrize("url", ["locmem://", "memcached://127.0.0.1:11211", "file:///tmp/cache"])
def test_a_cache_that_could_lose_counts_is_refused(url):
    done = ask_settings("import config.settings", url)
    assert done.returncode != 0
    assert "CACHE_URL takes redis:// or rediss://" in done.stderr


def test_the_chores_remove_what_has_ended(db):
    files, folder = caches["default"], Path(caches["default"]._dir)
    count("one", 60)
    [ended] = folder.glob("*.djcache")
    long_ago = time.time() - files.default_timeout - 60
    os.utime(ended, (long_ago, long_ago))
    count("other", 60)
    do_chores(at=timezone.now())
    [left] = folder.glob("*.djcache")
    assert left != ended


def test_a_folder_that_somebody_else_made_counts_nothing(monkeypatch):
    caches["default"].clear()
    monkeypatch.setattr(counts, "_rests_until", {})
    assert count("one", 60) == 1
    monkeypatch.setattr(os, "geteuid", lambda: os.stat(caches["default"]._dir).st_uid + 1)
    assert count("one", 60) > 1_000_000
