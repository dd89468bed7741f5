"""One request as a page sees it: who asks, what they sent, and how they are answered."""

import json
from collections.abc import Mapping
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from curriculum.models.plan import Plan
from curriculum.problems import FaultyInputError, Problem
from curriculum.server.clubsite import ClubSite
from curriculum.server.coaches import Coach
from curriculum.server.keys import form_token
from curriculum.server.packing import packed, takes_gzip
from curriculum.server.site import Place, Site
from curriculum.server.views import render
from curriculum.workspace import Workspace

SEASON_PAGES = (
    ("/", "Season"),
    ("/plan", "Plan"),
    ("/progress", "Progress"),
    ("/load", "Load"),
    ("/skills", "Skills"),
    ("/edit", "Edit"),
    ("/prints", "Prints"),
    ("/calendars", "Calendars"),
)
CLUB_PAGES = (("/", "Teams"), ("/week", "Week"), ("/risks", "At risk"))


class RefusedError(Exception):
    """The request is answered with an error page: its status and a sentence."""

    def __init__(self, status: int, says: str) -> None:
        super().__init__(says)
        self.status = status
        self.says = says


@dataclass(frozen=True)
class Visit:
    """A request. coach: who is signed in; form: the fields sent, in order."""

    request: Request
    place: Place
    coach: Coach | None
    cookie: str
    form: tuple[tuple[str, str], ...] = ()

    @property
    def site(self) -> Site:
        """The season; TypeError on a club's own pages, which have none."""
        if not isinstance(self.place, Site):
            raise TypeError("this page belongs to no season")
        return self.place

    @property
    def club(self) -> ClubSite:
        """The club; TypeError on a season's pages."""
        if not isinstance(self.place, ClubSite):
            raise TypeError("this page belongs to no club")
        return self.place

    @property
    def base(self) -> str:
        """What stands before every path of this season, or of the club's own pages."""
        return base_path(self.request)

    @property
    def root(self) -> str:
        """What stands before every path of the whole server: a session is good for all below."""
        return root_path(self.request)

    @property
    def pages(self) -> tuple[tuple[str, str], ...]:
        """What can be gone to from every page, each with its name."""
        return SEASON_PAGES if isinstance(self.place, Site) else CLUB_PAGES

    @property
    def wants_data(self) -> bool:
        """Whether a script asks."""
        return "application/json" in self.request.headers.get("accept", "")

    def said(self, name: str) -> str:
        """Return what was typed into a field, "" when it was not there."""
        return next((text.strip() for field, text in self.form if field == name), "")

    def every(self, name: str) -> tuple[str, ...]:
        """Return all that was ticked under one name."""
        return tuple(text.strip() for field, text in self.form if field == name)

    def path(self, name: str) -> str:
        """Return a part of the address."""
        return str(self.request.path_params[name])

    def space(self) -> Workspace:
        """Return the season; raises FaultyInputError when its files are faulty."""
        opening = self.site.opening()
        if opening.workspace is None:
            raise FaultyInputError(opening.problems)
        return opening.workspace

    def planned(self) -> tuple[Workspace, Plan]:
        """Return the season with its plan; RefusedError when there is none yet."""
        space = self.space()
        if space.plan is None:
            raise RefusedError(404, "There is no plan yet. Make one on the page Plan.")
        return space, space.plan

    def page(self, template: str, code: int = 200, **context: object) -> Response:
        """Return a page."""
        body = render(
            template,
            base=self.base,
            root=self.root,
            pages=self.pages,
            coach=self.coach,
            token=form_token(self.cookie),
            here=self.request.url.path.removeprefix(self.base),
            **context,
        )
        # Children's names must not stay in a browser's store; the practice page is kept on purpose
        # by its own script, and thrown away when the coach signs out.
        headers = {
            "Cache-Control": "private, no-store",
            "X-Robots-Tag": "noindex, nofollow",
            "Vary": "Accept-Encoding",
        }
        data = body.encode()
        if takes_gzip(self.request.headers.get("accept-encoding", "")):
            headers["Content-Encoding"] = "gzip"
            data = packed(data)
        return Response(data, code, headers, "text/html; charset=utf-8")

    def data(self, data: Mapping[str, object], status: int = 200) -> Response:
        """Return an answer for a script."""
        headers = {"Cache-Control": "private, no-store"}
        return Response(json.dumps(data), status, headers, "application/json")

    def go(self, path: str) -> Response:
        """Send the browser to a page, to be fetched anew."""
        return RedirectResponse(f"{self.base}{path}", 303)

    def origin(self) -> str:
        """Return the address of this server as others reach it, without a slash at its end."""
        if self.place.public:
            return f"{self.place.public}{self.base}"
        url = self.request.url
        return f"{url.scheme}://{url.netloc}{self.base}"


def base_path(request: Request) -> str:
    """Return what stands before every path of the application that serves a request."""
    return str(request.scope.get("root_path", ""))


def root_path(request: Request) -> str:
    """Return what stands before every path of the outermost application."""
    return str(request.scope.get("app_root_path", base_path(request)))


def refusal(visit: Visit, status: int, says: str) -> Response:
    """Return a page, or data, that says no."""
    if visit.wants_data:
        return visit.data({"says": says}, status)
    return visit.page("refused.html", status, says=says, status=status)


def problems_page(visit: Visit, problems: tuple[Problem, ...]) -> Response:
    """Return what is wrong with the files; to coaches only, for it quotes them."""
    if visit.coach is None:
        return refusal(visit, 503, "This page cannot be shown at the moment.")
    if visit.wants_data:
        return visit.data({"says": " ".join(f"{each.sentence}." for each in problems)}, 422)
    what = "season" if isinstance(visit.place, Site) else "club"
    return visit.page("problems.html", 503, what=what, problems=plain(visit.place, problems))


def plain(place: Place, problems: tuple[Problem, ...]) -> list[dict[str, object]]:
    """Return problems as pages show them: without the place of the folder on this machine."""
    folder = f"{place.folder}/"
    return [
        {
            "file": each.file.removeprefix(folder).rpartition("/")[2],
            "line": each.line,
            "key": each.key,
            "says": _here(each.says, folder),
            "found": each.found,
            "way_out": _here(each.way_out, folder),
            "level": each.level,
        }
        for each in problems
    ]


def _here(words: str, folder: str) -> str:
    """Return words with the files of a folder by their names, and the folder itself as such."""
    return words.replace(folder, "").replace(folder.rstrip("/"), "FOLDER")
