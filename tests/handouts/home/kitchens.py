"""A kitchen at home as a student tells of it."""

from __future__ import annotations

from classes.enrollment.models import Enrollment
from classes.selectors import class_plan
from tests.classes.enrollment.enrolled import home_page_of
from tests.handouts.conftest import at_home_for
from tests.handouts.pdfs import page_texts, plain

CUPS = {"measured": "both", "room_c": "18", "fan": True, "degrees": "F", "sizes_in": "in"}
TIN = {
    "shape": "loaf", "length_cm": "21.59", "width_cm": "11.43", "depth_cm": "6.35",
    "count": 1, "dough": "class",
}  # fmt: skip


def revision_key(session):
    return str(session.taught.get().revision_id)


def paper_of(session, **kept):
    return at_home_for(class_plan(session), kept)


def recipe_of(session, **kept):
    (recipe,) = paper_of(session, **kept).recipes
    return recipe


def page(client, session, **kept):
    student = session.enrollments.first()
    Enrollment.objects.filter(pk=student.pk).update(home=kept)
    return plain(client.get(home_page_of(student)).content.decode())


def pdf_of(client, session, **kept):
    student = session.enrollments.first()
    Enrollment.objects.filter(pk=student.pk).update(home=kept)
    return client.get(home_page_of(student)[:-1] + ".pdf")


def printed_text(answer):
    return " ".join(plain("\n".join(page_texts(answer.content))).split())
