"""Every paper that a class has: what it is for, and how it is made."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import NamedTuple

from django.utils.text import slugify

from classes.at_home import HomeKitchen
from handouts import selectors
from handouts.at_home import at_home
from handouts.documents import Paper
from handouts.homework import homework_of
from handouts.material import Material
from handouts.not_printed import NO_PEOPLE
from handouts.run_sheet import Edition, run_sheet_of


class Leaf(NamedTuple):
    """One paper of a kind: a key that lasts, whom or what it is for, and the paper."""

    key: str
    label: str
    paper: Paper


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of paper. `make` raises NotPrinted and PaperError.

    `name` stands in addresses and file names. A private kind holds what people must not eat, or how
    to reach them. What is not `usual` is left out of a pack until somebody asks for it.
    """

    name: str
    title: str
    purpose: str
    place: str
    make: Callable[[Material], Iterable[Leaf]]
    private: bool = False
    usual: bool = True


STUDENTS, AHEAD, BENCH, WALL, DOOR = (
    "For each student",
    "Before the day",
    "At the bench",
    "On the wall",
    "At the door",
)


def _handouts(material: Material) -> Iterator[Leaf]:
    for student in material.students:
        yield Leaf(str(student.pk), student.name, material.handouts[student.pk])


def _at_home(material: Material) -> Iterator[Leaf]:
    for student in material.students:
        kitchen = HomeKitchen.of(student.home)
        paper = at_home(material.numbers, student, kitchen, material.at)
        yield Leaf(str(student.pk), student.name, paper)


def _homework(material: Material) -> Iterator[Leaf]:
    for student in material.students:
        paper = homework_of(material.handouts[student.pk])
        yield Leaf(str(student.pk), student.name, paper)


def _preparation(material: Material) -> Iterator[Leaf]:
    yield _only(selectors.preparation_list(material.numbers, material.at))


def _station_cards(material: Material) -> Iterator[Leaf]:
    cards = selectors.station_cards(material.numbers, material.at)
    if not cards:
        raise NO_PEOPLE
    yield from _labeled((f"{card.station}, {card.recipe.title}", card) for card in cards)


def _run_sheet(material: Material, edition: Edition) -> Iterator[Leaf]:
    yield _only(run_sheet_of(material.numbers, material.hours, edition, material.at))


def _only(paper: Paper) -> Leaf:
    return Leaf("1", "", paper)


def _labeled(papers: Iterable[tuple[str, Paper]]) -> Iterator[Leaf]:
    """Leaves named for what they are for, told apart where two read alike."""
    seen: dict[str, int] = {}
    for label, paper in papers:
        name = slugify(label)[:60] or "paper"
        seen[name] = seen.get(name, 0) + 1
        key = name if seen[name] == 1 else f"{name}-{seen[name]}"
        yield Leaf(key, label, paper)


KINDS: tuple[Kind, ...] = (
    Kind(
        "at-home",
        "Handouts for home",
        "The recipes for the kitchen that each student told of: what they keep.",
        STUDENTS,
        _at_home,
    ),
    Kind(
        "handouts",
        "Handouts for the class",
        "Each student’s own grams and the steps, as they bake it in class.",
        STUDENTS,
        _handouts,
        usual=False,
    ),
    Kind(
        "before-the-day",
        "Before the day",
        "What to bring, to read and to know. Students have it behind their own link.",
        STUDENTS,
        _homework,
        usual=False,
    ),
    Kind(
        "preparation",
        "Shopping and mise en place",
        "What to buy, what to make ahead, and a page for each station to tick off.",
        AHEAD,
        _preparation,
        private=True,
    ),
    Kind(
        "run-sheet-instructor",
        "Run sheet, instructor",
        "The class by the clock: what to show, say and decide.",
        BENCH,
        partial(_run_sheet, edition=Edition.INSTRUCTOR),
    ),
    Kind(
        "run-sheet-assistant",
        "Run sheet, assistant",
        "The same hours with ovens, mixers, cabinet, benches and cleaning up.",
        BENCH,
        partial(_run_sheet, edition=Edition.ASSISTANT),
    ),
    Kind(
        "station-cards",
        "Station cards",
        "A page to stand on each bench, readable at arm’s length.",
        BENCH,
        _station_cards,
    ),
)

BY_NAME = {kind.name: kind for kind in KINDS}
