"""The pages against the checker of the W3C (Nu, vnu.jar), where it and Java are there.

VNU_JAR says where the checker is; `npm install vnu-jar` brings it. No package of ours needs it.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest
from django.http import HttpResponse

from tests.site import Site, make_site
from tests.test_access import TABLE
from tests.trust.test_fuzz import AIMS, with_booked_student
from tests.worlds import undone

JAR = Path(os.environ.get("VNU_JAR", "vnu.jar"))
WRONG = '<no> & "none"'
PACKS = {
    "waiting": {"state": "waiting"},
    "running": {"state": "running", "done": 5, "total": 12},
    "failed": {"state": "failed", "problems": [["Oven map", "Tell what the ovens <can> do."]]},
    "gone": {"state": "done", "pdf": None, "problems": []},
}
READERS = ("nobody", "assistant", "instructor", "owner of the site")

pytestmark = pytest.mark.skipif(
    not JAR.is_file() or shutil.which("java") is None,
    reason="VNU_JAR names no checker, or there is no Java.",
)


@pytest.fixture
def site(db, settings):
    settings.PUBLIC_POSTS_A_MINUTE = 10**9
    return with_booked_student(make_site())


def _keep(folder: Path, name: str, answer: HttpResponse) -> None:
    kind = answer.headers.get("Content-Type", "")
    if kind.startswith("text/html") and b"<!DOCTYPE" in answer.content[:99].upper():
        (folder / f"{name.replace(':', '-').replace(' ', '-')}.html").write_bytes(answer.content)


def _opened(site: Site, folder: Path) -> None:
    """Every page that a GET opens, for each of its readers, and the page for no page."""
    for name in TABLE:
        address = site.address(name)
        for who in READERS:
            _keep(folder, f"{name}-{who}", site.clients[who].get(address))
    _keep(folder, "missing-nobody", site.clients["nobody"].get("/open/nothing/"))


def _sent(site: Site, folder: Path) -> None:
    """Every form sent empty, with a few wrong words, and as it should be."""
    for name, aim in AIMS.items():
        send = getattr(site.clients[aim.who], aim.method)
        for how in ("empty", "wrong", "right"):
            with undone():
                right = aim.fields(site)
                sent = {"empty": {}, "wrong": dict.fromkeys(right, WRONG), "right": right}[how]
                answer = send(site.address(aim.name), sent, follow=True)
            _keep(folder, f"form-{name}-{how}", answer)


def _printed(site: Site, folder: Path) -> None:
    """A pack of papers in each state, and the print desk with a paper that is out of date."""
    client, made = site.clients["instructor"], site.session.packs.get()
    made.printed = {"handouts": {"0": "what it said"}}
    made.save()
    _keep(folder, "desk-out-of-date", client.get(site.address("handouts:desk")))
    for name, fields in PACKS.items():
        site.session.packs.filter(pk=made.pk).update(**fields)
        _keep(folder, f"pack-{name}", client.get(site.address("handouts:pack")))


def faults_in(folder: Path) -> list[str]:
    """What the checker says of the pages in a folder: `page: message, near what`."""
    command = ["java", "-jar", str(JAR), "--format", "json", "--exit-zero-always", str(folder)]
    done = subprocess.run(command, check=True, capture_output=True)
    return sorted(
        f"{Path(one['url']).stem}: {one['message']} … {one.get('extract', '').strip()[:160]}"
        for one in json.loads(done.stderr)["messages"]
        if one["type"] == "error" or one.get("subType") == "warning"
        if f"“{WRONG}”" not in one["message"]  # what was typed is shown again as it was typed
    )


def test_the_checker_finds_no_fault_in_any_page(site, tmp_path):
    _opened(site, tmp_path)
    _sent(site, tmp_path)
    _printed(site, tmp_path)
    assert len(list(tmp_path.iterdir())) > 100
    assert faults_in(tmp_path) == []


def test_the_checker_does_find_a_fault(tmp_path):
    page = "<!DOCTYPE html><html lang=en><title>x</title><p><div id=a></div><i id=a></i></p>"
    (tmp_path / "wrong.html").write_text(page)
    assert any("Duplicate ID" in one for one in faults_in(tmp_path))
