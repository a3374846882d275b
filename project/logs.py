"""What the logs must not hold: the secret part of a link."""

import logging
import re

SECRET = re.compile(r"/(h|join)/[^/\s\"']+")


class WithoutTokens(logging.Filter):
    """Puts "..." for the token of every link to a handout or an invitation, wherever it stands in a record's text.

    Django itself logs the address of a page that isn't there or that fails.
    """

    def filter(self, record: logging.LogRecord) -> bool:
        """Always True: the record is written, without tokens."""
        said = record.getMessage()
        clean = SECRET.sub(r"/\1/...", said)
        if clean != said:
            record.msg, record.args = clean, ()
        return True
