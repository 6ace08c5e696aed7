"""Facts that a text states besides lines and steps: times, temperatures, the loss in the oven."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal

from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.times import times
from recipes.importing.text.makes import starts_yield, stated_makes
from recipes.importing.text.tokens import clean, tokenize
from recipes.importing.whole.asides import is_work_sentence
from recipes.importing.whole.progress import Progress

LONGEST = 400
_MOST_FACT_WORDS = 16
_COLDEST_CORE_C, _HOTTEST_CORE_C = Decimal(75), Decimal(105)
_TENTH = Decimal("0.1")
_NUMBER = r"(?P<low>[0-9]{1,3}(?:[.,][0-9])?)"
_DEGREES = (
    _NUMBER + r"(?:\s?-\s?(?P<high>[0-9]{1,3}(?:[.,][0-9])?))?"
    r"\s?(?:°|degrees?|deg\b)?\s?(?P<scale>[CF]\b)?"
)
_DOUGH = re.compile(
    r"\b(?:ddt|fdt|dt(?= ?[0-9])|(?:desired |final |target )?dough temp(?:erature)?\.?|"
    r"temperature of (?:the )?dough|dough (?:should|must|ought to|to|wants to) (?:be|come)|"
    r"(?:for|gives?|to give|aim(?:ing)? for) a dough (?:of|at)|dough (?:of|at))\b"
    r"(?P<between>[^0-9.;]{0,40}?)" + _DEGREES,
    re.IGNORECASE,
)
_MIXED = re.compile(_DEGREES + r"[^0-9.;]{0,12}?\bout of the (?:mixer|bowl)\b", re.IGNORECASE)
_CORE = re.compile(
    r"\b(?:core|cent(?:er|re)s?|middle|inside|internal(?: temperature)?)\b"
    r"(?P<between>[^0-9.;]{0,30}?)" + _DEGREES,
    re.IGNORECASE,
)
_CORE_BEHIND = re.compile(
    _DEGREES
    + r"[^0-9.;]{0,12}?\b(?:inside|internal(?:ly)?|in the (?:middle|core|cent(?:er|re)))\b",
    re.IGNORECASE,
)
_LOSS = re.compile(
    r"(?:\b(?:bak(?:e|ing) loss|oven loss|loss (?:in|on) (?:the )?(?:oven|baking)|loses?|lost|"
    r"weight loss)\b[^0-9.;]{0,30}?" + _NUMBER + r"\s?(?:%|percent|per cent))"
    r"|(?P<before>[0-9]{1,2}(?:[.,][0-9])?)\s?(?:%|percent|per cent) "
    r"(?:(?:bak(?:e|ing)[- ]?(?:off )?|oven )?loss|is lost)",
    re.IGNORECASE,
)
_TOTAL = re.compile(
    r"\b(?:total dough|dough weight|total weight|dough total|batch(?: size)?|total)\b[:\s]{0,3}"
    r"(?:of |is |about )?(?P<number>[0-9]{1,6}(?:[.,][0-9]{1,3})?)\s?(?P<unit>kg|g)\b",
    re.IGNORECASE,
)
_FLOUR = re.compile(
    r"(?:\b(?:on|for|from|based on|with|per)\b[ :]|[(,:-] ?)"
    r"(?P<number>[0-9]{1,6}(?:[.,][0-9]{1,3})?)\s?(?P<unit>kg|g) (?:of |total )?flours?\s?(?:\)|$)",
    re.IGNORECASE,
)
_STATED = re.compile(
    r"(?:hands-?on|active|prep(?:aration)?|ris(?:e|ing)|proof(?:ing)?|prov(?:e|ing)|bak(?:e|ing)|"
    r"cook(?:ing)?|total|ready|chill(?:ing)?|rest(?:ing)?|cool(?:ing)?|wait(?:ing)?|soak(?:ing)?|"
    r"additional|overnight)\b(?: (?:time|in))?",
    re.IGNORECASE,
)
_ALONE = re.compile(
    r"(?:prep(?:aration)?|total|active|hands-?on|cook(?:ing)?|bak(?:e|ing)|ris(?:e|ing)) time\b"
    r"|(?:prep|total|ready in|active|hands-on)\b",
    re.IGNORECASE,
)
_CHUNKS = re.compile(r"\s*[|·•/]\s*|\s{3,}|\t+|;\s*")
_OTHER_FACTS = re.compile(
    r"(?:pff|prefermented flour|hydration|[0-9]+ slices|serves|level|difficulty|cuisine|course|"
    r"category|author)\b",
    re.IGNORECASE,
)


def take_facts(reading: Progress, text: str) -> None:
    """Store the dough's temperature, loss and total that a text states."""
    cleaned = clean(text[:LONGEST])
    for dough in (_DOUGH, _MIXED):
        if reading.dough_temperature_c is None and (found := dough.search(cleaned)):
            reading.dough_temperature_c = _celsius(found)
    for core in (_CORE, _CORE_BEHIND):
        if reading.core_temperature_c is None and (found := core.search(cleaned)):
            reading.core_temperature_c = _core_celsius(found)
    if reading.bake_loss_percent is None and (found := _LOSS.search(cleaned)):
        percent = Decimal((found["low"] or found["before"]).replace(",", "."))
        reading.bake_loss_percent = percent if percent < 50 else None
    if reading.flour_g is None and (found := _FLOUR.search(cleaned)):
        kilos = found["unit"].lower() == "kg"
        reading.flour_g = Decimal(found["number"].replace(",", ".")) * (1000 if kilos else 1)
    if reading.total_g is None and (found := _TOTAL.search(cleaned)):
        kilos = found["unit"].lower() == "kg"
        reading.total_g = Decimal(found["number"].replace(",", ".")) * (1000 if kilos else 1)


