"""Scripts in page source, whole and once, however long and however wrapped."""

from __future__ import annotations

import pytest

from recipes.importing.schema.pages import scripts


def page(script: str) -> str:
    return f'<html><script type="application/ld+json">{script}</script></html>'


@pytest.mark.parametrize("length", [0, 1, 199, 200, 201, 300, 399, 400, 401, 2000])
def test_a_script_of_any_length_arrives_once(length):
    text = '{"a": "' + "x" * length + '"}'
    assert [found.strip() for found in scripts(page(text))] == [text]


@pytest.mark.parametrize("length", [1, 250, 1000])
def test_marks_around_a_script_are_taken_off(length):
    text = '{"a": "' + "x" * length + '"}'
    assert [found.strip() for found in scripts(page(f"<!--\n{text}\n-->"))] == [text]
