import hashlib
import json
import uuid

import pytest

from capture.seal import MAX_BYTES, SealError, read_seal, sha256_of
from tests import factories

GOOD = {
    "schema": "shankline-seal-1",
    "id": "0f8fad5b-d9cb-469f-a165-70867728950e",
    "parent_sha256": None,
    "visit": {"id": "7c9e6679-7425-40de-944b-e07fc1f90ae7", "reference": " NF-0147 ", "initials": "L. H."},
    "workshop": "16fd2706-8baf-433b-82eb-8c7fada847da",
    "catalogue_version": 1,
    "book_sha256": "0" * 64,
    "sheet_build": "abc",
    "need_by": "2026-12-11",
    "deliver_to": None,
    "entries": [{"reference": "NF-0147"}],
    "photos": [],
}


def photo(changes: dict) -> dict:
    """A photo in which something was measured, with some of that changed."""
    return factories.named_photo("0" * 64, measured=factories.measured(400) | changes)


def raw(**changes) -> bytes:
    return json.dumps({**GOOD, **changes}).encode()


def test_a_seal_is_read_whole():
    seal = read_seal(raw())

    assert seal.id == uuid.UUID(GOOD["id"])
    assert (seal.reference, seal.initials) == ("NF-0147", "L. H.")
    assert seal.need_by.isoformat() == "2026-12-11"
    assert (seal.parent_sha256, seal.deliver_to) == ("", "")


def test_what_was_measured_in_a_photo_is_read_with_it():
    plain, with_places = read_seal(raw(photos=[factories.named_photo("1" * 64), photo({})])).photos

    assert plain["measured"] is None
    assert with_places["measured"] == factories.measured(400)


def test_the_hash_is_sha256_of_the_bytes():
    # FIPS 180-4, the example "abc"
    assert sha256_of(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert sha256_of(raw()) == hashlib.sha256(raw()).hexdigest()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"schema": "shankline-seal-9"}, "schema"),
        ({"id": "147"}, "id"),
        ({"id": 7}, "id"),
        ({"parent_sha256": "12ab"}, "parent_sha256"),
        ({"parent_sha256": ["x"]}, "parent_sha256"),
        ({"visit": None}, "visit"),
        ({"visit": {"id": GOOD["id"], "reference": "a"}}, "visit.initials"),
        ({"visit": {"id": GOOD["id"], "reference": "  ", "initials": ""}}, "visit.reference"),
        ({"visit": {"id": GOOD["id"], "reference": "x" * 41, "initials": ""}}, "visit.reference"),
        ({"visit": {"id": GOOD["id"], "reference": "a\u0000b", "initials": ""}}, "visit.reference"),
        ({"workshop": "tarn street"}, "workshop"),
        ({"catalogue_version": 0}, "catalogue_version"),
        ({"catalogue_version": True}, "catalogue_version"),
        ({"catalogue_version": 1.5}, "catalogue_version"),
        ({"book_sha256": "G" * 64}, "book_sha256"),
        ({"need_by": "11 Dec"}, "need_by"),
        ({"deliver_to": "x" * 201}, "deliver_to"),
        ({"deliver_to": 3}, "deliver_to"),
        ({"entries": []}, "entries"),
        ({"entries": [{}, {}, {}]}, "entries"),
        ({"entries": ["one"]}, "entries.0"),
        ({"photos": {}}, "photos"),
        ({"photos": [{"sha256": "0" * 64, "bytes": 5, "view": "rear", "entry": 0}]}, "photos.0.view"),
        ({"photos": [{"sha256": "0" * 64, "bytes": -5, "view": "side", "entry": 0}]}, "photos.0.bytes"),
        ({"photos": [{"sha256": "0" * 64, "bytes": 5, "view": "side", "entry": 2}]}, "photos.0.entry"),
        ({"photos": [photo({"what": "girth"})]}, "photos.0.measured.what"),
        ({"photos": [photo({"sheet": "a5"})]}, "photos.0.measured.sheet"),
        ({"photos": [photo({"size": [0, 100]})]}, "photos.0.measured.size.0"),
        ({"photos": [photo({"corners": [[0, 0]] * 3})]}, "photos.0.measured.corners"),
        ({"photos": [photo({"ends": [[0, 0], [0, "1"]]})]}, "photos.0.measured.ends.1.1"),
        ({"photos": [photo({"ends": [[0, 0], [0, 1e6]]})]}, "photos.0.measured.ends.1.1"),
        ({"photos": [photo({"mm": 402})]}, "photos.0.measured.mm"),
        ({"replies": [{"query": "x", "says": "yes"}]}, "replies.0.query"),
        ({"replies": [{"query": GOOD["id"], "says": "x" * 501}]}, "replies.0.says"),
        ({"colour": "slate"}, "colour"),
    ],
)
def test_what_is_wrong_is_told_with_its_key(changes, field):
    with pytest.raises(SealError) as error:
        read_seal(raw(**changes))

    assert error.value.field == field


def test_a_missing_key_is_told():
    without = {key: value for key, value in GOOD.items() if key != "visit"}

    with pytest.raises(SealError) as error:
        read_seal(json.dumps(without).encode())

    assert str(error.value) == "visit: is missing."


@pytest.mark.parametrize(
    ("bytes_sent", "says"),
    [
        (b"", "not JSON"),
        (b"\xff\xfe", "not JSON"),
        (b"[" * 200_000, "nested too deeply"),
        (b"[]", "should be a group of fields"),
        (b'{"a": NaN}', "NaN is no number"),
        (b'{"schema": 1, "schema": 2}', "schema: is given twice"),
        (b"{" + b" " * MAX_BYTES + b"}", f"is longer than {MAX_BYTES} bytes"),
    ],
)
def test_bytes_that_are_no_seal(bytes_sent, says):
    with pytest.raises(SealError) as error:
        read_seal(bytes_sent)

    assert says in str(error.value)
