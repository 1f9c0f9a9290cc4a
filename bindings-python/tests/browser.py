"""A headless Chromium without network, asked through its debugging pipe."""

from __future__ import annotations

import base64
import json
import os
import shutil
import subprocess
import tempfile
import time
from pathlib import Path
from types import TracebackType
from typing import Any

FOUND = next((found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), None)

_OPTIONS = [
    "--headless=new",
    "--no-sandbox",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-background-networking",
    # Nothing listens there: whatever asks the network fails.
    "--proxy-server=127.0.0.1:9",
    "--window-size=1200,700",
    "--remote-debugging-pipe",
]


class Browser:
    """One page in a browser of its own, which ends with it."""

    def __init__(self) -> None:
        assert FOUND is not None
        self._folder = tempfile.mkdtemp()
        there, self._write = os.pipe()
        self._read, back = os.pipe()

        def pipes() -> None:
            # Both may stand where the other has to go.
            a, b = os.dup(there), os.dup(back)
            os.dup2(a, 3)
            os.dup2(b, 4)
            # Where a duplicate has its place already nothing was done, and it would be closed.
            os.set_inheritable(3, True)
            os.set_inheritable(4, True)

        self._process = subprocess.Popen(
            [FOUND, *_OPTIONS, f"--user-data-dir={self._folder}", "about:blank"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            preexec_fn=pipes,
            close_fds=False,
        )
        os.close(there)
        os.close(back)
        self._number, self._rest, self._session = 0, b"", ""
        self.asked: list[str] = []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        self.call("Page.enable")
        self.call("Network.enable")

    def __enter__(self) -> Browser:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._process.terminate()
        self._process.wait(20)
        os.close(self._write)
        os.close(self._read)
        shutil.rmtree(self._folder, ignore_errors=True)

    def call(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Asks the browser, and notes meanwhile what the page asks the network."""
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._write, json.dumps(message).encode() + b"\0")
        while True:
            while b"\0" not in self._rest:
                piece = os.read(self._read, 1 << 20)
                if not piece:
                    raise RuntimeError("the browser ended")
                self._rest += piece
            one, self._rest = self._rest.split(b"\0", 1)
            told = json.loads(one)
            if told.get("method") == "Network.requestWillBeSent":
                self.asked.append(told["params"]["request"]["url"])
            if told.get("id") == self._number:
                if "error" in told:
                    raise RuntimeError(str(told["error"]))
                result: dict[str, Any] = told["result"]
                return result

    def evaluate(self, script: str) -> Any:
        """The value of an expression in the page; of a promise what it becomes."""
        told = self.call("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
        if "exceptionDetails" in told:
            raise RuntimeError(str(told["exceptionDetails"])[:500])
        return told["result"].get("value")

    def open(self, page: Path, ready: str, within_s: float = 60.0) -> None:
        """Opens a file, and waits until an expression is true in it."""
        self.call("Page.navigate", url=page.as_uri())
        until = time.monotonic() + within_s
        while self.evaluate(ready) is not True:
            if time.monotonic() > until:
                raise TimeoutError(f"{page.name} is not ready")
            time.sleep(0.1)

    def picture(self) -> bytes:
        """The page as a PNG."""
        return base64.b64decode(self.call("Page.captureScreenshot", format="png")["data"])
