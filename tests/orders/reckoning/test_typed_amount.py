"""The grammar; its whole table is in test_typed.py. Here: what a refusal carries."""

import pytest

from orders.reckoning.typed_amount import Refused, amount_of
from orders.reckoning.typed_scan import scanned


@pytest.mark.parametrize(
    ("text", "reason", "values"),
    [
        ("1,234", "ambiguous", {"number": "1,234", "decimal": "1.234", "thousands": "1234"}),
        ("15 8/8", "fraction_size", {"fraction": "8/8"}),
        ("15 in 3 mm", "second_number", {"rest": "3 mm"}),
        ('15" cm', "units", {"first": "in", "second": "cm"}),
        ("394.12345", "decimals", {"number": "394.12345", "count": 5, "most": 4}),
        ("-394", "sign", {"rest": "-"}),
        ("394 x 2", "left_over", {"rest": "x 2"}),
    ],
)
def test_refusal_names_the_piece_that_does_not_fit(text, reason, values):
    with pytest.raises(Refused) as refused:
        amount_of(scanned(text), text)

    assert (refused.value.reason, refused.value.values) == (reason, values)


def test_amount_keeps_its_number_as_it_reads():
    text = "1’ 3–½ ”"

    assert amount_of(scanned(text), text) == (15.5, "in", "1 ft 3 1/2")
