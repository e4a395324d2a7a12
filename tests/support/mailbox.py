"""A mail server small enough for a test: takes one mail after another and keeps their text."""

from __future__ import annotations

import re
import socketserver
import threading


class _Taking(socketserver.StreamRequestHandler):
    def handle(self) -> None:
        self.say("220 here")
        for line in self.rfile:
            word = line.decode().strip().upper()
            if word.startswith("DATA"):
                self.say("354 go on")
                self.server.mails.append(self.text())  # type: ignore[attr-defined]
            self.say("221 bye" if word.startswith("QUIT") else "250 ok")

    def text(self) -> str:
        lines = []
        while (line := self.rfile.readline().decode()) not in (".\r\n", ""):
            lines.append(line)
        return "".join(lines)

    def say(self, text: str) -> None:
        self.wfile.write(f"{text}\r\n".encode())


class Mailbox:
    """
    >>> with Mailbox() as box: box.port, box.mails
    """

    def __init__(self) -> None:
        self.server = socketserver.ThreadingTCPServer(("127.0.0.1", 0), _Taking)
        self.mails: list[str] = []
        self.server.mails = self.mails  # type: ignore[attr-defined]
        self.port = self.server.server_address[1]

    def __enter__(self) -> Mailbox:
        threading.Thread(target=self.server.serve_forever, daemon=True).start()
        return self

    def __exit__(self, *_: object) -> None:
        self.server.shutdown()
        self.server.server_close()


def code_in(mail: str) -> str:
    """The code to type that stands in it, on a line of its own."""
    found = re.search(r"^([A-Z0-9]{4}-?[A-Z0-9]{2,4})\s*$", mail, re.MULTILINE)
    assert found, mail
    return found[1]
