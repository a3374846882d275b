"""What may stand in a name: a reference, initials, what an organisation, an option or a carrier is called.

A name stands in a line with other words, on a screen and on paper. A character that can't be seen there, or that turns
round the order in which the others are read, would let one name pass for another.

Source: Unicode Standard Annex 9, the explicit directional formatting characters; Unicode Technical Report 36, 2.10.
Twin: static/js/reading/names.js.
"""

import re

# Controls, the separators of lines and paragraphs, embeddings and overrides, isolates, halves of a character. Marks that
# join letters or give a letter its direction stay: some scripts are written with them.
_UNSEEN = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")


def has_unseen(text: str) -> bool:
    """Whether a text holds a character that no name may hold."""
    return _UNSEEN.search(text) is not None
