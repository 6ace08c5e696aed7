"""Bread that holds what its baker told they must not eat: shown until it is decided, and again."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from classes.core.diets.conflicts import Way
from classes.core.preparation import preparation
from classes.diets.services import ChangedMeanwhile, decide_diet
from classes.enrollment.models import BakedVariant, DietDecision
from classes.enrollment.services.chores import blank_words
from classes.enrollment.services.leaving import change_diet, erase_person
from classes.enrollment.services.personal import person_document
from classes.enrollment.services.seats import Diner
from classes.models import ClassSession, PrivateLook
from classes.selectors import class_plan
from recipes.models import Ingredient, Variant
from tests.classes.diets.deciding import conflict_of, conflicts_of, decide, said, sesame_told
from tests.classes.diets.sesame_class import again
from tests.conftest import signed_in
from tests.factories import IngredientFactory, planned_class
from tests.handouts.pdfs import plain
from tests.worlds import anew, made_once

HOLDS = "holds sesame: Sesame seeds (Seed topping, step 3)"
MAY_HOLD = "may hold sesame: Sunflower seeds, hulled (Seed topping, step 3"

sesame_told_once = made_once(sesame_told)


@pytest.fixture
def session(sesame_told_once, db):
    return anew(sesame_told_once)


@pytest.fixture
def teacher(session):
    return signed_in(session.instructor)


@pytest.fixture
def helper(session):
    return signed_in(session.assistants.get())


@pytest.fixture
def nia(session):
    return session.enrollments.get(name="Nia Farrow")


def key_of(session, person) -> str:
    """The line of the sesame seeds that somebody weighs."""
    plan = class_plan(again(session))
    keys = [str(task.key) for task in preparation(plan.amounts, plan.shopping).tasks()]
    (found,) = [key for key in keys if f"|student-{person.pk}|" in key and "|sesame-seeds|" in key]
    return found


def page(client, name, session) -> str:
    address = reverse(f"classes:{name}", args=[session.code])
    return plain(client.get(address).content.decode())


def home(client) -> str:
    return plain(client.get(reverse("home")).content.decode())


def variant(name="Oats alone") -> Variant:
    return Variant.objects.get(name=name)


def weighed_by(session, name) -> dict[str, list[str]]:
    """What somebody weighs, by the recipe's label."""
    recipes = class_plan(again(session)).amounts.recipes
    return {
        recipe.taught.label: [
            line.ingredient.key for part in one.sheet.components for line in part.lines
        ]
        for recipe in recipes
        for one in recipe.amounts.persons
        if one.baker.name == name
    }


@pytest.mark.parametrize("name", ["detail", "prepare", "diets", "door"])
def test_a_told_allergen_that_a_recipe_holds_shows_until_it_is_decided(
    teacher, helper, session, name
):
    for client in (teacher, helper):
        text = page(client, name, session)
        assert HOLDS in text or f"H{HOLDS[1:]}" in text
        assert MAY_HOLD in text or f"M{MAY_HOLD[1:]}" in text
    decide(teacher, session, "talked-over")
    assert HOLDS not in page(teacher, "detail", session)
    assert "not decided" not in page(teacher, name, session)
    assert "To decide" not in page(teacher, name, session)


def test_home_names_the_classes_in_which_something_is_to_be_decided(teacher, helper, session):
    for client in (teacher, helper):
        assert "Must not eat: not decided." in home(client)
        assert "1 to decide" in home(client)
    decide(teacher, session, "other-task")
    assert "not decided" not in home(teacher)


def test_hub_and_home_name_nobody(teacher, session):
    assert "For 1 person at Bench 3." in page(teacher, "detail", session)
    notice = page(teacher, "detail", session).partition('id="undecided"')[2].partition("</div>")[0]
    assert "Nia" not in notice
    assert "Nia" not in home(teacher)


def test_a_recipe_that_does_not_hold_it_is_no_conflict(session):
    assert [one.title for one in conflicts_of(session)] == ["Seeded ring"]


