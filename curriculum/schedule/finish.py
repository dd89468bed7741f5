"""The last touches to a plan: nothing useless, work on missed goals, extra reviews in what is left.

What a plan's tiers promise is kept: goals and changes stay as they are, and extra reviews never
make a review come late.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import chain as chained

from curriculum.schedule.instance import COULD, SHOULD, Instance
from curriculum.schedule.past import passed_over
from curriculum.schedule.tables import Tables, lowest
from curriculum.schedule.timetable import Timetable, late_reviews, plan_value, tiers
from curriculum.schedule.windows import after


class Room:
    """What is still free in each practice of a plan."""

    def __init__(self, instance: Instance, plan: Timetable) -> None:
        self.instance = instance
        self.free = list(instance.usable)
        self.room = [instance.most_blocks] * instance.practices
        self.new = [instance.most_new] * instance.practices
        for job, placed in enumerate(plan.blocks):
            for number, practice in enumerate(placed):
                fresh = number == 0 and instance.introduces[job]
                self.take(practice, instance.minutes[job], fresh=fresh)
        for practice in chained.from_iterable(plan.reviews):
            self.take(practice, instance.review_minutes)

    def take(self, practice: int, minutes: int, *, fresh: bool = False) -> None:
        """Occupy a practice with a block."""
        self.free[practice] -= minutes + self.instance.changeover[practice]
        self.room[practice] -= 1
        self.new[practice] -= fresh

    def fits(self, practice: int, minutes: int, *, fresh: bool = False) -> bool:
        """Whether one more block fits by minutes, number of blocks and introductions."""
        return (
            self.room[practice] > 0
            and self.free[practice] >= minutes + self.instance.changeover[practice]
            and (not fresh or self.new[practice] > 0)
        )


def finished(tables: Tables, plan: Timetable) -> Timetable:
    """Return a plan without useless blocks, with work on missed goals and with extra reviews."""
    instance = tables.instance
    pruned = _pruned(tables, plan)
    if tiers(instance, pruned) <= tiers(instance, plan):
        plan = pruned
    plan = _before_reviews(tables, _worked_toward(tables, plan))
    return _filled(tables, plan)


def _pruned(tables: Tables, plan: Timetable) -> Timetable:
    """Leave out could-jobs that no reached goal or last stage needs, unless past or pinned."""
    instance = tables.instance
    useful = [
        bool(tables.past[job]) or tables.importance[job] < COULD
        for job in range(len(instance.minutes))
    ]
    for goal in instance.goals:
        if goal.job >= 0 and plan.reached(instance, goal.job) >= 0:
            useful[goal.job] = True
    for job, last in enumerate(instance.last):
        useful[job] |= last and plan.reached(instance, job) >= 0
    for job in reversed(range(len(useful))):
        for needed in instance.needs[job]:
            useful[needed] |= useful[job]
    blocks = [placed if useful[job] else () for job, placed in enumerate(plan.blocks)]
    return Timetable(tuple(blocks), plan.reviews, plan.dropped)


def filled_up(tables: Tables, plan: Timetable) -> Timetable:
    """Return a plan with all that is still asked for added where there is room, due reviews last.

    Nothing that stands is moved.
    """
    extra = _Reviews(tables, _worked_toward(tables, _worked_toward(tables, plan), COULD))
    extra.add_due()
    return extra.plan()


def _worked_toward(tables: Tables, plan: Timetable, least: int = SHOULD) -> Timetable:
    """Use free minutes for goals of this importance that are not reached, as far as they go.

    And for stages that were passed over: a later one of the skill has been held without them, so
    that no goal waits for them any more, but the skill is not reviewed before they are made good.
    """
    instance = tables.instance
    passed = {
        job
        for last in passed_over(instance.held, instance.chains, instance.blocks)
        for job in instance.chains[instance.skill[last]]
    }
    room = Room(instance, plan)
    blocks = [list(placed) for placed in plan.blocks]

    for job, placed in enumerate(blocks):
        if len(placed) == instance.blocks[job]:
            continue
        if tables.importance[job] > least and job not in passed:
            continue
        start = max(placed[-1:], default=-1)
        start = tables.next_day[start] if start >= 0 else 0
        for needed in instance.needs[job]:
            whole = len(blocks[needed]) == instance.blocks[needed]
            end = blocks[needed][-1] if whole else instance.practices
            start = max(start, after(tables, needed, job, end))
        while start < instance.practices and len(placed) < instance.blocks[job]:
            number = len(placed)
            fresh = number == 0 and instance.introduces[job]
            start = lowest(tables.masks[job][number], start)
            if start < 0:
                break
            if not room.fits(start, instance.minutes[job], fresh=fresh):
                start += 1
                continue
            room.take(start, instance.minutes[job], fresh=fresh)
            placed.append(start)
            start = tables.next_day[start]

    return Timetable(tuple(tuple(placed) for placed in blocks), plan.reviews, plan.dropped)


def _before_reviews(tables: Tables, plan: Timetable) -> Timetable:
    """Let reviews give way to must- and should-goals that are not reached at all.

    Comfort may ask for the reviews, since a skill that is never reached is never reviewed either;
    but a goal that is missed is still worked toward, and reviews never cost one.
    """
    instance = tables.instance
    kept = tuple(
        tuple(practice for practice in row if practice < instance.first_open)
        for row in plan.reviews
    )
    taught = _worked_toward(tables, replace(plan, reviews=kept))
    if _goals_reached(instance, taught) <= _goals_reached(instance, plan):
        return plan
    extra = _Reviews(tables, taught)
    for skill, row in enumerate(plan.reviews):
        for practice in row:
            if practice not in extra.reviews[skill] and extra.may_add(skill, practice):
                extra.add(skill, practice)
    extra.add_due()
    found = extra.plan()
    # All but comfort: no other goal, no pin, and no more changes than before.
    if plan_value(instance, found)[:-1] <= plan_value(instance, plan)[:-1]:
        return found
    return plan


def _goals_reached(instance: Instance, plan: Timetable) -> int:
    """Return how many must- and should-goals are reached, in time or not."""
    return sum(
        goal.job >= 0 and goal.importance < COULD and plan.reached(instance, goal.job) >= 0
        for goal in instance.goals
    )


class _Reviews:
    """The reviews of a plan while extra ones are added."""

    def __init__(self, tables: Tables, plan: Timetable) -> None:
        self.tables = tables
        self.before = plan
        self.instance = instance = tables.instance
        self.room = Room(instance, plan)
        self.reviews = [list(each) for each in plan.reviews]
        self.reached = [plan.reached(instance, chain[-1]) for chain in instance.chains]
        self.late = [self._late(skill, each) for skill, each in enumerate(plan.reviews)]

    def _late(self, skill: int, reviews: Sequence[int]) -> int:
        reached = self.reached[skill]
        if reached < 0:
            return 0
        return late_reviews(self.instance, self.instance.days[reached], tuple(reviews))

    def may_add(self, skill: int, practice: int) -> bool:
        """Whether a review may stand there without making another one come late."""
        instance, reached = self.instance, self.reached[skill]
        if not 0 <= reached < practice or practice < instance.first_open:
            return False
        if not instance.allowed[instance.chains[skill][-1]] >> practice & 1:
            return False
        if not self.room.fits(practice, instance.review_minutes):
            return False
        day = instance.days[practice]
        near = (reached, *self.reviews[skill])
        if any(abs(day - instance.days[other]) < instance.gap for other in near):
            return False
        return self.late_with(skill, practice) <= self.late[skill]

    def late_with(self, skill: int, practice: int) -> int:
        """Return the days by which a skill's reviews come late with one more of them."""
        return self._late(skill, sorted((*self.reviews[skill], practice)))

    def add(self, skill: int, practice: int) -> None:
        """Add a review."""
        self.room.take(practice, self.instance.review_minutes)
        self.reviews[skill] = sorted((*self.reviews[skill], practice))
        self.late[skill] = self._late(skill, self.reviews[skill])

    def add_due(self) -> None:
        """Add reviews at the first practices that make those which are due less late."""
        for skill, reached in enumerate(self.reached):
            practice = reached
            while practice >= 0 and self.late[skill] and practice < self.instance.practices:
                late = self.late[skill]
                if self.may_add(skill, practice) and self.late_with(skill, practice) < late:
                    self.add(skill, practice)
                practice += 1

    def plan(self) -> Timetable:
        """Return the plan with the reviews as they are now."""
        reviews = tuple(tuple(each) for each in self.reviews)
        return Timetable(self.before.blocks, reviews, self.before.dropped)

    def last_held(self, skill: int, practice: int) -> int:
        """Return the last practice up to this one in which a skill was held."""
        return max(
            (each for each in self.reviews[skill] if each <= practice), default=self.reached[skill]
        )


