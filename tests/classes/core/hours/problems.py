"""Random kitchens with random doughs, and random orders of machines, as problems of the hours.

Whatever is drawn, each job fits by itself into an empty kitchen that is late enough: windows are
no shorter than what has to happen in them, and no stay is larger than where it stands.
"""

from dataclasses import dataclass, replace

from hypothesis import strategies as st

from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Plan,
    PlannedOven,
    Problem,
    Resource,
    Since,
    Slot,
    Solved,
    Stay,
    Task,
    TaskOption,
    Use,
)

INSTRUCTOR, MIXER, CABINET = "instructor", "mixer", "cabinet"


@dataclass(frozen=True)
class Span:
    """At least so many minutes, and at most `slack` more; None is no limit."""

    least: int
    slack: int | None = None

    def lag(self, task, longer=0):
        most = None if self.slack is None else self.least + longer + self.slack
        return Lag(task, self.least + longer, most)


@dataclass(frozen=True)
class Fold:
    """A step in the middle of bulk: when after the mix, how long, and how long before dividing."""

    after: Span
    minutes: int
    before: int


@dataclass(frozen=True)
class Bread:
    """One dough from the scales to the cooling rack, in minutes."""

    by_mixer: int | None = 3
    by_hand: int | None = None
    mixer_and_hands: bool = False
    earliest: int = 0
    weigh: int = 0
    bulk: Span = Span(0)
    fold: Fold | None = None
    divide: int = 1
    rest: Span | None = None
    shape: int = 1
    proof: Span = Span(2)
    cabinet: int = 0
    pieces: int = 1
    bake: int = 4
    temperature_c: int = 230
    loader: str | None = "own"
    load: int = 1
    cool: int = 0
    clean: int = 0


@dataclass(frozen=True)
class Show:
    """The lead shows everybody how to shape, some time after dividing, and then does it."""

    after: Span
    minutes: int
    then: Span


@dataclass(frozen=True)
class Kitchen:
    """What there is, and what stops everybody: a break (start, minutes), tidying at the end."""

    mixers: int = 1
    cabinet: int = 0
    ovens: tuple[PlannedOven, ...] = (PlannedOven("oven1", "Oven 1", 4, 1),)
    degrees_a_minute: int = 5
    pause: tuple[int, int] | None = None
    tidy: int = 0


@dataclass(frozen=True)
class Part:
    """A dough's share of a problem."""

    tasks: list[Task]
    baking: Baking
    stays: list[Stay]


def hands_of(station):
    return f"{station} hands"


def one_way(minutes, *resources):
    return (TaskOption(minutes, tuple(Use(resource) for resource in resources)),)


def mixing(bread, hands):
    ways = ()
    if bread.by_mixer is not None:
        ways += one_way(bread.by_mixer, MIXER, *([hands] if bread.mixer_and_hands else []))
    if bread.by_hand is not None:
        ways += one_way(bread.by_hand, hands)
    return ways


def begun(bread, job, hands):
    """Tasks up to dividing."""
    mix, fold = f"{job} mix", bread.fold
    tasks, weighed, risen = [], (), [bread.bulk.lag(mix)]
    if bread.weigh:
        ways = one_way(bread.weigh, hands)
        tasks = [Task(f"{job} weigh", job, ways, earliest=bread.earliest)]
        weighed = (Lag(f"{job} weigh"),)
    tasks.append(Task(mix, job, mixing(bread, hands), weighed, bread.earliest))
    if fold:
        ways = one_way(fold.minutes, hands)
        tasks.append(Task(f"{job} fold", job, ways, (fold.after.lag(mix),)))
        meanwhile = fold.after.least + fold.minutes + fold.before
        risen = [bread.bulk.lag(mix, meanwhile), Lag(f"{job} fold", fold.before)]
    tasks.append(Task(f"{job} divide", job, one_way(bread.divide, hands), tuple(risen)))
    return tasks


