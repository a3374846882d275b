import pytest


@pytest.mark.parametrize(
    ("key", "at", "count", "to"),
    [
        ("ArrowDown", -1, 3, 0),
        ("ArrowUp", -1, 3, 2),
        ("ArrowDown", 0, 3, 1),
        ("ArrowDown", 2, 3, 2),
        ("ArrowUp", 0, 3, 0),
        ("Home", 2, 3, 0),
        ("End", 0, 3, 2),
        ("a", 1, 3, None),
        ("ArrowDown", -1, 0, None),
    ],
)
def test_a_key_leads_to_a_row(js, key, at, count, to):
    leads_to = "(module, [key, at, count]) => module.leadsTo(key, at, count) ?? null"

    assert js("desk/bench_keys.js").evaluate(leads_to, [key, at, count]) == to
