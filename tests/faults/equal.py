"""Faults that change nothing anybody can see, and why: by path, then by what is wrong."""

EQUAL: dict[tuple[str, str], str] = {
    (
        "recipes/core/adjusting.py",
        "set_percents: for place, percent in wanted.items() if place not in into_dough"
        " -> for place, percent in wanted.items()",
    ): "a line of the dough gets the mass that it has already: its percentage was just set",
    ("recipes/core/rise/drift.py", "module: 12 -> 13"): "more panels give the same to 0.00001",
    (
        "recipes/core/pans/packing.py",
        "_surely_too_many: 2 -> 3",
    ): "only a higher bound to begin the search from",
    (
        "recipes/core/pans/packing_round.py",
        "_honeycombs: 1 -> 2",
    ): "more middles, which are mirror images of others",
    (
        "recipes/core/exchange/swap.py",
        "_swap: True -> False",
    ): "the parts are made one for one from those of the formula",
    (
        "recipes/core/pans/tin_drawing.py",
        "module: Decimal(8) -> Decimal(8) * 2",
    ): "how far the drawn wall leans is a matter of looks",
    (
        "classes/enrollment/services/seats.py",
        "_next_position: 1 -> 2",
    ): "positions are only put in order; a gap between two is nothing",
}
