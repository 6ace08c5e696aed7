"""The method as steps: what kind each is, how long it takes and how hot it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from recipes.core.choices import RISING_KINDS, StepKind, TemperatureOf
from recipes.core.written import WrittenStep
from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.method.clauses import Clause, clauses
from recipes.importing.method.clock import clocked, minutes_between
from recipes.importing.method.degrees import Warmth, warmth_in
from recipes.importing.method.drafts import Built, Draft, Spent, settled
from recipes.importing.method.heats import LEAST_OVEN_C, is_of_core
from recipes.importing.method.lengths import NoLength, TimeSpan
from recipes.importing.method.manner import is_sheeted, ways_said
from recipes.importing.method.net.figures import doubts_of_numbers, doubts_of_times
from recipes.importing.method.net.plausible import plausible
from recipes.importing.method.net.unread import doubts_of_work
from recipes.importing.method.sentences import LONGEST_STEP, pieces_of, sentences
from recipes.importing.method.spent import spent_in
from recipes.importing.method.standing import Standing, waiting_kind
from recipes.importing.method.verbs import KNOCKING_BACK, WAITING_KINDS
from recipes.importing.text.tokens import line_text, text_of, tokenize
from recipes.importing.values import Place

_LEAST_UNNAMED_MIN = 20
# What is divided or scored takes up to this long by the clock before something must be waiting.
_LEAST_OPEN_MIN = 30
_MOST_QUOTED = 8
_TAKES_NO_TIME = {StepKind.DIVIDE, StepKind.SCORE}
_OWN_STEP_EACH = {StepKind.MIX, StepKind.PREPARE}
_AUTOLYSE = {"autolyse", "autolyze", "autolysis"}


@dataclass
class Method:
    """The steps read so far, and the temperatures that concern the whole recipe.

    `heated` is the step in which the oven was set, until a bake takes its temperature. `places` are
    where the steps are in the source.
    """

    drafts: list[Draft] = field(default_factory=list)
    places: list[Place | None] = field(default_factory=list)
    dough_temperature_c: Decimal | None = None
    core_temperature_c: Decimal | None = None
    heated: Draft | None = None
    standing: Standing = field(default_factory=Standing)

    def _built(self) -> list[Built]:
        return [draft.built() for draft in plausible(settled(self.drafts))]

    @property
    def steps(self) -> list[WrittenStep]:
        return [step for step, _ in self._built()]

    @property
    def doubts(self) -> list[tuple[Doubt, ...]]:
        """The doubts of each step."""
        return [told for _, told in self._built()]


def placed(method: Method, place: Place) -> bool:
    """Give the steps without a place this one; False if all have one."""
    new = len(method.drafts) - len(method.places)
    method.places += [place] * new
    return new > 0


def read_paragraph(method: Method, text: str) -> None:
    """Add the steps of one paragraph: a new one wherever another kind of work begins."""
    headed = bool(method.drafts) and method.drafts[-1].is_heading
    begun = len(method.drafts) - headed
    for sentence in sentences(line_text(text)):
        for piece in clocked(sentence):
            if piece.begins is not None:
                begun = len(method.drafts)
                _until(method, piece.begins)
                method.standing = replace(method.standing, since=piece.begins)
            for part in pieces_of(piece.text):
                _read_part(method, part, begun)
            if piece.begins is not None and len(method.drafts) > begun:
                method.drafts[begun].begins = piece.begins
                if piece.ends is not None:
                    _until(method, piece.ends)


def _read_part(method: Method, text: str, begun: int) -> None:
    """Add the steps of a sentence, with doubts about work in it that none of them does."""
    before = len(method.drafts)
    last = method.drafts[-1] if method.drafts else None
    length = last.length if last else 0
    for clause in clauses(text, method.standing):
        _add(method, clause, begun)
    if method.drafts:
        grown = last is not None and last.length > length
        kinds = {draft.kind for draft in method.drafts[before - grown :]}
        method.drafts[-1].doubts += doubts_of_work(tokenize(text), kinds)


def _until(method: Method, minute: int) -> None:
    """Give the last step that began by the clock the minutes up to a time of day."""
    begun = next((n for n in range(len(method.drafts) - 1, -1, -1)
                  if method.drafts[n].begins is not None), None)  # fmt: skip
    if begun is None:
        return
    first, since = method.drafts[begun], method.drafts[begun:]
    minutes = minutes_between(first.begins or 0, minute)
    first.begins = None
    spent = sum(one.minutes for draft in since for one in draft.spent)
    takes = [one for one in since if not one.spent and _takes_time(one.kind)]
    if not takes:
        open_min = minutes - spent
        if (
            open_min < 0
            or open_min >= _LEAST_OPEN_MIN
            or (since[-1].kind in RISING_KINDS and spent != minutes)
        ):
            since[-1].doubts.append(unsure.TimesDisagree(minutes, spent))
    elif minutes > spent:
        last = takes[-1]
        last.spent.append(Spent(minutes - spent, last.kind in WAITING_KINDS))
        last.doubts.append(unsure.TimeByClock(minutes - spent))


def _takes_time(kind: StepKind) -> bool:
    return kind is StepKind.MIX or kind in WAITING_KINDS


def read_step(method: Method, text: str) -> None:
    """Add a text that its source calls one step; it becomes several if it does several things."""
    read_paragraph(method, text)


# --- one clause -------------------------------------------------------------------------------


def _add(method: Method, clause: Clause, begun: int) -> None:
    """Put a clause into the last step, or into one of its own."""
    last = method.drafts[-1] if method.drafts else None
    draft = last if len(method.drafts) > begun else None
    kind, guessed = _kind(method, clause, draft or (last if clause.further else None))
    if kind is StepKind.MIX and "pan" in ways_said(clause.tokens):
        kind = StepKind.PREPARE
    told: list[Doubt] = [unsure.KindGuessed(guessed)] if guessed else []
    warmth = warmth_in(clause, kind)
    spent, of_times = spent_in(clause, kind or (draft.kind if draft else None))
    told += [*warmth.doubts, *of_times, *doubts_of_numbers(clause)]
    if not guessed or len(clause.times) > 1:
        told += doubts_of_times(clause, kind, spent, last)
    if draft and warmth.oven and kind is StepKind.PREPARE and not spent:
        kind = None if draft.kind is not StepKind.BAKE else kind
    if draft is None or not _belongs(draft, kind, clause, spent, warmth):
        draft = Draft(kind or StepKind.PREPARE)
        method.drafts.append(draft)
    if kind is StepKind.BAKE:
        told = _turned(method, clause, spent, told)
        told += _heated(method, draft, warmth)
    _put(draft, clause, spent, warmth, told)
    method.standing = method.standing.after(kind, [token.low for token in clause.tokens])
    _keep(method, draft, warmth)


def _put(
    draft: Draft, clause: Clause, spent: Sequence[Spent], warmth: Warmth, told: Sequence[Doubt]
) -> None:
    draft.texts.append(clause.text)
    draft.length += len(clause.text) + 1
    draft.spent += spent
    draft.heats += warmth.heats
    draft.doubts += told
    draft.ways |= ways_said(clause.tokens)
    draft.named |= clause.further or any(not one.verb.weak for one in clause.verbs)
    if any(one.verb.kind is StepKind.DIVIDE for one in clause.verbs):
        draft.sheeted = is_sheeted(clause.tokens) and (draft.sheeted or len(draft.texts) == 1)
    draft.within_mix |= any(token.low in _AUTOLYSE for token in clause.tokens)


def _keep(method: Method, draft: Draft, warmth: Warmth) -> None:
    """Keep the temperatures that are not the step's."""
    for kept, said in ((method.core_temperature_c, warmth.core_c),
                       (method.dough_temperature_c, warmth.dough_c)):  # fmt: skip
        if kept and said and kept != said:
            draft.doubts.append(unsure.MoreTemperatures((said,)))
    method.core_temperature_c = method.core_temperature_c or warmth.core_c
    method.dough_temperature_c = method.dough_temperature_c or warmth.dough_c
    if warmth.oven:
        if draft.oven and draft.oven[0] != warmth.oven[0]:
            draft.doubts.append(unsure.MoreTemperatures((draft.oven[0],)))
        draft.oven = warmth.oven
        method.heated = draft
        method.standing = replace(method.standing, heated=True)