def test_the_lines_to_weigh_are_marked_on_the_list_and_the_look_is_noted(teacher, session, nia):
    text = page(teacher, "prepare", session)
    assert "✗ holds sesame: ask first" in text
    assert text.count("✗ holds sesame: ask first") == 1
    key = key_of(session, nia)
    row = text.partition(f'value="{key}"')[2].partition("</li>")[0]
    assert "✗ holds sesame: ask first" in row
    looks = PrivateLook.objects.filter(user=session.instructor).values_list("what", flat=True)
    assert "the preparation list, with what people must not eat" in looks


def test_a_ticked_line_keeps_its_mark_where_one_line_is_sent(teacher, session, nia):
    key = key_of(session, nia)
    address = reverse("classes:prepare", args=[session.code])
    answer = teacher.post(address, {"tick": key}, headers={"HX-Request": "true"})
    assert "✗ holds sesame: ask first" in plain(answer.content.decode())


class TestTheFourDecisions:
    def test_a_variant_is_baked_from_now_on(self, teacher, session, nia):
        answer = decide(teacher, session, "variant", variant=str(variant().pk))
        assert "Nia Farrow, Seeded ring: decided." in answer.content.decode()
        assert list(nia.variants.all()) == [variant()]
        conflict = conflict_of(session)
        assert not conflict.is_open
        assert conflict.label == "Seeded ring, revision 1, variant Oats alone"
        assert "The variant is baked: Seeded ring, revision 1, variant Oats alone" in page(
            teacher, "diets", session
        )
        (ring,) = [
            keys for label, keys in weighed_by(session, "Nia Farrow").items() if "ring" in label
        ]
        assert not {"sesame-seeds", "sunflower-seeds"} & set(ring)

    def test_a_variant_that_still_holds_some_of_it_stays_open(self, teacher, session):
        answer = decide(teacher, session, "variant", variant=str(variant("S1 with oats").pk))
        assert "saved, but still open. What they bake now is not clear of it either." in plain(
            answer.content.decode()
        )
        conflict = conflict_of(session)
        assert conflict.is_open
        assert [place.ingredient for place in conflict.places] == ["Sunflower seeds, hulled"]
        decide(teacher, session, "talked-over")
        assert not conflict_of(session).is_open

    def test_what_is_taken_out_on_top_is_no_longer_weighed(self, teacher, session):
        before = class_plan(again(session)).amounts
        decide(teacher, session, "taken-out", note="plain top")
        mine = weighed_by(session, "Nia Farrow")
        label = "Seeded ring, revision 1, Sesame seeds and Sunflower seeds taken out"
        assert {"Hearth loaf, revision 1", label} == set(mine)
        assert not {"sesame-seeds", "sunflower-seeds"} & set(mine[label])
        assert "bread-flour" in mine[label]
        after = class_plan(again(session)).amounts
        needs = [
            {one.ingredient.key: one.exact_g for one in each.needs} for each in (before, after)
        ]
        assert needs[0]["sesame-seeds"] - needs[1]["sesame-seeds"] == 18
        assert needs[0]["bread-flour"] == needs[1]["bread-flour"]

    def test_somebody_with_another_task_does_not_bake_it(self, teacher, session):
        decide(teacher, session, "other-task", note="shapes the loaves")
        assert list(weighed_by(session, "Nia Farrow")) == ["Hearth loaf, revision 1"]
        others = [one for one in weighed_by(session, "Ada Fennimore") if "ring" in one]
        assert others == ["Seeded ring, revision 1"]
        text = page(teacher, "diets", session)
        assert "Another task, this recipe is not baked" in text
        assert "shapes the loaves" in text

    def test_what_was_talked_over_changes_no_amounts(self, teacher, session):
        before = weighed_by(session, "Nia Farrow")
        decide(teacher, session, "talked-over", note="carries an injector")
        assert weighed_by(session, "Nia Farrow") == before
        assert "✗ holds sesame: talked over" in page(teacher, "prepare", session)

    def test_who_decided_and_when_is_kept_and_shown(self, helper, session):
        decide(helper, session, "talked-over")
        kept = DietDecision.objects.get()
        assert kept.decided_by == session.assistants.get()
        shown = session.kitchen.moment(kept.decided_at).noted
        assert f"{kept.decided_by.get_username()}, {shown}" in page(helper, "diets", session)

    def test_it_can_be_taken_back(self, teacher, session):
        decide(teacher, session, "taken-out")
        decide(teacher, session, "", take_back="1")
        assert conflict_of(session).is_open
        assert not DietDecision.objects.exists()


