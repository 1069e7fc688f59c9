"""How a report looks on a screen and on paper: plain, in the light and in the dark; no script, nothing from outside."""

from __future__ import annotations

from html import escape

from engine_sim.classroom.page_style import HEAD

PAGE = (
    HEAD
    + """body {{ font: 1rem/1.5 system-ui, sans-serif; color: var(--ink); background: var(--paper); margin: 0; }}
main {{ max-width: {wide}; margin: 0 auto; padding: 1.5rem 1.25rem 3rem; overflow-wrap: anywhere; }}
h1 {{ font-size: 1.8rem; line-height: 1.25; margin: 0 0 .75rem; }}
h2 {{ font-size: 1.35rem; margin: 2.25rem 0 .5rem; padding-top: .75rem; border-top: 3px solid var(--strong); }}
h3 {{ font-size: 1.1rem; margin: 1.5rem 0 .4rem; }}
p, ul {{ max-width: 48rem; }}
table {{ border-collapse: collapse; width: 100%; margin: .75rem 0 1.5rem; font-size: .95rem; }}
th, td {{ text-align: left; vertical-align: top; padding: .35rem .75rem .35rem 0; }}
th, td {{ border-bottom: 1px solid var(--line); }}
th[scope=col] {{ overflow-wrap: normal; }}
th[scope=row] {{ font-weight: 600; }}
tr:first-child th {{ border-bottom: 2px solid var(--strong); }}
tr:nth-child(odd) {{ background: var(--band); }}
td.number {{ font-variant-numeric: tabular-nums; }}
figure {{ margin: 1rem 0; }}
figure svg {{ display: block; width: 100%; max-width: 50rem; height: auto; background: #fff; border-radius: 4px; }}
figcaption {{ font-size: .9rem; margin-top: .3rem; }}
.line {{ white-space: nowrap; overflow: hidden; }}
@page {{ size: A4; margin: 15mm; }}
@media print {{
  figure, tr, li {{ break-inside: avoid; }}
  h2, h3 {{ break-after: avoid; }}
  main {{ padding: 0; max-width: none; }}
  {on_paper}
}}
</style>
</head>
<body><main>
{body}
</main></body>
</html>
"""
)
WIDE, NARROW = "68rem", "46rem"


def page_of(title: str, body: str, narrow: bool = False, on_paper: str = "") -> str:
    """Return a whole page; ``on_paper`` is what else its style says of it on paper."""
    wide = NARROW if narrow else WIDE
    return PAGE.format(page_title=escape(title), body=body, wide=wide, on_paper=on_paper)
