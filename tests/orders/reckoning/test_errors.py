from orders.reckoning.errors import OutOfRange, Unreadable


def test_out_of_range_says_name_value_and_range():
    error = OutOfRange("wall_mm", -1, "above 0")

    assert str(error) == "wall_mm is -1; it must be above 0"
    assert (error.name, error.value, error.allowed) == ("wall_mm", -1, "above 0")


def test_unreadable_keeps_its_sentence_and_its_reason():
    error = Unreadable("Nothing was typed.", "empty")

    assert (error.says, error.reason, str(error)) == ("Nothing was typed.", "empty", "Nothing was typed.")
