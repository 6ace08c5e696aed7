"""Labels of tubs and of the refrigerator: on the label, inside it, and nothing private."""

import re
import subprocess
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from functools import cache

import pytest
from django.db import transaction
from pdfua import Severity, validate

from classes.core.regions import Region
from classes.demo import STUDENTS
from classes.management.commands.load_demo import load_demo
from classes.models import ClassSession
from handouts.kinds.refrigerator_labels import refrigerator_labels
from handouts.kinds.tub_labels import tub_labels
from handouts.labels.fitting import LARGE_PT, LESS_PT, STATION_PT, STEPS, faces_of
from handouts.labels.label import LabelBlock, Role, holds_words
from handouts.labels.sheets import LabelLayout
from handouts.press.render import PageSize, to_html, to_pdf
from recipes.core.allergens import found_in
from recipes.core.formula import FormulaIngredient
from recipes.models import Ingredient as IngredientRow
from tests.handouts.conftest import NOW, another_class, plan_of, two_day_class
from tests.handouts.pdfs import (
    MM,
    nothing_said,
    page_texts,
    plain,
    reader,
    sized_words,
    texts_twice,
)
from tests.styled import SHEETS as STYLES

layouts = pytest.mark.parametrize("layout", LabelLayout)
kinds = pytest.mark.parametrize("kind", ["tubs", "cold"])
MAKERS = {"tubs": tub_labels, "cold": refrigerator_labels}
SHEETS_MM = {PageSize.A4: (210, 297), PageSize.LETTER: (Decimal("215.9"), Decimal("279.4"))}
HOSTILE = '</p><script>alert("x")</script>{{ 1 }} url(file:///etc/passwd) &amp;'
MIDDLE = LabelLayout.A4_MIDDLE


def made(session, kind="tubs", layout=MIDDLE):
    (paper,) = MAKERS[kind](plan_of(session), NOW, layout)
    return paper


def words_of(label):
    return [block.words.replace("\u00a0", " ") for block in label.lines]


class Printed:
    """Labels of the demo's two richest recipes in every layout, printed once, without a warning."""

    def __init__(self, session):
        plan = plan_of(session)
        self.papers = {
            (kind, layout): make(plan, NOW, layout)[0]
            for kind, make in MAKERS.items()
            for layout in LabelLayout
        }
        self.pdf = cache(self._pdf)

    def _pdf(self, kind, layout):
        with nothing_said():
            return to_pdf([self.papers[kind, layout]], layout.page_size)


@pytest.fixture(scope="module")
def _labels(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        demo = load_demo(now=NOW)
        labels = Printed(another_class(demo, "Pillow rolls", "Seeded ring", students=10))
        transaction.set_rollback(True)
    return labels


@pytest.fixture
def labels(db, _labels):
    return _labels


# The sheets


@layouts
def test_the_labels_of_a_sheet_fill_its_width_and_leave_equal_margins(layout):
    grid, (width, height) = layout.grid, SHEETS_MM[layout.page_size]
    across = 2 * grid.left_mm + grid.columns * grid.width_mm + (grid.columns - 1) * grid.gap_mm
    assert abs(across - width) < Decimal("0.1")
    if not grid.is_cut:
        assert abs(2 * grid.top_mm + grid.rows * grid.height_mm - height) < Decimal("0.2")


@layouts
def test_a_layout_is_called_by_its_plain_dimensions(layout):
    assert re.match(r"(A4|Letter), (plain paper, )?\d × \d+ labels", layout.words)
    assert layout.value.startswith(layout.page_size)


def places_mm(layout, sheet=0):
    """Left, top, right, bottom of every label on a sheet, from the layout's own numbers."""
    grid = layout.grid
    key_mm = 14 if grid.is_cut else 0
    for row in range(grid.rows):
        for column in range(grid.columns):
            left = grid.left_mm + column * (grid.width_mm + grid.gap_mm)
            top = grid.top_mm + key_mm + row * grid.height_mm
            yield tuple(map(float, (left, top, left + grid.width_mm, top + grid.height_mm)))


def words_by_page(pdf):
    done = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    for page in done.stdout.decode().split("<page ")[1:]:
        found = re.findall(
            r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)<', page
        )
        yield [(tuple(float(one) / MM for one in box), word) for *box, word in found]


