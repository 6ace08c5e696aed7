"""A class as its export tells it and as its papers are read back, and how their tables are read."""

from __future__ import annotations

import json
import re
from collections import defaultdict
from datetime import UTC, datetime, timedelta
from decimal import ROUND_HALF_UP, Decimal
from io import StringIO

from django.core.management import call_command

from classes.management.commands.load_demo import load_demo
from classes.selectors import class_plan, planned_class
from handouts.catalog import KINDS
from handouts.kind import STUDENT, Material, NotPrinted
from handouts.press.render import PageSize, to_pdf
from tests.handouts.conftest import NOW, another_class, two_day_class
from tests.handouts.tags import rows_of, tags_of

CLASSES = ("demo", "two-day", "brought")
FIGURE = re.compile(r"\d+(?:\.\d+)?")
IN_GRAMS = re.compile(r"(\d+(?:\.\d+)?) ?g\b")

SILENT = {
    "allergen-sheet",
    "emergency-card",
    "loaf-labels",
    "notes",
    "oven-map",
    "sign-in",
    "station-notices",
    "take-home-labels",
    "temperature-log",
    "time-labels",
}
WEIGHING = tuple(kind for kind in KINDS if kind.name not in SILENT)

# What the papers say of weighing as such, on whatever class.
OF_SCALES = {"at-home": {"1", "0.1", "40"}, "before-the-day": {"1", "3", "0.1", "120", "150"}}


class Papers:
    """A class: its export as the command prints it, and its papers as other programs read them."""

    def __init__(self, session, kinds=KINDS):
        out = StringIO()
        call_command("export_amounts", session.code, stdout=out)
        self.export = json.loads(out.getvalue())
        material = Material(class_plan(planned_class(session.pk)), NOW)
        self.stations = {person.name: person.station for person in material.plan.people}
        self.missing, self.pdfs, self.alike = set(), {}, defaultdict(dict)
        for kind in kinds:
            try:
                papers = {leaf.label: leaf.paper for leaf in kind.leaves(material)}
            except NotPrinted:
                self.missing.add(kind.name)
                continue
            if kind.place == STUDENT:
                self.alike[kind.name] = papers
                for name in self.firsts.values():
                    self.pdfs[kind.name, name] = to_pdf([papers[name]], PageSize.A4)
            else:
                self.pdfs[kind.name, ""] = to_pdf(list(papers.values()), PageSize.A4)
        self.tags = {key: tags_of(pdf) for key, pdf in self.pdfs.items() if key[0] not in SILENT}

    @property
    def firsts(self):
        """The first student of all who weigh the same: the others' papers are held to theirs."""
        firsts = {}
        for name in self.stations:
            if lines := self.lines_of(name):
                firsts.setdefault(lines, name)
        return firsts

    def lines_of(self, name):
        """All that a student's entries say, but for their name and station."""
        entries = [entry for entry in self.export["students"] if entry["name"] == name]
        said = [entry | {"name": "", "station": ""} for entry in entries]
        return json.dumps(said) if said else ""

    def of(self, kind):
        """The papers of a kind, by whom or what they are for."""
        return {label: tag for (name, label), tag in self.tags.items() if name == kind}

    def bulk(self, recipe):
        """What is made in one tub for a recipe, by component."""
        return {tub["component"]: tub for tub in self.export["divided"] if tub["recipe"] == recipe}


def brought_class(demo):
    """Two recipes with a roux, wash, topping and oil, and doughs brought in two stages."""
    begins = datetime(2030, 5, 4, 9, tzinfo=UTC)
    session = another_class(
        demo,
        "Pillow rolls",
        "Seeded ring",
        students=6,
        rises_in="cabinet",
        starts_at=begins,
        ends_at=begins + timedelta(hours=8),
    )
    session.taught.filter(position=0).update(brings_risen=True)
    session.taught.filter(position=1).update(brings_shaped=True)
    return session


def make_classes():
    """Three classes, all their papers printed; one of them without those that weigh nothing."""
    demo = load_demo(now=NOW)
    return {
        "demo": Papers(demo),
        "two-day": Papers(two_day_class(demo)),
        "brought": Papers(brought_class(demo), WEIGHING),
    }


# Reading


def rounds_to(mass, printed):
    """Whether an exported mass, to the places printed, is what is printed; halves go up."""
    places = Decimal(1).scaleb(Decimal(printed).as_tuple().exponent)
    return Decimal(mass).quantize(places, ROUND_HALF_UP) == Decimal(printed)


