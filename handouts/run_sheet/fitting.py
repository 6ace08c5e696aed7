"""How large a run sheet can be set so that its day, and its recovery, each stay on one page.

Heights are estimated from the widths of words, rather too large than too small; columns and sizes
are those of `paper/run-sheet.css`. The smallest is for two breads or many benches.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from handouts.labels import lettering
from handouts.run_sheet.lines import DayLine, PartLine, Remark, Words
from handouts.run_sheet.recovery import RecoveryNotes, RecoveryRow

MM = 72 / Decimal("25.4")
GUTTER = 2 * MM
PAGE = 231 * MM
TORN = 7 * MM  # what a line that is never broken may leave empty
LEADING = Decimal("1.2")
SERIF = Decimal("0.95")  # as wide as our sans

WHO, WHAT, MIXER, OVEN = (millimeters * MM - GUTTER for millimeters in (32, 52, 24, 26))
BEHIND_WHO = WHAT + MIXER + OVEN + 2 * GUTTER
REMARKS = WHO + BEHIND_WHO + GUTTER
LOAD = WHO + WHAT + MIXER + 2 * GUTTER
BLANK = "x" * 24

RECOVERY = tuple(millimeters * MM - GUTTER for millimeters in (24, 42, 31, 21, 56))
# The letters of the advice that every sheet has, and lines that it may leave half empty.
ADVICE, ADVICES = "x" * 400, 4


@dataclass(frozen=True, slots=True)
class Setting:
    """A size of type: its class, the type of a line and of what is small, the gap between lines.

    `others` is how much smaller all else on the page is.
    """

    name: str
    line_pt: Decimal
    small_pt: Decimal
    gap_pt: Decimal
    words: Words
    others: Decimal = Decimal(1)

    @property
    def is_dense(self) -> bool:
        """Whether remarks stand beside what happens if that saves a line."""
        return self.words <= Words.FEWEST


ROOMY, CLOSE, CLOSEST = ("roomy", "close", "closest")
SETTINGS = (
    Setting(ROOMY, Decimal(12), Decimal("10.5"), Decimal(5), Words.ALL),
    Setting(ROOMY, Decimal(12), Decimal("10.5"), Decimal(5), Words.USUAL),
    Setting(CLOSE, Decimal("10.5"), Decimal(9), Decimal(4), Words.ALL),
    Setting(CLOSE, Decimal("10.5"), Decimal(9), Decimal(4), Words.USUAL),
    Setting(CLOSE, Decimal("10.5"), Decimal(9), Decimal(4), Words.FEWEST),
    Setting(CLOSEST, Decimal(9), Decimal(8), Decimal("2.5"), Words.FIGURES, Decimal("0.8")),
)
HEADING = {ROOMY: 22 * MM, CLOSE: 19 * MM, CLOSEST: 15 * MM}
SIZES = {ROOMY: Decimal("10.5"), CLOSE: Decimal(9), CLOSEST: Decimal(8)}


@dataclass(frozen=True, slots=True)
class Fit:
    """How a sheet is set: its day, and the size and rows of its recovery.

    The recovery `flows` if it follows the day on the same page.
    """

    setting: Setting
    lines: Sequence[DayLine]
    size: str
    answers: RecoveryNotes
    flows: bool = False


def fit(
    lines_of: Callable[[Setting], Iterable[DayLine]], notes: RecoveryNotes, others_pt: Decimal
) -> Fit:
    """The largest type in which the day is one page, or day and recovery together are few.

    `others_pt` is the height of what stands on the page of the day besides.
    """
    days = [(one, [placed(line, one) for line in lines_of(one)]) for one in SETTINGS]
    tall = [
        others_pt * one.others + sum(height_pt(line, one) for line in lines) for one, lines in days
    ]
    size, answers = recovery_for(notes)
    for day, height in zip(days, tall, strict=True):
        if height <= PAGE:
            return Fit(*day, size, answers)
    for pages in (2, 3):
        for day, height in zip(days, tall, strict=True):
            name = day[0].name
            both = height + recovery_pt(notes.brief, name) + TORN * (pages - 1)
            if both <= pages * PAGE:
                return Fit(*day, name, notes.brief, flows=True)
    return Fit(*days[-1], CLOSEST, notes.brief, flows=True)


def lines_needed(text: str, size_pt: Decimal, wide_pt: Decimal) -> int:
    """How many lines of a width a text in our serif takes."""
    return lettering.lines_needed(text, size_pt * SERIF, wide_pt)


def placed(line: DayLine, setting: Setting) -> DayLine:
    """The line with its remarks beside it if that is shorter."""
    if not setting.is_dense or len(line.parts) > 1 or not line.remarks:
        return line
    beside = replace(line, beside=True)
    return beside if height_pt(beside, setting) < height_pt(line, setting) else line


def height_pt(line: DayLine, setting: Setting) -> Decimal:
    """The height of a line with all its parts and remarks."""
    first, *others = line.parts
    said = " ".join(map(_words, line.remarks))
    leads = max(_what_pt(line, said if line.beside else "", setting), _part_pt(first, setting))
    more = [_part_pt(part, setting) for part in others]
    if said and not line.beside:
        more.append(lines_needed(said, setting.small_pt, REMARKS) * setting.small_pt)
    return (leads + sum(more)) * LEADING + setting.gap_pt + len(more)


def _what_pt(line: DayLine, beside: str, setting: Setting) -> Decimal:
    size_pt = (setting.line_pt + setting.small_pt) / 2 if beside else setting.line_pt
    wide = (WHAT, WHAT + MIXER + GUTTER, BEHIND_WHO)[line.columns - 1]
    return lines_needed(f"{_what(line)} {beside}", size_pt, wide) * setting.line_pt


def _what(line: DayLine) -> str:
    mark = "◆" if line.decides else ""
    return " ".join(word for word in (line.what, line.recipe, line.heat, mark) if word)


def _part_pt(part: PartLine, setting: Setting) -> Decimal:
    who_wide = LOAD if part.is_load else WHO
    cells = ((part.who, who_wide), (part.mixer, MIXER), (part.oven, OVEN))
    small_pt = setting.small_pt
    return max(lines_needed(text, small_pt, wide) for text, wide in cells) * small_pt


def _words(remark: Remark) -> str:
    blank = BLANK * 2 if remark.fill or remark.oven_time else ""
    return f"{remark.lead} {remark.text} {blank}"


# Recovery


def recovery_for(notes: RecoveryNotes) -> tuple[str, RecoveryNotes]:
    """The class of the recovery table, and what of it has room on a page."""
    tried = ((ROOMY, notes), (CLOSE, notes), (CLOSE, notes.brief))
    for name, told in tried:
        if recovery_pt(told, name) <= PAGE:
            return name, told
    return CLOSEST, notes.brief


def recovery_pt(notes: RecoveryNotes, name: str) -> Decimal:
    """The height of the recovery with its heading and advice."""
    size_pt = SIZES[name]
    rows = sum(_row_pt(row, size_pt) for group in notes.groups for row in group.rows)
    advice = lines_needed(f"{ADVICE} {notes.brake}", size_pt, 174 * MM) + ADVICES
    return HEADING[name] + (len(notes.groups) + advice) * size_pt * LEADING + rows


def _row_pt(row: RecoveryRow, size_pt: Decimal) -> Decimal:
    do = f"{row.do} {row.loads}"
    cells = (row.problem, do, f"{row.ready} {row.past}", row.who, row.caution)
    lines = max(map(lambda text, wide: lines_needed(text, size_pt, wide), cells, RECOVERY))
    return lines * size_pt * LEADING + 4