def with_expected_reviews(tables: Tables, plan: Timetable) -> Timetable:
    """Return a plan's blocks with the reviews that people expect, as far as there is room.

    Where reviews that are due are missing then, they are added at the first practice that helps.
    """
    held = tuple(
        tuple(practice for each, practice in tables.instance.reviews_held if each == skill)
        for skill in range(len(tables.instance.chains))
    )
    extra = _Reviews(tables, replace(plan, reviews=held))
    for skill, expected in enumerate(tables.instance.former_reviews):
        for practice in expected:
            if practice not in extra.reviews[skill] and extra.may_add(skill, practice):
                extra.add(skill, practice)
    extra.add_due()
    return extra.plan()


def _filled(tables: Tables, plan: Timetable) -> Timetable:
    """Fill each practice with extra reviews, the least recently held skill first."""
    instance = tables.instance
    extra = _Reviews(tables, plan)
    for practice in range(instance.first_open, instance.practices):
        if not extra.room.fits(practice, instance.review_minutes):
            continue
        ranked = sorted(
            (extra.last_held(skill, practice), skill)
            for skill, reached in enumerate(extra.reached)
            if 0 <= reached < practice
        )
        for _, skill in ranked:
            if extra.may_add(skill, practice):
                extra.add(skill, practice)
            elif not extra.room.fits(practice, instance.review_minutes):
                break
    return extra.plan()
