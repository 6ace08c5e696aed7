"""The table of words: what cooks write on ingredient lines, and what each word stands for.

Words are in lower case. Units come from the fixed vocabulary; only their kitchen shorthand is added
here, for ingredient lines. All of it is common practice.
"""

from __future__ import annotations

from decimal import Decimal

from recipes.core.choices import IngredientKind
from recipes.core.units import UNITS, Unit, parse_unit

EACH = parse_unit("each")
GRAM = parse_unit("g")


def word_set(text: str) -> frozenset[str]:
    """The words of a text, as a table of words is written here."""
    return frozenset(text.split())


def one_letter_less(word: str) -> set[str]:
    """The word, and the word without each of its letters: what one slip leaves in common."""
    return {word} | {word[:i] + word[i + 1 :] for i in range(len(word))}


_SHORTHAND = {
    "tbl": "tbsp",
    "tbsps": "tbsp",
    "tblsp": "tbsp",
    "tblsps": "tbsp",
    "tb": "tbsp",
    "tspn": "tsp",
    "teasp": "tsp",
    "tablesp": "tbsp",
    "gramme": "g",
    "grammes": "g",
    "kgs": "kg",
    "kilogramme": "kg",
    "kilogrammes": "kg",
    "mls": "ml",
    "ltr": "l",
    "ltrs": "l",
    "lt": "l",
    "ozs": "oz",
    "doz": "dozen",
    "quarts": "quart",
    "fl ozs": "fl oz",
    "fluid oz": "fl oz",
}
_NOT_ON_LINES = {"C", "F", "h", "in", "each", "piece", "pieces", "whole"}


def _unit_words() -> dict[tuple[str, ...], Unit]:
    table = {
        tuple(word.lower().split()): unit
        for unit in UNITS
        for word in unit.words
        if word and word not in _NOT_ON_LINES
    }
    table |= {tuple(word.split()): parse_unit(name) for word, name in _SHORTHAND.items()}
    return table


# Every unit by its words, as a tuple of small words; a lone c, t or T is in LETTERS.
UNIT_WORDS = _unit_words()
LONGEST_UNIT = max(map(len, UNIT_WORDS))

_LEAST_MISTYPED = 6
# Long unit words with a letter less, for finding typing errors.
UNIT_SLIPS = {
    less: unit
    for words, unit in UNIT_WORDS.items()
    if len(words) == 1 and len(words[0]) >= _LEAST_MISTYPED
    for less in sorted(one_letter_less(words[0]))
}

# Letters for two units each, on ingredient lines: the one taken, and the other reading.
LETTERS: dict[str, tuple[Unit, str]] = {
    "c": (parse_unit("cup"), "cl"),
    "C": (parse_unit("cup"), "°C"),
    "T": (parse_unit("tbsp"), "tsp"),
    "t": (parse_unit("tsp"), "tbsp"),
}
# From this number up, a lone C or F is a temperature.
LEAST_DEGREES = Decimal(15)

# Units without a fixed size: the baker must say how much they hold.
NOT_MEASURED = {"pinch", "dash"}

METRIC = {"g", "kg", "mg", "ml", "cl", "dl", "l"}

_COUNT = "one two three four five six seven eight nine ten eleven twelve"
NUMBER_WORDS = {word: Decimal(n) for n, word in enumerate(_COUNT.split(), start=1)}
ARTICLES = word_set("a an")
# A couple is two with a doubt; the others say nothing.
COUPLE = "couple"
VAGUE_NUMBERS = word_set("few several some couple")
FRACTION_WORDS = {
    "half": Decimal("0.5"),
    "halves": Decimal("0.5"),
    "third": Decimal(1) / 3,
    "thirds": Decimal(1) / 3,
    "quarter": Decimal("0.25"),
    "quarters": Decimal("0.25"),
    "eighth": Decimal("0.125"),
}

# Counted things that are not units; what one weighs depends on the ingredient.
CONTAINERS = word_set(
    """packet packets pkt pkts package packages pkg pkgs pack packs sachet sachets envelope
    envelopes cube cubes cake cakes clove cloves can cans tin tins jar jars bag bags box bottle
    carton slice slices handful handfuls knob sprig sprigs bunch head heads drop drops splash
    drizzle block ball balls pat scoop scoops stalk stalks bulb bulbs piece pieces each ea"""
)
PACKETS = word_set(
    "packet packets pkt pkts package packages pkg pkgs pack packs sachet sachets envelope envelopes"
)
# Amounts without a number: `pinch of salt`.
ONE_OF = word_set("pinch dash handful knob splash drizzle drop sprig")

# Before a unit; those in ROUGH say that the amount is not exact.
ROUGH = word_set("heaping heaped scant rounded generous good big small large overflowing")
BEFORE_UNIT = ROUGH | word_set("level full medium flat even")
# Before an amount.
ABOUT = word_set("about approx approximately around circa ca roughly")
ABOUT_PAIRS = {("up", "to"), ("at", "least")}