def _belongs(
    draft: Draft, kind: StepKind | None, clause: Clause, spent: Sequence[Spent], warmth: Warmth
) -> bool:
    """Whether a clause continues a step rather than beginning one."""
    if clause.further or draft.length + len(clause.text) >= LONGEST_STEP:
        return False
    if kind is StepKind.BAKE and draft.only_heats:
        draft.kind = kind
    if kind is StepKind.BAKE and draft.kind is StepKind.BAKE:
        return not (warmth.heats and (draft.spent or draft.heats))
    if kind in RISING_KINDS and warmth.heats and spent and draft.spent and not draft.heats:
        return False
    if kind in RISING_KINDS and spent and draft.spent and _is_knocked_back(draft, clause):
        return False
    if kind in _OWN_STEP_EACH and spent and draft.spent:
        return False
    return kind in (None, draft.kind)


def _is_knocked_back(draft: Draft, clause: Clause) -> bool:
    """Whether air is knocked out between a rise and one that a verb names."""
    if not any(one.verb.kind in RISING_KINDS and one.verb.waits for one in clause.verbs):
        return False
    words = tokenize(f"{draft.text} {clause.text}".lower())
    return any(token.low in KNOCKING_BACK for token in words)


def _heated(method: Method, draft: Draft, warmth: Warmth) -> list[Doubt]:
    """Give a bake what the oven was heated to before it, or say that the two differ."""
    if method.heated is None or method.heated.oven is None:
        return []
    (celsius, told), method.heated.oven = method.heated.oven, None
    method.heated = None
    if not warmth.heats and not draft.heats:
        warmth.heats.append((celsius, TemperatureOf.OVEN))
        return list(told)
    own = {degrees for degrees, _ in [*draft.heats, *warmth.heats]}
    return [] if celsius in own else [unsure.MoreTemperatures((celsius,))]


