"""Sheets and templates read as text: what stands twice, for nothing, or outside the scale."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal

import pytest

from tests.styled import ROOT, Rule, fits, on_paper, on_screen, rules, sheets, templates, written

LONGEST_LINE = 139
MEDIA = {"screen": on_screen, "paper": on_paper}

# Classes that no template spells out, and the source that does.
FROM_PYTHON = {
    "hot": "handouts/oven_signs.py",
    "offset": "handouts/templatetags/papers.py",
    **dict.fromkeys(("roomy", "close", "closest"), "handouts/run_sheet/fitting.py"),
    **dict.fromkeys(("wall-22", "wall-17", "wall-14"), "handouts/kinds/run_sheet_wall.py"),
    **dict.fromkeys(("abreast", "on-right", "split", "overleaf"), "handouts/station_card/room.py"),
    **dict.fromkeys(
        ("size-40", "size-48", "size-66", "size-88"), "handouts/kinds/station_notices.py"
    ),
}
FROM_HTMX = {"htmx-request"}

COLOR = re.compile(r"#[0-9a-fA-F]{3,8}\b|\b(?:rgb|hsl)a?\(|\b(?:black|white|gr[ae]y|red)\b")
LENGTH = re.compile(r"(?<![\w.#-])-?(\d*\.?\d+)(rem|em|ch|vw|vh|px|mm|cm|in|pt)\b")
BREAKPOINTS_REM = {"24", "34", "46", "46.01", "56", "56.01", "60", "60.01", "64"}
LINE = re.compile(r"border|outline|text-decoration")
SPACE = re.compile(r"margin|padding|gap|text-indent")
LINES = {
    "screen": {f"{width}px" for width in (1, 2, 3, 4, 5, 6, 9)},
    "paper": {"0.4pt", "0.5pt", "0.8pt", "1.2pt", "1.5pt", "2pt", "3pt", "5pt"}
    | {"0.8mm", "1mm", "1.2mm", "2mm", "3mm"},
}
SPACES_MM = {
    "0.3",
    "0.5",
    "0.6",
    "0.8",
    "1",
    "1.2",
    "1.5",
    "2",
    "2.5",
    "3",
    "4",
    "5",
    "6",
    "8",
    "12",
}
TYPE_PT = {"8", "9", "9.5", "10", "10.5", *(str(size) for size in range(11, 19))} | {
    *("20", "22", "24", "26", "30", "34", "40", "44", "48", "66", "88", "120")
}
# Lengths that are no step of a scale, and why.
ALONE = {
    ("paper/station-card", "22mm"): "the column of the clock",
    ("paper/station-card", "0.82em"): "as wide as a point and a digit in their own type",
    ("paper/station-card", "1.4em"): "as wide as a point and two digits in their own type",
    ("paper/station-card", "0.58em"): "as wide as a digit in its own type",
    ("screen/base", "999rem"): "out of sight until it has the focus",
    ("screen/base", "1px"): "read out and not seen",
    ("screen/components", "1px"): "read out and not seen",
    ("screen/recipes", "1px"): "read out and not seen",
    ("screen/pans", "1px"): "read out and not seen",
    ("screen/classes", "0.3em"): "as wide as the space before a figure in its own type",
    ("screen/pans", "4.5em"): "as wide as its own longest word",
    ("screen/hours", "0.75em"): "a mark beside a line, smaller than its own type",
    ("screen/hours", "0.02em"): "letters of the largest figure, closer",
    ("screen/hours", "60vh"): "a strip that leaves room on a small screen",
    ("screen/hours", "100vh"): "as high as the screen",
    ("screen/review", "50vh"): "the source, with readings in sight below it",
    ("screen/review", "80vh"): "the source beside its readings",
    ("paper/components", "3.5mm"): "from the running head to the box of the paper",
    ("paper/components", "0.6mm"): "a box to tick, on the line of its words",
    ("paper/notes-sheet", "7.8mm"): "rows that fill a page",
    ("paper/sign-in", "8.6mm"): "rows that fill a page",
}
# Dimensions that other people set: sheets as they are sold.
AS_SOLD = {"paper/labels", "paper/a4", "paper/letter"}


def unused_classes(texts: Mapping[str, str], markup: Mapping[str, str]) -> Iterator[str]:
    for medium, reached in MEDIA.items():
        used = {name for page in reached(markup) for name in written(markup[page])}
        for rule in rules(texts):
            if rule.medium == medium:
                for name in sorted(rule.classes - FROM_PYTHON.keys() - FROM_HTMX):
                    if not fits(name, used):
                        yield f"{rule.sheet} has .{name}, which nothing writes"


def unknown_classes(texts: Mapping[str, str], markup: Mapping[str, str]) -> Iterator[str]:
    known = {
        medium: {name for rule in rules(texts) if rule.medium == medium for name in rule.classes}
        for medium in MEDIA
    }
    reached = {medium: reach(markup) for medium, reach in MEDIA.items()}
    for page, text in markup.items():
        names = set().union(*(known[medium] for medium in MEDIA if page in reached[medium]))
        for name in sorted(written(text)):
            if not any(fits(one, [name]) for one in names):
                yield f"{page} writes {name}, which no sheet knows"


def shared_classes(texts: Mapping[str, str]) -> Iterator[str]:
    """Classes in two page sheets of a medium that are no component."""
    for medium in MEDIA:
        ours = [rule for rule in rules(texts) if rule.medium == medium]
        components = {name for rule in ours if rule.is_base for name in rule.classes}
        homes: dict[str, set[str]] = {}
        for rule in ours:
            for name in rule.classes - components:
                homes.setdefault(name, set()).add(rule.sheet)
        for name, found in sorted(homes.items()):
            if len(found) > 1:
                yield f".{name} stands in {' and '.join(sorted(found))}"


def changed_components(texts: Mapping[str, str]) -> Iterator[str]:
    """Rules of a screen's page sheet for components alone, wherever they stand.

    A paper loads one page sheet and nothing else does, so what that says is said of one paper.
    """
    ours = [rule for rule in rules(texts) if rule.medium == "screen"]
    components = {name for rule in ours if rule.is_base for name in rule.classes}
    for rule in ours:
        if (
            not rule.is_base
            and rule.classes
            and rule.classes <= components
            and "#" not in rule.selector
        ):
            yield f"{rule.sheet} changes {rule.selector} everywhere"


def raw_colors(texts: Mapping[str, str]) -> Iterator[str]:
    for rule in rules(texts):
        for name, value in rule.declarations:
            if not rule.sheet.endswith("/tokens") and COLOR.search(value):
                yield f"{rule.sheet} {rule.selector} has {name}: {value}"


def lengths_off_the_scale(texts: Mapping[str, str]) -> Iterator[str]:
    for rule in rules(texts):
        if rule.sheet.endswith("/tokens") or rule.sheet in AS_SOLD:
            continue
        for name, value in rule.declarations:
            for figure, unit in LENGTH.findall(value):
                alone = (rule.sheet, figure + unit) in ALONE
                if not alone and not _is_on_the_scale(rule, name, figure, unit):
                    yield f"{rule.sheet} {rule.selector} has {name}: {value}"
    for sheet, text in texts.items():
        for condition in re.findall(r"@media([^{]*)", text):
            for figure, unit in LENGTH.findall(condition):
                if unit != "rem" or figure not in BREAKPOINTS_REM:
                    yield f"{sheet} changes at {figure}{unit}"


def _is_on_the_scale(rule: Rule, name: str, figure: str, unit: str) -> bool:
    """On screens all but the width of a line is a token. On paper the scale is kept in figures.

    What is as wide or high as the paper has room for is told in half millimeters.
    """
    if LINE.match(name):
        return figure + unit in LINES[rule.medium]
    if rule.medium == "screen":
        return False
    if name in ("font", "font-size"):
        return unit == "pt" and figure in TYPE_PT
    if SPACE.match(name):
        return unit == "mm" and figure in SPACES_MM
    return unit == "mm" and Decimal(figure) % Decimal("0.5") == 0


def long_lines(markup: Mapping[str, str]) -> Iterator[str]:
    for page, text in markup.items():
        for number, line in enumerate(text.splitlines(), start=1):
            if len(line) > LONGEST_LINE:
                yield f"{page}:{number} has {len(line)} characters"


def test_pages_link_every_sheet_of_the_screen_and_no_other():
    linked = {
        name for text in templates().values() for name in re.findall(r"'css/([^']+)\.css'", text)
    }
    assert linked == {name for name in sheets() if name.startswith("screen/")}


def test_every_class_of_a_sheet_is_written_by_something():
    assert list(unused_classes(sheets(), templates())) == []


@pytest.mark.parametrize("name", FROM_PYTHON)
def test_a_class_that_no_template_spells_out_is_in_the_source_that_is_named(name):
    assert f'"{name}"' in (ROOT / FROM_PYTHON[name]).read_text()


def test_every_class_of_a_template_is_known_to_a_sheet():
    assert list(unknown_classes(sheets(), templates())) == []


def test_a_class_that_is_no_component_stands_in_one_page_sheet():
    assert list(shared_classes(sheets())) == []


def test_a_page_sheet_changes_components_only_within_its_own():
    assert list(changed_components(sheets())) == []


def test_colors_are_tokens():
    assert list(raw_colors(sheets())) == []


def test_lengths_are_on_the_scale():
    assert list(lengths_off_the_scale(sheets())) == []


def test_what_stands_outside_the_scale_is_still_there():
    texts = sheets()
    assert [(sheet, length) for sheet, length in ALONE if length not in texts[sheet]] == []


def test_no_line_of_a_template_is_too_long_to_read():
    assert list(long_lines(templates())) == []


FAULTS = {
    "a class that nothing writes": (
        "screen/hours",
        ".no-such-thing { margin: 0; }",
        unused_classes,
    ),
    "a class of pages in a paper": ("paper/notice", ".masthead { margin: 0; }", unused_classes),
    "a class in two page sheets": ("screen/door", ".clash { margin: 0; }", shared_classes),
    "a class in two papers": ("paper/notice", ".emergency { margin: 0; }", shared_classes),
    "a component for all pages": ("screen/door", ".field { margin: 0; }", changed_components),
    "a gray": ("paper/notice", ".rules { color: #777; }", raw_colors),
    "a color by name": ("screen/door", ".door { background: white; }", raw_colors),
    "a width in rem": ("screen/door", ".door { max-width: 41rem; }", lengths_off_the_scale),
    "a line too thick": ("screen/door", ".door { border: 7px solid; }", lengths_off_the_scale),
    "a space between": ("paper/notice", ".rules { margin: 1.7mm; }", lengths_off_the_scale),
    "a type between": ("paper/notice", ".rules { font-size: 21pt; }", lengths_off_the_scale),
    "a width too exact": ("paper/notice", ".rules { width: 20.3mm; }", lengths_off_the_scale),
    "another breakpoint": (
        "screen/door",
        "@media (max-width: 47rem) { .door { margin: 0; } }",
        lengths_off_the_scale,
    ),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_in_a_sheet_is_found(fault):
    sheet, planted, check = FAULTS[fault]
    texts = sheets()
    texts[sheet] += planted
    found = list(check(texts, templates()) if check is unused_classes else check(texts))
    assert len(found) == 1
    assert sheet in found[0]


@pytest.mark.parametrize(
    ("planted", "check"),
    [
        ('<p class="soft no-such-thing">', lambda markup: unknown_classes(sheets(), markup)),
        (
            '<p class="{% if a %}soft{% else %}gone{% endif %}">',
            lambda markup: unknown_classes(sheets(), markup),
        ),
        ("x" * (LONGEST_LINE + 1), long_lines),
    ],
    ids=["a class that no sheet knows", "one in a branch", "a long line"],
)
def test_a_fault_in_a_template_is_found(planted, check):
    markup = templates()
    markup["home.html"] += f"\n{planted}\n"
    (found,) = check(markup)
    assert found.startswith("home.html")


@pytest.mark.parametrize(
    ("value", "classes"),
    [
        ("a b", {"a", "b"}),
        ("a{% if x %} b{% endif %}", {"a", "b"}),
        ("a-{% if x %}b{% elif y %}c{% else %}d{% endif %}", {"a-b", "a-c", "a-d"}),
        ("a-{{ x }} {{ y }}", {"a-*"}),
        ('a{% if x == "y" %}{% if z %} b{% endif %} c{% endif %}', {"a", "b", "c"}),
    ],
)
def test_classes_are_read_out_of_their_conditions(value, classes):
    assert written(f'<p class="{value}">') == classes
