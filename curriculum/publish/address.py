"""Where a calendar is published and by whom; passwords come from outside and go nowhere."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from urllib.parse import urlsplit, urlunsplit

from curriculum.problems import FaultyInputError, Problem

LOOPBACK = ("localhost", "127.0.0.1", "::1")
USER_VARIABLE = "CURRICULUM_CALDAV_USER"
PASSWORD_VARIABLE = "CURRICULUM_CALDAV_PASSWORD"  # noqa: S105
KEYRING_SERVICE = "curriculum"


@dataclass(frozen=True)
class Login:
    """Who publishes; the password is never shown, stored or logged."""

    user: str
    password: str = field(repr=False)


def server_address(text: str) -> str:
    """Return the HTTP address that a CalDAV address means, with a slash at its end.

    `caldav://` and `caldavs://` mean HTTPS, but plain HTTP on this very machine.

    Raises:
        FaultyInputError: It is no such address, holds a password, or would send one in the clear.

    """
    try:
        parts = urlsplit(text)
    except ValueError as fault:
        # What stands there may hold a password, and cannot be told apart.
        says, way_out = "not an address at all", "write caldav://host/path-of-calendar/"
        raise FaultyInputError([Problem("", 0, "--publish", says, "", way_out)]) from fault
    local = parts.hostname in LOOPBACK
    says = way_out = ""
    if parts.scheme not in ("caldav", "caldavs", "https", "http") or not parts.hostname:
        says, way_out = (
            "not the address of a CalDAV server",
            "write caldav://host/path-of-calendar/",
        )
    elif parts.password is not None:
        says = "an address must not hold a password"
        way_out = f"set {PASSWORD_VARIABLE} in the environment, or keep it in the keyring"
    elif parts.scheme == "http" and not local:
        says, way_out = "this would send the password in the clear", "write https:// or caldav://"
    elif parts.query or parts.fragment:
        says, way_out = "an address of a calendar ends with its path", "leave out ? and #"
    if says:
        shown = text if parts.password is None else f"{parts.scheme}://…@{parts.hostname}"
        raise FaultyInputError([Problem("", 0, "--publish", says, shown, way_out)])
    scheme = "http" if local and parts.scheme in ("caldav", "http") else "https"
    host = parts.netloc.rpartition("@")[2]
    return urlunsplit((scheme, host, parts.path.rstrip("/") + "/", "", ""))


def login_of(
    text: str,
    environment: Mapping[str, str],
    keyring: Callable[[str, str], str | None] | None = None,
) -> Login:
    """Return who publishes: the user of the address, else of the environment; never from a file.

    keyring: looks up the password of a service and user, when the environment holds none.

    Raises:
        FaultyInputError: User or password is nowhere to be found.

    """
    user = urlsplit(text).username or environment.get(USER_VARIABLE, "")
    if not user:
        way_out = f"write caldav://NAME@host/…, or set {USER_VARIABLE}"
        raise FaultyInputError([Problem("", 0, "--publish", "who publishes?", "", way_out)])
    password = environment.get(PASSWORD_VARIABLE, "")
    if not password and keyring is not None:
        password = keyring(KEYRING_SERVICE, user) or ""
    if not password:
        way_out = f"set {PASSWORD_VARIABLE}, or `keyring set {KEYRING_SERVICE} {user}`"
        raise FaultyInputError([Problem("", 0, "--publish", "no password found", user, way_out)])
    return Login(user, password)
