"""The demo scenario: an invented hall, its class, and formulas that nobody has baked."""

from __future__ import annotations

from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class DemoPart:
    """A component: lines are (ingredient key, grams)."""

    kind: str
    name: str
    lines: tuple[tuple[str, str], ...]
    for_pieces: int | None = None
    cooking_loss_percent: str = "0"


@dataclass(frozen=True, slots=True)
class DemoStep:
    kind: str
    text: str
    hands_on_min: int
    waiting_min: int = 0
    temperature_c: str | None = None
    temperature_of: str = ""
    worked: str = ""


@dataclass(frozen=True, slots=True)
class DemoPan:
    shape: str
    length_mm: int
    depth_mm: int


@dataclass(frozen=True, slots=True)
class DemoRecipe:
    title: str
    summary: str
    piece_name: str
    pieces: int
    piece_g: str
    parts: tuple[DemoPart, ...]
    steps: tuple[DemoStep, ...]
    equipment: tuple[str, ...]
    dough_temperature_c: str
    core_temperature_c: str
    bake_loss_percent: str = "12"
    bread_kind: str = "lean"
    pan: DemoPan | None = None


HEARTH_LOAF = DemoRecipe(
    title="Hearth loaf",
    summary="A plain loaf with a little whole wheat, mixed, risen and baked in one morning.",
    piece_name="loaf",
    pieces=1,
    piece_g="520",
    dough_temperature_c="25",
    core_temperature_c="96",
    equipment=("Mixing bowl", "Dough scraper", "Proofing basket", "Baking stone or heavy tray"),
    parts=(
        DemoPart(
            "dough",
            "Dough",
            (
                ("bread-flour", "850"),
                ("whole-wheat-flour", "150"),
                ("water", "680"),
                ("table-salt", "20"),
                ("instant-yeast", "9"),
            ),
        ),
    ),
    steps=(
        DemoStep(
            "mix",
            "Stir flours, yeast and salt together, add the water, and mix until no dry flour is "
            "left. Knead until the dough stretches without tearing.",
            20,
            worked="machine",
        ),
        DemoStep(
            "bulk",
            "Cover the bowl. Let the dough rise until it is close to double; fold it once after "
            "half the time.",
            5,
            75,
            "25",
            "dough",
        ),
        DemoStep("divide", "Turn the dough out, round it tightly, seam up in the basket.", 15),
        DemoStep(
            "proof",
            "Cover and let it rise until a dent from a floured finger fills again slowly.",
            0,
            40,
            "26",
            "dough",
        ),
        DemoStep("score", "Turn the loaf out and cut the top once, blade held flat.", 2),
        DemoStep(
            "bake",
            "Slide the loaf in, add steam, and bake until the middle has reached its temperature.",
            3,
            25,
            "230",
            "oven",
        ),
        DemoStep("cool", "Cool on a rack before cutting.", 0, 15),
    ),
)

RYE_BATARD = DemoRecipe(
    title="Two-day rye batard",
    summary="A poolish the evening before gives a rye loaf its flavor.",
    piece_name="batard",
    pieces=1,
    piece_g="600",
    dough_temperature_c="25",
    core_temperature_c="97",
    equipment=("Lidded tub for the poolish", "Mixing bowl", "Dough scraper", "Couche or towel"),
    parts=(
        DemoPart(
            "preferment",
            "Poolish",
            (("bread-flour", "300"), ("water", "300"), ("instant-yeast", "0.3")),
        ),
        DemoPart(
            "dough",
            "Final dough",
            (
                ("bread-flour", "600"),
                ("rye-flour", "100"),
                ("water", "420"),
                ("table-salt", "20"),
                ("instant-yeast", "3.7"),
            ),
        ),
    ),
    steps=(
        DemoStep(
            "prepare",
            "Stir the poolish until smooth, cover and leave it.",
            5,
            720,
            "20",
            "room",
            "hand",
        ),
        DemoStep(
            "mix",
            "Add everything else to the poolish; mix and knead until smooth.",
            20,
            worked="machine",
        ),
        DemoStep("bulk", "Cover and let it rise; fold twice.", 6, 84, "25", "dough"),
        DemoStep("divide", "Divide, round, rest and roll into batards.", 15),
        DemoStep("proof", "Proof seam up on a floured cloth.", 0, 45, "26", "dough"),
        DemoStep("score", "Cut each loaf once along its length.", 2),
        DemoStep(
            "bake", "Bake with steam until the middle reaches its mark.", 3, 32, "235", "oven"
        ),
        DemoStep("cool", "Cool on a rack.", 0, 30),
    ),
)

