"""The documents say what is there."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

import pytest
from django.core.management import get_commands

from handouts.catalog import BY_NAME
from tools.pictures import PAGE, PICTURES, papers_page

ROOT = Path(__file__).parents[1]
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()
PRODUCTION = (ROOT / "docs/production.md").read_text()
COMMANDS_AND_FILES = (ROOT / "docs/commands.md").read_text()
MAKEFILE = (ROOT / "Makefile").read_text()
PAGES = {
    path.relative_to(ROOT).as_posix(): path.read_text()
    for path in [ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")]
}
ALL_PAGES = "\n".join(PAGES.values())


IN_TEXT_OR_BLOCK = r"`make ([a-z-]+)|^make ([a-z-]+) +#"
TARGETS = re.findall(IN_TEXT_OR_BLOCK, ALL_PAGES, re.MULTILINE)
COMMANDS = re.findall(r"manage\.py ([a-z_]+)", ALL_PAGES)


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
            for place in re.findall(r"`([a-z_]+(?:/[a-z_.0-9-]+)+/?)`", ALL_PAGES)
            if not place.startswith("data/")
        }
    ),
)
def test_every_place_in_the_documents_exists(place):
    assert (ROOT / place).exists()


PACKAGES = ("config", "recipes", "classes", "handouts", "house")
BELOW = {"migrations", "management", "commands", "templatetags", "__pycache__"}


def folders_of_code() -> list[str]:
    """Folders with modules of ours, and the first level of templates and static files."""
    of_modules = {
        module.parent for package in PACKAGES for module in (ROOT / package).rglob("*.py")
    }
    others = {
        folder for place in ("templates", "static") for folder in (ROOT / place).glob("*/")
    }  # fmt: skip
    found = (folder.relative_to(ROOT) for folder in of_modules | others)
    return sorted(f"{folder.as_posix()}/" for folder in found if not BELOW & set(folder.parts))


MAP = DEVELOPERS.split("## Map")[1].split("## Words")[0]


@pytest.mark.parametrize("folder", folders_of_code())
def test_the_map_names_every_folder_of_code(folder):
    assert f"`{folder}`" in MAP


WHERE = DEVELOPERS.split("## Where things are")[1].split("## Map")[0]
ANSWERS = re.findall(r"^\| ([^|]+) \| `([^`]+)` \| ([^|]+) \|$", WHERE, re.MULTILINE)


@pytest.mark.parametrize(("question", "place", "names"), ANSWERS)
def test_where_things_are_names_what_the_file_defines(question, place, names):
    tree = ast.parse((ROOT / place).read_text())
    defined = {node.name for node in ast.walk(tree) if hasattr(node, "name")} | {
        node.id
        for node in ast.walk(tree)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    }
    assert set(re.findall(r"`([^`]+)`", names)) <= defined


def test_where_things_are_answers_what_somebody_new_asks():
    asked = " ".join(question for question, _, _ in ANSWERS)
    for word in ("roux", "oven", "caution", "CSV", "to add one"):
        assert word in asked


LINKS = [
    (page, link.split("#")[0])
    for page, text in PAGES.items()
    for link in re.findall(r"\]\(([^)]+)\)", text)
]


@pytest.mark.parametrize(("page", "link"), LINKS)
def test_every_link_and_picture_is_there(page, link):
    target = (ROOT / page).parent / link
    assert target.is_file()
    if link.endswith(".png"):
        assert target.read_bytes().startswith(b"\x89PNG")


def test_every_document_and_picture_is_linked():
    linked = {((ROOT / page).parent / link).resolve() for page, link in LINKS}
    documents = {path for path in (ROOT / "docs").rglob("*") if path.suffix in (".md", ".png")}
    assert documents - linked == set()


SOURCES = "".join(
    path.read_text() for folder in ("config", "tools") for path in (ROOT / folder).rglob("*.py")
)


@pytest.mark.parametrize("setting", re.findall(r"^\| `([A-Z_]+)` \|", PRODUCTION, re.MULTILINE))
def test_every_setting_in_the_documents_is_read(setting):
    assert re.search(rf"\b{setting}\b", SOURCES + MAKEFILE)


def keys_in(place: str) -> set[str]:
    """The texts that key a dictionary in a module, or stand in a tuple of columns there."""
    tree = ast.parse((ROOT / place).read_text())
    dicts = [node for node in ast.walk(tree) if isinstance(node, ast.Dict)]
    named = [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Tuple)
    ]
    listed = [
        *(key for one in dicts for key in one.keys),
        *(one for row in named for one in row.elts),
    ]
    return {one.value for one in listed if isinstance(one, ast.Constant)}


@pytest.mark.parametrize("place", ["classes/amounts/exporting.py", "classes/money/accounts_csv.py"])
def test_every_key_and_column_is_in_the_documents(place):
    told = set(re.findall(r"`([a-z_]+)`", COMMANDS_AND_FILES))
    assert keys_in(place) - told == set()
    assert len(keys_in(place)) > 10


def test_every_dependency_has_its_reason():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    wanted = project["project"]["dependencies"] + project["dependency-groups"]["dev"]
    names = {re.match(r"[A-Za-z0-9-]+", one)[0].lower() for one in wanted}
    table = DEVELOPERS.split("## Dependencies")[1].split("## Commands")[0].lower()
    assert {name for name in names if not re.search(rf"(?<![\w-]){name}(?![\w-])", table)} == set()


def test_the_page_of_papers_names_and_shows_every_kind():
    assert (ROOT / PAGE).read_text() == papers_page()
    assert {path.stem for path in (ROOT / PICTURES).glob("*.png")} == set(BY_NAME)
