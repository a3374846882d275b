"""The catalogue: what one workshop can make. Strict, and a limit that can't be is refused.

Options (walls, rears, tops, colours, finishes) are lists; the first is where the sheet starts. Lengths in mm.
"""

import re
from collections.abc import Mapping

from orders.reckoning.language import said
from orders.reckoning.shape import Choice, EntryError, Flag, ListOf, Name, Number, Text, named

__all__ = ["CATALOGUE", "OPTION_LISTS", "CatalogueError", "option_of", "read_catalogue"]

CatalogueError = EntryError

_KEY = Name(64, least=1)
_LABEL = Name(80, least=1)
_SENTENCE = Text(600, least=1)
_EXPRESSION = Text(400, least=1)
_OPTION = named(key=_KEY, label=_LABEL)

_CASE = named(
    "fields at do", when=_EXPRESSION, says=_SENTENCE, fields=ListOf(_KEY, 0, 12), at=_KEY, do=_SENTENCE
)

# A check of the workshop's own, in the rule book's notation; the rule book reads the expressions.
_CHECK = named(
    "needs offer case",
    id=_KEY,
    level=Choice(("stop", "explain", "note")),
    fields=ListOf(_KEY, 0, 12),
    needs=ListOf(_KEY, 0, 24),
    when=_EXPRESSION,
    says=_SENTENCE,
    do=_SENTENCE,
    at=_KEY,
    offer=named("when", field=_KEY, value=_KEY, when=_EXPRESSION),
    source=_SENTENCE,
    case=ListOf(_CASE, 0, 6),
)

# The workshop's own shape: at each of the 19 stations from the top down, the girth as a share of the widest, and the
# section's depth over its breadth. The seventh is where the girth is taken.
STATIONS, WIDEST_AT = 19, 6
_PROFILE = named(
    girth_shares=ListOf(Number(0.3, 1), STATIONS, STATIONS),
    depth_over_breadth=ListOf(Number(0.6, 2), STATIONS, STATIONS),
)

CATALOGUE = named(
    "profile checks",
    schema=Choice(("shankline-catalogue-1",)),
    key=_KEY,
    name=_LABEL,
    finished_length_mm=named(least=Number(50, 1000), most=Number(50, 1000)),
    girth_mm=named(least=Number(50, 1500), most=Number(50, 1500)),
    strap=named(
        width_mm=Number(5, 100),
        clearance_mm=Number(0, 100),
        usual_upper_mm=Number(5, 400),
        usual_lower_mm=Number(5, 400),
        least_spacing_mm=Number(0, 600),
        comfortable_spacing_mm=Number(0, 600),
        mass_g=Number(0, 500),
    ),
    walls=ListOf(
        named(key=_KEY, label=_LABEL, wall_mm=Number(0.5, 25), density_kg_m3=Number(10, 9000)), 1, 12
    ),
    rears=ListOf(named(key=_KEY, label=_LABEL, reach=Number(0.05, 1), open_share=Number(0, 0.9)), 1, 12),
    tops=ListOf(named(key=_KEY, label=_LABEL, relief_mm=Number(0, 150)), 1, 12),
    colours=ListOf(_OPTION, 1, 60),
    finishes=ListOf(_OPTION, 1, 30),
    as_made=named(
        length_over_mm=Number(0, 20),
        length_under_mm=Number(0, 20),
        girth_mm=Number(0, 40),
        strap_place_mm=Number(0, 40),
    ),
    clearance_mm=named(still=Number(0, 60), moving=Number(0, 60)),
    trim_mm=Number(0, 60),
    trim_line_marked=Flag(),
    lead_time_days=Number(0, 365),
    profile=_PROFILE,
    checks=ListOf(_CHECK, 0, 40),
)

#: Field of the entry's shell, list of the catalogue in which it is chosen.
OPTION_LISTS = {"wall": "walls", "rear": "rears", "top": "tops", "colour": "colours", "finish": "finishes"}
# An own check stands apart from the rule book's: its id begins with "own.".
_OWN_ID = re.compile(r"own\.[a-z][a-z_]{1,50}")


def option_of(catalogue: Mapping, kind: str, key: str | None) -> Mapping | None:
    """The catalogue's option of a kind (wall, rear, top, colour, finish) by its key, or None."""
    return next((option for option in catalogue[OPTION_LISTS[kind]] if option["key"] == key), None)


