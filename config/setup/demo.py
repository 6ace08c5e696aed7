import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass

from django.conf import settings
from django.contrib.auth import get_user_model
from django.contrib.auth.hashers import check_password

from classes.demo import DEMO_ACCOUNTS

CHECKED_FILE = "demo_checked.json"


@dataclass(frozen=True)
class DemoAccount:
    username: str
    password: str
    role: str


def open_accounts() -> list[DemoAccount]:
    """Return the demo accounts that exist and still open with their demo password.

    Checking a password is slow by design, so accounts whose stored hash has not changed
    since the last check keep its answer.
    """
    file = settings.DATA_DIR / CHECKED_FILE
    before = json.loads(file.read_text()) if file.is_file() else {}
    checked = {}
    found = []
    for account, stored in _stored_hashes():
        key = hashlib.sha256(f"{account.username} {stored}".encode()).hexdigest()
        checked[key] = before[key] if key in before else check_password(account.password, stored)
        if checked[key]:
            found.append(account)
    if checked != before:
        file.write_text(json.dumps(checked))
    return found


def _stored_hashes() -> Iterator[tuple[DemoAccount, str]]:
    accounts = {row[0]: DemoAccount(*row) for row in DEMO_ACCOUNTS}
    users = get_user_model().objects.filter(username__in=accounts, is_active=True)
    stored = dict(users.values_list("username", "password"))
    for username, account in accounts.items():
        if username in stored:
            yield account, stored[username]
