"""One ingredient line: what to take, of what, and what else it says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from recipes.core.choices import IngredientKind
from recipes.core.written import NamedIngredient, WrittenLine
from recipes.importing import doubts
from recipes.importing.amounts import measure_doubts
from recipes.importing.amounts.settling import settle
from recipes.importing.amounts.weights import Substance, entered, entered_sum, fitted, weight
from recipes.importing.doubts import Doubt
from recipes.importing.naming.grades import ash_of
from recipes.importing.naming.index import name_words
from recipes.importing.naming.nearness import kind_named
from recipes.importing.naming.spelling import stem, stems
from recipes.importing.text.gathered import Phrases
from recipes.importing.text.matching import Fit, IngredientBook
from recipes.importing.text.phrases import read_phrases
from recipes.importing.text.segments import Segment, words_of
from recipes.importing.text.tokens import LONGEST_START, Token, line_start, text_of
from recipes.importing.text.words import CONTAINERS, FILLERS, GRAM, NUMBERED, STATES
from recipes.importing.values import KnownIngredient, Match, ReadLine, Sureness

LONGEST_LINE = LONGEST_START
_MOST_TAIL_WORDS = 4
_ADDING = {"with", "plus", "and", "or", "in", "+", "&"}


def read_line(text: str, book: IngredientBook, part: int = 0) -> ReadLine:
    """What an ingredient line says. Never refuses: anything unsure becomes a doubt."""
    if len(text) > LONGEST_LINE:
        return _unread(text, part)
    cleaned, tokens = line_start(text)
    phrases = read_phrases(tokens, cleaned)
    fit = _fit(phrases, book)
    known = book.get(fit.match.key) if fit.match.key else None
    name = _name(phrases, fit)
    kind = known.kind if known else _likely_kind(name)
    written = WrittenLine(NamedIngredient(fit.match.key, name, kind), None)
    line = ReadLine(written, text.strip(), fit.match, percent=phrases.percent, part=part)
    words = tuple(token.low for token in tokens if token.is_word)
    liquid = KnownIngredient("", name, kind) if kind is IngredientKind.LIQUID else None
    line = _weighed(line, phrases, Substance(known or liquid, words, book.region))
    note = _note(phrases)
    also = _also_named(note, line, book)
    unsure = (*_once(phrases.doubts, also), *_name_doubts(name, fit.match))
    noted = replace(line.written, note=note)
    return replace(line, written=noted, doubts=(*line.doubts, *unsure))


def _once(found: Sequence[Doubt], also: Sequence[Doubt]) -> list[Doubt]:
    """The doubts of a line's phrases, and `also`: what is a choice or named is told once."""
    told = [*found, *also]
    known = any(isinstance(doubt, doubts.OtherChoice | doubts.AlsoNamed) for doubt in told)
    return [
        doubt for doubt in told if not (known and isinstance(doubt, measure_doubts.AmountAside))
    ]


def _likely_kind(name: str) -> IngredientKind:
    """The kind that the last significant word of an unknown name suggests."""
    return kind_named(stems(name)) or IngredientKind.OTHER


def _also_named(note: str, line: ReadLine, book: IngredientBook) -> tuple[Doubt, ...]:
    """A doubt when the note adds another ingredient: it may bring an allergen of its own."""
    if not set(note.lower().split()) & _ADDING:
        return ()
    keys = tuple(key for key in book.named_in(note) if key != line.match.key)
    return (doubts.AlsoNamed(note, keys),) if keys else ()


def _unread(text: str, part: int) -> ReadLine:
    nothing = Match("", Sureness.NONE)
    shown = text.strip()[:LONGEST_LINE]
    unnamed = WrittenLine(NamedIngredient("", ""), None)
    return ReadLine(unnamed, shown, nothing, part=part, doubts=(doubts.LineTooLong(),))


def _name_words(tokens: Sequence[Token]) -> list[Token]:
    """The words to look up: without numbers and codes such as `type 550` or `T65`."""
    return [
        token
        for n, token in enumerate(tokens)
        if token.is_word and not _is_code(tokens, n) and token.low not in FILLERS
    ]


def _is_code(tokens: Sequence[Token], n: int) -> bool:
    if tokens[n].is_number or any(sign.isdigit() for sign in tokens[n].text):
        return True
    following = tokens[n + 1] if n + 1 < len(tokens) else None
    return tokens[n].low in NUMBERED and following is not None and following.is_number


def _codes(tokens: Sequence[Token]) -> list[str]:
    """The codes in a name that tell a flour's grade."""
    return [
        token.text
        for n, token in enumerate(tokens)
        if _is_code(tokens, n) and token.low not in NUMBERED
    ]


def _fit(phrases: Phrases, book: IngredientBook) -> Fit:
    """The best fit of the name, alone or with what follows its comma or its `or`."""
    words = [token.text for token in _name_words(phrases.name)]
    fit = book.fit(words, _codes(phrases.name))
    for tail in list(phrases.tails):
        joined = _tail_fit(words, tail, fit, book)
        if joined is None:
            break
        phrases.tails.remove(tail)
        words += [token.text for token in words_of(tail)]
        fit = joined
    if fit.match.key == "" and phrases.name and phrases.name[-1].low in CONTAINERS:
        other = book.fit(words[:-1])
        if other.match.key:
            phrases.name.pop()
            return other
    if fit.match.key == "":
        fit = _of_two_languages(phrases, book) or fit
    if fit.match.key == "" and phrases.choice:
        other = book.fit([*words, phrases.choice[-1].text])
        fit = other if other.match.key else fit
    return _narrowed(fit, words, phrases, book)


