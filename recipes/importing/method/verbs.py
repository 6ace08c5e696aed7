"""The table of verbs by which a sentence of the method tells what kind of step it is.

Words are exact forms, so that `baking sheet` is not baking. All of it is common practice.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass, replace

from recipes.core.choices import RISING_KINDS, StepKind
from recipes.importing.method.neighbors import NOT_BEFORE, NOT_BEHIND
from recipes.importing.text.words import word_set

WAITING_KINDS = RISING_KINDS | {StepKind.BAKE, StepKind.COOL}
TIMED_KINDS = WAITING_KINDS | {StepKind.MIX, StepKind.REST}
REFRIGERATORS = word_set("refrigerator fridge retarder")


@dataclass(frozen=True, slots=True)
class Verb:
    """The step kind a verb stands for; a `weak` one yields to others in its sentence.

    A `vague` one, such as `leave`, is a rise, a rest or cooling, depending on the recipe.
    """

    kind: StepKind
    weak: bool = False
    waits: bool = False
    vague: bool = False


def _table(
    word: str, words: str, *, weak: bool = False, waits: bool | None = None, vague: bool = False
) -> dict[str, Verb]:
    kind = StepKind(word)
    waiting = kind in WAITING_KINDS if waits is None else waits
    return {verb: Verb(kind, weak, waiting, vague) for verb in words.split()}


STEP_VERBS: dict[str, Verb] = {
    **_table("prepare", "preheat soak bloom froth ripen", waits=True),
    **_table(
        StepKind.PREPARE,
        "grease prepare weigh measure gather sift weighing toast melt activate scald boil simmer "
        "fry saute sauté soften",
    ),
    **_table(
        StepKind.PREPARE, "heat line oil brush sprinkle dust drain peel grate chop", weak=True
    ),
    **_table(
        StepKind.MIX,
        "mix mixing stir combine whisk knead kneading beat blend incorporate dissolve cream cook "
        "frasage",
    ),
    **_table("mix", "add pour fold work crumble rub place put pop turn", weak=True),
    **_table("bulk", "ferment ferments fermentation bulk rise rises rising retard retarding ff"),
    **_table("bulk", "double", weak=True),
    **_table("bulk", "knock punch deflate degas", weak=True, waits=False),
    **_table("bulk", "refrigerate chill", weak=True, vague=True),
    **_table(
        "divide",
        "divide dividing div shape shaping preshape preshaping portion braid plait form scaling",
    ),
    **_table("bulk", "floor pointage pointing"),
    **_table("divide", "make halve split part break fill"),
    **_table("divide", "ball balling round moulding molding", weak=True),
    **_table("rest", "bench br detente"),
    **_table("divide", "roll cut tuck flatten press stretch mould mold scale", weak=True),
    **_table("rest", "rest resting relax relaxation", vague=True),
    **_table("rest", "autolyse autolyze autolysis"),
    **_table("rest", "stand stands sit leave set go wait keep lie forget", weak=True, vague=True),
    **_table("proof", "proof proofs prove proves proofing proving apprêt fp"),
    **_table("score", "score scoring slash slashes snip blade cuts slit slits"),
    **_table("bake", "bake bakes baking"),
    **_table("bake", "steam roast load slide", weak=True),
    **_table("cool", "cool cooling ressuage"),
}

# What was done counts where a time, a place or nothing follows it: `mixed 3+7`, `proved for 55`.
_DONE = {
    "mixed": "mix", "kneaded": "knead", "proved": "prove", "proofed": "proof", "rested": "rest",
    "fermented": "ferment", "retarded": "retard", "divided": "divide", "scaled": "scale",
    "shaped": "shape", "moulded": "mould", "molded": "mold", "rounded": "round", "slashed": "slash",
    "scored": "score", "baked": "bake", "cooled": "cool", "chilled": "chill", "left": "leave",
    "refrigerated": "refrigerate", "stood": "stand", "sat": "sit",
    "preshaped": "preshape", "autolysed": "autolyse", "autolyzed": "autolyze", "proven": "prove",
    "heated": "preheat", "preheated": "preheat",
}  # fmt: skip
_AFTER_DONE = word_set(
    "it them for at in into with once twice by up over overnight , . ; and then to"
)
_WHO_DID = word_set("i we she he they then")
STEP_VERBS |= {done: STEP_VERBS[verb] for done, verb in _DONE.items()}

_ONLY_BEFORE: dict[str, Container[str]] = {
    "set": {"aside"},
    "make": {"into", "up"},
    "ball": {"up", "them"},
    "split": {"it", "in", "into", "the"},
    "floor": {"time"},
    "part": {"it", "the", "into"},
    "break": {"off"},
    "round": {"up", "it", "them", "each", "", ",", ".", ";", "and", "under"},
    "keep": {"it", "the", "them", "at", "covered", "warm"},
    "pointing": {":"},
    "lie": word_set("a for"),
    **dict.fromkeys(_DONE, _AFTER_DONE),
}
_FERMENTING = word_set(
    "ferment ferments fermentation bulk rise rises rising retard retarding refrigerate chill "
    "double proof proofs prove proves proofing proving"
)
_MINUTES = word_set("' min mins minute minutes")
_BETWEEN = word_set("intermediate ball bench short table")
_FIRST = {"first", "bulk", "primary"}
_SECOND = {"second", "final", "last"}
_INTO = {"in", "into", "to"}
_BEFORE_PLACE = word_set("the a your hot preheated heated very warm")
_PIECES = word_set("pieces balls rolls buns loaves rounds baguettes sticks sausages lumps")
_COUNTS = word_set("two three four six eight ten twelve")
_HOT_PLATES = word_set("griddle girdle skillet tawa hotplate")
_IN_PARTS = word_set("half halves thirds quarters strips squares pieces")
_LENGTHS = word_set("cm mm in inch inches")
_FURTHEST = 4
_SCORED = word_set("cross top tops slash slashes slashed crust")
_CUTS = word_set("cross slash slashes cut cuts slit slits incision incisions")
_TINS = word_set("tin tins pan pans mould moulds mold molds form forms")
_AS_A_CUT = word_set("one long deep diagonal shallow single two three four five six quick few")
_INTO_A_SHAPE = word_set("flatten press stretch")
KNOCKING_BACK = word_set("knock punch press deflate degas knocked punched pressed")
_WORKED_IN = word_set("cut rub press")
_FURTHEST_SCORED = 8

PLACES = REFRIGERATORS | {"oven"}
IN_OVEN = Verb(StepKind.BAKE, waits=True)
IN_REFRIGERATOR = Verb(StepKind.BULK, weak=True, waits=True, vague=True)


def put_into(words: Sequence[str], i: int) -> Verb | None:
    """The verb that a place stands for: `into the hot oven`, `in the fridge`; None elsewhere."""
    if words[i] != "oven" and words[i] not in REFRIGERATORS:
        return None
    at = i - 1
    while at > 0 and i - at < _FURTHEST and words[at] in _BEFORE_PLACE:
        at -= 1
    told = words[at] if at >= 0 else ""
    noted = words[i] != "oven" and at == i - 1 and not told.isalpha()
    if told not in _INTO and not noted:
        return None
    return IN_OVEN if words[i] == "oven" else IN_REFRIGERATOR


def counts_pieces(words: Sequence[str], i: int) -> bool:
    """Whether a number counts pieces of dough: `3 x 280`, `10 balls`."""
    if not (words[i].isdigit() or words[i] in _COUNTS):
        return False
    behind = words[i + 1 : i + 3]
    weighed = behind[:1] == ["x"] and behind[1:] and behind[1].isdigit() and len(behind[1]) > 1
    if weighed and (_LENGTHS & set(words[i + 3 : i + 4]) or _TINS & set(words[max(0, i - 2) : i])):
        return False
    return bool(weighed) or bool(_PIECES & set(behind[:1]))


def verb_at(words: Sequence[str], i: int, *, mixed: bool, shaped: bool) -> Verb | None:
    """The verb that the lower-case word at `i` is, or None.

    A rise before the dough is shaped is its bulk fermentation, afterwards its proof. Before
    anything is mixed, what is rolled or cut is not dough.
    """
    word = words[i]
    behind = words[i - 1] if i else ""
    before = words[i + 1] if i + 1 < len(words) else ""
    shaped_so = "into" in words[i + 2 : i + 3] or (
        mixed and (before.isdigit() or before in _COUNTS)
    )
    if word == "make" and _CUTS & set(words[i + 1 : i + 1 + _FURTHEST]):
        return STEP_VERBS["score"]
    counted = word == "make" and shaped_so
    told = (not i and bool(before)) or behind in _WHO_DID
    done = word in _DONE and (before.isdigit() or not before or told)
    if word in _ONLY_BEFORE and before not in _ONLY_BEFORE[word] and not (counted or done):
        return None
    if word == "bench" and not before.isdigit() and behind not in _MINUTES:
        return None
    if word == "rest" and before == "of" and words[i + 2 : i + 3][:1] and words[i + 2].isdigit():
        return STEP_VERBS["rest"]
    if word in ("cut", "cuts"):
        scored = _scored(words, i)
        if scored or word == "cuts":
            return STEP_VERBS["score"] if scored else None
    if word == "fill" and not _TINS & set(words[i + 1 : i + 1 + _FURTHEST]):
        return None
    if word == "blade" and not {"cut", "cuts"} & set(words[max(0, i - 3) : i]):
        return None
    if word in ("cook", "fry") and (shaped or (mixed and _HOT_PLATES & {*words})):
        return STEP_VERBS["bake"]
    if word == "cook" and not mixed:
        return Verb(StepKind.PREPARE)
    if word in ("weigh", "weighing") and mixed and not shaped:
        return STEP_VERBS["divide"]
    if before in NOT_BEFORE.get(word, ()) or behind in NOT_BEHIND.get(word, ()):
        return None
    verb = STEP_VERBS[word]
    into = words[i + 2] if i + 2 < len(words) else ""
    parted = mixed and word == "cut" and (into.isdigit() or into in _COUNTS | _IN_PARTS)
    if word in _WORKED_IN and before == "in" and not parted:
        return Verb(StepKind.MIX, weak=word not in ("cut", "rub"))
    if (word == "stretch" and before == "and") or _folds_dough(words, i, mixed=mixed):
        return Verb(StepKind.MIX if shaped else StepKind.BULK, weak=True)
    if word in _INTO_A_SHAPE and not {"into", "out"} & set(words[i + 1 : i + 5]):
        return Verb(StepKind.BULK, weak=True) if word == "press" else None
    if verb.kind is StepKind.DIVIDE and verb.weak and not mixed:
        return Verb(StepKind.PREPARE, weak=True)
    return _rise(verb, words, i, shaped=shaped) if word in _FERMENTING else verb


def _scored(words: Sequence[str], i: int) -> bool:
    """`cut a cross`, `one long cut`, `three cuts across the top`; not `cut in four`."""
    before, behind = words[max(0, i - 4) : i], words[i + 1 : i + 1 + _FURTHEST_SCORED]
    noun = bool(_AS_A_CUT & set(before[-2:])) and before[-1:] != ["then"]
    return noun or bool(_SCORED & {*behind, *before})


def _folds_dough(words: Sequence[str], i: int, *, mixed: bool) -> bool:
    """`fold every 30 minutes`, not `fold in the raisins`."""
    behind = words[i + 1 : i + 3]
    return words[i] == "fold" and behind[:1] != ["in"] and (mixed or "every" in behind)


def _rise(verb: Verb, words: Sequence[str], i: int, *, shaped: bool) -> Verb:
    word = words[i]
    if word in ("proof", "prove") and "yeast" in words[i : i + 4] and "dough" not in words:
        return Verb(StepKind.PREPARE, waits=True)
    if shaped and _BETWEEN & set(words[max(0, i - 1) : i]):
        return Verb(StepKind.REST, waits=True)
    second = bool(_SECOND & set(words[max(0, i - 2) : i]))
    first = bool(_FIRST & set(words[max(0, i - 2) : i])) or word == "bulk"
    is_proof = second or (shaped and not first)
    return replace(verb, kind=StepKind.PROOF if is_proof else StepKind.BULK)
