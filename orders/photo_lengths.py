"""What was measured in an order's photos, reckoned here from the places that were put. No Django below here."""

from collections.abc import Iterable, Mapping

from orders.reckoning.homography import PhotoLength, Unmeasurable, photo_length


def length_in(measured: Mapping | None) -> PhotoLength | None:
    """The length that one photo's places give, as capture.seal reads them; None where they give none."""
    if not measured:
        return None
    try:
        return photo_length(measured["sheet"], measured["size"], measured["corners"], measured["ends"])
    except Unmeasurable:
        return None


def lengths_beside(photos: Iterable[Mapping]) -> dict[str, float]:
    """The quantities that one shell's photos give beside its entry. Twin: static/js/sheet/beside.js.

    Of two photos that show the same measure, the one that knows it better.
    """
    best: dict[str, PhotoLength] = {}
    for photo in photos:
        found = length_in(photo.get("measured"))
        if found:
            what = photo["measured"]["what"]
            best[what] = min(best.get(what, found), found, key=lambda length: length.U_mm)
    return {
        name: value
        for what, length in best.items()
        for name, value in ((f"photo_{what}_mm", length.mm), (f"photo_{what}_U_mm", length.U_mm))
    }
