"""How each kind of paper is made from a class: a leaf for each that can be printed alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple

from django.utils.text import slugify

from classes.home_kitchen.values import HomeKitchen
from classes.hours.plan import ClassHours
from handouts import selectors
from handouts.home.recipes import at_home
from handouts.kinds.allergen_sheet import allergen_sheet
from handouts.kinds.emergency_card import emergency_card
from handouts.kinds.homework import homework_of
from handouts.kinds.notes_sheet import notes_sheet
from handouts.kinds.oven_map import oven_map
from handouts.kinds.oven_signs import oven_signs
from handouts.kinds.sign_in import sign_in_sheet
from handouts.kinds.station_notices import station_notices
from handouts.kinds.temperature_log import temperature_log
from handouts.labels.refrigerator_labels import refrigerator_labels
from handouts.labels.tub_labels import tub_labels
from handouts.material import Material
from handouts.not_printed import NO_PEOPLE, NO_STUDENTS, NOTHING_BAKED, NotPrinted
from handouts.paper import Paper
from handouts.run_sheet.sheet import Edition


class Leaf(NamedTuple):
    """One paper of a kind: a key that lasts, whom or what it is for, and the paper."""

    key: str
    label: str
    paper: Paper


Leaves = Iterator[Leaf]


def _only(papers: Iterable[Paper]) -> Leaves:
    for paper in papers:
        yield Leaf("1", "", paper)


def _labeled(papers: Iterable[tuple[str, Paper]]) -> Leaves:
    """Leaves named for what they are for, told apart where two read alike."""
    seen: dict[str, int] = {}
    for label, paper in papers:
        name = slugify(label)[:60] or "paper"
        seen[name] = seen.get(name, 0) + 1
        key = name if seen[name] == 1 else f"{name}-{seen[name]}"
        yield Leaf(key, label, paper)


# For each student


def for_class(material: Material) -> Leaves:
    for student in material.students:
        yield Leaf(str(student.pk), student.name, material.handouts[student.key])


def for_home(material: Material) -> Leaves:
    usual = HomeKitchen.near(material.plan.kitchen)
    for student in material.students:
        kitchen, handout = HomeKitchen.of(student.home, usual), material.handouts[student.key]
        paper = at_home(material.plan, student, kitchen, handout, material.shelf)
        yield Leaf(str(student.pk), student.name, paper)


def before_the_day(material: Material) -> Leaves:
    for student in material.students:
        yield Leaf(str(student.pk), student.name, homework_of(material.handouts[student.key]))


# Before the day


def preparation(material: Material) -> Leaves:
    return _only([selectors.preparation_list(material.plan, material.at)])


def labels_for_tubs(material: Material) -> Leaves:
    return _only(tub_labels(material.plan, material.at, material.sheets.labels))


def labels_for_refrigerators(material: Material) -> Leaves:
    return _only(refrigerator_labels(material.plan, material.at, material.sheets.labels))


# At the bench


def run_sheet(material: Material, edition: Edition) -> Leaves:
    return _only([replace(material.run_sheet, edition=edition)])


def station_cards(material: Material) -> Leaves:
    cards = selectors.station_cards(material.plan, material.at)
    if not cards:
        raise NO_PEOPLE
    return _labeled((f"{card.station}, {card.recipe.title}", card) for card in cards)


def map_of_ovens(material: Material) -> Leaves:
    papers = oven_map(material.plan, material.hours, material.at)
    if not any(paper.loads for paper in papers):
        raise NOTHING_BAKED
    return _only(papers)


def log_of_temperatures(material: Material) -> Leaves:
    return _only(temperature_log(material.plan, _hours_if_any(material), material.at))


def _hours_if_any(material: Material) -> ClassHours | None:
    try:
        return material.hours
    except NotPrinted:
        return None


def sheet_for_notes(material: Material) -> Leaves:
    return _only(notes_sheet(material.plan, material.at))


# On the wall


def notices(material: Material) -> Leaves:
    papers = station_notices(material.plan, material.at)
    return _labeled((paper.station, paper) for paper in papers)


def emergencies(material: Material) -> Leaves:
    return _only([emergency_card(material.plan, material.at)])


def signs_for_ovens(material: Material) -> Leaves:
    papers = oven_signs(material.plan, material.at)
    return _labeled((f"{paper.oven}, {paper.warns.label}", paper) for paper in papers)


# At the door


def must_not_eat(material: Material) -> Leaves:
    if not material.students:
        raise NO_STUDENTS
    return _only([allergen_sheet(material.plan, material.at)])


def to_sign_in(material: Material) -> Leaves:
    return _only(sign_in_sheet(material.plan, material.at))
