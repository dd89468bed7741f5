"""What the referee says: the names of its rules, one breach, and the verdict on a plan."""

from dataclasses import dataclass

from curriculum.models.skills import Stage

THE_PLAN_ITSELF = "the plan itself"
INSIDE_THE_GYM_TIME = "inside the gym time"
LADDER = "ladder"
NEEDS_COME_FIRST = "needs come first"
NEW_IN_SMALL_BITES = "new in small bites"
QUIET_BEFORE_A_GAME = "quiet before a game"
ENOUGH_OF_ALL = "enough players, baskets and court"
PINS_AND_THE_PAST = "pins and the past"
HONEST_GOALS = "honest goals"

USUAL_AGE = "usual age"
LONG_GAPS = "long gaps"
WEEKLY_HOURS = "weekly hours"


@dataclass(frozen=True)
class Breach:
    """One rule not kept, or in a warning one caution.

    rule: the rule's name, one of the constants above; messages show it as it is.
    practice: id of the practice at fault, None when the whole plan is meant.
    skill, stage: what is at fault, None when it is no single skill.
    says: the fault in one sentence, with date, skill and numbers, without a full stop.
    """

    rule: str
    practice: str | None
    skill: str | None
    stage: Stage | None
    says: str

    def __str__(self) -> str:
        """Return the rule's name and the sentence."""
        return f"{self.rule}: {self.says}"


@dataclass(frozen=True)
class Verdict:
    """All breaches of a plan, rule by rule and in order of date; warnings never count as one."""

    breaches: tuple[Breach, ...]
    warnings: tuple[Breach, ...]
