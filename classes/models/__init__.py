from classes.models.journal import Printed, PrivateLook, Tick
from classes.models.kitchen import Kitchen, Mixer, Oven, Scale, Station, StockItem
from classes.models.money import ClassCost
from classes.models.papers import KeptPaper, Pack
from classes.models.session import ClassSession, KeptPlan, Level, TaughtRecipe

__all__ = [
    "ClassCost",
    "ClassSession",
    "KeptPaper",
    "KeptPlan",
    "Kitchen",
    "Level",
    "Mixer",
    "Oven",
    "Pack",
    "Printed",
    "PrivateLook",
    "Scale",
    "Station",
    "StockItem",
    "TaughtRecipe",
    "Tick",
]
