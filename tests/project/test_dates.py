from datetime import date

import pytest
from django.template import Context, Template
from django.utils import translation

from project.dates import date_format

DAY = date(2026, 12, 5)


@pytest.mark.parametrize(
    ("language", "short", "long"),
    [
        ("en", "5 Dec", "Sat 5 Dec"),
        ("de", "5. Dez", "Sa 5. Dez"),
        ("es", "5 dic", "sáb 5 dic"),
        ("fr", "5 déc", "sam 5 déc"),
    ],
)
def test_a_day_is_written_as_the_language_has_it(language, short, long):
    with translation.override(language):
        assert date_format(DAY, "j M") == short
        assert Template('{{ day|date:"D j M" }}').render(Context({"day": DAY})) == long
