"""A headless Chromium for tests, where there is one."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest


@contextmanager
def chromium(profile: Path) -> Iterator[Any]:
    """A selenium driver; the test is skipped where no Chromium or no driver of it is installed."""
    binary = shutil.which("chromium") or shutil.which("google-chrome")
    driver = shutil.which("chromedriver")
    if not (binary and driver):
        pytest.skip("no chromium and chromedriver here (apt install chromium chromium-driver)")
    from selenium.webdriver import Chrome, ChromeOptions
    from selenium.webdriver.chrome.service import Service

    options = ChromeOptions()
    options.binary_location = binary
    for argument in (
        "--headless=new",
        "--no-sandbox",  # a container's root has none
        "--disable-dev-shm-usage",
        "--disable-gpu",
        "--window-size=1280,1000",
        f"--user-data-dir={profile}",
    ):
        options.add_argument(argument)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    browser = Chrome(options=options, service=Service(driver))
    try:
        yield browser
    finally:
        browser.quit()
