"""Bodies of requests: counted as they come, and read to their end before an answer goes out."""

import asyncio
from collections.abc import Awaitable, Callable, Mapping, MutableMapping
from typing import Any

from starlette.exceptions import HTTPException

Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]

_REST_S = 2.0  # whoever sends more slowly hears no answer to what was refused anyway


class Body:
    """The body of one request.

    Parameters
    ----------
    receive : callable
        Where its parts come from.
    headers : mapping of str to str
        Of the request.
    """

    def __init__(self, receive: Receive, headers: Mapping[str, str]) -> None:
        self._receive = receive
        self._left: int | None = None
        self._most_bytes = 0
        self._is_read = headers.get("content-length", "0") == "0" and "transfer-encoding" not in headers

    def bound(self, most_bytes: int) -> None:
        """Take no more than this, whatever the request said of its length."""
        self._left = self._most_bytes = most_bytes

    async def receive(self) -> MutableMapping[str, Any]:
        """Take the next part of it.

        Raises
        ------
        HTTPException
            413, once there is more than it may hold.
        """
        message = await self._receive()
        self._note(message)
        if self._left is not None:
            self._left -= len(message.get("body", b""))
            if self._left < 0:
                raise HTTPException(413, f"give at most {self._most_bytes / 1e6:,.0f} MB at once")
        return message

    async def read_rest(self) -> None:
        """Let go what nobody has read: a connection that is closed upon it takes the answer with it."""
        try:
            async with asyncio.timeout(_REST_S):
                while not self._is_read:
                    self._note(await self._receive())
        except TimeoutError:
            self._is_read = True

    def _note(self, message: MutableMapping[str, Any]) -> None:
        self._is_read = self._is_read or not message.get("more_body", False)
