"""A browser without a window: opens a page at a width, measures it by script, prints it, takes its
picture.

One Chromium process of our own, spoken to over a pair of pipes in its own language: one JSON
message after another, each ended by a zero byte, the browser reading from its file number 3 and
writing to 4.
"""

from __future__ import annotations

import base64
import json
import os
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from select import select
from typing import Any

from programs import need, surroundings

OPTIONS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--hide-scrollbars",
    "--disable-background-networking",
    "--disable-component-update",
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--remote-debugging-pipe",
    "about:blank",
]
SECONDS_ALLOWED = 60
LOADED = """new Promise(
        done => document.readyState == "complete" ? done() : addEventListener("load", done))
    .then(() => document.fonts.ready).then(() => true)"""
COMPLAINTS = {"Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled"}
CLIP = ("x", "y", "width", "height", "scale")  # what a part of a window is said by


class Browser:
    """One tab. `complaints` is what the console would show: errors and warnings since the page was
    opened.
    """

    def __init__(self, writes: int, reads: int) -> None:
        self.writes, self.reads = writes, reads
        self.rest, self.session, self.number = b"", "", 0
        self.heard: list[dict[str, Any]] = []
        tab = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.ask("Target.attachToTarget", targetId=tab, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Log"):
            self.ask(f"{domain}.enable")

    def ask(self, method: str, **given: Any) -> dict[str, Any]:
        """Send one command and return its answer; RuntimeError with the browser's words where it
        refuses.
        """
        self.number += 1
        sent = {"id": self.number, "method": method, "params": given} | (
            {"sessionId": self.session} if self.session else {}
        )
        os.write(self.writes, json.dumps(sent).encode() + b"\0")
        while (answer := self._next()).get("id") != self.number:
            self.heard.append(answer)
        if "error" in answer:
            raise RuntimeError(f"the browser refuses {method}: {answer['error']['message']}")
        result: dict[str, Any] = answer["result"]
        return result

    def _next(self) -> dict[str, Any]:
        until = time.monotonic() + SECONDS_ALLOWED
        while b"\0" not in self.rest:
            ready, _, _ = select([self.reads], [], [], max(0.0, until - time.monotonic()))
            got = os.read(self.reads, 1 << 20) if ready else b""
            if not got:
                raise RuntimeError("the browser has gone, or does not answer")
            self.rest += got
        message, _, self.rest = self.rest.partition(b"\0")
        read: dict[str, Any] = json.loads(message)
        return read

    def open(self, page: Path, width: int, height: int = 900) -> None:
        """Open a page in a window of this size and wait until it is there with its fonts."""
        screen = {"width": width, "height": height, "screenWidth": width, "screenHeight": height}
        self.ask(
            "Emulation.setDeviceMetricsOverride", **screen, deviceScaleFactor=1, mobile=width < 700
        )
        self.heard.clear()
        failed = self.ask("Page.navigate", url=page.resolve().as_uri()).get("errorText")
        if failed:
            raise RuntimeError(f"the browser cannot open {page}: {failed}")
        self.tell(LOADED)

    @property
    def complaints(self) -> list[str]:
        """What the page made the console say."""
        return [json.dumps(one["params"]) for one in self.heard if one.get("method") in COMPLAINTS]

    def tell(self, script: str) -> Any:
        """Work a script out on the page and return what it comes to; RuntimeError with its
        error.
        """
        told = self.ask(
            "Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True
        )
        if "exceptionDetails" in told:
            raise RuntimeError(json.dumps(told["exceptionDetails"])[:2000])
        return told["result"].get("value")

    def print(self, out: Path, across: float = 8.27, down: float = 11.69) -> None:
        """Print the page to a PDF on this paper, in inches: A4 where nothing is said; the page's
        own rules count first.
        """
        paper = {"paperWidth": across, "paperHeight": down, "preferCSSPageSize": True}
        out.write_bytes(
            base64.b64decode(self.ask("Page.printToPDF", printBackground=False, **paper)["data"])
        )

    def picture(self, out: Path, size: tuple[int, int] | None = None) -> None:
        """Take a picture of what the window shows, or of so much of it from its upper left."""
        part = {"clip": dict(zip(CLIP, (0, 0, *size, 1), strict=True))} if size else {}
        taken = self.ask("Page.captureScreenshot", format="png", **part)
        out.write_bytes(base64.b64decode(taken["data"]))


@contextmanager
def browser() -> Iterator[Browser]:
    """A browser of one's own, ended by its id."""
    command = need("chromium")
    (theirs, writes), (reads, answers) = os.pipe(), os.pipe()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as home:
        shell = [
            "bash",
            "-c",
            f'exec "$0" "$@" 3<&{theirs} 4>&{answers}',
            command,
            *OPTIONS,
            f"--user-data-dir={home}",
        ]
        process = subprocess.Popen(
            shell,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            pass_fds=(theirs, answers),
            env=surroundings(),
            start_new_session=True,
        )
        os.close(theirs)
        os.close(answers)
        try:
            yield Browser(writes, reads)
        finally:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
            os.close(writes)
            os.close(reads)