def strays(pdf, layout):
    """Words of the label sheets that lie neither on a label nor above or below all of them."""
    places = list(places_mm(layout))
    top, bottom = places[0][1], places[-1][3]
    for page in list(words_by_page(pdf)):
        told = " ".join(word for _, word in page)
        if "labels, sheet" not in told:
            continue
        for (left, above, right, below), word in page:
            is_beside = below <= top + 0.3 or above >= bottom - 0.3
            inside = any(
                left >= a - 0.1 and above >= b - 0.1 and right <= c + 0.1 and below <= d + 0.1
                for a, b, c, d in places
            )
            if not (is_beside or inside):
                yield word, (left, above, right, below)


@kinds
@layouts
def test_every_word_lies_on_its_label(labels, kind, layout):
    assert list(strays(labels.pdf(kind, layout), layout)) == []


@kinds
@layouts
def test_the_pages_have_the_size_of_the_layout(labels, kind, layout):
    pages = reader(labels.pdf(kind, layout)).pages
    sizes = {
        tuple(round(float(edge) / MM, 1) for edge in page.mediabox.upper_right) for page in pages
    }
    assert sizes == {tuple(map(float, SHEETS_MM[layout.page_size]))}


@kinds
@layouts
def test_every_face_is_printed_on_the_sheets_that_are_counted(labels, kind, layout):
    paper = labels.papers[kind, layout]
    pages = page_texts(labels.pdf(kind, layout))
    sheets = [page for page in pages if f"{paper.name}, sheet" in page]
    assert len(sheets) == len(paper.sheets)
    for number, (sheet, page) in enumerate(zip(paper.sheets, sheets, strict=True), start=1):
        assert f"{paper.name}, sheet {number} of {len(paper.sheets)}" in page
        faces = [face for row in sheet.rows for face in row if face]
        assert page.count(f"· {paper.head.code}") == len(faces)


@layouts
def test_label_sheets_have_a_page_to_try_them_that_lists_what_is_labeled(labels, layout):
    paper = labels.papers["tubs", layout]
    listed = re.findall(r'<b class="mass">(.*?)</b>', to_html(paper))
    assert paper.has_trial is ("cut" not in layout)
    assert sorted(listed) == sorted(label.sum_g for label in paper.labels if paper.has_trial)


@layouts
def test_the_cautions_of_labels_are_on_them_or_on_the_page_before(labels, layout):
    for kind in ("tubs", "cold"):
        words = labels.papers[kind, layout].foot.words
        assert words in " ".join(page_texts(labels.pdf(kind, layout)))


def dark_runs(row):
    """How long each run of dark dots in a row is."""
    return [len(run) for run in re.findall(b"[\x00-\x60]+", row)]


@layouts
def test_every_page_has_a_ruler_that_measures_50_mm(labels, layout):
    """Read off the page as it is printed, at 10 dots a millimeter."""
    done = subprocess.run(
        ["pdftoppm", "-r", "254", "-gray", "-"],
        input=labels.pdf("cold", layout),
        capture_output=True,
        check=True,
    )
    pages = done.stdout.split(b"P5\n")[1:]
    paper = labels.papers["cold", layout]
    assert len(pages) == paper.has_trial + len(paper.sheets)
    for page in pages:
        size, _, dots = page.split(b"\n", 2)
        width = int(size.split()[0])
        rows = (dots[start : start + width] for start in range(0, len(dots), width))
        near = [run for row in rows for run in dark_runs(row) if 450 < run < 550]
        assert near
        assert all(abs(run - 500) <= 2 for run in near)


