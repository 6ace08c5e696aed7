"""Names and the ingredients they mean."""

from collections import Counter
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest

from recipes.core.choices import IngredientKind
from recipes.core.regions import HomeRegion
from recipes.importing.naming.grades import ash_of
from recipes.importing.naming.index import name_words
from recipes.importing.naming.nearness import _sharing
from recipes.importing.naming.spelling import stem
from recipes.importing.naming.table import GRADES, NAMES, FitsAs, grade_rows, name_rows
from recipes.importing.text.lines import read_line
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import KnownIngredient, Sureness

BY_WORD: dict[tuple[str, frozenset[str]], list] = {}
for _row in name_rows():
    BY_WORD.setdefault((_row.word, _row.regions), []).append(_row)
EVERYWHERE = [word for word, regions in BY_WORD if not regions]
WRITTEN = Path(__file__).parent / "data"


def fit(book, text, region=None):
    """The match of a name alone, with the codes in it."""
    words = name_words(text)
    codes = [word for word in words if word[-1].isdigit()]
    return book.in_region(region).fit([w for w in words if w not in codes], codes).match


# --- the tables ---------------------------------------------------------------------------------


def test_every_word_of_the_table_means_what_its_rows_say(book):
    """In its region, or in any without one; what is merely like something is only offered."""
    wrong = []
    for (word, regions), rows in BY_WORD.items():
        keys = tuple(dict.fromkeys(row.key for row in rows))
        match = fit(book, word, sorted(regions)[0] if regions else None)
        fits_as = rows[0].fits_as
        if fits_as is FitsAs.LIKE:
            right = (match.key, match.candidates[: len(keys)]) == ("", keys[:5])
        else:
            sure = fits_as is FitsAs.IS and len(keys) == 1
            kind = Sureness.EXACT if sure else Sureness.LIKELY
            right = (match.key, match.sureness) == (keys[0], kind)
            right = right and match.candidates[: len(keys)] == keys
        if not right and not (not regions and _told_by_region(word)):
            wrong.append((word, regions, match))
    assert wrong == []


def _told_by_region(word):
    return any(other == word and regions for other, regions in BY_WORD)


def test_the_tables_name_shared_ingredients_regions_and_each_word_once(book):
    keys = {row.key for row in (*name_rows(), *grade_rows())}
    assert keys <= set(book.keys)
    once = Counter((row.key, row.word, row.regions) for row in name_rows())
    assert [row for row, count in once.items() if count > 1] == []


def test_no_word_of_the_table_has_mixed_senses():
    """A word is offered only, or taken: never both in one region."""
    for rows in BY_WORD.values():
        assert len({row.fits_as is FitsAs.LIKE for row in rows}) == 1, rows


def test_bands_of_ash_leave_no_gap_and_do_not_overlap():
    for grain in ("wheat", "rye", "spelt"):
        bands = sorted(
            {(r.ash_from, r.ash_to) for r in grade_rows() if r.grain == grain and r.ash_to}
        )
        assert bands[0][0] == 0
        gaps = [b[0] - a[1] for a, b in pairwise(bands)]
        assert {f"{gap:.2f}" for gap in gaps} == {"0.01"}


def test_the_tables_are_kept_in_order():
    words = [line.split(",")[1] for line in NAMES.read_text().splitlines()[1:]]
    assert words == sorted(words)
    assert GRADES.read_text().startswith("grain,grade,ash_from,ash_to,key,fit,note\n")


# --- names as bakers write them ------------------------------------------------------------------


def _judged(expected, match):
    sign, _, told = expected.partition(" ")
    keys = set(told.split(",")) - {""}
    if sign == "=":
        if match.sureness is not Sureness.EXACT:
            return "doubtful"
        return "right" if match.key in keys else "wrong and quiet"
    if match.sureness is Sureness.EXACT:
        return "wrong and quiet"
    if sign == "-":
        return "right" if match.sureness is Sureness.NONE else "doubtful"
    near = {match.key} if match.key else set(match.candidates)
    return "right" if near & keys else "doubtful"


