"""Reading is plain Python; only `shelf` knows the recipe book's rows."""

import subprocess
import sys
from pathlib import Path

import recipes.importing

FOLDER = Path(recipes.importing.__file__).parent
PURE = sorted(
    ".".join(("recipes.importing", *path.relative_to(FOLDER).with_suffix("").parts))
    for path in FOLDER.rglob("*.py")
    if path.stem not in ("__init__", "shelf")
)


def test_reading_and_writing_load_without_django():
    names = [*PURE, "recipes.exporting.document", "recipes.exporting.jsonld"]
    code = (
        f"import sys, {', '.join(names)}\n"
        "assert not {'django', 'pint', 'socket', 'urllib.request'} & set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=FOLDER.parents[1])


def test_no_module_is_longer_than_a_room():
    long = {path.name for path in FOLDER.rglob("*.py") if len(path.read_text().splitlines()) > 300}
    assert long == set()
