"""The end of reading a text: head and method, which wait until all of it is known."""

from __future__ import annotations

import re
from dataclasses import replace

from recipes.core.choices import ComponentKind
from recipes.core.written import WrittenPart, WrittenRecipe
from recipes.importing.doubts import Doubt
from recipes.importing.method.sentences import sentences
from recipes.importing.method.steps import Method, placed, read_paragraph
from recipes.importing.text.makes import Makes, read_makes, stated_makes
from recipes.importing.text.tokens import clean, line_text
from recipes.importing.text.words import NUMBER_WORDS
from recipes.importing.values import LeftOver, Reading
from recipes.importing.whole import doubts
from recipes.importing.whole.asides import is_work, is_work_sentence
from recipes.importing.whole.facts import is_dough_temperature, is_loss, take_facts
from recipes.importing.whole.gathering import cut, gathered
from recipes.importing.whole.progress import Progress, Said
from recipes.importing.whole.prose import in_figures, ingredients_in, preferment_in
from recipes.importing.whole.titles import titled

LONGEST_TITLE = 100
LONGEST_SUMMARY = 300
LONGEST_NOTE = 2000
LONGEST_EQUIPMENT = 2000
_SAYS = ("makes ", "yield", "serves ")
_COUNTED = re.compile(
    r"\b(?:divided?|cut|shaped?|split|make|form|portion)\b[^.;0-9]{0,50}?\b(?:into|in|between|among)?\s*"
    r"(?P<count>[0-9]{1,3}|one|two|three|four|five|six|seven|eight|nine|ten|twelve)\b"
    r"(?! ?(?:g|cm|mm|min|%|x|h|hours?|oz|lb|°|inch|to)\b)[^.;]{0,40}?"
    r"\b(?:pieces?|balls?|rolls?|buns?|loaf|loaves|parts|tins?|strips|portions?|rounds?|boules?|lengths?|slippers?|"
    r"baguettes?|bagels?|knots?|flatbreads?)\b",
    re.IGNORECASE,
)
_BAKES = re.compile(r"\b(?:bake|baking|oven|rise|prove|proof)\b", re.IGNORECASE)
_IN_TWO = re.compile(r"\b(?:cut|divide|split)(?: the dough| it)? in (?:two|half)\b", re.IGNORECASE)
_PUT_INTO = {
    **dict.fromkeys(("brush", "glaze"), ComponentKind.WASH),
    **dict.fromkeys(("scatter", "sprinkle", "strew", "dust", "top", "dot", "dip", "coat"),
                    ComponentKind.TOPPING),
    **dict.fromkeys(("spread", "fill", "stuff"), ComponentKind.FILLING),
}  # fmt: skip
_NEAREST = 160
_PUTS = re.compile(
    rf"\b(?P<verb>{'|'.join(_PUT_INTO)}|mix|add|stir|knead|rub|fold|work|combine|dissolve|beat|put|"
    r"warm|melt|soak)\b",
    re.IGNORECASE,
)
_ONE_TIN = re.compile(
    r"\b(?:in|into) (?:an?|the|one) [^.,;]{0,30}?\b(?:tin|loaf pan)\b", re.IGNORECASE
)


def finished(reading: Progress) -> Reading:
    """The reading of all that was taken from a text."""
    if not any(is_work(said.text) for said in reading.method):
        _take_method(reading)
    _without_frame(reading)
    reading.ask_for_empty()
    prose = not reading.lines
    if prose:
        _take_prose(reading)
    method = Method()
    for said in reading.method:
        if text := _steps_of(reading, said, prose=prose):
            read_paragraph(method, text)
            if not placed(method, said.place):
                reading.used.append(said.place)
    return _result(reading, method)


def _take_method(reading: Progress) -> None:
    """The method of a text that tells it above its ingredients, or among its notes."""
    told = [said for said in reading.head if _is_method(said.text)]
    reading.head = [said for said in reading.head if said not in told]
    noted = [text for text in reading.notes if is_work(text)]
    if not any(_is_method(text) for text in noted):
        noted = []
    reading.notes = [text for text in reading.notes if text not in noted]
    reading.method += [*told, *(Said(text, reading.place) for text in noted)]


def _is_method(text: str) -> bool:
    """Whether a paragraph tells how to bake, rather than that it was baked."""
    return is_work(text) and bool(_BAKES.search(text)) and any(sign.isdigit() for sign in text)