def judge_names(path, book):
    """How often names in a file are right, doubtful, or wrong and quiet, and which are not right.

    A row is `region | name | = key`, `? keys` where a doubt has to stand, or `-` for unknown.
    """
    counts, told = Counter(), []
    for row in path.read_text(encoding="utf-8").splitlines():
        region, name, expected = (cell.strip() for cell in row.split("|"))
        match = read_line(
            f"500 g {name}", book.in_region(HomeRegion(region) if region else None)
        ).match
        verdict = _judged(expected, match)
        counts[verdict] += 1
        if verdict != "right":
            told.append((verdict, row, match.key, match.candidates))
    return counts, told


@pytest.mark.parametrize(("name", "least"), [("names_first.txt", 111), ("names_second.txt", 108)])
def test_names_as_bakers_write_them(name, least, book):
    counts, told = judge_names(WRITTEN / name, book)
    assert counts["wrong and quiet"] == 0, told
    assert counts["right"] >= least, told


@pytest.mark.parametrize(
    ("name", "uk", "us", "unsaid"),
    [
        ("corn flour", "cornstarch", "corn-flour", ("cornstarch", "corn-flour")),
        ("cream", "double-cream", "heavy-cream", ("heavy-cream", "double-cream", "light-cream")),
    ],
)
def test_a_word_is_read_by_its_region_and_doubted_without_one(name, uk, us, unsaid, book):
    assert (fit(book, name, HomeRegion.UK).key, fit(book, name, HomeRegion.US).key) == (uk, us)
    match = fit(book, name)
    assert match.sureness is Sureness.LIKELY
    assert set(unsaid) <= set(match.candidates)


@pytest.mark.parametrize(
    ("code", "ash"),
    [
        ("t65", Decimal("0.65")),
        ("t150", Decimal("1.5")),
        ("550", Decimal("0.55")),
        ("1050", Decimal("1.05")),
        ("w700", Decimal("0.7")),
        ("r960", Decimal("0.96")),
        ("00", Decimal("0.55")),
        ("12", None),
        ("300", None),
        ("9000", None),
    ],
)
def test_a_mills_number_is_its_flours_ash(code, ash):
    assert ash_of(code) == ash


def test_a_flours_number_is_named_in_the_doubt(book):
    line = read_line("500 g flour T65", book)
    doubt = next(doubt for doubt in line.doubts if doubt.kind == "LikelyIngredient")
    assert doubt.reason.startswith("about 0.65 % ash")


def test_an_own_ingredient_of_that_grade_is_found_before_any_nearest_one():
    own = KnownIngredient("mine", "Weizenmehl Type 550", IngredientKind.FLOUR)
    white = KnownIngredient("all-purpose-flour", "All-purpose flour", IngredientKind.FLOUR)
    book = IngredientBook([white, own])
    assert fit(book, "Weizenmehl Type 550").key == "mine"
    assert fit(book, "Weizenmehl Type 405").key == "all-purpose-flour"


@pytest.mark.parametrize(
    "pair",
    [
        "yoghurt/yogurt",
        "flavour/flavor",
        "iodised/iodized",
        "sulphured/sulfured",
        "fibre/fiber",
        "crème/creme",
        "leaves/leaf",
        "potatoes/potato",
        "berries/berry",
        "baker's/bakers",
    ],
)
def test_spellings_of_one_word_are_one(pair):
    one, other = pair.split("/")
    assert stem(one) == stem(other)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("breadflour", "bread-flour"),
        ("whole-meal flour", "whole-wheat-flour"),
        ("wholewheat flour", "whole-wheat-flour"),
        ("butter milk", "buttermilk"),
        ("sundried tomatoes", "sun-dried-tomatoes"),
        ("rape seed oil", "canola-oil"),
    ],
)
def test_words_written_together_or_apart_are_the_same(text, key, book):
    match = fit(book, text)
    assert (match.key, match.sureness) == (key, Sureness.EXACT)


# --- what is offered -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "never"),
    [
        ("chopped whole rye", "wheat-white"),
        ("wholegrain teff flour", "wheat-white"),
        ("salted caramel", "any"),
        ("salted peanuts", "fat"),
        ("teff flour", "any"),
        ("black garlic paste", "spice"),
        ("almond butter", "any"),
        ("hemp milk", "any"),
        ("vegan cheese", "any"),
        ("gluten-free flour blend", "any"),
        ("butter biscuits", "any"),
        ("mustard powder", "any"),
    ],
)
def test_what_is_offered_is_of_the_same_kind_and_grade(name, never, book):
    offered = fit(book, name).candidates
    kinds = {book.get(key).kind for key in offered}
    if never == "any":
        assert offered == ()
    elif never == "wheat-white":
        assert not {"bread-flour", "all-purpose-flour", "cake-flour"} & set(offered)
    else:
        assert never not in kinds


