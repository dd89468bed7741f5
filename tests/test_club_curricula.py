"""A club's curriculum: the matrix, what is judged of it, and what is proposed."""

from collections.abc import Iterable
from typing import Any

from curriculum.club.curricula.judge import Finding, judge_curriculum
from curriculum.club.curricula.matrix import Cell, column, matrix_of, standing
from curriculum.club.curricula.propose import propose
from curriculum.club.curricula.typical import prove, typical_season, usable_minutes
from curriculum.club.reading import read_club
from curriculum.gym.slots import calendar_of
from curriculum.models.club import Club, ClubCurriculum
from curriculum.models.skills import Library, Skill, StageWork
from tests.build import library, skill
from tests.club_build import club, columns, group, reach
from tests.test_club_reading import DEMO

PASS = skill("pass", unopposed=(1, 8), guided=(2, 8))
CUT = skill("cut", needs=("pass",), guided=(1, 8), live=(1, 10))


def findings(
    curriculum: ClubCurriculum, skills: Library | None = None, **tables: Any
) -> list[tuple[str, str, str, bool]]:
    """Return what is found in a curriculum: kind, group, words, whether it is an error."""
    judged = judge_curriculum(club(**tables), curriculum, skills or library(PASS, CUT))
    return [(each.kind, each.group, each.says, each.error) for each in judged.findings]


def test_the_matrix_shows_what_is_new_and_what_is_kept() -> None:
    """A stage stays reached in older groups, and is new where it is first reached."""
    found = matrix_of(
        club(),
        columns(reach("young", unopposed=["pass"]), reach("old", guided=["pass"])),
        library(PASS, CUT),
    )

    assert (found.groups, {row.skill: row.cells for row in found.rows}) == (
        (("young", "Young"), ("old", "Old")),
        {
            "pass": (Cell("unopposed", new=True), Cell("guided", new=True)),
            "cut": (None, None),
        },
    )


def test_a_sound_curriculum_has_nothing_against_it() -> None:
    """Needs in order, each taught once, all of the library: no finding, nothing left over."""
    judged = judge_curriculum(
        club(),
        columns(reach("young", guided=["pass"]), reach("old", live=["cut"])),
        library(PASS, CUT),
    )

    assert (judged.findings, judged.never, [proof.late for proof in judged.proofs]) == (
        (),
        (),
        [(), ()],
    )


def test_a_need_that_comes_later_is_an_error() -> None:
    """What a stage needs must be reached by its group or a younger one."""
    assert findings(columns(reach("young", guided=["cut"]), reach("old", guided=["pass"]))) == [
        (
            "need",
            "Young",
            "cut (guided) needs pass (guided), which this group and the younger ones do not reach",
            True,
        )
    ]


def test_a_step_back_is_an_error() -> None:
    """An older group that states less than a younger one has reached is told."""
    stated = columns(reach("young", guided=["pass"]), reach("old", unopposed=["pass"]))

    assert ("step back", "Old", "pass steps back to unopposed: Young reaches guided", True) in (
        findings(stated)
    )


def test_teaching_twice_is_told() -> None:
    """The same stage in two groups is taught twice from new."""
    stated = columns(reach("young", guided=["pass"]), reach("old", guided=["pass"]))

    assert findings(stated) == [
        (
            "twice",
            "Old",
            "pass (guided) is taught twice from new: Young reaches it already",
            False,
        )
    ]


def test_what_is_below_its_usual_age_is_told() -> None:
    """A stage usually taught from 12 on, in a group up to 9."""
    late = library(skill("zone", live=StageWork(blocks=1, minutes=10, age=12)))

    assert findings(columns(reach("young", live=["zone"])), late) == [
        ("age", "Young", "zone (live) is usually taught from age 12 on", False)
    ]


def test_what_lacks_players_is_an_error() -> None:
    """A stage for eight players in a group to which six come."""
    many = library(skill("five", live=StageWork(blocks=1, minutes=10, players=8)))
    small = (group("young", (8, 9), players=6),)

    assert (
        "players",
        "Young",
        "five (live) needs 8 players; 6 usually come",
        True,
    ) in findings(columns(reach("young", live=["five"])), many, age_group=small)


def test_hours_are_proved_by_a_schedule_not_by_a_sum() -> None:
    """Enough minutes and too few days: the sum would pass, the schedule does not.

    By hand: a season of 3 practices of 60 minutes has 3 x 33 usable minutes. Six blocks of 8 with
    a changeover of 1 take 54, so a sum is content. But one skill has no two blocks in a practice,
    so that 6 blocks need 6 practices.
    """
    slow = library(skill("shot", live=(6, 8)))
    short = (group("young", (8, 9), weeks=3),)
    judged = judge_curriculum(club(age_group=short), columns(reach("young", live=["shot"])), slow)

    assert [(p.needed, p.usable, p.practices, p.late) for p in judged.proofs] == [
        (54, 99, 3, (("shot", "live"),))
    ]
    assert judged.findings == (
        Finding(
            "hours",
            "Young",
            "a typical season of 3 practices does not reach Shot (live)",
            error=True,
        ),
    )