def _refuse_unordered(catalogue: dict) -> None:
    for key in ("finished_length_mm", "girth_mm"):
        if catalogue[key]["least"] > catalogue[key]["most"]:
            raise CatalogueError(f"{key}.least", said("lies above the most."))
    strap = catalogue["strap"]
    if strap["least_spacing_mm"] > strap["comfortable_spacing_mm"]:
        raise CatalogueError("strap.least_spacing_mm", said("lies above the comfortable spacing."))
    if strap["least_spacing_mm"] < strap["width_mm"]:
        raise CatalogueError(
            "strap.least_spacing_mm", said("is less than a strap's width: the straps would overlap.")
        )
    for end in ("upper", "lower"):
        if strap[f"usual_{end}_mm"] < strap["width_mm"] / 2:
            raise CatalogueError(f"strap.usual_{end}_mm", said("is less than half of the strap's width."))
    if catalogue["clearance_mm"]["still"] > catalogue["clearance_mm"]["moving"]:
        raise CatalogueError("clearance_mm.still", said("lies above the clearance to what moves."))


def _refuse_exact(catalogue: dict) -> None:
    """A tolerance of zero can't be held, and nothing that was made could ever pass."""
    allowed = catalogue["as_made"]
    if allowed["length_over_mm"] + allowed["length_under_mm"] == 0:
        raise CatalogueError(
            "as_made.length_under_mm", said("is zero, and so is over: no shell comes out so exactly.")
        )
    for key in ("girth_mm", "strap_place_mm"):
        if allowed[key] == 0:
            raise CatalogueError(f"as_made.{key}", said("is zero: no shell comes out so exactly."))


def _refuse_misplaced_girth(catalogue: dict) -> None:
    """The girth that is measured is the widest, and its place on the shell is that of the seventh station."""
    profile = catalogue.get("profile")
    if profile and profile["girth_shares"][WIDEST_AT] != 1:
        raise CatalogueError(
            "profile.girth_shares", said("should be 1 at the seventh place, where the girth is taken.")
        )


def _refuse_doubled(catalogue: dict) -> None:
    for kind in OPTION_LISTS.values():
        keys = [option["key"] for option in catalogue[kind]]
        for n, key in enumerate(keys):
            if key in keys[:n]:
                raise CatalogueError(f"{kind}.{n}.key", said("“{key}” stands there twice.", key=key))
    ids = [check["id"] for check in catalogue["checks"]]
    for n, check_id in enumerate(ids):
        if not _OWN_ID.fullmatch(check_id):
            raise CatalogueError(
                f"checks.{n}.id", said("should be own. and small letters, such as own.dark_wall.")
            )
        if check_id in ids[:n]:
            raise CatalogueError(f"checks.{n}.id", said("“{key}” stands there twice.", key=check_id))


def _refuse_unmakable(catalogue: dict) -> None:
    """Not one shell could be made if the straps at their usual places had no room in the longest."""
    strap = catalogue["strap"]
    needed = strap["usual_upper_mm"] + strap["usual_lower_mm"] + strap["least_spacing_mm"]
    if needed > catalogue["finished_length_mm"]["most"]:
        raise CatalogueError(
            "finished_length_mm.most",
            said("leaves no room for the straps, which need {needed} mm.", needed=format(needed, "g")),
        )
    least_girth = 2 * 3.15 * max(wall["wall_mm"] for wall in catalogue["walls"])
    if catalogue["girth_mm"]["least"] <= least_girth:
        raise CatalogueError(
            "girth_mm.least",
            said(
                "leaves no inside within the thickest wall ({least_girth} mm).",
                least_girth=format(least_girth, "g"),
            ),
        )


def read_catalogue(value) -> dict:
    """A catalogue, read strictly.

    Parameters
    ----------
    value
        The catalogue as JSON values; its key set is `CATALOGUE`. Lengths in mm, densities in kg/m³.

    Returns
    -------
    dict
        The same, complete; `checks` is a list even where it was left out. The expressions in it aren't read
        here: the rule book does that.

    Raises
    ------
    CatalogueError
        With the dotted path of what can't be.
    """
    catalogue = CATALOGUE.read(value, "")
    catalogue["checks"] = catalogue["checks"] or []
    if catalogue["profile"] is None:
        del catalogue["profile"]
    _refuse_unordered(catalogue)
    _refuse_exact(catalogue)
    _refuse_misplaced_girth(catalogue)
    _refuse_doubled(catalogue)
    _refuse_unmakable(catalogue)
    return catalogue
