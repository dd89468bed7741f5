"""Reading goes on behind a fault, and never invents one."""

import tomllib

import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from curriculum.files.syntax import parse
from tests.test_files_positions import KEYS, VALUES


def told(text: str, *repeating: str) -> list[str]:
    """Return the faults of a text, each behind its line."""
    return [
        str(each).removeprefix("f:")
        for each in parse(text, "f", lambda: frozenset(repeating)).problems
    ]


@given(st.dictionaries(KEYS, VALUES, max_size=4))
def test_sound_text_is_read_as_it_stands(data: dict[str, object]) -> None:
    """What the standard reader accepts has no fault and the same values."""
    text = tomlkit.dumps(data)

    parsed = parse(text, "f")

    assert parsed.problems == ()
    assert parsed.data == tomllib.loads(text)


def test_each_of_many_faults_is_told() -> None:
    """Twelve faults in twelve lines are twelve sentences, and the sound lines are read."""
    text = """a = 17:30
b: 5
c = "x
d = [1 2]
[[slot
e = 2027-1-5
e = 1
f = yes
// g
h i = 1
j = 7,5
sound = 3
k ="""

    parsed = parse(text, "f", lambda: frozenset({"slot"}))

    assert [each.line for each in parsed.problems] == [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 13]
    assert parsed.data is not None
    assert parsed.data["d"] == [1, 2]
    assert [slot["sound"] for slot in _tables(parsed.data["slot"])] == [3]


def _tables(value: object) -> list[dict[str, object]]:
    return value if isinstance(value, list) else []


def test_more_faults_than_can_be_told_end_with_a_sentence() -> None:
    """After fifty faults reading stops, and says so."""
    lines = told("\n".join(f"a{number} = 17:30" for number in range(80)))

    assert len(lines) == 51
    assert lines[-1] == (
        "51: a50: reading stops here, because this line cannot be understood"
        " (found a50 = 17:30); correct it and what is told above, then look again"
    )


def test_a_header_that_cannot_be_read_makes_the_rest_unsure() -> None:
    """The keys below a lost header could belong anywhere, so that no values come back."""
    parsed = parse("[a]\nx = 1\n[größe]\nx = 2\n", "f")

    assert parsed.data is None
    assert [each.line for each in parsed.problems] == [3]


def test_a_text_in_three_quotes_is_blamed_where_it_begins() -> None:
    """The opening line is told, and what the text had swallowed is read."""
    parsed = parse('# """\na = """x\nb = 1\n', "f")

    assert [str(each) for each in parsed.problems] == [
        'f:2: a: the text that begins here with """ has no end (found """x); close it with """'
    ]
    assert parsed.data == {"a": "x", "b": 1}


def test_lists_that_run_into_the_next_statement() -> None:
    """A list without its end is told where it begins, before a key and before a table."""
    assert told("a = [1,\n  2\n\n# note\nb = 1\n") == [
        "1: a: the list that begins here is not closed; end line 2 with ]"
    ]
    assert told("a = [\n[[slot]]\nb = 1\n", "slot") == [
        "1: a: the list is not closed (found [); write a = []"
    ]


def test_a_key_of_many_lines_that_stands_twice() -> None:
    """All lines of the second value are passed over."""
    parsed = parse("a = 1\na = [\n1,\n]\nb = 2\n", "f")

    assert [str(each) for each in parsed.problems] == [
        (
            "f:2: this key stands twice in its table (found a = [); delete one; "
            "the other one is in line 1"
        )
    ]
    assert parsed.data == {"a": 1, "b": 2}


@settings(max_examples=200, deadline=None)
@given(st.text(st.sampled_from("ab=[]{}\"'#,.\\\n 1-:"), max_size=60))
def test_faults_are_told_if_and_only_if_there_are_any(text: str) -> None:
    """Whether there are problems is what the standard reader says, and all lines exist."""
    try:
        tomllib.loads(text)
    except ValueError:
        faulty = True
    else:
        faulty = False

    parsed = parse(text, "f")

    assert bool(parsed.problems) == faulty
    assert {each.line for each in parsed.problems} <= set(range(1, text.count("\n") + 2))
