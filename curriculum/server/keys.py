"""Secrets: how they are made, and what is kept of them so that a stolen file opens nothing."""

import hashlib
import hmac
import secrets

ALPHABET = "23456789abcdefghjkmnpqrstuvwxyz"
"""Letters and digits that nobody mistakes for each other when a key is typed by hand."""

GROUPS, GROUP = 5, 5
"""A key has five groups of five signs; the first only names it, the others carry 99 bits."""

COST = {"n": 2**14, "r": 8, "p": 1}
"""What scrypt takes (RFC 7914): about 16 MB and a twentieth of a second a try."""

TOKEN_BYTES = 24
"""Random bytes of an address or a session: 192 bits."""


def new_key() -> str:
    """Return a coach's key, five groups of five signs; the first group says which key it is."""
    return "-".join("".join(secrets.choice(ALPHABET) for _ in range(GROUP)) for _ in range(GROUPS))


def tidy(typed: str) -> str:
    """Return a key as it was made, however it was typed: capitals, blanks, no dashes."""
    signs = "".join(sign for sign in typed.lower() if sign in ALPHABET)[: GROUPS * GROUP]
    return "-".join(signs[place : place + GROUP] for place in range(0, len(signs), GROUP))


def name_of(key: str) -> str:
    """Return the group that says which key it is; it is no secret."""
    return key.partition("-")[0]


def salted(key: str, salt: bytes) -> bytes:
    """Return what is kept of a key."""
    return hashlib.scrypt(key.encode(), salt=salt, dklen=32, **COST)


def same(one: bytes, other: bytes) -> bool:
    """Compare in a time that tells nothing."""
    return hmac.compare_digest(one, other)


def new_token() -> str:
    """Return a token for an address or a session, safe in both."""
    return secrets.token_urlsafe(TOKEN_BYTES)


def digest(token: str) -> str:
    """Return what is kept of a token; it is random and long, so that no salt is needed."""
    return hashlib.sha256(token.encode()).hexdigest()


def form_token(cookie: str) -> str:
    """Return a fresh token for the forms of whoever holds a cookie.

    It differs every time, so that compressed pages tell nothing about it.
    """
    nonce = secrets.token_hex(8)
    return f"{nonce}.{_seal(cookie, nonce)}"


def holds(token: str, cookie: str) -> bool:
    """Whether a form's token belongs to a cookie."""
    nonce, _, seal = token.partition(".")
    return same(seal.encode(), _seal(cookie, nonce).encode())


def _seal(cookie: str, nonce: str) -> str:
    return hmac.new(cookie.encode(), f"form {nonce}".encode(), hashlib.sha256).hexdigest()
