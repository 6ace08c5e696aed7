"""Readings judged against the right ones: right, doubtful, or wrong and quiet.

`python -m tests.recipes.importing.scoring DIR` reads every NAME.txt that has a NAME.reading and
prints figures for each and in total, with every line and step that is wrong and says nothing.
`--doubtful` names the doubtful ones too.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any

from recipes.core.regions import HomeRegion
from recipes.importing.doubts import Doubt
from recipes.importing.intake import read_pasted
from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.times import times
from recipes.importing.report import report
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.tokens import clean, tokenize
from tests.recipes.importing.right_readings import (
    FIGURES,
    RightLine,
    RightReading,
    RightStep,
    right_reading,
)

RIGHT, DOUBTFUL, QUIET = "right", "doubtful", "wrong and quiet"
LINES, STEPS, REST = "lines", "steps", "rest"
_PREFERMENT = re.compile(r"\b(?:levain|poolish|biga|sponge|starter|sour|predough)\b", re.I)
_QUOTING = ("NotRead", "AlsoNamed", "AmountAside", "OtherChoice")
_ASKING = ("TimeOfWhat", "TimesAdded", "TimeNotCounted", "NumberNotRead", "KindGuessed", "LongWork",
           "StageWorkedOut", "MoreTemperatures", "TimesDisagree", "TimeByClock")  # fmt: skip
_MUST_BE_LISTED = ("divide", "score", "bake")


@dataclass
class Score:
    """Counts by what was judged and how, and a sentence for each that is not right."""

    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    told: list[tuple[str, str]] = field(default_factory=list)

    def judge(self, what: str, verdict: str, sentence: str) -> None:
        self.counts[what, verdict] += 1
        if verdict is not RIGHT:
            self.told.append((verdict, f"{what}: {sentence}"))

    def __iadd__(self, other: Score) -> Score:
        self.counts += other.counts
        self.told += other.told
        return self

    def share(self, what: str, verdict: str) -> float:
        """Percent of what was judged; nothing judged counts as nothing of any verdict."""
        total = sum(self.counts[what, one] for one in (RIGHT, DOUBTFUL, QUIET))
        return 100 * self.counts[what, verdict] / total if total else 0.0

    def figures(self) -> str:
        return "; ".join(
            f"{what} "
            + ", ".join(f"{self.counts[what, one]} {one}" for one in (RIGHT, DOUBTFUL, QUIET))
            for what in (LINES, STEPS, REST)
        )


def score_text(text: str, facts: str, book: IngredientBook) -> Score:
    """One text against its facts."""
    right = right_reading(facts)
    region = HomeRegion(right.region) if right.region else None
    _, read = read_pasted(text, book.in_region(region))
    figures = {name: getattr(read.written, name) for name in FIGURES}
    return score(report(read, words_of), right, figures)


def words_of(doubt: Doubt) -> str:
    """A doubt's name with the words and figures of the text that it quotes."""
    held = (getattr(doubt, one.name) for one in fields(doubt))
    parts = (part for one in held for part in (one if isinstance(one, tuple) else (one,)))
    return " ".join([doubt.kind, *(str(part) for part in parts)])


def score(found: dict[str, Any], right: RightReading, figures: dict[str, Any]) -> Score:
    """A report, with the figures of the whole recipe, against the right reading."""
    scored = Score()
    _score_rest(scored, found, right, figures)
    _score_lines(scored, found, right)
    _score_steps(scored, found["steps"], right.steps)
    return scored


# --- what concerns the whole ------------------------------------------------------------------


def _plain(text: str) -> str:
    return re.sub(r"[^\w%°]+", " ", text.lower()).strip()


def _score_rest(
    scored: Score, found: dict[str, Any], right: RightReading, figures: dict[str, Any]
) -> None:
    doubted = bool(found["doubts"])
    if right.title is not None:
        fits = _plain(found["title"]) == _plain(right.title)
        asked = any(one.startswith(("TitleGuessed", "NotSaid title")) for one in found["doubts"])
        scored.judge(REST, _verdict(fits, asked), f"title {found['title']!r}")
    for name, figure in (("pieces", right.pieces), ("piece_g", right.piece_g)):
        value = found["yield"][name]
        scored.judge(REST, _verdict(_says(figure, value), doubted), f"{name} {value}")
    for name in FIGURES:
        value, wanted = figures[name], right.figures.get(name)
        if value is not None or wanted is not None:
            scored.judge(REST, _verdict(_says(wanted, value), doubted), f"{name} {value}")
    if right.whole_doubt:
        scored.judge(REST, RIGHT if doubted else QUIET, "the whole is not doubted")
    left = [_plain(text) for text in found["left_out"]]
    for start in right.left_out:
        listed = any(text.startswith(_plain(start)) for text in left)
        scored.judge(REST, RIGHT if listed else QUIET, f"not left out: {start!r}")


