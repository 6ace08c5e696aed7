from classes.models.enrollment import BakedVariant, Enrollment
from classes.models.journal import Tick
from classes.models.kitchen import Kitchen, Mixer, Oven, Scale, Station
from classes.models.pantry import StockItem
from classes.models.session import ClassSession, KeptPlan, Mixing, RisesIn, TaughtRecipe

__all__ = [
    "BakedVariant",
    "ClassSession",
    "Enrollment",
    "KeptPlan",
    "Kitchen",
    "Mixer",
    "Mixing",
    "Oven",
    "RisesIn",
    "Scale",
    "Station",
    "StockItem",
    "TaughtRecipe",
    "Tick",
]
