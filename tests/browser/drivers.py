"""Firefox and WebKitGTK without Playwright: by the open protocols that each of them speaks.

Both drivers offer the same: ``open`` an address, ``evaluate`` an expression (a promise is awaited).
"""

import base64
import contextlib
import json
import os
import re
import secrets
import shutil
import socket
import struct
import subprocess
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Protocol

from guide import setup_browser

START_S = 180.0
ANSWER_S = 240.0


class Driver(Protocol):
    """A browser that opens pages and evaluates expressions in them."""

    def leave(self) -> None:
        """Leave the page that is open."""

    def open(self, address: str) -> None:
        """Open an address and wait until its page is loaded."""

    def evaluate(self, expression: str) -> Any:
        """Return what an expression gives, a promise's result included."""


@contextmanager
def running(command: list[str], log: Path, **environment: str) -> Iterator[subprocess.Popen[bytes]]:
    """A program, stopped with all that it started."""
    with log.open("wb") as output:
        process = subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
            env={**os.environ, **environment},
            start_new_session=True,
        )
        try:
            yield process
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(process.pid, 15)
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(10)
            with contextlib.suppress(ProcessLookupError):
                os.killpg(process.pid, 9)


def free_port() -> int:
    """A port that nobody listens at."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


class Socket:
    """A WebSocket as a client (RFC 6455), texts only."""

    def __init__(self, port: int, path: str) -> None:
        self.stream = socket.create_connection(("127.0.0.1", port), timeout=ANSWER_S)
        key = base64.b64encode(secrets.token_bytes(16)).decode()
        self.stream.sendall(
            f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nUpgrade: websocket\r\n"
            f"Connection: Upgrade\r\nSec-WebSocket-Key: {key}\r\n"
            "Sec-WebSocket-Version: 13\r\n\r\n".encode()
        )
        head = b""
        while b"\r\n\r\n" not in head:
            head += self.stream.recv(1)
        assert b" 101 " in head.split(b"\r\n")[0], head

    def send(self, text: str) -> None:
        """Send one text; a client masks what it sends."""
        mask = secrets.token_bytes(4)
        data = bytes(byte ^ mask[place % 4] for place, byte in enumerate(text.encode()))
        size = len(data)
        if size < 126:
            head = struct.pack("!BB", 0x81, 0x80 | size)
        elif size < 1 << 16:
            head = struct.pack("!BBH", 0x81, 0x80 | 126, size)
        else:
            head = struct.pack("!BBQ", 0x81, 0x80 | 127, size)
        self.stream.sendall(head + mask + data)

    def receive(self) -> str:
        """Return the next text."""
        text = b""
        while True:
            first, second = self._read(2)
            size = second & 0x7F
            if size == 126:
                (size,) = struct.unpack("!H", self._read(2))
            elif size == 127:
                (size,) = struct.unpack("!Q", self._read(8))
            data = self._read(size)
            if first & 0x0F in (0, 1):
                text += data
                if first & 0x80:
                    return text.decode()

    def _read(self, count: int) -> bytes:
        data = b""
        while len(data) < count:
            more = self.stream.recv(count - len(data))
            assert more, "the browser closed the connection"
            data += more
        return data


class Firefox:
    """Firefox by WebDriver BiDi."""

    def __init__(self, port: int) -> None:
        self.socket = Socket(port, "/session")
        self.count = 0
        self._ask("session.new", {"capabilities": {}})
        contexts = self._ask("browsingContext.getTree", {})["contexts"]
        self.context = contexts[0]["context"]

    def _ask(self, method: str, params: dict[str, Any]) -> Any:
        self.count += 1
        self.socket.send(json.dumps({"id": self.count, "method": method, "params": params}))
        while True:
            reply = json.loads(self.socket.receive())
            if reply.get("id") == self.count:
                assert reply["type"] == "success", reply
                return reply["result"]

    def leave(self) -> None:
        """Leave the page that is open."""
        self._go("about:blank")

    def open(self, address: str) -> None:
        """Open an address and wait until its page is loaded."""
        self.leave()
        self._go(address)

    def _go(self, address: str) -> None:
        params = {"context": self.context, "url": address, "wait": "complete"}
        self._ask("browsingContext.navigate", params)

    def evaluate(self, expression: str) -> Any:
        """Return what an expression gives, a promise's result included."""
        found = self._ask(
            "script.evaluate",
            {
                "expression": f"(async () => JSON.stringify((await ({expression})) ?? null))()",
                "target": {"context": self.context},
                "awaitPromise": True,
            },
        )
        assert found["type"] == "success", found
        return json.loads(found["result"]["value"])