# Words that say what state an ingredient is in, not which one it is.
STATES = word_set(
    """softened soft melted cooled cold chilled hot warm lukewarm tepid boiling scalded cool iced
    ice beaten lightly well finely coarsely freshly roughly thinly gently very chopped grated
    minced sliced diced crushed cubed shredded toasted roasted sifted packed firmly loosely
    unbleached bleached organic quality good best large medium small extra jumbo xl sized size
    free range pasteurized pasteurised shelled pitted peeled cooked boiled mashed mature active
    bubbly ripe fed divided separated optional cut torn crumbled rinsed drained soaked halves
    halved pieces raw plus more additional whole fresh ground light all total about filtered
    room temperature heaping heaped scant unsifted powdered blanched flaked slivered hulled
    quartered virgin pure real some your favorite favourite little bit shell without
    carton kept reserved remaining rest level rounded steeped dissolved rehydrated plumped
    macerated whisked stirred bloomed
    stoneground just hand barely blood tepidly comfortably freshly newly"""
)
# Words in STATES that can also make another ingredient: with them a match is likely at most.
SOFT_STATES = word_set("fresh ground whole light powdered")
OPPOSITES = {"fresh": word_set("dried dry ground powder instant"), "dried": word_set("fresh")}

# Words that make the next word another thing, unless a name above has them.
CHANGING_WORDS = word_set(
    """coconut almond cashew rice oat soy soya hemp pea vegan plant gluten free dairy nut peanut
    condensed evaporated sour soured cottage ricotta goat sheep self rising raising cake pastry
    bread buckwheat potato tapioca chickpea corn spelt einkorn emmer khorasan wine balsamic malt
    lemon lime orange apple cream cheese spread substitute alternative replacement replacer
    margarine garlic onion celery seasoned pickled smoked rock black pink pancake chili sweet
    golden palm date agave starter sourdough levain poolish biga discard yeastless nutritional
    brewer brewers chocolate cocoa cookie crumb crumbs sauce juice jam paste stock broth powder
    flakes extract clarified sauerkraut essence butter seed berry mixed mix
    suet caramel glaze filling free"""
)

FILLERS = word_set("of the a an")

# Words at which a name ends and a note begins.
NAME_ENDERS = word_set(
    """for at cut plus to as if from until into about with such preferably optional in see
    depending or then"""
)
JOINERS = word_set("plus and &") | {"+", "&"}
# After an amount they say that it is added: `plus 25 g more`.
MORE = word_set("more extra additional further again")

# Numbers after these words belong to the name: type 550, tipo 00.
NUMBERED = word_set("type tipo typ no number size grade note")

# What kind a new ingredient is likely to be, by the last word of its name.
KIND_WORDS = {
    word: IngredientKind(kind)
    for kind, words in (
        ("flour", "flour meal mehl farine farina"),
        (
            "liquid",
            """milk water juice wine cider ale drink beverage stock broth whey vinegar rum brandy
                whisky whiskey liqueur kirsch sherry port vodka gin calvados cognac amaretto tea
                coffee beer stout lager brine lemonade cola""",
        ),
        ("salt", "salt"),
        ("yeast", "yeast"),
        (
            "sugar",
            "sugar syrup nectar jam marmalade treacle jelly preserve glucose dextrose fondant",
        ),
        ("fat", "oil butter margarine shortening fat suet ghee drippings dripping spread"),
        ("egg", "egg eggs"),
        (
            "dairy",
            """cheese cream yogurt yoghurt curd quark cheddar gouda emmental gruyere pecorino
                mascarpone halloumi brie skyr custard""",
        ),
        ("seed", "seed seeds"),
        ("nut", "nut nuts peanuts cashews chestnuts pistachios macadamias"),
        (
            "grain",
            """oats flakes bran grain grains rice groats grits kernels chops quinoa couscous
                barley""",
        ),
        (
            "fruit",
            """raisins dates prunes cherries apples apple banana bananas peel zest berries
                blueberries raspberries blackberries strawberries pear pears plum plums mango orange
                lemon lime rhubarb fruit""",
        ),
        (
            "vegetable",
            """tomatoes peppers olives potatoes carrots pumpkin squash leeks leek shallots spinach
                beetroot courgette zucchini cabbage mushrooms kale celery capers chillies""",
        ),
        (
            "spice",
            """spice spices chili chilli curry mustard pepper herbs thyme basil cloves extract
                essence chives parsley dill sage mint marjoram tarragon bay saffron
                mace turmeric cumin coriander fennel
                anise sumac zaatar nigella vanilla herb seasoning paprika lavender mahleb""",
        ),
    )
    for word in words.split()
}
