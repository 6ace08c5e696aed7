"""The words of Recipe JSON-LD that both its writer and its readers need.

Plain fields are schema.org's. What it has no field for is in PropertyValues whose
`propertyID` begins with `bakebench:`; unit codes are UN/CEFACT's.
"""

from __future__ import annotations

CONTEXT = "https://schema.org"

GRAM, CELSIUS, PERCENT = "GRM", "CEL", "P1"
MILLIMETER, MILLILITER = "MMT", "MLT"

FORMAT_ID = "bakebench:format"
PIECE_ID = "bakebench:piece-mass"
BAKE_LOSS_ID = "bakebench:bake-loss"
DOUGH_TEMPERATURE_ID = "bakebench:dough-temperature"
CORE_TEMPERATURE_ID = "bakebench:core-temperature"
PART_ID = "bakebench:part"
FOR_PIECES_ID = "bakebench:for-pieces"
COOKING_LOSS_ID = "bakebench:cooking-loss"
KIND_ID = "bakebench:ingredient-kind"
HYDRATION_ID = "bakebench:starter-hydration"
FLOUR_ID = "bakebench:starter-flour"
ENTERED_ID = "bakebench:entered"
BAKERS_PERCENT_ID = "bakebench:bakers-percentage"
STEP_KIND_ID = "bakebench:step-kind"
TEMPERATURE_ID = "bakebench:temperature"
TEMPERATURE_OF_ID = "bakebench:temperature-of"
WORKED_ID = "bakebench:worked"

# By field of the record: label, identifier, unit code.
OWN_PAN = {
    "bread_kind": ("Kind of bread", "bakebench:bread-kind", ""),
    "pan_shape": ("Pan", "bakebench:pan-shape", ""),
    "pan_length_mm": ("Pan length", "bakebench:pan-length", MILLIMETER),
    "pan_width_mm": ("Pan width", "bakebench:pan-width", MILLIMETER),
    "pan_depth_mm": ("Pan depth", "bakebench:pan-depth", MILLIMETER),
    "pan_water_ml": ("Pan holds", "bakebench:pan-water", MILLILITER),
}