class TestItOpensAgain:
    def test_when_another_allergen_is_told(self, teacher, session, nia):
        decide(teacher, session, "talked-over")
        told = Diner("Nia Farrow", "told", ("sesame", "gluten-cereals"))
        change_diet(enrollment=nia, diner=told, at=timezone.now())
        assert {one.title: one.is_open for one in conflicts_of(session)} == {
            "Hearth loaf": True,
            "Seeded ring": True,
        }
        text = page(teacher, "diets", session)
        assert "What they told has changed since." in text
        assert "Was decided: talked over" in text
        assert "Must not eat: not decided." in page(teacher, "detail", session)

    def test_what_was_taken_out_is_weighed_again_then(self, teacher, session, nia):
        decide(teacher, session, "taken-out")
        told = Diner("Nia Farrow", "told", ("sesame", "milk"))
        change_diet(enrollment=nia, diner=told, at=timezone.now())
        assert "sesame-seeds" in weighed_by(session, "Nia Farrow")["Seeded ring, revision 1"]

    def test_when_the_variant_is_taken_from_them(self, teacher, session, nia):
        decide(teacher, session, "variant", variant=str(variant().pk))
        BakedVariant.objects.filter(enrollment=nia).delete()
        conflict = conflict_of(session)
        assert conflict.is_open
        assert conflict.lapse.value == "What they bake has changed since."

    def test_when_the_class_bakes_a_variant_now(self, teacher, session):
        decide(teacher, session, "talked-over")
        session.taught.filter(position=1).update(variant=variant("S1 with oats"))
        assert conflict_of(session).is_open

    def test_when_a_pack_is_read_that_holds_it_too(self, teacher, session):
        decide(teacher, session, "talked-over")
        Ingredient.objects.filter(key="olive-oil").update(allergens_eu=["sesame"])
        assert conflict_of(session).is_open

    def test_when_the_recipe_has_another_revision(self, teacher, session):
        decide(teacher, session, "talked-over")
        row = session.taught.get(position=1)
        later = row.revision
        later.pk, later.number = None, 2
        later.is_current = False
        later.save()
        for part in row.revision.__class__.objects.get(
            pk=session.taught.get(position=1).revision_id
        ).components.all():
            lines = list(part.lines.all())
            part.pk, part.revision = None, later
            part.save()
            for line in lines:
                line.pk, line.component = None, part
                line.save()
        session.taught.filter(position=1).update(revision=later)
        assert conflict_of(session).is_open

    def test_and_not_when_somebody_else_tells_something(self, teacher, session):
        decide(teacher, session, "talked-over")
        session.enrollments.filter(name="Ada Fennimore").update(allergens=["milk"], diet="told")
        assert not conflict_of(session).is_open


class TestCannotSay:
    def test_an_ingredient_nobody_has_looked_at(self, teacher, session):
        Ingredient.objects.filter(key="olive-oil").update(allergens_read=False)
        text = page(teacher, "detail", session)
        assert "cannot say: nothing is entered for Olive oil (Dough, step 1)" in text

    def test_it_alone_is_a_conflict(self, session):
        session.enrollments.filter(name="Ada Fennimore").update(allergens=["milk"], diet="told")
        Ingredient.objects.filter(key="olive-oil").update(allergens_read=False)
        conflict = conflict_of(session, name="Ada Fennimore")
        assert (conflict.is_open, conflict.state.value) == (True, "cannot say")

    def test_it_is_settled_once_the_pack_was_read(self, session):
        session.enrollments.filter(name="Ada Fennimore").update(allergens=["milk"], diet="told")
        assert [one.eater.name for one in conflicts_of(session)] == ["Nia Farrow"]

    @pytest.mark.parametrize(
        ("fields", "words"),
        [
            ({"must_not_eat": "histamine", "diet": "told"}, "cannot be looked up in it"),
            ({"diet": "private"}, "cannot say: it is to be told in private"),
        ],
    )
    def test_what_cannot_be_looked_up_is_to_be_talked_over(self, teacher, session, fields, words):
        session.enrollments.filter(name="Ada Fennimore").update(**fields)
        assert conflict_of(session, "Hearth loaf", "Ada Fennimore").is_open
        text = page(teacher, "detail", session)
        assert words in text
        assert "histamine" not in text.partition('id="undecided"')[2].partition("</div>")[0]
        decide(teacher, session, "talked-over", conflict_of(session, name="Ada Fennimore"))
        assert not conflict_of(session, name="Ada Fennimore").is_open