PILLOW_ROLLS = DemoRecipe(
    title="Pillow rolls",
    summary="Soft rolls whose flour is partly cooked into a roux with milk.",
    piece_name="roll",
    pieces=6,
    piece_g="70",
    dough_temperature_c="26",
    core_temperature_c="90",
    bake_loss_percent="10",
    bread_kind="soft or rich",
    pan=DemoPan("round", 230, 50),
    equipment=("Saucepan", "Whisk", "Mixer", "Round pan", "Pastry brush"),
    parts=(
        DemoPart(
            "roux",
            "Roux",
            (("bread-flour", "50"), ("whole-milk", "250")),
            cooking_loss_percent="8",
        ),
        DemoPart(
            "dough",
            "Dough",
            (
                ("bread-flour", "950"),
                ("whole-milk", "370"),
                ("sugar", "100"),
                ("butter", "120"),
                ("egg", "100"),
                ("table-salt", "18"),
                ("instant-yeast", "16"),
            ),
        ),
        DemoPart("wash", "Egg wash", (("egg-yolk", "17"), ("whole-milk", "15")), for_pieces=12),
    ),
    steps=(
        DemoStep(
            "prepare",
            "Whisk flour and milk over low heat until it thickens; weigh it.",
            10,
            worked="pan",
        ),
        DemoStep(
            "mix", "Mix everything but the butter, then work the butter in.", 20, worked="machine"
        ),
        DemoStep("bulk", "Cover and let it rise until close to double.", 0, 75, "26", "dough"),
        DemoStep("divide", "Divide, round and set into the pan.", 15),
        DemoStep("proof", "Proof until the rolls touch.", 0, 45, "27", "dough"),
        DemoStep("bake", "Brush with the wash and bake until golden.", 5, 20, "190", "oven"),
        DemoStep("cool", "Cool in the pan, then on a rack.", 0, 15),
    ),
)

SEEDED_RING = DemoRecipe(
    title="Seeded ring",
    summary="A ring of white dough with olive oil, rolled in seeds.",
    piece_name="ring",
    pieces=1,
    piece_g="400",
    dough_temperature_c="25",
    core_temperature_c="95",
    equipment=("Mixing bowl", "Dough scraper", "Flat tray for the seeds", "Baking tray"),
    parts=(
        DemoPart(
            "dough",
            "Dough",
            (
                ("bread-flour", "1000"),
                ("water", "660"),
                ("olive-oil", "40"),
                ("table-salt", "19"),
                ("instant-yeast", "10"),
            ),
        ),
        DemoPart(
            "topping",
            "Seed topping",
            (("sesame-seeds", "18"), ("sunflower-seeds", "12")),
            for_pieces=1,
        ),
    ),
    steps=(
        DemoStep("mix", "Mix all of the dough and knead until smooth.", 18, worked="machine"),
        DemoStep("bulk", "Cover and let it rise until close to double.", 0, 70, "25", "dough"),
        DemoStep("divide", "Roll a rope, close the ring, and roll its top in the seeds.", 15),
        DemoStep("proof", "Proof on the tray.", 0, 35, "26", "dough"),
        DemoStep(
            "bake", "Bake until the middle has reached its temperature.", 3, 25, "220", "oven"
        ),
        DemoStep("cool", "Cool on a rack.", 0, 15),
    ),
)

DEMO_RECIPES = (HEARTH_LOAF, RYE_BATARD, PILLOW_ROLLS, SEEDED_RING)

# ingredient key, in stock g, pack g, price of a pack in cents
DEMO_STOCK = (
    ("bread-flour", "1200", "1500", 180),
    ("whole-wheat-flour", "0", "1000", 160),
    ("table-salt", "400", "1000", 75),
    ("instant-yeast", "20", "7", 25),
)

# what for, cents, whether for each person
DEMO_COSTS = (
    ("Hall", 8800, False),
    ("Assistant", 6300, False),
    ("Instructor", 10800, False),
    ("Printing", 900, False),
    ("Apron, bag and coffee", 110, True),
)
