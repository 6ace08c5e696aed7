"""Packs: what was asked for comes out, what is kept is not made again, and nothing stays behind."""

from datetime import timedelta

import pytest
from django.utils import timezone

from classes.enrollment.services.chores import blank_words, do_chores
from classes.enrollment.services.leaving import erase_person
from classes.models import KeptPaper, Pack, Printed, PrivateLook
from handouts.catalog import KINDS
from handouts.press import packs
from handouts.press.errors import AddressRefused, TooLong
from handouts.press.packs import Dropped, make_pack
from handouts.press.render import PageSize
from handouts.press.tasks import ask_for_pack, make_pack_later
from tests.handouts.pdfs import page_texts, reader, sizes_mm
from tests.handouts.presses import OncePress
from tests.worlds import anew


class Counting(OncePress):
    """A press that counts what it is given to lay out."""

    def __init__(self):
        super().__init__()
        self.laid_out = []

    def lay_out(self, markup):
        self.laid_out.append(markup)
        return super().lay_out(markup)


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


@pytest.fixture
def press():
    return Counting()


def ask(session, *kinds, page_size=PageSize.A4, only_changed=False):
    return ask_for_pack(
        session=session,
        by=session.instructor,
        kinds=kinds,
        page_size=page_size,
        layout="",
        only_changed=only_changed,
        at=timezone.now(),
    )


def made(press, session, *kinds, **options):
    """A pack made here, and how many papers were laid out for it."""
    before = len(press.laid_out)
    pack = make_pack(ask(session, *kinds, **options), press)
    return pack, len(press.laid_out) - before


def test_a_pack_holds_what_was_asked_for_in_the_order_of_the_catalog(demo, press):
    pack, laid_out = made(press, demo, "handouts", "station-cards")
    assert (pack.state, pack.problems) == (Pack.State.DONE, [])
    assert laid_out == 12 + 3 + 1
    texts = page_texts(pack.pdf)
    assert pack.pages == len(texts)
    assert demo.enrollments.first().name in texts[0]
    assert "Bench 3" in texts[-2]
    assert "Before we start" in texts[-1]


def test_on_letter_every_page_is_letter_and_cards_are_on_their_side(demo, press):
    pack, _ = made(press, demo, "station-cards", page_size=PageSize.LETTER)
    assert sizes_mm(pack.pdf) == {(279.4, 215.9), (215.9, 279.4)}


def test_what_has_not_changed_is_not_laid_out_again(demo, press):
    first, _ = made(press, demo, "at-home", "station-cards")
    second, laid_out = made(press, demo, "at-home", "station-cards")
    assert laid_out == 0
    assert page_texts(second.pdf) == page_texts(first.pdf)


def test_a_changed_kitchen_at_home_renders_one_paper_anew(demo, press):
    made(press, demo, "at-home", "station-cards")
    student = demo.enrollments.first()
    student.home = {"measured": "cups", "room_c": "18"}
    student.save()
    pack, laid_out = made(press, demo, "at-home", "station-cards")
    assert laid_out == 1
    assert "cup" in " ".join(page_texts(pack.pdf))


def test_only_what_changed_since_it_was_printed_is_in_a_pack_of_changes(demo, press):
    made(press, demo, "at-home")
    student = demo.enrollments.all()[4]
    student.home = {"room_c": "30"}
    student.save()
    pack, _ = made(press, demo, "at-home", only_changed=True)
    assert list(pack.printed["at-home"]) == [str(student.pk)]
    again, _ = made(press, demo, "at-home", only_changed=True)
    assert again.state == Pack.State.FAILED
    assert again.problems == [packs.NOTHING]


def test_a_kind_that_cannot_be_made_is_told_and_the_others_come(demo, press):
    demo.kitchen.ovens.all().delete()
    pack, _ = made(press, demo, "run-sheet-instructor", "station-cards")
    assert pack.state == Pack.State.DONE
    ((title, advice),) = pack.problems
    assert title == "Run sheet, instructor"
    assert "oven" in advice
    assert "run-sheet-instructor" not in pack.printed
    assert len(pack.printed["station-cards"]) == 3


def test_a_pack_of_nothing_says_so(demo, press):
    demo.stations.clear()
    pack, _ = made(press, demo, "station-cards")
    assert (pack.state, pack.pdf) == (Pack.State.FAILED, None)
    assert [title for title, _ in pack.problems] == [packs.NOTHING[0], "Station cards"]


