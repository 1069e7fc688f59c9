"""How every page that is written to a file begins: nothing from outside, no script, colours for light, dark and paper.

To be filled in with ``format``.
"""

from __future__ import annotations

HEAD = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<title>{page_title}</title>
<style>
:root {{
  color-scheme: light dark; --ink: #1b2733; --paper: #fff; --line: #b8c2cc; --strong: #1d4e73; --band: #f2f5f8;
}}
@media (prefers-color-scheme: dark) {{
  :root {{ --ink: #eef3f7; --paper: #111821; --line: #5f7080; --strong: #8cc8ff; --band: #1b2530; }}
}}
@media print {{
  :root {{ color-scheme: light; --ink: #000; --paper: #fff; --line: #888; --strong: #000; --band: #fff; }}
}}
"""
