import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from capture.sheet import field_for_page, render_sheet, sheet_json
from capture.sheet_fields import BY_KEY, FIELDS, PARTS
from capture.sheet_words import WORDS

PREFIX = "/static/0123456789abcdef/"
STATIC = Path(__file__).resolve().parents[2] / "static"


class Page(HTMLParser):
    """Every element with its attributes, and the text of each script."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict]] = []
        self.scripts: list[tuple[dict, str]] = []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))

    def handle_data(self, data):
        tag, attributes = self.elements[-1] if self.elements else ("", {})
        if tag == "script" and data.strip():
            self.scripts.append((attributes, data))

    @property
    def sheet(self) -> dict:
        return json.loads(next(text for attributes, text in self.scripts if attributes.get("id") == "sheet"))


@pytest.fixture(scope="module")
def page() -> Page:
    return Page(render_sheet("en", PREFIX))


def test_page_has_no_inline_script_or_style(page):
    assert page.scripts, "the words are in a block of their own"
    for attributes, _text in page.scripts:
        assert attributes["type"] == "application/json"
    for tag, attributes in page.elements:
        assert tag != "style"
        assert not [name for name in attributes if name == "style" or name.startswith("on")]


def test_page_loads_only_files_of_its_own_build(page):
    loaded = [a.get("src") or a.get("href") for tag, a in page.elements if tag in ("script", "link")]
    loaded = [address for address in loaded if address and address != "/manifest.webmanifest"]

    assert loaded
    for address in loaded:
        assert address.startswith(PREFIX)
        assert (STATIC / address.removeprefix(PREFIX)).is_file()


def test_page_holds_every_field_with_its_words(page):
    told = {field["key"]: field for field in page.sheet["fields"]}

    assert list(told) == [field.key for field in FIELDS]
    for field in FIELDS:
        assert told[field.key]["label"] == field.label
        assert [choice["label"] for choice in told[field.key].get("choices", [])] == [
            choice.label for choice in field.choices
        ]


def test_page_names_parts_build_and_language(page):
    assert [part["key"] for part in page.sheet["parts"]] == [part.key for part in PARTS]
    assert page.sheet["build"] == "0123456789abcdef"
    assert page.sheet["language"] == "en"
    assert next(attributes for tag, attributes in page.elements if tag == "html")["lang"] == "en"


def test_page_is_the_same_every_time():
    assert render_sheet("en", PREFIX) == render_sheet("en", PREFIX)


def test_words_cannot_end_the_block_that_holds_them(monkeypatch):
    monkeypatch.setitem(WORDS, "visits", "</script><script>alert(1)</script> & <!--")

    block = sheet_json("b", "en")

    assert "<" not in block
    assert json.loads(block)["words"]["visits"] == "</script><script>alert(1)</script> & <!--"


def test_field_for_page_carries_its_conditions_as_trees():
    told = field_for_page(BY_KEY["foot.hardware_above_rim"])

    assert told["asked"] == ["==", "foot_profile", {"text": "high"}]
    assert told["open"] == told["asked"]
    assert told["quantity"] == "hardware_above_rim"


def test_every_sentence_that_the_modules_ask_for_is_there():
    asked = set()
    for module in (STATIC / "js" / "sheet").glob("*.js"):
        asked |= set(re.findall(r'say\("(\w+)"', module.read_text(encoding="utf-8")))

    assert len(asked) > 80
    assert asked - set(WORDS) == set()
