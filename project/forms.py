"""Forms of the lead's pages."""

from django import forms
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


class PasswordForm(forms.Form):
    """The password of somebody who joins."""

    password = forms.CharField(widget=forms.PasswordInput, label=_("password"), strip=False)

    def clean_password(self) -> str:
        password = self.cleaned_data["password"]
        validate_password(password)
        return password
