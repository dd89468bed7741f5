"""Diagrams show what is executed, and nothing in them covers anything else."""

import re
from xml.etree import ElementTree as ET

import pytest

from curriculum.court.diagram import drill_picture, drill_svg
from curriculum.court.execute import execute
from curriculum.court.geometry import COURTS, distance
from curriculum.court.picture import Picture
from curriculum.court.wording import describe_frame
from curriculum.models.drills import Drill
from tests.drill_build import drill
from tests.library import shipped_library

SVG = "{http://www.w3.org/2000/svg}"
TOUCH = 0.02
"""Metres by which two shapes may touch; less than the width of a line."""


def collisions(picture: Picture) -> list[str]:
    """Return what covers what: numbers on players, numbers, arrows; players on players."""
    found = []
    left, top, right, bottom = picture.box
    for n, label in enumerate(picture.labels):
        x, y, size = *label.at, label.radius
        if x - size < left or x + size > right or y - size < top or y + size > bottom:
            found.append(f"number {label.text} leaves the picture")
        found += [
            f"number {label.text} on {mark.who or mark.kind}"
            for mark in picture.marks
            if mark.distance(label.at) < size - TOUCH
        ]
        found += [
            f"number {label.text} on number {other.text}"
            for other in picture.labels[:n]
            if distance(label.at, other.at) < size + other.radius - TOUCH
        ]
        found += [
            f"number {label.text} on the arrow of {arrow.move.by}"
            for m, arrow in enumerate(picture.arrows)
            if m != label.on and min(distance(label.at, point) for point in arrow.way) < 0.8 * size
        ]
    for n, mark in enumerate(picture.marks):
        found += [
            f"{mark.who or mark.kind} on {other.who or other.kind}"
            for other in picture.marks[:n]
            if distance(mark.at, other.at) < mark.radius + other.radius - TOUCH
        ]
    return found


@pytest.mark.parametrize("court", COURTS)
def test_nothing_covers_anything_in_the_library(court: str) -> None:
    """In every picture of every drill, on every court, numbers and players keep clear."""
    wrong = {
        (each.id, frame): faults
        for each in shipped_library().drills
        for frame in range(each.frames)
        if (faults := collisions(drill_picture(each, court, frame)))
    }

    assert wrong == {}


def test_a_collision_would_be_seen() -> None:
    """The check itself works: two defenders on one place cover each other."""
    crowded = drill("1 pass 2", spots=("1 top ball", "2 top", "line back"))

    assert "2 on 1" in collisions(drill_picture(crowded))


def test_every_picture_is_sound_svg_without_anything_fragile() -> None:
    """No ids, styles, markers or references, so that one string works in every renderer."""
    allowed = {"svg", "title", "desc", "path", "circle", "polygon", "text"}
    for each in shipped_library().drills:
        for frame in range(each.frames):
            root = ET.fromstring(drill_svg(each, frame=frame))
            tags = {element.tag.removeprefix(SVG) for element in root.iter()}
            keys = {key for element in root.iter() for key in element.attrib}

            assert (tags <= allowed, keys & {"id", "style", "class", "marker-end", "href"}) == (
                True,
                set(),
            ), each.id


def test_only_ink_paper_and_grey_are_used() -> None:
    """Nothing depends on colour: ink is the page's own, lines are grey."""
    colours = set(re.findall(r'(?:fill|stroke)="([^"]+)"', drill_svg(drill())))

    assert colours == {"currentColor", "#ffffff", "#8c8c8c", "none"}


def test_paper_can_follow_the_page() -> None:
    """A page with a dark mode gives its own paper, and no white is left."""
    assert "#ffffff" not in drill_svg(drill(), paper="var(--paper)")


def test_the_picture_says_what_it_shows() -> None:
    """The same words stand in the description, in the title's place, and in `describe_frame`."""
    root = ET.fromstring(drill_svg(drill()))

    assert (root.get("role"), root.get("aria-label"), root.findtext(f"{SVG}desc")) == (
        "img",
        f"A drill: {describe_frame(drill(), 0)}",
        describe_frame(drill(), 0),
    )


def test_names_are_escaped() -> None:
    """A drill's name may hold any sign."""
    root = ET.fromstring(drill_svg(drill(name='Stop & <go> "now"')))

    assert root.findtext(f"{SVG}title") == 'Stop & <go> "now"'


def test_a_shape_for_each_kind_of_action() -> None:
    """A pass is dashed; a dribble is longer than a cut of the same way, because it waves."""
    cut = ET.fromstring(drill_svg(drill("1 pass 2", "1 cut rim")))
    dribble = ET.fromstring(drill_svg(drill("1 dribble rim")))
    dashes = [path for path in cut.iter(f"{SVG}path") if path.get("stroke-dasharray")]

    assert (len(dashes), longest_ink(dribble) > 5 * longest_ink(cut)) == (1, True)


def longest_ink(root: ET.Element) -> int:
    """Return the most points of a line drawn in ink."""
    lines = [path for path in root.iter(f"{SVG}path") if path.get("stroke") == "currentColor"]
    return max(path.get("d", "").count("L") for path in lines)


