"""The demo scenario: an invented hall, its class, and formulas that nobody has baked."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from recipes.core.choices import ComponentKind, StepKind
from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.sizes import PanShape
from recipes.core.written import (
    NamedIngredient,
    WrittenLine,
    WrittenPart,
    WrittenRecipe,
    WrittenStep,
    choices_in,
)

DEMO_ACCOUNTS = (
    ("instructor", "flour-and-water", "instructor"),
    ("assistant", "tubs-and-labels", "assistant"),
)
NOT_TESTED = "Demo formula, not tested: made up to show the program, and never baked."

ABOUT = (
    "You mix, fold and shape your own hearth loaf, bake it in the hall’s ovens and take it home, "
    "with a handout scaled for your kitchen."
)
ACCESS_FACTS = (
    "Level entrance from the yard, door 90 cm wide. Benches are 90 cm high, one of them can be "
    "lowered. Toilet with rails on the same floor. Parking behind the hall."
)

STUDENTS = (
    ("Ada Fennimore", ""),
    ("Bram Okell", ""),
    ("Cass Thornby", "sesame"),
    ("Dov Larkspur", ""),
    ("Edie Quill", ""),
    ("Femi Ashgrove", ""),
    ("Gwen Marlow", "walnuts and other tree nuts"),
    ("Hal Pettifer", ""),
    ("Iris Vane", ""),
    ("Jonah Welk", ""),
    ("Kit Summerlea", ""),
    ("Lena Orchard", ""),
)


def _part(kind: str, name: str, lines: dict[str, str], **more: Any) -> WrittenPart:
    """A part; its lines are grams by the keys of ingredients."""
    written = (WrittenLine(NamedIngredient(key, ""), Decimal(g)) for key, g in lines.items())
    return WrittenPart(ComponentKind(kind), name, lines=tuple(written), **more)


def _step(
    kind: str,
    text: str,
    hands_on_min: int,
    waiting_min: int = 0,
    celsius: int | None = None,
    of: str = "",
    worked: str = "",
) -> WrittenStep:
    temperature_c = None if celsius is None else Decimal(celsius)
    words = choices_in({"temperature_of": of, "worked": worked})
    return WrittenStep(StepKind(kind), text, hands_on_min, waiting_min, temperature_c, **words)


HEARTH_LOAF = WrittenRecipe(
    title="Hearth loaf",
    summary="A plain loaf with a little whole wheat, mixed, risen and baked in one morning.",
    note=NOT_TESTED,
    piece_name="loaf",
    pieces=1,
    piece_g=Decimal(520),
    dough_temperature_c=Decimal(25),
    bake_loss_percent=Decimal(12),
    core_temperature_c=Decimal(96),
    bread_kind=BreadKind.LEAN,
    equipment="Mixing bowl\nDough scraper\nProofing basket\nBaking stone or heavy tray",
    parts=(
        _part(
            "dough",
            "Dough",
            {
                "bread-flour": "850",
                "whole-wheat-flour": "150",
                "water": "680",
                "table-salt": "20",
                "instant-yeast": "9",
            },
        ),
    ),
    steps=(
        _step(
            "mix",
            "Stir flours, yeast and salt together, add the water, and mix until no dry flour is "
            "left. Knead until the dough stretches without tearing.",
            20,
            worked="machine",
        ),
        _step(
            "bulk",
            "Cover the bowl. Let the dough rise until it is close to double; fold it once after "
            "half the time.",
            5,
            75,
            25,
            "dough",
        ),
        _step("divide", "Turn the dough out, round it tightly, seam up in the basket.", 15),
        _step(
            "proof",
            "Cover and let it rise until a dent from a floured finger fills again slowly.",
            0,
            40,
            26,
            "dough",
        ),
        _step("score", "Turn the loaf out and cut the top once, blade held flat.", 2),
        _step(
            "bake",
            "Slide the loaf in, add steam, and bake until the middle has reached its temperature.",
            3,
            25,
            230,
            "oven",
        ),
        _step("cool", "Cool on a rack before cutting.", 0, 15),
    ),
)

RYE_BATARD = WrittenRecipe(
    title="Two-day rye batard",
    summary="A poolish the evening before gives a rye loaf its flavor.",
    note=NOT_TESTED,
    piece_name="batard",
    pieces=1,
    piece_g=Decimal(600),
    dough_temperature_c=Decimal(25),
    bake_loss_percent=Decimal(12),
    core_temperature_c=Decimal(97),
    bread_kind=BreadKind.LEAN,
    equipment="Lidded tub for the poolish\nMixing bowl\nDough scraper\nCouche or towel",
    parts=(
        _part(
            "preferment",
            "Poolish",
            {"bread-flour": "300", "water": "300", "instant-yeast": "0.3"},
        ),
        _part(
            "dough",
            "Final dough",
            {
                "bread-flour": "600",
                "rye-flour": "100",
                "water": "420",
                "table-salt": "20",
                "instant-yeast": "3.7",
            },
        ),
    ),
    steps=(
        _step(
            "prepare",
            "Stir the poolish until smooth, cover and leave it.",
            5,
            720,
            20,
            "room",
            "hand",
        ),
        _step(
            "mix",
            "Add everything else to the poolish; mix and knead until smooth.",
            20,
            worked="machine",
        ),
        _step("bulk", "Cover and let it rise; fold twice.", 6, 84, 25, "dough"),
        _step("divide", "Divide, round, rest and roll into batards.", 15),
        _step("proof", "Proof seam up on a floured cloth.", 0, 45, 26, "dough"),
        _step("score", "Cut each loaf once along its length.", 2),
        _step("bake", "Bake with steam until the middle reaches its mark.", 3, 32, 235, "oven"),
        _step("cool", "Cool on a rack.", 0, 30),
    ),
)

PILLOW_ROLLS = WrittenRecipe(
    title="Pillow rolls",
    summary="Soft rolls whose flour is partly cooked into a roux with milk.",
    note=NOT_TESTED,
    piece_name="roll",
    pieces=6,
    piece_g=Decimal(70),
    dough_temperature_c=Decimal(26),
    core_temperature_c=Decimal(90),
    bake_loss_percent=Decimal(10),
    bread_kind=BreadKind.SOFT,
    pan_shape=PanShape.ROUND,
    pan_length_mm=230,
    pan_depth_mm=50,
    equipment="Saucepan\nWhisk\nMixer\nRound pan\nPastry brush",
    parts=(
        _part(
            "roux",
            "Roux",
            {"bread-flour": "50", "whole-milk": "250"},
            cooking_loss_percent=Decimal(8),
        ),
        _part(
            "dough",
            "Dough",
            {
                "bread-flour": "950",
                "whole-milk": "370",
                "sugar": "100",
                "butter": "120",
                "egg": "100",
                "table-salt": "18",
                "instant-yeast": "16",
            },
        ),
        _part("wash", "Egg wash", {"egg-yolk": "17", "whole-milk": "15"}, for_pieces=12),
    ),
    steps=(
        _step(
            "prepare",
            "Whisk flour and milk over low heat until it thickens; weigh it.",
            10,
            worked="pan",
        ),
        _step(
            "mix", "Mix everything but the butter, then work the butter in.", 20, worked="machine"
        ),
        _step("bulk", "Cover and let it rise until close to double.", 0, 75, 26, "dough"),
        _step("divide", "Divide, round and set into the pan.", 15),
        _step("proof", "Proof until the rolls touch.", 0, 45, 27, "dough"),
        _step("bake", "Brush with the wash and bake until golden.", 5, 20, 190, "oven"),
        _step("cool", "Cool in the pan, then on a rack.", 0, 15),
    ),
)

SEEDED_RING = WrittenRecipe(
    title="Seeded ring",
    summary="A ring of white dough with olive oil, rolled in seeds.",
    note=NOT_TESTED,
    piece_name="ring",
    pieces=1,
    piece_g=Decimal(400),
    dough_temperature_c=Decimal(25),
    bake_loss_percent=Decimal(12),
    core_temperature_c=Decimal(95),
    bread_kind=BreadKind.LEAN,
    equipment="Mixing bowl\nDough scraper\nFlat tray for the seeds\nBaking tray",
    parts=(
        _part(
            "dough",
            "Dough",
            {
                "bread-flour": "1000",
                "water": "660",
                "olive-oil": "40",
                "table-salt": "19",
                "instant-yeast": "10",
            },
        ),
        _part(
            "topping",
            "Seed topping",
            {"sesame-seeds": "18", "sunflower-seeds": "12"},
            for_pieces=1,
        ),
    ),
    steps=(
        _step("mix", "Mix all of the dough and knead until smooth.", 18, worked="machine"),
        _step("bulk", "Cover and let it rise until close to double.", 0, 70, 25, "dough"),
        _step("divide", "Roll a rope, close the ring, and roll its top in the seeds.", 15),
        _step("proof", "Proof on the tray.", 0, 35, 26, "dough"),
        _step("bake", "Bake until the middle has reached its temperature.", 3, 25, 220, "oven"),
        _step("cool", "Cool on a rack.", 0, 15),
    ),
)

COUNTRY_SOURDOUGH = WrittenRecipe(
    title="Country sourdough",
    summary="A levain by day, a night in the refrigerator, and a dark crust the next morning.",
    note=NOT_TESTED,
    piece_name="loaf",
    pieces=2,
    piece_g=Decimal(800),
    dough_temperature_c=Decimal(24),
    bake_loss_percent=Decimal(14),
    core_temperature_c=Decimal(97),
    bread_kind=BreadKind.LEAN,
    equipment="Lidded tub for the levain\nMixing bowl\nDough scraper\nTwo proofing baskets",
    parts=(
        _part(
            "preferment",
            "Levain",
            {
                "bread-flour": "100",
                "whole-wheat-flour": "100",
                "water": "200",
                "whole-wheat-starter": "40",
            },
        ),
        _part(
            "dough",
            "Final dough",
            {
                "bread-flour": "780",
                "whole-wheat-flour": "45",
                "rye-flour": "55",
                "water": "594",
                "table-salt": "23.1",
            },
        ),
    ),
    steps=(
        _step(
            "prepare",
            "Stir the ripe starter into the water, then the flours. Cover the levain and leave it "
            "until it has risen well and is full of bubbles.",
            10,
            480,
            25,
            "room",
            "hand",
        ),
        _step(
            "mix",
            "Mix everything but the salt with the levain; after half an hour work the salt in.",
            20,
            30,
            worked="hand",
        ),
        _step("bulk", "Cover; fold after 45, 90 and 135 minutes.", 9, 171, 24, "dough"),
        _step("divide", "Divide, round, rest and shape; seam up in the baskets.", 20),
        _step("proof", "Cover the baskets and leave them in the cold.", 0, 840, 4, "refrigerator"),
        _step("score", "Turn each loaf out and cut it along its length.", 2),
        _step("bake", "Bake with steam.", 3, 17, 250, "oven"),
        _step("bake", "Let the steam out and bake until the crust is dark.", 0, 22, 230, "oven"),
        _step("cool", "Cool on a rack.", 0, 60),
    ),
)

DEMO_RECIPES = (HEARTH_LOAF, RYE_BATARD, PILLOW_ROLLS, SEEDED_RING, COUNTRY_SOURDOUGH)

# ingredient key, in stock g, pack g, price of a pack in cents
DEMO_STOCK = (
    ("bread-flour", "1200", "1500", 180),
    ("whole-wheat-flour", "0", "1000", 160),
    ("table-salt", "400", "1000", 75),
    ("instant-yeast", "20", "7", 25),
)

# purpose, cents, whether for each person
DEMO_COSTS = (
    ("Hall", 8800, False),
    ("Assistant", 6300, False),
    ("Instructor", 10800, False),
    ("Printing", 900, False),
    ("Apron, bag and coffee", 110, True),
)
