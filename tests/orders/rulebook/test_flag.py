from orders.rulebook.flag import Flag


def test_flags_that_say_the_same_are_the_same_however_they_are_kept():
    said = ("girth.apart", "explain", ("girth",), "girth", "The readings differ.", "Read again.")

    assert Flag(*said, told={"says": [], "do": []}) == Flag(*said)
    assert Flag(*said) != Flag(*said[:5], "Look again.")
