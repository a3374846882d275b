"""The page of the design's parts: whole, under axe, and on the narrowest screen."""

import pytest

from tests.capture.browser.conftest import ORIGIN
from tests.capture.browser.test_accessible import faults_on

# What the sheet is made of; the page shows each.
COMPONENTS = (
    ".button.next", ".button.quiet", ".button.not-yet", ".input", ".reading-box", ".reading-box.stopped", ".offers",
    ".keypad", ".units", ".choice:has(:checked)", ".flag.stop", ".flag.explain .answered", ".flag.note", ".field-flag",
    ".ruler", ".ruler.narrow", ".title-block", ".given", ".caution", ".notice", ".fg-tape", ".fg-stop-edge",
    ".fg-pencilled", ".own-keys",
)  # fmt: skip


TOKENS = ["paper", "sheet", "sunk", "mark-tint", "ink", "ink-2", "edge", "pencil", "mark", "tape", "tape-ink"]


def opened(one) -> None:
    one.page.goto(f"{ORIGIN}/design/")
    one.page.wait_for_selector("body[data-shown]")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_page_of_the_parts_shows_each_without_a_fault(phone, scheme):
    def walk(one):
        one.page.emulate_media(color_scheme=scheme)
        opened(one)
        missing = [kind for kind in COMPONENTS if not one.page.locator(kind).count()]
        return missing, faults_on(one)

    assert phone(walk, width=1280) == ([], [])


def test_page_of_the_parts_is_no_wider_than_the_narrowest_screen(phone):
    def walk(one):
        opened(one)
        return one.page.evaluate("document.documentElement.scrollWidth - innerWidth")

    assert phone(walk, width=320) <= 0


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_from_every_ground(phone, scheme):
    """WCAG 2.2, 1.4.6 (7 to 1) for text, 1.4.11 (3 to 1) for the edges of controls; luminance as it defines it."""

    def walk(one):
        one.page.emulate_media(color_scheme=scheme)
        opened(one)
        return one.page.evaluate(
            """(names) => {
              const style = getComputedStyle(document.documentElement);
              return Object.fromEntries(names.map((name) => [name, style.getPropertyValue(`--${name}`).trim()]));
            }""",
            TOKENS,
        )

    tokens = phone(walk)

    for text, grounds in {
        "ink": ("paper", "sheet", "sunk", "mark-tint"),
        "ink-2": ("paper", "sheet", "sunk"),
        "mark": ("paper", "sheet", "mark-tint"),
        "pencil": ("paper", "sheet"),
        "tape-ink": ("tape",),
    }.items():
        for ground in grounds:
            assert contrast(tokens[text], tokens[ground]) >= 7, (text, ground)
    for ground in ("paper", "sheet", "sunk"):
        assert contrast(tokens["edge"], tokens[ground]) >= 3, ground


def contrast(one: str, other: str) -> float:
    dark, light = sorted(luminance(colour) for colour in (one, other))
    return (light + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    digits = colour.lstrip("#")
    digits = "".join(digit * 2 for digit in digits) if len(digits) == 3 else digits
    parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
