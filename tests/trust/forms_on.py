"""The forms on a page, each with what its fields hold as the page comes."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

UNSENT = ("submit", "button", "image", "reset", "file")


@dataclass
class PageForm:
    """Where a form is sent and how, its fields by name, and the buttons that say something.

    `offered` are the values of fields that are chosen and not typed.
    """

    address: str
    method: str
    fields: dict[str, list[str]] = field(default_factory=dict)
    buttons: list[tuple[str, str]] = field(default_factory=list)
    offered: dict[str, list[str]] = field(default_factory=dict)

    def add(self, name: str, value: str) -> None:
        self.fields.setdefault(name, []).append(value)


class _Reader(HTMLParser):
    def __init__(self, address: str) -> None:
        super().__init__()
        self.address = address
        self.forms: list[PageForm] = []
        self._form: PageForm | None = None
        self._select: tuple[str, list[tuple[str, bool]]] | None = None
        self._text: tuple[str, list[str]] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "form":
            address = said.get("action") or self.address
            self._form = PageForm(address, said.get("method", "get").lower())
            self.forms.append(self._form)
        if self._form is None:
            return
        name, value = said.get("name", ""), said.get("value", "")
        if said.get("type") == "checkbox":
            value = said.get("value", "on")
        if tag == "option" and self._select:
            self._select[1].append((value, "selected" in said))
        elif not name:
            return
        elif tag == "select":
            self._select = (name, [])
        elif tag == "textarea":
            self._text = (name, [])
        elif tag == "button":
            self._form.buttons.append((name, value))
        elif tag == "input" and said.get("type") not in UNSENT:
            ticked = said.get("type") not in ("checkbox", "radio") or "checked" in said
            self._form.fields.setdefault(name, [])
            if said.get("type") in ("checkbox", "radio"):
                self._form.offered.setdefault(name, []).append(value)
            if ticked:
                self._form.add(name, value)

    def handle_data(self, data: str) -> None:
        if self._text:
            self._text[1].append(data)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._form = None
        elif tag == "select" and self._select and self._form:
            name, options = self._select
            chosen = [value for value, is_chosen in options if is_chosen]
            self._form.fields[name] = chosen or [value for value, _ in options[:1]]
            self._form.offered[name] = [value for value, _ in options]
            self._select = None
        elif tag == "textarea" and self._text and self._form:
            self._form.add(self._text[0], "".join(self._text[1]).removeprefix("\n"))
            self._text = None


def forms_on(page: str, address: str) -> list[PageForm]:
    """The forms of a page at an address; fields outside of a form are left out."""
    reader = _Reader(address)
    reader.feed(page)
    return reader.forms
