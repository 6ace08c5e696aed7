"""Somebody of the house at a browser: cookies kept, forms sent with the key they hold."""

from __future__ import annotations

import re
from http.client import HTTPConnection, HTTPResponse
from urllib.parse import urlencode

PATIENCE_S = 60
BOUNDARY = "a-line-between-parts"
KEY = re.compile(r'name="csrfmiddlewaretoken" value="([^"]+)"')


class Browser:
    """One browser; `cookies` are those it was given."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.cookies: dict[str, str] = {}

    def get(self, address: str) -> str:
        return self._ask("GET", address)[1]

    def post(self, address: str, fields: dict[str, str], *, form_at: str = "") -> int:
        """Send the form of a page; the status of the answer."""
        key = self._key_on(form_at or address)
        body = urlencode({"csrfmiddlewaretoken": key, **fields})
        return self._ask("POST", address, body, "application/x-www-form-urlencoded")[0].status

    def sign_in(self, username: str, password: str) -> None:
        given = {"username": username, "password": password}
        assert self.post("/sign-in/", given) == 302

    def with_photo(self, address: str, picture: bytes) -> bytes:
        """The bytes of a post that adds a photo, as they go over the line."""
        parts = [
            f'name="csrfmiddlewaretoken"\r\n\r\n{self._key_on(address)}'.encode(),
            b'name="alt"\r\n\r\nA cut loaf',
            b'name="picture"; filename="loaf.png"\r\nContent-Type: image/png\r\n\r\n' + picture,
        ]
        start = f"--{BOUNDARY}\r\nContent-Disposition: form-data; ".encode()
        body = b"".join(start + part + b"\r\n" for part in parts) + f"--{BOUNDARY}--\r\n".encode()
        head = [
            f"POST {address} HTTP/1.1",
            f"Host: 127.0.0.1:{self.port}",
            f"Cookie: {self._cookie}",
            f"Content-Type: multipart/form-data; boundary={BOUNDARY}",
            f"Content-Length: {len(body)}",
        ]
        return "\r\n".join([*head, "", ""]).encode() + body

    @property
    def _cookie(self) -> str:
        return "; ".join(f"{name}={value}" for name, value in self.cookies.items())

    def _key_on(self, address: str) -> str:
        found = KEY.search(self.get(address))
        assert found is not None, address
        return found[1]

    def _ask(
        self, method: str, address: str, body: str | None = None, kind: str = ""
    ) -> tuple[HTTPResponse, str]:
        headers = {"Cookie": self._cookie} if self.cookies else {}
        if kind:
            headers["Content-Type"] = kind
        connection = HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_S)
        try:
            connection.request(method, address, body, headers)
            answer = connection.getresponse()
            text = answer.read().decode()
        finally:
            connection.close()
        for given in answer.headers.get_all("Set-Cookie", []):
            name, _, rest = given.partition("=")
            self.cookies[name] = rest.partition(";")[0]
        return answer, text
