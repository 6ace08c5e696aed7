"""The words of every caution on papers, each with its source and when it applies.

The sentences are ours. No source is quoted, and none outranks the local food authority or the local
codes: `DEFERRAL` says so on every page. Where guidance differs between countries a caution has one
wording for each region, of a line or two; where all guidance is said, the figures name whose they
are. The brief wordings say no more than the longer ones.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import replace

from classes.core.regions import Region
from handouts.safety.values import HEAT, Caution, Hazard, Known
from wording.writing import PLAIN, Writing

Wording = tuple[Region, str, str, Known]
COLD_ENOUGH = "5 °C (41 °F) or colder"
COOLED_IN_TWO_STEPS = "shallow, to 21 °C (70 °F) in 2 hours, to 5 °C (41 °F) in 4 more"
BRIEFLY: dict[str, str | dict[Region, str]] = {
    "hands": "20 seconds with soap; again after raw flour, egg, breaks",
    "chilled": {
        Region.ALL: COLD_ENOUGH,
        Region.US: "41 °F (5 °C) or colder; at home 40 °F (4 °C)",
        Region.EUROPE: COLD_ENOUGH,
        Region.OCEANIA: COLD_ENOUGH,
    },
    "cooling": {
        Region.ALL: COOLED_IN_TWO_STEPS,
        Region.US: "shallow, to 70 °F (21 °C) in 2 hours, to 41 °F (5 °C) by hour 6",
        Region.EUROPE: "shallow, then into the refrigerator",
        Region.OCEANIA: COOLED_IN_TWO_STEPS,
    },
    "allergens": "ask, read packs; wash tools, not just wipe",
    "burns": "20 minutes under cool running water; large, face, hands: call",
}


def _worded(
    key: str, heading: str, hazards: frozenset[Hazard], *wordings: Wording
) -> Iterator[Caution]:
    brief = BRIEFLY[key]
    for region, text, source, known in wordings:
        said = brief if isinstance(brief, str) else brief[region]
        yield Caution(key, heading, text, said, source, known, hazards, frozenset({region}))


HANDS = tuple(
    _worded(
        "hands",
        "Wash hands",
        frozenset({Hazard.HANDS}),
        (
            Region.ALL,
            "20 seconds with soap, dry on paper: first, after raw flour or egg and breaks.",
            "US FDA Food Code 2-301.12, 20 seconds for the whole wash; UK and New Zealand public "
            "advice, 20 seconds, from memory. Australia's code asks for warm running water and "
            "a single-use towel, without seconds, from memory. They agree in what we print.",
            Known.SECOND_HAND,
        ),
        (
            Region.US,
            "20 seconds in all, with soap: first, after raw flour or egg, after breaks.",
            "US FDA Food Code 2-301.12: the whole wash takes at least 20 seconds.",
            Known.SECOND_HAND,
        ),
        (
            Region.EUROPE,
            "20 seconds with soap, dry on paper: first, after raw flour or egg and breaks.",
            "Public-health advice in the UK and Ireland; Regulation (EC) 852/2004 asks for clean "
            "hands without seconds.",
            Known.FROM_MEMORY,
        ),
        (
            Region.OCEANIA,
            "20 seconds, soap, warm running water; dry on paper. After flour, egg, breaks.",
            "Food Standards Code 3.2.2 (Australia): warm running water, single-use towels; "
            "New Zealand advice: 20 seconds, and dry well.",
            Known.FROM_MEMORY,
        ),
    )
)

COLD = tuple(
    _worded(
        "chilled",
        "Keep cold",
        frozenset({Hazard.CHILLED}),
        (
            Region.ALL,
            "5 °C (41 °F) or colder: US, Australia, New Zealand. UK law: 8 °C at most.",
            "US FDA Food Code 3-501.16 and UK law (W.S.I. 2006/31, S.R. 2006/3, schedule 4), both "
            "second-hand; Australian fact sheet on Food Safety Standard 3.2.2, read. The standard "
            "is not New Zealand's; there 5 °C is from memory.",
            Known.SECOND_HAND,
        ),
        (
            Region.US,
            "5 °C (41 °F), Food Code; at home 4 °C (40 °F), 2 hours out at most (USDA).",
            "US FDA Food Code 3-501.16 (41 and 135 °F), for businesses; USDA advice to consumers "
            "(40 to 140 °F, 2 hours, 1 hour above 90 °F). Two bands: for different kitchens.",
            Known.SECOND_HAND,
        ),
        (
            Region.EUROPE,
            "5 °C (41 °F) or colder. UK law: 8 °C at most; EU countries set their own.",
            "UK law (W.S.I. 2006/31, S.R. 2006/3, schedule 4: 8 °C) and Northern Ireland's "
            "business advice (0 to 5 °C recommended), read; that Regulation (EC) 852/2004 leaves "
            "the figure to each country, from memory. Scotland's law has no 8 °C.",
            Known.READ,
        ),
        (
            Region.OCEANIA,
            "5 °C (41 °F) or colder. Out of it: from 2 hours use it up, after 4 discard it.",
            "Australian fact sheets on Food Safety Standard 3.2.2, temperature and the 2-hour/"
            "4-hour guide, read; they say that the standard is not New Zealand's, where the same "
            "figures are from memory.",
            Known.READ,
        ),
    )
)

COOLING = tuple(
    _worded(
        "cooling",
        "Cool fast",
        frozenset({Hazard.COOLED}),
        (
            Region.ALL,
            "Shallow: to 21 °C (70 °F) in 2 hours, 5 °C (41 °F) in 4 more. UK: in 90 min.",
            "US FDA Food Code 3-501.14 (from 57 °C), second-hand; Australian Standard 3.2.2, "
            "clause 7 (from 60 °C), in a territory's guidance; New Zealand's food plan, "
            "second-hand, the same. UK trainers teach 90 minutes, some 2 hours.",
            Known.SECOND_HAND,
        ),
        (
            Region.US,
            "Spread it shallow: 57 to 21 °C (135 to 70 °F) in 2 hours, 5 °C (41 °F) by hour 6.",
            "US FDA Food Code 3-501.14.",
            Known.SECOND_HAND,
        ),
        (
            Region.EUROPE,
            "Spread it shallow, cool it fast (UK training: 90 minutes), then refrigerate.",
            "Northern Ireland's business advice: as quickly as possible, then into the "
            "refrigerator, read. The 90 minutes are a UK trainer's; another says 2 hours.",
            Known.SECOND_HAND,
        ),
        (
            Region.OCEANIA,
            "Spread it shallow: 60 to 21 °C in 2 hours, to 5 °C (41 °F) in 4 hours more.",
            "Australian Food Safety Standard 3.2.2, clause 7(3), in a territory's guidance; "
            "New Zealand's food plan, quoted by a maker of records.",
            Known.SECOND_HAND,
        ),
    )
)

ALLERGENS = tuple(
    _worded(
        "allergens",
        "Allergens",
        frozenset({Hazard.ALLERGENS}),
        *(
            (
                region,
                f"Ask, read labels ({lists}). Wash, rinse, sanitize, air-dry: not just wipe.",
                f"{source} That wiping dry leaves allergens, and what to do instead: common "
                "practice in food-safety training, from memory.",
                known,
            )
            for region, lists, source, known in (
                (
                    Region.ALL,
                    "lists differ",
                    "US: nine (Food, Drug, and Cosmetic Act 201(qq)); EU and UK: fourteen "
                    "(Regulation (EU) 1169/2011, Annex II); Australia and New Zealand: a table "
                    "of their own.",
                    Known.SECOND_HAND,
                ),
                (
                    Region.US,
                    "US law: 9",
                    "Federal Food, Drug, and Cosmetic Act 201(qq), with sesame since 2023: nine.",
                    Known.SECOND_HAND,
                ),
                (
                    Region.EUROPE,
                    "the law: 14",
                    "Regulation (EU) 1169/2011, Annex II: fourteen; the UK keeps the same list.",
                    Known.SECOND_HAND,
                ),
                (
                    Region.OCEANIA,
                    "own list",
                    "The page of the food standards authority of both countries: names to "
                    "declare, since 2021, full by 2024; it differs from the US and EU lists.",
                    Known.READ,
                ),
            )
        ),
    )
)

BURNS = tuple(
    _worded(
        "burns",
        "A burn",
        HEAT,
        *(
            (
                region,
                f"20 minutes under cool running water{also}; no ice, no cream. Large, or on face "
                "or hands: call the emergency number.",
                source,
                known,
            )
            for region, also, source, known in (
                (
                    Region.ALL,
                    " (US advice: 5 to 20)",
                    "ANZCOR guideline 9.1.3 and a UK first-aid charity (20 minutes), read. A US "
                    "guideline of 2024 says 5 to 20 minutes, second-hand; we print the longest.",
                    Known.READ,
                ),
                (
                    Region.US,
                    " (US advice: 5 to 20)",
                    "A joint US first-aid guideline of 2024: 5 to 20 minutes; summaries of it "
                    "disagree (at least 10, 10 to 15), so we print the longest.",
                    Known.SECOND_HAND,
                ),
                (
                    Region.EUROPE,
                    "",
                    "A UK first-aid charity: 20 minutes; its older page says 10.",
                    Known.READ,
                ),
                (
                    Region.OCEANIA,
                    ", useful up to 3 hours after",
                    "ANZCOR guideline 9.1.3 and an Australian state's burns service.",
                    Known.READ,
                ),
            )
        ),
    )
)

CAUTIONS: tuple[Caution, ...] = (
    *HANDS,
    Caution(
        key="raw-flour",
        heading="Flour is raw",
        text="Do not taste dough; bake it through; keep its dust low, off food and lungs.",
        brief="do not taste dough; keep its dust low",
        source="US FDA and CDC advice to consumers on raw flour, second-hand. Dust: common "
        "practice in bakeries, from memory.",
        known=Known.SECOND_HAND,
        hazards=frozenset({Hazard.FLOUR}),
    ),
    Caution(
        key="raw-egg",
        heading="Raw egg",
        text="Keep it cold, do not taste it, bake it through, wash up after it.",
        brief="keep it cold, do not taste it, wash up after",
        source="US FDA Food Code 3-801.11(F): egg mixed in just before baking, baked through.",
        known=Known.SECOND_HAND,
        hazards=frozenset({Hazard.RAW_EGG}),
    ),
    *COLD,
    *COOLING,
    *ALLERGENS,
    Caution(
        key="heat",
        heading="Heat, steam",
        text="Dry mitts, long sleeves; stand aside as door or lid opens; say “hot”.",
        brief="dry mitts; stand aside as it opens",
        source="US OSHA, young workers in restaurants (dry mitts, long sleeves, lids open away "
        "from you), and an insurer's page on ovens (stand to the side), read. That people say "
        "“hot”: common practice in teaching kitchens, from memory.",
        known=Known.READ,
        hazards=HEAT,
    ),
    *BURNS,
    Caution(
        key="mixer",
        heading="Mixer",
        text="Start slow. Hands, hair, sleeves and spoons stay out; unplug it to reach in.",
        brief="hands and sleeves out; unplug to reach in",
        source="Common practice in bakeries.",
        known=Known.FROM_MEMORY,
        hazards=frozenset({Hazard.MIXER}),
    ),
    Caution(
        key="blades",
        heading="Blades",
        text="Cut away from your fingers; lay them in sight, never in the sink.",
        brief="cut away from your fingers",
        source="Common practice in kitchens.",
        known=Known.FROM_MEMORY,
        hazards=frozenset({Hazard.BLADE}),
    ),
    Caution(
        key="floor",
        heading="Slips",
        text="Wipe up water, oil and flour at once. Closed shoes.",
        brief="wipe up at once",
        source="Common practice in kitchens; sturdy shoes as in the OSHA sheet above.",
        known=Known.FROM_MEMORY,
        hazards=frozenset({Hazard.FLOOR}),
    ),
)

DEFERRAL = (
    "Your local food authority, local codes and trained first-aiders come first, "
    "and may ask for more than this paper."
)


def cautions_for(
    hazards: Set[Hazard], region: Region, writing: Writing = PLAIN
) -> tuple[Caution, ...]:
    """The cautions of a class with these hazards, in the order they are printed."""
    turned = writing.in_order
    return tuple(
        replace(caution, text=turned(caution.text), brief=turned(caution.brief))
        for caution in CAUTIONS
        if caution.fits(hazards, region)
    )
