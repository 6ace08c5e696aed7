"""Headings of a pasted recipe: its sections, and the parts of the bread."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from recipes.core.choices import ComponentKind
from recipes.importing.text.tokens import LONGEST_START, Token, line_start, tokenize
from recipes.importing.text.words import word_set

MOST_HEADING_WORDS = 9
_MOST_LABEL_WORDS = 6
_SOURS = {"sourdough", "mother"}
LONGEST_PART_NAME = 60


class Section(StrEnum):
    """What the lines under a heading are."""

    HEAD = "head"
    INGREDIENTS = "ingredients"
    METHOD = "method"
    EQUIPMENT = "equipment"
    NOTES = "notes"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading: of a section, or of a part when `kind` is set; `rest` follows on its line.

    `sure` is False for a marked line with unknown words, such as a bold title. `aside` is what is
    in its brackets. A group, such as `Dry`, or a day opens no part.
    """

    name: str
    section: Section | None = None
    kind: ComponentKind | None = None
    rest: str = ""
    sure: bool = True
    aside: str = ""
    is_group: bool = False


def _table(words: str, section: Section) -> dict[str, Section]:
    return dict.fromkeys(words.split("|"), section)


_SECTIONS: dict[str, Section] = {
    **_table("ingredients|ingredient|you will need|what you need|you need|formula|recipe|"
             "what goes in|shopping list|what you'll need|what you will need|you'll need|"
             "what's in it|formulation|used|this time|used this time|needs", Section.INGREDIENTS),
    **_table("method|directions|instructions|preparation|steps|procedure|process|how to|"
             "how to make it|what to do|method of work|timetable|making it|how we make it|"
             "how it is done|the making|what you'll do|what you will do|how you do it|what we do|"
             "process parameters|work|work plan|schedule|how i make it|making", Section.METHOD),
    **_table("equipment|tools|utensils|special equipment|kit", Section.EQUIPMENT),
    **_table("notes|note|tips|tip|recipe notes|baker's notes|baker's note|cook's note|"
             "cook's notes|storage|homework|ps|nb|starters of this recipe", Section.NOTES),
    **_table("nutrition|nutrition facts|nutrition information|video|faq|comments|related|"
             "reviews|leave a comment|leave a reply|you may also like|you might also like|"
             "more recipes|related recipes|share this|about the author", Section.OTHER),
}  # fmt: skip
_COUNTED_COMMENTS = re.compile(r"\(?[0-9]{1,4}\)? (?:comments|reviews|replies)")

# Words that make a section of a short line that starts with them: `Ingredients, metric`.
_OPENERS = {"ingredients", "instructions", "directions"}
_MOST_OPENER_WORDS = 5

# The first of these kinds that a heading names counts: `sponge dough` is a preferment.
_KINDS: tuple[tuple[ComponentKind, frozenset[str]], ...] = tuple(
    (kind, frozenset(words.split()))
    for kind, words in (
        (ComponentKind.ROUX, "roux tangzhong yudane scald scalded"),
        (ComponentKind.PREFERMENT, "poolish biga levain leaven sponge preferment ferment starter "
                                   "prefermented predough sour build barm feed feeding "
                                   "sauerteig vorteig"),
        (ComponentKind.SOAKER, "soaker soakers soak soaked porridge brühstück quellstück"),
        (ComponentKind.WASH, "wash glaze glazing brushing syrup lye bath dip brine boiling "
                             "poaching pot dorure"),
        (ComponentKind.FILLING, "filling fillings swirl stuffing füllung"),
        (ComponentKind.TOPPING, "topping toppings crumble streusel coating top "
                                "tops decoration finish finishing icing frosting sprinkle "
                                "sprinkling cross crosses garnish belag"),
        (ComponentKind.DOUGH, "dough doughs bread loaf loaves rolls roll buns bun base batter "
                              "focaccia baguettes mix teig hauptteig"),
    )
)  # fmt: skip
_KIND_WORDS = frozenset(word for _, words in _KINDS for word in words)
_WITH_OLD = {("old", "dough"), ("pate", "fermentee"), ("pâte", "fermentée"), ("pre", "ferment"),
             ("pre", "dough")}  # fmt: skip