def tables_of(paper):
    """Each table with the headings it stands under: the last of each level."""
    over = {}
    for one in paper.all("H1", "H2", "H3", "Table"):
        if one.kind == "Table":
            yield over.get("H1", ""), over.get("H2", ""), one
        else:
            over[one.kind] = one.text
            if one.kind == "H1":
                over.pop("H2", None)


def table_under(paper, heading):
    """The rows of the table under a heading, those on its next pages included."""
    tables = [rows_of(table) for _, h2, table in tables_of(paper) if h2 == heading]
    return [tables[0][0], *(row for rows in tables for row in rows[1:])]


def columns_of(rows):
    """The columns of a table of amounts: by their head, names with weighed and exact figures.

    Exact figures stand in a column of their own, or behind the weighed one.
    """
    head, *rows = rows
    columns = defaultdict(list)
    for name, *cells in (row for row in rows if len(row) == len(head)):
        for n, (title, cell) in enumerate(zip(head[1:], cells, strict=True)):
            if title in ("exactly", "Exact, g", "% of flour"):
                continue
            after = head[n + 2] if n + 2 < len(head) else ""
            exact = cells[n + 1] if after in ("exactly", "Exact, g") else ""
            weighed, _, behind = cell.partition(" ")
            columns[title].append((name, weighed, exact or behind))
    return columns


def is_sum(row):
    return row[0].startswith(("Lines added", "Dough, exact"))


def assert_lines(rows, lines, entry, *, exactly=True):
    """The rows are the exported lines, one by one, and the sum is that of the rows.

    What is read from afar has the weighed figures alone.
    """
    totals = [row for row in rows if is_sum(row)]
    rows = [row for row in rows if not is_sum(row)]
    assert len(rows) == len(lines), (rows, lines)
    for (name, weighed, exact), line in zip(rows, lines, strict=True):
        assert name.startswith(line["ingredient"])
        assert Decimal(weighed) == Decimal(line["weighed_g"])
        assert "." in exact if exactly else exact == ""
        assert not exactly or rounds_to(line["exact_g"], exact)
    for _, weighed, exact in totals:
        in_dough = sum(Decimal(line["weighed_g"]) for line in lines if line["in_dough"])
        assert weighed == "" or Decimal(weighed) == in_dough
        assert not exactly or rounds_to(entry["dough_exact_g"], exact)
    assert totals


def exact_sum(lines):
    return sum(Decimal(line["exact_g"]) for line in lines)


def dough_parts(entry):
    """The components that are mixed into the dough: the first ones, that make up its mass."""
    left, parts = Decimal(entry["dough_exact_g"]), []
    for component in dict.fromkeys(line["component"] for line in entry["lines"]):
        if left > Decimal("0.001"):
            parts.append(component)
            left -= exact_sum(of_component(entry, component))
    assert abs(left) < Decimal("0.001")
    return parts


def of_component(entry, component):
    return [line for line in entry["lines"] if line["component"] == component]


def is_tub(line):
    return line["ingredient"] == "from the tub"


def whole(entry):
    """All lines of an entry of the export, what comes from a tub by the name of the part."""
    dough = dough_parts(entry)
    lines = [line | {"in_dough": line["component"] in dough} for line in entry["lines"]]
    return [
        line | {"ingredient": f"{line['component']}, from the tub"} if is_tub(line) else line
        for line in lines
    ]


def at_home(entry):
    """The lines where nobody else makes a part: what is in a tub is weighed, on two scales."""
    dough, lines = dough_parts(entry), []
    for line in entry["lines"]:
        held = [one for one in entry["in_tubs"] if one["component"] == line["component"]]
        for one in held if is_tub(line) else [line]:
            exact_g = Decimal(one["exact_g"])
            step_g = Decimal(1) if exact_g >= 40 else Decimal("0.1")
            weighed_g = exact_g.quantize(step_g, ROUND_HALF_UP)
            in_dough = one["component"] in dough
            lines.append(one | {"weighed_g": weighed_g, "in_dough": in_dough})
    return lines


def at_the_bench(papers, entry, recipe, taker):
    """The lines with the tubs first; who is named among the takers weighs the tub's share."""
    bulk, lines = papers.bulk(recipe), whole(entry)
    tubs = [line for line in lines if line["component"] in bulk]
    for line in tubs:
        for share in bulk[line["component"]]["shares"]:
            if share["name"] == taker:
                assert Decimal(share["weighed_g"]) == Decimal(line["weighed_g"])
    return tubs + [line for line in lines if line["component"] not in bulk]


def entries(papers, listed, **wanted):
    """The entries of a list of the export, each with its recipe."""
    for entry in papers.export[listed]:
        recipe = entry["lines"][0]["recipe"]
        if all(entry[key] == value for key, value in wanted.items()):
            yield recipe, entry