def alone_min(bread, ovens):
    """Minutes from the first load to the last when the largest oven bakes alone."""
    largest = max(ovens, key=lambda oven: oven.slots)
    loads = -(-bread.pieces // largest.slots)
    return (loads - 1) * (bread.bake + largest.turnaround_min)


def part(bread, job, hands, kitchen, shown=None, show=None):
    """A dough of those with `hands`, shaped after what is `shown`; only the lead's has a `show`."""
    tasks = begun(bread, job, hands)
    if show:
        rested = [show.then.lag("lead show")]
        tasks.append(shown)
    else:
        rested = [bread.rest.lag(f"{job} divide")] if bread.rest else []
        rested += [Lag(shown.key)] if shown else []
    shape, bake = f"{job} shape", f"{job} bake"
    after = tuple(rested) or (Lag(f"{job} divide"),)
    tasks.append(Task(shape, job, one_way(bread.shape, hands), after))
    most = bread.proof.least + (bread.proof.slack or 0) + alone_min(bread, kitchen.ovens)
    baking = Baking(
        bake,
        job,
        bread.pieces,
        bread.bake,
        bread.temperature_c,
        (Lag(shape, bread.proof.least, most),),
        hands if bread.loader == "own" else bread.loader,
        bread.load if bread.loader else 0,
        bread.cool,
    )
    if bread.clean:
        loaded = Lag(bake, bread.load, since=Since.START)
        tasks.append(Task(f"{job} clean", job, one_way(bread.clean, hands), (loaded,)))
    stays = [Stay(CABINET, bread.cabinet, shape, bake)] if bread.cabinet else []
    return Part(tasks, baking, stays)


def class_problem(stations, kitchen, lead=None, show=None):
    """A class: `stations` are the breads of each, `lead` the instructor's own with a show."""
    people = [hands_of(f"s{n}") for n, _ in enumerate(stations, 1)]
    everybody = (*people, INSTRUCTOR)
    parts, shown = [], None
    if lead and show:
        lag = show.after.lag("lead divide")
        shown = Task("lead show", "lead", one_way(show.minutes, *everybody), (lag,))
    if lead:
        parts.append(part(lead, "lead", INSTRUCTOR, kitchen, shown, show))
    for n, breads in enumerate(stations, 1):
        for m, bread in enumerate(breads, 1):
            parts.append(part(bread, f"s{n} dough{m}", people[n - 1], kitchen, shown))
    return Problem(
        tasks=(
            *pauses(kitchen, everybody),
            *(task for one in parts for task in one.tasks),
            *tidying(kitchen, everybody, parts),
        ),
        resources=(
            *(Resource(key, key, 1) for key in everybody),
            Resource(MIXER, "Mixers", kitchen.mixers),
            Resource(CABINET, "Proof cabinet", kitchen.cabinet),
        ),
        bakings=tuple(one.baking for one in parts),
        ovens=kitchen.ovens,
        stays=tuple(stay for one in parts for stay in one.stays),
        degrees_a_minute=kitchen.degrees_a_minute,
    )


def pauses(kitchen, everybody):
    if not kitchen.pause:
        return ()
    start, minutes = kitchen.pause
    return (Task("break", "break", one_way(minutes, *everybody), (), start, start),)


def tidying(kitchen, everybody, parts):
    if not kitchen.tidy:
        return ()
    loaded = tuple(Lag(one.baking.key, one.baking.hands_min, since=Since.START) for one in parts)
    return (Task("tidy", "tidy", one_way(kitchen.tidy, *everybody), loaded),)


def nothing_is_fixed(problem):
    return all(task.latest is None for task in problem.tasks)


def later(solved, minutes):
    """The same plan, all of it so much later, and nothing known about a bound."""
    slots = {key: Slot(slot.start + minutes, slot.way) for key, slot in solved.plan.slots.items()}
    loads = tuple(replace(load, start=load.start + minutes) for load in solved.plan.loads)
    return Solved(Plan(slots, loads), solved.ready + minutes, 0, "late")


def minutes(least, most):
    return st.integers(least, most)


def spans(least, most, slack):
    return st.builds(Span, minutes(least, most), st.none() | minutes(0, slack))


def tight_spans(least, most, slack):
    return st.builds(Span, minutes(least, most), minutes(0, slack))


folds = st.builds(Fold, tight_spans(2, 10, 6), minutes(1, 3), minutes(0, 8))


@st.composite
def breads(draw):
    by_mixer, by_hand = draw(
        st.sampled_from([(3, None), (5, None), (4, 9), (3, 4), (6, 20), (None, 8)])
    )
    return draw(
        st.builds(
            Bread,
            by_mixer=st.just(by_mixer),
            by_hand=st.just(by_hand),
            mixer_and_hands=st.booleans(),
            earliest=st.just(0) | minutes(0, 12),
            weigh=minutes(0, 4),
            bulk=spans(0, 25, 12),
            fold=st.none() | folds,
            divide=minutes(1, 4),
            rest=st.none() | spans(0, 8, 6),
            shape=minutes(1, 6),
            proof=tight_spans(2, 20, 12),
            cabinet=minutes(0, 3),
            pieces=minutes(1, 9),
            bake=st.sampled_from([5, 8, 12]),
            temperature_c=st.sampled_from([180, 200, 203, 250]),
            loader=st.sampled_from(["own", "own", INSTRUCTOR, None]),
            load=minutes(0, 5),
            cool=minutes(0, 10),
            clean=minutes(0, 4),
        )
    )


def ovens_of(count):
    return st.tuples(
        *(
            st.builds(
                PlannedOven,
                st.just(f"oven{n}"),
                st.just(f"Oven {n}"),
                minutes(1, 6),
                minutes(0, 5),
                st.none() | minutes(0, 60),
            )
            for n in range(1, count + 1)
        )
    )


@st.composite
def class_problems(draw, most_stations=8):
    """A class of up to so many stations with one or two breads, each station one or both."""
    kinds = draw(st.lists(breads(), min_size=1, max_size=2))
    choices = st.permutations(kinds) | st.sampled_from(kinds).map(lambda kind: [kind])
    stations = draw(st.lists(choices, min_size=1, max_size=most_stations))
    lead = draw(st.none() | st.sampled_from(kinds))
    show = draw(st.none() | st.builds(Show, spans(0, 3, 8), minutes(1, 6), spans(0, 3, 5)))
    all_breads = [*(bread for one in stations for bread in one), *([lead] if lead else [])]
    amounts = [bread.cabinet for bread in all_breads]
    kitchen = draw(
        st.builds(
            Kitchen,
            mixers=minutes(1, 3),
            cabinet=minutes(max(amounts), sum(amounts)),
            ovens=minutes(1, 3).flatmap(ovens_of),
            degrees_a_minute=minutes(1, 10),
            pause=st.none() | st.tuples(minutes(0, 60), minutes(1, 10)),
            tidy=minutes(0, 5),
        )
    )
    return class_problem(stations, kitchen, lead, show)


@st.composite
def job_shops(draw, most_jobs=5, most_machines=4, longest=9):
    """Jobs that pass machines, each in an order of its own; some machines take two at once."""
    machines = [f"m{n}" for n in range(draw(minutes(1, most_machines)))]
    orders = draw(st.lists(st.permutations(machines), min_size=2, max_size=most_jobs))
    tasks = []
    for n, order in enumerate(orders):
        after, job = (), f"j{n}"
        for machine in order:
            key = f"{job} {machine}"
            tasks.append(Task(key, job, one_way(draw(minutes(1, longest)), machine), after))
            after = (Lag(key),)
    capacities = draw(st.tuples(*(st.sampled_from([1, 1, 2]) for _ in machines)))
    resources = tuple(map(Resource, machines, machines, capacities))
    return Problem(tuple(tasks), resources)
