"""How a piece is shaped, in a few words beside the drawings; all of it common practice."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Shaping:
    """A strip of drawings by its name, what it shows, and the words under each drawing."""

    key: str
    title: str
    steps: tuple[str, ...]

    @property
    def template(self) -> str:
        return f"handouts/_shape_{self.key}.html"

    @property
    def alt(self) -> str:
        """The text alternative for the drawings."""
        told = " ".join(f"{n}. {words}" for n, words in enumerate(self.steps, start=1))
        return f"{len(self.steps)} drawings of {self.title}. {told}"


ROUND = Shaping(
    "round",
    "shaping a round loaf",
    (
        "Pat it flat; pull the edge to the middle.",
        "Go all round until the folds meet; press them.",
        "Turn it over, the seam down.",
        "Draw it to you, hands cupped behind; turn, repeat.",
    ),
)
LOG = Shaping(
    "log",
    "shaping a log for a pan",
    (
        "Pat it flat, pan-wide; fold the far third over.",
        "Fold the near third over it.",
        "Roll it toward you; press the seam shut.",
        "Lay it in the greased pan, the seam down.",
    ),
)
BATARD = Shaping(
    "batard",
    "shaping a batard",
    (
        "Pat it to an oval; fold the far third over.",
        "Fold the near third over it.",
        "Roll it toward you; press the seam shut.",
        "Seam down, roll both ends to a taper.",
    ),
)
ROLL = Shaping(
    "roll",
    "rounding a roll",
    (
        "Pull the edge to the middle all round; pinch it.",
        "Set it down, the seam below, on a bare bench.",
        "Cup your hand over it and go in small circles.",
        "It is done when the skin is smooth and tight.",
    ),
)
RING = Shaping(
    "ring",
    "shaping a ring",
    (
        "Roll the piece up to a log; let it rest.",
        "Roll it from the middle outward to an even rope.",
        "Flatten one end; lay the other end on it.",
        "Pinch it. Open the hole wide: it closes in rising.",
    ),
)

# The last word of a piece's name; other pieces have no drawings.
KNOWN_WORDS = {
    **dict.fromkeys(("loaf", "round", "boule", "cob", "miche"), ROUND),
    **dict.fromkeys(("batard", "bâtard", "oval", "log", "stick"), BATARD),
    **dict.fromkeys(("roll", "bun", "ball"), ROLL),
    **dict.fromkeys(("ring", "wreath", "crown", "bagel"), RING),
}


def shaping_of(piece_name: str, *, fills_tin: bool) -> Shaping | None:
    """The drawings for a piece; `fills_tin` if it is alone in a loaf tin."""
    if fills_tin:
        return LOG
    words = piece_name.casefold().split()
    return KNOWN_WORDS.get(words[-1]) if words else None
