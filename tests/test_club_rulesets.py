"""Published guidance by age: each figure as its source has it, and what a club is told."""

import pytest

from curriculum.club.curricula.propose import propose
from curriculum.club.rulesets import RULE_SETS, barred, group_faults, rule_set
from curriculum.files.library import read_library
from curriculum.files.shipped import shipped
from curriculum.models.club import RuleSetName
from curriculum.models.skills import Library
from tests.club_build import club, group


@pytest.fixture(scope="module")
def skills() -> Library:
    """Return the shipped library."""
    found, _, _ = read_library([shipped("skills")])
    assert found is not None
    return found


def test_the_bands_are_those_published() -> None:
    """Practices, minutes, games, hours, months and rest by age.

    Practices, lengths and games: NBA and USA Basketball, Youth Basketball Guidelines (2016). Hours
    a week: DiFiori et al. (2018), Sports Medicine 48:2053-2065, Table 4.
    """
    bands = rule_set("nba-usab").bands

    assert [(b.ages, b.practices, b.practice, b.games, b.game, b.hours, b.rest) for b in bands] == [
        ((7, 8), (1, 1), (30, 60), (1, 1), (20, 28), 3, 2),
        ((9, 11), (2, 2), (45, 75), (1, 2), (24, 32), 5, 2),
        ((12, 14), (2, 4), (60, 90), (2, 2), (28, 32), 10, 1),
        ((15, 18), (3, 4), (90, 120), (2, 3), (32, 36), 14, 1),
    ]


@pytest.mark.parametrize(
    ("name", "age", "allowed"),
    [
        # NBA and USA Basketball, age-appropriate rules (2018): no zone at 7-8 and 9-11.
        ("nba-usab", 11, False),
        ("nba-usab", 12, True),
        # Basketball England, Guidelines for the No Zone Defence rule: under-14 and younger.
        ("england", 13, False),
        ("england", 14, True),
        # Basketball Australia: under-14 club championships.
        ("australia", 13, False),
        # New Zealand miniball rules (2015): man-to-man up to under-16.
        ("new-zealand", 15, False),
        ("new-zealand", 16, True),
    ],
)
def test_zone_begins_where_each_body_lets_it(
    skills: Library, name: RuleSetName, age: int, *, allowed: bool
) -> None:
    """The oldest of a group must have the age from which a body allows zone defence."""
    bars = barred((name,), skills, group("g", (age - 1, age)))

    assert ("gap-spacing" not in bars) == allowed


def test_no_screens_for_the_youngest(skills: Library) -> None:
    """Under the German U11 and U12 rules neither screens nor what needs them are taught.

    Deutscher Basketball Bund, rules for U11 and U12, by secondary reports: all screens forbidden.
    """
    bars = barred(("germany-u12",), skills, group("u12", (10, 11)))
    strands = {skill.strand for skill in skills.skills if skill.id in bars}

    assert {"Screening", "Defence"} <= strands
    assert "defend-off-ball-screens" in bars
    assert "give-and-go" not in bars
    assert barred(("germany-u12",), skills, group("u14", (12, 13))) == {}


def test_without_rules_nothing_is_barred(skills: Library) -> None:
    """A club that switches no set on is not judged by any."""
    assert barred((), skills, group("u8", (6, 7))) == {}
    assert list(group_faults((), group("u8", (6, 7), practices=5))) == []


def test_a_proposal_follows_the_rules_switched_on(skills: Library) -> None:
    """With England's rule zone skills go to the group of 14 and 15, without to that of 12 and 13.

    The library's own age for them is 14, so a library without that age is tried.
    """
    free = Library(
        skills=tuple(
            skill.model_copy(
                update={
                    stage: skill.work(stage).model_copy(update={"age": None, "players": None})
                    for stage in skill.stages
                }
            )
            for skill in skills.skills
        )
    )
    groups = (
        group("u14", (12, 13), weeks=30, practices=3, minutes=120),
        group("u16", (14, 15), weeks=30, practices=3, minutes=120),
    )

    def first(rules: tuple[RuleSetName, ...]) -> str:
        of = club(age_group=groups, frame={"rules": rules})
        found = propose(of, free, share=90).curriculum
        return next(
            each.age_group
            for each in found.reach
            if "gap-spacing" in {skill for skill, _ in each.cells()}
        )

    assert (first(()), first(("england",))) == ("u14", "u16")


def test_a_season_beyond_the_guidance_is_told() -> None:
    """Each limit that a group's usual season passes is one sentence with its figures."""
    busy = group(
        "u8", (7, 8), practices=4, minutes=75, games=2, game_minutes=40, weeks=30, shortest=75
    )

    assert [says for _, says in group_faults(("nba-usab",), busy)] == [
        "ages 7-8: practices a week at most 1; this is 4",
        "ages 7-8: minutes of a practice at most 60; this is 75",
        "ages 7-8: minutes of a game at most 28; this is 40",
        "ages 7-8: games a week at most 1; this is 2",
        "ages 7-8: at most 3 hours a week; this is 6.3",
        "ages 7-8: at most 4 months a year; 30 weeks are 6.9",
        "ages 7-8: at least 2 days a week without; this leaves 1",
    ]


def test_a_recommended_week_passes() -> None:
    """The largest recommended week of 9 to 11 is within the cap: 2 x 75 + 2 x 32 = 214 minutes."""
    full = group("u12", (9, 11), practices=2, minutes=75, games=2, game_minutes=32, weeks=20)

    assert list(group_faults(("nba-usab",), full)) == []


def test_hours_by_age() -> None:
    """NATA (October 2019): hours a week at most the age in years."""
    busy = group("u10", (8, 9), practices=5, minutes=120)

    assert [says for _, says in group_faults(("nata",), busy)] == [
        "ages 3-18: at least 2 days a week without; this leaves 1",
        "at most as many hours a week as years, 8; this is 11.0",
    ]


def test_every_set_names_body_and_certainty() -> None:
    """A report can name who says so, and how well that is known."""
    assert all(each.source and each.certainty for each in RULE_SETS)
    assert len({each.name for each in RULE_SETS}) == len(RULE_SETS)
