"""An import's doubts in words: the field concerned and a sentence to read there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import singledispatch

from recipes.forms.words import quoted
from recipes.importing import doubts
from recipes.importing.amounts import measure_doubts
from recipes.importing.whole import doubts as whole
from recipes.review.step_words import told_of_step
from wording.figures import plain
from wording.lists import either, listed

LONGEST_SHOWN = 160

Told = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Names:
    """Ingredients by key and parts by number, as the page calls them."""

    ingredients: Mapping[str, str] = field(default_factory=dict)
    parts: tuple[str, ...] = ()

    def either(self, keys: tuple[str, ...]) -> str:
        """`Bread flour or Cake flour`, without keys that are no longer there."""
        known = tuple(self.ingredients[key] for key in keys if key in self.ingredients)
        return either(known) if known else ""


def _figure(value: Decimal | None) -> str:
    return "" if value is None else plain(round(value, 2))


def _cut(text: str) -> str:
    return f"“{text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + '…'}”"


@singledispatch
def told(doubt: doubts.Doubt, names: Names) -> Told:
    """The field's name, empty for the whole row or recipe, and one sentence."""
    return told_of_step(doubt)


@told.register
def _(doubt: doubts.NoAmount, names: Names) -> Told:
    return "amount", "No amount is written. Fill one in, or leave the line out."


@told.register
def _(doubt: doubts.NoUnit, names: Names) -> Told:
    return "unit", "No unit is written."


@told.register
def _(doubt: doubts.RangeRead, names: Names) -> Told:
    low, high = _figure(doubt.low), _figure(doubt.high)
    return "amount", f"From {low} to {high}: the lower one is used, since adding is easier."


@told.register
def _(doubt: doubts.LetterUnit, names: Names) -> Told:
    return "unit", f"{quoted(doubt.letter)} is taken as {doubt.taken}; it could be {doubt.other}."


@told.register
def _(doubt: doubts.MistypedUnit, names: Names) -> Told:
    return "unit", f"{quoted(doubt.word)} is taken as {doubt.taken}."


@told.register
def _(doubt: doubts.TwoReadings, names: Names) -> Told:
    taken, other = _figure(doubt.taken), _figure(doubt.other)
    return "amount", f"{quoted(doubt.text)} is taken as {taken}; it could be {other}."


@told.register
def _(doubt: doubts.NumberUnread, names: Names) -> Told:
    return "amount", f"{quoted(doubt.text)} could not be read as an amount."


@told.register
def _(doubt: doubts.RoughAmount, names: Names) -> Told:
    return "amount", f"{quoted(doubt.word)} makes the amount a rough one: weigh it once."


@told.register
def _(doubt: measure_doubts.NotMeasured, names: Names) -> Told:
    return "unit", f"A {doubt.word} is taken by feel: enter grams, or leave it so."


@told.register
def _(doubt: measure_doubts.MeasureAssumed, names: Names) -> Told:
    holds = f"{_figure(doubt.holds)} {'g' if doubt.unit == 'stick' else 'ml'}"
    return "unit", f"One {doubt.unit} is taken as {holds}: countries differ."


@told.register
def _(doubt: measure_doubts.TakenLikeWater, names: Names) -> Told:
    return "unit", f"What 1 {doubt.unit} of it weighs is not known: it is taken like water."


@told.register
def _(doubt: measure_doubts.FlourByVolume, names: Names) -> Told:
    spooned, dipped = _figure(doubt.spooned_g), _figure(doubt.dipped_g)
    return "amount", f"By volume: {spooned} g spooned into the cup, {dipped} g dipped with it."


@told.register
def _(doubt: measure_doubts.AmountAside, names: Names) -> Told:
    return "note", f"The note has an amount that is not counted: {_cut(doubt.text)}."


@told.register
def _(doubt: doubts.NoDensityKnown, names: Names) -> Told:
    return "unit", f"What 1 {doubt.unit} of it weighs is not known: enter grams."


@told.register
def _(doubt: doubts.NoPieceMassKnown, names: Names) -> Told:
    return "unit", f"What one {quoted(doubt.word)} weighs is not known: enter grams."


@told.register
def _(doubt: doubts.PacketAssumed, names: Names) -> Told:
    each = _figure(doubt.grams)
    return "amount", f"{quoted(doubt.word)}: each is taken as {each} g. Look at yours."


@told.register
def _(doubt: doubts.SizeAssumed, names: Names) -> Told:
    stated = f"{doubt.stated} " if doubt.stated else ""
    return "amount", f"One {stated}piece is taken as {_figure(doubt.grams)} g."


@told.register
def _(doubt: doubts.OunceOfLiquid, names: Names) -> Told:
    return "unit", "Ounces are taken by weight; fluid ounces may be meant (fl oz)."


@told.register
def _(doubt: doubts.AmountsDisagree, names: Names) -> Told:
    taken, other = _figure(doubt.taken_g), _figure(doubt.other_g)
    return "amount", f"The line gives two amounts: {taken} g is taken, the other is {other} g."


@told.register
def _(doubt: doubts.OtherChoice, names: Names) -> Told:
    return "ingredient", f"The line offers another choice: {_cut(doubt.text)}."


@told.register
def _(doubt: doubts.AlsoNamed, names: Names) -> Told:
    others = names.either(doubt.keys)
    what = f" {others}" if others else " another ingredient"
    return "note", f"The note names{what}, which may need a line of its own."