def test_what_does_not_fit_goes_on_to_more_labels(labels):
    small = labels.papers["tubs", LabelLayout.LETTER_SMALL]
    dry = next(
        faces
        for label, faces in zip(small.labels, small.faces, strict=True)
        if label.sum_g == "922.9"
    )
    assert [face.about.rpartition(" · ")[2] for face in dry] == [
        "1 of 3",
        "2 of 3",
        "3 of 3",
    ]
    names = [(face.name.lines, face.title) for face in dry]
    assert names == [(("Bench 1",), "Dry"), *[(("Bench 1 · Dry",), "")] * 2]
    shown = " ".join(block.words for face in dry for block in face.blocks).replace("\u00a0", " ")
    for grams in ("809", "85", "15.3", "13.6"):
        assert f"{grams} g " in shown


@layouts
def test_no_mass_is_lost_on_the_way_to_the_labels(labels, layout):
    paper = labels.papers["tubs", layout]
    for label, faces in zip(paper.labels, paper.faces, strict=True):
        shown = " ".join(block.words for face in faces for block in face.blocks)
        for content in label.contents:
            assert content.words in shown
        for line in label.lines:
            assert any(words in shown for words in (line.words, *line.shorter))


# What a label says


@layouts
def test_a_station_is_read_from_afar_on_the_lid_of_every_tub(labels, layout):
    """Its name in 40 points or more, beside its shape, and then the contents."""
    paper = labels.papers["tubs", layout]
    for label, (lid, *others) in zip(paper.labels, paper.faces, strict=True):
        if label.holder.startswith("Bench"):
            assert lid.name.lines == (label.holder,)
            assert lid.name.size_pt >= STATION_PT
            assert [one.words for one in lid.shapes] == [
                {"Bench 1": "disc", "Bench 2": "square", "Bench 3": "triangle"}[label.holder]
            ]
        assert all(face.shapes == lid.shapes for face in others)
        assert not any(block.role is Role.NOTE for block in lid.contents)


@kinds
@layouts
def test_nothing_on_a_label_is_smaller_than_8_points(labels, kind, layout):
    assert min(size_pt for _, size_pt in sized_words(labels.pdf(kind, layout))) >= 8


@layouts
def test_the_station_is_printed_as_large_as_it_is_counted(labels, layout):
    pdf, paper = labels.pdf("tubs", layout), labels.papers["tubs", layout]
    counted = {lid.name.size_pt for lid, *_ in paper.faces if lid.name.lines[0] == "Bench 1"}
    assert {size_pt for word, size_pt in sized_words(pdf) if word == "Bench"} >= counted


@layouts
def test_the_check_on_the_scale_stays_in_one_line(labels, layout):
    done = subprocess.run(
        ["pdftotext", "-layout", "-", "-"],
        input=labels.pdf("tubs", layout),
        capture_output=True,
        check=True,
    )
    checks = re.findall(r"Tub (?:empty )?_+ .*?\+ .*? = .*?_+ g", done.stdout.decode())
    assert len(checks) == len(labels.papers["tubs", layout].labels)


def test_a_label_of_one_thing_is_filled(labels):
    """The largest type leaves no third of a large label blank."""
    for layout in (LabelLayout.A4_LARGE, LabelLayout.A4_PLAIN, LabelLayout.LETTER_PLAIN):
        paper = labels.papers["tubs", layout]
        for label, faces in zip(paper.labels, paper.faces, strict=True):
            if label.title == "Water":
                assert [face.step for face in faces] >= ["220"]


