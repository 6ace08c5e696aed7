"""One ingredient line: what to take, of what, and what else it says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from recipes.core.choices import IngredientKind
from recipes.core.written import NamedIngredient, WrittenLine
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.text.gathered import Phrases
from recipes.importing.text.matching import Fit, IngredientBook, stem
from recipes.importing.text.measures import chosen, entered, far_apart, fitted, weight
from recipes.importing.text.numbers import Amount
from recipes.importing.text.phrases import read_phrases
from recipes.importing.text.segments import Segment, segments, span, words_of
from recipes.importing.text.tokens import LONGEST_START, Token, line_start, text_of
from recipes.importing.text.words import CONTAINERS, FILLERS, KIND_WORDS, NUMBERED, STATES
from recipes.importing.values import KnownIngredient, Match, ReadLine, Sureness

LONGEST_LINE = LONGEST_START
_LEAST_RUN = 2
_MOST_TAIL_WORDS = 4
_ADDING = {"with", "plus", "and", "or", "in", "+", "&"}


def read_line(text: str, book: IngredientBook, part: int = 0) -> ReadLine:
    """What an ingredient line says. Never refuses: what is unsure comes back as doubts."""
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
    line = _weighed(line, phrases, known, tokens)
    note = _note(phrases)
    unsure = (*phrases.doubts, *_name_doubts(name, fit.match), *_also_named(note, line, book))
    noted = replace(line.written, note=note)
    return replace(line, written=noted, doubts=(*line.doubts, *unsure))


def _likely_kind(name: str) -> IngredientKind:
    """The kind that the last word of an unknown name suggests."""
    return KIND_WORDS.get(name.lower().rpartition(" ")[2], IngredientKind.OTHER)


def _also_named(note: str, line: ReadLine, book: IngredientBook) -> tuple[Doubt, ...]:
    """A doubt when the note adds another ingredient: it may bring an allergen of its own."""
    if not set(note.lower().split()) & _ADDING:
        return ()
    keys = tuple(key for key in book.named_in(note) if key != line.match.key)
    return (doubts.AlsoNamed(note, keys),) if keys else ()


def lines_in(text: str, book: IngredientBook) -> list[str]:
    """A line that lists several, `400 g flour, 240 g water`, as one text for each ingredient."""
    if len(text) > LONGEST_LINE:
        return [text]
    cleaned, tokens = line_start(text)
    cuts = [_listed(segment, tokens, cleaned) for segment in segments(tokens)]
    listed = [cut for cut in cuts if cut and book.named_in(cut)]
    return listed if len(listed) == len(cuts) >= _LEAST_RUN else [text]


def _listed(segment: Segment, tokens: Sequence[Token], text: str) -> str:
    """A segment's text when it is an amount with a unit and words; else nothing."""
    first = segment[0]
    if not isinstance(first, Amount) or first.unit is None or not first.usable:
        return ""
    if not words_of(segment):
        return ""
    start, end = span(segment, tokens)
    return text[start:end]


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


def _fit(phrases: Phrases, book: IngredientBook) -> Fit:
    """The best fit of the name, alone or with what follows its comma or its `or`."""
    words = [token.text for token in _name_words(phrases.name)]
    fit = book.fit(words)
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
    if fit.match.key == "" and phrases.choice:
        other = book.fit([*words, phrases.choice[-1].text])
        fit = other if other.match.key else fit
    return fit


def _tail_fit(words: Sequence[str], tail: Segment, fit: Fit, book: IngredientBook) -> Fit | None:
    """The fit of `Butter` with `unsalted`, if the tail's words belong to the name."""
    own = [token.text for token in words_of(tail)]
    if len(own) > _MOST_TAIL_WORDS or len(own) != len(tail):
        return None
    joined = book.fit([*words, *own])
    used = joined.used | joined.states
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


def _weighed(
    line: ReadLine, phrases: Phrases, known: KnownIngredient | None, tokens: Sequence[Token]
) -> ReadLine:
    """The line with the amount taken and its grams."""
    best = chosen(phrases.groups)
    if best is None:
        return replace(line, doubts=(doubts.NoAmount(),))
    taken = fitted(best, known)
    states = [token.low for token in tokens if token.is_word]
    weighed = weight(taken, known, states)
    grams, words = weighed.grams, entered(taken, known, weighed.grams)
    apart = _disagreeing(phrases, best, known, states)
    return replace(
        line,
        written=replace(line.written, mass_g=grams, entered=words),
        quantity=taken.low,
        unit=taken.unit,
        doubts=(*taken.doubts, *weighed.doubts, *apart),
    )


def _disagreeing(
    phrases: Phrases, best: Amount, known: KnownIngredient | None, states: Sequence[str]
) -> tuple[Doubt, ...]:
    """A doubt when a single group's amounts are far apart in grams."""
    if len(phrases.groups) != 1:
        return ()
    masses = [weight(fitted(a, known), known, states).grams for a in phrases.groups[0]]
    taken = weight(fitted(best, known), known, states).grams
    for grams in masses:
        if taken and grams and far_apart(taken, grams):
            return (doubts.AmountsDisagree(taken, grams),)
    return ()


def _name_doubts(name: str, match: Match) -> tuple[Doubt, ...]:
    if match.sureness is Sureness.NONE:
        return (doubts.UnknownIngredient(name, match.candidates),)
    if match.sureness is Sureness.LIKELY:
        return (doubts.LikelyIngredient(name, match.key, match.candidates),)
    return ()