def test_nothing_says_that_anything_suits_anybody(teacher, session):
    for way in ("talked-over", "other-task", "taken-out", "variant"):
        decide(teacher, session, way, variant=str(variant().pk))
        for name in ("detail", "prepare", "diets", "door"):
            text = page(teacher, name, session).lower()
            assert not any(word in text for word in ("safe for", "free from", "sesame-free"))


class TestTheForm:
    def test_it_offers_the_variants_by_name_and_what_is_found_in_them(self, teacher, session):
        text = page(teacher, "diets", session)
        assert (
            "Oats alone (Rolled oats for Sesame seeds; Rolled oats for Sunflower seeds, hulled): "
            "nothing they told is entered in it" in text
        )
        assert "S1 with oats" in text
        assert "Make another variant" in text

    def test_it_leads_to_making_one_where_there_is_none(self, teacher, session):
        Variant.objects.all().delete()
        text = page(teacher, "diets", session)
        assert "This recipe has no variant yet." in text
        assert "/recipes/seeded-ring/variants/" in text

    @pytest.mark.parametrize(
        ("fields", "message"),
        [
            ({"way": ""}, "This field is required."),
            ({"way": "pray"}, "Select a valid choice."),
            ({"way": "variant"}, "Choose which variant they bake."),
            ({"way": "variant", "variant": "0"}, "Select a valid choice."),
            ({"note": "x" * 201}, "at most 200 characters"),
            ({"note": "two\nlines"}, "Enter it on one line."),
        ],
    )
    def test_a_bad_answer_is_named_and_nothing_is_decided(self, teacher, session, fields, message):
        fields = said(conflict_of(session), "talked-over") | fields
        address = reverse("classes:diet_decide", args=[session.code])
        assert message in teacher.post(address, fields).content.decode()
        assert not DietDecision.objects.exists()

    def test_a_variant_of_another_recipe_is_refused(self, teacher, session):
        loaf = session.taught.get(position=0).revision
        other = Variant.objects.create(revision=loaf, name="Other")
        decide(teacher, session, "variant", variant=str(other.pk))
        assert not DietDecision.objects.exists()

    def test_what_was_told_meanwhile_is_not_decided_unseen(self, teacher, session, nia):
        seen = conflict_of(session)
        told = Diner("Nia Farrow", "told", ("sesame", "milk"))
        change_diet(enrollment=nia, diner=told, at=timezone.now())
        answer = decide(teacher, session, "talked-over", seen)
        assert "Not decided: what they told" in answer.content.decode()
        assert not DietDecision.objects.exists()

    def test_another_ones_decision_is_not_overwritten_unseen(self, teacher, helper, session):
        seen = conflict_of(session)
        decide(helper, session, "other-task")
        decide(teacher, session, "talked-over", seen)
        assert DietDecision.objects.get().way == "other-task"

    def test_what_changed_after_the_page_was_read_is_not_decided_either(self, session, helper):
        """Both read the page, and the other has decided by the time of ours."""
        seen = conflict_of(session)
        decide(helper, session, "other-task")
        said_now = {"way": Way.TALKED_OVER, "variant": None, "note": "", "at": timezone.now()}
        with pytest.raises(ChangedMeanwhile):
            decide_diet(session=session, conflict=seen, user=session.instructor, **said_now)
        assert DietDecision.objects.get().way == "other-task"

    def test_nobody_elses_class_is_decided(self, other_client, session):
        assert decide(other_client, session, "talked-over").status_code == 404
        assert not DietDecision.objects.exists()

    @pytest.mark.parametrize("fields", [{"person": "0"}, {"revision": "0"}, {"person": "x"}])
    def test_what_is_no_conflict_is_not_found(self, teacher, session, fields):
        said_now = said(conflict_of(session)) | fields
        address = reverse("classes:diet_decide", args=[session.code])
        assert teacher.post(address, said_now).status_code == 404


