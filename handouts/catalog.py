"""Every kind of paper that a class has, in the order of their use."""

from __future__ import annotations

from handouts.kind import PaperKind
from handouts.kinds import (
    allergen_sheet,
    at_home,
    before_start,
    emergency_card,
    handout,
    homework,
    hours_drawing,
    notes_sheet,
    oven_map,
    preparation,
    refrigerator_labels,
    run_sheet,
    run_sheet_wall,
    sign_in,
    station_cards,
    station_notices,
    tags,
    temperature_log,
    tub_labels,
    water_table,
)

KINDS: tuple[PaperKind, ...] = (
    at_home.KIND,
    handout.KIND,
    homework.KIND,
    preparation.KIND,
    tub_labels.KIND,
    refrigerator_labels.KIND,
    run_sheet.INSTRUCTORS,
    run_sheet.ASSISTANTS,
    hours_drawing.KIND,
    station_cards.KIND,
    water_table.KIND,
    oven_map.KIND,
    tags.LOAF_TAGS,
    tags.TIME_TAGS,
    tags.TAKE_HOME_TAGS,
    temperature_log.KIND,
    notes_sheet.KIND,
    before_start.KIND,
    run_sheet_wall.KIND,
    station_notices.KIND,
    emergency_card.KIND,
    allergen_sheet.KIND,
    sign_in.KIND,
)

BY_NAME = {kind.name: kind for kind in KINDS}
