"""What this app must be told about photos by the one that knows the orders they hang on. It registers here."""

import uuid
from collections.abc import Callable, Collection
from dataclasses import dataclass

from capture.models import Photo
from project.models import Member


@dataclass(frozen=True)
class Registered:
    """What an app that hangs photos on something must bring."""

    # The clinics that sent this member's workshop an order whose photo list names this hash.
    clinics_that_sent: Callable[[Member, str], Collection[uuid.UUID]]
    # Told of a photo once it is kept or set aside. May be told again of the same one: doing so must do no harm.
    arrived: Callable[[Photo], None]


_registered: list[Registered] = []


def register(app: Registered) -> None:
    """Names the one app that hangs photos on something; called when that app is ready."""
    _registered[:] = [app]


def clinics_that_sent(member: Member, sha256: str) -> Collection[uuid.UUID]:
    """The clinics whose photo with this hash this member's workshop may see; none while nobody has registered."""
    return _registered[0].clinics_that_sent(member, sha256) if _registered else ()


def arrived(photo: Photo) -> None:
    """Tells the registered app of a photo that is now accounted for."""
    if _registered:
        _registered[0].arrived(photo)
