import pytest
from django.core.exceptions import ValidationError

from project.names import refuse_unseen


def test_a_form_says_what_is_wrong_in_words():
    with pytest.raises(ValidationError, match="can't be seen"):
        refuse_unseen("a\u202eb")


@pytest.mark.parametrize("name", ["NF-0147", "Łódź 7½", "علي"])
def test_what_people_write_is_taken(name):
    refuse_unseen(name)
