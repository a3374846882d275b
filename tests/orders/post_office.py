"""A mail server in a process of its own, for tests: `python -m tests.orders.post_office FOLDER [WORDS]`.

It prints its port, keeps each message as a file of the folder, and answers every message with WORDS where some are
given, such as "451 later".
"""

import asyncio
import contextlib
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from aiosmtpd.smtp import SMTP

ROOT = Path(__file__).resolve().parents[2]


class Kept:
    """Keeps what comes."""

    def __init__(self, folder: Path, words: str) -> None:
        self.folder, self.words = folder, words

    async def handle_DATA(self, _server, _session, envelope) -> str:
        if self.words:
            return self.words
        number = len(list(self.folder.iterdir()))
        head = f"X-To: {', '.join(envelope.rcpt_tos)}\r\n".encode()
        (self.folder / f"{number:03d}.eml").write_bytes(head + envelope.content)
        return "250 kept"


async def serve(folder: Path, words: str) -> None:
    loop = asyncio.get_running_loop()
    server = await loop.create_server(lambda: SMTP(Kept(folder, words), hostname="post.test"), "127.0.0.1", 0)
    print(server.sockets[0].getsockname()[1], flush=True)
    await server.serve_forever()


@contextlib.contextmanager
def open_office(folder: Path, words: str = "") -> Iterator[int]:
    """The port of a running mail server that keeps its messages in `folder`."""
    command = [sys.executable, "-m", "tests.orders.post_office", str(folder), words]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as process:
        try:
            yield int(process.stdout.readline())
        finally:
            process.terminate()


if __name__ == "__main__":
    asyncio.run(serve(Path(sys.argv[1]), sys.argv[2]))
