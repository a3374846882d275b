"""Taps and keys from a new visit to *Send*, counted on the real sheet, and the time that they take by a model.

The time is by the keystroke-level model: Card, S. K., Moran, T. P. and Newell, A. (1980), The keystroke-level model for
user performance time with interactive systems, Communications of the ACM 23 (7), 396-410. Its operators, with that
paper's times: K, a key or a press, 0.28 s (an average typist who is no secretary); P, pointing at something, 1.10 s;
H, the hands' way from one device to another, 0.40 s; M, making up one's mind, 1.35 s; R, the wait for an answer. They
were taken at desks of that time, with a mouse and a keyboard: they compare two ways through a screen and say nothing
sure about a thumb on glass. Here a tap on something is P and K, a digit of our keypad or a letter of the phone's
keyboard K, the change to the phone's keyboard H, each view M, and R nought, since the sheet answers within one frame.
Measuring itself, with tape and eyes, is in none of this.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Page

from tests.benchmarks import served
from tests.benchmarks.timing import Figure

ENTRIES = Path(__file__).resolve().parents[2] / "fixtures_demo" / "entries"
K, P, H, M = 0.28, 1.10, 0.40, 1.35
WORKSHOP = "Tarn Street"
PLAIN = {
    "reference": "NF-0991",
    "side": "left",
    "knee": {"pivots_seen": "one"},
    "foot": {"profile": "low", "ankle": "solid"},
    "length": ["39.4"],
    "girth": ["38.5"],
    "shell": {"rear": "short"},
}
# Of the demo's entries the one that says most.
HARDEST = "charged-knee.json"
NO_PHOTO = "The camera is broken."
# What the sheet asks for itself and an entry doesn't hold: the answer that asks for what these hold.
ASKED = {"seen.knee": "nothing"}


@dataclass
class Count:
    """What was done so far."""

    taps: int = 0
    keys: int = 0
    views: int = 0
    keyboards: int = 0
    seen: list[str] = field(default_factory=list)

    @property
    def seconds(self) -> float:
        """By the model. [s]"""
        return self.taps * (P + K) + self.keys * K + self.keyboards * H + self.views * M


class Hand:
    """Goes through the sheet as a thumb would, and counts."""

    def __init__(self, page: Page, entry: dict) -> None:
        self.page, self.entry, self.count = page, entry, Count()
        sheet = json.loads(page.locator("#sheet").text_content())
        self.fields, self.parts = sheet["fields"], [part["key"] for part in sheet["parts"]]
        self.done: set[str] = set()

    @property
    def at(self) -> str:
        return self.page.get_attribute("main", "data-field") or ""

    def tap(self, place: str) -> None:
        self.page.locator(place).first.tap()
        self.count.taps += 1

    def letters(self, place: str, text: str) -> None:
        """By the phone's own keyboard."""
        self.tap(place)
        self.count.keyboards += 1
        self.page.locator(place).first.press_sequentially(text)
        self.count.keys += len(text)

    def digits(self, text: str) -> None:
        """By our keypad, whose field is in hand already."""
        for digit in text:
            self.page.locator(".keypad .key").get_by_text(digit, exact=True).first.tap()
            self.count.keys += 1

    def arrived(self, before: str) -> str:
        """The field that is shown next; each view is looked at once."""
        self.page.wait_for_selector(f"main[data-view]:not([data-field='{before}'])")
        self.count.views += 1
        self.count.seen.append(self.at)
        return self.at

    def next(self) -> None:
        before = self.at
        self.tap(".foot .next, .new-visit .next")
        self.arrived(before)

    def wanted(self, key: str):
        """What the entry holds of a field, or None."""
        place = self.entry
        for step in key.split("."):
            place = place.get(step) if isinstance(place, dict) else None
        return ASKED.get(key) if place is None else place

    def answer(self) -> None:
        """Answers the field in hand as the entry does, or leaves it."""
        key = self.at
        self.done.add(key)
        kind = next(one["kind"] for one in self.fields if one["key"] == key)
        value = self.wanted(key)
        if kind == "workshop":
            self.tap(f"label.choice:has-text('{WORKSHOP}')")
        elif kind in ("choice", "option", "yes_no") and value is not None:
            self.tap(f"label.choice:has(input[value='{value}'])")
        elif kind in ("reading", "readings") and value:
            self.readings(value if isinstance(value, list) else [value])
        elif kind == "points":
            for point in value or []:
                self.point(point)

    def answer_once(self) -> None:
        """The same, where that wasn't done yet."""
        if self.at not in self.done:
            self.answer()

    def to_check(self) -> None:
        while self.at != "check":
            self.answer_once()
            self.next()

    def missing(self) -> None:
        """What was asked meanwhile further up: *Send* leads to it."""
        while self.page.locator(".docked .not-yet").count():
            self.tap(".docked .not-yet")
            href = self.page.evaluate("document.activeElement.getAttribute('href')")
            if href is None:
                return  # a reason, not a field
            before = self.at
            self.tap(f".read-back a[href='{href}']")
            self.arrived(before)
            self.answer()
            self.to_check()

    def readings(self, texts: list[str]) -> None:
        for number, text in enumerate(texts):
            if number:
                self.tap(".again")
            self.digits(text)

    def point(self, point: dict) -> None:
        self.tap(".points-hand .ways .button")
        number = self.page.locator(".points .point").count() - 1
        self.letters(f"#point-{number}", point["what"])
        self.tap(f"#point-{number}-side")
        self.page.locator(f"#point-{number}-side").select_option(point["side"])
        self.count.taps += 1
        self.letters(f"#point-{number}-below", point["below_apex"])
        if not point["stays_open"]:
            self.tap(f".points .point:nth-child({number + 1}) .open")

    def go(self, key: str) -> None:
        """To a field that wasn't asked: by its part's name, which opens all of that part's fields."""
        if self.at == key:
            return
        if self.at == "check":
            self.tap("a.back")
            self.arrived("check")
        before = self.at
        part = next(one["part"] for one in self.fields if one["key"] == key)
        self.tap(f".part-names li:nth-child({self.parts.index(part) + 1}) button")
        self.tap(f".parts-panel a.part-row[href$='/{key}']")
        if before != key:
            self.arrived(before)

    def rest(self) -> list[str]:
        """What the entry says and the sheet did not ask."""
        return [
            one["key"]
            for one in self.fields
            if one["key"] not in self.done
            and self.wanted(one["key"]) not in (None, [], one.get("starts_at"), "@first")
        ]

    def walk(self) -> Count:
        """From the new visit's form to what is sealed."""
        self.letters("#reference", self.entry["reference"])
        self.letters("#initials", "QX")
        self.next()
        if (unit := self.entry.get("units", "cm")) != "cm":
            self.unit = unit
        while self.at != "check":
            self.set_unit()
            self.answer()
            self.next()
        return self.count

    unit = "cm"

    def set_unit(self) -> None:
        """Once, at the first reading."""
        if self.unit != "cm" and self.page.locator(".unit-option").count():
            self.tap(f".unit-option:has(input[value='{self.unit}'])")
            self.unit = "cm"


