"""No browser test reads before the page is there.

A click sets out for a page and does not wait for it. So what is read once, such as a count, is
read through `expect`, which asks again until it holds, or through the helpers of conftest, which
wait first. And after a click nothing looks at the page, leaves it or asks the database before an
`expect` has seen where the click led. Both are kept here by a walk over the syntax tree.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

FILES = sorted(set(Path(__file__).parent.glob("test_*.py")) - {Path(__file__)})

READ_ONCE = {
    "all_inner_texts", "all_text_contents", "content", "count", "get_attribute", "inner_html",
    "inner_text", "input_value", "is_checked", "is_disabled", "is_editable", "is_enabled",
    "is_hidden", "is_visible", "text_content", "title", "wait_for_timeout",
}  # fmt: skip
# Names that a chain of calls on rows of the database goes through.
ROWS = {"objects", "enrollments", "taught"}

SETS_OUT = {"click", "dblclick", "press", "tap"}
WAITS = {"expect", "settled", "text_of", "value_of", "address_of", "expect_download"}
LOOKS = {
    "evaluate", "goto", "looks_right", "looks_right_here", "reload", "scrolls_sideways",
    "serious_faults", "small_targets", "url",
}  # fmt: skip


def names(node: ast.AST) -> set[str]:
    """Every name and attribute within a node."""
    found = {one.attr for one in ast.walk(node) if isinstance(one, ast.Attribute)}
    return found | {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}


def read_once(source: str) -> list[int]:
    """Lines that read the page once and at once."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in READ_ONCE
        and not names(node.func) & ROWS
    ]


def simple_statements(body: list[ast.stmt]) -> Iterator[ast.AST]:
    """The statements of a function in the order of its lines, those in blocks included."""
    for statement in body:
        inner = [getattr(statement, part, []) for part in ("body", "orelse", "finalbody")]
        items = getattr(statement, "items", [])
        if not any(inner) or any(names(item) & WAITS for item in items):
            yield statement
            continue
        heads = [getattr(statement, part, None) for part in ("iter", "test")]
        yield from filter(None, heads)
        yield from (item.context_expr for item in items)
        for part in inner:
            yield from simple_statements(part)


def how_it_ends(function: ast.FunctionDef) -> set[str]:
    """The names of a function's last step that sets out or waits."""
    steps = [names(one) for one in simple_statements(function.body)]
    return next((one for one in reversed(steps) if one & (SETS_OUT | WAITS)), set())


def looked_too_early(source: str) -> list[int]:
    """Lines that look at a page, leave it or ask the database while a click is on its way."""
    functions = [one for one in ast.walk(ast.parse(source)) if isinstance(one, ast.FunctionDef)]
    ends = {one.name: how_it_ends(one) for one in functions}
    waits = WAITS | {name for name, last in ends.items() if last & WAITS}
    sets_out = SETS_OUT | {name for name, last in ends.items() if last & SETS_OUT - waits}
    sets_out -= waits
    return sorted(line for one in functions for line in _too_early(one, sets_out, waits))


def _too_early(function: ast.FunctionDef, sets_out: set[str], waits: set[str]) -> Iterator[int]:
    on_its_way = False
    for step in simple_statements(function.body):
        used = names(step)
        if used & waits:
            on_its_way = False
        elif on_its_way and used & (LOOKS | ROWS):
            yield step.lineno
        if used & sets_out and not used & waits:
            on_its_way = True


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_nothing_is_read_once(path):
    assert read_once(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_nothing_is_looked_at_before_a_click_has_led_somewhere(path):
    assert looked_too_early(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "line",
    [
        "before = page.get_by_label('Name').count()",
        "assert page.locator('b').inner_text() == 'x'",
        "assert page.get_by_text('x').is_visible()",
        "page.wait_for_timeout(100)",
    ],
)
def test_a_line_that_reads_once_is_seen(line):
    assert read_once(line) == [1]


def test_rows_of_the_database_may_be_counted():
    assert read_once("assert ClassSession.objects.count() == session.taught.count()") == []


@pytest.mark.parametrize(
    "line",
    [
        "own = page.url",
        "page.goto(own)",
        "looks_right(page, complaints)",
        "session = ClassSession.objects.get()",
        "for width in page.evaluate('1'):\n        pass",
    ],
)
def test_a_line_that_looks_too_early_is_seen(line):
    source = f"def test(page):\n    page.get_by_role('button').click()\n    {line}\n"
    assert looked_too_early(source) == [3]
    waited = source.replace("click()\n", "click()\n    expect(page).to_have_title('x')\n")
    assert looked_too_early(waited) == []


def test_a_helper_that_ends_in_a_click_is_a_click_and_one_that_waits_waits():
    helper = "def enter(page):\n    page.click()\n"
    use = "\ndef test(page):\n    enter(page)\n    page.goto('/')\n"
    assert looked_too_early(helper + use) == [6]
    assert looked_too_early(helper + "    expect(page).to_have_url('/')\n" + use) == []


def test_a_click_within_what_waits_for_a_download_has_arrived():
    source = (
        "def test(page):\n    with page.expect_download():\n        page.click()\n    page.url\n"
    )
    assert looked_too_early(source) == []
