"""Every gram on every paper, read back from the PDFs by their tags, against the class's export."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from decimal import ROUND_HALF_UP, Decimal

import pytest

from handouts.press.render import to_html
from tests.handouts.agreement.read_back import (
    CLASSES,
    FIGURE,
    IN_GRAMS,
    OF_SCALES,
    SILENT,
    assert_lines,
    at_home,
    at_the_bench,
    columns_of,
    entries,
    exact_sum,
    make_classes,
    of_component,
    rounds_to,
    table_under,
    tables_of,
    whole,
)
from tests.handouts.pdfs import page_texts
from tests.handouts.tags import Tag, rows_of
from tests.worlds import made_once

world = made_once(make_classes)


@pytest.fixture(params=CLASSES)
def papers(db, world, request):
    return world[request.param]


# What holds of all papers


def test_every_kind_of_paper_is_read_back(world, db):
    assert world["demo"].missing == world["brought"].missing == set()
    assert world["two-day"].missing == {"station-notices"}  # Nobody there avoids anything.


def test_the_tags_hold_every_figure_of_the_pages_but_for_head_and_foot(papers):
    title = f"{papers.export['class']['title']} ({papers.export['class']['code']})"
    revisions = " · ".join(papers.export["recipes"])
    printed = "Printed 11 April 2030, 09:30, Europe/Dublin"
    for (kind, label), tag in papers.tags.items():
        if kind == "hours-drawing":
            continue  # The clock over the drawing of the hours is read there as one word.
        pages, tags = page_texts(papers.pdfs[kind, label]), tag.text
        counts = [re.search(r"page \d+ of \d+", page)[0] for page in pages]
        running = " ".join(f"{title} {revisions} {printed} {count}" for count in counts)
        read = Counter(FIGURE.findall(" ".join(pages)))
        assert read == Counter(FIGURE.findall(tags + " " + running)), (kind, label)


def test_a_paper_that_weighs_nothing_names_no_grams(papers):
    for (kind, _), pdf in papers.pdfs.items():
        if kind in SILENT:
            assert IN_GRAMS.findall(" ".join(page_texts(pdf))) == [], kind


# For each student


def student_entries(papers, name):
    return list(entries(papers, "students", name=name))


def assert_named(papers, kind, tag, entries_of, more=()):
    """Every mass in running text is one of the person's: a piece, flour for dusting, a tub."""
    allowed = [*OF_SCALES.get(kind, ()), *more]
    for recipe, entry in entries_of:
        allowed += [entry["dusting_g"]]
        allowed += [str(Decimal(entry["piece_g"])), str(Decimal(entry["piece_g"]) + 1)]
        for component, tub in papers.bulk(recipe).items():
            own_g = exact_sum(of_component(entry, component))
            allowed += [own_g, own_g * Decimal(tub["cooked_g"]) / Decimal(tub["exact_g"])]
    for printed in IN_GRAMS.findall(tag.text):
        assert any(rounds_to(mass, printed) for mass in allowed), (kind, printed)


def test_students_who_weigh_the_same_have_the_same_papers_but_for_name_and_station(papers):
    """So what is read back of the first holds for all."""
    for kind, by_name in papers.alike.items():
        assert set(by_name) == {entry["name"] for entry in papers.export["students"]}
        for name, paper in by_name.items():
            first = papers.firsts[papers.lines_of(name)]
            like = to_html(by_name[first]).replace(first, name)
            like = like.replace(papers.stations[first], papers.stations[name])
            if kind == "handouts":
                like = like.replace(by_name[first].home_square, paper.home_square)
            assert to_html(paper) == like, (kind, name)


@pytest.mark.parametrize("kind", ["handouts", "at-home"])
def test_a_student_reads_their_own_lines_in_class_and_at_home(papers, kind):
    found = papers.of(kind)
    assert set(found) == set(papers.firsts.values())
    for name, tag in found.items():
        wanted = student_entries(papers, name)
        assert {recipe for _, recipe, _ in tables_of(tag)} == {recipe for recipe, _ in wanted}
        for recipe, entry in wanted:
            rows = columns_of(table_under(tag, recipe))["Weigh, g"]
            assert_lines(rows, (whole if kind == "handouts" else at_home)(entry), entry)


