from orders.flags_shown import FlagCount, flag_counts, flags_shown


def flag(flag_id, level):
    return {
        "id": flag_id,
        "level": level,
        "says": f"{flag_id} says so.",
        "do": "Measure again.",
        "at": "none",
    }


def test_flags_are_numbered_in_the_results_order_with_their_reasons():
    result = {"flags": [flag("gap.tight", "explain"), flag("reading.only_one", "note")]}
    entry = {"answers": {"gap.tight": "The foot stays as it is."}}

    shown = flags_shown(entry, result)

    assert [(each.number, each.word, each.says, each.reason) for each in shown] == [
        (1, "Explain", "gap.tight says so.", "The foot stays as it is."),
        (2, "Note", "reading.only_one says so.", ""),
    ]


def test_counts_go_over_both_shells_stops_first():
    left = {"flags": [flag("a", "note"), flag("b", "explain")]}
    right = {"flags": [flag("a", "note")]}

    assert flag_counts([left, right]) == [FlagCount(1, "explain", "Explain"), FlagCount(2, "note", "Note")]
    assert flag_counts([{"flags": []}]) == []


def test_only_an_explain_without_a_reason_is_unanswered():
    result = {"flags": [flag("gap.tight", "explain"), flag("order.repeated", "explain"), flag("a", "note")]}

    shown = flags_shown({"answers": {"gap.tight": "The foot stays as it is."}}, result)

    assert [each.unanswered for each in shown] == [False, True, False]