_NIGHT = word_set("night overnight evening soaked soak")
_SOAKED = word_set("fruit fruits seeds seed grains grain raisins")
_AROUND = word_set(
    """for the a an to make of final main sweet egg milk water seed seeds seeded butter sugar
    first second day stage part night before and ingredients with your overnight liquid stiff
    sourdough rye wheat whole mixed grain bulk soaked optional step evening fruit fruits total
    morning afternoon next tomorrow today overall formula sesame cheese apple nut nuts cinnamon
    onion"""
)
_NAME_AROUND = ("for the ", "for ", "to make the ", "make the ", "the ", "to make ")
_GROUPS = word_set("wet dry fats liquids")
_GROUP_AROUND = word_set("ingredients the and mix for")
_DAY = re.compile(
    r"(?:day|period|session|lesson|week) (?:[0-9]{1,2}|one|two|three|four)|"
    r"(?:mon|tues|wednes|thurs|fri|satur|sun)day(?: (?:morning|evening|night|afternoon))?|"
    r"(?:the )?(?:night|evening|day) before|(?:the )?(?:next|first|second) (?:day|morning)|"
    r"(?:morning|evening|afternoon|night)"
)
_NUMBERED = re.compile(r"^(?:table|list|part|section) [0-9]{1,2}[.:)]? (?=[A-Za-z])", re.IGNORECASE)
_LETTERED = re.compile(r"^\(?(?:[A-Ha-h]|[IVX]{1,4})[.)] (?=\S{3})")
_FRAMES = " -|=~<>»«▸[]{}_"
_SEVERAL = re.compile(r"[0-9].*[^\W\d_]{3}")
_AT = re.compile(r",? (?:at )?[0-9]{1,2}(?:[:.h][0-9]{2})?(?: ?(?:am|pm|h|uhr|o'clock))?$")


def read_heading(line: str) -> Heading | None:
    """The heading that a pasted line is, or None for anything else."""
    cleaned = line_start(line)[0].strip(_FRAMES) if len(line) <= LONGEST_START else ""
    cleaned = cleaned[1:-1] if cleaned[:1] == "(" and cleaned[-1:] == ")" else cleaned
    cleaned = _NUMBERED.sub("", _LETTERED.sub("", cleaned))
    stripped = line.strip()
    marked = stripped.startswith("#") or (
        stripped[:2] in ("**", "__") and (stripped.rstrip(": ")[-2:] in ("**", "__"))
    )
    if other := _group(cleaned):
        return other
    front, colon, rest = _parted(cleaned)
    label = _without_brackets(front)
    first, both, _ = label.partition(" / ")
    label = first if both and kind_named(first.lower().split()) else label
    words = [token for token in tokenize(label) if token.text not in "-./&',|+"]
    if not words or len(words) > MOST_HEADING_WORDS or not all(t.is_word for t in words):
        return None
    rest = rest.strip()
    aside, _, behind = front.partition("(")[2].partition(")")
    if any(map(str.isdigit, behind)):
        return None
    return _section(label, words, rest) or _part(label, words, rest, aside.strip(), colon, marked)


def _parted(text: str) -> tuple[str, bool, str]:
    """A line before and after its first colon, except in brackets or clock times."""
    at = text.find(":")
    bracket = text.find("(")
    if 0 <= bracket < at:
        end = text.find(")", bracket)
        at = text.find(":", end) if end >= 0 else -1
    if at < 0:
        return text, False, ""
    return text[:at], True, text[at + 1 :]