class TestAtTheDoor:
    @pytest.fixture
    def walked_in(self, helper, session):
        fields = {
            "walk_in": "1",
            "form_key": "walk-in-key-000000000001",
            "diet": "told",
            "allergens": ["sesame"],
            "name": "Zoe Walker",
        }
        ClassSession.objects.filter(pk=session.pk).update(seats=16)
        return helper.post(reverse("classes:door", args=[session.code]), fields)

    def test_the_ways_out_come_right_after_the_question(self, helper, session, walked_in):
        assert walked_in.headers["Location"].endswith("/door/#decide")
        text = page(helper, "door", session)
        assert "To decide: Seeded ring, revision 1, for <bdi>Zoe Walker</bdi>" in text
        assert "Oats alone" in text

    def test_a_decision_there_leads_back_there(self, helper, session, walked_in):
        conflict = conflict_of(session, name="Zoe Walker")
        answer = decide(helper, session, "other-task", conflict, back="door")
        assert answer.redirect_chain[-1][0].endswith("/door/")
        assert list(weighed_by(session, "Zoe Walker")) == ["Hearth loaf, revision 1"]


class TestItIsForgotten:
    def test_with_the_words_some_days_after_the_class(self, teacher, session):
        decide(teacher, session, "talked-over", note="canary")
        blank_words(at=session.ends_at + timedelta(days=400))
        assert not DietDecision.objects.exists()

    @pytest.mark.parametrize("after", [False, True], ids=["before the class", "after it"])
    def test_with_the_person(self, teacher, session, nia, after):
        decide(teacher, session, "talked-over", note="canary")
        at = session.ends_at if after else session.starts_at - timedelta(days=1)
        erase_person(enrollment=nia, at=at + timedelta(hours=1))
        assert not DietDecision.objects.exists()

    def test_and_it_is_among_what_is_held_until_then(self, teacher, session, nia):
        decide(teacher, session, "talked-over", note="canary")
        (held,) = person_document(nia)["person"]["must_not_eat"]["decisions"]
        assert (held["recipe"], held["decided"], held["note"]) == (
            "Seeded ring, revision 1",
            "Talked over with them",
            "canary",
        )


def test_the_hub_takes_the_same_queries_for_one_and_for_many(
    teacher, session, django_assert_num_queries
):
    address = reverse("classes:detail", args=[session.code])
    decide(teacher, session, "talked-over")
    with django_assert_num_queries(23):
        teacher.get(address)
    session.enrollments.update(allergens=["sesame"], diet="told")
    for name in ("Ada Fennimore", "Bram Okell", "Cass Thornby"):
        decide(teacher, session, "talked-over", conflict_of(session, name=name))
    with django_assert_num_queries(23):
        text = teacher.get(address).content.decode()
    assert "For 4 people at Bench 2." in text


def test_home_takes_the_same_queries_for_one_class_and_for_several(
    teacher, session, django_assert_num_queries
):
    def another():
        other = planned_class(instructor=session.instructor, students=2, kitchen__stations=2)
        other.enrollments.update(allergens=["gluten-cereals"], diet="told")

    another()
    with django_assert_num_queries(28):
        home(teacher)
    another()
    another()
    with django_assert_num_queries(28):
        text = home(teacher)
    assert text.count("2 to decide") == 3


def test_an_unlooked_at_ingredient_of_ones_own_is_no_matter_to_those_who_told_nothing(session):
    IngredientFactory(name="Dust")
    session.enrollments.update(allergens=[], must_not_eat="", diet="nothing")
    assert conflicts_of(session) == []
