"""Words of work in a sentence that none of its steps does: each kind becomes a doubt.

The words are wider than the verbs that steps are made by, and in any form.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from recipes.core.choices import StepKind
from recipes.importing.method import unsure
from recipes.importing.method.neighbors import names_a_thing
from recipes.importing.text.tokens import Token, text_of
from recipes.importing.text.words import word_set

_QUOTED = 4
_WAITS = {StepKind.BULK, StepKind.PROOF, StepKind.REST, StepKind.PREPARE, StepKind.COOL}
_WORDS = {
    StepKind.MIX: word_set("mix mixed mixing knead kneaded kneading"),
    StepKind.BULK: word_set(
        """rise rises rising rose prove proves proved proving proof proofs proofed proofing ferment
        ferments fermented fermenting retard retarded retarding bulk swell swells"""
    ),
    StepKind.REST: word_set("rest rests rested resting relax relaxes autolyse autolyze"),
    StepKind.DIVIDE: word_set(
        """divide divides divided dividing shape shapes shaped shaping mould moulded moulding mold
        molded portion portioned braid braided plait plaited preshape preshaped scale scaled twist
        twisted knot knotted coil coiled"""
    ),
    StepKind.SCORE: word_set(
        """score scored scoring slash slashed slashing slashes slit slits incision incisions nick
        notch notches snip snips snipped gash gashes razor lame"""
    ),
    StepKind.BAKE: word_set("bake bakes baked baking roast roasted"),
}
_COVERED_BY = {
    StepKind.MIX: {StepKind.MIX, StepKind.PREPARE},
    StepKind.BULK: _WAITS,
    StepKind.REST: _WAITS,
}
# `before baking`, `the rise`, `if proved overnight`: words of work done in another step.
_ELSEWHERE = word_set(
    """before after until till when while for of the a an this that its their be been being
    once fully freshly well to your every each first second final last in by from more if as good
    further during not n't t no longer it's bread"""
)


def doubts_of_work(tokens: Sequence[Token], kinds: set[StepKind]) -> Iterator[unsure.WorkNotRead]:
    """One doubt for each kind of work that words name and `kinds` do not cover."""
    low = [token.low for token in tokens]
    for kind, words in _WORDS.items():
        if kinds & _COVERED_BY.get(kind, {kind}):
            continue
        at = next((i for i, word in enumerate(low) if word in words and _is_work(low, i)), None)
        if at is not None:
            yield unsure.WorkNotRead(kind.value, text_of(tokens[at : at + _QUOTED]))


def _is_work(low: Sequence[str], i: int) -> bool:
    return not (i and low[i - 1] in _ELSEWHERE) and not names_a_thing(low, i)
