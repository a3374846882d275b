from orders.rulebook.strings import STRINGS


def test_twin_says_the_same_words(js):
    assert js("book/strings.js").evaluate("(m) => m.strings") == STRINGS
