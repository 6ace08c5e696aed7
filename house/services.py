"""What owners do with accounts, and people with their own. Nobody types another's password."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from axes.utils import reset
from django.contrib.auth.models import Group, User
from django.db import IntegrityError, transaction

from classes.enrollment.models.booking import new_link_nonce
from config.backup import erasures
from house.models import EntryLink, Role, password_mark
from house.selectors import is_owner, others_keep, owners

GROUPS = (Role.INSTRUCTOR, Role.ASSISTANT)


class NameTaken(Exception):
    """Somebody has this user name already."""


class LastOwner(Exception):
    """Nobody would be left to manage the accounts."""


class LinkIsUsed(Exception):
    """The link has been used or replaced, or has expired."""


def add_member(
    *, username: str, name: str, email: str, roles: Collection[Role], at: datetime
) -> User:
    """Add an account without a password, and the link for choosing one.

    Raises NameTaken.
    """
    if User.objects.filter(username__iexact=username).exists():
        raise NameTaken
    try:
        with transaction.atomic():
            user = User.objects.create_user(username, email, first_name=name)
            _give_roles(user, roles)
            new_entry_link(user=user, at=at)
    except IntegrityError:
        raise NameTaken from None
    return user


@transaction.atomic
def change_member(*, user: User, name: str, email: str, roles: Collection[Role]) -> None:
    """Change facts and roles. Raises LastOwner if nobody else could manage the accounts."""
    fresh = _held(user, stays_owner=Role.OWNER in roles)
    fresh.first_name, fresh.last_name, fresh.email = name, "", email
    _give_roles(fresh, roles)


def _give_roles(user: User, roles: Collection[Role]) -> None:
    """Save the user with these roles; groups that are not ours stay as they are."""
    was_owner, user.is_superuser = user.is_superuser, Role.OWNER in roles
    if was_owner != user.is_superuser:
        user.is_staff = user.is_superuser
    user.save()
    for role in GROUPS:
        group, _ = Group.objects.get_or_create(name=role.value)
        if role in roles:
            user.groups.add(group)
        else:
            user.groups.remove(group)


@transaction.atomic
def new_entry_link(*, user: User, at: datetime) -> EntryLink:
    """A new link for somebody to choose a password. Earlier ones no longer open."""
    fresh = User.objects.select_for_update().get(pk=user.pk)
    link, _ = EntryLink.objects.update_or_create(
        user=fresh,
        defaults={
            "link_nonce": new_link_nonce(),
            "password_mark": password_mark(fresh.password),
            "made_at": at,
        },
    )
    return link


@transaction.atomic
def let_go(*, user: User) -> None:
    """Close an account: its sessions, links and calendar end with its password.

    Classes still name the person. Raises LastOwner.
    """
    fresh = _held(user, stays_owner=False)
    fresh.is_active = False
    fresh.set_unusable_password()
    fresh.save(update_fields=["is_active", "password"])
    erasures.note(erasures.ErasedKind.LET_GO, erasures.account_mark(fresh.pk, fresh.date_joined))
    EntryLink.objects.filter(user=fresh).delete()


@transaction.atomic
def take_back(*, user: User, at: datetime) -> None:
    """Open an account again, with its roles and a new link instead of the old password."""
    fresh = User.objects.select_for_update().get(pk=user.pk)
    if not fresh.is_active:
        fresh.is_active = True
        fresh.save(update_fields=["is_active"])
        mark = erasures.account_mark(fresh.pk, fresh.date_joined)
        erasures.note(erasures.ErasedKind.TAKEN_BACK, mark)
        new_entry_link(user=fresh, at=at)


def _held(user: User, *, stays_owner: bool) -> User:
    """The user as the database has it, locked together with all owners.

    Raises LastOwner. If two owners close each other's account at the same moment, one goes first.
    """
    held = list(owners().select_for_update())
    fresh = User.objects.select_for_update().get(pk=user.pk)
    if is_owner(fresh) and not stays_owner and not others_keep(fresh, held):
        raise LastOwner
    return fresh


@transaction.atomic
def choose_password(*, link: EntryLink, password: str, at: datetime) -> User:
    """Set the password of somebody who came by a link, which is then used up.

    Earlier failed tries no longer make them wait. Raises LinkIsUsed.
    """
    user = User.objects.select_for_update().get(pk=link.user_id)
    found = EntryLink.objects.filter(pk=link.pk, link_nonce=link.link_nonce).first()
    if found is None:
        raise LinkIsUsed
    found.user = user
    if not found.opens(at):
        raise LinkIsUsed
    change_password(user=user, password=password)
    reset(username=user.get_username())
    return user


@transaction.atomic
def change_password(*, user: User, password: str) -> None:
    """Change a password; sessions under the old one end, and so does an open link."""
    user.set_password(password)
    user.save(update_fields=["password"])
    EntryLink.objects.filter(user=user).delete()


def change_own_facts(*, user: User, name: str, email: str) -> None:
    user.first_name, user.last_name, user.email = name, "", email
    user.save(update_fields=["first_name", "last_name", "email"])
