"""Rows that two people change, add and remove at once, and recipes, which are a whole."""

from __future__ import annotations

import pytest

from classes.enrollment.models import Enrollment
from recipes.models import Revision
from recipes.services import keep_revisions
from tests.site import Site
from tests.trust.forms_on import forms_on
from tests.trust.test_stale_forms import changed, furnished_site, opened
from tests.worlds import anew, made_once

site_made_once = made_once(furnished_site)


@pytest.fixture
def site(site_made_once, db, settings):
    settings.PUBLIC_POSTS_A_MINUTE = 10**9
    return anew(site_made_once)


def asked(answer, address):
    """The fields of the page that asks, and the names of its choices."""
    assert answer.status_code == 409
    (form,) = [one for one in forms_on(answer.content.decode(), address) if "seen" in one.fields]
    return form.fields, [name for name in form.fields if name.startswith("choose-")]


class TestRoster:
    @pytest.fixture
    def client(self, site):
        return site.clients["instructor"]

    @pytest.fixture
    def address(self, site):
        return site.address("classes:roster")

    @pytest.fixture
    def last(self, site):
        return site.session.enrollments.last()

    def tell(self, site: Site, words: str, **fields: object) -> None:
        """The first student tells by their own link what they must not eat."""
        page = site.address("classes:place_change")
        said = opened(site.clients["nobody"], page) | {"diet": ["told"], "must_not_eat": [words]}
        answer = site.clients["nobody"].post(page, said | fields)
        assert answer.status_code == 302

    def test_an_allergy_told_meanwhile_stays_when_another_row_is_saved(self, site, client, address):
        fields = opened(client, address)
        self.tell(site, "sesame, severe", allergens=["sesame"])
        page = client.post(address, changed(fields, ("people-1-name", "Bea Holm")), follow=True)
        student = site.session.enrollments.first()
        assert (student.must_not_eat, student.allergens) == ("sesame, severe", ["sesame"])
        assert site.session.enrollments.last().name == "Bea Holm"
        assert "Changed in another window in the meantime, and kept:" in page.content.decode()

    def test_words_written_by_both_can_be_kept_of_both(self, site, client, address):
        fields = opened(client, address)
        self.tell(site, "sesame")
        answer = client.post(address, changed(fields, ("people-0-must_not_eat", "poppy, nuts")))
        page, (choice,) = asked(answer, address)
        key = choice.removeprefix("choose-")
        assert page[f"write-{key}"] == ["sesame; poppy, nuts"]
        assert site.session.enrollments.first().must_not_eat == "sesame"
        assert client.post(address, page | {choice: ["write"]}).status_code == 302
        assert site.session.enrollments.first().must_not_eat == "sesame; poppy, nuts"

    def test_what_changes_once_more_is_asked_about_once_more(self, site, client, address):
        fields = opened(client, address)
        self.tell(site, "sesame")
        answer = client.post(address, changed(fields, ("people-0-must_not_eat", "poppy, nuts")))
        page, (choice,) = asked(answer, address)
        self.tell(site, "sesame and lupin")
        again = client.post(address, page | {choice: ["mine"]})
        assert "sesame and lupin" in again.content.decode()
        asked(again, address)
        assert site.session.enrollments.first().must_not_eat == "sesame and lupin"

    def test_a_form_that_says_nothing_of_what_it_showed_shortens_nothing(
        self, site, client, address
    ):
        fields = opened(client, address)
        del fields["seen"], fields["form_key"]
        emptied = changed(fields, ("people-0-must_not_eat", ""), ("people-1-name", "Bea Holm"))
        assert client.post(address, emptied).status_code == 302
        assert site.session.enrollments.first().must_not_eat == "poppy"
        other = changed(fields, ("people-0-must_not_eat", "nuts"))
        assert client.post(address, other).status_code == 409

    def test_somebody_added_meanwhile_stays(self, site, client, address):
        fields = opened(client, address)
        Enrollment.objects.create(session=site.session, name="Walt In", must_not_eat="rye")
        page = client.post(address, changed(fields, ("people-0-name", "Ada Lomax")), follow=True)
        told = {one.name: one.must_not_eat for one in site.session.enrollments.all()}
        assert (told["Walt In"], told["Ada Lomax"]) == ("rye", "poppy")
        assert "Walt In (added)" in page.content.decode()

    def test_somebody_removed_meanwhile_is_left_out_and_that_is_said(
        self, site, client, address, last
    ):
        fields = opened(client, address)
        last.delete()
        page = client.post(address, changed(fields, ("people-0-name", "Ada Lomax")), follow=True)
        assert [one.name for one in site.session.enrollments.all()] == ["Ada Lomax"]
        assert "(removed)" in page.content.decode()

    @pytest.mark.parametrize(("choice", "names"), [("theirs", ["Ada"]), ("mine", ["Ada", "Bea"])])
    def test_somebody_removed_whose_row_was_changed_is_asked_about(
        self, site, client, address, last, choice, names
    ):
        fields = opened(client, address)
        last.delete()
        written = changed(fields, ("people-0-name", "Ada"), ("people-1-name", "Bea"))
        page, (name,) = asked(client.post(address, written), address)
        assert client.post(address, page | {name: [choice]}).status_code == 302
        assert [one.name for one in site.session.enrollments.all()] == names

    @pytest.mark.parametrize(("choice", "count"), [("theirs", 2), ("mine", 1)])
    def test_somebody_who_tells_an_allergy_is_not_removed_unseen(
        self, site, client, address, last, choice, count
    ):
        fields = opened(client, address) | {"people-1-DELETE": ["on"]}
        Enrollment.objects.filter(pk=last.pk).update(must_not_eat="walnut")
        answer = client.post(address, fields)
        assert "walnut" in answer.content.decode()
        page, (name,) = asked(answer, address)
        assert site.session.enrollments.count() == 2
        assert client.post(address, page | {name: [choice]}).status_code == 302
        assert site.session.enrollments.count() == count

    def test_both_remove_the_same(self, site, client, address, last):
        fields = opened(client, address) | {"people-1-DELETE": ["on"]}
        last.delete()
        assert client.post(address, fields).status_code == 302
        assert site.session.enrollments.count() == 1

    def test_what_is_wrong_after_both_are_brought_together_is_said(self, site, client, address):
        """Each roster fits the class alone; the two together are more than its seats."""
        fields = opened(client, address)
        for n in range(4):
            Enrollment.objects.create(session=site.session, name=f"Guest {n}")
        answer = client.post(address, changed(fields, ("people-0-name", "Ada Lomax")))
        assert answer.status_code == 200
        assert "but the class has 4 seats" in answer.content.decode()
        assert 'value="Ada Lomax"' in answer.content.decode()


