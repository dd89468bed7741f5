"""What an import did, in lines for eyes: every entry once, and what a second reading changes."""

from collections.abc import Iterator

from curriculum.gym.imports.found import FileReport, Report
from curriculum.gym.imports.imported import Imported
from curriculum.models.gymtimes import Closure, PracticeOn
from curriculum.models.season import Game
from curriculum.wording import moment_words


def report_lines(report: Report) -> Iterator[str]:
    """Yield what was understood and what was skipped and why, file by file."""
    for file in report.files:
        yield from _file_lines(file)


def _file_lines(file: FileReport) -> Iterator[str]:
    if file.refused:
        yield f"{file.file} ({file.means}): refused"
        return
    used, skipped = file.with_outcome("used"), file.with_outcome("skipped")
    yield (
        f"{file.file} ({file.means}): {len(used)} understood, {len(skipped)} skipped,"
        f" {file.outside} outside the season"
    )
    for item in used:
        yield f"  line {item.line}: {item.when} {item.title} -> {item.became}"
    for item in skipped:
        when = f"{item.when} " if item.when else ""
        yield f"  line {item.line}: {when}{item.title or 'no title'} skipped: {item.why}"
    for line, says in file.remarks:
        yield f"  line {line}: {says}" if line else f"  {says}"


def change_lines(before: Imported, after: Imported) -> tuple[str, ...]:
    """Return what a second reading adds, changes and takes away, in order of date and words."""
    old, new = dict(_named(before)), dict(_named(after))
    lines = [f"added: {new[key]}" for key in new if key not in old]
    lines += [f"removed: {old[key]}" for key in old if key not in new]
    lines += [
        f"changed: {old[key]} -> {new[key]}" for key in new if key in old and old[key] != new[key]
    ]
    return tuple(sorted(lines))


def _named(found: Imported) -> Iterator[tuple[tuple[str, ...], str]]:
    for closure in found.closures:
        yield ("closure", f"{closure.from_}", closure.venue or "", closure.reason), _closed(closure)
    for game in found.games:
        yield ("game", game.id), _game(game)
    for practice in found.practices:
        at = (f"{practice.date}", f"{practice.start}", practice.venue)
        yield ("practice", *at), _practice(practice)


def _closed(closure: Closure) -> str:
    until = f" to {closure.until}" if closure.until != closure.from_ else ""
    return f"{closure.from_}{until} {closure.reason}, {closure.venue or 'every gym'}"


def _game(game: Game) -> str:
    place = game.venue or game.address or ("home" if game.home else "away")
    return f"{moment_words(game.date, game.start)} {game.opponent}, {place}"


def _practice(practice: PracticeOn) -> str:
    when = moment_words(practice.date, practice.start)
    return f"{when} practice of {practice.minutes} minutes in {practice.venue}"
