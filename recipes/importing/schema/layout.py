"""What was read of structured data, laid out as a text, so that a review can mark it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from recipes.importing.values import Place, Reading, ReadLine


@dataclass
class _Text:
    lines: list[str] = field(default_factory=list)

    def put(self, text: str) -> Place:
        self.lines.append(" ".join(text.split()))
        return Place(len(self.lines), len(self.lines))


def laid_out(read: Reading) -> Reading:
    """The reading with a source: title, parts with their lines, steps, and what was left out."""
    text, written = _Text(), read.written
    heads = [text.put(said) for said in (written.title, written.summary) if said.strip()]
    lines: list[ReadLine] = []
    for n, part in enumerate(written.parts):
        heads.append(text.put(part.name))
        own = [line for line in read.lines if line.part == n]
        lines += [replace(line, place=text.put(line.text)) for line in own]
    steps = tuple(text.put(step.text) for step in written.steps)
    left = tuple(replace(rest, place=text.put(rest.text)) for rest in read.left_over)
    return replace(
        read,
        lines=tuple(lines),
        left_over=left,
        source="\n".join(text.lines),
        step_places=steps,
        head_places=tuple(heads),
    )
