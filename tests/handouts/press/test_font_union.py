"""Fonts joined from subsets draw what the whole font draws: Debian's own font files tell."""

import subprocess
from io import BytesIO

import pikepdf
import pytest
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from handouts.press.font_union import Subset, Unlike, union
from handouts.press.render import PageSize, print_html

PAGE = '<!doctype html><html lang="en"><head><title>T</title></head><body><p>{}</p></body></html>'
WORDS = (
    "Rye 12 g",
    "Crème brûlée",
    "Ångström, Ødegård",
    "Żółć gęślą jaźń",
    "ffi Th fl",
    "½ ⅔ 350 °F",
)


def whole_font(family):
    found = ["fc-match", "--format=%{file}", family]
    return TTFont(subprocess.run(found, capture_output=True, text=True, check=True).stdout)


WHOLE = {"Vollkorn": whole_font("Vollkorn:weight=80")}


def subset_of(text):
    """The subset of Vollkorn in a PDF of these words."""
    pdf = pikepdf.open(BytesIO(print_html([PAGE.format(text)], "components", PageSize.A4)))
    for found in pdf.objects:
        is_font = isinstance(found, pikepdf.Dictionary) and found.get("/Subtype") == "/CIDFontType2"
        if is_font and str(found.BaseFont).endswith("+Vollkorn"):
            codes = [int(code) for code in found.W if not isinstance(code, pikepdf.Array)]
            runs = [len(run) for run in found.W if isinstance(run, pikepdf.Array)]
            used = {code + n for code, run in zip(codes, runs, strict=True) for n in range(run)}
            return Subset(bytes(found.FontDescriptor.FontFile2.read_bytes()), frozenset(used))
    raise AssertionError(f"no Vollkorn in {text}")


@pytest.fixture(scope="module")
def subsets():
    return [subset_of(words) for words in WORDS]


def drawn(font, place):
    pen = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()[font.getGlyphOrder()[place]].draw(pen)
    return pen.value


def test_every_glyph_is_drawn_as_in_the_whole_font(subsets):
    made, whole = TTFont(BytesIO(union(subsets))), WHOLE["Vollkorn"]
    used = frozenset().union(*(one.used for one in subsets))
    assert len(used) > 40
    assert [place for place in used if drawn(made, place) != drawn(whole, place)] == []


def test_every_glyph_is_as_wide_as_in_the_whole_font(subsets):
    made, whole = TTFont(BytesIO(union(subsets))), WHOLE["Vollkorn"]
    for place in frozenset().union(*(one.used for one in subsets)):
        name, own = whole.getGlyphOrder()[place], made.getGlyphOrder()[place]
        assert made["hmtx"][own] == whole["hmtx"][name]


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=12)
@given(order=st.permutations(range(len(WORDS))))
def test_the_order_of_the_subsets_changes_no_drawing(subsets, order):
    made = TTFont(BytesIO(union([subsets[n] for n in order])))
    for place in subsets[order[-1]].used:
        assert drawn(made, place) == drawn(WHOLE["Vollkorn"], place)


def test_one_subset_stays_as_it_is(subsets):
    assert union(subsets[:1]) == subsets[0].data


def test_subsets_of_two_fonts_are_not_joined(subsets):
    lato = TTFont(BytesIO(subsets[0].data))
    glyf = lato["glyf"]
    place = max(subsets[0].used)
    glyf[lato.getGlyphOrder()[place]] = glyf[lato.getGlyphOrder()[min(subsets[0].used - {0})]]
    other = BytesIO()
    lato.save(other)
    with pytest.raises(Unlike):
        union([subsets[0], Subset(other.getvalue(), subsets[0].used)])
