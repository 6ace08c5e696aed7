"""Words beside a verb of work that take its meaning away: `stand mixer`, `the work surface`."""

from __future__ import annotations

from collections.abc import Container, Sequence

from recipes.importing.text.words import word_set

NOT_BEFORE: dict[str, Container[str]] = {
    "rest": {"of"},
    "mixing": {"bowl", "bowls"},
    "kneading": {"machine"},
    "stand": {"mixer", "mixers"},
    "cool": {"water", "milk", "place", "room", "liquid", "spot", "dry"},
    "cooling": {"rack", "racks", "grid"},
    "proofing": word_set("basket baskets box cabinet drawer cloth"),
    "proving": word_set("basket baskets box cabinet drawer cloth"),
    "proof": word_set("box cabinet baskets"),
    "baking": word_set(
        "sheet sheets tray trays tin tins pan pans paper parchment soda powder stone "
        "steel dish dishes mat"
    ),
    "bulk": {"of"},
    "bake": {"loss", "day"},
    "form": {"a"},
    "work": {"surface", "top"},
    "cream": {"and", "the", "cheese"},
    "steam": {"oven"},
    "whisk": {"attachment"},
    "turn": {"down", "up"},
    "mix": {"of"},
    "blend": {"of"},
}
NOT_BEHIND: dict[str, Container[str]] = {
    "rest": {"the"},
    "cool": {"a", "the", "with", "dry"},
    "baking": {"for", "of", "the"},
    "bake": {"the", "this"},
    "baked": {"be", "when", "until", "fully", "freshly"},
    "round": word_set("a the one each all it tight way turn into half-way tin is"),
    "part": {"a", "the", "this", "that", "one", "each", "every", "first", "second"},
    "break": {"a", "the"},
    "cream": {"the", "heavy", "double", "sour", "whipping", "cold", "warm"},
    "work": {"lightly", "a", "your", "floured"},
    "form": {"a", "to", "loaf"},
    "heat": {"the", "medium", "low", "high", "from", "on", "off"},
    "line": {"the", "a"},
    "peel": {"the", "a", "onto", "to"},
    "oil": {"the", "olive", "with", "of", "little", "and"},
    "dust": {"the", "of"},
    "roll": {"each", "a", "the", "per", "bread"},
    "score": {"the"},
    "shape": word_set("its a the into their in better good"),
    "shaping": {"the", "for"},
    "cut": {"the", "a", "one"},
    "portion": word_set("a each one the per every second"),
    "braid": {"the", "a"},
    "mould": {"the", "a"},
    "mold": {"the", "a"},
    "scale": word_set("a the your kitchen digital"),
    "whisk": {"a", "the", "wire"},
    "steam": {"of", "with", "the"},
    "mix": {"the", "bread"},
    "load": {"the", "each", "first", "second"},
    "weigh": {"should", "will", "to"},
    "proof": {"the"},
    "double": {"of"},
    "place": word_set("a the warm cool dark cold sheltered draught"),
}


def names_a_thing(words: Sequence[str], i: int) -> bool:
    """Whether the next word makes a thing of a verb: `baking sheet`, `mixing bowl`."""
    return i + 1 < len(words) and words[i + 1] in NOT_BEFORE.get(words[i], ())