def _says(figure: Any, value: Any) -> bool:
    return value is None if figure is None else figure.holds(value)


def _verdict(is_right: bool, doubted: bool, needs_doubt: bool = False) -> str:
    if is_right and (doubted or not needs_doubt):
        return RIGHT
    return DOUBTFUL if doubted else QUIET


# --- lines ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Found:
    part_kind: str
    line: dict[str, Any]

    def is_of(self, right: RightLine) -> bool:
        named = {self.line["ingredient"], f"kind:{self.line['ingredient_kind']}"}
        return bool(named & set(right.ingredients))

    def weighs(self, right: RightLine) -> bool:
        return _says(right.grams, self.line["grams"])

    def likeness(self, right: RightLine) -> int:
        """How much speaks for this being the right line: ingredient, grams, part, in this order."""
        of, weighs = self.is_of(right), self.weighs(right)
        kind_only = all(key.startswith("kind:") for key in right.ingredients)
        unknown = not self.line["ingredient"]
        named = unknown and (kind_only or _names(self.line["text"], right))
        if not of and not named and not (weighs and right.grams is not None):
            return 0
        return 4 * of + 2 * weighs + named + (self.part_kind == right.part_kind)


def _score_lines(scored: Score, found: dict[str, Any], right: RightReading) -> None:
    free = [_Found(part["kind"], line) for part in found["parts"] for line in part["lines"]]
    own = [line for line in right.lines if not line.names_part]
    for wanted, line in _paired(own, free):
        if line is None:
            quoted = [one for one in _doubts(found) if one.startswith(_QUOTING)]
            listed = any(_names(text, wanted) for text in (*found["left_out"], *quoted))
            scored.judge(LINES, DOUBTFUL if listed else QUIET, f"missing {_words(wanted)}")
            continue
        free.remove(line)
        fits = line.is_of(wanted) and line.weighs(wanted) and line.part_kind == wanted.part_kind
        verdict = _verdict(fits, bool(line.line["doubts"]), wanted.needs_doubt)
        scored.judge(LINES, verdict, f"{_shown(line)} for {_words(wanted)}")
    for wanted in right.lines:
        if wanted.names_part:
            _score_reference(scored, wanted, free)
    for line in free:
        verdict = _verdict(False, bool(line.line["doubts"]))
        scored.judge(LINES, verdict, f"{_shown(line)}, which is no line")


def _doubts(found: dict[str, Any]) -> list[str]:
    """All that is doubted of lines and of the whole."""
    of_lines = [one for part in found["parts"] for line in part["lines"] for one in line["doubts"]]
    return [*found["doubts"], *of_lines]


def _paired(
    wanted: list[RightLine], found: list[_Found]
) -> Iterator[tuple[RightLine, _Found | None]]:
    """Each right line with the one found that is most like it; the most alike go first."""
    alike = [
        (-likeness, abs(n - m), n, m)
        for n, right in enumerate(wanted)
        for m, line in enumerate(found)
        if (likeness := line.likeness(right))
    ]
    pairs: dict[int, int] = {}
    for _, _, n, m in sorted(alike):
        if n not in pairs and m not in pairs.values():
            pairs[n] = m
    lines = list(found)
    for n, right in enumerate(wanted):
        yield right, lines[pairs[n]] if n in pairs else None


def _score_reference(scored: Score, wanted: RightLine, free: list[_Found]) -> None:
    """A line that names a part: right when it is none of its own, or doubted."""
    own = next((line for line in free if wanted.grams and line.weighs(wanted)), None)
    if own is not None:
        free.remove(own)
    quiet = own is not None and not own.line["doubts"]
    scored.judge(LINES, QUIET if quiet else RIGHT, "a part's name is a line of its own")


def _names(text: str, right: RightLine) -> bool:
    words = {word for key in right.ingredients for word in re.split(r"[-:]", key) if len(word) > 2}
    return any(word in text.lower() for word in words)


