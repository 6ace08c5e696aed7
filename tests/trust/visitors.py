"""People at a browser, as far as a server can tell: pages, cookies, forms; many at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from hashlib import sha256
from html import unescape
from http.client import HTTPConnection
from threading import Barrier, Thread
from time import perf_counter
from typing import TypeVar
from urllib.parse import urlencode

PATIENCE_S = 60
FORM_KEY = re.compile(r'name="form_key" value="([^"]+)"')
CSRF_KEY = re.compile(r'name="csrfmiddlewaretoken" value="([^"]+)"')

One = TypeVar("One")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Page:
    """An answer: its status, where it leads, its words, and how long it took."""

    status: int
    location: str
    text: str
    took_ms: float

    @property
    def leads_to_form(self) -> bool:
        return self.status == 302 and self.location.startswith("/enroll/")

    @property
    def leads_to_own_page(self) -> bool:
        return self.status == 302 and self.location.startswith("/mine/")


@dataclass
class Visitor:
    """Somebody who wants a seat: opens the class's page, then sends its form."""

    port: int
    code: str
    name: str
    form_key: str = ""
    address: str = ""
    csrf: dict[str, str] = field(default_factory=dict)

    @property
    def email(self) -> str:
        return f"{self.name.replace(' ', '-').lower()}@example.org"

    @property
    def connection(self) -> str:
        """Where the visitor asks from: the given address, or another network for every form."""
        if self.address:
            return self.address
        mark = sha256(f"{self.name}|{self.form_key}".encode()).hexdigest()
        return f"fd00:{mark[:4]}:{mark[4:8]}:{mark[8:12]}::1"

    @property
    def class_address(self) -> str:
        return f"/open/{self.code}/"

    def open_class(self) -> Page:
        """Open the class's page and keep what its form and its cookie hold."""
        page = self.ask("GET", self.class_address)
        assert page.status == 200, page.text
        self.form_key = _found(FORM_KEY, page)
        self.csrf["field"] = _found(CSRF_KEY, page)
        return page

    def hold(self, seats: int = 1) -> Page:
        return self.post(f"{self.class_address}hold/", seats=seats, form_key=self.form_key)

    def hold_as_sent(self) -> bytes:
        """The bytes that ask for one seat."""
        return self.as_sent(f"{self.class_address}hold/", seats=1, form_key=self.form_key)

    def enroll(self, address: str) -> Page:
        return self.post(
            address,
            **{
                "contact-email": self.email,
                "person-0-name": self.name,
                "person-0-diet": "nothing",
            },
        )

    def wait(self) -> Page:
        return self.post(
            f"{self.class_address}wait/",
            name=self.name,
            email=self.email,
            seats=1,
            form_key=self.form_key,
        )

    def post(self, address: str, **fields: object) -> Page:
        return self.ask("POST", address, self._body(fields))

    def as_sent(self, address: str, **fields: object) -> bytes:
        """The bytes of a post, as they go over the line."""
        body = self._body(fields)
        headers = {"Host": f"127.0.0.1:{self.port}", **self._headers(body)}
        headers["Content-Length"] = str(len(body))
        lines = [f"POST {address} HTTP/1.1", *map(": ".join, headers.items()), "", body]
        return "\r\n".join(lines).encode()

    def _body(self, fields: Mapping[str, object]) -> str:
        return urlencode({"csrfmiddlewaretoken": self.csrf["field"], **fields})

    def _headers(self, body: str | None) -> dict[str, str]:
        headers = {"Connection": "close", "X-Forwarded-For": self.connection}
        if cookie := self.csrf.get("cookie"):
            headers["Cookie"] = f"csrftoken={cookie}"
        if body is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        return headers

    def ask(self, method: str, address: str, body: str | None = None) -> Page:
        """One request on a connection of its own; the time counts from connecting to the end."""
        headers = self._headers(body)
        connection = HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_S)
        began = perf_counter()
        try:
            connection.request(method, address, body, headers)
            answer = connection.getresponse()
            text = answer.read().decode()
        finally:
            connection.close()
        took_ms = (perf_counter() - began) * 1000
        given = re.match(r"csrftoken=([^;]+)", answer.getheader("Set-Cookie") or "")
        if given:
            self.csrf["cookie"] = given[1]
        return Page(answer.status, answer.getheader("Location") or "", text, took_ms)


def _found(pattern: re.Pattern[str], page: Page) -> str:
    match = pattern.search(page.text)
    assert match is not None, page.text
    return unescape(match[1])


def all_at_once(work: Callable[[One], Result], ones: Iterable[One]) -> list[Result]:
    """Do the work for everyone in threads that begin together; the results in their order."""
    ones = list(ones)
    barrier, results, errors = Barrier(len(ones)), dict[int, Result](), list[Exception]()

    def run(number: int, one: One) -> None:
        barrier.wait()
        try:
            results[number] = work(one)
        except Exception as error:
            errors.append(error)

    threads = [Thread(target=run, args=pair) for pair in enumerate(ones)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not errors, errors
    return [results[number] for number in range(len(ones))]


def a_few_at_a_time(work: Callable[[One], Result], ones: Iterable[One]) -> list[Result]:
    """Do the work for everyone, eight at a time."""
    with ThreadPoolExecutor(8) as pool:
        return list(pool.map(work, ones))