def _without_frame(reading: Progress) -> None:
    """Leave out what follows the last work: a signature, a good wish, news."""
    end = len(reading.method)
    while end and not is_work(reading.method[end - 1].text):
        end -= 1
    for said in reading.method[end:]:
        take_facts(reading, said.text)
        reading.leave_said(said)
    del reading.method[end:]


def _take_prose(reading: Progress) -> None:
    """Lines out of the sentences of a text that lists none."""
    dough = reading.part
    for said in reading.method:
        reading.place = said.place
        for sentence in sentences(line_text(said.text)):
            name = preferment_in(sentence)
            part = WrittenPart(ComponentKind.PREFERMENT, name) if name else dough
            told = in_figures(clean(sentence))
            for text in ingredients_in(sentence, reading.book):
                outside = None if name else _outside(told[: max(told.find(text), 0)])
                asks = (doubts.PartGuessed(),) if outside else ()
                reading.add(text, reading.named_part(outside or part), asks)


def _outside(before: str) -> WrittenPart | None:
    """The part outside the dough that the nearest verb before an amount puts it into, if any."""
    verbs = [*_PUTS.finditer(before, max(len(before) - _NEAREST, 0))]
    kind = _PUT_INTO.get(verbs[-1]["verb"].lower()) if verbs else None
    return WrittenPart(kind, kind.label) if kind else None


def _steps_of(reading: Progress, said: Said, *, prose: bool) -> str:
    """A paragraph of the method without sentences that are facts or, in prose, not work."""
    text = line_text(said.text)
    take_facts(reading, text)
    found = list(sentences(in_figures(text) if prose else text))
    works = [n for n, sentence in enumerate(found) if is_work_sentence(sentence)]
    first, last = (works[0], works[-1]) if works and prose else (0, len(found) - 1)
    kept = []
    for n, sentence in enumerate(found):
        if is_loss(sentence) or is_dough_temperature(sentence):
            continue
        if first <= n <= last:
            kept.append(sentence)
        else:
            reading.left_over.append(LeftOver(sentence, None, said.place))
    return " ".join(kept)


def _makes(reading: Progress) -> Makes:
    """The yield as stated, else as sentences of the head or the method give it."""
    made = reading.makes
    for said in (*reading.head, *reading.method):
        for sentence in sentences(line_text(said.text[:LONGEST_NOTE])):
            if made.pieces and made.piece_g:
                return made
            says = sentence.lower().startswith(_SAYS)
            stated = read_makes(sentence) if says else stated_makes(sentence)
            if stated and not made.pieces:
                made = replace(stated, doubts=(*made.doubts, *stated.doubts))
            elif stated and stated.pieces == made.pieces:
                made = replace(made, piece_g=stated.piece_g)
    if made.pieces:
        return made
    for said in reading.method:
        text = line_text(said.text[:LONGEST_NOTE])
        pieces, words = _counted(text)
        if pieces:
            told = (*reading.makes.doubts, doubts.PiecesGuessed(words))
            return Makes(pieces, doubts=told)
    return reading.makes


def _counted(text: str) -> tuple[int, str]:
    """Pieces that a sentence of the method divides the dough into, and its words."""
    if found := _COUNTED.search(text):
        count = found["count"].lower()
        return int(NUMBER_WORDS.get(count) or count), found[0]
    if found := _IN_TWO.search(text):
        return 2, found[0]
    if found := _ONE_TIN.search(text):
        return 1, found[0]
    return 0, ""


def _result(reading: Progress, method: Method) -> Reading:
    told: list[Doubt] = []
    title, rest = titled(reading)
    makes = _makes(reading)
    summary = " ".join(line_text(said.text) for said in rest)
    head = WrittenRecipe(
        title=cut(title, LONGEST_TITLE, told),
        summary=cut(summary, LONGEST_SUMMARY, told),
        note=cut("\n".join(filter(None, reading.notes)), LONGEST_NOTE, told),
        equipment=cut("\n".join(reading.equipment), LONGEST_EQUIPMENT, told),
        dough_temperature_c=reading.dough_temperature_c,
        core_temperature_c=reading.core_temperature_c,
        bake_loss_percent=reading.bake_loss_percent,
    )
    read = gathered(
        head,
        makes,
        reading.parts,
        reading.lines,
        method,
        total_g=reading.total_g,
        flour_g=reading.flour_g,
        unit=reading.unit,
        totals=reading.totals,
    )
    found = (*makes.doubts, *read.doubts, *reading.doubts, *told)
    left = (*read.left_over, *reading.left_over)
    places = (*(said.place for said in reading.head), *reading.used)
    return replace(read, left_over=left, doubts=found, head_places=tuple(places))
