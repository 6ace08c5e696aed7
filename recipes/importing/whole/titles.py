"""The title among the lines of a text's head."""

from __future__ import annotations

import re

from recipes.importing.text.headings import kind_named
from recipes.importing.text.makes import PIECES, counted_pieces, stated_makes
from recipes.importing.text.tokens import line_text, tokenize
from recipes.importing.whole.doubts import TitleGuessed
from recipes.importing.whole.progress import Progress, Said

_LEAST_SENTENCE = 6
_MOST_TITLE_WORDS = 18
_GAP = re.compile(r"\s{3,}|\t")
_BRACKET = re.compile(r"\s*\([^()]*\)\s*$|\s+-\s+[0-9]{1,3} [a-z]+$")
_LABEL = re.compile(
    r"^(?:(?:production|bench|batch|bakery|recipe|formula|prep)[ -]?(?:sheet|card|list|plan)|"
    r"(?:handout|practical)(?: [0-9]+)?|recipe|formula|title|product)"
    r"\s*(?:[:|/\t]|-(?= ))\s*(?=\S)",
    re.IGNORECASE,
)
_TAIL = re.compile(
    r"^(?P<name>.{3,}?)(?:\s*[,/|;]\s+|\s+-\s+)(?P<tail>(?:[^,/|;]|(?<=[0-9]),(?=[0-9]))+)$"
)
_COUNTED = re.compile(
    r"^(?:told|as told)\b|\b(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\b"
    r"|\b(?:[0-9]+|one|two|three|four|six|eight|ten|twelve)[ -]?(?:loaf|loaves|pieces?|batch)\b",
    re.IGNORECASE,
)
_OCCASION = re.compile(
    r"\b(?:course|session|newsletter|school|module|workshop|page [0-9]+|week [0-9]+|"
    r"(?:sheet|card|handout)(?: no\.?)? ?[0-9]*$)",
    re.IGNORECASE,
)


def titled(reading: Progress) -> tuple[str, list[Said]]:
    """The title, and the lines of the head that are not it.

    A short line behind sentences is the title of what follows, and they are of something else. So
    is one behind the name of a course; that is a guess.
    """
    if reading.title:
        return reading.title, reading.head
    before = reading.head[: reading.named_by]
    short = [n for n, said in enumerate(before) if not _is_sentence(said.text)]
    if not short:
        return "", reading.head
    named = [n for n in short if not is_occasion(before[n].text)] or short
    last, first = short[-1], named[0]
    told = any(_is_sentence(said.text) for said in reading.head[:last])
    at = last if told and last == len(before) - 1 else first
    if at == first != short[0] and _is_bread(before[at].text):
        reading.doubts.append(TitleGuessed(line_text(before[at].text)))
    elif at == first:
        at = short[0]
    rest = [said for n, said in enumerate(reading.head) if n != at]
    if at == last != short[0]:
        for said in rest:
            reading.leave_said(said)
        rest = []
    return title_of(reading.head[at].text), rest


def is_occasion(line: str) -> bool:
    """Whether a line names a course or a sheet, not what is baked there."""
    return bool(_OCCASION.search(title_of(line)))


def _is_bread(text: str) -> bool:
    """Whether a line names a kind of bread, or a part of it."""
    words = [token.low for token in tokenize(line_text(text)) if token.is_word]
    return bool(kind_named(words) or PIECES & set(words))


def _is_sentence(text: str) -> bool:
    words = len(text.split())
    ends = text.rstrip().endswith((".", "!", "?", ":"))
    return words > _MOST_TITLE_WORDS or (ends and words >= _LEAST_SENTENCE)


def title_of(line: str) -> str:
    """A line as a title: without what is around it, such as a yield, a bracket, `Formula:`."""
    text = line_text(_GAP.split(_LABEL.sub("", line.strip()))[0]).strip(" :|")
    text = _LABEL.sub("", _BRACKET.sub("", text) or text)
    while (found := _TAIL.match(text)) and _is_counted(found["tail"]):
        text = found["name"]
    return text


def _is_counted(tail: str) -> bool:
    """Whether the end of a title is a yield or a day, no part of its name."""
    return bool(_COUNTED.search(tail) or stated_makes(tail) or counted_pieces(tail))
