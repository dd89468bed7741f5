"""Whatever stands in the way of reading a file is one clear sentence."""

from pathlib import Path

import pytest

from curriculum.files.text import read_text

START = "make one"


def told(path: Path) -> list[str]:
    """Return the problems of reading a file, its folder left out."""
    return [str(each).replace(f"{path.parent}/", "") for each in read_text(path, START).problems]


def test_text_is_read_with_plain_line_ends(tmp_path: Path) -> None:
    """Line ends of Windows and of old Macs become newlines, so that lines keep their numbers."""
    path = tmp_path / "a.toml"
    path.write_bytes("ä\r\nb\rc\n".encode())

    assert (read_text(path, START).text, told(path)) == ("ä\nb\nc\n", [])


def test_a_byte_order_mark_is_a_warning(tmp_path: Path) -> None:
    """The mark that some editors write is passed over, and said."""
    path = tmp_path / "a.toml"
    path.write_bytes(b"\xef\xbb\xbfa = 1")

    assert read_text(path, START).text == "a = 1"
    assert told(path) == [
        (
            "a.toml:1: warning: begins with an invisible byte order mark, which is passed over; "
            "save it as UTF-8 without BOM in your editor"
        )
    ]


def test_other_encodings_are_told_with_the_word(tmp_path: Path) -> None:
    """A file saved as Windows-1252 names the line and word; the rest is read on."""
    path = tmp_path / "a.toml"
    path.write_bytes('# one\nname = "Gym Süd"\nb = 2\n'.encode("cp1252"))

    assert read_text(path, START).text == '# one\nname = "Gym S\ufffdd"\nb = 2\n'
    assert told(path) == [
        'a.toml:2: this line is not UTF-8 text (found Süd"); save it as UTF-8 in your editor'
    ]


def test_a_missing_file_suggests_the_one_beside_it(tmp_path: Path) -> None:
    """A near name in the same folder is offered, else the usual way out."""
    path = tmp_path / "saeson.toml"
    assert told(path) == ["saeson.toml: there is no such file; make one"]

    (tmp_path / "season.toml").touch()

    assert told(path) == ["saeson.toml: there is no such file; did you mean season.toml?"]


def test_a_missing_folder_is_told(tmp_path: Path) -> None:
    """A file in a folder that is not there, or in a file, is missing."""
    (tmp_path / "file").touch()

    assert told(tmp_path / "gone" / "a.toml") == ["a.toml: there is no such folder; make one"]
    assert told(tmp_path / "file" / "a.toml") == ["a.toml: there is no such folder; make one"]


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    """A folder of a file's name is told."""
    path = tmp_path / "season.toml"
    path.mkdir()

    assert told(path) == ["season.toml: is a folder, not a file; name a file in it"]


def test_a_forbidden_file_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the system says stands in the sentence."""

    def refuse(_: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", refuse)

    assert told(tmp_path / "a.toml") == [
        "a.toml: cannot be read: permission denied; see who may read the file"
    ]


@pytest.mark.parametrize("data", [bytes(range(256)) * 9, "[season]\n".encode("utf-16-le")])
def test_what_is_no_text_is_told_once(tmp_path: Path, data: bytes) -> None:
    """A picture or a text without mark in sixteen bits is not told line by line."""
    path = tmp_path / "season.toml"
    path.write_bytes(data)

    assert told(path) == [
        "season.toml: is no text file, or is saved as UTF-16; save it as UTF-8 in your editor"
    ]