def _of_two_languages(phrases: Phrases, book: IngredientBook) -> Fit | None:
    """The fit of `Mehl / flour`: the same twice, or one of them not known."""
    names: list[list[str]] = [[]]
    for before, token in pairwise([*phrases.name[:1], *phrases.name]):
        if "/" in phrases.text[before.end : token.start]:
            names.append([])
        names[-1].append(token.text)
    fits = [found for name in names if (found := book.fit(name)).match.key]
    same = len({found.match.key for found in fits}) == 1
    return fits[-1] if len(names) == 2 and same else None


def _narrowed(fit: Fit, words: Sequence[str], phrases: Phrases, book: IngredientBook) -> Fit:
    """The fit of `dry yeast` if a note such as `(instant)` says which one."""
    if fit.match.sureness is not Sureness.LIKELY:
        return fit
    for _, note in phrases.notes:
        said = name_words(note)[: _MOST_TAIL_WORDS + 1]
        codes = [word for word in said if ash_of(word) is not None]
        own = [word for word in said if word not in codes]
        if not said or len(said) > _MOST_TAIL_WORDS:
            continue
        other = book.fit([*own, *words], codes)
        sure = other.match.sureness is Sureness.EXACT or (codes and other.match.reason)
        if other.match.key and sure and set(own) <= other.used:
            return other
    return fit


def _tail_fit(words: Sequence[str], tail: Segment, fit: Fit, book: IngredientBook) -> Fit | None:
    """The fit of `Butter` with `unsalted`, if the tail's words belong to the name."""
    tokens = [item for item in tail if isinstance(item, Token)]
    if len(tokens) > _MOST_TAIL_WORDS or len(tokens) != len(tail):
        return None
    codes, own = _codes(tokens), [token.text for token in _name_words(tokens)]
    joined = book.fit([*words, *own], codes)
    used = joined.used | joined.states
    if codes and joined.match.key:
        return joined
    if not joined.match.key or not set(map(stem, own)) <= used:
        return None
    return joined if len(joined.used) > len(fit.used) else None


def _name(phrases: Phrases, fit: Fit) -> str:
    """The name in its own words; states around it and codes in it become notes."""
    words = _name_words(phrases.name)
    if fit.match.key:
        asides = {token.start for token in words if stem(token.text) in fit.states}
    else:
        asides = _outer_states(words)
    kept: list[Token] = []
    for n, token in enumerate(phrases.name):
        if token.start in asides or _is_code(phrases.name, n):
            _aside(phrases, token)
        elif token.is_word or (token.text == "-" and kept):
            kept.append(token)
    while kept and (kept[0].low in FILLERS or kept[0].text == "-"):
        del kept[0]
    while kept and (kept[-1].low in FILLERS or kept[-1].text == "-"):
        del kept[-1]
    return text_of(kept)


def _outer_states(words: Sequence[Token]) -> set[int]:
    """Starts of the states before and after the first and last real word of a name."""
    real = [n for n, token in enumerate(words) if token.low not in STATES]
    if not real:
        return set()
    return {token.start for n, token in enumerate(words) if n < real[0] or n > real[-1]}


def _aside(phrases: Phrases, token: Token) -> None:
    """Keep a word as a note, together with the note that ends right before it."""
    if phrases.notes:
        start, text = phrases.notes[-1]
        if start + len(text) + 1 == token.start or start + len(text) == token.start:
            phrases.notes[-1] = start, phrases.text[start : token.end]
            return
    phrases.notes.append((token.start, token.text))


def _note(phrases: Phrases) -> str:
    for tail in phrases.tails:
        phrases.note(tail)
    told = (" ".join(text.split()) for _, text in sorted(phrases.notes))
    return ", ".join(text for text in told if text)


def _weighed(line: ReadLine, phrases: Phrases, thing: Substance) -> ReadLine:
    """The line with the amount taken and its grams; of a sum, its parts are what was entered."""
    found = settle(phrases.groups, phrases.whole, thing)
    if found is None:
        return replace(line, doubts=(doubts.NoAmount(),))
    taken = fitted(found.amount, thing)
    weighed = weight(taken, found.thing)
    grams, quantity, unit = weighed.grams, taken.low, taken.unit
    words = entered_sum(found.summed) if found.summed else entered(taken, thing, grams)
    if taken.more and grams is not None:
        quantity, unit = grams, GRAM
    return replace(
        line,
        written=replace(line.written, mass_g=grams, entered=words if grams is not None else ""),
        quantity=quantity,
        unit=unit,
        doubts=(*taken.doubts, *weighed.doubts, *found.doubts),
    )


def _name_doubts(name: str, match: Match) -> tuple[Doubt, ...]:
    if match.sureness is Sureness.NONE:
        return (doubts.UnknownIngredient(name, match.candidates),)
    if match.sureness is Sureness.LIKELY:
        return (doubts.LikelyIngredient(name, match.key, match.candidates, match.reason),)
    return ()
