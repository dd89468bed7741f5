"""What may be recorded of a practice, and what each block of it means for the next plan."""

from typing import Any

import pytest
from pydantic import ValidationError

from curriculum.models.record import BlockRecord, Entry, Held, Players, Went
from tests.record_cases import entry

FAULTS: dict[str, tuple[dict[str, Any], str]] = {
    "a lost practice without a reason": ({"status": "lost"}, "a lost practice has a reason"),
    "a reason without loss": ({"reason": "rain"}, "a lost practice has a reason"),
    "a shortened practice without minutes": ({"status": "shortened"}, "how many minutes"),
    "minutes held of a whole practice": ({"minutes_held": 50}, "how many minutes"),
    "as many minutes as planned": ({"status": "shortened", "minutes_held": 75}, "to fewer"),
    "somebody absent from a lost practice": (
        {"status": "lost", "reason": "rain", "absent": ("Aoife",)},
        "nobody is absent",
    ),
    "a name twice": ({"absent": ("Aoife", "Aoife")}, "Aoife stands there twice"),
    "a name with a comma": ({"absent": ("Aoife, Bran",)}, "match pattern"),
    "a client id that is too short": ({"client": "c1"}, "match pattern"),
    "a practice id that is none": ({"practice": "../plan"}, "match pattern"),
}


def block(held: Held = "held", went: Went | None = None, **others: Any) -> BlockRecord:
    """Return the record of a block that builds on a give-and-go."""
    plain = {"skill": "give-and-go", "stage": "live", "kind": "build", "number": 1, "of": 2}
    return BlockRecord(**{**plain, "minutes": 10, "held": held, "went": went, **others})


@pytest.mark.parametrize("name", FAULTS)
def test_an_entry_says_one_thing(name: str) -> None:
    """What contradicts itself is refused with a sentence that says why."""
    changes, says = FAULTS[name]

    with pytest.raises(ValidationError, match=says):
        entry(**changes)


def test_a_block_of_a_lost_practice_is_not_held() -> None:
    """A practice cannot be lost and a block of it held."""
    lost = {"status": "lost", "reason": "rain"}

    with pytest.raises(ValidationError, match="in a lost practice no block is held"):
        entry(**lost, blocks=(block(),))
    assert entry(**lost, blocks=(block("not held"),)).really == 0


def test_a_stage_has_one_block_in_a_practice() -> None:
    """Two blocks of one stage in one practice are refused."""
    with pytest.raises(ValidationError, match="one block in a practice"):
        entry(blocks=(block(), block(number=2)))


def test_what_was_not_held_did_not_go_somehow() -> None:
    """A block that did not take place was neither solid nor shaky."""
    with pytest.raises(ValidationError, match="cannot have gone solid"):
        block("not held", "solid")


@pytest.mark.parametrize(
    ("held", "went", "counts", "more"),
    [
        ("held", None, True, False),
        ("held", "solid", True, False),
        ("held", "shaky", True, True),
        ("held", "not yet", False, False),
        ("partly", None, True, True),
        ("partly", "solid", True, False),
        ("partly", "shaky", True, True),
        ("partly", "not yet", False, False),
        ("not held", None, False, False),
    ],
)
def test_what_counts_and_what_asks_for_more(
    held: Held, went: Went | None, counts: bool, more: bool
) -> None:
    """Shaky counts and takes one block more; what was not yet or not held does not count."""
    found = block(held, went)

    assert (found.counts, found.asks_for_more) == (counts, more)


@pytest.mark.parametrize(("went", "counts"), [("solid", True), ("shaky", False), (None, True)])
def test_a_shaky_review_is_due_again(went: Went | None, counts: bool) -> None:
    """A review never makes its stage longer; when it was shaky, it was none."""
    found = block("held", went, kind="review")

    assert (found.counts, found.asks_for_more) == (counts, False)


@pytest.mark.parametrize(
    ("changes", "minutes"),
    [({}, 75), ({"status": "shortened", "minutes_held": 50}, 50)],
)
def test_minutes_really_held(changes: dict[str, Any], minutes: int) -> None:
    """A practice lasted as planned unless it was shortened."""
    assert entry(**changes).really == minutes


def test_an_entry_survives_its_file() -> None:
    """An entry read back from JSON is the entry."""
    full = entry(blocks=(block("partly", "shaky"),), absent=("Aoife",), note="loud", by="Niamh")

    assert Entry.model_validate_json(full.model_dump_json()) == full


def test_two_players_of_one_name_need_a_letter() -> None:
    """A list of players with a name twice is refused, because absences could mean either."""
    with pytest.raises(ValidationError, match="add a letter"):
        Players(players=("Emma", "Emma"))
