"""The picture of the map of skills: every box and arrow is there, and words stay in their boxes."""

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
import typst

from curriculum.outputs.pdf.typeset import FONTS
from curriculum.outputs.picture.graph import FILLS, map_svg
from curriculum.outputs.picture.shapes import bend, cut
from curriculum.practice.skillmap import SHADES, SkillMap, SkillNode, skill_map
from tests.sample_plan import LIBRARY, PLAN, SEASON

SVG = "{http://www.w3.org/2000/svg}"
MAP = skill_map(PLAN, SEASON, LIBRARY)


def large_map(name: str) -> SkillMap:
    """Return a map of seventy skills in seven columns, all of one name."""
    nodes = tuple(
        SkillNode(f"s{n}", name, "Moving without the ball", f"week {n % 30 + 1}", "first")
        for n in range(70)
    )
    needs = tuple((f"s{n}", f"s{n + 10}") for n in range(60))
    return SkillMap("Team", "Season", "70 skills", nodes, needs, (("first", "weeks 1 to 8"),))


def widths(texts: list[ET.Element], tmp_path: Path) -> list[float]:
    """Return the real width of each text in our own font, in the picture's units."""
    data = [
        [each.text, float(each.attrib["font-size"]), int(each.attrib["font-weight"])]
        for each in texts
    ]
    template = tmp_path / "measure.typ"
    template.write_text(
        "#let data = json(bytes(sys.inputs.data))\n"
        "#context [#metadata(data.map(each => measure(text(font: 'Barlow', stretch: 87.5%, "
        "size: each.at(1) * 1pt, weight: each.at(2), each.at(0))).width / 1pt)) <widths>]".replace(
            "'", '"'
        )
    )
    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[FONTS]
    )
    found = typst.query(
        template, "<widths>", font_paths=fonts, sys_inputs={"data": json.dumps(data)}
    )
    measured: list[float] = json.loads(found)[0]["value"]
    return measured


def test_every_skill_is_a_box_and_every_need_an_arrow() -> None:
    """Boxes, names and arrow heads are as many as the map has skills and needs."""
    drawn = ET.fromstring(map_svg(MAP))
    texts = [each.text for each in drawn.iter(f"{SVG}text")]

    assert len(list(drawn.iter(f"{SVG}rect"))) == len(MAP.nodes)
    assert len(list(drawn.iter(f"{SVG}polygon"))) == len(MAP.needs)
    assert [node.name for node in MAP.nodes if node.name not in texts] == []


@pytest.mark.parametrize(
    "skills",
    [
        MAP,
        large_map("Screen away in the motion"),
        large_map("Wszechstronnie przygotowana zasłona " * 3),
    ],
    ids=["sample", "many", "long names"],
)
def test_words_stay_in_their_boxes(skills: SkillMap, tmp_path: Path) -> None:
    """Measured in our own font, every line of words ends inside the box in which it begins."""
    drawn = ET.fromstring(map_svg(skills))
    boxes = [
        tuple(float(each.attrib[key]) for key in ("x", "y", "width", "height"))
        for each in drawn.iter(f"{SVG}rect")
    ]
    texts = list(drawn.iter(f"{SVG}text"))
    beyond = []
    for each, width in zip(texts, widths(texts, tmp_path), strict=True):
        x, y = float(each.attrib["x"]), float(each.attrib["y"])
        left, right = (x - width, x) if each.attrib.get("text-anchor") == "end" else (x, x + width)
        inside = any(
            at <= left and right <= at + wide and top <= y <= top + high
            for at, top, wide, high in boxes
        )
        if not inside:
            beyond.append(each.text)

    assert beyond == []


def test_letters_are_large_enough_to_read() -> None:
    """With seventy skills a name is still 2.2 mm, some six points, or more."""
    drawn = ET.fromstring(map_svg(large_map("Backdoor cut")))
    names = [each for each in drawn.iter(f"{SVG}text") if each.text == "Backdoor cut"]

    assert len(names) == 70
    assert min(float(each.attrib["font-size"]) for each in names) >= 2.2


def test_the_picture_says_in_words_what_it_is() -> None:
    """Title and text are escaped, and a reader hears how many skills there are."""
    named = SkillMap("T", "S", '2 "skills" & more', (), (), ())
    drawn = ET.fromstring(map_svg(named))

    assert drawn.attrib["role"] == "img"
    assert '2 "skills" & more' in drawn.attrib["aria-label"]


@pytest.mark.parametrize("shade", SHADES)
def test_text_on_every_shade_can_be_read(shade: str) -> None:
    """Contrast is 4.5 to 1 or more, by WCAG 2.1, success criterion 1.4.3."""

    def light(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        red, green, blue = (
            part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
        )
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    fill, ink = (light(colour) for colour in FILLS[shade])  # type: ignore[index]

    assert (max(fill, ink) + 0.05) / (min(fill, ink) + 0.05) >= 4.5


def test_a_line_between_points_of_one_height_is_straight() -> None:
    """Bends are drawn only where the height changes."""
    assert 'd="M0 5H10"' in bend([(0, 5), (10, 5)], "#000", 0.4)
    assert 'd="M0 5C5 5 5 9 10 9"' in bend([(0, 5), (10, 9)], "#000", 0.4)


@pytest.mark.parametrize(
    ("text", "most", "lines", "cuts"),
    [
        ("V-cut", 10, 1, ["V-cut"]),
        ("Screen away", 8, 1, ["Screen…"]),
        ("Screen away", 8, 2, ["Screen", "away"]),
        ("Screen away in the motion", 12, 2, ["Screen away", "in the moti…"]),
        ("Konstantynopol", 6, 2, ["Konst…"]),
    ],
)
def test_names_are_cut_visibly(text: str, most: int, lines: int, cuts: list[str]) -> None:
    """Words go on as many lines as there may be, and what is left out is shown by a sign."""
    assert cut(text, most, lines) == cuts
