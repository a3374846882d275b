"""The workshop's questions on the phone: first on Visits, above their field, answered once and sealed."""

import json

import pytest

from capture.seal import read_seal

from .conftest import CATALOGUES, MadeUpPhotos, receipt_for, workshop

ENTRIES = CATALOGUES.parent / "entries"
ORDER, VISIT = "5f0c9a2e-0d55-4a5e-9c3e-1d8f6c0f2a11", "0b7e2f4c-6f64-4a53-8f0e-0d9c3a6b7e21"
HARDWARE, WALL, PHOTO = (f"00000000-0000-4000-8000-00000000000{number}" for number in (1, 2, 3))
SEALED, SHOWN = "a" * 64, "b" * 64


def question(number: str, field: str, text: str = "Is it so?") -> dict:
    return {
        "id": number,
        "side": "right",
        "field": field,
        "text": text,
        "asked_at": "2026-11-23T09:00:00+00:00",
    }


ABOUT_HARDWARE = question(HARDWARE, "knee.hardware_length", "Is 10.8 cm down to the second clamp?")
ABOUT_WALL = question(WALL, "shell.wall", "Is the thin wall meant?")
ABOUT_PHOTO = question(PHOTO, f"photo:{SHOWN}", "Which clamp is that?")


def asked_order(*questions: dict, **more) -> dict:
    entry = json.loads((ENTRIES / "polycentric.json").read_text(encoding="utf-8"))
    at = workshop("tarn-street-moulding-room", 0)
    return {
        "id": ORDER, "visit": VISIT, "reference": entry["reference"], "initials": "G. V.", "sides": [entry["side"]],
        "workshop": at["name"], "workshop_id": at["id"], "state": "queried", "contested": False,
        "seal_sha256": SEALED, "revision": 1, "need_by": None, "deliver_to": None, "entries": [entry],
        "photos": [{"sha256": SHOWN, "bytes": 1000, "view": "knee", "entry": 0}], "queries": list(questions),
    } | more  # fmt: skip


def server(*orders: dict) -> dict:
    """The made-up server's options: these orders, and their photo as one that it has."""
    return {"orders": list(orders), "photos": MadeUpPhotos(whole={SHOWN: "kept"})}


def reply_to(one, number: str) -> None:
    one.page.wait_for_selector(".asked")
    one.page.click(f"a[href='#order/{ORDER}/reply/{number}']")


def to_check(one) -> None:
    one.page.goto(one.page.url.rsplit("/", 1)[0] + "/check")
    one.at("check")
    one.page.wait_for_selector(".docked p")


def sent(one) -> dict:
    """Sends and gives the content of the seal that the server took last."""
    one.send()
    one.page.wait_for_selector(".docked:has-text('received')")
    raw = one.server.seals[-1][1]
    read_seal(raw)
    return json.loads(raw)


def test_the_question_stands_first_and_framed(phone):
    def walk(one):
        one.open()
        one.page.wait_for_selector(".asked")
        one.page.wait_for_selector(".asked svg.fg-mark")  # the drawings come with a later script
        heads = one.page.locator("h2").all_inner_texts()
        return heads, one.page.inner_text(".asked"), one.page.locator(".asked svg.fg-mark").count()

    heads, asked, legs = phone(walk, **server(asked_order(ABOUT_HARDWARE)))

    assert heads[0] == "Waiting for your reply"
    assert "NF-0139 G. V. · right" in asked
    assert "Tarn Street Moulding Room, on hardware length:" in asked
    assert "Is 10.8 cm down to the second clamp?" in asked
    assert legs == 1


