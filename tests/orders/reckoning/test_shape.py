import pytest

from orders.reckoning.shape import Answers, Choice, EntryError, Flag, ListOf, Name, Number, Text, named

TEXT = Text(5, least=1)
ANSWERS = Answers(2, Text(5))


def refused(shape, value) -> str:
    with pytest.raises(EntryError) as error:
        shape.read(value, "x")
    return str(error.value)


@pytest.mark.parametrize(
    ("value", "called"),
    [
        (None, "nothing"),
        (True, "true or false"),
        ("a", "a text"),
        (3, "a number"),
        (0.5, "a number"),
        ([], "a list"),
        ({}, "a group of fields"),
    ],
)
def test_a_value_of_another_kind_is_called_by_its_kind(value, called):
    shapes = {"a text": TEXT, "a number": Number(0, 1), "true or false": Flag(), "a list": ListOf(TEXT, 0, 2)}
    for kind, shape in (shapes | {"a group of fields": named(a=TEXT)}).items():
        if kind != called:
            assert refused(shape, value) == f"x: should be {kind}, not {called}."


def test_a_text_has_its_least_and_most_characters():
    assert [TEXT.read(text, "x") for text in ("a", "abcde", "  a  ")] == ["a", "abcde", "  a  "]
    assert refused(TEXT, "abcdef") == "x: has 6 characters; 5 is the most."
    assert refused(TEXT, " ") == "x: is empty."
    assert Text(5).read("", "x") == ""


def test_a_name_stands_in_one_line_and_reads_one_way():
    name = Name(5, least=1)

    assert name.read("Łódź", "x") == "Łódź"
    assert refused(name, "abcdef") == "x: has 6 characters; 5 is the most."
    assert [refused(name, text) for text in ("a\u202eb", "a\u2066", "a\nb", "\x7f")] == [
        "x: holds a character that can't be written."
    ] * 4
    assert TEXT.read("a\nb", "x") == "a\nb"


def test_a_number_lies_between_its_ends():
    assert [Number(-1, 2).read(value, "x") for value in (-1, 2, 0.5)] == [-1, 2, 0.5]
    for value in (-1.001, 2.001, float("nan")):
        assert refused(Number(-1, 2), value) == "x: lies outside -1 to 2."
    assert "outside" in refused(Number(0, float("inf")), float("inf"))


def test_a_list_holds_its_least_and_most():
    items = ListOf(TEXT, 1, 2)

    assert items.read(["a"], "x") == ["a"]
    assert items.read(["a", "b"], "x") == ["a", "b"]
    assert refused(items, []) == "x: holds 0; 1 to 2 are possible."
    assert refused(items, ["a"] * 3) == "x: holds 3; 1 to 2 are possible."
    assert refused(items, ["a", ""]) == "x.1: is empty."


@pytest.mark.parametrize(
    ("word", "shown"), [("w" * 40, "w" * 40), ("w" * 41, "w" * 40 + "…"), ("\ud800", "?")]
)
def test_a_word_that_is_no_choice_is_shown_as_far_as_a_line_goes(word, shown):
    assert refused(Choice(("low", "high")), word) == f"x: “{shown}” is none of low, high."


@pytest.mark.parametrize(
    ("key", "shown"), [("k" * 40, "k" * 40), ("k" * 41, "k" * 40), ("a\nb", "a?b"), ("é", r"\xe9")]
)
def test_an_unknown_key_is_shown_as_far_as_a_line_goes(key, shown):
    assert refused(named(a=TEXT), {key: 1}) == f"x.{shown}: is no field of this group."


def test_reasons_are_named_by_a_flag_s_id():
    whole = {"a" * 64: "why", "gap.tight": "so"}

    assert ANSWERS.read(whole, "x") == whole
    assert ANSWERS.read({"a": ""}, "x") == {"a": ""}
    assert refused(ANSWERS, whole | {"b": "c"}) == "x: holds 3; 2 is the most."
    assert refused(ANSWERS, {"a" * 65: "why"}) == f"x.{'a' * 40}: is no flag's id."
    assert refused(ANSWERS, {"": "why"}) == "x.: is no flag's id."
    assert refused(ANSWERS, {"gap tight": "why"}) == "x.gap tight: is no flag's id."
    assert refused(ANSWERS, {"a": "abcdef"}) == "x.a: has 6 characters; 5 is the most."
