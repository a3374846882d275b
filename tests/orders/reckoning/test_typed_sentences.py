import re

from orders.reckoning.typed_sentences import EXAMPLES, SENTENCES, filled


def test_twin_says_the_same_words(js):
    strings, examples = js("reading/sentences.js").evaluate("(m) => [m.strings, m.EXAMPLES]")

    assert strings == SENTENCES
    assert examples == EXAMPLES


def test_refusals_say_what_was_expected():
    answers = {"is_mm", "is_inches", "is_about_inches", "ask_one", "ask_two"}

    assert all("Expected" in SENTENCES[key] for key in SENTENCES.keys() - answers)


def test_filling_is_done_once():
    assert filled("is_mm", {"read": "{mm}", "mm": "4"}) == "{mm} is 4 mm"


def test_every_name_in_braces_is_plain():
    for sentence in SENTENCES.values():
        assert re.sub(r"\{[a-z_]+\}", "", sentence).count("{") == 0