def test_a_part_from_a_tub_is_one_line_and_its_own_grams_are_nowhere(papers):
    for name, tag in papers.of("handouts").items():
        for recipe, entry in student_entries(papers, name):
            rows = [row for row, *_ in columns_of(table_under(tag, recipe))["Weigh, g"]]
            assert len([row for row in rows if "from the tub" in row]) == len(papers.bulk(recipe))
            for line in entry["in_tubs"]:
                exact = str(Decimal(line["exact_g"]).quantize(Decimal("0.01"), ROUND_HALF_UP))
                assert not re.search(rf"(?<![\d.]){re.escape(exact)}(?![\d.])", tag.text)


def test_the_pieces_of_a_handout_add_up_to_its_dough(papers):
    for name, tag in papers.of("handouts").items():
        facts = re.findall(r"(\d+) × (\d+) g", tag.text)
        all_g = sum(Decimal(e["dough_exact_g"]) for _, e in student_entries(papers, name))
        assert sum(int(count) * Decimal(mass) for count, mass in facts) == all_g


GOES_IN = re.compile(r"([\d.]+) g ([a-z][^,]*)")


def test_a_handout_names_no_other_grams(papers):
    """Those in its steps are of its lines, each under the name of its line."""
    for name, tag in papers.of("handouts").items():
        wanted = student_entries(papers, name)
        lines = [line for _, entry in wanted for line in whole(entry)]
        weighed = {
            (line["weighed_g"], line["ingredient"].removesuffix(", from the tub").lower())
            for line in lines
        }
        said = [GOES_IN.findall(said.text) for said in tag.all("P") if GOES_IN.match(said.text)]
        assert said or "Hearth loaf, revision 1" not in papers.export["recipes"]
        assert {pair for step in said for pair in step} <= weighed
        assert_named(papers, "handouts", tag, wanted, [mass_g for mass_g, _ in weighed])


HELD = re.compile(r"Pour in ([\d.]+) g of the ([\w ]+); hold back ([\d.]+) g")


def test_at_home_what_is_poured_in_and_held_back_is_the_line_of_the_export(papers):
    for name, tag in papers.of("at-home").items():
        held = HELD.findall(tag.text)
        assert held
        liquids = {
            (line["ingredient"].lower(), line["weighed_g"])
            for _, entry in student_entries(papers, name)
            for line in at_home(entry)
        }
        liquids = {(name, str(mass)) for name, mass in liquids}
        for first, liquid, back in held:
            assert (liquid, str(Decimal(first) + Decimal(back))) in liquids
        more = [mass for first, _, back in held for mass in (first, back)]
        assert_named(papers, "at-home", tag, student_entries(papers, name), more)


def test_before_the_day_each_ingredient_is_the_sum_of_its_lines_and_the_dusting(papers):
    for name, tag in papers.of("before-the-day").items():
        tables = [table for _, _, table in tables_of(tag)]
        wanted = student_entries(papers, name)
        for table, (_, entry) in zip(tables, wanted, strict=True):
            sums = defaultdict(Decimal)
            for line in at_home(entry):
                sums[line["ingredient"]] += Decimal(line["exact_g"])
            sums[entry["dusting_flour"]] += Decimal(entry["dusting_g"])
            rows = dict(rows_of(table)[1:])
            assert set(rows) == set(sums)
            assert [key for key in rows if not rounds_to(sums[key], rows[key])] == []
        assert_named(papers, "before-the-day", tag, wanted)


# Before the day


def preparation(papers):
    (tag,) = papers.of("preparation").values()
    return tag


LIST = "Shopping, and what is weighed"
NO_LINES = ("From the tubs", "Doughs")


def listed(papers):
    """The rows of the list by what they stand in: the name of the group and of the ingredient."""
    group = item = ""
    for row in table_under(preparation(papers), LIST)[1:]:
        if len(row) == 1:
            group = row[0]
        elif len(row) > 3:
            item = row[0] if len(row) != 4 or group in NO_LINES else item
            yield group, item, row


