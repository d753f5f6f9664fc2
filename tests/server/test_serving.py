"""The socket on which the page is served."""

import asyncio
import socket

from fencewright.cli.serve import _listen


def test_no_part_of_an_answer_waits_for_the_receipt_of_another() -> None:
    """An answer in two parts takes 40 ms longer where the second waits for the first (RFC 896, RFC 1122 4.2.3.2)."""
    found: list[int] = []

    async def look() -> None:
        def met(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            own = writer.get_extra_info("socket")
            found.append(own.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        with _listen("127.0.0.1", None) as listening:
            server = await asyncio.start_server(met, sock=listening)
            reader, writer = await asyncio.open_connection(*listening.getsockname())
            await reader.read()
            writer.close()
            server.close()

    asyncio.run(look())
    assert found == [1]