def test_what_is_never_taught_is_listed() -> None:
    """Stages above those reached, and skills that nobody states."""
    judged = judge_curriculum(
        club(), columns(reach("young", unopposed=["pass"])), library(PASS, CUT)
    )

    assert judged.never == (("pass", "guided"), ("cut", "guided"), ("cut", "live"))


def test_a_typical_season_has_the_groups_rhythm() -> None:
    """Ten weeks of one practice: ten practices, on one weekday, without holidays."""
    around = club()
    season = typical_season(around, around.age_group[0], [], [])
    practices = calendar_of(season).practices

    assert (len(practices), {each.date.weekday() for each in practices}) == (10, {2})
    assert usable_minutes(around, around.age_group[0]) == 10 * 33


def test_known_stages_are_not_taught_again() -> None:
    """An older group's proof starts from what the younger one reaches."""
    around = club()
    found = prove(
        around, library(PASS, CUT), around.age_group[1], [("cut", "live")], [("pass", "guided")]
    )

    assert (found.needed, found.late, found.last) == (9 + 11, (), 2)


def chain(length: int) -> tuple[Skill, ...]:
    """Return skills that wait for each other, two blocks of 8 minutes each."""
    return tuple(
        skill(f"s{n:02}", needs=(f"s{n - 1:02}",) if n else (), unopposed=(2, 8))
        for n in range(length)
    )


def taught(curriculum: ClubCurriculum) -> dict[str, set[str]]:
    """Return the skills of each group's column."""
    return {each.age_group: {skill for skill, _ in each.cells()} for each in curriculum.reach}


def test_a_proposal_spreads_evenly() -> None:
    """Ten skills of 18 minutes over two groups of 330 usable minutes: five each.

    By hand: 30 percent are 99 minutes, room for 5 x 18 = 90; 25 percent are 82, room for 4.
    """
    found = propose(club(), library(*chain(10)))

    assert (found.share, taught(found.curriculum), found.left) == (
        30,
        {
            "young": {f"s{n:02}" for n in range(5)},
            "old": {f"s{n:02}" for n in range(5, 10)},
        },
        (),
    )


def test_a_proposal_respects_age() -> None:
    """What is usually taught from 12 on goes to the older group, with all that waits for it."""
    skills = library(
        skill("zone", unopposed=StageWork(blocks=1, minutes=8, age=12)),
        skill("trap", needs=("zone",)),
        skill("pass"),
    )

    assert taught(propose(club(), skills).curriculum) == {
        "young": {"pass"},
        "old": {"zone", "trap"},
    }


def test_a_proposal_leaves_what_no_group_may_have() -> None:
    """A stage for older players than the club has is left over, and so is what waits for it."""
    skills = library(
        skill("dunk", unopposed=StageWork(blocks=1, minutes=8, age=18)),
        skill("alley", needs=("dunk",)),
        skill("pass"),
    )

    assert propose(club(), skills).left == (("alley", "unopposed"), ("dunk", "unopposed"))


def test_what_a_typical_season_cannot_hold_moves_on() -> None:
    """Six blocks of one skill do not fit 3 practices, whatever the sum says: older ones get it."""
    skills = library(skill("shot", live=(6, 8)), skill("pass"))
    groups = (group("young", (8, 9), weeks=3), group("old", (14, 15)))

    found = propose(club(age_group=groups), skills, share=90)

    assert taught(found.curriculum) == {"young": {"pass"}, "old": {"shot"}}


def errors_of(of: Club, curriculum: ClubCurriculum, skills: Library) -> Iterable[Finding]:
    """Return the errors among the findings."""
    return [each for each in judge_curriculum(of, curriculum, skills).findings if each.error]


def test_the_demo_curriculum_is_proposed_and_sound() -> None:
    """The demo's file is what the program proposes: every skill, no error, all seasons proved."""
    files = read_club(DEMO)
    assert files.library is not None
    found = propose(files.club, files.library)

    assert found.curriculum == files.curriculum
    assert errors_of(files.club, files.curriculum, files.library) == []
    assert [proof.late for proof in found.proofs] == [()] * 6
    assert found.left == ()


def test_columns_and_standing_add_up() -> None:
    """What a group stands on is what the younger groups' columns add up to."""
    around = club()
    stated = columns(reach("young", unopposed=["pass"]), reach("old", guided=["pass"]))
    young, old = around.age_group

    assert (column(around, stated, young), standing(around, stated, old)) == (
        (("pass", "unopposed"),),
        (("pass", "unopposed"),),
    )
    assert column(around, stated, old) == (("pass", "guided"),)