def test_a_variant_and_what_is_cold_are_marked_in_black(demo):
    session = another_class(demo, "Pillow rolls", students=4)
    variant = session.taught.get().revision.variants.create(name="Own")
    session.enrollments.first().variants.add(variant)
    marks = {(label.title, label.about): label.marks for label in made(session).labels}
    own = "Pillow rolls, revision 1, variant Own"
    assert marks["Dry", "Pillow rolls, revision 1"] == ()
    assert marks["Cold liquid", "Pillow rolls, revision 1"] == ("Cold",)
    assert marks["Dry", own] == ("Variant",)
    assert marks["Cold liquid", own] == ("Variant", "Cold")
    paper = made(session)
    marked = sum("Variant" in face.marks for faces in paper.faces for face in faces)
    assert to_html(paper).count('<b class="badge">Variant</b>') == marked


LONG_NAMES = ["The long marble table by the window", "Konditoreiarbeitsplatz", "W" * 40]


@layouts
@pytest.mark.parametrize("name", LONG_NAMES)
def test_a_long_name_is_set_smaller_and_not_broken_inside(labels, layout, name):
    label = next(one for one in labels.papers["tubs", layout].labels if one.holder == "Bench 1")
    lid = faces_of(replace(label, holder=name), "ABCDEF", layout.grid)[0]
    assert lid.name.size_pt < STATION_PT or layout in (LabelLayout.A4_LARGE,)
    if name != "W" * 40:
        assert " ".join(lid.name.lines) == name
    else:
        assert lid.name.lines[0].endswith("…")


def test_the_sizes_are_those_of_the_style_sheet():
    sheet = (STYLES / "paper/labels.css").read_text()
    for size_pt in (*LARGE_PT, *LESS_PT):
        assert f".name-{size_pt} {{ font-size: {size_pt}pt; }}" in sheet
    for step in STEPS:
        for selector, size_pt in (
            (f".step-{step.name} .contents", step.content_pt),
            (f".step-{step.name} .block-check", step.check_pt),
            (f".step-{step.name} .badge", step.note_pt),
        ):
            assert f"{selector} {{ font-size: {size_pt}pt; }}" in sheet
        edge = f"{step.shape_pt.normalize():f}pt"
        assert f".step-{step.name} .shape {{ width: {edge}; height: {edge}; }}" in sheet


def test_a_tub_says_what_is_in_it_and_how_to_check_it(demo):
    label = made(demo).labels[0]
    assert (label.holder, label.title, label.about) == ("Bench 1", "Dry", "Hearth loaf, revision 1")
    assert [one.words.replace("\u00a0", " ") for one in label.contents] == [
        "1035 g Bread flour",
        "183 g Whole wheat flour",
        "24.3 g Table salt",
        "11.0 g Instant yeast",
    ]
    blank, long = "_" * 6, "_" * 12
    assert words_of(label) == [
        "Holds: wheat, cereals containing gluten",
        f"Tub empty {blank} g + contents 1253.3 g = gross {blank} g",
        f"Weighed on {long} by {long}",
        "Use in class or discard by Sat 4 May 2030",
    ]


def test_what_is_wet_goes_when_the_class_ends(demo):
    assert words_of(made(demo).labels[1])[-1] == "Discard by Sat 4 May 2030, 14:00"


def test_what_is_cold_says_so(demo):
    session = another_class(demo, "Pillow rolls", students=4)
    cold = [label for label in made(session).labels if label.is_cold]
    assert {label.title for label in cold} >= {"Roux", "Roux, share", "Egg wash", "Cold liquid"}
    for label in cold:
        assert "Keep at 5 °C (41 °F) or colder" in words_of(label)
        assert words_of(label)[-1].startswith("Discard by")


def test_a_class_past_midnight_is_cleared_on_the_day_it_ends(demo):
    demo.starts_at = datetime(2030, 6, 1, 20, tzinfo=UTC)
    demo.ends_at = demo.starts_at + timedelta(hours=4)
    demo.save()
    assert words_of(made(demo).labels[1])[-1] == "Discard by Sun 2 Jun 2030, 01:00"