@contextmanager
def firefox() -> Iterator[Driver]:
    """Firefox without a window, with a profile of its own."""
    path = setup_browser.find_firefox()
    assert path is not None
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        quiet = "\n".join(
            f'user_pref("{name}", {value});'
            for name, value in (
                ("browser.shell.checkDefaultBrowser", "false"),
                ("browser.startup.homepage_override.mstone", '"ignore"'),
                ("app.update.enabled", "false"),
                ("datareporting.policy.dataSubmissionEnabled", "false"),
                ("network.captive-portal-service.enabled", "false"),
                ("network.connectivity-service.enabled", "false"),
                ("services.settings.server", '"http://127.0.0.1:9/"'),
                ("browser.safebrowsing.update.enabled", "false"),
            )
        )
        (Path(folder) / "user.js").write_text(quiet, encoding="utf-8")
        port = free_port()
        command = [path, "--headless", "--no-remote", "--profile", folder]
        command += ["--remote-debugging-port", str(port), "about:blank"]
        log = Path(folder) / "log"
        with running(command, log, HOME=folder) as process:
            wait_for(process, log, re.compile(rb"WebDriver BiDi listening"))
            yield Firefox(port)


class WebKit:
    """WebKitGTK by WebDriver."""

    def __init__(self, port: int, program: str) -> None:
        self.address = f"http://127.0.0.1:{port}"
        options = {"binary": program, "args": ["--automation"]}
        wanted = {"alwaysMatch": {"webkitgtk:browserOptions": options}}
        session = self._ask("POST", "/session", {"capabilities": wanted})
        self.session = f"/session/{session['sessionId']}"
        limits = {"script": int(ANSWER_S * 1000), "pageLoad": int(ANSWER_S * 1000)}
        self._ask("POST", f"{self.session}/timeouts", limits)

    def _ask(self, method: str, path: str, body: dict[str, Any] | None = None) -> Any:
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(self.address + path, data=data, method=method)
        try:
            with urllib.request.urlopen(request, timeout=2 * ANSWER_S) as reply:
                return json.loads(reply.read())["value"]
        except urllib.error.HTTPError as error:
            told = json.loads(error.read())["value"]
            raise AssertionError(f"{told['error']}: {told['message']}") from error

    def leave(self) -> None:
        """Leave the page that is open."""
        self._ask("POST", f"{self.session}/url", {"url": "about:blank"})

    def open(self, address: str) -> None:
        """Open an address and wait until its page is loaded."""
        self.leave()
        self._ask("POST", f"{self.session}/url", {"url": address})
        deadline = time.monotonic() + START_S
        while self.evaluate("document.readyState") != "complete":  # it returns before that
            assert time.monotonic() < deadline, address
            time.sleep(0.05)

    def evaluate(self, expression: str) -> Any:
        """Return what an expression gives, a promise's result included."""
        script = (
            "const done = arguments[arguments.length - 1];"
            f"(async () => JSON.stringify((await ({expression})) ?? null))()"
            ".then(done, (error) => done(JSON.stringify({thrown: String(error)})));"
        )
        found = json.loads(
            self._ask("POST", f"{self.session}/execute/async", {"script": script, "args": []})
        )
        assert not (isinstance(found, dict) and "thrown" in found), found
        return found

    def close(self) -> None:
        """End the session and its browser."""
        self._ask("DELETE", self.session)


@contextmanager
def webkit() -> Iterator[Driver]:
    """WebKitGTK's small browser on a screen that nobody sees."""
    program = setup_browser.find_webkit()
    assert program is not None
    screen, driver = shutil.which("Xvfb"), shutil.which("WebKitWebDriver")
    assert screen and driver
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        log = Path(folder) / "log"
        size = ["-screen", "0", "1280x900x24", "-nolisten", "tcp", "-displayfd", "1"]
        told = Path(folder) / "screen"
        with running([screen, *size], told) as process:
            number = f":{wait_for(process, told, re.compile(rb'^([0-9]+)$', re.MULTILINE))}"
            port = free_port()
            places = {"DISPLAY": number, "HOME": folder, "WEBKIT_DISABLE_COMPOSITING_MODE": "1"}
            places["WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS"] = "1"  # root in a container
            with running([driver, f"--port={port}"], log, **places):
                wait_for_port(port)
                browser = WebKit(port, program)
                try:
                    yield browser
                finally:
                    browser.close()


def wait_for_port(port: int) -> None:
    """Wait until somebody listens at a port."""
    deadline = time.monotonic() + START_S
    while True:
        try:
            socket.create_connection(("127.0.0.1", port)).close()
        except OSError:
            assert time.monotonic() < deadline, port
            time.sleep(0.1)
        else:
            return


def wait_for(process: subprocess.Popen[bytes], log: Path, said: re.Pattern[bytes]) -> str:
    """Wait until a program has said something, and return that."""
    deadline = time.monotonic() + START_S
    while not (found := said.search(log.read_bytes())):
        assert process.poll() is None, log.read_text(errors="replace")[-2000:]
        assert time.monotonic() < deadline, log.read_text(errors="replace")[-2000:]
        time.sleep(0.1)
    return found[0].decode()
