"""How much one address may ask for: a bucket of requests that fills up again with time."""

import threading
from collections import OrderedDict
from dataclasses import dataclass
from time import monotonic

MOST_ADDRESSES = 4096
"""Addresses that are remembered; the one not seen for longest is forgotten first."""


@dataclass(frozen=True)
class Allowance:
    """How many requests may come at once, and how many a second after that."""

    burst: int
    rate: float


PAGES = Allowance(300, 20)
FEEDS = Allowance(3000, 1000)
"""Calendar programs of many families may come through one address, and cost next to nothing."""
UNKNOWN = Allowance(40, 1)
"""Requests for calendar addresses that were never given out."""
SIGN_IN = Allowance(8, 0.1)
"""Tries to sign in, from one address."""
SIGN_IN_ALL = Allowance(60, 1)
"""Tries to sign in, from anywhere: each takes 16 MB and a twentieth of a second."""


class Limiter:
    """Counts the requests of each address against one allowance."""

    def __init__(self, allowance: Allowance) -> None:
        self.allowance = allowance
        self._lock = threading.Lock()
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def wait(self, address: str) -> int:
        """Take one request; return 0, or the seconds to wait when there was none left."""
        now, allowance = monotonic(), self.allowance
        with self._lock:
            left, since = self._left.pop(address, (float(allowance.burst), now))
            left = min(allowance.burst, left + (now - since) * allowance.rate)
            enough = left >= 1
            self._left[address] = (left - 1 if enough else left, now)
            if len(self._left) > MOST_ADDRESSES:
                self._left.popitem(last=False)
        return 0 if enough else int((1 - left) / allowance.rate) + 1


class Limiters:
    """What is counted over all that one server serves; see the allowances."""

    def __init__(self) -> None:
        self.unknown = Limiter(UNKNOWN)
        self.sign_in = Limiter(SIGN_IN)
        self.sign_in_all = Limiter(SIGN_IN_ALL)