def test_the_shopping_is_that_of_the_export(papers):
    left = {line["ingredient"]: line for line in papers.export["shopping"]}
    for _, _, row in listed(papers):
        if len(row) == 4:
            continue
        ingredient = max((one for one in left if row[0].startswith(one)), key=len)
        line, cells = left.pop(ingredient), row[3:]
        assert rounds_to(line["exact_g"], cells[0])
        if line["from_tap"]:
            assert cells[1:] == [""]
            continue
        stock, buy, over = cells[1:4]
        assert rounds_to(line["in_stock_g"], stock)
        assert rounds_to(line["left_g"], over)
        if line["packs"]:
            packs, pack_g = re.fullmatch(r"(\d+) × ([\d.]+) g", buy).groups()
            assert int(packs) == line["packs"]
            assert rounds_to(line["pack_g"], pack_g)
        elif Decimal(line["short_g"]):
            assert rounds_to(line["short_g"], buy.removesuffix(" g"))
        else:
            assert buy == ("as egg, whole" if ingredient == "Egg yolk" else "–")
    assert left == {}


def use_of(papers, recipe, line):
    """How the list names a part of a recipe: not at all if it is the one dough of the class."""
    title = recipe.rpartition(", ")[0] if len(papers.export["recipes"]) > 1 else ""
    is_dough = line["in_dough"] and line["component"] not in papers.bulk(recipe)
    return ": ".join(filter(None, (title, "" if is_dough else line["component"])))


def test_the_pooled_lines_are_those_of_the_export(papers):
    rows = [(item, row) for group, item, row in listed(papers) if group not in NO_LINES and row[1]]
    for recipe, entry in entries(papers, "pooled"):
        for line in whole(entry):
            use = use_of(papers, recipe, line)
            (found,) = (
                (item, row)
                for item, row in rows
                if item.startswith(line["ingredient"])
                and (row[0] == use if len(row) == 4 else row[0].endswith(use))
            )
            rows.remove(found)
            assert Decimal(found[1][1].removeprefix("◆ ")) == Decimal(line["weighed_g"])
            assert rounds_to(line["exact_g"], found[1][2])
    assert rows == []


def test_the_sum_of_every_dough_is_that_of_its_pooled_lines(papers):
    doughs = [row for group, _, row in listed(papers) if group == "Doughs"]
    wanted = list(entries(papers, "pooled"))
    assert len(doughs) == len(wanted)
    for row, (recipe, entry) in zip(doughs, wanted, strict=True):
        assert row[0].startswith(recipe)
        lines = sum(Decimal(one["weighed_g"]) for one in whole(entry) if one["in_dough"])
        assert Decimal(row[1]) == lines
        assert rounds_to(entry["dough_exact_g"], row[2])


def test_a_tub_is_divided_as_in_the_export(papers):
    text = preparation(papers).text
    assert text.count("made in one tub: ") == len(papers.export["divided"])
    for tub in papers.export["divided"]:
        named = re.escape(f"{tub['component']}, {tub['recipe']}")
        made, exact, taken = re.search(
            rf"{named} ?, made in one tub: ([\d.]+) g \(([\d.]+) g exact\).*?Take, in grams: (.*)",
            text,
        ).groups()
        assert Decimal(made) == Decimal(tub["weighed_g"])
        assert rounds_to(tub["exact_g"], exact)
        shares = [f"{one['name']} {Decimal(one['weighed_g'])}" for one in tub["shares"]]
        if Decimal(tub["kept_back_g"]):
            shares.append(f"kept back, for handling loss, {tub['kept_back_g']}")
        assert taken.startswith(" ".join(shares))


# At the bench


def benches(papers, tags, top):
    """The columns of the tables of stations, over all tables of a station and recipe."""
    found = defaultdict(lambda: defaultdict(list))
    for tag in tags:
        for h1, h2, table in tables_of(tag):
            recipe = h2.removeprefix(f"{h1}: ")
            if recipe in papers.export["recipes"] and rows_of(table)[0][0] == top:
                for column, rows in columns_of(rows_of(table)).items():
                    found[h1, recipe][column] += rows
    return found


