"""A small season folder to be recorded: one skill of two stages, Wednesdays and Fridays."""

from pathlib import Path

from tests.gym_season import WEDNESDAY

SEASON = """
[season]
id = "kestrel-quay-test"
name = "Winter term"
start = 2027-01-11
end = 2027-02-07
timezone = "Europe/Dublin"
library = ["skills"]

[team]
name = "Kestrel Quay Under-12"
ages = [10, 11]
players = 12

[[venue]]
id = "north-gym"
name = "North Gym"

[[goal]]
skill = "give-and-go"
stage = "guided"
need = "must"
"""
SLOTS = WEDNESDAY + WEDNESDAY.replace("wednesday", "friday")
SKILLS = """
strand = "Moving"

[[skill]]
id = "give-and-go"
name = "Give and go"
[skill.unopposed]
blocks = 2
[skill.guided]

[[skill]]
id = "v-cut"
name = "V-cut"
[skill.unopposed]
"""


def write_season(folder: Path) -> None:
    """Write the season and its library into a folder."""
    (folder / "skills").mkdir(parents=True)
    (folder / "skills" / "moving.toml").write_text(SKILLS, encoding="utf-8")
    (folder / "season.toml").write_text(SEASON + SLOTS, encoding="utf-8")
