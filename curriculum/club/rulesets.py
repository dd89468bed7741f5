"""Published guidance for children's basketball, to be switched on by a club; local rules go first.

Each set names its body and year, and whether the document itself was read or only reports of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from curriculum.graph import after, stage_graph
from curriculum.models.club import AgeGroup, RuleSetName
from curriculum.models.skills import Library

ZONE = "Against a zone"
SCREENS = "Screening"
WEEKS_A_MONTH = 52 / 12


@dataclass(frozen=True)
class Band:
    """What guidance says of some ages, both included; None where it says nothing.

    practices, games: fewest and most a week. practice, game: fewest and most minutes.
    hours: most a week, practices and games together. months: most a year.
    rest: fewest days a week without.
    """

    ages: tuple[int, int]
    practices: tuple[int, int] | None = None
    practice: tuple[int, int] | None = None
    games: tuple[int, int] | None = None
    game: tuple[int, int] | None = None
    hours: int | None = None
    months: int | None = None
    rest: int | None = None


@dataclass(frozen=True)
class RuleSet:
    """One published set of guidance.

    source: body, document, year. certainty: how it is known.
    zone_from, screens_from: first age at which these are played; None: it says nothing.
    hours_by_age: most hours a week are the player's years.
    """

    name: RuleSetName
    source: str
    certainty: str
    bands: tuple[Band, ...] = ()
    zone_from: int | None = None
    screens_from: int | None = None
    hours_by_age: bool = False


READ = "the document or its publisher's page was read"
REPORTED = "known from reports of it, not from the document itself"

RULE_SETS: tuple[RuleSet, ...] = (
    RuleSet(
        name="nba-usab",
        source=(
            "NBA and USA Basketball, Youth Basketball Guidelines (2016) and age-appropriate rules "
            "(2018); hours: DiFiori et al. (2018), Sports Medicine 48:2053-2065, Table 4"
        ),
        certainty=f"hours: {READ}; the rest: {REPORTED}",
        bands=(
            Band((7, 8), (1, 1), (30, 60), (1, 1), (20, 28), 3, 4, 2),
            Band((9, 11), (2, 2), (45, 75), (1, 2), (24, 32), 5, 5, 2),
            Band((12, 14), (2, 4), (60, 90), (2, 2), (28, 32), 10, 7, 1),
            Band((15, 18), (3, 4), (90, 120), (2, 3), (32, 36), 14, 10, 1),
        ),
        zone_from=12,
    ),
    RuleSet(
        name="nata",
        source="National Athletic Trainers' Association, official statement (October 2019)",
        certainty=READ,
        bands=(Band((3, 18), months=8, rest=2),),
        hours_by_age=True,
    ),
    RuleSet(
        name="aap",
        source=(
            "American Academy of Pediatrics, Pediatrics 153(2):e2023065129 (2024); days a week: "
            "Pediatrics 106(1):154-157 (2000)"
        ),
        certainty=f"figures: {REPORTED}",
        bands=(Band((3, 18), months=10, rest=2),),
    ),
    RuleSet(
        name="england",
        source="Basketball England, Guidelines for the No Zone Defence rule (in force since 2008)",
        certainty=READ,
        zone_from=14,
    ),
    RuleSet(
        name="australia",
        source="Basketball Australia, no zone at under-14 club championships (year not stated)",
        certainty=READ,
        zone_from=14,
    ),
    RuleSet(
        name="new-zealand",
        source="New Zealand miniball rules (2015), man-to-man up to under-16",
        certainty=REPORTED,
        zone_from=16,
    ),
    RuleSet(
        name="germany-u12",
        source="Deutscher Basketball Bund, rules for U11 and U12 (year not stated): no screens",
        certainty=f"{REPORTED}; that screens begin at 12 is inferred",
        screens_from=12,
    ),
)


def rule_set(name: RuleSetName) -> RuleSet:
    """Return a rule set by its name."""
    return next(each for each in RULE_SETS if each.name == name)


def barred(names: tuple[RuleSetName, ...], library: Library, group: AgeGroup) -> dict[str, RuleSet]:
    """Return the skills that guidance keeps from an age group, with the set that does.

    Zones: the strand against a zone. Screens: the screening strand. Both with every skill that
    waits for one of theirs. A set counts when the oldest of the group are younger than it says.
    """
    found: dict[str, RuleSet] = {}
    for name in names:
        rules = rule_set(name)
        for strand, first in ((ZONE, rules.zone_from), (SCREENS, rules.screens_from)):
            if first is not None and max(group.ages) < first:
                found = {**dict.fromkeys(_with_followers(library, strand), rules), **found}
    return dict(sorted(found.items()))


def _with_followers(library: Library, strand: str) -> set[str]:
    graph = stage_graph(library)
    own = {skill.id for skill in library.skills if skill.strand == strand}
    nodes = [node for node in graph if node[0] in own]
    return own | {node[0] for node in chain.from_iterable(after(graph, each) for each in nodes)}


def group_faults(names: tuple[RuleSetName, ...], group: AgeGroup) -> Iterator[tuple[RuleSet, str]]:
    """Yield where an age group's usual season leaves what guidance says, in words.

    A group is judged by the band of its youngest; games and practices count with all minutes.
    """
    for name in names:
        rules = rule_set(name)
        youngest = min(group.ages)
        band = next((b for b in rules.bands if youngest <= b.ages[1]), None)
        if band is not None:
            for says in _band_faults(band, group):
                yield rules, f"ages {band.ages[0]}-{band.ages[1]}: {says}"
        if rules.hours_by_age and _hours(group) > youngest:
            says = f"at most as many hours a week as years, {youngest}; this is {_hours(group):.1f}"
            yield rules, says


def _hours(group: AgeGroup) -> float:
    played = group.games * group.game_minutes
    return (group.practices * group.minutes + played) / 60


def _band_faults(band: Band, group: AgeGroup) -> Iterator[str]:
    ranges = (
        (band.practices, group.practices, "practices a week"),
        (band.practice, group.minutes, "minutes of a practice"),
        (band.game, group.game_minutes, "minutes of a game"),
    )
    for limits, value, what in ranges:
        if limits is not None and value > limits[1]:
            yield f"{what} at most {limits[1]}; this is {value}"
        elif limits is not None and value < limits[0]:
            yield f"{what} at least {limits[0]}; this is {value}"
    if band.games is not None and group.games > band.games[1]:
        yield f"games a week at most {band.games[1]}; this is {group.games}"
    if band.hours is not None and _hours(group) > band.hours:
        yield f"at most {band.hours} hours a week; this is {_hours(group):.1f}"
    months = group.weeks / WEEKS_A_MONTH
    if band.months is not None and months > band.months:
        yield f"at most {band.months} months a year; {group.weeks} weeks are {months:.1f}"
    days = group.practices + group.games
    if band.rest is not None and days > 7 - band.rest:
        yield f"at least {band.rest} days a week without; this leaves {7 - days}"
