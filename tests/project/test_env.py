import pytest
from django.core.exceptions import ImproperlyConfigured

from project import env


def test_a_flag_reads_the_usual_words(monkeypatch):
    for word, means in {"1": True, "yes": True, "ON": True, "0": False, "no": False, "": False}.items():
        monkeypatch.setenv("SHANKLINE_TRY", word)
        assert env.flag("SHANKLINE_TRY", not means) is means


def test_a_wrong_flag_is_told_with_its_name(monkeypatch):
    monkeypatch.setenv("SHANKLINE_TRY", "perhaps")

    with pytest.raises(ImproperlyConfigured, match="SHANKLINE_TRY is 'perhaps'; set it to 1 or 0"):
        env.flag("SHANKLINE_TRY")


def test_a_wrong_number_is_told_with_its_name(monkeypatch):
    monkeypatch.setenv("SHANKLINE_TRY", "4.5")

    with pytest.raises(ImproperlyConfigured, match=r"SHANKLINE_TRY is '4\.5'; set it to a whole number"):
        env.whole("SHANKLINE_TRY", 1)


def test_words_are_split_at_commas(monkeypatch):
    monkeypatch.setenv("SHANKLINE_TRY", "a.example, b.example,")

    assert env.words("SHANKLINE_TRY") == ["a.example", "b.example"]
