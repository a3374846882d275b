import pytest

from orders.rulebook.expression import (
    MOST_CHARACTERS,
    ExpressionError,
    depth_of,
    names_always_read,
    names_in,
    read_expression,
)


def refused(source: str) -> ExpressionError:
    with pytest.raises(ExpressionError) as error:
        read_expression(source)
    return error.value


@pytest.mark.parametrize(
    ("source", "tree"),
    [
        ("12.5", 12.5),
        ("true", True),
        ("gap_mm", "gap_mm"),
        ("'solid'", {"text": "solid"}),
        ('"it\'s"', {"text": "it's"}),
        ("a + b * c", ["+", "a", ["*", "b", "c"]]),
        ("a - b - c", ["-", ["-", "a", "b"], "c"]),
        ("a / b / c", ["/", ["/", "a", "b"], "c"]),
        ("(a + b) * c", ["*", ["+", "a", "b"], "c"]),
        ("-a + b", ["+", ["-", "a"], "b"]),
        ("a - -2.0", ["-", "a", ["-", 2.0]]),
        ("!a && b || c", ["||", ["&&", ["!", "a"], "b"], "c"]),
        ("a || b && c", ["||", "a", ["&&", "b", "c"]]),
        ("a ? b : c ? d : e", ["?", "a", "b", ["?", "c", "d", "e"]]),
        ("a == 'x' && b", ["&&", ["==", "a", {"text": "x"}], "b"]),
        ("a in ['x', 'y']", ["in", "a", ["x", "y"]]),
        ("less(a, b + 1.0)", ["less", "a", ["+", "b", 1.0]]),
        ("\n a\t<= b ", ["<=", "a", "b"]),
    ],
)
def test_an_expression_becomes_its_tree(source, tree):
    assert read_expression(source) == tree


@pytest.mark.parametrize(
    ("source", "place"),
    [
        ("", 1),
        ("a +", 4),
        ("a b", 3),
        ("a + 2", 5),
        ("a < b < c", 7),
        ("a.b", 2),
        ("a[0.0]", 2),
        ("a % b", 3),
        ("a = b", 3),
        ("a & b", 3),
        ("f(a", 4),
        ("f(a,)", 5),
        ("(a", 3),
        ("a ? b", 6),
        ("'open", 1),
        (r"'a\n'", 1),
        ("a in b", 6),
        ("a in [b]", 7),
        ("a in []", 7),
        ("!!a", 2),
        ("--a", 2),
        ("for", 1),
        ("null", 1),
        ("[a]", 1),
        ("{a: b}", 1),
        ("1.5.5", 4),
        ("1e5", 1),
        (".5", 1),
        ("a\u00a0+ b", 2),
        ("straße", 5),
        ("x.map(y, y)", 2),
    ],
)
def test_what_is_outside_the_notation_is_refused_with_its_place(source, place):
    assert refused(source).place == place


def test_a_whole_number_is_refused_as_cel_would_divide_it_otherwise():
    assert refused("a / 2").says == "write 2 as 2.0."
    assert read_expression("a == 'in 2'") == ["==", "a", {"text": "in 2"}]


def test_400_characters_are_read_and_401_refused():
    long = "a" * MOST_CHARACTERS

    assert read_expression(long) == long
    assert refused(long + "a").place == 401


def test_24_levels_are_read_and_25_refused():
    assert read_expression("(" * 23 + "a" + ")" * 23) == "a"
    refused("(" * 24 + "a" + ")" * 24)
    assert depth_of(read_expression("+".join("a" * 24))) == 24
    refused("+".join("a" * 25))
    refused("f(" * 24 + "a" + ")" * 24)


def test_a_choice_between_what_is_deep_enough_is_refused_from_its_beginning():
    """Either way is 24 levels deep, so that it is the choice itself, the whole, that is one too many."""
    deepest = " + ".join("a" * 24)

    assert depth_of(read_expression(deepest)) == 24
    assert (refused(f"g ? {deepest} : b").place, refused(f"g ? b : {deepest}").place) == (1, 1)


@pytest.mark.parametrize(
    "source", ["(" * 400, "a?" * 200, "!" * 400, "-(" * 200, "f(" * 200, "a+" * 199 + "aa"]
)
def test_what_nests_for_ever_is_refused_without_harm(source):
    refused(source)


def test_names_are_told_apart_by_whether_they_are_always_read():
    tree = read_expression("g ? a : less(b, c) && d in ['x'] || !e")

    assert names_in(tree) == {"g", "a", "b", "c", "d", "e"}
    assert names_always_read(tree) == {"g"}
    assert names_always_read(read_expression("max(a, g ? b : c) + d")) == {"a", "g", "d"}


def test_the_words_of_a_list_are_no_names():
    tree = read_expression("d in ['x', 'y']")

    assert names_in(tree) == names_always_read(tree) == {"d"}


def test_a_call_of_nothing_is_one_level_deep():
    assert depth_of(["f"]) == 1


def test_brackets_closed_before_give_no_more_depth_afterwards():
    deepest = "(" * 23 + "1.0" + ")" * 23

    assert read_expression(f"(1.0) + {deepest}") == ["+", 1.0, 1.0]
    assert "24 levels" in refused(f"(1.0) + ({deepest})").says


def test_what_stands_in_place_of_a_number_is_named():
    assert refused("1.0 + )").says.endswith("before “)”.")
