from classes.enrollment.models.booking import MOST_SEATS_AT_ONCE, Booking, Payment, Waiting
from classes.enrollment.models.letters import Letter
from classes.enrollment.models.person import BakedVariant, DietDecision, Enrollment

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
