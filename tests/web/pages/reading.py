"""Reading a page in tests: its elements, with the standard library's own parser."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"}


@dataclass(eq=False)
class Element:
    """An element with its attributes, its own words and its children."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    children: list[Element | str] = field(default_factory=list)

    @property
    def text(self) -> str:
        parts = (c if isinstance(c, str) else c.text for c in self.children)
        return " ".join(" ".join(parts).split())

    def every(self, tag: str = "", **attributes: str) -> Iterator[Element]:
        """All elements below of a tag and with these attributes (`class_` for class)."""
        wanted = {name.rstrip("_").replace("_", "-"): v for name, v in attributes.items()}
        for child in self.children:
            if isinstance(child, str):
                continue
            classes = child.attributes.get("class", "").split()
            fits = all(
                v in classes if name == "class" else child.attributes.get(name) == v
                for name, v in wanted.items()
            )
            if (not tag or child.tag == tag) and fits:
                yield child
            yield from child.every(tag, **attributes)

    def first(self, tag: str = "", **attributes: str) -> Element:
        return next(self.every(tag, **attributes))


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.root = Element("root")
        self.open = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, {name: value or "" for name, value in attrs})
        self.open[-1].children.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open[-1].children.append(Element(tag, {n: v or "" for n, v in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1].tag == tag, f"<{self.open[-1].tag}> is closed by </{tag}>"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        self.open[-1].children.append(data)


def read_page(text: str) -> Element:
    """A page as elements; a tag that is closed in the wrong place fails."""
    reader = _Reader()
    reader.feed(text)
    assert reader.open == [reader.root], f"left open: {[e.tag for e in reader.open[1:]]}"
    return reader.root
