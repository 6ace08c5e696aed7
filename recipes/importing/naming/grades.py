"""A flour by its grain and grade: in words (`dark rye`), or by the number of its ash (`T65`).

A French number is the ash in hundredths of a percent (T65: 0.65 %); a German, Austrian or Polish
one in thousandths (550: 0.55 %). An Italian one is a grade with a most of ash. Common practice,
from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from recipes.importing.naming.spelling import stem
from recipes.importing.naming.table import FitsAs, GradeRow, grade_rows
from wording.figures import plain

WHEAT, RYE, SPELT = "wheat", "rye", "spelt"
_GRAINS = {
    WHEAT: "wheat weizen ble froment frumento grano trigo tarwe hvete vete hvede",
    RYE: "rye roggen seigle segale centeno rogge rag rug",
    SPELT: "spelt dinkel epeautre espelta speltmjol",
}
_OTHER_GRAINS = """durum semolina einkorn emmer khorasan barley oat corn maize masa rice buckwheat
    millet chickpea gram potato soy almond coconut chestnut soya soybean peanut
    groundnut cashew walnut sesame acorn carob fava lentil plantain tapioca teff quinoa
    amaranth sorghum hemp lupin pea bean nut hazelnut pistachio cassava banana"""
_GRADES = {
    "whole": """whole wholemeal wholegrain wholewheat grain meal vollkorn integrale integral
    complete graham fullkorn volkoren entire""",
    "strong": "strong bread baker brot panification",
    "plain": "plain purpose ap",
    "soft": "soft pastry cake",
    "very": "very extra",
    "light": "light helle hell",
    "white": "white blanche",
    "medium": "medium",
    "dark": "dark dunkel dunkle",
    "brown": "brown",
    "flour": "flour mehl farine farina harina meel mjol mel",
    "": """all of de di the stoneground stone ground milled fine finely organic unbleached bleached
    unbromated bio local sifted heritage roller untreated good quality untreated your""",
}
# Words for flours of something other than wheat, rye or spelt.
OTHER_GRAINS = frozenset(map(stem, _OTHER_GRAINS.split()))
_NO_WHOLE = frozenset({"grain", "meal"})
_GRAIN_OF = {stem(word): grain for grain, words in _GRAINS.items() for word in words.split()}
_ANY_GRAIN = _GRAIN_OF | {word: word for word in OTHER_GRAINS}
_GRADE_OF = {stem(word): grade for grade, words in _GRADES.items() for word in words.split()}
# Words that change which flour is meant, and would otherwise pass for a state.
GRADING = frozenset(word for word, grade in _GRADE_OF.items() if grade not in ("", "flour"))
_LEAST_PIECE = 3
_CODE = re.compile(r"[twr]?([0-9]{1,4})")
_ITALIAN = {"00": Decimal("0.55"), "000": Decimal("0.50"), "0": Decimal("0.65")}
_ITALIAN |= {"1": Decimal("0.80"), "2": Decimal("0.95")}
_MOST_FRENCH, _LEAST_FRENCH, _MOST_GERMAN = 180, 39, 2500


@dataclass(frozen=True, slots=True)
class Flour:
    """A flour as described: `ash` in percent if a number gives it.

    It is `certain` if grain and grade cannot mean another.
    """

    grain: str
    grade: str
    ash: Decimal | None
    certain: bool


@dataclass(frozen=True, slots=True)
class Graded:
    """The keys that come nearest to a flour, whether they are that, and why they may not be."""

    keys: tuple[str, ...]
    sure: bool
    note: str


@lru_cache(maxsize=4096)
def pieces(word: str) -> tuple[str, ...]:
    """`roggen`, `vollkorn`, `mehl`: a compound in its known words, or the word alone."""
    if word in _GRADE_OF or word in _GRAIN_OF:
        return (word,)
    for at in range(_LEAST_PIECE, len(word) - _LEAST_PIECE + 1):
        first = word[:at]
        if first in _GRAIN_OF or _GRADE_OF.get(first):
            rest = pieces(word[at:])
            if all(part in _GRADE_OF or part in _GRAIN_OF for part in rest):
                return (first, *rest)
    return (word,)


def ash_of(code: str) -> Decimal | None:
    """The ash in percent that a mill's number stands for; None for other numbers."""
    if code in _ITALIAN:
        return _ITALIAN[code]
    found = _CODE.fullmatch(code)
    number = int(found[1]) if found else 0
    if _LEAST_FRENCH < number <= _MOST_FRENCH:
        return Decimal(number) / 100
    return Decimal(number) / 1000 if _MOST_FRENCH * 2 < number <= _MOST_GERMAN else None


