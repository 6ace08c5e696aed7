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
    """What has happened, the first thing to do, the rest in order, and the source."""

    key: str
    heading: str
    first: tuple[FirstAidStep, ...]
    then: tuple[FirstAidStep, ...]
    source: str
    known: Known

    def first_in(self, region: Region) -> str:
        (step,) = _said(self.first, region)
        return step

    def then_in(self, region: Region) -> tuple[str, ...]:
        return _said(self.then, region)


def _said(steps: tuple[FirstAidStep, ...], region: Region) -> tuple[str, ...]:
    return tuple(step.text for step in steps if region in step.regions)


def _everywhere(*texts: str) -> tuple[FirstAidStep, ...]:
    return tuple(map(FirstAidStep, texts))


def _only(text: str, *regions: Region) -> FirstAidStep:
    return FirstAidStep(text, frozenset(regions))


ALLERGY = Emergency(
    key="allergy",
    heading="Severe allergic reaction",
    first=_everywhere("Call, say “anaphylaxis”; at once their own injector."),
    then=(
        *_everywhere(
            "Trouble breathing, swollen tongue or throat, hoarse voice, wheeze, dizzy, collapse.",
            "Help them use their own adrenaline (epinephrine) auto-injector, as trained and as its "
            "label says. In doubt, use it; alone with them, use it and then call.",
            "They lie flat, sit with legs out if breathing is hard, on the side if unconscious. "
            "They do not stand or walk. Do not leave them alone.",
        ),
        _only("No better after 5 minutes: a second injector.", EUROPE, OCEANIA),
        _only("No better after 5 to 15 minutes: a second injector.", US),
        _only(
            "No better after 5 minutes (US advice: 5 to 15): a second injector.",
            Region.ALL,
        ),
    ),
    source="The Australasian allergy society's plan and a UK charity's page, read; US advice (5 to "
    "15 minutes), from memory.",
    known=Known.READ,
)

CHOKING = Emergency(
    key="choking",
    heading="Choking",
    first=_everywhere("Let them cough. They cannot: call, then back blows."),
    then=(
        _only(
            "Up to 5 hard blows between the shoulder blades, then up to 5 thrusts to the belly, in "
            "turn. Pregnant or very large: to the chest.",
            US,
            EUROPE,
        ),
        _only(
            "Up to 5 hard blows between the shoulder blades, then up to 5 thrusts to the chest, in "
            "turn.",
            OCEANIA,
        ),
        _only(
            "Up to 5 hard blows between the shoulder blades, then up to 5 thrusts to the belly "
            "(Australia, New Zealand, pregnant, very large: to the chest), in turn.",
            Region.ALL,
        ),
        *_everywhere(
            "Unconscious: the line tells you how to press on the chest. Medical help after thrusts."
        ),
    ),
    source="Pages of an Australian first-aid charity and the resuscitation council's guideline "
    "(chest thrusts), and of UK trainers (belly thrusts), read in part as quoted by others; US "
    "advice, second-hand; New Zealand, from memory.",
    known=Known.SECOND_HAND,
)

FAINT = Emergency(
    key="faint",
    heading="Fainting",
    first=_everywhere("Lay them flat, legs up if that does not hurt."),
    then=_everywhere(
        "Not breathing as usual: call, press on the chest as the line says, fetch the "
        "defibrillator.",
        "Not awake within a minute, hurt, pregnant, diabetic, or pain in the chest: call.",
        "Up again slowly; nothing to eat or drink until wide awake.",
    ),
    source="A US clinic's and a US medical library's advice, quoted by others; who calls at once "
    "for a pregnancy or diabetes, and the defibrillator, from memory.",
    known=Known.SECOND_HAND,
)

