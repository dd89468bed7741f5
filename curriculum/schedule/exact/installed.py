"""Whether the exact extra is installed; the only question that may be asked without it."""

from importlib import import_module


def installed() -> bool:
    """Return whether OR-Tools can be imported; its heavy parts are left for those who use them."""
    try:
        import_module("ortools")
    except ImportError:
        return False
    return True
