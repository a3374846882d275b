"""The check of every field in which a name is typed."""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from orders.reckoning.names import has_unseen


def refuse_unseen(text: str) -> None:
    """Raises ValidationError for a character that no name may hold."""
    if has_unseen(text):
        raise ValidationError(_("This holds a character that can't be seen. Type it anew."), code="unseen")
