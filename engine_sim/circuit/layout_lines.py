"""Where things stand in a layout file: the line of each table and of each figure in it, for messages."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

_TABLE = re.compile(r"\s*\[\[?\s*([A-Za-z0-9_-]+)\s*\]\]?")
_KEY = re.compile(r"\s*([A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*')\s*=")


@dataclass(slots=True)
class Lines:
    """The line numbers (from 1) of a layout file that reads as TOML."""

    tables: dict[tuple[str, int], int] = field(default_factory=dict)
    keys: dict[tuple[str, int, str], int] = field(default_factory=dict)

    @classmethod
    def of(cls, text: str) -> Lines:
        """Find the headers of the tables and the names before each equals sign."""
        lines, counts, table, number = cls(), dict[str, int](), "", 0
        for line_number, line in enumerate(text.splitlines(), 1):
            if header := _TABLE.match(line):
                table = header.group(1)
                number = counts.get(table, 0)
                counts[table] = number + 1
                lines.tables[table, number] = line_number
            elif key := _KEY.match(line):
                lines.keys.setdefault((table, number, key.group(1).strip("\"'")), line_number)
        return lines

    def where(self, table: str = "", number: int = 0, key: str = "") -> str:
        """Return ``"Line 12: "`` for a figure, else for the table that it stands in, else nothing."""
        line = self.keys.get((table, number, key)) or self.tables.get((table, number))
        return f"Line {line}: " if line else ""
