"""A calendar on a CalDAV server (RFC 4791), spoken to through the `caldav` library."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any
from urllib.parse import unquote, urlsplit

from curriculum.publish.address import Login
from curriculum.publish.run import ChangedError, ServerError

SECONDS = 30
"""How long one answer may take."""
MOST_BYTES = 1_000_000
OK = (200, 201, 204)
CALENDAR = "{urn:ietf:params:xml:ns:caldav}calendar"
RESOURCE_TYPE = "{DAV:}resourcetype"
TAG = "{DAV:}getetag"


class CalDavServer:
    """One calendar; every method raises ServerError when the server cannot be used.

    Requests are made plainly and not through the library's objects, since these count SEQUENCE up
    on their own and write without regard to tags.
    """

    def __init__(self, address: str, login: Login) -> None:
        """Prepare to talk; nothing is sent yet.

        Raises:
            ServerError: The `caldav` library is not installed.

        """
        try:
            from caldav.davclient import DAVClient
        except ImportError:
            says = "publishing needs the library caldav: install curriculum[caldav]"
            raise ServerError(says) from None
        self._address = address
        self._client = DAVClient(
            address,
            username=login.user,
            password=login.password,
            timeout=SECONDS,
            enable_rfc6764=False,
        )

    def close(self) -> None:
        """Close the connection."""
        self._client.close()

    def open(self) -> None:
        """Make sure that the address is a calendar; where nothing stands yet, make one."""
        answer = self._ask("PROPFIND", "", headers={"Depth": "1"})
        if answer.status == 404:
            answer = self._ask("MKCALENDAR", "")
            if answer.status not in OK:
                raise ServerError(
                    f"there is no calendar at this address and none can be made ({answer.status})"
                )
            return
        found = self._found(answer)
        kinds = found.get(urlsplit(self._address).path, {}).get(RESOURCE_TYPE)
        if CALENDAR in _words(kinds):
            return
        inside = [
            path
            for path, one in sorted(found.items())
            if CALENDAR in _words(one.get(RESOURCE_TYPE))
        ]
        named = f"; calendars there: {', '.join(inside)}" if inside else ""
        raise ServerError(f"this address is no calendar{named}")

    def tags(self) -> Mapping[str, str]:
        """Return the tag of every entry in the calendar."""
        answer = self._ask("PROPFIND", "", headers={"Depth": "1"})
        if answer.status != 207:
            raise ServerError(f"the server does not list the calendar ({answer.status})")
        return {
            path.rpartition("/")[2]: str(one[TAG])
            for path, one in self._found(answer).items()
            if one.get(TAG) and not path.endswith("/")
        }

    def get(self, name: str) -> tuple[bytes, str]:
        """Return the bytes and the tag of an entry.

        Raises:
            ChangedError: It is gone.

        """
        answer = self._ask("GET", name)
        if answer.status in (404, 410):
            raise ChangedError(name)
        body = str(answer.raw).encode()
        if answer.status != 200 or len(body) > MOST_BYTES:
            raise ServerError(f"the server does not give an entry back ({answer.status})")
        return body, _tag(answer)

    def put(self, name: str, data: bytes, tag: str | None) -> str:
        """Write an entry in place of the one with this tag, None for a new one; return its tag.

        Raises:
            ChangedError: Another one stands there.

        """
        condition = {"If-None-Match": "*"} if tag is None else {"If-Match": tag}
        headers = {"Content-Type": "text/calendar; charset=utf-8", **condition}
        answer = self._ask("PUT", name, data.decode(), headers)
        if answer.status in (404, 409, 412):
            raise ChangedError(name)
        if answer.status not in OK:
            raise ServerError(f"the server refuses an entry ({answer.status})")
        # A server that rewrites what it stores gives no tag for what we sent (RFC 4791, 5.3.4).
        return _tag(answer) or self.get(name)[1]

    def delete(self, name: str, tag: str) -> None:
        """Remove the entry with this tag; one that is gone already is no fault.

        Raises:
            ChangedError: Another one stands there.

        """
        answer = self._ask("DELETE", name, headers={"If-Match": tag})
        if answer.status == 412:
            raise ChangedError(name)
        if answer.status not in (*OK, 404, 410):
            raise ServerError(f"the server does not remove an entry ({answer.status})")

    def _ask(
        self, method: str, name: str, body: str = "", headers: Mapping[str, str] | None = None
    ) -> Any:
        address = self._address + name
        with _in_words():
            if method == "PROPFIND":
                depth = int((headers or {})["Depth"])
                return self._client.propfind(address, [RESOURCE_TYPE, TAG], depth)
            return self._client.request(address, method, body, headers or {})

    def _found(self, answer: Any) -> dict[str, dict[str, Any]]:
        return {
            unquote(urlsplit(str(one.href)).path): one.properties for one in answer.results or ()
        }


@contextmanager
def _in_words() -> Iterator[None]:
    """Turn what the libraries raise about a connection into a sentence."""
    from caldav.lib.error import AuthorizationError, DAVError
    from caldav.lib.http_sync import requests

    try:
        yield
    except AuthorizationError:
        raise ServerError("the server refuses this name and password, or this calendar") from None
    except DAVError as fault:
        raise ServerError(f"the server does not understand us: {_first_line(fault)}") from None
    except requests.exceptions.RequestException as fault:
        raise ServerError(f"no connection to the server: {_first_line(fault)}") from None


def _first_line(fault: Exception) -> str:
    return (str(fault) or type(fault).__name__).splitlines()[0][:200]


def _words(kinds: Any) -> tuple[str, ...]:
    return tuple(kinds) if isinstance(kinds, list | tuple) else (str(kinds or ""),)


def _tag(answer: Any) -> str:
    return str(answer.headers.get("ETag") or "")
