"""The pictures of the reference sheets in a browser: a picture on a page cuts what lies outside its frame."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page

from engine_sim.classroom.sheets.symbols import symbols

pytestmark = pytest.mark.browser

OUTSIDE = """() => [...document.querySelectorAll('svg')].flatMap((svg) => {
  const frame = svg.viewBox.baseVal, box = svg.getBBox();
  const over = [frame.x - box.x, frame.y - box.y, box.x + box.width - frame.width, box.y + box.height - frame.height];
  return over.some((by) => by > 0.5) ? [`${svg.getAttribute('aria-label')}: ${over.map(Math.round)}`] : [];
})"""
"""The pictures that reach out of their frames, and by how much at the left, the top, the right and below."""


def test_no_sign_reaches_out_of_its_picture(chromium_page: Page) -> None:
    pictures = re.findall(r"<svg\b.*?</svg>", symbols(), flags=re.DOTALL)
    assert len(pictures) >= 7
    chromium_page.set_content("".join(f"<p>{picture}</p>" for picture in pictures))
    assert chromium_page.evaluate(OUTSIDE) == []
