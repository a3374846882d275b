from orders.rulebook.expression import read_expression
from tests.mutation.in_book import _changes, changes_of, changes_of_givens


def changed(source: str) -> dict[str, object]:
    """Each change of an expression, by its name."""
    found = {}
    for n, (key, _) in enumerate(_changes("x", {"tree": read_expression(source)})):
        holder = {"tree": read_expression(source)}
        list(_changes("x", holder))[n][1]()
        found[key] = holder["tree"]
    return found


def test_a_limit_is_moved_either_way_turned_round_and_taken_in():
    assert changed("less(a, 8.0)") == {
        "x: less(a, 8): less becomes more": ["more", "a", 8.0],
        "x: less(a, 8): on the limit too": ["!", ["more", "a", 8.0]],
        "x: 8 becomes 8.08": ["less", "a", 8.08],
        "x: 8 becomes 7.92": ["less", "a", 7.92],
    }


def test_a_count_s_limit_is_moved_by_one():
    assert ["less", "length_count", 4.0] in changed("less(length_count, 3.0)").values()
    assert ["less", "length_count", 2.0] in changed("less(length_count, 3.0)").values()


def test_words_are_changed_and_taken_out():
    assert changed("a == 'x' && b in ['y', 'z']") == {
        "x: a == 'x': == becomes !=": ["&&", ["!=", "a", {"text": "x"}], ["in", "b", ["y", "z"]]],
        "x: “x” becomes another word": ["&&", ["==", "a", {"text": "no such word"}], ["in", "b", ["y", "z"]]],
        "x: b in ['y', 'z']: without “y”": ["&&", ["==", "a", {"text": "x"}], ["in", "b", ["z"]]],
        "x: b in ['y', 'z']: without “z”": ["&&", ["==", "a", {"text": "x"}], ["in", "b", ["y"]]],
    }


def test_cases_and_offers_are_changed_too():
    keys = [change.key for change in changes_of({"stop.meets_edge"})]

    assert "stop.meets_edge: less(stop_clearance_mm, clearance_moving_mm): less becomes more" in keys
    assert any(key.startswith("stop.meets_edge case 1: ") for key in keys)
    assert any(key.startswith("stop.meets_edge offer: ") for key in keys)
    assert len(keys) == len(set(keys))


def test_what_an_entry_may_give_is_changed_at_both_ends():
    keys = [change.key for change in changes_of_givens()]

    assert "max_flexion_deg: most 180 becomes 181.8" in keys
    assert "max_flexion_deg: least 30 becomes 29.7" in keys
