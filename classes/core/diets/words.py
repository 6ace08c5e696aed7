"""The words people use for what they must not eat, and the allergens and ingredients they name.

The search finds too much rather than too little; those who wrote them have the last word.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import datetime
from functools import cache

from classes.core.diets.phrases import without_other_foods
from recipes.core.allergens import EU_FOURTEEN, US_NINE
from recipes.core.formula import FormulaIngredient

# Keys of the two lists that mean the same food.
SAME = {"egg": "eggs", "tree-nuts": "nuts", "crustacean-shellfish": "crustaceans"}

# What contains the first contains the second: wheat is one of the cereals containing gluten, as
# Annex II of Regulation (EU) No 1169/2011 lists them. Not the other way around.
PART_OF = {"wheat": "gluten-cereals"}

# Words for an allergen besides its label. The cereals, nuts and fish are those that Annex II and
# section 201(qq) of the US act name as examples; kitchen words and foods made of it are common
# practice, from memory.
WORDS = {
    "gluten-cereals": (
        "gluten celiac coeliac rye barley oat spelt khorasan kamut emmer einkorn "
        "durum semolina triticale malt seitan"
    ),
    "wheat": "spelt emmer einkorn durum semolina khorasan kamut triticale seitan",
    "milk": (
        "dairy lactose butter buttermilk cream cheese yogurt yoghurt whey casein ghee kefir quark"
    ),
    "eggs": "albumen mayonnaise meringue",
    "nuts": (
        "almond hazelnut walnut cashew pecan pistachio macadamia marzipan praline filbert "
        "brazil-nut"
    ),
    "peanuts": "groundnut ground-nut monkey-nut earth-nut peanut",
    "soybeans": "soy soya tofu edamame miso tempeh soybean",
    "sesame": "tahini tahina halva benne gomasio",
    "crustaceans": "shellfish crustacean shrimp prawn crab lobster crayfish langoustine",
    "molluscs": (
        "shellfish mollusc mollusk mussel oyster clam squid octopus snail scallop calamari"
    ),
    "fish": "anchovy anchovies cod salmon tuna bass flounder",
    "sulphites": "sulphite sulfite sulphur sulfur",
    "lupin": "lupine lupini",
    "celery": "celeriac",
}

# Words in names of ingredients that do not identify one: how it is made, and what many foods are.
_HOW = (
    "active bread brown coarse cold cooked dark diced dried dry fine fresh granulated ground "
    "hulled instant large light medium plain raw rolled salted small soft strong table toasted "
    "unsalted warm white whole"
)
_MANY = "flour oil paste powder seed sauce syrup water"
_PLAIN = frozenset(f"{_HOW} {_MANY}".split())


def one_key(key: str) -> str:
    """The one key for a food that both lists name."""
    return SAME.get(key, key)


def held_keys(keys: frozenset[str] | set[str]) -> frozenset[str]:
    """Allergens with one key each, and the wider ones that they belong to."""
    found = {one_key(key) for key in keys}
    return frozenset(found | {PART_OF[key] for key in found if key in PART_OF})


def keys_in(words: str) -> tuple[str, ...]:
    """The allergens that the words name, singular or plural, in the order of the lists."""
    read = without_other_foods(words)
    return tuple(key for key, pattern in _patterns().items() if pattern.search(read))


@cache
def _patterns() -> dict[str, re.Pattern[str]]:
    names: dict[str, list[str]] = {}
    for allergen in (*US_NINE, *EU_FOURTEEN):
        names.setdefault(one_key(allergen.key), []).append(allergen.label)
    for key, words in WORDS.items():
        names[key] += words.split()
    return {key: _one_of(found) for key, found in names.items()}


def _one_of(names: list[str]) -> re.Pattern[str]:
    """Any of the names as whole words, singular or plural, in any case."""
    stems = "|".join(re.escape(_stem(name)).replace(r"\-", r"[\s-]") for name in names)
    return re.compile(rf"(?<!\w)(?:{stems})(?:e?s)?(?!\w)", re.IGNORECASE)


def _stem(name: str) -> str:
    return name.removesuffix("s")


def names(name: str, words: str) -> bool:
    """Whether the words contain a name, singular or plural."""
    return bool(name) and _one_of([name]).search(words) is not None


def name_in(ingredient: FormulaIngredient, words: str) -> str:
    """The word in somebody's words that names an ingredient, or nothing.

    For `Sunflower seeds, hulled` this is `sunflower seeds` or `sunflower`, or `seed` if it stands
    alone, as in `no seeds`. `peanut butter` does not name `Butter`.
    """
    head = ingredient.name.partition(",")[0].strip().lower()
    read = without_other_foods(words)
    if names(head, words if " " in head else read):
        return head
    for word in (found.group() for found in re.finditer(r"[^\W\d_]+", head)):
        alone = _stem(word) in _MANY.split() and _stands_alone(word, words)
        if alone or (_stem(word) not in _PLAIN and word not in _PLAIN and names(word, read)):
            return word
    return ""


def _stands_alone(word: str, words: str) -> bool:
    """Whether a word for many foods stands alone: at the start, or after a comma, `no` or `any`."""
    before = r"(?:^|[,;.:]|\b(?:no|any|all|other|and|or|not)\b)\s*"
    return re.search(rf"{before}{re.escape(_stem(word))}s?(?!\w)", words, re.IGNORECASE) is not None


# By language, from memory: common answers to such a question on a form. The Finnish "ei" is left
# out: it is an egg in German.
_ALONE = (
    "none nothing nothin no nope nil null na nka nkfa n "
    "keine keiner keins kein nichts nein entfällt "
    "rien aucun aucune non néant neant "
    "nada ninguno ninguna ningún ningun nenhum nenhuma nao não "
    "niente nessuno nessuna geen niets nee neen "
    "ingen inget inga nej ingenting intet nei nic brak nie žádné žiadne nincs "
    "yok hayır нет ничего なし 无 없음 لا"
)
_THINGS = (
    "allergies|allergy|allergens|allergen|allergien|allergie|unverträglichkeiten|alergias|"
    "alergia|intolerances|intolerance|restrictions|restriction|diet|diets|foods|food|requirements|"
    "limits|problems|problem|issues|preferences"
)
_KINDS = "known|food|dietary|special|particular|bekannten|bekannte"
_POLITE = "thanks|thank you|thx|at all|really|so far|to my knowledge|that i know of|danke|gracias"

_NO_THING = (
    rf"(?:no|not any|keine|none|sin|ohne)(?: (?:{_KINDS}))*"
    rf" (?:{_THINGS})(?: (?:or|and|oder) (?:{_THINGS}))?"
)
_NONE_KNOWN = r"(?:none|nothing|not) (?:known|special|in particular|applicable|that i know of)"
_EATS_ALL = r"i (?:can )?eat (?:everything|anything)|not allergic(?: to anything)?"
_SAYS = re.compile(
    rf"(?:{'|'.join(map(re.escape, _ALONE.split()))}|{_NO_THING}|{_NONE_KNOWN}|{_EATS_ALL})"
    rf"(?: (?:{_POLITE}))*"
)


def says_nothing(words: str) -> bool:
    """Whether there are words and they say that there is nothing: `None.`, `n/a`, `-`, `keine`."""
    if not words.strip():
        return False
    folded = re.sub(r"\bn\s*[/.\\]\s*a\b", "na", words.casefold())
    plain = " ".join(re.findall(r"\w+", folded))
    return not plain or _SAYS.fullmatch(plain) is not None


def words_told(words: str) -> str:
    """The words as told; empty if they say that there is nothing."""
    return "" if says_nothing(words) else words


Since = Mapping[str, str]


def told_since(before: Since, allergens: Iterable[str], words: str, *, at: datetime) -> Since:
    """What is told now, item by item, with the time it was first told, as ISO text.

    An item is an allergen's key or the person's own words. Allergens that the words name are as new
    as the words, because changed words may mean more than before.
    """
    marked = dict.fromkeys(map(one_key, allergens))
    since = {key: before.get(key, at.isoformat()) for key in marked}
    if words:
        since[words] = before.get(words, at.isoformat())
        since |= dict.fromkeys(keys_in(words), since[words])
    return since


def known_by(since: Since, things: Iterable[str], at: datetime) -> bool:
    """Whether all of these had been told by a moment; without a time, it was not."""
    return all(thing in since and datetime.fromisoformat(since[thing]) <= at for thing in things)
