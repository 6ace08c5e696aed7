"""What is around a recipe: greetings, links, menus; and which sentences are work at all."""

from __future__ import annotations

import re

from recipes.importing.method.heats import temperatures
from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.sentences import sentences
from recipes.importing.method.times import times
from recipes.importing.method.verbs import STEP_VERBS
from recipes.importing.text.shapes import OPENING
from recipes.importing.text.tokens import Token, line_start, line_text, tokenize
from recipes.importing.text.words import word_set

_MOST_GREETING_WORDS = 24
_MOST_MENU_WORDS = 16
_MOST_SHORT = 12
_LONGEST = 2000
_GREETING = re.compile(
    r"(?:hi|hiya|hello|hey|hallo|dear|greetings|good (?:morning|evening|afternoon|day))\b", re.I
)
_WEB = re.compile(
    r"https?://|www\.|jump to|★|☆|\b(?:from|based on) [0-9,]+ (?:votes|reviews|ratings)\b"
    r"|did you make this|(?:share|pin|print|save|rate) this|all rights reserved|©"
    r"|you (?:may|might) also (?:like|enjoy)|follow (?:us|me) on|sign up|subscribe|advertisement"
    r"|leave a (?:comment|reply|review)|privacy policy|cookie policy|posted (?:by|on|in) ",
    re.I,
)
_CLOSING = re.compile(
    r"(?:let (?:me|us) know|let (?:me|us) hear|(?:any )?questions|thanks?(?: you)?|enjoy|in christ|"
    r"(?:best|kind|warm|many) (?:wishes|regards|greetings))\b",
    re.I,
)
_MAIL = re.compile(r"^(?:from|to|cc|bcc|sent|date|reply-to|posted|author|by)\s*:\s", re.I)
_LINKS = word_set(
    """home breads about search print save pin share privacy contact newsletter login menu
    techniques recipes recipe comments shop blog next previous back top archive categories terms
    imprint subscribe facebook instagram email skip content buns rolls loaves sourdough basics
    jump rate video"""
)
_MENU_SIGNS = re.compile(r"\s{3,}|\t|\s[|·•»›>/]\s")
_DOUGHY = word_set("dough loaf loaves rolls buns bread tin tins oven pieces balls tray")
_AROUND_TIMES = word_set("at @ - ~ , . ( ) about for ca approx or and")
_TELLERS = word_set("i we my our she he mine yours")
_CLOCK = re.compile(r"^\W*(?:[01]?[0-9]|2[0-3])[:.][0-5][0-9]\b")


def is_greeting(line: str) -> bool:
    """`Hi Anna,` and the like, with little else on the line."""
    return bool(_GREETING.match(line.strip())) and len(line.split()) <= _MOST_GREETING_WORDS


def is_bracketed(line: str) -> bool:
    """A line that is all in brackets: an aside about the text itself."""
    text = line.strip()
    return text.startswith("(") and text.endswith(")") and text.count("(") == 1


def is_web(line: str) -> bool:
    """A page's links, menus, votes and calls."""
    text = line.strip()
    words = [word.strip("().,&").lower() for word in text.split()]
    if len(words) > _MOST_GREETING_WORDS:
        return False
    if _WEB.search(text) or _MAIL.match(text):
        return True
    if any(map(str.isdigit, text)) or len(words) > _MOST_MENU_WORDS:
        return False
    items = [item.strip().lower() for item in _MENU_SIGNS.split(text) if item and item.strip()]
    linked = sum(bool(set(item.split()) & _LINKS) for item in items)
    return len(items) > 2 and linked * 2 >= len(items)


def is_work(text: str) -> bool:
    """Whether a paragraph tells something to do."""
    return any(is_work_sentence(sentence) for sentence in sentences(line_text(text[:_LONGEST])))


def is_work_sentence(sentence: str) -> bool:
    """Whether a sentence begins with an imperative, or gives a time or temperature."""
    if _CLOCK.match(sentence):
        return True
    tokens = tokenize(sentence)
    words = [token.low for token in tokens if token.is_word]
    if not words or _CLOSING.match(sentence):
        return False
    if words[0] in OPENING or words[0] in STEP_VERBS:
        return len(words) > 1 or words[0] in STEP_VERBS
    verbs = [word for word in words if word in STEP_VERBS]
    timed = is_timed(tokens)
    if timed and (len(words) <= _MOST_SHORT or verbs):
        return True
    if set(words) & _TELLERS:
        return timed and bool(verbs)
    strong = any(not STEP_VERBS[word].weak for word in verbs)
    return strong and (timed or bool(_DOUGHY & set(words))) and len(words) > 2


def is_only_timed(line: str) -> bool:
    """Whether a line is a time, with or without a temperature, and nothing else: `16 h @ 24 C`."""
    tokens = line_start(line)[1]
    spans = [(time.start, time.end) for time in times(tokens) if isinstance(time, TimeSpan)]
    said = [*spans, *((heat.start, heat.end) for heat in temperatures(tokens))]
    rest = {
        token.low for n, token in enumerate(tokens)
        if not any(start <= n < end for start, end in said)
    }  # fmt: skip
    return bool(spans) and rest <= _AROUND_TIMES


def is_timed(tokens: list[Token]) -> bool:
    """Whether words give a time or a temperature."""
    return any(isinstance(time, TimeSpan) for time in times(tokens)) or bool(temperatures(tokens))
