"""What a PDF says by its tags, as poppler reads them: headings, lists, tables with their cells."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.handouts.pdfs import plain

OPENED = re.compile(r"^( *)([A-Z][A-Za-z0-9]*)\b[^\"]*$")
SAID = re.compile(r'^( *)"(.*)"$')
HEADINGS = ("H1", "H2", "H3")


@dataclass
class Tag:
    """An element: what it is, and the words and elements in it, in reading order."""

    kind: str
    order: list[str | Tag] = field(default_factory=list)

    @property
    def text(self) -> str:
        """All words in it, on one line."""
        return plain(" ".join(one if isinstance(one, str) else one.text for one in self.order))

    def all(self, *kinds: str) -> Iterator[Tag]:
        """The elements of some kind at any depth, in reading order."""
        for one in self.order:
            if isinstance(one, Tag):
                if one.kind in kinds:
                    yield one
                yield from one.all(*kinds)


def tags_of(pdf: bytes) -> Tag:
    """The tree of a tagged PDF."""
    done = subprocess.run(
        ["pdfinfo", "-struct-text", "-"], input=pdf, capture_output=True, check=True
    )
    root = Tag("Root")
    open_tags = [(-1, root)]
    for line in done.stdout.decode().splitlines():
        if said := SAID.match(line):
            open_tags[-1][1].order.append(said[2])
        elif opened := OPENED.match(line):
            depth, tag = len(opened[1]), Tag(opened[2])
            while open_tags[-1][0] >= depth:
                open_tags.pop()
            open_tags[-1][1].order.append(tag)
            open_tags.append((depth, tag))
    return root


def rows_of(table: Tag) -> list[list[str]]:
    """The cells of a table, row by row."""
    return [[cell.text for cell in row.all("TH", "TD")] for row in table.all("TR")]
