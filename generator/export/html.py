"""The page for a tablet beside the machine: one file that asks for nothing outside it.

It holds what the PDF holds, and the tool run through its stroke, in section and in three
dimensions. The process that lays the papers out makes all of it but the triangles; the one that
makes the solids puts those in.
"""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib import resources
from typing import Final

from generator.documents.document import Block, Chapter, Document, OperationSheet
from generator.documents.drawing import Drawing
from generator.documents.stroke_section import StrokeSection
from generator.documents.stroke_view import StrokeView
from generator.documents.table import Section
from generator.export.html_blocks import drawing_html, operation_html, plain, section_html
from generator.export.html_stage import stage_data, stage_html
from generator.export.page import Page

SCRIPTS: Final = ("viewer.js", "page.js")
STYLE: Final = "page.css"
AT_WORK: Final = "The tool at work"


def page(
    document: Document,
    stroke: tuple[StrokeView, StrokeSection] | None,
    *,
    inches: bool = False,
) -> Page:
    """Return the page, all but the triangles of the parts.

    Args:
        document: What the PDF holds too.
        stroke: The tool over its stroke; None if it has none.
        inches: Whether lengths that change are told in inches too.
    """
    script, style = _file(*SCRIPTS), _file(STYLE)
    data = "" if stroke is None else _data("stroke-data", stage_data(*stroke, inches=inches))
    told = "" if stroke is None else stage_html(AT_WORK, *stroke)
    before = (
        '<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{_policy(script, style)}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{plain(document.title)}</title>\n<style>{style}</style>\n</head>\n"
        f'<body data-key="{plain(_key(document))}">\n{_bar(document)}\n'
        f"{_contents(document, stroke is not None)}\n<main>\n{_head(document)}\n{told}\n"
        + "\n".join(_chapter(n, chapter) for n, chapter in enumerate(document.chapters, 1))
        + f'\n</main>\n{data}\n<script type="application/json" id="meshes">'
    )
    return Page(before, f"</script>\n<script>{script}</script>\n</body>\n</html>\n")


@dataclass(frozen=True, slots=True)
class _Place:
    """Where something stands in the page: the name of its anchor, and its title."""

    anchor: str
    title: str


@cache
def _file(*names: str) -> str:
    """Return what the package holds under these names, one after the other."""
    folder = resources.files("generator.export")
    return "".join(folder.joinpath(name).read_text("utf-8") for name in names)


def _policy(script: str, style: str) -> str:
    """Return what the page may do: run this script in this style, and nothing else."""
    return (
        f"default-src 'none'; script-src {_digest(script)}; style-src {_digest(style)}; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def _data(name: str, content: object) -> str:
    """Return data in the page; what would end it is spelled otherwise."""
    text = json.dumps(content, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    text = text.replace("<", "\\u003c")
    return f'<script type="application/json" id="{name}">{text}</script>'


def _key(document: Document) -> str:
    """Return under what ticks and sizes are kept."""
    return f"springcentre {document.version} {document.name} {document.parameters_hash}"


def _bar(document: Document) -> str:
    return (
        '<div id="bar"><button type="button" id="menu" aria-expanded="false" '
        f'aria-controls="contents">Contents</button><strong>{plain(document.title)}</strong>'
        '<span id="done"></span></div>'
    )


def _contents(document: Document, at_work: bool) -> str:
    entries = [f'<li><a href="#at-work">{AT_WORK}</a></li>'] if at_work else []
    for n, chapter in enumerate(document.chapters, 1):
        within = "".join(
            f'<li><a href="#{place.anchor}">{plain(place.title)}</a></li>'
            for place in _places(n, chapter)
        )
        title = f'<a href="#c{n}">{plain(chapter.title)}</a>'
        entries.append(f"<li>{title}{f'<ul>{within}</ul>' if within else ''}</li>")
    return f'<nav id="contents" aria-label="Contents"><ul>{"".join(entries)}</ul></nav>'


def _head(document: Document) -> str:
    named = f"{document.name}, revision {document.revision}, parameters {document.parameters_hash}"
    banner = "".join(f"<p>{plain(line)}</p>" for line in document.first)
    return (
        f"<h1>{plain(document.title)}</h1>"
        f'<p>Verdict: <span class="{document.verdict}">{document.verdict}</span>. '
        f"{plain(document.summary)}.</p>"
        + (f'<div class="banner">{banner}</div>' if banner else "")
        + f'<p class="origin">{plain(named)}; springcentre {plain(document.version)}</p>'
        '<p><button type="button" id="clear">Clear all ticks and sizes</button></p>'
    )


def _title(block: Block) -> str:
    if isinstance(block, OperationSheet):
        return f"{block.number} {block.title}"
    return block.title


def _places(number: int, chapter: Chapter) -> Iterator[_Place]:
    """Yield where the blocks of a chapter stand; a lone block of the chapter's title has none."""
    if [_title(block) for block in chapter.blocks] == [chapter.title]:
        return
    for n, block in enumerate(chapter.blocks, 1):
        if _title(block):
            yield _Place(f"c{number}-{n}", _title(block))


def _chapter(number: int, chapter: Chapter) -> str:
    places = {place.anchor: place for place in _places(number, chapter)}
    told = [f'<section id="c{number}"><h2>{plain(chapter.title)}</h2>']
    for n, block in enumerate(chapter.blocks, 1):
        anchor = f"c{number}-{n}"
        name = plain(places[anchor].title) if anchor in places else ""
        made = _block(block, anchor)
        if chapter.fine and name:
            told.append(
                f'<details id="{anchor}"><summary><h3>{name}</h3></summary>{made}</details>'
            )
            continue
        heading = f"<h3>{name}</h3>" if name else ""
        told.append(f'<section id="{anchor}"{_class(block)}>{heading}{made}</section>')
    return "".join([*told, "</section>"])


def _class(block: Block) -> str:
    if isinstance(block, OperationSheet):
        return ' class="operation"'
    return ' class="large"' if isinstance(block, Section) and block.large else ""


def _block(block: Block, field: str) -> str:
    match block:
        case Drawing():
            return drawing_html(block)
        case OperationSheet():
            return operation_html(block)
        case _:
            return section_html(block, field)