def _turned(
    method: Method, clause: Clause, spent: list[Spent], told: Sequence[Doubt]
) -> list[Doubt]:
    """`reduce to 200 after 15 minutes`: the stage before lasts that long, this one the rest."""
    if len(method.drafts) < 2 or method.drafts[-2].kind is not StepKind.BAKE:
        return list(told)
    before = method.drafts[-2]
    first = before.minutes(waits=True)
    in_all = any(isinstance(time, TimeSpan) and time.in_all for time in clause.times)
    turn = next((t for t in clause.times if isinstance(t, NoLength) and t.point), None)
    point = (turn and turn.point) or first
    total = spent[-1].minutes if spent and in_all else 0 if spent else first
    said = [one.minutes for one in (*before.spent, *spent)]
    if total > point > 0:
        spent[:] = [Spent(total - point, waits=True)]
    elif turn is None or first:
        return list(told)
    before.spent = [Spent(point, waits=True)]
    kept = {0, point, total, *(one.minutes for one in spent)}
    lost = [unsure.TimeNotCounted(f"{one} minutes") for one in said if one not in kept]
    before.doubts += [unsure.StageWorkedOut(total or None), *lost]
    return [*(doubt for doubt in told if not turn or doubt != turn.doubt),
            unsure.StageWorkedOut(total or None)]  # fmt: skip


def _kind(method: Method, clause: Clause, last: Draft | None) -> tuple[StepKind | None, str]:
    """The kind of a clause, and the word that it was guessed by."""
    guessed = next((one.guessed for one in clause.verbs if one.guessed), "")
    strong = any(not one.verb.weak for one in clause.verbs)
    lengths = [time for time in clause.times if isinstance(time, TimeSpan)]
    if strong or clause.further:
        return clause.kind or StepKind.BAKE, guessed
    hot = [heat for heat in clause.heats if heat.celsius >= LEAST_OVEN_C]
    if any(not is_of_core(clause.tokens, heat) for heat in hot):
        baking = last is not None and last.kind is StepKind.BAKE
        bakes = (
            baking
            or clause.kind is StepKind.BAKE
            or (lengths and clause.kind is not StepKind.PREPARE)
        )
        return (StepKind.BAKE if bakes else StepKind.PREPARE), ""
    end = max((time.end for time in lengths), default=0)
    quoted = text_of(clause.tokens[max(0, end - _MOST_QUOTED) : end])
    standing = method.standing
    if clause.kind is None and lengths and standing.heated and standing.shaped:
        return StepKind.BAKE, quoted
    waits = last is not None and last.kind in WAITING_KINDS
    longest = max((time.minutes for time in lengths if not time.before), default=0)
    shaped = last is not None and last.kind in _TAKES_NO_TIME
    least = 0 if shaped else _LEAST_UNNAMED_MIN
    if clause.kind is None and longest >= max(1, least) and not waits:
        before = not standing.mixed and not standing.baked
        kind = StepKind.PREPARE if before else waiting_kind("", longest, standing)
        return kind, quoted
    return clause.kind, guessed
