import os
import subprocess
import sys

from config.environment import BASE_DIR
from config.setup.secret_key import ensure_secret_key


def test_a_new_key_is_long_and_only_the_owner_reads_it(tmp_path):
    path = tmp_path / "data" / "secret_key"

    assert ensure_secret_key(path)

    assert len(path.read_text().strip()) >= 50
    assert path.stat().st_mode & 0o777 == 0o600


def test_an_existing_key_is_never_replaced(tmp_path):
    path = tmp_path / "secret_key"
    path.write_text("kept")

    assert not ensure_secret_key(path)

    assert path.read_text() == "kept"


def settings_in(data_dir, **environment):
    """Load the real settings in a process of their own."""
    return subprocess.run(
        [sys.executable, "-c", "import config.settings as s; print(s.SECRET_KEY)"],
        cwd=BASE_DIR,
        env={"PATH": os.environ["PATH"], "DATA_DIR": str(data_dir)} | environment,
        capture_output=True,
        text=True,
        check=False,
    )


def test_settings_refuse_to_load_without_a_key(tmp_path):
    run = settings_in(tmp_path, SECRET_KEY="")

    assert run.returncode != 0
    assert "Run `make setup`" in run.stderr


def test_settings_read_the_key_that_set_up_made(tmp_path):
    ensure_secret_key(tmp_path / "secret_key")

    run = settings_in(tmp_path, SECRET_KEY="")

    assert run.stdout == (tmp_path / "secret_key").read_text()


def test_a_key_in_the_environment_wins(tmp_path):
    ensure_secret_key(tmp_path / "secret_key")

    assert settings_in(tmp_path, SECRET_KEY="from-outside").stdout == "from-outside\n"
