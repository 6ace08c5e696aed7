from classes.models.journal import Printed, PrivateLook, Tick
from classes.models.kitchen import Kitchen, Mixer, Oven, Scale, Station
from classes.models.money import ClassCost
from classes.models.pantry import StockItem
from classes.models.papers import KeptPaper, Pack
from classes.models.session import ClassSession, KeptPlan, Level, Mixing, RisesIn, TaughtRecipe

__all__ = [
    "ClassCost",
    "ClassSession",
    "KeptPaper",
    "KeptPlan",
    "Kitchen",
    "Level",
    "Mixer",
    "Mixing",
    "Oven",
    "Pack",
    "Printed",
    "PrivateLook",
    "RisesIn",
    "Scale",
    "Station",
    "StockItem",
    "TaughtRecipe",
    "Tick",
]
