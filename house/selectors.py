"""The people with an account as values, and the classes that name them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.contrib.auth.models import AnonymousUser, User
from django.db.models import QuerySet

from classes.models import ClassSession
from house.models import EntryLink, Role

TEACHES, ASSISTS = "teaches", "assists"


@dataclass(frozen=True, slots=True)
class Member:
    """Somebody with an account; `link_ends_at` is set while a link to a password is open."""

    pk: int
    username: str
    name: str
    email: str
    roles: tuple[Role, ...]
    last_signed_in_at: datetime | None
    is_here: bool
    has_password: bool
    link_ends_at: datetime | None

    @property
    def called(self) -> str:
        """The name, or the user name of somebody without one."""
        return self.name or self.username

    @property
    def role_words(self) -> str:
        return ", ".join(role.value for role in self.roles) or "no role"


@dataclass(frozen=True, slots=True)
class NamedIn:
    """A coming class, and what somebody does in it."""

    session: ClassSession
    does: str


def members(*, at: datetime) -> list[Member]:
    """Everybody with an account, by name."""
    users = User.objects.select_related("entry_link").prefetch_related("groups")
    found = [member_of(user, at=at) for user in users]
    return sorted(found, key=lambda person: (person.called.casefold(), person.pk))


def member_of(user: User, *, at: datetime) -> Member:
    link = open_link(user, at=at)
    return Member(
        pk=user.pk,
        username=user.get_username(),
        name=user.get_full_name(),
        email=user.email,
        roles=roles_of(user),
        last_signed_in_at=user.last_login,
        is_here=user.is_active,
        has_password=user.has_usable_password(),
        link_ends_at=link.ends_at if link else None,
    )


def roles_of(user: User) -> tuple[Role, ...]:
    """Somebody's roles; an owner may also have the role of instructor."""
    held = {group.name for group in user.groups.all()}
    if user.is_superuser:
        held.add(Role.OWNER)
    return tuple(role for role in Role if role in held)


def open_link(user: User, *, at: datetime) -> EntryLink | None:
    """The link with which somebody can choose a password now, if there is one."""
    link = getattr(user, "entry_link", None)
    return link if link and link.opens(at) else None


def is_owner(user: User | AnonymousUser) -> bool:
    """Whether somebody is an owner with an open account."""
    return user.is_active and user.is_superuser


def owners() -> QuerySet[User]:
    return User.objects.filter(is_superuser=True, is_active=True).order_by("pk")


def is_last_owner(user: User) -> bool:
    """Whether no other owner could sign in if this one could not."""
    return is_owner(user) and not others_keep(user, owners())


def others_keep(user: User, found: Iterable[User]) -> bool:
    """Whether another of these owners has a password to sign in with."""
    return any(person.pk != user.pk and person.has_usable_password() for person in found)


def coming_with(user: User, *, at: datetime) -> list[NamedIn]:
    """The coming classes that name somebody, the next first."""
    sessions = ClassSession.objects.seen_by(user).coming(at).select_related("kitchen")
    return [
        NamedIn(session, TEACHES if session.instructor_id == user.pk else ASSISTS)
        for session in sessions.order_by("starts_at")
    ]
