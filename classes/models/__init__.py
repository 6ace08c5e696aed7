from classes.models.booking import MOST_SEATS_AT_ONCE, Booking, Waiting
from classes.models.diet_decision import DietDecision
from classes.models.enrollment import BakedVariant, Enrollment
from classes.models.journal import Printed, PrivateLook, Tick
from classes.models.kitchen import Kitchen, Mixer, Oven, Scale, Station
from classes.models.letters import Letter
from classes.models.money import ClassCost, Payment
from classes.models.pantry import StockItem
from classes.models.papers import KeptPaper, Pack
from classes.models.session import ClassSession, KeptPlan, Level, Mixing, RisesIn, TaughtRecipe

__all__ = [
    "MOST_SEATS_AT_ONCE",
    "BakedVariant",
    "Booking",
    "ClassCost",
    "ClassSession",
    "DietDecision",
    "Enrollment",
    "KeptPaper",
    "KeptPlan",
    "Kitchen",
    "Letter",
    "Level",
    "Mixer",
    "Mixing",
    "Oven",
    "Pack",
    "Payment",
    "Printed",
    "PrivateLook",
    "RisesIn",
    "Scale",
    "Station",
    "StockItem",
    "TaughtRecipe",
    "Tick",
    "Waiting",
]