BURN = Emergency(
    key="burn",
    heading="Burn or scald",
    first=(
        _only("Cool running water, 20 minutes.", EUROPE),
        _only("Cool running water, 20 minutes; useful up to 3 hours after.", OCEANIA),
        _only("Cool running water, 20 minutes (US advice: 5 to 20).", US, Region.ALL),
    ),
    then=_everywhere(
        "Rings, watch and loose clothing off; leave what sticks. No ice, cream or butter. Cover it "
        "loosely with something clean that does not fluff.",
        "Large, deep, or on face, hands or joints: call.",
    ),
    source="ANZCOR guideline 9.1.3, an Australian state's burns service and a UK first-aid "
    "charity, read. A US guideline of 2024 (5 to 20 minutes), second-hand.",
    known=Known.READ,
)

CUT = Emergency(
    key="cut",
    heading="Cut",
    first=_everywhere("Press on it with a clean pad and keep pressing."),
    then=_everywhere(
        "Sit or lie down; gloves if you help. It does not stop, is deep, or something is in it "
        "(leave that in): call.",
        "After: a covered wound and a glove before touching food. Discard food with blood on it; "
        "wash and sanitize what it touched.",
    ),
    source="Pages of UK first-aid trainers, read; the food: common practice, from memory.",
    known=Known.READ,
)

OVEN_FIRE = Emergency(
    key="oven-fire",
    heading="Fire in the oven",
    first=_everywhere("The door stays shut. Oven off."),
    then=_everywhere(
        "Off at the wall if you can reach it. Never water on electrics.",
        "Not going out, or smoke in the room: everybody out, shut doors, call from outside.",
    ),
    source="Pages of companies that repair fire damage; water on electrics, from memory.",
    known=Known.SECOND_HAND,
)

FAT_FIRE = Emergency(
    key="fat-fire",
    heading="Burning fat",
    first=_everywhere("Heat off, lid on. Never water."),
    then=_everywhere(
        "Slide lid or fire blanket on from your side. Do not carry the pan; leave it covered until "
        "it is cold.",
        "It spreads: everybody out, shut doors, call from outside. Extinguisher: only one made for "
        "fat, only by who is trained.",
    ),
    source="Pages of companies that repair fire damage and of one for extinguishers, second-hand; "
    "the blanket, from memory.",
    known=Known.SECOND_HAND,
)

GAS = Emergency(
    key="gas",
    heading="Smell of gas",
    first=_everywhere("No switch, no flame, no telephone in here."),
    then=_everywhere(
        "Everybody out. The gas tap only if it is on your way.",
        "Call from outside: the gas emergency line or the emergency number. Nobody goes in again "
        "until they say so.",
    ),
    source="Pages of US gas companies and of a US state's utility commission, read. On opening "
    "windows they and UK advice differ, so we leave that out.",
    known=Known.READ,
)

EYE = Emergency(
    key="flour",
    heading="Flour in eye or lungs",
    first=_everywhere("Eye: do not rub; rinse with clean running water."),
    then=_everywhere(
        "Contact lens out, lids open. Something stuck, pain or bad sight after: medical help.",
        "Lungs: out of the dust, own inhaler. Trouble breathing: call.",
    ),
    source="Pages of first-aid trainers and clinics on specks in the eye, read; lungs, from "
    "memory.",
    known=Known.READ,
)

SHOCK = Emergency(
    key="shock",
    heading="Electric shock",
    first=_everywhere("Do not touch them: plug or main switch first."),
    then=_everywhere(
        "Call. Not breathing: the line tells you how to press on the chest.",
        "Also after a small shock: medical advice. Nobody uses that machine again.",
    ),
    source="An Australian electricity network's page and others like it, read; the line's help "
    "with resuscitation, from memory.",
    known=Known.READ,
)

EMERGENCIES = (ALLERGY, CHOKING, FAINT, BURN, CUT, OVEN_FIRE, FAT_FIRE, GAS, EYE, SHOCK)

USUAL_NUMBERS = {
    Region.ALL: "911 in the US; 112 in the EU, UK and Ireland (999 too); 000 in Australia; 111 in "
    "New Zealand",
    Region.US: "911 in the US",
    Region.EUROPE: "112 in the EU, UK and Ireland, in the last two 999 too",
    Region.OCEANIA: "000 in Australia, 111 in New Zealand",
}
NUMBERS_SOURCE = "Pages of allergy charities and companies, read; 999 in Ireland, from memory."
