import logging

from project.logs import WithoutTokens


def said(message, *args):
    record = logging.LogRecord("django.request", logging.WARNING, "", 0, message, args, None)
    assert WithoutTokens().filter(record) is True
    return record.getMessage()


def test_token_of_a_handout_and_of_an_invitation_is_left_out():
    assert said("%s: %s", "Gone", "/h/oi6hFw-8Oaq3vzdNhr6lOw/") == "Gone: /h/.../"
    assert said("Not Found: /join/oi6hFw-8Oaq3/ again") == "Not Found: /join/.../ again"


def test_other_messages_stay_as_they_are():
    assert said("%s: %s, %d%%", "Not Found", "/orders/", 5) == "Not Found: /orders/, 5%"
