"""A way between phone and server that goes wrong as it is told to: it cuts, stalls, drops, loses and repeats.

It knows HTTP/1.1 just well enough to tell one request from the next, and gives each a connection of its own, so that a
fault hits the very request that it is meant for. Everything that came and what was done with it is in `came`.
"""

import contextlib
import random
import socket
import struct
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass
class Request:
    """One request as it came. `head` ends with the empty line."""

    method: str
    path: str
    head: bytes
    body: bytes

    def with_length(self, length: int) -> bytes:
        """The head, with another Content-Length."""
        lines = [line for line in self.head.split(b"\r\n") if not line.lower().startswith(b"content-length:")]
        return b"\r\n".join([lines[0], b"Content-Length: %d" % length, *lines[1:]])


class Way:
    """One connection of a phone, and the means to treat its request in one way or another."""

    def __init__(self, proxy: "Proxy", phone: socket.socket) -> None:
        self.proxy, self.phone = proxy, phone

    def upstream(self) -> socket.socket:
        return socket.create_connection(("127.0.0.1", self.proxy.server_port), timeout=60)

    def asked(self, head: bytes, body: bytes) -> bytes:
        """The server's whole answer."""
        with self.upstream() as server:
            self.proxy.trickle(server, closing(head) + body)
            return until_end(server)

    def answer(self, raw: bytes) -> None:
        self.proxy.trickle(self.phone, raw)

    def reset(self, sock: socket.socket | None = None) -> None:
        """Ends a connection as a dead link does, without a good-bye."""
        with contextlib.suppress(OSError):
            (sock or self.phone).setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            (sock or self.phone).close()


Act = Callable[[Way, Request], None]


def passed(way: Way, request: Request) -> None:
    """As if there were no proxy."""
    way.answer(way.asked(request.head, request.body))


def dropped(way: Way, request: Request) -> None:
    """The request never reaches the server."""
    way.reset()


def answer_lost(way: Way, request: Request) -> None:
    """The server does it and answers; the phone never hears of it."""
    way.asked(request.head, request.body)
    way.reset()


def cut_at(count: int | float) -> Act:
    """The server gets so many bytes of the body (a float: such a share of it; below zero: from its end), then nothing."""

    def act(way: Way, request: Request) -> None:
        size = len(request.body)
        upto = int(count * size) if isinstance(count, float) else count if count >= 0 else size + count
        with way.upstream() as server:
            with contextlib.suppress(OSError):
                server.sendall(closing(request.head) + request.body[: max(0, min(upto, size))])
            way.reset(server)
        way.reset()

    return act


def shortened(share: float) -> Act:
    """A short body with a clean end: its length is told as what is left of it."""

    def act(way: Way, request: Request) -> None:
        body = request.body[: int(len(request.body) * share)]
        way.answer(way.asked(request.with_length(len(body)), body))

    return act


def answer_cut(share: float) -> Act:
    """The server does it; its answer breaks off."""

    def act(way: Way, request: Request) -> None:
        raw = way.asked(request.head, request.body)
        with contextlib.suppress(OSError):
            way.phone.sendall(raw[: int(len(raw) * share)])
        way.reset()

    return act


