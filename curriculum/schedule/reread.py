"""A plan in words back into a timetable in numbers."""

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.schedule.instance import Instance, held_of
from curriculum.schedule.timetable import Timetable, dropped_pins
from curriculum.workload import Workload


def timetable_of(plan: Plan, gym: Gym, workload: Workload, instance: Instance) -> Timetable:
    """Return where a plan's blocks stand; what season or calendar no longer know is left out.

    A job's blocks end before the first that is missing.
    """
    place = {practice.id: index for index, practice in enumerate(gym.practices)}
    stands = {
        (node, number): place[practice]
        for node, number, practice in held_of(plan).blocks
        if practice in place
    }
    blocks = []
    for job in workload.jobs:
        row = []
        for number in range(1, job.blocks + 1):
            if (job.node, number) not in stands:
                break
            row.append(stands[job.node, number])
        blocks.append(tuple(row))
    skills = {workload.jobs[chain[0]].skill: n for n, chain in enumerate(instance.chains)}
    reviews: list[list[int]] = [[] for _ in instance.chains]
    for skill, practice in held_of(plan).reviews:
        if skill in skills and practice in place:
            reviews[skills[skill]].append(place[practice])
    found = Timetable(tuple(blocks), tuple(tuple(sorted(row)) for row in reviews))
    return Timetable(found.blocks, found.reviews, dropped_pins(instance, found))