def test_a_roux_says_to_what_it_is_topped_up(demo):
    session = another_class(demo, "Pillow rolls", students=12)
    whole = made(session).labels[0]
    assert whole.holder == "For everybody"
    (cooked,) = (line for line in words_of(whole) if line.startswith("Cooked"))
    roux = plan_of(session).amounts.recipes[0].amounts.pooled.components[0]
    assert Decimal(cooked.split()[2]) == roux.cooked_g.quantize(Decimal("0.1"))
    assert cooked.endswith(f"top up with water to {roux.exact_g.quantize(Decimal('0.1'))} g")


def allergens_in(region=Region.ALL, **fields):
    found = found_in([FormulaIngredient("x", "X", **fields)])
    return [block.text for block in holds_words(found, region)]


@pytest.mark.parametrize(
    ("us", "eu", "words"),
    [
        (("wheat",), ("gluten-cereals",), "Holds: wheat, cereals containing gluten"),
        (("egg", "milk"), ("eggs", "milk"), "Holds: milk, egg"),
        (("tree-nuts",), ("nuts",), "Holds: tree nuts"),
        (("crustacean-shellfish",), ("crustaceans",), "Holds: crustacean shellfish"),
        ((), ("gluten-cereals",), "Holds: cereals containing gluten"),
        ((), (), "No allergen entered: ask, read the packs"),
    ],
)
def test_allergens_of_both_lists_are_said_once(us, eu, words):
    assert allergens_in(allergens_us=us, allergens_eu=eu) == [words]


@pytest.mark.parametrize(
    ("region", "words"),
    [
        (Region.US, "Holds: egg, tree nuts, wheat, cereals containing gluten, mustard"),
        (Region.EUROPE, "Holds: cereals containing gluten, eggs, nuts, mustard, wheat"),
    ],
)
def test_the_list_of_the_region_comes_first_and_in_its_words(region, words):
    us, eu = ("egg", "tree-nuts", "wheat"), ("gluten-cereals", "eggs", "nuts", "mustard")
    assert allergens_in(region, allergens_us=us, allergens_eu=eu) == [words]


def test_what_may_be_in_it_stands_below():
    assert allergens_in(may_contain="soybeans")[1] == "May contain: X: soybeans"


def test_no_label_promises_anything(labels):
    for paper in labels.papers.values():
        for phrase in ("safe for", "free from", "safe to", "free of"):
            assert phrase not in to_html(paper).lower()


def test_dates_are_common_practice_and_give_way_to_local_rules(labels):
    told = plain(to_html(labels.papers["tubs", MIDDLE]))
    assert "Discard-by dates are common practice" in told
    assert "Your local food authority may ask for less time" in told


# The refrigerator


def test_what_is_bought_cold_has_a_label(demo):
    cold = made(another_class(demo, "Pillow rolls", students=4), "cold")
    said = [(one.title, one.sum_g) for one in cold.labels]
    assert [title for title, _ in said] == [
        "Butter, unsalted",
        "Egg yolk",
        "Egg, whole",
        "Whole milk",
        "Roux",
    ]
    butter = cold.labels[0]
    assert butter.about == cold.head.title
    assert words_of(butter) == [
        "Holds: milk",
        "In since ____________ by ____________",
        "Keep at 5 °C (41 °F) or colder",
        "Discard opened packs by Sat 4 May 2030, others by their own date",
    ]


def test_the_masses_in_the_refrigerator_are_those_of_the_shopping(labels, demo):
    session = another_class(demo, "Pillow rolls", students=4)
    plan = plan_of(session)
    wanted = {line.ingredient.name: f"{line.weighed.grams:f}" for line in plan.shopping.lines}
    for label in made(session, "cold").labels[:4]:
        assert label.sum_g == wanted[label.title]


def test_what_is_frozen_has_its_own_place(demo):
    IngredientRow.objects.filter(key="butter").update(storage="frozen")
    cold = made(another_class(demo, "Pillow rolls", students=4), "cold")
    assert cold.labels[0].holder == "Freezer"
    assert "5 °C" not in " ".join(words_of(cold.labels[0]))


