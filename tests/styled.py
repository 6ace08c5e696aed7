"""Sheets read as rules, and the classes that templates write, for tests that hold them together."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from pathlib import Path

ROOT = Path(__file__).parent.parent
TEMPLATES = ROOT / "templates"
SHEETS = ROOT / "static" / "css"
BASES = ("tokens", "base", "components")
ANYTHING = "*"

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_QUOTED = re.compile(r'"[^"]*"')
_CLASS = re.compile(r"\.(-?[A-Za-z_][\w-]*)")
_GROUP = re.compile(r"@(?:media|supports)[^{]*\{")
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_DECLARATION = re.compile(r"([\w-]+)\s*:\s*([^;{}]+)")
_CLASSES = re.compile(r"""\bclass="((?:\{%.*?%\}|\{\{.*?\}\}|[^"])*)\"""", re.DOTALL)
_SHEET_BLOCK = re.compile(r"\{% block sheet %\}([\w -]+)\{% endblock")
_PIECE = re.compile(r"(\{%.*?%\}|\{\{.*?\}\})", re.DOTALL)
_INCLUDE = re.compile(r"\{% (?:include|extends) \"([^\"]+)\"")


@dataclass(frozen=True)
class Rule:
    """One selector of a sheet, such as `screen/recipes`, and what is declared for it."""

    sheet: str
    selector: str
    declarations: tuple[tuple[str, str], ...]

    @property
    def classes(self) -> frozenset[str]:
        return frozenset(_CLASS.findall(_QUOTED.sub("", self.selector)))

    @property
    def medium(self) -> str:
        return self.sheet.partition("/")[0]

    @property
    def is_base(self) -> bool:
        return self.sheet.partition("/")[2] in BASES


def sheets() -> dict[str, str]:
    """The text of every sheet by its name, without comments."""
    paths = sorted(SHEETS.rglob("*.css"))
    return {
        path.relative_to(SHEETS).with_suffix("").as_posix(): _COMMENT.sub("", path.read_text())
        for path in paths
    }


def templates() -> dict[str, str]:
    return {
        path.relative_to(TEMPLATES).as_posix(): path.read_text()
        for path in sorted(TEMPLATES.rglob("*.html"))
    }


def rules(texts: Mapping[str, str]) -> list[Rule]:
    """Every rule, also those for some screens only; a list of selectors gives one for each."""
    return [rule for name, text in texts.items() for rule in _rules_of(name, text)]


def _rules_of(name: str, text: str) -> Iterator[Rule]:
    for head, body in _RULE.findall(_GROUP.sub("", text)):
        said = tuple((key, value.strip()) for key, value in _DECLARATION.findall(body))
        for selector in _selectors(head.replace("}", "")):
            yield Rule(name, selector, said)


def _selectors(head: str) -> list[str]:
    """The selectors of a list; a comma within brackets divides nothing."""
    parts, depth = [""], 0
    for character in head:
        depth += (character == "(") - (character == ")")
        if character == "," and not depth:
            parts.append("")
        else:
            parts[-1] += character
    return [part.strip() for part in parts]


def written(markup: str) -> set[str]:
    """The classes that a template writes; what is filled in stands as `*`."""
    values = [*_CLASSES.findall(markup), *_SHEET_BLOCK.findall(markup)]
    names = {name for value in values for way in _ways(_PIECE.split(value)) for name in way.split()}
    return {name for name in names if name.strip(ANYTHING)}


def _ways(pieces: Iterable[str]) -> list[str]:
    """What a value can come to, one string for each branch of its conditions."""
    stack: list[tuple[list[str], list[str], bool]] = []
    done, now, whole = [""], [""], False
    for piece in pieces:
        if re.match(r"\{%\s*(if|for)\b", piece):
            stack.append((done, now, whole))
            done, now, whole = [], [""], False
        elif re.match(r"\{%\s*(elif|else|empty)\b", piece):
            done, now, whole = [*done, *now], [""], whole or "else" in piece
        elif re.match(r"\{%\s*end(if|for)\b", piece) and stack:
            inner = [*done, *now, *([] if whole else [""])]
            done, now, whole = stack.pop()
            now = [before + after for before, after in product(now, inner)]
        else:
            now = [text + (ANYTHING if piece.startswith("{") else piece) for text in now]
    return now


def fits(name: str, as_written: Iterable[str]) -> bool:
    """Whether one of the classes as written can be the class of that name."""
    return any(re.fullmatch(re.escape(one).replace(r"\*", r"[\w-]*"), name) for one in as_written)


def on_paper(texts: Mapping[str, str]) -> set[str]:
    """The templates that papers are made of."""
    return _reached([name for name, text in texts.items() if _is_paper(name, text)], texts)


def on_screen(texts: Mapping[str, str]) -> set[str]:
    """The templates that pages are made of; parts of papers may be among them."""
    papers = on_paper(texts)
    return _reached([name for name in texts if name not in papers], texts)


def _is_paper(name: str, text: str) -> bool:
    return '{% extends "base_print.html" %}' in text or name == "handouts/rise.html"


def _reached(names: Iterable[str], texts: Mapping[str, str]) -> set[str]:
    seen: set[str] = set()
    left = list(names)
    while left:
        name = left.pop()
        if name not in seen and name in texts:
            seen.add(name)
            left += _INCLUDE.findall(texts[name])
            if "{% include shaping.template %}" in texts[name]:
                left += [other for other in texts if "/_shape_" in other]
    return seen
