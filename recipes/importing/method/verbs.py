"""The table of verbs by which a sentence of the method tells what kind of step it is.

Words are exact forms, so that `baking sheet` is no baking. All of it is common practice.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass, replace

from recipes.core.choices import RISING_KINDS, StepKind
from recipes.importing.text.words import word_set

WAITING_KINDS = RISING_KINDS | {StepKind.BAKE, StepKind.COOL}
CORE_WORDS = word_set("internal inside core center centre thermometer interior probe")


@dataclass(frozen=True, slots=True)
class Verb:
    """The step kind a verb stands for; a `weak` one yields to others in its sentence."""

    kind: StepKind
    weak: bool = False
    waits: bool = False


def _table(
    word: str, words: str, *, weak: bool = False, waits: bool | None = None
) -> dict[str, Verb]:
    kind = StepKind(word)
    waiting = kind in WAITING_KINDS if waits is None else waits
    return {verb: Verb(kind, weak, waiting) for verb in words.split()}


STEP_VERBS: dict[str, Verb] = {
    **_table("prepare", "preheat soak bloom", waits=True),
    **_table(
        StepKind.PREPARE, "grease prepare weigh measure gather sift toast melt activate scald"
    ),
    **_table(
        StepKind.PREPARE, "heat line oil brush sprinkle dust drain peel grate chop", weak=True
    ),
    **_table(
        StepKind.MIX, "mix stir combine whisk knead beat blend incorporate dissolve cream cook"
    ),
    **_table("mix", "add pour fold work crumble rub place put turn", weak=True),
    **_table("bulk", "ferment bulk rise rises rising retard retarding"),
    **_table("bulk", "refrigerate chill double", weak=True, waits=True),
    **_table("divide", "divide shape preshape portion braid plait form deflate degas"),
    **_table("divide", "roll cut tuck flatten press punch knock stretch", weak=True),
    **_table("rest", "rest relax autolyse autolyze autolysis"),
    **_table("rest", "stand sit leave", weak=True, waits=True),
    **_table("proof", "proof prove proofing proving"),
    **_table("score", "score slash snip"),
    **_table("bake", "bake bakes baked baking"),
    **_table("bake", "steam roast", weak=True),
    **_table("cool", "cool"),
}

# A word before or after that takes the verb's meaning away: `stand mixer`, `cool water`.
_NOT_BEFORE: dict[str, Container[str]] = {
    "rest": {"of"},
    "stand": {"mixer", "mixers"},
    "cool": {"water", "milk", "place", "room", "liquid", "spot", "dry"},
    "baking": word_set(
        "sheet sheets tray trays tin tins pan pans paper parchment soda powder stone "
        "steel dish dishes mat"
    ),
    "bulk": {"of"},
    "form": {"a"},
    "work": {"surface", "top"},
    "cream": {"and", "the", "cheese"},
    "steam": {"oven"},
}
_NOT_BEHIND: dict[str, Container[str]] = {
    "rest": {"the"},
    "cool": {"a", "the", "with"},
    "baking": {"before", "for", "of"},
    "baked": {"be", "is", "when", "until", "fully"},
    "cream": {"the", "heavy", "double", "sour", "whipping", "cold", "warm"},
    "work": {"lightly", "a", "your", "floured"},
    "form": {"a", "to", "loaf"},
    "heat": {"the", "medium", "low", "high", "from"},
    "line": {"the", "a"},
    "oil": {"the", "olive", "with", "of", "little", "and"},
    "dust": {"the", "of"},
    "roll": {"each", "a", "the"},
    "score": {"the"},
    "shape": {"its", "a"},
    "cut": {"the", "a"},
}
_FERMENTING = word_set(
    "ferment bulk rise rises rising retard retarding refrigerate chill double proof prove "
    "proofing proving"
)
_FIRST = {"first", "bulk", "primary"}
_SECOND = {"second", "final", "last"}


def verb_at(words: Sequence[str], i: int, *, shaped: bool) -> Verb | None:
    """The verb that the small word at `i` is, or None where it is none.

    A rise before the dough is shaped is its bulk fermentation, afterwards its proof.
    """
    word = words[i]
    behind = words[i - 1] if i else ""
    before = words[i + 1] if i + 1 < len(words) else ""
    if before in _NOT_BEFORE.get(word, ()) or behind in _NOT_BEHIND.get(word, ()):
        return None
    if word == "stretch" and words[i + 1 : i + 2] == ["and"]:
        return Verb(StepKind.BULK, weak=True)
    verb = STEP_VERBS[word]
    if word not in _FERMENTING:
        return verb
    if word in ("proof", "prove") and "yeast" in words[i : i + 4] and "dough" not in words:
        return Verb(StepKind.PREPARE, waits=True)
    second = bool(_SECOND & set(words[max(0, i - 2) : i]))
    first = bool(_FIRST & set(words[max(0, i - 2) : i])) or word == "bulk"
    is_proof = second or (shaped and not first)
    return replace(verb, kind=StepKind.PROOF if is_proof else StepKind.BULK)
