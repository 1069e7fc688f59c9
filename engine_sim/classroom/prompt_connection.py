"""The page's way to its kernel, with nothing held back.

TCP gathers small messages while an earlier one is unconfirmed (RFC 1122, 4.2.3.4), and the other side may put off its
confirmation: on one computer an answer of the bench then lies still for 40 ms. Jupyter leaves that on; here it is off.
"""

from __future__ import annotations

import asyncio

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection


class PromptConnection(ZMQChannelsWebsocketConnection):
    """Jupyter's own connection from a page to its kernel, which sends each message at once."""

    def connect(self) -> asyncio.Future[None] | None:  # type: ignore[override]  # Jupyter declares it in two ways
        """Connect as Jupyter does, and return what it returns; nothing small waits for anything from here on."""
        self.websocket_handler.set_nodelay(True)
        return super().connect()
