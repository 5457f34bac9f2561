"""A real headless Chromium, driven over its DevTools protocol: keys, sizes, what it asks for.

https://chromedevtools.github.io/devtools-protocol/
"""

from __future__ import annotations

import base64
import json
import shutil
import subprocess
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import websocket

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
PATIENCE = 30  # s; nothing takes as long unless it hangs
KEYS = {"Enter": 13, "Escape": 27, "ArrowLeft": 37, "ArrowRight": 39, "Tab": 9}
CLIPBOARD = ["clipboardReadWrite", "clipboardSanitizedWrite"]


class Tab:
    """One tab; `asked` lists every address that it wanted, `broken` whatever went wrong in it."""

    def __init__(self, address: str) -> None:
        self._socket = websocket.create_connection(
            address, timeout=PATIENCE, suppress_origin=True, enable_multithread=False
        )
        self._calls = 0
        self.asked: list[str] = []
        self.broken: list[str] = []
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(f"{domain}.enable")
        self.call("Browser.grantPermissions", permissions=CLIPBOARD)
        self.call("Emulation.setFocusEmulationEnabled", enabled=True)

    def close(self) -> None:
        self._socket.close()

    def call(self, method: str, **params: Any) -> dict[str, Any]:
        """One call and its answer; events that come before it are noted."""
        self._calls += 1
        self._socket.send(json.dumps({"id": self._calls, "method": method, "params": params}))
        while True:
            said = json.loads(self._socket.recv())
            if said.get("id") == self._calls:
                assert "error" not in said, said["error"]
                return dict(said["result"])
            self._note(said)

    def _note(self, event: dict[str, Any]) -> None:
        params = event.get("params", {})
        if event.get("method") == "Network.requestWillBeSent":
            self.asked.append(params["request"]["url"])
        elif event.get("method") == "Runtime.exceptionThrown":
            self.broken.append(str(params["exceptionDetails"]))
        elif event.get("method") == "Log.entryAdded" and params["entry"]["level"] == "error":
            self.broken.append(params["entry"]["text"])

    def size(self, width: int, height: int) -> None:
        phone = width < 600
        self.call(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=phone,
        )
        self.call("Emulation.setTouchEmulationEnabled", enabled=phone)

    def open(self, page: Path) -> None:
        self.go(page.as_uri())

    def go(self, address: str) -> None:
        self.call("Page.navigate", url=address)
        self.until(f"location.href === {json.dumps(address)} && document.readyState === 'complete'")

    def run(self, script: str) -> Any:
        """The value of an expression in the page, awaited; as a person's own act."""
        done = self.call(
            "Runtime.evaluate",
            expression=script,
            returnByValue=True,
            awaitPromise=True,
            userGesture=True,
        )
        assert "exceptionDetails" not in done, done["exceptionDetails"]
        return done["result"].get("value")

    def until(self, script: str) -> None:
        """Wait until the expression holds."""
        end = time.monotonic() + PATIENCE
        while not self.run(script):
            assert time.monotonic() < end, f"never came true: {script}"
            time.sleep(0.02)

    def press(self, key: str) -> None:
        held = {"key": key, "code": key, "windowsVirtualKeyCode": KEYS[key]}
        text = {"text": "\r"} if key == "Enter" else {}
        self.call("Input.dispatchKeyEvent", type="keyDown", **held, **text)
        self.call("Input.dispatchKeyEvent", type="keyUp", **held)

    def type(self, text: str) -> None:
        for letter in text:
            self.call("Input.dispatchKeyEvent", type="char", text=letter)

    def click(self, x: float, y: float) -> None:
        for step in ("mousePressed", "mouseReleased"):
            at = {"x": x, "y": y, "button": "left", "clickCount": 1}
            self.call("Input.dispatchMouseEvent", type=step, **at)

    def print(self) -> bytes:
        """What goes to paper, as a PDF."""
        return base64.b64decode(self.call("Page.printToPDF", printBackground=False)["data"])

    def shot(self) -> bytes:
        """What stands on the screen, as a PNG."""
        return base64.b64decode(self.call("Page.captureScreenshot", format="png")["data"])


class Browser:
    """A running Chromium."""

    def __init__(self, port: int) -> None:
        self._at = f"http://127.0.0.1:{port}"

    @contextmanager
    def tab(self) -> Iterator[Tab]:
        ask = urllib.request.Request(f"{self._at}/json/new?about:blank", method="PUT")
        with urllib.request.urlopen(ask, timeout=PATIENCE) as answer:
            found = json.load(answer)
        tab = Tab(found["webSocketDebuggerUrl"])
        try:
            yield tab
        finally:
            tab.call("Page.close")
            tab.close()


@contextmanager
def browser(folder: Path) -> Iterator[Browser]:
    """A Chromium of its own, whose files are in the folder, until the block ends."""
    call = [
        str(CHROMIUM),
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-dev-shm-usage",
        "--no-first-run",
        "--disable-background-networking",
        "--remote-debugging-port=0",
        f"--user-data-dir={folder}",
        "about:blank",
    ]
    running = subprocess.Popen(call, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        yield Browser(_port(folder / "DevToolsActivePort"))
    finally:
        running.terminate()
        running.wait(PATIENCE)


def _port(said: Path) -> int:
    """The port that Chromium chose: it writes the file once it listens."""
    end = time.monotonic() + PATIENCE
    while not (said.exists() and said.read_text().count("\n")):
        assert time.monotonic() < end, "Chromium did not start"
        time.sleep(0.02)
    return int(said.read_text().split("\n")[0])
