"""The exact model of a season: teaching blocks and due reviews, some of them free to move."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from curriculum.schedule.exact.constraints import Load, capacity, order, pins
from curriculum.schedule.exact.objective import SCALE, add_comfort, add_moves, add_uneven
from curriculum.schedule.exact.variables import (
    FALSE,
    Matrix,
    Step,
    Sum,
    fixed,
    hinted,
    place_of,
)
from curriculum.schedule.instance import COULD, MUST, SHOULD, GoalLimit, Instance
from curriculum.schedule.tables import Tables, highest
from curriculum.schedule.timetable import Timetable
from curriculum.schedule.windows import windows_of


@dataclass(frozen=True)
class Frame:
    """What a model takes as given.

    hard: goals, by index, that must be met in time.
    caps: for each importance the most that may be missed of the goals that are not hard.
    prices: for each importance what a missed goal costs in comfort, by weight; none, no cost.
    days: what a day costs by which a must-goal is missed, by weight.
    dropped: how many pins may be given up.
    blocks, reviews: those that stand where they are: (job, number from 0) or (skill, number from 0)
    to a practice, -1 for nowhere.
    span: practices, as bits, in which the others may stand, everywhere unless given.
    goals_up_to: the least importance of goals whose jobs are in the model; others stand nowhere.
    with_comfort: whether comfort is in the objective. stay: whether changes against the plan that
    people know are, in place of comfort. fillings: see `constraints.capacity`.
    """

    hard: frozenset[int]
    caps: Mapping[int, int] = field(default_factory=dict)
    prices: Mapping[int, int] = field(default_factory=dict)
    blocks: Mapping[tuple[int, int], int] = field(default_factory=dict)
    reviews: Mapping[tuple[int, int], int] = field(default_factory=dict)
    span: int = -1
    with_comfort: bool = True
    days: int = 0
    dropped: int = 0
    goals_up_to: int = COULD
    fillings: bool = False
    stay: bool = False


@dataclass
class SeasonModel:
    """A matrix with the literals of each block and review."""

    matrix: Matrix
    steps: list[list[Step]]
    reviews: list[list[Step]]

    def hint(self, plan: Timetable) -> list[int]:
        """Return values of the columns of blocks and reviews that say what a plan says."""
        values = [0] * len(self.matrix.upper)
        for rows, placed in ((self.steps, plan.blocks), (self.reviews, plan.reviews)):
            for row, practices in zip(rows, placed, strict=True):
                for number, step in enumerate(row):
                    place = practices[number] if number < len(practices) else -1
                    hinted(step, place, values)
        return self.matrix.completed(values)

    def timetable(self, values: Sequence[int]) -> Timetable:
        """Return the timetable that a solution says."""
        return Timetable(_places(self.steps, values), _places(self.reviews, values))


def _places(rows: Sequence[Sequence[Step]], values: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    found = [[place_of(step, values) for step in row] for row in rows]
    return tuple(tuple(place for place in row if place >= 0) for row in found)


def season_model(tables: Tables, frame: Frame) -> SeasonModel:
    """Build the model: hard rules, goals as the frame says, and comfort unless it is left out."""
    instance = tables.instance
    count = instance.practices
    limits, required = demands(instance, frame.hard)
    windows = windows_of(tables, None, limits, required)
    wanted = _wanted(tables, frame.goals_up_to)
    matrix = Matrix()
    steps: list[list[Step]] = []
    loads: list[Load] = []
    for job, row in enumerate(tables.masks):
        steps.append([])
        for number, mask in enumerate(row):
            if number < tables.past[job]:
                step = fixed(mask.bit_length() - 1, count)
            elif not wanted[job]:
                step = fixed(count, count)
            elif (job, number) in frame.blocks:
                place = frame.blocks[job, number]
                step = fixed(place if place >= 0 else count, count)
            else:
                first, last = windows.first[job][number], windows.last[job][number]
                last = highest(mask & frame.span, last)
                matrix.impossible |= required[job] and last < first
                step = matrix.step(mask & frame.span, first, last, count, required=required[job])
            introduces = number == 0 and instance.introduces[job]
            steps[job].append(step)
            loads.append(Load(step, instance.minutes[job], introduces, instance.strand[job]))
    order(matrix, tables, steps)
    add_goals(matrix, instance, steps, frame)
    reviews: list[list[Step]] = [[] for _ in instance.chains]
    if frame.with_comfort:
        reviews = _reviews(matrix, tables, frame, steps)
    if frame.with_comfort and not frame.stay:
        add_uneven(matrix, instance, loads)
        add_comfort(matrix, instance, steps, reviews)
    if frame.stay:
        add_moves(matrix, instance, steps, reviews)
    pins(matrix, instance, steps, reviews if frame.with_comfort else None, frame.dropped)
    kept = [Load(step, instance.review_minutes) for row in reviews for step in row]
    capacity(matrix, instance, loads + kept, fillings=frame.fillings)
    return SeasonModel(matrix, steps, reviews)


def _wanted(tables: Tables, importance: int) -> list[bool]:
    """Return for each job whether it serves a goal or pin of this importance."""
    if importance == COULD:
        return [True] * len(tables.importance)
    return [each <= importance for each in tables.importance]


def demands(instance: Instance, hard: Iterable[int]) -> tuple[list[int], list[bool]]:
    """Return each job's limit in practices, and whether it must be reached, by these goals.

    What is held in full asks for nothing more, not even for what was passed over below it.
    """
    limits = [instance.practices] * len(instance.minutes)
    required = [False] * len(instance.minutes)
    for index in sorted(hard):
        goal = instance.goals[index]
        if goal.job >= 0:
            limits[goal.job] = min(limits[goal.job], goal.limit)
            required[goal.job] = True
    held = Counter(job for job, _, _ in instance.held)
    for job in reversed(range(len(required))):
        if required[job] and held[job] < instance.blocks[job]:
            for needed in instance.needs[job]:
                required[needed] = True
    return limits, required


def add_goals(
    matrix: Matrix, instance: Instance, steps: Sequence[Sequence[Step]], frame: Frame
) -> None:
    """Cap and price the goals that are not hard; must-goals are counted, the others weighed."""
    missed = {importance: Sum() for importance in (MUST, SHOULD, COULD)}
    for index, goal in enumerate(instance.goals):
        if goal.job < 0 or index in frame.hard:
            continue
        weight = goal.weight if goal.importance else 1
        met = steps[goal.job][-1][goal.limit - 1] if goal.limit else FALSE
        missed[goal.importance].constant += weight
        missed[goal.importance].add(met, -weight)
        price = SCALE * frame.prices.get(goal.importance, 0) * weight
        if goal.importance == MUST:
            price += SCALE * frame.days * goal.weight
            _add_days(matrix, instance, steps[goal.job][-1], goal, SCALE * frame.days)
        matrix.objective.constant += price
        matrix.objective.add(met, -price)
    for importance, most in frame.caps.items():
        matrix.at_most(missed[importance], most)


def _add_days(matrix: Matrix, instance: Instance, step: Step, goal: GoalLimit, price: int) -> None:
    """Add the days after the one after its due date on which a must-goal is not reached."""
    if not price:
        return
    for day in range(goal.due + 1, instance.horizon):
        place = bisect_right(instance.days, day) - 1
        matrix.objective.constant += price * goal.weight
        matrix.objective.add(step[place] if place >= 0 else FALSE, -price * goal.weight)


def _reviews(
    matrix: Matrix, tables: Tables, frame: Frame, steps: Sequence[Sequence[Step]]
) -> list[list[Step]]:
    """Return the literals of each skill's reviews, each after the one before it."""
    instance = tables.instance
    count = instance.practices
    opened = sum(
        1 << p
        for p in range(instance.first_open, count)
        if instance.usable[p] >= instance.review_minutes + instance.changeover[p]
    )
    found: list[list[Step]] = []
    for skill, chain in enumerate(instance.chains):
        held = [practice for each, practice in instance.reviews_held if each == skill]
        before = steps[chain[-1]][-1]
        row: list[Step] = []
        for number in range(review_count(instance, skill)):
            if number < len(held):
                step = fixed(held[number], count)
            elif (skill, number) in frame.reviews:
                place = frame.reviews[skill, number]
                step = fixed(place if place >= 0 else count, count)
            else:
                first = next((p for p, literal in enumerate(before) if literal != FALSE), count)
                first = tables.next_day[first] if first < count else count
                mask = opened & instance.allowed[chain[-1]] & frame.span
                step = matrix.step(mask, first, count - 1, count, required=False)
                _follow(matrix, tables, step, before)
            row.append(step)
            before = step
        found.append(row)
    return found


def review_count(instance: Instance, skill: int) -> int:
    """Return how many reviews of a skill matter: those held or due, pinned, or expected by people.

    Pins without a number are honoured by any review, also by one that is not due.
    """
    end = instance.chains[skill][-1]
    wanting = sum(pin.job == end and not pin.number for pin in filter(instance.asks, instance.pins))
    held = sum(each == skill for each, _ in instance.reviews_held)
    expected = 0
    if instance.noticed:
        later = sum(p >= instance.first_open for p in instance.former_reviews[skill])
        expected = held + later
    return max(max(len(instance.review_after), held) + wanting, expected)


def _follow(matrix: Matrix, tables: Tables, step: Step, before: Step) -> None:
    last = FALSE
    for practice, literal in enumerate(step):
        if literal != last:
            end = tables.last_day[practice]
            matrix.imply(literal, before[end] if end >= 0 else FALSE)
            last = literal
