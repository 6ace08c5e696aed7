from classes.enrollment.models.booking import MOST_SEATS_AT_ONCE, Booking, Waiting
from classes.enrollment.models.diet_decision import DietDecision
from classes.enrollment.models.letters import Letter
from classes.enrollment.models.payment import Payment
from classes.enrollment.models.person import BakedVariant, Enrollment

__all__ = [
    "MOST_SEATS_AT_ONCE",
    "BakedVariant",
    "Booking",
    "DietDecision",
    "Enrollment",
    "Letter",
    "Payment",
    "Waiting",
]
