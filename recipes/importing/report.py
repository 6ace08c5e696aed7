"""A reading as plain values, for files and programs: numbers are text in plain digits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from itertools import groupby
from typing import Any

from recipes.core.choices import StepKind
from recipes.core.written import WrittenPart, WrittenStep
from recipes.importing.doubts import Doubt
from recipes.importing.values import Reading, ReadLine
from wording.figures import plain

Told = Callable[[Doubt], str]


def report(read: Reading, told: Told) -> dict[str, Any]:
    """Everything understood and left out of a text; `told` puts a doubt into words."""
    written = read.written
    steps = _with_stages(zip(written.steps, read.step_doubts, strict=True))
    return {
        "title": written.title,
        "yield": {"pieces": written.pieces, "piece_g": _figure(written.piece_g)},
        "parts": [_part(n, part, read.lines, told) for n, part in enumerate(written.parts)],
        "steps": [_step(stages, unsure, told) for stages, unsure in steps],
        "left_out": list(_left_out(read)),
        "doubts": [told(doubt) for doubt in read.doubts],
    }


def _left_out(read: Reading) -> Iterator[str]:
    """What went into no line or step, including the summary and the notes."""
    yield from (left.text for left in read.left_over)
    for text in (read.written.summary, *read.written.note.splitlines()):
        if text:
            yield text


def _figure(value: Decimal | None) -> str | None:
    return None if value is None else plain(value)


def _part(n: int, part: WrittenPart, lines: Iterable[ReadLine], told: Told) -> dict[str, Any]:
    own = [_line(line, told) for line in lines if line.part == n]
    return {"name": part.name, "kind": part.kind.value, "lines": own}


def _line(line: ReadLine, told: Told) -> dict[str, Any]:
    ingredient = line.written.ingredient
    return {
        "text": line.text,
        "amount": _figure(line.quantity),
        "unit": line.unit.name if line.unit else None,
        "grams": _figure(line.written.mass_g),
        "ingredient": line.match.key or None,
        "ingredient_name": ingredient.name,
        "ingredient_kind": ingredient.kind.value,
        "doubts": [told(doubt) for doubt in line.doubts],
    }


def _with_stages(
    steps: Iterable[tuple[WrittenStep, Iterable[Doubt]]],
) -> Iterator[tuple[list[WrittenStep], list[Doubt]]]:
    """Each step by itself, except that consecutive bakes are the stages of one."""
    for is_bake, found in groupby(steps, key=lambda pair: pair[0].kind is StepKind.BAKE):
        if is_bake:
            stages, unsure = zip(*found, strict=True)
            yield list(stages), [doubt for doubts in unsure for doubt in doubts]
        else:
            yield from (([step], list(doubts)) for step, doubts in found)


def _step(stages: list[WrittenStep], unsure: Iterable[Doubt], told: Told) -> dict[str, Any]:
    first = stages[0]
    return {
        "kind": first.kind.value,
        "text": " ".join(stage.text for stage in stages),
        "hands_on_min": sum(stage.hands_on_min for stage in stages),
        "waiting_min": sum(stage.waiting_min for stage in stages),
        "temperature_c": _figure(first.temperature_c),
        "stages": [_stage(stage) for stage in stages if stage.kind is StepKind.BAKE],
        "doubts": [told(doubt) for doubt in unsure],
    }


def _stage(step: WrittenStep) -> dict[str, Any]:
    return {"minutes": step.waiting_min, "temperature_c": _figure(step.temperature_c)}


def report_text(told: dict[str, Any]) -> str:
    """A report as lines for people; doubts are below what they are about."""
    return "\n".join(_text_lines(told)) + "\n"


def _text_lines(told: dict[str, Any]) -> Iterator[str]:
    pieces, piece_g = told["yield"]["pieces"], told["yield"]["piece_g"]
    yield told["title"] or "(no title)"
    yield f"{pieces or '?'} x {piece_g or '?'} g"
    yield from _unsure(told["doubts"], "  ")
    for part in told["parts"]:
        yield f"\n{part['name']} ({part['kind']})"
        for line in part["lines"]:
            named = line["ingredient"] or f"{line['ingredient_name']} (not on the list)"
            yield f"  {line['grams'] or '?'} g {named}    [{line['text']}]"
            yield from _unsure(line["doubts"], "      ")
    yield "\nSteps"
    for step in told["steps"]:
        yield f"  {step['kind']}: {_numbers(step)}    [{step['text']}]"
        yield from _unsure(step["doubts"], "      ")
    if told["left_out"]:
        yield "\nLeft out"
        yield from (f"  {text}" for text in told["left_out"])


def _unsure(sentences: Iterable[str], indent: str) -> Iterator[str]:
    return (f"{indent}? {sentence}" for sentence in sentences)


def _numbers(step: dict[str, Any]) -> str:
    times = f"{step['hands_on_min']} min hands-on, {step['waiting_min']} min waiting"
    stages = step["stages"]
    if len(stages) > 1:
        staged = (
            f"{stage['minutes']} min at {stage['temperature_c'] or '?'} °C" for stage in stages
        )
        return f"{times} ({', then '.join(staged)})"
    celsius = step["temperature_c"]
    return f"{times}, {celsius} °C" if celsius else times