def read_flour(words: Sequence[str], codes: Sequence[str] = ()) -> Flour | None:
    """The flour that stems name, if all of them speak of a flour and some of its grade.

    A French or Italian number alone is a flour as well: `500 g T65`.
    """
    parts = [part for word in words for part in pieces(word)]
    if not all(part in _GRADE_OF or part in _GRAIN_OF for part in parts):
        return None
    grains = list(dict.fromkeys(_GRAIN_OF[part] for part in parts if part in _GRAIN_OF))
    told = {_GRADE_OF[part] for part in parts if part in _GRADE_OF and part not in _NO_WHOLE}
    ash = next((ash for code in codes if (ash := ash_of(code)) is not None), None)
    coded = not words and any(code.startswith(("t", "00")) for code in codes)
    telling = grains or told & {"flour", "whole"} or len(told - {""}) > 1 or coded
    if len(grains) > 1 or not telling:
        return None
    grain = grains[0] if grains else WHEAT
    grade = "" if ash is not None else _grade(grain, told - {"", "flour"})
    if grade is None or not (grade or ash is not None):
        return None
    return Flour(grain, grade, ash, _is_certain(parts, grains, told, grade))


def _grade(grain: str, told: set[str]) -> str | None:
    """The grade that the words together give; None if they contradict each other."""
    if "whole" in told:
        if grain != WHEAT or told <= {"whole", "strong", "dark", "brown"}:
            return "whole"
        return "soft whole" if told & {"soft", "plain"} else "white whole"
    if grain != WHEAT:
        colors = told & {"light", "white", "medium", "dark"}
        return colors.pop() if len(colors) == 1 else None
    strengths = told & {"strong", "plain", "soft"}
    if "brown" in told:
        return "brown" if strengths <= {"strong"} else None
    if told & {"light", "medium", "dark"} or len(strengths) != 1:
        return None
    if "very" in told:
        return "very strong" if "strong" in strengths else None
    return strengths.pop()


def _is_certain(parts: Sequence[str], grains: list[str], told: set[str], grade: str) -> bool:
    if "whole" in grade:
        if grains:
            return "flour" in told or bool({"wholemeal", "wholewheat"} & set(parts))
        return "flour" in told and bool({"wholemeal", "graham"} & set(parts))
    return bool(grains) or "flour" in told


def nearest(flour: Flour, known: Iterable[str]) -> Graded | None:
    """The known keys that a flour is, or comes nearest to."""
    rows = [row for row in grade_rows() if row.grain == flour.grain and _fits(row, flour)]
    keys = tuple(row.key for row in rows if row.key in known)
    if not keys:
        return None
    first = rows[0]
    sure = flour.certain and first.fits_as is FitsAs.IS and keys[0] == first.key
    figure = f"about {plain(flour.ash)} % ash: " if flour.ash is not None and first.note else ""
    return Graded(keys[:1] if sure else keys, sure, "" if sure else f"{figure}{first.note}")


def _fits(row: GradeRow, flour: Flour) -> bool:
    if flour.ash is None:
        return row.grade == flour.grade
    if row.ash_from is None or row.ash_to is None:
        return False
    return row.ash_from <= flour.ash <= row.ash_to


def grain_of(words: Iterable[str]) -> str:
    """The grain that stems name; wheat if they name none."""
    parts = (part for word in words for part in pieces(word))
    return next((_ANY_GRAIN[part] for part in parts if part in _ANY_GRAIN), WHEAT)


def is_whole(words: Iterable[str]) -> bool:
    """Whether stems mean whole grain; dark rye counts."""
    parts = {part for word in words for part in pieces(word)}
    told = {_GRADE_OF.get(part) for part in parts - _NO_WHOLE}
    return "whole" in told or ("dark" in told and grain_of(parts) == RYE)
