"""Words by which people say that there is nothing they must not eat.

Only what says nothing else counts: `none` does, `none but nuts` does not.
"""

from __future__ import annotations

import re

# By language, from memory: common answers to such a question on a form. The Finnish "ei" is not
# among them: it is an egg in German.
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
    """Whether words are there and say that there is nothing: `None.`, `n/a`, `-`, `keine`."""
    if not words.strip():
        return False
    folded = re.sub(r"\bn\s*[/.\\]\s*a\b", "na", words.casefold())
    plain = " ".join(re.findall(r"\w+", folded))
    return not plain or _SAYS.fullmatch(plain) is not None


def words_told(words: str) -> str:
    """The words as they are told; empty where they say that there is nothing."""
    return "" if says_nothing(words) else words
