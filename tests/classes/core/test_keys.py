"""Keys have one text form, and every key is found again from it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from classes.core.keys import PersonKey, Stage, TickKey, Work

numbers = st.integers(min_value=1, max_value=10**9)
words = st.text(st.characters(exclude_characters="|"), min_size=1)
people = st.one_of(
    numbers.map(PersonKey.student),
    numbers.map(PersonKey.seat),
    numbers.map(PersonKey.demonstration),
    st.sampled_from(Stage).map(PersonKey.brought),
)


@st.composite
def lines(draw):
    work, amount = draw(st.sampled_from(Work)), draw(st.text())
    if work is Work.BUY:
        return TickKey(work, draw(words), amount)
    person = draw(people) if work is Work.WEIGH else None
    return TickKey(work, draw(words), amount, draw(words), person, draw(st.integers(0, 99)))


@given(lines())
def test_a_line_is_read_back_as_it_was(line):
    assert TickKey.parse(str(line)) == line


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("buy|rye|2 x 1 kg", TickKey(Work.BUY, "rye", "2 x 1 kg")),
        ("ahead|7-2|1|milk|120.5", TickKey(Work.AHEAD, "milk", "120.5", "7-2", None, 1)),
        (
            "weigh|7|student-12|0|tub|259",
            TickKey(Work.WEIGH, "tub", "259", "7", PersonKey.student(12)),
        ),
        (
            "weigh|7|brought-risen|0|salt",
            TickKey(Work.WEIGH, "salt", "", "7", PersonKey.brought(Stage.RISEN)),
        ),
    ],
)
def test_lines_that_are_kept_stay_what_they_are(text, line):
    assert (str(line), TickKey.parse(text)) == (text, line)


@pytest.mark.parametrize(
    "text", ["", "buy", "bake|rye|1", "ahead|7|rye", "ahead|7|x|rye|1", "weigh|7|student-1|rye"]
)
def test_any_other_text_is_no_line(text):
    with pytest.raises(ValueError, match=r"no line|not a valid|invalid literal"):
        TickKey.parse(text)


def test_a_line_lasts_whatever_its_amount_and_its_variant():
    line = TickKey.parse("weigh|7-2-0f|student-12|0|salt|10")
    assert str(line.of_any_amount) == "weigh|7-2-0f|student-12|0|salt"
    assert str(line.lasting) == "weigh|7|student-12|0|salt"


@given(numbers)
def test_a_student_is_found_by_the_key_of_their_row(pk):
    assert PersonKey.student(pk).student_pk == pk


@pytest.mark.parametrize(
    "key", [PersonKey.seat(3), PersonKey.demonstration(1), PersonKey.brought(Stage.MIXED)]
)
def test_nobody_but_a_student_has_a_row(key):
    with pytest.raises(ValueError, match="no student"):
        assert key.student_pk
