"""Nothing turns a time into words but `wording.moments`: a walk over templates and sources.

Django's own filters show a time on the clock of the site, whatever zone it was converted to before.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from django.apps import apps
from django.db.models import DateTimeField

from classes.templatetags import moments
from wording.moments import Moment

ROOT = Path(__file__).parents[1]
APPS = ("classes", "handouts", "house", "recipes")

# Times of the house and of the recipe book, which belong to no kitchen; the house's name the zone.
OF_THE_SITE = {
    "templates/house/_link.html",
    "templates/house/_signed_in.html",
    "templates/house/enter.html",
    "templates/house/people.html",
    "templates/recipes/_revisions.html",
}
# Written for machines or for the admin's own lists, never for a page or a paper.
OF_MACHINES = {
    "classes/models/journal.py",
    "classes/models/papers.py",
    "classes/models/session.py",
    "classes/enrollment/services/letters.py",
}
THE_PLACE = "wording/moments.py"

OUTPUT = re.compile(r"\{\{(.*?)\}\}|\{%(.*?)%\}", re.DOTALL)
SITE_CLOCK = re.compile(
    r"\|\s*(date|time|timezone|localtime|utc|timesince|timeuntil)\b|^\s*(now|timezone|localtime)\b"
)
DIRECTIVE = re.compile(r"%[-#]?[aAbBcdHIjmMpSUWxXyYZz]")

FIELDS = {
    field.name
    for app in (*APPS, "enrollment")
    for model in apps.get_app_config(app).get_models()
    for field in model._meta.get_fields()
    if isinstance(field, DateTimeField)
} - {"at"}
# A mark of a chart is at a place, too.
NAMED_AT = {"look.at", "printed.at"}
OWN_FILTERS = set(moments.register.filters) | {"instant"}


def templates():
    paths = (path for path in (ROOT / "templates").rglob("*") if path.suffix in (".html", ".txt"))
    return {str(path.relative_to(ROOT)): path.read_text(encoding="utf-8") for path in paths}


def sources():
    paths = (path for app in (*APPS, "wording") for path in (ROOT / app).rglob("*.py"))
    return {str(path.relative_to(ROOT)): path.read_text(encoding="utf-8") for path in paths}


def on_the_sites_clock(text):
    """Tags that show a time by Django's own filters or tags."""
    inside = (one[0] or one[1] for one in OUTPUT.findall(text))
    return [one.strip() for one in inside if SITE_CLOCK.search(one)]


def shown_bare(text):
    """Datetimes of our models that are shown without one of our filters."""
    found = []
    for inside, _ in OUTPUT.findall(text):
        value, _, rest = inside.strip().partition("|")
        own = rest.partition(":")[0].strip() in OWN_FILTERS
        is_time = "." in value and (value.rpartition(".")[2] in FIELDS or value in NAMED_AT)
        if is_time and not own:
            found.append(inside.strip())
    return found


def formatted_times(source):
    """Lines of a source that format a time, by a format's specification or by a call."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FormattedValue) and node.format_spec:
            spec = ast.unparse(node.format_spec)
            found += [node.lineno] if DIRECTIVE.search(spec) else []
        if isinstance(node, ast.Call):
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            found += [node.lineno] if name in ("strftime", "date_format", "time_format") else []
    return found


@pytest.mark.parametrize("name", sorted(templates().keys() - OF_THE_SITE))
def test_no_template_shows_a_time_on_the_sites_clock(name):
    text = templates()[name]
    assert on_the_sites_clock(text) == []
    assert shown_bare(text) == []


def test_what_the_house_shows_names_the_zone():
    for name in sorted(OF_THE_SITE):
        for tag in on_the_sites_clock(templates()[name]):
            assert "H:i" not in tag or "H:i T" in tag, (name, tag)


def test_no_other_source_formats_a_time():
    found = {name: lines for name, text in sources().items() if (lines := formatted_times(text))}
    assert set(found) <= OF_MACHINES | {THE_PLACE}, found


def test_every_exception_is_still_one():
    assert all(on_the_sites_clock(templates()[name]) for name in OF_THE_SITE)
    assert all(formatted_times(sources()[name]) for name in OF_MACHINES)


def test_every_filter_shows_words_that_a_moment_has(db):
    from tests.classes.enrollment.enrolled import NOW
    from tests.factories import KitchenFactory

    kitchen = KitchenFactory(time_zone="America/New_York")
    for name, shown in moments.register.filters.items():
        if name != "weekday":
            assert shown(NOW, kitchen), name
            assert shown(None, kitchen) == ""
    assert kitchen.moment(NOW) == Moment(NOW, kitchen.zone, twelve_hours=True)


@pytest.mark.parametrize(
    "tag",
    [
        '{{ shown.starts_at|date:"H:i" }}',
        "{{ shown.starts_at | time }}",
        "{{ session.starts_at|timezone:zone }}",
        '{% now "H:i" %}',
        "{% timezone session.kitchen.time_zone %}",
    ],
)
def test_a_time_on_the_sites_clock_is_found(tag):
    assert on_the_sites_clock(f"<p>{tag}</p>")


@pytest.mark.parametrize("tag", ["{{ session.starts_at }}", "{{ one.made_at|default:'' }}"])
def test_a_bare_time_is_found(tag):
    assert shown_bare(f"<p>{tag}</p>")
    assert not shown_bare("<p>{{ one.made_at|noted:session.kitchen }}</p>")


@pytest.mark.parametrize(
    "line", ['f"{at:%H:%M}"', 'f"{at:%A} {at.day}"', 'at.strftime("%H")', 'date_format(at, "H:i")']
)
def test_a_source_that_formats_a_time_is_found(line):
    assert formatted_times(line)
    assert not formatted_times('f"{number:02d} {share:.1%}"')
