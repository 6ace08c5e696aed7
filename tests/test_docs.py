"""The documents say what is there."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from django.core.management import get_commands

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text()
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()
MAKEFILE = (ROOT / "Makefile").read_text()


IN_TEXT_OR_BLOCK = r"`make ([a-z]+)|^make ([a-z]+) +#"
TARGETS = re.findall(IN_TEXT_OR_BLOCK, README + DEVELOPERS, re.MULTILINE)
COMMANDS = re.findall(r"manage\.py ([a-z_]+)", README + DEVELOPERS)


@pytest.mark.parametrize("target", sorted({text or block for text, block in TARGETS}))
def test_every_make_command_in_the_documents_exists(target):
    assert re.search(rf"^{target}:", MAKEFILE, re.MULTILINE)


@pytest.mark.parametrize("command", sorted(set(COMMANDS)))
def test_every_management_command_in_the_documents_exists(command):
    assert command in get_commands()


@pytest.mark.parametrize(
    "place",
    sorted(
        {
            place
            for place in re.findall(r"`([a-z_]+(?:/[a-z_.0-9]+)+/?)`", DEVELOPERS)
            if not place.startswith("data/")
        }
    ),
)
def test_every_place_in_the_map_exists(place):
    assert (ROOT / place).exists()


@pytest.mark.parametrize("picture", re.findall(r"!\[[^]]+\]\(([^)]+)\)", README))
def test_every_picture_in_the_readme_is_there(picture):
    assert (ROOT / picture).read_bytes().startswith(b"\x89PNG")


SOURCES = "".join(
    path.read_text() for folder in ("config", "tools") for path in (ROOT / folder).rglob("*.py")
)


@pytest.mark.parametrize("setting", re.findall(r"^\| `([A-Z_]+)` \|", README, re.MULTILINE))
def test_every_setting_in_the_readme_is_read(setting):
    assert re.search(rf"\b{setting}\b", SOURCES + MAKEFILE)


def test_every_dependency_has_its_reason():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    wanted = project["project"]["dependencies"] + project["dependency-groups"]["dev"]
    names = {re.match(r"[A-Za-z0-9-]+", one)[0].lower() for one in wanted}
    table = DEVELOPERS.split("## Dependencies")[1].split("## Commands")[0].lower()
    assert {name for name in names if not re.search(rf"(?<![\w-]){name}(?![\w-])", table)} == set()
