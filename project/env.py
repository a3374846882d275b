"""What differs between machines, read from the environment. A wrong value is told with the name to set."""

import os

from django.core.exceptions import ImproperlyConfigured

TRUE, FALSE = {"1", "true", "yes", "on"}, {"0", "false", "no", "off", ""}


def text(name: str, default: str = "") -> str:
    """The variable as text."""
    return os.environ.get(name, default)


def flag(name: str, default: bool = False) -> bool:
    """The variable as yes or no."""
    value = os.environ.get(name)
    if value is None:
        return default
    if value.lower() in TRUE:
        return True
    if value.lower() in FALSE:
        return False
    raise ImproperlyConfigured(f"{name} is {value!r}; set it to 1 or 0")


def whole(name: str, default: int) -> int:
    """The variable as a whole number."""
    value = os.environ.get(name)
    if value is None:
        return default
    try:
        return int(value)
    except ValueError:
        raise ImproperlyConfigured(f"{name} is {value!r}; set it to a whole number") from None


def words(name: str, default: str = "") -> list[str]:
    """The variable as a list, split at commas."""
    return [word.strip() for word in text(name, default).split(",") if word.strip()]