def repeated(times: int) -> Act:
    """The server gets it so many times at once; the phone hears the last answer."""

    def act(way: Way, request: Request) -> None:
        answers: list[bytes] = []

        def ask() -> None:
            with contextlib.suppress(OSError):
                answers.append(way.asked(request.head, request.body))

        threads = [threading.Thread(target=ask) for _ in range(times)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        way.answer(answers[-1])

    return act


def stalled(way: Way, request: Request) -> None:
    """Nothing more happens on this connection until the phone gives up."""
    with contextlib.suppress(OSError):
        way.phone.settimeout(60)
        way.phone.recv(1)
    way.reset()


def any_of(chance: random.Random, *acts: Act) -> Act:
    """One of these each time, as chance has it."""

    def act(way: Way, request: Request) -> None:
        chance.choice(acts)(way, request)

    return act


def answered(status: str, body: bytes = b"", **headers: str) -> Act:
    """This answer instead of the server's, which never hears of the request."""

    def act(way: Way, request: Request) -> None:
        way.answer(response(status, body, headers))

    return act


def done_but_answered(status: str, body: bytes = b"", **headers: str) -> Act:
    """The server does it; the phone hears this instead of the server's answer."""

    def act(way: Way, request: Request) -> None:
        way.asked(request.head, request.body)
        way.answer(response(status, body, headers))

    return act


def response(status: str, body: bytes, headers: dict[str, str]) -> bytes:
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    lines = [f"HTTP/1.1 {status}", *(f"{name}: {value}" for name, value in named.items())]
    if not status.startswith("204"):
        lines.append(f"Content-Length: {len(body)}")
    return ("\r\n".join([*lines, "Connection: close"]) + "\r\n\r\n").encode() + body


@dataclass
class Fault:
    """What happens to requests whose method and path begin so, the first `times` of them (None: for good)."""

    method: str
    path: str
    act: Act
    times: int | None = None
    chance: float = 1.0
    met: int = 0


@dataclass
class Proxy:
    """Listens on a port of its own, on threads of its own. `faults` are asked in turn; the first that fits acts."""

    server_port: int
    seed: int = 1
    bytes_per_second: float | None = None  # both ways, of each connection
    faults: list[Fault] = field(default_factory=list)
    came: list[tuple[str, str, str]] = field(default_factory=list)  # method, path, what was done

    def __post_init__(self) -> None:
        self.random = random.Random(self.seed)
        self.lock = threading.Lock()
        self.listener = socket.create_server(("127.0.0.1", 0), backlog=64)
        self.port = self.listener.getsockname()[1]
        threading.Thread(target=self.listen, daemon=True).start()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def when(self, method: str, path: str, act: Act, times: int | None = None, chance: float = 1.0) -> Fault:
        """From now on `act` happens to such requests."""
        fault = Fault(method, path, act, times, chance)
        with self.lock:
            self.faults.append(fault)
        return fault

    def mend(self) -> None:
        """From now on everything passes, and fast."""
        with self.lock:
            self.faults.clear()
            self.bytes_per_second = None

    def count(self, method: str, path: str) -> int:
        """How many such requests came."""
        return sum(one == method and other.startswith(path) for one, other, _done in self.came)

    def wait_for(self, method: str, path: str, count: int, seconds: float = 60) -> None:
        """Waits until so many such requests came. Raises TimeoutError."""
        last = time.monotonic() + seconds
        while self.count(method, path) < count:
            if time.monotonic() > last:
                raise TimeoutError(f"{method} {path} came {self.count(method, path)} times, not {count}")
            time.sleep(0.05)

    def close(self) -> None:
        self.listener.close()

    def listen(self) -> None:
        while True:
            try:
                phone, _address = self.listener.accept()
            except OSError:
                return
            threading.Thread(target=self.serve, args=(phone,), daemon=True).start()

    def serve(self, phone: socket.socket) -> None:
        """One request of one connection, then its end."""
        with contextlib.suppress(OSError), phone:
            phone.settimeout(90)
            request = read_request(phone, self)
            if request:
                act = self.act_for(request)
                act(Way(self, phone), request)

    def act_for(self, request: Request) -> Act:
        with self.lock:
            fault = next((one for one in self.faults if self.fits(one, request)), None)
            act = fault.act if fault else passed
            if fault:
                fault.met += 1
            self.came.append((request.method, request.path, "fault" if fault else "passed"))
        return act

    def fits(self, fault: Fault, request: Request) -> bool:
        return (
            fault.method in {request.method, "*"}
            and request.path.startswith(fault.path)
            and (fault.times is None or fault.met < fault.times)
            and (fault.chance >= 1 or self.random.random() < fault.chance)
        )

    def trickle(self, to: socket.socket, raw: bytes) -> None:
        """Sends no faster than the link."""
        if not self.bytes_per_second:
            to.sendall(raw)
            return
        step = max(1, int(self.bytes_per_second / 20))
        for at in range(0, len(raw), step):
            to.sendall(raw[at : at + step])
            time.sleep(step / self.bytes_per_second)


def read_request(phone: socket.socket, proxy: Proxy) -> Request | None:
    """The one request on a connection; None where the phone hung up before its end."""
    came = b""
    while b"\r\n\r\n" not in came:
        more = phone.recv(65536)
        if not more:
            return None
        came += more
    head, body = came.split(b"\r\n\r\n", 1)
    length = next(
        (
            int(line.split(b":")[1])
            for line in head.split(b"\r\n")
            if line.lower().startswith(b"content-length:")
        ),
        0,
    )
    while len(body) < length:
        more = phone.recv(65536)
        if not more:
            return None
        body += more
        if proxy.bytes_per_second:
            time.sleep(len(more) / proxy.bytes_per_second)
    method, path, _version = head.split(b"\r\n")[0].decode("latin-1").split(" ")
    return Request(method, path, head + b"\r\n\r\n", body)


def closing(head: bytes) -> bytes:
    """The head, asking the server to end the connection with its answer."""
    lines = [line for line in head.split(b"\r\n") if not line.lower().startswith(b"connection:")]
    return b"\r\n".join([lines[0], b"Connection: close", *lines[1:]])


def until_end(server: socket.socket) -> bytes:
    came = bytearray()
    while more := server.recv(65536):
        came += more
    return bytes(came)
