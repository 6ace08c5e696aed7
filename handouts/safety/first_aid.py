"""What to do when somebody is hurt: the wording as data, with its source, by region.

The sentences are ours and say no more than general first-aid advice. Trained first-aiders and the
person on the emergency line come before them.
"""

from __future__ import annotations

from dataclasses import dataclass

from classes.core.regions import Region
from handouts.safety.values import EVERYWHERE, Known

US, EUROPE, OCEANIA = Region.US, Region.EUROPE, Region.OCEANIA


@dataclass(frozen=True, slots=True)
class FirstAidStep:
    """One thing to do, in the regions it is worded for."""

    text: str
    regions: frozenset[Region] = EVERYWHERE


@dataclass(frozen=True, slots=True)
class Emergency:
    """What has happened, what to do in order, and the source."""

    key: str
    heading: str
    steps: tuple[FirstAidStep, ...]
    source: str
    known: Known

    def steps_in(self, region: Region) -> tuple[str, ...]:
        return tuple(step.text for step in self.steps if region in step.regions)


def _only(*regions: Region) -> frozenset[Region]:
    return frozenset(regions)


ALLERGY = Emergency(
    key="allergy",
    heading="Severe allergic reaction",
    steps=(
        FirstAidStep(
            "Trouble breathing, swollen tongue or throat, hoarse voice, wheeze, dizzy, collapse: "
            "somebody calls at once and says “anaphylaxis”."
        ),
        FirstAidStep(
            "At the same time help them use their own adrenaline (epinephrine) auto-injector, "
            "as trained and as its label says. In doubt, use it; alone with them, use it and then "
            "call."
        ),
        FirstAidStep(
            "They lie flat, sit with legs out if breathing is hard, on the side if unconscious. "
            "They do not stand or walk. Do not leave them alone."
        ),
        FirstAidStep("No better after 5 minutes: a second injector.", _only(EUROPE, OCEANIA)),
        FirstAidStep("No better after 5 to 15 minutes: a second injector.", _only(US)),
        FirstAidStep(
            "No better after 5 minutes (US advice: 5 to 15): a second injector.",
            _only(Region.ALL),
        ),
    ),
    source="The Australasian allergy society's plan and a UK charity's page, read; US advice (5 to "
    "15 minutes), from memory.",
    known=Known.READ,
)

BURN = Emergency(
    key="burn",
    heading="Burn or scald",
    steps=(
        FirstAidStep("Cool running water, 20 minutes.", _only(EUROPE)),
        FirstAidStep(
            "Cool running water, 20 minutes; still useful up to 3 hours after.", _only(OCEANIA)
        ),
        FirstAidStep("Cool running water, 20 minutes (US advice: 5 to 20).", _only(US, Region.ALL)),
        FirstAidStep(
            "Rings, watch and loose clothing off; leave what sticks. No ice, cream or butter. Then "
            "cover it loosely with something clean that does not fluff."
        ),
        FirstAidStep("Large, deep, or on face, hands or joints: call."),
    ),
    source="ANZCOR guideline 9.1.3, an Australian state's burns service and a UK first-aid "
    "charity, read. A US guideline of 2024 (5 to 20 minutes), second-hand.",
    known=Known.READ,
)

CUT = Emergency(
    key="cut",
    heading="Cut",
    steps=(
        FirstAidStep(
            "Press on it with a clean pad and keep pressing; sit or lie down. Gloves if you help."
        ),
        FirstAidStep("It does not stop, is deep, or something is in it (leave that in): call."),
        FirstAidStep(
            "After: a covered wound and a glove before touching food. Discard food with blood on "
            "it; wash and sanitize what it touched."
        ),
    ),
    source="Pages of UK first-aid trainers, read; the food: common practice, from memory.",
    known=Known.READ,
)

EYE = Emergency(
    key="flour",
    heading="Flour in eye or lungs",
    steps=(
        FirstAidStep(
            "Eye: do not rub. Contact lens out, rinse with clean running water, lids open. "
            "Something stuck, pain or bad sight after: medical help."
        ),
        FirstAidStep("Lungs: out of the dust, own inhaler. Trouble breathing: call."),
    ),
    source="Pages of first-aid trainers and clinics on specks in the eye, read; lungs, from "
    "memory.",
    known=Known.READ,
)

SHOCK = Emergency(
    key="shock",
    heading="Electric shock",
    steps=(
        FirstAidStep("Do not touch them while the power is on. Pull the plug, or the main switch."),
        FirstAidStep("Call. Not breathing: the line tells you how to press on the chest."),
        FirstAidStep("Also after a small shock: medical advice. Nobody uses that machine again."),
    ),
    source="An Australian electricity network's page and others like it, read; the line's help "
    "with resuscitation, from memory.",
    known=Known.READ,
)

FIRE = Emergency(
    key="fire",
    heading="Fire in the oven",
    steps=(
        FirstAidStep("The door stays shut. Oven off, at the wall if you can reach it."),
        FirstAidStep(
            "Not going out, or smoke in the room: everybody out, shut doors, call from outside."
        ),
        FirstAidStep("Never water on burning fat or on electrics."),
    ),
    source="Pages of companies that repair fire damage; water on fat or electrics, from memory.",
    known=Known.SECOND_HAND,
)

FIRST, THEN = (ALLERGY, BURN), (CUT, EYE, SHOCK, FIRE)

USUAL_NUMBERS = {
    Region.ALL: "911 in the US; 112 in the EU, UK and Ireland (999 too); 000 in Australia; 111 in "
    "New Zealand",
    Region.US: "911 in the US",
    Region.EUROPE: "112 in the EU, UK and Ireland, in the last two 999 too",
    Region.OCEANIA: "000 in Australia, 111 in New Zealand",
}
NUMBERS_SOURCE = "pages of allergy charities and companies, read; 999 in Ireland, from memory."