def test_without_its_own_grade_a_whole_rye_is_offered_ryes_and_whole_flours(book):
    left_out = {"dark-rye-flour", "rye-grain"}
    less = IngredientBook(book.get(key) for key in book.keys if key not in left_out)
    match = fit(less, "whole rye flour")
    assert match.sureness is not Sureness.EXACT
    offered = [key for key in (match.key, *match.candidates) if key]
    assert offered
    assert all("rye" in key or "whole" in key for key in offered)


@pytest.mark.parametrize("name", ["wheat beer", "malt vinegar", "malted seeded flour", "rye sour"])
def test_what_may_bring_another_allergen_or_water_is_never_taken_without_a_doubt(name, book):
    assert fit(book, name).sureness is not Sureness.EXACT


def test_at_most_five_are_offered_and_the_proposed_one_first(book):
    for word in EVERYWHERE:
        match = fit(book, word)
        assert len(match.candidates) <= 5
        assert not match.key or match.candidates[0] == match.key


# --- the book ------------------------------------------------------------------------------------


def test_every_shared_ingredient_is_found_by_its_own_name(book):
    for key in book.keys:
        match = fit(book, book.get(key).name)
        assert (match.key, match.sureness) == (key, Sureness.EXACT)


def test_an_ingredient_brings_other_words_of_its_own():
    book = IngredientBook([KnownIngredient("dust", "Fairy dust", words=("pixie powder",))])
    assert book.fit(["pixie", "powder"]).match.key == "dust"


def test_without_ingredients_nothing_is_proposed():
    match = IngredientBook([]).fit(["bread", "flour"]).match
    assert (match.key, match.candidates) == ("", ())


@pytest.mark.parametrize(
    ("word", "key"),
    [("buttermlik", "buttermilk"), ("cinamon", "cinnamon"), ("molases", "molasses")],
)
def test_one_slip_of_the_fingers_is_forgiven_with_a_doubt(word, key, book):
    match = book.fit([word]).match
    assert (match.key, match.sureness) == (key, Sureness.LIKELY)


def test_ingredients_named_in_a_text_are_found(book):
    assert set(book.named_in("beaten with 1 tbsp of whole milk and a pinch of salt")) == {
        "whole-milk",
        "table-salt",
    }


def test_a_region_shares_the_index_and_a_large_book_looks_at_few_names(book):
    """Looking up goes over names of the rarest words, however many have `flour` in them."""
    many = [
        KnownIngredient(f"f{n}", f"{stem_of(n)} flour", IngredientKind.FLOUR) for n in range(10_000)
    ]
    large = IngredientBook([*(book.get(key) for key in book.keys), *many])
    index = large.in_region(HomeRegion.UK)._index
    assert index is large._index
    assert len(index.by_word["flour"]) > 10_000
    assert len(index._under["flour"]) < 50
    assert fit(large, f"{stem_of(9_999)} flour").key == "f9999"
    assert len(_sharing(index, {"flour", stem_of(1)})) <= 150


def stem_of(number):
    """A made-up word for a number, of letters alone."""
    return "qu" + "".join("bcdfghjklm"[int(digit)] + "a" for digit in f"{number:05d}")


@pytest.mark.parametrize(
    ("text", "key", "sureness"),
    [
        ("3 g dry yeast (instant)", "instant-yeast", Sureness.EXACT),
        ("50 g butter (unsalted)", "butter", Sureness.EXACT),
        ("50 g butter (cold)", "butter", Sureness.LIKELY),
        ("500 g flour (T80)", "high-extraction-flour", Sureness.LIKELY),
        ("500 g flour, type 1050", "high-extraction-flour", Sureness.LIKELY),
        ("T65 750 g", "bread-flour", Sureness.LIKELY),
    ],
)
def test_a_note_or_a_number_says_which_one_is_meant(text, key, sureness, book):
    match = read_line(text, book).match
    assert (match.key, match.sureness) == (key, sureness)
