"""`tools/setup.py`: what it finds missing, and what it tells a person."""

import socket
import subprocess
from types import SimpleNamespace

import pytest

from config.environment import BASE_DIR
from tools import setup

ALL_INSTALLED = "".join(f"ii  {name}\n" for name in setup.RUN_PACKAGES)


@pytest.fixture
def machine(monkeypatch):
    """A pretended Debian: what dpkg knows, which programs exist, who runs it."""
    machine = SimpleNamespace(dpkg=ALL_INSTALLED, programs={"apt-get", "dpkg-query"}, ran=[])
    machine.returncodes = {}

    def run(command, **options):
        command = [str(part) for part in command]
        machine.ran.append(" ".join(command))
        code = next((c for part, c in machine.returncodes.items() if part in machine.ran[-1]), 0)
        if isinstance(code, list):
            code = code.pop(0)
        return SimpleNamespace(stdout=machine.dpkg, returncode=code)

    monkeypatch.setattr(setup.subprocess, "run", run)
    monkeypatch.setattr(setup.shutil, "which", lambda name: name in machine.programs or None)
    monkeypatch.setattr(setup.os, "geteuid", lambda: 1000)
    return machine


def test_a_machine_that_has_all_is_only_asked_once(machine):
    setup.install_system_packages(dev=False)

    assert len(machine.ran) == 1
    assert machine.ran[0].startswith("dpkg-query")


def test_without_root_it_stops_with_the_exact_line(machine):
    machine.dpkg = ALL_INSTALLED.replace("ii  fontconfig", "rc  fontconfig")

    with pytest.raises(SystemExit) as stopped:
        setup.install_system_packages(dev=False)

    assert "sudo apt-get install --no-install-recommends fontconfig\n" in stopped.value.code
    assert not any("apt-get install" in command for command in machine.ran)


def test_root_installs_only_what_is_missing(machine, monkeypatch):
    monkeypatch.setattr(setup.os, "geteuid", lambda: 0)
    machine.dpkg = ALL_INSTALLED.replace("ii  fonts-lato\n", "")

    setup.install_system_packages(dev=False)

    assert machine.ran[1].startswith(
        "env DEBIAN_FRONTEND=noninteractive apt-get install --no-install-recommends fonts-lato -y"
    )
    assert len(machine.ran) == 2


def test_sudo_without_a_password_is_used(machine):
    machine.programs.add("sudo")
    machine.dpkg = ""

    setup.install_system_packages(dev=False)

    assert any(command.startswith("sudo -n env") for command in machine.ran)


def test_package_lists_are_refreshed_only_after_a_failed_try(machine, monkeypatch):
    monkeypatch.setattr(setup.os, "geteuid", lambda: 0)
    machine.dpkg = ""
    machine.returncodes = {"apt-get install": [100, 0]}

    setup.install_system_packages(dev=False)

    assert [line.split("apt-get ")[1].split()[0] for line in machine.ran[1:]] == [
        "install",
        "update",
        "install",
    ]


def test_tests_also_need_a_browser_and_pdf_tools(machine):
    with pytest.raises(SystemExit) as stopped:
        setup.install_system_packages(dev=True)

    assert "chromium poppler-utils qpdf\n" in stopped.value.code


def test_a_split_off_venv_counts_as_a_system_package(machine, monkeypatch, tmp_path):
    monkeypatch.setattr(setup.importlib.util, "find_spec", lambda name: None)
    monkeypatch.setattr(setup, "PYTHON", tmp_path / "none")

    with pytest.raises(SystemExit) as stopped:
        setup.install_system_packages(dev=False)

    assert "-venv\n" in stopped.value.code


def test_elsewhere_it_says_what_to_install_by_hand_and_what_works_without(
    machine, monkeypatch, tmp_path, capsys
):
    machine.programs.clear()
    monkeypatch.setattr(setup, "PYTHON", tmp_path / "none")

    setup.install_system_packages(dev=False)

    said = capsys.readouterr().out
    assert "Pango" in said
    assert "everything but the PDF papers works" in said
    assert machine.ran == []


def test_a_taken_port_is_named_with_a_way_out():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(SystemExit) as stopped:
            setup.check_port(port)

    assert f"Port {port} is taken" in stopped.value.code
    assert "make serve PORT=" in stopped.value.code


@pytest.mark.parametrize("text", ["", "0", "65536", "-1", "80x", "８０"])
def test_a_port_that_is_none_is_refused(text):
    with pytest.raises(setup.argparse.ArgumentTypeError):
        setup._port(text)


@pytest.fixture
def project(machine, monkeypatch, tmp_path):
    monkeypatch.setattr(setup, "ROOT", tmp_path)
    monkeypatch.setattr(setup, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(setup, "PYTHON", tmp_path / ".venv" / "bin" / "python")
    setup.PYTHON.parent.mkdir(parents=True)
    setup.PYTHON.touch()
    (tmp_path / "requirements.txt").write_text("django==5.2.19\n")
    return machine


def pip_runs(machine):
    return [command for command in machine.ran if "pip install" in command]


def test_unchanged_pins_are_installed_once(project):
    setup.install_requirements("requirements.txt")
    setup.install_requirements("requirements.txt")

    assert len(pip_runs(project)) == 1
    assert "--require-hashes" in pip_runs(project)[0]


def test_changed_pins_are_installed_again(project):
    setup.install_requirements("requirements.txt")
    (setup.ROOT / "requirements.txt").write_text("django==5.2.20\n")
    setup.install_requirements("requirements.txt")

    assert len(pip_runs(project)) == 2


def test_a_failed_install_stops_and_is_tried_again_next_time(project):
    project.returncodes = {"pip install": [1, 0]}

    with pytest.raises(SystemExit, match=r"pip could not install requirements\.txt"):
        setup.install_requirements("requirements.txt")
    setup.install_requirements("requirements.txt")

    assert len(pip_runs(project)) == 2


def test_a_half_made_environment_is_made_anew(project):
    project.returncodes = {"pip --version": 1}

    setup.install_requirements("requirements.txt")

    assert any("-m venv --clear" in command for command in project.ran)


def make(*arguments):
    return subprocess.run(
        ["make", *arguments], cwd=BASE_DIR, capture_output=True, text=True, check=False
    )


def test_make_says_which_python_is_needed(tmp_path):
    old = tmp_path / "old-python"
    old.write_text('#!/bin/sh\n[ "$1" = --version ] && echo Python 3.9.2\nexit 1\n')
    old.chmod(0o755)

    run = make("serve", f"PYTHON={old}")

    assert run.returncode != 0
    assert f"Python 3.11 or newer is needed; {old} is Python 3.9.2." in run.stdout


def test_make_says_when_there_is_no_python():
    run = make("setup", "PYTHON=python-that-is-not-there")

    assert run.returncode != 0
    assert "there is no python-that-is-not-there" in run.stdout


def test_make_lists_its_commands():
    said = make().stdout

    for target in ("serve", "setup", "test", "bench", "lint", "lock", "clean"):
        assert f"make {target} " in said
