"""Station cards: a page for each bench and each recipe that is made there."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from classes.plan import ClassPlan
from handouts.kind import BENCH, Leaves, Material, NotPrinted, PaperKind, labeled
from handouts.paper import Paper, paper_head
from handouts.safety.hazards import hazards_of_recipe
from handouts.safety.heeds import card_heeds
from handouts.safety.values import CardHeed
from handouts.station_tables import StationRecipe
from handouts.stations import one_a_dough, stations_of

# A station card's page, in millimeters: the height that its lines share, and the least a line needs
# at each size of type in paper/station-card.css.
CARD_LINES_MM = 137
CARD_CAUTION_MM = 5.6
CARD_AVOIDS_MM = 16
CARD_HEED_MM, CARD_HEED_LINE_MM = 6, 7
CARD_SIZES = ((15.3, "size-34"), (12.4, "size-26"), (10.6, "size-20"), (8.4, "size-15"))


NO_PEOPLE = NotPrinted(
    409, "Nobody is at a station yet", "Add students to the roster, or plan for empty seats."
)


@dataclass(frozen=True, kw_only=True)
class StationCard(Paper):
    """What hangs at one station for one recipe. It has no place for anything private.

    A card that says what its station avoids names nobody, only how many work there, so that it
    tells no passer-by whom that concerns. `heeds` say what of that its own recipe holds.
    """

    template: ClassVar[str] = "handouts/station_card.html"
    style: ClassVar[str] = "station-card"

    station: str
    people: tuple[str, ...]
    recipe: StationRecipe
    avoids: tuple[str, ...] = ()
    heeds: tuple[CardHeed, ...] = ()

    @property
    def who(self) -> str:
        """Whose card it is: the names, or the number of people if the station avoids something."""
        count = len(self.people)
        return (
            (f"{count} people" if count != 1 else "1 person")
            if self.avoids
            else ", ".join(self.people)
        )

    @property
    def size(self) -> str:
        """The size of type at which the lines of a usual card fit on one page."""
        avoided_mm = CARD_AVOIDS_MM if self.avoids else 0
        boxes_mm = sum(CARD_HEED_MM + CARD_HEED_LINE_MM * heed.line_count for heed in self.heeds)
        cautions_mm = CARD_CAUTION_MM * self.foot.line_count
        room_mm = CARD_LINES_MM - avoided_mm - boxes_mm - cautions_mm
        line_mm = room_mm / max(1, self.recipe.line_count)
        return next((size for least_mm, size in CARD_SIZES if line_mm >= least_mm), "size-13")


def station_cards(plan: ClassPlan, printed_at: datetime) -> tuple[StationCard, ...]:
    """A card for each recipe at each station with somebody at it. Raises NothingTaught."""
    head, avoided = paper_head(plan, printed_at), plan.avoided
    told = plan.concerns
    own = {one.taught.key: hazards_of_recipe(plan, one.taught) for one in plan.amounts.recipes}
    return tuple(
        StationCard(
            head=head,
            hazards=own[recipe.taught],
            station=station.name,
            people=recipe.people,
            recipe=recipe,
            avoids=avoided.get(station.name, ()),
            heeds=card_heeds(told, station.name, recipe.taught),
        )
        for station in stations_of(plan, one_a_dough, on_wall=True)
        for recipe in station.recipes
    )


def _leaves(material: Material) -> Leaves:
    cards = station_cards(material.plan, material.at)
    if not cards:
        raise NO_PEOPLE
    return labeled((f"{card.station}, {card.recipe.title}", card) for card in cards)


KIND = PaperKind(
    "station-cards",
    "Station cards",
    "A page to stand on each bench, readable at arm’s length.",
    BENCH,
    _leaves,
)
