"""Make docs/papers.md, and its pictures in docs/pictures/papers from the demo class.

`python -m tools.pictures` draws the first page of each kind, of labels the first one that has some.
The demo is made in a database of its own and at a fixed time, so that only a changed paper changes
its picture, and the square of the handout.
"""

from __future__ import annotations

import os
import sys
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

PAGE, PICTURES = Path("docs/papers.md"), Path("docs/pictures/papers")
HEAD = """# The papers of a class

One picture of each kind, from the demo class. Private papers name what people must not eat or open
their own pages: they are for the people they name, the instructor and the assistant. The print desk
of a class makes any of them, alone or as one file, on A4 or US Letter.
"""
PRINTED_AT = datetime(2030, 4, 11, 8, 30, tzinfo=UTC)


def main() -> None:
    with TemporaryDirectory() as data:
        os.environ |= {
            "TEST_DATA_DIR": data,
            "DJANGO_SETTINGS_MODULE": "config.testing",
            "SITE_URL": "https://bread.thistlewick.example",
        }
        import django

        django.setup()
        from django.core.management import call_command

        call_command("migrate", verbosity=0)
        _draw_all()
        PAGE.write_text(papers_page())


def papers_page() -> str:
    """The document that names and shows every kind of paper, in the order of their use."""
    from handouts.catalog import KINDS

    parts, place = [HEAD], ""
    for kind in KINDS:
        if kind.place != place:
            place = kind.place
            parts.append(f"## {place}\n")
        private = " Private." if kind.private else ""
        picture = f"![{kind.title}](pictures/papers/{kind.name}.png)"
        parts.append(f"### {kind.title}\n\n{kind.purpose}{private}\n\n{picture}\n")
    return "\n".join(parts)


def _draw_all() -> None:
    from classes.management.commands.load_demo import load_demo
    from classes.selectors import class_plan, planned_class
    from handouts.catalog import KINDS
    from handouts.kind import Material
    from handouts.press.pictures import page_count, picture_of
    from handouts.press.render import PageSize, to_pdf

    session = load_demo(now=PRINTED_AT)
    session.code = "BREAD8"
    session.save()
    material = Material(class_plan(planned_class(session.pk)), PRINTED_AT)
    PICTURES.mkdir(parents=True, exist_ok=True)
    for kind in KINDS:
        first = kind.leaves(material)[0]
        pdf = to_pdf([first.paper], PageSize.A4)
        page = 2 if kind.are_labels and page_count(pdf) > 1 else 1
        (PICTURES / f"{kind.name}.png").write_bytes(picture_of(pdf, page))
        sys.stdout.write(f"{kind.name}\n")


if __name__ == "__main__":
    main()