def _group(text: str) -> Heading | None:
    """A heading of a day or of a group of ingredients within a part, or of comments."""
    low = text.lower().strip(" :.~-=")
    words = set(low.split())
    if words & _GROUPS and words <= _GROUPS | _GROUP_AROUND:
        return Heading(text, is_group=True)
    if is_day(low):
        return Heading(text, is_group=True)
    if _COUNTED_COMMENTS.fullmatch(low):
        return Heading(text, Section.OTHER)
    return None


def is_day(text: str) -> bool:
    """Whether a heading tells only when, as `Day two` and `The evening before` do."""
    low = text.lower().strip(" :.~-=")
    return bool(_DAY.fullmatch(_AT.sub("", low)) or _DAY.fullmatch(low))


def _without_brackets(text: str) -> str:
    return " ".join(text.partition("(")[0].split())


def _section(label: str, words: list[Token], rest: str) -> Heading | None:
    low = label.lower().rstrip(". ").replace("’", "'")
    found = _SECTIONS.get(low)
    if found:
        return Heading(label, found, rest=rest)
    small = [word.low for word in words]
    if small[0] in _OPENERS and len(small) <= _MOST_OPENER_WORDS and not rest:
        kind = kind_named(small) if "for" in small else None
        return Heading(_name(" ".join(word.text for word in words[1:])), _SECTIONS[small[0]], kind)
    if "ingredients" in small and set(small) <= _KIND_WORDS | _AROUND:
        kind = kind_named(small)
        name = _name(" ".join(word.text for word in words if word.low != "ingredients"))
        return Heading(name, Section.INGREDIENTS, kind, rest)
    return None


def _part(
    label: str, words: list[Token], rest: str, aside: str, colon: bool, marked: bool
) -> Heading | None:
    """A part of the bread; a marked line of other words is unsure."""
    small = [word.low for word in words]
    known = set(small) <= _KIND_WORDS | _AROUND
    kind = kind_named(small)
    ends = colon and not rest
    if small[0] in _SOURS and len(small) == 1 and _SEVERAL.match(rest):
        return Heading(_name(label), kind=ComponentKind.PREFERMENT, rest=rest)
    if rest and not (known and kind and any(t.is_word for t in tokenize(rest))):
        return None
    if kind and (known or ends or marked or aside):
        return Heading(_name(label), kind=kind, rest=rest, aside=aside)
    if small[0] == "for" and ends:
        return Heading(_name(label), kind=ComponentKind.DOUGH, rest=rest, aside=aside)
    if small in (["total", "formula"], ["overall", "formula"]):
        return Heading(_name(label), kind=ComponentKind.DOUGH, rest=rest)
    if ends or marked:
        return Heading(_name(label), kind=ComponentKind.DOUGH, sure=False)
    return None


def read_label(line: str) -> Heading | None:
    """A short line of only words as the heading of a part, which is not sure."""
    text = line_start(line)[0].strip(" -|:")
    words = tokenize(text)
    named = 0 < len(words) <= _MOST_LABEL_WORDS and all(t.is_word or t.text in "'&-" for t in words)
    if not named or line.rstrip().endswith((".", "!", "?", ",")):
        return None
    kind = kind_named([token.low for token in words]) or ComponentKind.DOUGH
    return Heading(_name(text), kind=kind, sure=False)


def kind_named(words: list[str]) -> ComponentKind | None:
    """The kind of part that small words name, if any."""
    if any(pair in _WITH_OLD for pair in pairwise(words)):
        return ComponentKind.PREFERMENT
    if set(words) & _SOAKED and set(words) & _NIGHT:
        return ComponentKind.SOAKER
    own = words[: words.index("with")] if "with" in words[1:] else words
    return next((kind for kind, named in _KINDS if named & set(own)), None)


def _name(label: str) -> str:
    """`For the FINAL dough` as `Final dough`."""
    text = label.strip(" -.,")
    start = next((words for words in _NAME_AROUND if text.lower().startswith(words)), "")
    text = text[len(start) :].strip() or text
    text = text.lower() if text.isupper() else text
    return (text[:1].upper() + text[1:])[:LONGEST_PART_NAME].strip()
