"""A page in headless Chromium, as a swimmer opens it: from a file, without a network."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

CHROMIUM = Path("/usr/bin/chromium")

needs_chromium = pytest.mark.skipif(
    not CHROMIUM.exists(), reason="no Chromium at /usr/bin/chromium: install the package chromium"
)


@contextmanager
def chromium() -> Iterator[Browser]:
    """A browser; the sandbox of its own needs rights that a container has not."""
    with sync_playwright() as play:
        browser = play.chromium.launch(
            executable_path=str(CHROMIUM),
            args=["--no-sandbox", "--autoplay-policy=no-user-gesture-required"],
        )
        yield browser
        browser.close()


@dataclass
class Opened:
    """An open page, and all that it printed and asked for meanwhile."""

    page: Page
    printed: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def media(self, what: str) -> Any:
        """A property of the player."""
        return self.page.evaluate(f"document.querySelector('video, audio').{what}")

    def wait(self, condition: str, seconds: float = 20) -> None:
        """Waits until an expression holds, asking from outside: the page's policy bars eval."""
        until = time.monotonic() + seconds
        while not self.page.evaluate(f"Boolean({condition})"):
            assert time.monotonic() < until, f"never came true: {condition}"
            self.page.wait_for_timeout(50)


@contextmanager
def opened(browser: Browser, path: Path, **options: Any) -> Iterator[Opened]:
    """A page in a context of its own, 390 pixels wide like a phone unless told otherwise."""
    context = browser.new_context(**({"viewport": {"width": 390, "height": 844}} | options))
    page = context.new_page()
    here = Opened(page)
    page.on("console", lambda message: here.printed.append(message.text))
    page.on("pageerror", lambda error: here.printed.append(str(error)))
    page.on("request", lambda request: here.asked.append(request.url))
    page.goto(path.as_uri())
    yield here
    context.close()