def test_a_handoff_is_a_line_with_two_strokes() -> None:
    """Three lines of ink beside the one of the dribble and its head."""
    handed = drill("1 dribble 2", "1 handoff 2")
    root = ET.fromstring(drill_svg(handed))
    ink = [path for path in root.iter(f"{SVG}path") if path.get("stroke") == "currentColor"]

    assert len(ink) == 1 + 3


def test_marks_by_kind() -> None:
    """Attackers are discs, the coach a square, a cone a triangle, a line three small discs."""
    kinds = drill(
        "C pass 1",
        spots=("1 top", "C free-throw-line ball", "cone-1 left-elbow", "line back", "X1 guards 1"),
        rotation=("1 X1", "X1 line", "line 1"),
        coaches=1,
    )
    found = [mark.kind for mark in drill_picture(kinds).marks]

    assert found == ["attacker", "coach", "cone", "defender", "waiting", "waiting", "waiting"]


def test_actions_are_numbered_in_order_through_all_frames() -> None:
    """Numbers go on in the second picture, and two moves at a time share one."""
    found = drill("1 pass 2", "1 cut rim / together", "2 pass 1 / 2", "1 shot")
    numbers = [[label.text for label in drill_picture(found, frame=f).labels] for f in (0, 1)]

    assert numbers == [["1", "1"], ["2", "3"]]


def test_a_defender_who_only_adjusts_gets_no_arrow() -> None:
    """A step of less than 0.8 m is not drawn, and leaves no gap in the numbers."""
    found = drill(
        "1 pass 2",
        "X1 defend on 1",
        "2 pass 1",
        spots=("1 top ball", "2 left-wing", "X1 guards 1", "line back"),
        rotation=("1 2", "2 X1", "X1 line", "line 1"),
    )
    picture = drill_picture(found)

    assert [
        (label.text, arrow.move.do)
        for label, arrow in zip(picture.labels, picture.arrows, strict=True)
    ] == [
        ("1", "pass"),
        ("2", "pass"),
    ]


def test_an_arrow_ends_beside_the_receiver() -> None:
    """A pass stops short of the disc to which it goes, and starts outside its own."""
    (arrow,) = drill_picture(drill("1 pass 2")).arrows
    marks = {mark.who: mark for mark in drill_picture(drill("1 pass 2")).marks}

    assert (
        0.1 < marks["1"].distance(arrow.way[0]) < 0.35,
        0.1 < marks["2"].distance(arrow.way[-1]) < 0.35,
    ) == (True, True)


def test_a_cut_goes_round_who_stands_in_the_way() -> None:
    """The straight way from the top to the rim is blocked; the arrow bends."""
    blocked = drill(
        "1 pass 2",
        "1 cut rim",
        spots=("1 top ball", "2 left-wing", "3 free-throw-line", "line back"),
        rotation=("1 2", "2 3", "3 line", "line 1"),
    )
    picture = drill_picture(blocked)
    three = next(mark for mark in picture.marks if mark.who == "3")

    assert min(three.distance(point) for point in picture.arrows[1].way) > 0.05


def test_a_full_court_lies_on_its_side() -> None:
    """28 by 15 metres, wider than high, marks drawn larger."""
    left, top, right, bottom = drill_picture(drill(court="full", baskets=2)).box

    assert (round(right - left, 6), round(bottom - top, 6)) == (28.5, 15.5)


def test_the_same_drill_gives_the_same_bytes() -> None:
    """Nothing in a picture depends on the run."""
    first = drill_svg(drill())
    drill_svg.cache_clear()

    assert drill_svg(drill()) == first


def test_no_picture_beyond_the_last() -> None:
    """A drill of one frame has no second one."""
    with pytest.raises(IndexError):
        drill_svg(drill(), frame=1)


def words(of: Drill) -> str:
    """Return what all pictures of a drill say, one after the other."""
    return " ".join(describe_frame(of, frame) for frame in range(len(execute(of).frames)))


@pytest.mark.parametrize(
    ("actions", "said"),
    [
        (("1 pass 2",), "1 passes to 2."),
        (("1 pass 2", "1 cut rim via left-elbow"), "1 cuts by way of the left elbow to the rim."),
        (("1 dribble left-elbow",), "1 dribbles to the left elbow."),
        (("1 stop", "1 turn"), "1 stops on two feet. 1 pivots."),
        (("1 pass 2", "1 cut rim / together"), "1 passes to 2 while 1 cuts to the rim."),
        (("1 shot", "2 rebound"), "1 shoots. 2 rebounds."),
    ],
)
def test_actions_in_words(actions: tuple[str, ...], said: str) -> None:
    """Every action is a short sentence, in order."""
    start = "1 at the top; 2 on the left wing. 1 has the ball."

    assert words(drill(*actions)).removeprefix(start).strip().endswith(said)


def test_defenders_in_words() -> None:
    """Who guards whom is said, and what they do."""
    found: Drill = drill(
        "1 pass 2",
        "X1 defend on 1 deny",
        spots=("1 top ball", "2 left-corner", "X1 guards 1", "line back"),
        rotation=("1 2", "2 X1", "X1 line", "line 1"),
    )

    assert words(found) == (
        "1 at the top; 2 in the left corner; X1 guards 1. 1 has the ball. "
        "1 passes to 2. X1 denies 1."
    )
