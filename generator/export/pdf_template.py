"""The layout of the PDF in Typst. It takes its data as JSON; no text of the user is markup."""

from __future__ import annotations

from typing import Final

TEMPLATE: Final = r"""
#let data = json(bytes(sys.inputs.data))
#set document(title: data.title, author: (), date: none)
#set text(font: "DejaVu Sans", lang: "en", region: "GB", hyphenate: false, ligatures: false)

#let picture(s) = {
  set text(top-edge: "baseline", bottom-edge: "baseline", kerning: false)
  place(image(
    bytes(s.svg), format: "svg", width: s.width * 1mm, height: s.height * 1mm, alt: s.title,
  ))
  for t in s.texts {
    place(dx: t.x * 1mm, dy: t.y * 1mm, rotate(-t.turn * 1deg, origin: top + left, box(
      text(size: t.size * 1mm, weight: if t.bold { "bold" } else { "regular" }, t.text),
    )))
  }
}
#let sheet(s) = page(
  width: s.width * 1mm, height: s.height * 1mm, margin: 0mm, header: none, footer: none,
  {
    place(hide(heading(level: 1, s.title)))
    picture(s)
  },
)

#for s in data.sheets { sheet(s) }

#set page(
  paper: "a4",
  margin: (left: 20mm, right: 15mm, top: 24mm, bottom: 20mm),
  header-ascent: 6mm,
  footer-descent: 6mm,
  header: {
    set text(size: 7.5pt)
    grid(
      columns: (1fr, auto), column-gutter: 6mm, align: (left + bottom, right + bottom),
      data.running, data.named,
    )
    v(-1.5mm)
    line(length: 100%, stroke: 0.25mm)
  },
  footer: context {
    set text(size: 7.5pt)
    grid(
      columns: (1fr, auto), data.origin,
      [page #counter(page).display() of #counter(page).final().first()],
    )
  },
)
#set text(size: 8.5pt)
#set par(leading: 0.62em, spacing: 0.95em)
#show heading: set block(sticky: true)
#show heading.where(level: 1): it => block(above: 8mm, below: 3.5mm, sticky: true,
  text(size: 12pt, weight: "bold", it.body))
#show heading.where(level: 2): it => block(above: 5mm, below: 2mm, sticky: true,
  text(size: 9pt, weight: "bold", it.body))

#let colours = (pass: rgb("#1d6b2f"), warn: rgb("#9a5b00"), fail: rgb("#b00020"))
#let lowered(body) = {
  show regex("[A-Za-z]+_[A-Za-z0-9]+"): it => {
    let (head, tail) = it.text.split("_")
    head
    box(sub(tail))
  }
  body
}
#let shown(kind, body) = {
  if kind == "verdict" { text(weight: "bold", fill: colours.at(body), body) }
  else if kind == "symbol" { lowered(text(body)) }
  else { text(body) }
}
#let strip(t, part) = {
  set text(size: data.small * 1pt, top-edge: 0.78em, bottom-edge: -0.22em)
  set par(leading: (data.pitch - 1) * 1em)
  table(
    columns: t.widths.map(w => w * 1mm),
    rows: part.heights.map(h => h * 1mm),
    inset: (x: data.inset * 1mm, y: data.above * 1mm),
    stroke: (x: none, top: 0.1mm + luma(160), bottom: 0.35mm),
    align: t.kinds.map(k => top + if k == "number" { right } else { left }),
    table.header(
      table.hline(stroke: 0.35mm + black),
      ..t.headings.map(h => strong(text(h))),
      table.hline(stroke: 0.25mm + black),
    ),
    ..part.rows.map(row => row.zip(t.kinds).map(((cell, kind)) => shown(kind, cell))).flatten(),
  )
}
#let tabled(t) = {
  if t.whole { return block(breakable: false, above: 5mm, below: 5mm, width: 100%, {
    if t.title != "" { heading(level: 2, text(t.title)) }
    strip(t, t.bands.first().first())
  }) }
  if t.title != "" { heading(level: 2, text(t.title)) }
  for (n, band) in t.bands.enumerate() {
    if n > 0 { pagebreak() }
    if band.len() == 1 { strip(t, band.first()) }
    else { grid(columns: band.len(), column-gutter: data.gutter * 1mm,
      ..band.map(part => strip(t, part))) }
  }
}

#let figured(f) = place(bottom, float: true, clearance: 6mm, block(width: 100%, {
  heading(level: 2, text(f.title))
  block(width: f.width * 1mm, height: f.height * 1mm, above: 3mm, below: 2mm, picture(f))
  par(text(f.caption))
}))

#block(below: 3mm, text(size: 15pt, weight: "bold", data.headline))
#block(above: 3mm, [Report. Verdict: #shown("verdict", data.verdict). #data.summary.])
#if data.banner.len() > 0 {
  block(width: 100%, inset: 3mm, stroke: 0.5mm + colours.fail, {
    set text(weight: "bold")
    for line in data.banner { par(text(line)) }
  })
}
#for s in data.sections {
  if s.fresh { pagebreak(weak: true) }
  heading(level: 1, text(s.title))
  if s.listed { enum(spacing: 0.8em, ..s.lines.map(line => text(line))) }
  else { for line in s.lines { par(text(line)) } }
  for f in s.figures { figured(f) }
  for t in s.tables { tabled(t) }
  place.flush()
}
"""