def figures() -> Iterator[Figure]:
    """Of the plain case and of the hardest one."""
    with served.demo() as address, served.browser() as chromium:
        yield from counted(chromium, address)


def counted(chromium, address: str) -> Iterator[Figure]:
    """The same on a demo that is served already."""
    state = served.cookies(chromium, address)
    hardest = json.loads((ENTRIES / HARDEST).read_text(encoding="utf-8"))
    for name, entry in (("the plain case", PLAIN), ("the hardest case", {**hardest, "reference": "NF-0992"})):
        context, page = served.new_phone(chromium, address, state)
        page.goto("/visits/#new")
        page.wait_for_selector("main[data-view='new']")
        hand = Hand(page, entry)
        count = hand.walk()
        for key in hand.rest():
            hand.go(key)
            hand.set_unit()
            hand.answer()
        hand.to_check()
        hand.missing()
        send(hand)
        yield Figure(f"taps, {name}", count.taps, "")
        yield Figure(f"keys, {name}", count.keys, "")
        yield Figure(f"views, {name}", count.views, "")
        yield Figure(f"by the keystroke-level model, {name}", count.seconds, "s")
        context.close()


def send(hand: Hand) -> None:
    """Gives what has to be explained a reason, sees that nothing is in the way, and sends."""
    given = list(hand.entry.get("answers", {}).values())
    for number in range(hand.page.locator(".flag.explain textarea").count()):
        reason = given[number] if number < len(given) else NO_PHOTO
        hand.letters(f".flag.explain textarea >> nth={number}", reason)
    told = hand.page.locator(".docked").inner_text().splitlines()[0]
    if not told.startswith("Ready"):
        raise RuntimeError(f"it can't be sent: {told}")
    hand.tap(".docked .button.next")