def own_column(columns, name):
    """The column of a person: their own, that of several, or that of each."""
    found = [one for one in columns if one == "Each" or name in one.split(", ")]
    (column,) = found
    return columns[column]


NAMED = re.compile(r"(.*?)(?: each ([\d.]+))?(?: ·)?(?: all ([\d.]+))?")


def at_places(papers):
    """What the assistant's tables say, as columns of each place: together, and each."""
    found = defaultdict(lambda: defaultdict(list))
    for _, recipe, table in tables_of(preparation(papers)):
        head, *rows = rows_of(table)
        if head[0] != "Grams, and exactly":
            continue
        many = {one["station"] for _, one in entries(papers, "stations") if len(one["people"]) > 1}
        for row in (row for row in rows if len(row) == len(head)):
            name, each, whole = NAMED.fullmatch(row[0]).groups()
            name = name.replace("Dough, lines added", "Lines added")
            for place, cell in zip(head[1:], row[1:], strict=True):
                figures, columns = FIGURE.findall(cell), found[place, recipe]
                if place in many:
                    weighed, exact = figures.pop(0), whole or figures.pop(0)
                    columns["Together"].append((name, weighed, exact))
                weighed, exact = figures.pop(0), each or figures.pop(0)
                columns["Each"].append((name, weighed, exact))
                assert figures == []
    return found


@pytest.mark.parametrize("kind", ["preparation", "station-cards"])
def test_stations_and_their_people_weigh_the_lines_of_the_export(papers, kind):
    is_list = kind == "preparation"
    found = at_places(papers) if is_list else benches(papers, papers.of(kind).values(), "Grams")
    for recipe, entry in entries(papers, "stations"):
        station = entry["station"]
        columns = found.pop((station, recipe))
        people = list(entries(papers, "students", station=station))
        people = [(name, one) for name, one in people if name == recipe]
        assert len(people) == len(entry["people"])
        for _, person in people:
            lines = at_the_bench(papers, person, recipe, None)
            assert_lines(own_column(columns, person["name"]), lines, person, exactly=is_list)
        assert ("Together" in columns) == (len(people) > 1)
        if len(people) > 1:
            lines = at_the_bench(papers, entry, recipe, station)
            assert_lines(columns["Together"], lines, entry, exactly=is_list)
    instructors = len(papers.export["brought"]) + len(
        {one["lines"][0]["recipe"] for one in papers.export["demonstrations"]}
    )
    assert len(found) == (instructors if is_list else 0)


def test_what_is_shown_and_brought_is_weighed_as_in_the_export(papers):
    found = at_places(papers)
    for recipe, entry in entries(papers, "demonstrations"):
        rows = found["Demonstration", recipe]["Each"]
        assert_lines(rows, at_the_bench(papers, entry, recipe, entry["name"]), entry)
    for recipe, entry in entries(papers, "brought"):
        (rows,) = (
            columns["Each"]
            for (place, of), columns in found.items()
            if of == recipe and place.endswith(f"brought {entry['stage']}")
        )
        assert_lines(rows, at_the_bench(papers, entry, recipe, entry["name"]), entry)


# Labels


RUN_IN = re.compile(r", (?=[\d.]+ g )")


def label_faces(paper):
    """Of each label its title, the masses and what they are of, and the sums that it names."""
    for box in paper.all("Div"):
        blocks = [one for one in box.order if isinstance(one, Tag)]
        if blocks and blocks[0].kind == "H3":
            words = [one.text for one in box.all("P")]
            lines = [
                re.fullmatch(r"([\d.]+) g (.+)", one)
                for line in words
                for one in RUN_IN.split(line)
            ]
            held = [(one[2], Decimal(one[1])) for one in lines if one]
            sums = re.findall(r"\+ (?:contents )?([\d.]+) g =", " ".join(words))
            yield blocks[0].text, held, sums


