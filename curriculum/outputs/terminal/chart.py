"""The season as one row a skill and one character a week."""

from collections.abc import Sequence

from rich.console import Group, RenderableType
from rich.text import Text

from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.render import FAINT, STRONG, WIDTH, heading, say
from curriculum.practice.chart import Chart, ChartRow, ChartWeek, Mark, chart
from curriculum.wording import MONTHS

SIGNS: dict[Mark, str] = {"new": "N", "build": "o", "taught": "●", "review": "◇", "": "·"}
STYLES: dict[Mark, str] = {
    "new": "bold reverse",
    "build": "",
    "taught": "",
    "review": "",
    "": FAINT,
}
CLOSED = "▒"
LEGEND = "N new  o build  ● taught to the last stage asked  ◇ review  ▒ no practice"
NAME = 28
"""Characters of a skill's name at most."""

WIDEST = 3
"""Characters a week where there is room."""


def chart_view(plan: Plan, season: Season, library: Library, width: int = WIDTH) -> RenderableType:
    """Return the chart; weeks that do not fit into the width go into a second one below."""
    page = chart(plan, season, library)
    longest = max((len(row.name) for row in page.rows), default=5)
    name = min(longest, max(10, min(NAME, width // 2)))
    room = max(4, width - name - len("  times  "))
    stride = max(1, min(WIDEST, room // max(1, len(page.weeks))))
    room //= stride
    parts: list[RenderableType] = [heading(page.team, page.season)]
    for first in range(0, len(page.weeks), room):
        parts += [
            say(""),
            *_lines(page, range(first, min(first + room, len(page.weeks))), name, stride),
        ]
    parts += [say(""), say(LEGEND, FAINT), say("H home  A away  2 two games in the week", FAINT)]
    return Group(*parts)


def _lines(page: Chart, weeks: range, name: int, stride: int) -> list[RenderableType]:
    columns = [page.weeks[index] for index in weeks]
    games = "".join(f"{_game(week):{stride}}" for week in columns)
    lines = [
        _line("", name, _months(columns, stride), "", STRONG),
        _line("Week", name, _numbers(columns, stride), "times", FAINT),
        _line("Games", name, games, "", STRONG),
    ]
    strand = None
    for row in page.rows:
        if row.strand != strand:
            lines += [say(""), say(row.strand, STRONG)]
            strand = row.strand
        lines.append(_row(row, columns, weeks, name, stride))
    touched = "".join(f"{_digit(page.touched[index]):{stride}}" for index in weeks)
    lines += [say(""), _line("Skills this week", name, touched, "", FAINT)]
    return list(lines)


def _line(label: str, name: int, cells: str, end: str, style: str) -> Text:
    line = say(label, style)
    line.truncate(name, overflow="ellipsis", pad=True)
    line.append("  ")
    line.append(cells, style)
    line.append(f"  {end}", style)
    return line


def _row(row: ChartRow, columns: Sequence[ChartWeek], weeks: range, name: int, stride: int) -> Text:
    line = say(row.name)
    line.truncate(name, overflow="ellipsis", pad=True)
    line.append("  ")
    for week, index in zip(columns, weeks, strict=True):
        if week.closed:
            line.append(CLOSED, FAINT)
        else:
            line.append(SIGNS[row.marks[index]], STYLES[row.marks[index]])
        line.append(" " * (stride - 1))
    line.append(f"  {row.times:5}")
    return line


def _game(week: ChartWeek) -> str:
    if len(week.games) > 1:
        return _digit(len(week.games))
    if week.games:
        return "H" if week.games[0].home else "A"
    return CLOSED if week.closed else " "


def _digit(number: int) -> str:
    return "+" if number > 9 else str(number)


def _months(columns: Sequence[ChartWeek], stride: int) -> str:
    """Return each month's name from its first Monday on: three letters, one where that is tight."""
    labels = ""
    for start, week in enumerate(columns):
        month = week.monday.month
        if start and columns[start - 1].monday.month == month:
            continue
        room = stride * sum(1 for other in columns[start:] if other.monday.month == month)
        labels = f"{labels:{start * stride}}{MONTHS[month - 1][: 3 if room > 3 else 1]}"
    return f"{labels:{len(columns) * stride}}"


def _numbers(columns: Sequence[ChartWeek], stride: int) -> str:
    """Return the weeks' numbers: all where there is room, else the first and every fifth."""
    labels = ""
    for start, week in enumerate(columns):
        wanted = stride > 2 or week.number % 5 == 0 or start == 0
        if wanted and len(labels) <= start * stride:
            labels = f"{labels:{start * stride}}{week.number}"
    return f"{labels:{len(columns) * stride}}"