@told.register
def _(doubt: doubts.LikelyIngredient, names: Names) -> Told:
    taken = names.ingredients.get(doubt.key, doubt.key)
    others = names.either(tuple(key for key in doubt.candidates if key != doubt.key))
    more = f" It could be {others}." if others else ""
    why = f" ({doubt.reason})" if doubt.reason else ""
    return "ingredient", f"{quoted(doubt.name)} is taken as {taken}{why}.{more}"


@told.register
def _(doubt: doubts.OtherHydration, names: Names) -> Told:
    ours = "not known" if doubt.book_percent is None else f"{plain(doubt.book_percent)} %"
    return "ingredient", (
        f"The file says a hydration of {plain(doubt.said_percent)} % for this starter. In your "
        f"book it is {ours}, and that is what counts."
    )


@told.register
def _(doubt: doubts.OtherFlours, names: Names) -> Told:
    said, ours = listed(doubt.said), listed(doubt.book) or "nobody knows what"
    return "ingredient", (
        f"The file says that this starter is fed with {said}. In your book it is {ours}, and that "
        "is what counts."
    )


@told.register
def _(doubt: doubts.UnknownIngredient, names: Names) -> Told:
    near = names.either(doubt.candidates)
    mean = f" Did you mean {near}?" if near else ""
    what = quoted(doubt.name) if doubt.name else "The ingredient"
    return "ingredient", f"{what} is not on your list.{mean}"


@told.register
def _(doubt: doubts.PartOfRecipe, names: Names) -> Told:
    name = names.parts[doubt.part] if 0 <= doubt.part < len(names.parts) else "another part"
    return "", f"It names {quoted(name)}, whose own lines count already."


@told.register
def _(doubt: doubts.PiecesForPart, names: Names) -> Told:
    return "for_pieces", "How many pieces these amounts are for is a guess."


@told.register
def _(doubt: doubts.TextCut, names: Names) -> Told:
    return "", f"The text was too long for its field. What did not fit: {_cut(doubt.rest)}"


@told.register
def _(doubt: doubts.LineTooLong, names: Names) -> Told:
    return "amount", "The line is too long to be an ingredient: nothing was read from it."


@told.register
def _(doubt: doubts.NothingRead, names: Names) -> Told:
    return "", f"No {doubt.what} could be found."


@told.register
def _(doubt: doubts.YieldRange, names: Names) -> Told:
    return "pieces", f"From {doubt.low} to {doubt.high} pieces: the lower one is used."


@told.register
def _(doubt: doubts.YieldUnclear, names: Names) -> Told:
    return "pieces", f"{_cut(doubt.text)} says nothing about pieces of dough."


@told.register
def _(doubt: doubts.SeveralRecipes, names: Names) -> Told:
    return "", f"There are {doubt.found} recipes in it: the first one was read."


@told.register
def _(doubt: doubts.DietIgnored, names: Names) -> Told:
    diets = ", ".join(doubt.diets[:6])
    return "", f"It claims diets ({diets}). They are not an allergen list and were left out."


@told.register
def _(doubt: whole.YieldAndLines, names: Names) -> Told:
    due = _figure(doubt.pieces * doubt.piece_g)
    return "piece_g", (
        f"{doubt.pieces} × {_figure(doubt.piece_g)} g is {due} g, the lines of the dough add to "
        f"{_figure(doubt.lines_g)} g: which is meant?"
    )


@told.register
def _(doubt: whole.PiecesGuessed, names: Names) -> Told:
    return "pieces", f"No yield is written: the pieces are counted from {_cut(doubt.text)}."


@told.register
def _(doubt: whole.TotalDisagrees, names: Names) -> Told:
    said, made = _figure(doubt.said_g), _figure(doubt.lines_g)
    return "", f"{quoted(doubt.name)}: the total is {said} g, its lines add to {made} g."


@told.register
def _(doubt: whole.TitleGuessed, names: Names) -> Told:
    return "title", f"A guess: {_cut(doubt.text)} is one of several lines that may be the title."


@told.register
def _(doubt: whole.NotSaid, names: Names) -> Told:
    if doubt.what == "title":
        return "title", "No title could be found."
    return "pieces", "A guess: the text does not say how many pieces it makes."


@told.register
def _(doubt: whole.PartTakenOtherwise, names: Names) -> Told:
    said, made = _figure(doubt.said_g), _figure(doubt.made_g)
    return "", f"The dough takes {said} g of {quoted(doubt.name)}, whose lines add to {made} g."


@told.register
def _(doubt: whole.WorkedOutByPercent, names: Names) -> Told:
    return "amount", f"{_figure(doubt.percent)} % is written: the grams follow from the yield."


@told.register
def _(doubt: whole.OnlyPercent, names: Names) -> Told:
    return "amount", f"{_figure(doubt.percent)} % of the flour is written: work the grams out."


@told.register
def _(doubt: whole.Corrected, names: Names) -> Told:
    return "amount", f"The line corrects itself: {quoted(doubt.dropped)} no longer counts."


@told.register
def _(doubt: whole.TakenAsGrams, names: Names) -> Told:
    return "unit", "No unit is written: grams are taken."


@told.register
def _(doubt: whole.OtherBatch, names: Names) -> Told:
    taken = _figure(doubt.taken_g)
    return "amount", f"The list has columns for several batches: the one with {taken} g is taken."


@told.register
def _(doubt: whole.NotRead, names: Names) -> Told:
    return "", f"{_cut(doubt.text)} stands in the text and in no line: add it, or see whose it is."


@told.register
def _(doubt: whole.EmptyPart, names: Names) -> Told:
    return "", f"Nothing was read under the heading {quoted(doubt.name)}."


@told.register
def _(doubt: whole.PartGuessed, names: Names) -> Told:
    return "", "A guess: nothing says for sure that it goes into this part."
