"""Reads a page of our own into a tree of its elements, for whoever sets it in another form."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

_EMPTY = ("br", "img", "meta", "link")
_LEFT_OUT = ("head", "style", "title", "script")


@dataclass(slots=True)
class Node:
    """An element: its name, its attributes, and what stands in it, texts and elements in order."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    children: list[str | Node] = field(default_factory=list)

    def text(self) -> str:
        """Return all the text in it."""
        return "".join(child if isinstance(child, str) else child.text() for child in self.children)


class _Reader(HTMLParser):
    """Puts what it reads into a tree; an end without a beginning changes nothing."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Node("page")
        self.open = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take an element's beginning."""
        node = Node(tag, {name: value or "" for name, value in attrs})
        self.open[-1].children.append(node)
        if tag not in _EMPTY:
            self.open.append(node)

    def handle_endtag(self, tag: str) -> None:
        """Take an element's end."""
        names = [node.tag for node in self.open]
        if tag in names[1:]:
            del self.open[len(names) - 1 - names[::-1].index(tag) :]

    def handle_data(self, data: str) -> None:
        """Take a text."""
        if not any(node.tag in _LEFT_OUT for node in self.open):
            self.open[-1].children.append(data)


def read_page(page: str) -> Node:
    """Return the tree of a page given as HTML; what a reader does not see (head, style) is left out."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    return reader.root