def test_a_poolish_is_cold_only_if_its_recipe_says_so(demo):
    (label,) = made(two_day_class(demo), "cold").labels
    assert (label.title, label.sum_g) == ("Poolish", "1859")
    assert "Cold only if the recipe says so" in words_of(label)


def test_dough_that_is_brought_has_a_label(demo):
    demo.taught.update(brings_risen=True)
    (label,) = made(demo, "cold").labels
    assert (label.title, label.sum_g) == ("13 loaves brought risen", "6760")
    assert words_of(label)[0] == "Holds: wheat, cereals containing gluten"


def test_a_class_without_anything_cold_says_so(demo):
    paper = made(demo, "cold")
    assert paper.sheets == ()
    (page,) = page_texts(to_pdf([paper], PageSize.A4))
    assert "Nothing in this class is kept cold." in page


# Nothing private, nothing hostile


@kinds
def test_nobody_is_named(demo, kind):
    html = to_html(made(demo, kind)).lower()
    for name, must_not_eat in STUDENTS:
        assert name.lower() not in html
        assert not must_not_eat or must_not_eat not in html


def test_when_it_was_printed_stands_in_the_running_head_alone(demo):
    early, late = made(demo), tub_labels(plan_of(demo), NOW + timedelta(days=1), MIDDLE)[0]
    lines = zip(to_html(early).splitlines(), to_html(late).splitlines(), strict=True)
    changed = [one for one, other in lines if one != other]
    assert [line.strip()[:24] for line in changed] == [
        '<meta name="dcterms.crea',
        '<p class="stamp">Printed',
    ]


@layouts
def test_any_text_is_printed_as_text_and_stays_on_its_label(silent, demo, layout):
    session = another_class(demo, "Pillow rolls", students=3)
    demo.kitchen.stations.filter(name="Bench 1").update(name="W" * 40)
    demo.kitchen.stations.filter(name="Bench 2").update(name="\u202eBench \N{BREAD}")
    revision = session.taught.get().revision
    type(revision).objects.filter(pk=revision.pk).update(title=HOSTILE + "W" * 20)
    revision.components.update(name=HOSTILE[:60])
    IngredientRow.objects.filter(key="bread-flour").update(name=HOSTILE, may_contain="M" * 200)
    IngredientRow.objects.filter(key="whole-milk").update(name="Ж" * 80)
    ClassSession.objects.filter(pk=session.pk).update(title="ש" * 100)
    paper = made(session, "tubs", layout)
    assert "<script" not in to_html(paper)
    pdf = to_pdf([paper], layout.page_size)
    assert list(strays(pdf, layout)) == []
    assert "</p><script>" in "".join(page_texts(pdf)).replace(" ", "")


@layouts
def test_ten_kilobytes_of_text_end_in_an_ellipsis_and_keep_their_mass(demo, layout):
    label = made(demo).labels[0]
    long = LabelBlock("flour " * 1700, "1035")
    faces = faces_of(replace(label, contents=(long,), holder="x" * 10000), "ABCDEF", layout.grid)
    (shown,) = (block for face in faces for block in face.blocks if block.grams)
    assert shown.grams == "1035"
    assert shown.text.endswith("…")


@kinds
@layouts
def test_other_programs_find_the_pdf_sound(labels, kind, layout, tmp_path):
    file = tmp_path / "labels.pdf"
    file.write_bytes(labels.pdf(kind, layout))
    done = subprocess.run(["qpdf", "--check", file], capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")
    assert [one.message for one in validate(file).findings if one.severity is Severity.ERROR] == []


@kinds
def test_two_programs_read_the_same_sums(labels, kind):
    paper = labels.papers[kind, MIDDLE]
    for text in texts_twice(labels.pdf(kind, MIDDLE)):
        words = set(text.replace("\u00a0", " ").split())
        assert {label.sum_g for label in paper.labels} <= words
