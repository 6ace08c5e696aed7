from dataclasses import dataclass

from django.contrib.auth import get_user_model
from django.contrib.auth.hashers import check_password

from classes.demo import DEMO_ACCOUNTS


@dataclass(frozen=True)
class DemoAccount:
    username: str
    password: str
    role: str


def open_accounts() -> list[DemoAccount]:
    """Return the demo accounts that exist and still open with their demo password."""
    accounts = [DemoAccount(*row) for row in DEMO_ACCOUNTS]
    stored = dict(
        get_user_model()
        .objects.filter(username__in=[account.username for account in accounts], is_active=True)
        .values_list("username", "password")
    )
    return [
        account
        for account in accounts
        if check_password(account.password, stored.get(account.username))
    ]
