from classes.models.enrollment import BakedVariant, Enrollment
from classes.models.journal import Tick
from classes.models.kitchen import Kitchen, Mixer, Oven, Scale, Station
from classes.models.pantry import StockItem
from classes.models.session import ClassSession, TaughtRecipe

__all__ = [
    "BakedVariant",
    "ClassSession",
    "Enrollment",
    "Kitchen",
    "Mixer",
    "Oven",
    "Scale",
    "Station",
    "StockItem",
    "TaughtRecipe",
    "Tick",
]
