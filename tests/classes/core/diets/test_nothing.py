"""`Nothing`, `none`, `n/a` and the like are no diet; what names a food always is one."""

from __future__ import annotations

import pytest

from classes.core.diets.words import says_nothing, words_told


@pytest.mark.parametrize(
    "words",
    [
        *("Nothing", "none", "None.", "no", "NO", "No!", "nope", "nil", "n/a", "N/A", "n.a.", "na"),
        *("-", "--", "–", "—", ".", "/", "?", "keine", "Keine.", "nichts", "nein", "rien"),
        *("aucune", "ninguna", "nada", "niente", "geen", "nej", "brak", "нет", "なし", " none "),
        *("No allergies", "no known allergies", "no food allergies", "none known", "no thanks"),
        *("nothing at all", "no, thank you", "keine Allergien", "nothing special"),
        "not applicable",
        *("no allergies or intolerances", "I eat everything", "None that I know of", "no diet"),
    ],
)
def test_it_says_that_there_is_nothing(words):
    assert says_nothing(words)
    assert words_told(words) == ""


@pytest.mark.parametrize(
    "words",
    [
        *("", "  ", "nuts", "no nuts", "none but nuts", "nothing with milk", "no food with egg"),
        *("no sesame, not even traces", "non-dairy only", "noodles", "nan bread", "naan"),
        *("no milk allergy, but eggs", "no other allergies than nuts", "no restrictions but pork"),
        *("keine Nüsse", "sin gluten", "no gluten", "not nothing: see my letter", "vegan"),
        *("I eat everything but fish", "almost nothing", "none of the seeds", "nut allergy: no"),
        *("Ei", "no other allergies", "eggs: none"),
    ],
)
def test_it_names_something_or_is_empty(words):
    assert not says_nothing(words)
    assert words_told(words) == words
