"""The form for a pasted text or a file, which detects what kind it is."""

from __future__ import annotations

import codecs
import hashlib
from pathlib import PurePath
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from recipes.core.regions import HomeRegion
from recipes.editing.row_buttons import MOST_PARTS
from recipes.importing.errors import ImportingError
from recipes.importing.intake import SourceKind, read_pasted
from recipes.importing.schema.pages import has_jsonld
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import Reading
from recipes.review.refusals import import_in_words

MOST_CHARACTERS = 1_000_000
MOST_FILE_BYTES = 1_000_000
MOST_READ_LINES = 120
MOST_READ_STEPS = 80
SUFFIXES = (".json", ".jsonld", ".txt", ".html", ".htm")
RECOGNIZED = {
    SourceKind.TEXT: "a recipe in plain text",
    SourceKind.JSONLD: "a Recipe in JSON-LD (schema.org)",
    SourceKind.DOCUMENT: "a recipe file of Bakebench’s own",
}
_PAGE_STARTS = ("<!doctype html", "<html", "<?xml", "<head", "<body")
_BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


class BringForm(forms.Form):
    """One text, pasted or in a file. If valid, it has `source`, `read` and the text's `mark`."""

    use_required_attribute = False

    text = forms.CharField(
        max_length=MOST_CHARACTERS,
        required=False,
        label="Paste it here",
        widget=forms.Textarea(attrs={"rows": 14, "spellcheck": "false"}),
        help_text="A recipe’s text with its ingredient lines and method, or the source of a web "
        "page with a recipe in it.",
    )
    file = forms.FileField(
        required=False,
        label="Or choose a file",
        widget=forms.FileInput(attrs={"accept": ",".join(SUFFIXES)}),
        help_text="A .json, .jsonld, .txt or .html file of at most 1 MB.",
    )

    region = forms.TypedChoiceField(
        label="Cups, spoons, pints and eggs are those of",
        choices=[("", "The recipe book"), *HomeRegion.choices()],
        coerce=HomeRegion,
        empty_value=None,
        required=False,
        help_text="What the text says of its own, such as “UK measures”, counts first.",
    )

    source: SourceKind
    read: Reading
    mark: str

    def __init__(self, *args: Any, book: IngredientBook | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.book = book or IngredientBook(())

    def clean_file(self) -> str:
        file: UploadedFile[bytes] | None = self.cleaned_data["file"]
        if file is None:
            return ""
        if PurePath(file.name or "").suffix.lower() not in SUFFIXES:
            raise forms.ValidationError("Choose a .json, .jsonld, .txt or .html file.")
        if file.size is None or file.size > MOST_FILE_BYTES:
            raise forms.ValidationError("The file is larger than 1 MB. Keep only the recipe.")
        return _decoded(file.read())

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if self.errors:
            return cleaned
        text, file = cleaned["text"], cleaned["file"]
        self.book = self.book.in_region(cleaned["region"] or self.book.region)
        if bool(text.strip()) == bool(file.strip()):
            both = "Paste a text or choose a file, not both at once."
            self.add_error("text", both if text.strip() else "Paste a recipe, or choose a file.")
            return cleaned
        self._read("file" if file else "text", file or text)
        return cleaned

    def _read(self, name: str, text: str) -> None:
        if _is_bare_page(text):
            self.add_error(
                name,
                "This is a page’s source without a recipe in JSON-LD. "
                "Copy the recipe’s text from the page instead.",
            )
            return
        try:
            source, read = read_pasted(text, self.book)
        except ImportingError as error:
            self.add_error(name, import_in_words(error))
            return
        if trouble := _too_much(read):
            self.add_error(name, trouble)
        elif not read.lines and not read.written.steps:
            self.add_error(name, "No ingredient lines or method could be found in this.")
        else:
            self.source, self.read, self.mark = source, read, mark_of_text(text)


def mark_of_text(text: str) -> str:
    """A mark that identifies a text, whatever its spaces and line ends."""
    return hashlib.sha256(" ".join(text.split()).encode(errors="surrogatepass")).hexdigest()


def _decoded(data: bytes) -> str:
    """The text of a file: UTF-8, UTF-16 with its mark, or what older Windows programs write."""
    encoding = next((name for bom, name in _BOMS if data.startswith(bom)), "utf-8")
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    if "\0" in text:
        raise forms.ValidationError("This is not a text file.")
    return text


def _is_bare_page(text: str) -> bool:
    start = text[:2000].lstrip("\ufeff \t\r\n").lower()
    return start.startswith(_PAGE_STARTS) and not has_jsonld(text)


def _too_much(read: Reading) -> str:
    """Why a recipe is too large to be reviewed on one sheet, if it is."""
    for found, most, what in (
        (len(read.lines), MOST_READ_LINES, "ingredient lines"),
        (len(read.written.steps), MOST_READ_STEPS, "steps"),
        (len(read.written.parts), MOST_PARTS, "parts"),
    ):
        if found > most:
            return f"It has {found} {what}; a recipe can have at most {most}. Import one at a time."
    return ""
