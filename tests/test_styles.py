"""The sheets, the templates and what names their classes, read as text."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parent.parent
TEMPLATES = ROOT / "templates"
LONGEST_LINE = 139


def test_no_line_of_a_template_is_too_long_to_read():
    long = [
        f"{path.relative_to(ROOT)}:{number} has {len(line)} characters"
        for path in sorted(TEMPLATES.rglob("*.html"))
        for number, line in enumerate(path.read_text().splitlines(), start=1)
        if len(line) > LONGEST_LINE
    ]

    assert not long
