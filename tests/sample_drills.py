"""A few drills for the sample plan, so that its sheets show pictures, groups and kit."""

from curriculum.models.season import Group
from curriculum.practice.rows import Missed
from curriculum.practice.sheet import Sheet
from tests.drill_build import drill
from tests.sample_plan import BLOCKS, GYM, LIBRARY, PLAN, SEASON, sheet_of

GIVE_AND_GO = drill(
    id="pass-and-cut",
    name="Pass and cut",
    serves=("give-and-go@unopposed",),
    players=(3, 6),
    balls=1,
    how="Pass to the wing, cut to the rim, take the pass back and shoot.",
    cues=("Cut at once", "Show a hand"),
    easier="The wing stands nearer",
    harder="Weaker hand only",
)
GUIDED = drill(
    "1 pass 2",
    "1 cut rim",
    "2 pass 1 / 2",
    "1 shot",
    id="past-a-guide",
    name="Past a guide",
    serves=("give-and-go@guided",),
    spots=("1 top ball", "2 left-wing", "X1 guards 1", "cone-1 left-elbow", "line back"),
    rotation=("1 2", "2 X1", "X1 line", "line 1"),
    players=(3, 7),
    balls=1,
    rule="The guide makes one choice and keeps to it.",
    cues=("Watch the guide's feet",),
    cautions=("Rebounders wait until the cutter has landed",),
    easier="The guide stands still",
)
LIVE = drill(
    id="two-on-two",
    name="Two on two",
    serves=("give-and-go@live", "backdoor-cut@live"),
    spots=("1 top ball", "2 left-wing", "X1 guards 1", "X2 guards 2", "line back"),
    rotation=("1 X1", "2 X2", "X1 line", "X2 line", "line 1", "line 2"),
    players=(4, 8),
    balls=1,
    rule="No dribble. A basket off a cut counts double.",
)
FULL = drill(
    "1 dribble far-rim",
    "1 shot",
    id="end-to-end",
    name="End to end",
    serves=("strong-lay-up@guided", "strong-lay-up@unopposed"),
    spots=("1 top ball", "line left-corner"),
    rotation=("1 line", "line 1"),
    court="full",
    baskets=2,
    players=(1, 10),
    balls=4,
)
JUMP_STOP = drill(
    id="stop-and-pass",
    name="Stop and pass",
    serves=("jump-stop@unopposed",),
    players=(2, 4),
    balls=1,
    cues=("Quiet feet",),
)
CHEST_PASS = drill(
    id="two-lines", name="Two lines", serves=("chest-pass@unopposed",), players=(2, 6), balls=1
)
FAR_PASS = drill(
    id="wide-lines", name="Wide lines", serves=("chest-pass@unopposed",), players=(2, 6), balls=1
)

DRILLS = (GIVE_AND_GO, GUIDED, LIVE, FULL, JUMP_STOP, CHEST_PASS, FAR_PASS)
DRILLED = LIBRARY.model_copy(update={"drills": DRILLS})

GROUPED = SEASON.model_copy(
    update={
        "group": (
            Group(name="Terns", players=5, level="easier"),
            Group(name="Gannets", players=7, level="as written"),
        )
    }
)


def drilled(day: str, *, grouped: bool = True, missed: Missed | None = None) -> Sheet:
    """Return the sheet of a practice by month and day, with drills."""
    index = list(BLOCKS).index(day)
    season = GROUPED if grouped else SEASON
    return sheet_of(
        GYM.practices[index], PLAN.practices[index], season, DRILLED, PLAN, missed=missed
    )