def _words(right: RightLine) -> str:
    doubt = " with a doubt" if right.needs_doubt else ""
    grams = right.grams.text if right.grams else "?"
    return f"{'/'.join(right.ingredients)} {grams} g in {right.part_kind}{doubt}"


def _shown(found: _Found) -> str:
    line = found.line
    name = line["ingredient"] or f"{line['ingredient_name']}({line['ingredient_kind']})"
    doubts = f" {line['doubts']}" if line["doubts"] else ""
    return f"{name} {line['grams']} g in {found.part_kind} from {line['text']!r}{doubts}"


# --- steps ------------------------------------------------------------------------------------

Pair = tuple[RightStep | None, dict[str, Any] | None]


def _score_steps(scored: Score, found: list[dict[str, Any]], right: list[RightStep]) -> None:
    pairs = _aligned(right, found)
    for n, (wanted, step) in enumerate(pairs):
        if wanted is None:
            if step is not None and _counts(step, right):
                verdict = _verdict(False, bool(step["doubts"]))
                scored.judge(STEPS, verdict, f"{_step_shown(step)}, which is no step")
        elif step is None:
            asked = any(_asks(one, wanted) for one in _doubts_beside(pairs, n))
            verdict = DOUBTFUL if asked else QUIET
            scored.judge(STEPS, verdict, f"missing {_step_words(wanted)}")
        else:
            fits = _is_kind(wanted, step) and all(_agreements(wanted, step))
            verdict = _verdict(fits, bool(step["doubts"]), wanted.needs_doubt)
            scored.judge(STEPS, verdict, f"{_step_shown(step)} for {_step_words(wanted)}")


def _doubts_beside(pairs: list[Pair], n: int) -> list[str]:
    """The doubts from the right step found before a missing one to the one found after it."""
    met = [m for m, (wanted, step) in enumerate(pairs) if wanted and step]
    first = max((m for m in met if m < n), default=0)
    last = min((m for m in met if m > n), default=len(pairs))
    return [one for _, step in pairs[first : last + 1] if step for one in step["doubts"]]


def _asks(told: str, right: RightStep) -> bool:
    """Whether a doubt asks about a step that is missing: its minutes, or that nothing is shaped.

    One that only says how a time was taken, such as a range, asks about its own step.
    """
    named = "bulk" if right.kind in ("proof", "rest") else right.kind
    if told.startswith((f"WorkNotRead {named}", f"NoStepOf {right.kind}")):
        return True
    if right.kind == "divide":
        return told.startswith("NoShaping")
    if not told.startswith(_ASKING):
        return False
    tokens = tokenize(clean(told))
    said = [one.low for one in tokens if one.is_number]
    said += [str(one.minutes) for one in times(tokens) if isinstance(one, TimeSpan)]
    wanted = [one for one in (*right.waiting, right.hands_on) if one and not one.holds(0)]
    wanted = wanted or [one for one in right.degrees if one]
    return any(one.holds(number) for one in wanted for number in said if _is_decimal(number))


def _is_decimal(text: str) -> bool:
    return text.replace(".", "", 1).isdigit()


def _is_kind(right: RightStep, step: dict[str, Any]) -> bool:
    """Whether a step is of the right kind; a preferment that ripens may be called either way."""
    kinds = {right.kind, step["kind"]}
    ripens = kinds == {"prepare", "bulk"} and _PREFERMENT.search(step["text"])
    return len(kinds) == 1 or bool(ripens)


def _counts(step: dict[str, Any], right: list[RightStep]) -> bool:
    """Whether a step that the right reading does not have is one too many.

    One that sets the oven to what a bake has says nothing more.
    """
    ovens = [one for bake in right if bake.kind == "bake" for one in bake.degrees if one]
    heat = step["temperature_c"]
    preheats = step["kind"] == "prepare" and any(oven.holds(heat) for oven in ovens)
    says = step["hands_on_min"] or step["waiting_min"] or (heat is not None and not preheats)
    return bool(says) or step["kind"] in _MUST_BE_LISTED


