"""Forms of the lead's pages."""

from django import forms
from django.conf import settings
from django.contrib.auth.password_validation import validate_password
from django.utils.translation import gettext_lazy as _

from project.models import Invitation, Member

CLINIC_ROLES = [(Member.Role.CLINICIAN, _("clinician")), (Member.Role.LEAD, _("clinic lead"))]


class InvitationForm(forms.ModelForm):
    """Whom to invite."""

    role = forms.ChoiceField(choices=CLINIC_ROLES, label=_("role"))

    class Meta:
        model = Invitation
        fields = ["email", "initials", "role"]


class RoleForm(forms.Form):
    """Another role for a member."""

    role = forms.ChoiceField(choices=CLINIC_ROLES)


class SettingsForm(forms.ModelForm):
    """A member's own language and units."""

    language = forms.ChoiceField(
        choices=[("", _("As the browser says")), *settings.LANGUAGES], required=False, label=_("Language")
    )
    units = forms.ChoiceField(
        choices=[("", _("As used last")), *Member.Units.choices],
        required=False,
        label=_("Unit of a bare number"),
    )

    class Meta:
        model = Member
        fields = ["language", "units"]


class PasswordForm(forms.Form):
    """The password of somebody who joins."""

    password = forms.CharField(widget=forms.PasswordInput, label=_("password"), strip=False)

    def clean_password(self) -> str:
        password = self.cleaned_data["password"]
        validate_password(password)
        return password