def tub_holders(papers):
    """What is weighed into tubs, by whom they are for."""
    wanted = defaultdict(Counter)
    for tub in papers.export["divided"]:
        (pooled,) = (one for recipe, one in entries(papers, "pooled") if recipe == tub["recipe"])
        for line in of_component(pooled, tub["component"]):
            wanted["For everybody"][line["ingredient"], Decimal(line["weighed_g"])] += 1
        for share in tub["shares"]:
            key = tub["component"], Decimal(share["weighed_g"])
            wanted[share["name"]][key] += 1
    for name in ("stations", "demonstrations", "brought"):
        for recipe, entry in entries(papers, name):
            holder = entry["station"] if name == "stations" else entry["name"]
            for line in entry["lines"]:
                if line["component"] not in papers.bulk(recipe):
                    wanted[holder][line["ingredient"], Decimal(line["weighed_g"])] += 1
    return wanted


def holder_of(title, holders):
    """`Bench 1 · Dry` is for Bench 1, `6 rolls brought risen · Dry` for `Brought, risen`."""
    for holder in holders:
        words = holder.replace("Brought, ", "brought ")
        if re.match(rf"(?:.* )?{re.escape(words)} ", title):
            return holder
    raise AssertionError(title)


def test_tub_labels_hold_the_lines_of_the_export_and_their_sums(papers):
    (tag,) = papers.of("tub-labels").values()
    wanted = tub_holders(papers)
    found = defaultdict(Counter)
    masses, named = defaultdict(Decimal), {}
    for number, (title, held, told) in enumerate(label_faces(tag)):
        found[holder_of(title, wanted)].update(held)
        key = number if told and held else title
        masses[key] += sum(mass for _, mass in held)
        for one in told:
            named[key] = one
    assert found == wanted
    for key, mass in masses.items():
        assert Decimal(named[key]) == mass


COOKED = re.compile(r"Cooked about ([\d.]+) g; top up with water to ([\d.]+) g")


def test_tub_labels_name_no_other_grams_but_those_of_cooking(papers):
    (tag,) = papers.of("tub-labels").values()
    masses = [mass for _, held, _ in label_faces(tag) for _, mass in held]
    sums = [one for _, _, told in label_faces(tag) for one in told]
    cooked = [
        (tub["cooked_g"], tub["exact_g"])
        for tub in papers.export["divided"]
        if tub["cooked_g"] != tub["exact_g"]
    ]
    told = COOKED.findall(tag.text)
    assert len(told) == len(cooked)
    for printed, made in zip(told, cooked, strict=True):
        assert all(rounds_to(mass, text) for mass, text in zip(made, printed, strict=True))
    named = len(IN_GRAMS.findall(tag.text))
    assert named == len(masses) + len(sums) + 2 * len(told)


def test_the_refrigerator_holds_shopping_tubs_and_brought_doughs_of_the_export(papers):
    (tag,) = papers.of("refrigerator-labels").values()
    bought = {line["ingredient"]: line["weighed_g"] for line in papers.export["shopping"]}
    tubs = {tub["component"]: tub["weighed_g"] for tub in papers.export["divided"]}
    brought = [entry["dough_exact_g"] for entry in papers.export["brought"]]
    doughs = []
    for _, held, _ in label_faces(tag):
        for name, mass in held:
            if name == "Dough":
                doughs.append(mass)
            else:
                assert Decimal((bought | tubs)[name]) == mass
    assert sorted(doughs) == sorted(map(Decimal, brought))
    named = {name for _, held, _ in label_faces(tag) for name, _ in held}
    assert set(tubs) <= named


def test_the_run_sheets_name_only_doughs_of_the_export(papers):
    doughs = {
        Decimal(entry["dough_exact_g"])
        for name in ("demonstrations", "brought", "stations", "pooled")
        for entry in papers.export[name]
    }
    for kind in ("run-sheet-instructor", "run-sheet-assistant"):
        (tag,) = papers.of(kind).values()
        for printed in IN_GRAMS.findall(tag.text):
            assert any(rounds_to(mass, printed) for mass in doughs), printed