class TestRecipe:
    """A recipe is a whole: its revisions do not change, so the two are shown beside each other."""

    @pytest.fixture
    def client(self, site):
        return site.clients["instructor"]

    @pytest.fixture
    def address(self, site):
        return site.address("recipes:edit")

    @pytest.fixture(params=[False, True])
    def used(self, request, site):
        """Whether a class uses the recipe, so that a save makes the next revision."""
        revision = site.session.taught.get().revision
        Revision.objects.filter(pk=revision.pk).update(in_use=False)
        if request.param:
            keep_revisions(revisions=[revision])
        return request.param

    def both(self, client, address):
        """Two people change the title and the summary; the answer to the second."""
        mine, theirs = opened(client, address), opened(client, address)
        saved = client.post(address, changed(theirs, ("title", "Their loaf")))
        assert saved.status_code == 302
        return client.post(address, changed(mine, ("summary", "My summary")))

    def current(self, site):
        recipe = site.session.taught.get().revision.recipe
        return recipe.revisions.get(is_current=True)

    def test_both_are_shown_and_nothing_is_saved(self, site, client, address, used):
        answer = self.both(client, address)
        assert answer.status_code == 409
        text = answer.content.decode()
        assert "Their loaf" in text
        assert "My summary" in text
        assert (self.current(site).title, self.current(site).summary) == ("Their loaf", "")

    def test_going_on_shows_mine_with_all_that_was_typed(self, site, client, address, used):
        page, _ = asked(self.both(client, address), address)
        form = client.post(address, page | {"back": ["1"]}).content.decode()
        (shown,) = [one for one in forms_on(form, address) if "seen" in one.fields]
        assert shown.fields["summary"] == ["My summary"]
        together = changed(shown.fields, ("title", "Their loaf"))
        assert client.post(address, together).status_code == 302
        now = self.current(site)
        assert (now.title, now.summary) == ("Their loaf", "My summary")

    def test_mine_is_saved_only_over_what_was_seen(self, site, client, address, used):
        page, _ = asked(self.both(client, address), address)
        client.post(address, changed(opened(client, address), ("title", "A third loaf")))
        again = client.post(address, page | {"over": page["seen"]})
        assert "A third loaf" in again.content.decode()
        page, _ = asked(again, address)
        assert client.post(address, page | {"over": page["seen"]}).status_code == 302
        assert self.current(site).summary == "My summary"

    def test_a_variant_made_meanwhile_is_not_lost_unseen(self, site, client, address, used):
        fields = opened(client, address)
        self.current(site).variants.create(name="Without seeds")
        answer = client.post(address, changed(fields, ("title", "My loaf")))
        assert answer.status_code == 409

    def test_adjusting_what_somebody_changed_is_refused(self, site, client, used):
        address = site.address("recipes:adjust")
        seen = opened(client, address)
        water = {"line-0-1": ["71"], "save": ["1"]}
        assert client.post(address, seen | water).status_code == 302
        later = {"line-0-1": ["64"], "form_key": ["x" * 30]}
        answer = client.post(address, seen | water | later)
        assert answer.status_code == 200
        assert "The recipe has changed since this page was opened." in answer.content.decode()