def _agreements(right: RightStep, step: dict[str, Any]) -> tuple[bool, bool, bool]:
    """Whether hands-on time, waiting time and temperature are right, stage by stage of a bake."""
    hands_on = _says(right.hands_on, step["hands_on_min"])
    stages = step["stages"]
    if max(len(right.waiting), len(stages)) < 2:
        waiting = _says(right.waiting[0], step["waiting_min"])
        return hands_on, waiting, _says(right.degrees[0], step["temperature_c"])
    minutes = [one["minutes"] for one in stages]
    degrees = [one["temperature_c"] for one in stages]
    return hands_on, _all_say(right.waiting, minutes), _all_say(right.degrees, degrees)


def _all_say(figures: tuple[Any, ...], values: list[Any]) -> bool:
    return len(figures) == len(values) and all(map(_says, figures, values))


def _likeness(right: RightStep, step: dict[str, Any]) -> int:
    agreeing = sum(_agreements(right, step))
    if _is_kind(right, step):
        return 4 + agreeing
    spoken = step["hands_on_min"] or step["waiting_min"]
    return 1 if agreeing == 3 and spoken else 0


def _aligned(right: list[RightStep], found: list[dict[str, Any]]) -> list[Pair]:
    """Both rows of steps side by side in their order, as alike as can be."""
    best: list[list[tuple[int, list[Pair]]]] = [
        [(0, []) for _ in range(len(found) + 1)] for _ in range(len(right) + 1)
    ]
    for n in range(len(right) + 1):
        for m in range(len(found) + 1):
            ways = []
            if n and m and (alike := _likeness(right[n - 1], found[m - 1])):
                total, pairs = best[n - 1][m - 1]
                ways.append((total + alike, [*pairs, (right[n - 1], found[m - 1])]))
            if n:
                total, pairs = best[n - 1][m]
                ways.append((total, [*pairs, (right[n - 1], None)]))
            if m:
                total, pairs = best[n][m - 1]
                ways.append((total, [*pairs, (None, found[m - 1])]))
            if ways:
                best[n][m] = max(ways, key=lambda way: way[0])
    return best[-1][-1][1]


def _step_words(right: RightStep) -> str:
    def spans(figures: tuple[Any, ...]) -> str:
        return "+".join(one.text if one else "-" for one in figures)

    doubt = " with a doubt" if right.needs_doubt else ""
    return (
        f"{right.kind} {spans((right.hands_on,))} | {spans(right.waiting)} min | "
        f"{spans(right.degrees)} °C{doubt}"
    )


def _step_shown(step: dict[str, Any]) -> str:
    stages = "+".join(f"{one['minutes']} at {one['temperature_c']}" for one in step["stages"])
    doubts = f" {step['doubts']}" if step["doubts"] else ""
    return (
        f"{step['kind']} {step['hands_on_min']} | {step['waiting_min']} min | "
        f"{step['temperature_c']} °C {stages} from {step['text'][:100]!r}{doubts}"
    )


# --- a folder ---------------------------------------------------------------------------------


def scores_of(folder: Path, book: IngredientBook) -> dict[str, Score]:
    """The score of every text in a folder that has its right reading beside it."""
    return {
        facts.stem: score_text(
            facts.with_suffix(".txt").read_text(encoding="utf-8"),
            facts.read_text(encoding="utf-8"),
            book,
        )
        for facts in sorted(folder.glob("*.reading"))
    }


def total_of(scores: dict[str, Score]) -> Score:
    total = Score()
    for scored in scores.values():
        total += scored
    return total


def lines_of(scores: dict[str, Score], shown: tuple[str, ...]) -> Iterator[str]:
    """Figures for each text and in total, naming what is of a verdict to be shown."""
    for name, scored in scores.items():
        yield f"{name}: {scored.figures()}"
        for verdict, sentence in scored.told:
            if verdict in shown:
                yield f"    {verdict}: {sentence}"
    total = total_of(scores)
    yield f"\n{len(scores)} texts: {total.figures()}"
    for what in (LINES, STEPS):
        shares = ", ".join(f"{total.share(what, v):.1f} % {v}" for v in (RIGHT, DOUBTFUL, QUIET))
        yield f"{what}: {shares}"


if __name__ == "__main__":
    import os

    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.testing")
    django.setup()
    from recipes.importing.shelf import table_ingredients

    known = IngredientBook(table_ingredients())
    wanted = (QUIET, DOUBTFUL) if "--doubtful" in sys.argv else (QUIET,)
    for shown in lines_of(scores_of(Path(sys.argv[1]), known), wanted):
        sys.stdout.write(f"{shown}\n")
