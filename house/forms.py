"""Forms for accounts, and for one's own account."""

from __future__ import annotations

from django import forms
from django.contrib.auth import authenticate
from django.contrib.auth.forms import PasswordChangeForm, SetPasswordForm, UsernameField
from django.contrib.auth.models import User
from django.core.validators import MaxLengthValidator
from django.http import QueryDict

from config.requests import UserRequest
from config.sign_in import locked_words
from house.models import Role
from house.selectors import roles_of
from recipes.core.regions import HomeRegion
from recipes.selectors import home_region

MOST_USERNAME, MOST_NAME, MOST_EMAIL = 150, 150, 254
TAKEN = "This user name is taken, perhaps by somebody who was let go. Choose another."
LAST_OWNER = "Nobody else could manage the accounts. Make somebody an owner first."
NOT_THE_SAME = "The two passwords are not the same. Type the new password twice."
ROLES = (
    "Assistants read, print and check off in the classes that name them. Instructors have recipes, "
    "kitchens and classes of their own. Owners do too, and manage these accounts."
)
HOW_TO_CHOOSE = (
    "At least 10 characters, and not only digits. Not a common password, and nothing like your "
    "name."
)


class FactsForm(forms.Form):
    """Somebody's name and e-mail."""

    name = forms.CharField(
        max_length=MOST_NAME,
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    email = forms.EmailField(
        label="E-mail",
        max_length=MOST_EMAIL,
        required=False,
        help_text="Only the owners see it. Nothing is sent there.",
    )

    def __init__(self, data: QueryDict | None = None, *, user: User | None = None) -> None:
        super().__init__(data, initial=self.initial_of(user) if user else None)

    def initial_of(self, user: User) -> dict[str, object]:
        return {"name": user.get_full_name(), "email": user.email}


class MemberForm(FactsForm):
    """Somebody's facts and roles, as an owner sets them."""

    roles = forms.TypedMultipleChoiceField(
        choices=Role.choices,
        coerce=Role,
        widget=forms.CheckboxSelectMultiple,
        help_text=ROLES,
        error_messages={"required": "Choose at least one role."},
    )

    def initial_of(self, user: User) -> dict[str, object]:
        return super().initial_of(user) | {"roles": roles_of(user)}

    def refuse_last_owner(self) -> None:
        self.add_error("roles", LAST_OWNER)


class NewMemberForm(MemberForm):
    """Somebody new, who will choose their own password."""

    username = UsernameField(
        label="User name",
        max_length=MOST_USERNAME,
        validators=[User.username_validator, MaxLengthValidator(MOST_USERNAME)],
        help_text="They sign in with it. Letters, digits and @ . + - _",
        error_messages={"required": "Give them a user name to sign in with."},
    )
    field_order = ("username", "name", "email", "roles")

    def refuse_name(self) -> None:
        self.add_error("username", TAKEN)


class MeasuresForm(forms.Form):
    """Whose measures the recipes of the book mean."""

    home_region = forms.TypedChoiceField(
        label="Cups, spoons, pints and eggs are those of",
        choices=[("", "Not said yet"), *HomeRegion.choices()],
        coerce=HomeRegion,
        help_text="Imports read by them and handouts for home measure by them. A text that names "
        "its own, such as “US cups”, is read by those. Recipes in the book keep their grams.",
    )

    def __init__(self, data: QueryDict | None = None) -> None:
        super().__init__(data, initial={"home_region": home_region()})


class _NewPasswordForm(SetPasswordForm):  # type: ignore[type-arg]
    """Our own labels for the two fields of a new password."""

    error_messages = {"password_mismatch": NOT_THE_SAME}

    def __init__(self, user: User, data: QueryDict | None = None) -> None:
        super().__init__(user, data)
        first, second = self.fields["new_password1"], self.fields["new_password2"]
        first.label, first.help_text = "New password", HOW_TO_CHOOSE
        second.label, second.help_text = "New password again", ""


class ChoosePasswordForm(_NewPasswordForm):
    """The first password, or a replacement for a forgotten one."""


class OwnPasswordForm(_NewPasswordForm, PasswordChangeForm):
    """Changes a password with the current one. Wrong tries count as they do at sign-in."""

    error_messages = {
        **_NewPasswordForm.error_messages,
        "password_incorrect": "That is not your password. Type the one you sign in with.",
    }

    def __init__(self, request: UserRequest, data: QueryDict | None = None) -> None:
        super().__init__(request.user, data)
        self.request = request
        self.is_locked = False
        self.fields["old_password"].widget.attrs.pop("autofocus", None)

    def clean_old_password(self) -> str:
        old: str = self.cleaned_data["old_password"]
        if authenticate(self.request, username=self.user.get_username(), password=old):
            return old
        self.is_locked = getattr(self.request, "axes_locked_out", False)
        if self.is_locked:
            raise forms.ValidationError(locked_words(self.request), code="locked")
        raise forms.ValidationError(
            self.error_messages["password_incorrect"], code="password_incorrect"
        )
