"""Search for places of equal circles in a circle or a square.

`python -m tests.outside.circle_search circle 21 40 30` looks for 30 seconds at each number.
Many random starts are let slide apart at once, by a descent on how far they overlap. The best are
tightened by a sequence of linear programs until nothing moves, then shaken and tightened again.
What comes out are coordinates; whoever uses them computes the radius from them anew.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from itertools import combinations
from time import monotonic

import numpy as np
from ortools.linear_solver import pywraplp

BATCH = 96
SLIDES = 400
TIGHTENED = 4
DIGITS = 12
# From here on a step of the linear program is below the digits that are written down.
STILL = 1e-14
HOPE = 1.002
# Some degenerate programs go round in circles; those places are then taken as they are.
LONGEST_MS = 300

Points = np.ndarray


@dataclass(frozen=True)
class Round:
    """A circle of radius one about the origin."""

    area = np.pi

    def somewhere(self, chance: np.random.Generator, shape: tuple[int, ...]) -> Points:
        angle, far = chance.random(shape) * 2 * np.pi, np.sqrt(chance.random(shape))
        return np.stack([far * np.cos(angle), far * np.sin(angle)], -1)

    def push(self, points: Points, radius: float) -> tuple[Points, Points]:
        """How far each reaches through the wall, squared and summed, and its slope."""
        far = np.maximum(np.linalg.norm(points, axis=-1), 1e-12)
        over = np.maximum(far - (1 - radius), 0)
        return (over**2).sum(-1), (2 * over / far)[..., None] * points

    def to_wall(self, points: Points) -> float:
        return float(1 - np.linalg.norm(points, axis=1).max())

    def walls(self, point: Points) -> list[tuple[float, float, float]]:
        """Half planes (x, y, room): moving by (x, y) takes of the room."""
        far = float(np.linalg.norm(point))
        return [] if far < 1e-9 else [(point[0] / far, point[1] / far, 1 - far)]


@dataclass(frozen=True)
class Square:
    """A square of side one, its corner at the origin."""

    area = 1.0

    def somewhere(self, chance: np.random.Generator, shape: tuple[int, ...]) -> Points:
        return chance.random((*shape, 2))

    def push(self, points: Points, radius: float) -> tuple[Points, Points]:
        low, high = np.maximum(radius - points, 0), np.maximum(points - (1 - radius), 0)
        return (low**2 + high**2).sum((-1, -2)), 2 * (high - low)

    def to_wall(self, points: Points) -> float:
        return float(min(points.min(), 1 - points.max()))

    def walls(self, point: Points) -> list[tuple[float, float, float]]:
        x, y = map(float, point)
        return [(-1, 0, x), (1, 0, 1 - x), (0, -1, y), (0, 1, 1 - y)]


Pan = Round | Square
PANS: dict[str, Pan] = {"circle": Round(), "square": Square()}


def radius_of(pan: Pan, points: Points) -> float:
    """The radius at which circles at these places just do not meet each other or the wall."""
    gaps = [float(np.linalg.norm(a - b)) for a, b in combinations(points, 2)]
    return min([pan.to_wall(points), *(gap / 2 for gap in gaps)])


def slide_apart(pan: Pan, points: Points, radius: float) -> tuple[Points, Points]:
    """Batches of places after a descent on their overlaps, and what is left of those."""
    speed, damp = np.zeros_like(points), 0.9
    for step in range(SLIDES):
        across = points[:, :, None] - points[:, None]
        apart = np.sqrt((across**2).sum(-1)) + 1e-12
        over = np.maximum(2 * radius - apart, 0)
        over[:, range(over.shape[1]), range(over.shape[1])] = 0
        wall, slope = pan.push(points, radius)
        slope = slope - (2 * (over / apart)[..., None] * across).sum(2)
        speed = damp * speed - 0.12 * slope
        if step < SLIDES - 1:
            points = points + speed
    return points, (over**2).sum((1, 2)) / 2 + wall


def tighten(pan: Pan, points: Points) -> tuple[Points, float]:
    """The places moved, step by step, to where no small move gives the least gap more room."""
    radius, reach = radius_of(pan, points), 0.05
    while reach > STILL:
        moved = points + _best_move(pan, points, radius, reach)
        found = radius_of(pan, moved)
        if found > radius:
            gained, points, radius = found - radius, moved, found
            reach = reach if gained > reach / 50 else reach / 3
        else:
            reach /= 4
    return points, radius


def _best_move(pan: Pan, points: Points, radius: float, reach: float) -> Points:
    """What gives most room when every gap is taken to change as straight as it begins to."""
    solver = pywraplp.Solver.CreateSolver("GLOP")
    solver.SetTimeLimit(LONGEST_MS)
    scale = 1 / reach
    moves = [[solver.NumVar(-1, 1, "") for _ in range(2)] for _ in points]
    more = solver.NumVar(-10, 10, "")
    for (i, a), (j, b) in combinations(enumerate(points), 2):
        apart = float(np.linalg.norm(a - b))
        if apart > 2 * radius + 5 * reach:
            continue
        away = (a - b) / apart
        row = solver.Constraint(-solver.infinity(), (apart - 2 * radius) * scale)
        row.SetCoefficient(more, 2)
        for n, sign in ((i, -1), (j, 1)):
            for axis in range(2):
                row.SetCoefficient(moves[n][axis], sign * float(away[axis]))
    for n, point in enumerate(points):
        for x, y, room in pan.walls(point):
            row = solver.Constraint(-solver.infinity(), (room - radius) * scale)
            row.SetCoefficient(more, 1)
            row.SetCoefficient(moves[n][0], float(x))
            row.SetCoefficient(moves[n][1], float(y))
    solver.Maximize(more)
    if solver.Solve() != pywraplp.Solver.OPTIMAL:
        return np.zeros_like(points)
    return reach * np.array([[move.solution_value() for move in pair] for pair in moves])


def _shaken(pan: Pan, best: Points, chance: np.random.Generator) -> Points:
    """Copies of places, each with a few pieces put elsewhere and all nudged a little."""
    copies = np.repeat(best[None], BATCH, 0)
    copies += chance.normal(0, 0.02, copies.shape)
    elsewhere = pan.somewhere(chance, (BATCH, len(best)))
    few = chance.integers(1, max(2, len(best) // 6) + 1, BATCH)
    for n in range(BATCH):
        taken = chance.choice(len(best), min(int(few[n]), len(best)), replace=False)
        copies[n, taken] = elsewhere[n, taken]
    return copies


def search(
    pan: Pan, pieces: int, seed: int, seconds: float, goal: float | None = None
) -> tuple[Points, float]:
    """The best places found within so many seconds, or as soon as the radius is the goal.

    Overlaps are judged at the goal, or at a little more than was found so far: at a radius far
    too large the least overlaps lead to other places.
    """
    chance, ends = np.random.default_rng(seed), monotonic() + seconds
    best, radius = pan.somewhere(chance, (pieces,)), 0.0
    guess = float(np.sqrt(0.7 * pan.area / np.pi / pieces))
    while monotonic() < ends and (goal is None or radius < goal):
        fresh = radius == 0 or chance.random() < 0.6
        starts = pan.somewhere(chance, (BATCH, pieces)) if fresh else _shaken(pan, best, chance)
        slid, left = slide_apart(pan, starts, goal or radius * HOPE or guess)
        for n in np.argsort(left)[:TIGHTENED]:
            found, its_radius = tighten(pan, slid[n])
            if its_radius > radius + 1e-13:
                best, radius = found, its_radius
    return best, radius


def main() -> None:
    """Print what was found: name, pieces, radius, then a line of x and y a piece."""
    name, first, last, seconds = sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), float(sys.argv[4])
    seed = int(sys.argv[5]) if len(sys.argv) > 5 else 1
    for pieces in range(first, last + 1):
        points, radius = search(PANS[name], pieces, seed, seconds)
        lines = [f"{name} {pieces} {radius:.{DIGITS}f} {1 / radius:.9f}"]
        lines += [f"{x:.15f} {y:.15f}" for x, y in points]
        sys.stdout.write("\n".join(lines) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