@pytest.mark.parametrize(
    ("error", "words"),
    [(TooLong(), packs.TOO_LONG), (AddressRefused(["file:///etc/passwd"]), packs.REFUSED)],
)
def test_a_paper_that_fails_in_the_press_fails_the_pack_in_words(demo, press, error, words):
    def lay_out(markup):
        future = packs.Future()
        future.set_exception(error)
        return future

    press.lay_out = lay_out
    pack, _ = made(press, demo, "station-cards")
    assert (pack.state, pack.problems, pack.pdf) == (Pack.State.FAILED, [words], None)
    assert not KeptPaper.objects.exists()


def test_all_usual_kinds_of_the_demo_can_be_made_together(demo, press):
    usual = [kind.name for kind in KINDS if kind.usual]
    pack, _ = made(press, demo, *usual)
    assert (pack.state, pack.problems) == (Pack.State.DONE, [])
    assert list(pack.printed) == usual
    assert reader(pack.pdf).metadata.title == f"Papers: {demo.title}"


def test_the_queue_makes_it_with_the_press_of_the_worker(demo, monkeypatch):
    monkeypatch.setattr("handouts.press.tasks.press", OncePress)
    pack = ask(demo, "oven-map")
    make_pack_later.call(pack.pk)
    pack.refresh_from_db()
    assert (pack.state, pack.done, pack.total) == (Pack.State.DONE, 3, 3)


def test_making_a_pack_that_is_over_does_nothing(demo, press):
    pack, _ = made(press, demo, "station-cards")
    with pytest.raises(Dropped):
        make_pack(pack, press)
    make_pack_later.call(pack.pk)
    make_pack_later.call(pack.pk + 1000)


# What is noted


def test_printing_the_preparation_list_notes_its_lines_for_the_sheet_of_changes(demo, press):
    made(press, demo, "preparation")
    assert Printed.objects.get().session == demo


def test_asking_for_private_papers_is_written_down(demo):
    ask(demo, "station-cards")
    assert not PrivateLook.objects.exists()
    ask(demo, "preparation")
    assert PrivateLook.objects.get().what == "Shopping and mise en place, as a paper"


# What is forgotten


def test_erasing_somebody_removes_what_was_made_with_their_name(demo, press):
    pack, _ = made(press, demo, "handouts")
    waiting = ask(demo, "handouts")
    erase_person(enrollment=demo.enrollments.first(), at=timezone.now())
    pack.refresh_from_db()
    waiting.refresh_from_db()
    assert (pack.pdf, KeptPaper.objects.count()) == (None, 0)
    assert waiting.state == Pack.State.FAILED
    assert "erased in the meantime" in waiting.problems[0][0]


def test_a_pack_on_its_way_while_somebody_is_erased_keeps_nothing(demo, press):
    pack, lay_out = ask(demo, "handouts"), press.lay_out

    def erased_meanwhile(markup):
        if not press.laid_out:
            erase_person(enrollment=demo.enrollments.first(), at=timezone.now())
        return lay_out(markup)

    press.lay_out = erased_meanwhile
    with pytest.raises(Dropped):
        make_pack(pack, press)
    pack.refresh_from_db()
    assert (pack.state, pack.pdf, KeptPaper.objects.count()) == (Pack.State.FAILED, None, 0)


def test_blanking_what_people_must_not_eat_removes_the_papers_that_said_it(demo, press):
    demo.enrollments.filter(pk=demo.enrollments.first().pk).update(must_not_eat="sesame")
    made(press, demo, "preparation")
    blank_words(at=demo.ends_at + timedelta(days=100))
    assert (KeptPaper.objects.count(), Pack.objects.exclude(pdf=None).count()) == (0, 0)


def test_papers_are_kept_for_a_week_and_what_was_printed_longer(demo, press):
    pack, _ = made(press, demo, "oven-map")
    do_chores(at=timezone.now() + timedelta(days=6))
    assert KeptPaper.objects.count() == 3
    do_chores(at=timezone.now() + timedelta(days=8))
    pack.refresh_from_db()
    assert (KeptPaper.objects.count(), pack.pdf) == (0, None)
    assert len(pack.printed["oven-map"]) == 3


def test_a_paper_fetched_alone_is_the_one_that_is_kept(demo, press, teacher):
    made(press, demo, "oven-map")
    kept = {bytes(one.pdf) for one in KeptPaper.objects.all()}
    listed = teacher.get(f"/classes/{demo.code}/papers/").content.decode()
    alone = [part.partition('"')[0] for part in listed.split('href="') if ".pdf" in part]
    alone = [address for address in alone if "/oven-map/" in address]
    assert {teacher.get(address.replace("&amp;", "&")).content for address in alone} == kept
    assert all("/StructTreeRoot" in reader(pdf).trailer["/Root"] for pdf in kept)