def test_a_reply_from_another_phone_measures_again_and_names_what_it_answers(phone):
    def walk(one):
        one.open()
        reply_to(one, HARDWARE)
        one.at("knee.hardware_length")
        asked = one.page.inner_text(".question")
        one.type("11.6")
        to_check(one)
        return asked, sent(one)

    asked, seal = phone(walk, **server(asked_order(ABOUT_HARDWARE)))

    assert "Is 10.8 cm down to the second clamp?" in asked
    assert "sent as: 10.8 cm (108.0 mm)" in asked
    assert (seal["id"], seal["parent_sha256"], seal["visit"]["id"]) == (ORDER, SEALED, VISIT)
    assert seal["entries"][0]["knee"]["hardware_length"] == "11.6"
    assert seal["replies"] == [{"query": HARDWARE, "says": ""}]
    assert [photo["sha256"] for photo in seal["photos"]] == [SHOWN], "the photo goes on to the next revision"


def test_what_was_taken_as_given_is_no_answer(phone):
    """The wall stands at the workshop's first: asked about it, only another choice or words answer."""

    def walk(one):
        one.open()
        reply_to(one, WALL)
        one.at("shell.wall")
        to_check(one)
        not_yet = one.page.inner_text(".docked p")
        one.page.fill(f"#reply-{WALL}", "Yes, the thin one.")
        return not_yet, sent(one)

    not_yet, seal = phone(walk, **server(asked_order(ABOUT_WALL)))

    assert not_yet == "Not yet: one question waits for its answer"
    assert seal["replies"] == [{"query": WALL, "says": "Yes, the thin one."}]


def test_several_questions_are_answered_in_one_go(phone):
    def walk(one):
        one.open()
        reply_to(one, HARDWARE)
        one.at("knee.hardware_length")
        one.type("11.6")
        to_check(one)
        not_yet = one.page.inner_text(".docked p")
        one.page.fill(f"#reply-{HARDWARE}", "To the second clamp it is 11.6 cm.")
        one.page.fill(f"#reply-{WALL}", "The thin one.")
        seal = sent(one)
        left = one.page.locator(".questions").count()
        one.page.goto(one.page.url.split("#")[0] + "#visits")
        one.page.wait_for_selector(".row-state.received")
        return not_yet, seal, left, one.page.locator(".asked").count()

    not_yet, seal, left, asked = phone(walk, **server(asked_order(ABOUT_HARDWARE, ABOUT_WALL)))

    assert not_yet == "Not yet: one question waits for its answer"
    assert {(reply["query"], reply["says"]) for reply in seal["replies"]} == {
        (HARDWARE, "To the second clamp it is 11.6 cm."), (WALL, "The thin one."),
    }  # fmt: skip
    assert left == asked == 0, "answered here, though the list from the server still has them"


def test_a_second_question_is_not_answered_by_the_first_ones_change(phone):
    again = question(WALL, "knee.hardware_length", "And to the third clamp?")

    def walk(one):
        one.open()
        reply_to(one, HARDWARE)
        one.at("knee.hardware_length")
        one.type("11.6")
        to_check(one)
        first = sent(one)
        name = one.server.seals[-1][0].rsplit("/", 1)[1]
        one.server.orders = [
            asked_order(again, entries=first["entries"], seal_sha256=name, revision=2, photos=first["photos"])
        ]
        one.page.goto(one.page.url.split("#")[0] + "#visits")
        reply_to(one, WALL)
        one.at("knee.hardware_length")
        shown = one.page.inner_text(".question")
        to_check(one)
        one.page.fill(f"#reply-{WALL}", " ")
        not_yet = one.page.inner_text(".docked p")
        one.page.fill(f"#reply-{WALL}", "There is no third.")
        return shown, not_yet, name, sent(one)

    shown, not_yet, name, seal = phone(walk, **server(asked_order(ABOUT_HARDWARE)))

    assert "sent as: 11.6 cm" in shown
    assert not_yet == "Not yet: one question waits for its answer"
    assert seal["parent_sha256"] == name
    assert seal["replies"] == [{"query": WALL, "says": "There is no third."}]