def _celsius(found: re.Match[str]) -> Decimal | None:
    """Degrees of a dough in Celsius, the middle of a range; None if no dough has that."""
    ends = [Decimal(end.replace(",", ".")) for end in (found["low"], found["high"]) if end]
    value = sum(ends, Decimal(0)) / len(ends)
    if found["scale"] in ("F", "f") or value > 45:
        value = (value - 32) * 5 / 9
    return value.quantize(_TENTH, ROUND_HALF_UP) if 2 <= value <= 45 else None


def _core_celsius(found: re.Match[str]) -> Decimal | None:
    """Degrees in the core of bread in Celsius; None if no core has that."""
    value = Decimal(found["low"].replace(",", "."))
    if found["scale"] in ("F", "f") or value > _HOTTEST_CORE_C:
        value = (value - 32) * 5 / 9
    fits = _COLDEST_CORE_C <= value <= _HOTTEST_CORE_C
    return value.quantize(_TENTH, ROUND_HALF_UP) if fits and not found["high"] else None


def is_loss(sentence: str) -> bool:
    """Whether a sentence only says what is lost in the oven."""
    return bool(_LOSS.search(sentence)) and len(sentence) < 120


def is_dough_temperature(sentence: str) -> bool:
    """Whether a sentence only gives the temperature of the dough, and no work."""
    if len(sentence.split()) > _MOST_FACT_WORDS:
        return False
    found = _DOUGH.search(sentence)
    return found is not None and (found.start() == 0 or not is_work_sentence(sentence))


def is_facts(line: str) -> bool:
    """Whether a line is all facts: a yield, times, a temperature of the dough, a loss."""
    if len(line) > LONGEST:
        return False
    if starts_yield(line) and len(line.split()) <= _MOST_FACT_WORDS:
        return True
    chunks = [chunk for chunk in _CHUNKS.split(line.strip()) if chunk.strip(" *_-")]
    if not chunks:
        return False
    if len(chunks) == 1 and _is_time(chunks[0]):
        return _ALONE.match(clean(chunks[0])) is not None
    return all(map(_is_fact, chunks))


def _is_fact(chunk: str) -> bool:
    text = clean(chunk).strip(" -:(")
    if starts_yield(text) or _OTHER_FACTS.match(text) or _is_time(text):
        return True
    if _DOUGH.match(text) or _LOSS.match(text) or _TOTAL.match(text):
        return len(text.split()) < 14
    made = stated_makes(text)
    return made is not None and len(text.split()) <= 14 and not text.endswith("?")


def _is_time(chunk: str) -> bool:
    text = clean(chunk).strip(" -:(")
    if not _STATED.match(text):
        return False
    return any(isinstance(time, TimeSpan) for time in times(tokenize(text)))
