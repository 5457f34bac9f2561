"""A page in a real Chromium, driven over its DevTools protocol; nothing is downloaded."""

from __future__ import annotations

import itertools
import json
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import websocket

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--remote-debugging-port=0")
PATIENCE = 60  # seconds, for a slow machine


class Tab:
    """An open page."""

    def __init__(self, socket: websocket.WebSocket) -> None:
        self._socket = socket
        self._numbers = itertools.count(1)
        self.requests: list[str] = []

    def call(self, method: str, **parameters: Any) -> dict[str, Any]:
        """One DevTools command and its result; requests seen meanwhile are noted."""
        number = next(self._numbers)
        self._socket.send(json.dumps({"id": number, "method": method, "params": parameters}))
        while True:
            said = json.loads(self._socket.recv())
            if said.get("method") == "Network.requestWillBeSent":
                self.requests.append(said["params"]["request"]["url"])
            if said.get("id") == number:
                assert "error" not in said, said
                return said["result"]

    def run(self, script: str) -> Any:
        """The value of an expression in the page, a promise's once it is kept."""
        done = self.call(
            "Runtime.evaluate",
            expression=script,
            returnByValue=True,
            awaitPromise=True,
            userGesture=True,
        )
        assert "exceptionDetails" not in done, done
        return done["result"].get("value")

    def press(self, key: str, code: int) -> None:
        """One key; `code` is the Windows virtual key code that the protocol wants."""
        text = "\r" if key == "Enter" else ""
        for kind in ("keyDown", "keyUp"):
            self.call(
                "Input.dispatchKeyEvent",
                type=kind,
                key=key,
                code=key,
                windowsVirtualKeyCode=code,
                **({"text": text} if text and kind == "keyDown" else {}),
            )


@contextmanager
def tab(folder: Path, page: Path, size: tuple[int, int], mobile: bool) -> Iterator[Tab]:
    """The page at that size in CSS pixels."""
    profile = folder / "browser"
    call = [str(CHROMIUM), *FLAGS, f"--user-data-dir={profile}", "about:blank"]
    process = subprocess.Popen(call, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        socket = websocket.create_connection(
            _address(profile), suppress_origin=True, timeout=PATIENCE
        )
        found = Tab(socket)
        targets = found.call("Target.getTargets")["targetInfos"]
        target = next(each["targetId"] for each in targets if each["type"] == "page")
        base = _address(profile).split("/devtools/")[0]
        socket.close()
        socket = websocket.create_connection(
            f"{base}/devtools/page/{target}", suppress_origin=True, timeout=PATIENCE
        )
        found = Tab(socket)
        for domain in ("Network", "Page", "Runtime"):
            found.call(f"{domain}.enable")
        width, height = size
        found.call(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=mobile,
        )
        found.call("Page.navigate", url=page.as_uri())
        _until(lambda: found.run("document.readyState") == "complete")
        yield found
        socket.close()
    finally:
        process.kill()
        process.wait()


def _address(profile: Path) -> str:
    """Where Chromium says that it listens."""
    file = profile / "DevToolsActivePort"

    def lines() -> list[str]:
        with suppress(OSError):
            return file.read_text().split()
        return []

    _until(lambda: len(lines()) == 2)
    port, path = lines()
    return f"ws://127.0.0.1:{port}{path}"


def _until(true: Any) -> None:
    end = time.monotonic() + PATIENCE
    while not true():
        assert time.monotonic() < end, "Chromium does not answer"
        time.sleep(0.05)
