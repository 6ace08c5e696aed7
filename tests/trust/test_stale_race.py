"""Two people press Save in the same moment: both are kept, on both kinds of database."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from tests.trust.postgres import postgres_url

ROOT = Path(__file__).parents[2]
ROUNDS = 3
FORMS = 5


def raced(folder: Path, database: str) -> dict[str, object]:
    """What a process of its own says of the races it ran on a database."""
    environment = os.environ | {
        "DJANGO_SETTINGS_MODULE": "config.testing",
        "TEST_DATABASE_URL": database,
        "TEST_DATA_DIR": str(folder),
        "DATA_DIR": str(folder),
    }
    done = subprocess.run(
        [sys.executable, "-m", "tests.trust.to_race", str(ROUNDS)],
        cwd=ROOT,
        env=environment,
        check=True,
        stdout=subprocess.PIPE,
    )
    return json.loads(done.stdout)


BOTH_KEPT = {
    "lost": [],
    "answers": [302],
    "sent": 2 * FORMS * ROUNDS,
    "imported": {"answers": [302, 409], "recipes": 1},
}


def test_nothing_is_lost_on_sqlite(tmp_path, migrated):
    assert raced(tmp_path, f"sqlite:///{shutil.copy(migrated, tmp_path)}") == BOTH_KEPT


def test_nothing_is_lost_on_postgresql(tmp_path, migrated_cluster):
    with postgres_url(migrated_cluster) as database:
        assert raced(tmp_path, database) == BOTH_KEPT