def test_a_question_about_a_photo_leads_to_the_photos(phone):
    def walk(one):
        one.open()
        asked = one.page.inner_text(".asked")
        reply_to(one, PHOTO)
        one.at("photos")
        return asked, one.page.inner_text(".question")

    asked, box = phone(walk, **server(asked_order(ABOUT_PHOTO)))

    assert "on the photo knee, near:" in asked
    assert "Which clamp is that?" in box


def test_a_reply_that_was_refused_is_said_again_with_the_next(phone):
    problem = json.dumps({"type": "about:blank", "title": "No", "status": 422, "detail": "Not so."})

    def walk(one):
        one.server.to_seal = lambda _request: (422, "application/problem+json", problem)
        one.open()
        reply_to(one, WALL)
        one.at("shell.wall")
        to_check(one)
        one.page.fill(f"#reply-{WALL}", "Yes.")
        one.send()
        one.page.wait_for_selector(".docked:has-text('needs attention')")
        one.server.to_seal = None
        one.page.click("text=Change and send again")
        return sent(one)

    assert phone(walk, **server(asked_order(ABOUT_WALL)))["replies"] == [{"query": WALL, "says": "Yes."}]


def test_what_the_receipt_says_of_a_withdrawn_question_is_shown_until_read(phone):
    def withdrawn(request):
        status, kind, body = receipt_for(request)
        answer = json.loads(body) | {
            "photos": [{"sha256": SHOWN, "state": "kept"}],
            "says": "A question was withdrawn.",
        }
        return status, kind, json.dumps(answer)

    def walk(one):
        one.server.to_seal = withdrawn
        one.open()
        reply_to(one, WALL)
        one.at("shell.wall")
        to_check(one)
        one.page.fill(f"#reply-{WALL}", "Yes.")
        one.send()
        one.page.wait_for_selector(".docked:has-text('needs attention')")
        said = one.page.inner_text(".docked p")
        one.page.click("text=I have read it")
        one.page.wait_for_selector(".docked:has-text('received 12:58')")
        return said

    assert "A question was withdrawn." in phone(walk, **server(asked_order(ABOUT_WALL)))


def test_a_link_to_a_question_that_waits_no_more_says_so(phone):
    def walk(one):
        one.open(f"#order/{ORDER}/reply/{HARDWARE}")
        return one.page.inner_text(".notice"), one.page.url.split("#")[1]

    said, place = phone(walk, **server(asked_order()))

    assert said == "This question does not wait any more: it was answered or withdrawn."
    assert place == "visits"


@pytest.mark.parametrize("member", ["m-1", "m-2"])
def test_a_reply_overwrites_no_draft_of_the_same_order(phone, member):
    """Changes not yet sent, the clinician's own or somebody else's on this phone, outlast a newer revision's question."""

    def walk(one):
        one.open()
        reply_to(one, HARDWARE)
        one.at("knee.hardware_length")
        one.type("11.1")
        one.page.goto(one.page.url.split("#")[0] + "#visits")
        one.page.wait_for_selector(".row-state")
        one.server.member = member
        one.server.orders = [asked_order(ABOUT_WALL, seal_sha256="c" * 64, revision=2)]
        one.page.reload()
        reply_to(one, WALL)
        one.at("shell.wall")
        one.server.member = "m-1"
        if member == "m-2":
            one.page.goto(one.page.url.split("#")[0] + "#visits")
            one.page.reload()
            one.page.wait_for_selector("li:has-text('NF-0139') .row-state")
            one.page.click(".lists a.row:has-text('NF-0139')")
        else:
            to_check(one)
            one.page.click("text=Take it up again")
            one.page.wait_for_selector("text=Take it up again", state="detached")
        one.page.wait_for_selector("main[data-field]")
        one.page.goto(one.page.url.rsplit("/", 1)[0] + "/knee.hardware_length")
        one.at("knee.hardware_length")
        return one.page.input_value("input.typed")

    assert phone(walk, **server(asked_order(ABOUT_HARDWARE))) == "11.1"
