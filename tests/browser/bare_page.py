"""A page that holds nothing but the bench: its one script, its style, and a stand-in for the notebook's model.

What is pressed on the page goes to the real bench in this process, so a whole exercise can be played
without a notebook.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from bench_wire import EXERCISE, Wire, ticket_for
from playwright.sync_api import Locator, Page, Route

from engine_sim.bench import Bench

ADDRESS = "http://bench.invalid/"

MODEL = """
class Model {
  constructor(state) { this.state = state; this.handlers = new Map(); this.sent = []; }
  get(key) { return this.state[key]; }
  set(key, value) { this.state[key] = value; this.tell(`change:${key}`, value); }
  on(event, handler) { this.handlers.set(event, [...(this.handlers.get(event) ?? []), handler]); }
  off(event, handler) { this.handlers.set(event, (this.handlers.get(event) ?? []).filter((one) => one !== handler)); }
  tell(event, ...values) { for (const handler of this.handlers.get(event) ?? []) handler(...values); }
  save_changes() {}
  async send(message) {
    this.sent.push(message);
    if (window.benchIsDead) return;
    for (const back of await window.toBench(message)) this.take(back);
  }
  take(back) {
    if (back.method === "custom") this.tell("msg:custom", back.content);
    else {
      Object.assign(this.state, back.state);
      for (const [key, value] of Object.entries(back.state)) this.tell(`change:${key}`, value);
    }
  }
}
"""

HTML = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Bench</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="stylesheet" href="bench.css">
<style>body{margin:8px;background:BACK}</style></head>
<body THEME><main><h1 style="font-size:20px;color:INK">A lesson</h1>
<a href="#end" id="before" style="color:INK">before the bench</a>
<div id="one"></div><div id="two"></div><a href="#top" id="after" style="color:INK">after the bench</a></main>
<script type="module">
import bench from "./bench.js";
MODEL
const model = new Model(await (await fetch("state.json")).json());
window.model = model;
bench.initialize({ model });
window.leave = bench.render({ model, el: document.querySelector("#one") });
if (VIEWS > 1) bench.render({ model, el: document.querySelector("#two") });
</script></body></html>"""

_COLOURS = {"light": ("#ffffff", "#111111"), "dark": ("#111111", "#f5f5f5")}


def unfolded(offer: Locator) -> Locator:
    """Open the heading that an action stands under, if it is folded; return the action."""
    if not offer.is_visible():
        group = offer.locator("xpath=ancestor::ul").get_attribute("id")
        offer.page.locator(f".fold[aria-controls='{group}']").click()
    return offer


class BarePage:
    """The bench on a page of its own."""

    def __init__(self, page: Page, wire: Wire) -> None:
        self.page = page
        self.wire = wire
        self.bytes_back = 0
        page.expose_function("toBench", self._carry)

    def _carry(self, message: dict[str, Any]) -> list[dict[str, Any]]:
        back = self.wire.bring(message)
        self.bytes_back += len(json.dumps(back))
        return back

    def open(self, theme: str = "light", views: int = 1) -> BarePage:
        """Load the page and wait until the bench says it is ready."""
        back, ink = _COLOURS[theme]
        attribute = f'data-jp-theme-light="{"true" if theme == "light" else "false"}"'
        html = HTML.replace("MODEL", MODEL).replace("BACK", back).replace("INK", ink)
        html = html.replace("VIEWS", str(views)).replace("THEME", attribute)
        files = {"": ("text/html", html), "bench.js": ("text/javascript", self.wire.bench._esm)}
        files["bench.css"] = ("text/css", self.wire.bench._css)

        def serve(route: Route) -> None:
            name = route.request.url.removeprefix(ADDRESS).split("#")[0].split("?")[0]
            if name == "state.json":
                route.fulfill(content_type="application/json", body=json.dumps(self.wire.bench.get_state()))
            else:
                kind, body = files.get(name, ("text/plain", ""))
                route.fulfill(content_type=kind, body=body)

        self.page.route(f"{ADDRESS}**", serve)
        self.page.goto(ADDRESS)
        self.page.wait_for_selector(".fuel-bench[data-ready=yes]")
        return self

    def settled(self) -> int:
        return int(self.page.locator(".fuel-bench").first.get_attribute("data-settled") or 0)

    def after(self, press) -> None:
        """Do something and wait until the bench has answered it."""
        turn = self.page.evaluate("model.get('turn')")
        press()
        self.page.wait_for_function(
            "turn => model.get('turn') > turn && !document.querySelector('.fuel-bench[data-busy]')", arg=turn
        )

    def choose(self, part: str) -> None:
        """Choose a part with the pointer."""
        self.after(lambda: self.page.locator(f".spot[data-part={part}]").first.click())

    def do(self, part: str, action: str) -> None:
        """Choose a part and do one of its actions with the pointer."""
        self.choose(part)
        self.after(lambda: unfolded(self.page.locator(f".offer[data-action={action}]").first).click())


def open_bench(page: Page, folder: Path, exercise: str = EXERCISE, fault: str = "shut_valve", **how) -> BarePage:
    """Open a bench on a page, at an exercise whose ticket draws a given fault."""
    wire = Wire(Bench(exercise, folder))
    if exercise == EXERCISE and fault:
        wire.ask("page", "ticket", text=ticket_for(fault))
    return BarePage(page, wire).open(**how)
