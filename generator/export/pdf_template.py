"""The layout of the PDF in Typst. It takes its data as JSON; no text of the user is markup."""

from __future__ import annotations

from typing import Final

TEMPLATE: Final = r"""
#let data = json(bytes(sys.inputs.data))
#let sizes = data.sizes
#set document(title: data.title, author: (), date: none)
#set text(font: "DejaVu Sans", lang: "en", region: "GB", hyphenate: false, ligatures: false)
#set par(leading: 0.62em, spacing: 0.95em)

#let numbered = context [#counter(page).display("1") of #counter(page).final().first()]
#set page(
  width: data.page.width * 1mm,
  height: data.page.height * 1mm,
  margin: (
    left: data.page.left * 1mm, right: data.page.right * 1mm,
    top: data.page.top * 1mm, bottom: data.page.bottom * 1mm,
  ),
  numbering: "1",
  header-ascent: 6mm,
  footer-descent: 6mm,
  header: {
    set text(size: sizes.head * 1pt)
    grid(
      columns: (1fr, auto), column-gutter: 6mm, align: (left + bottom, right + bottom),
      data.running, data.named,
    )
    v(-1.5mm)
    line(length: 100%, stroke: 0.25mm)
  },
  footer: {
    set text(size: sizes.head * 1pt)
    grid(
      columns: (1fr, auto, 1fr), align: (left, center, right),
      data.origin, strong(data.mark), [page #numbered],
    )
  },
)

#show heading: set block(sticky: true)
#show heading.where(level: 1): it => block(below: 6mm, width: 100%, sticky: true, {
  text(size: 16pt, weight: "bold", it.body)
  v(-3.2mm)
  line(length: 100%, stroke: 0.5mm)
})
#show heading.where(level: 2): it => block(above: 8mm, below: 3.5mm, sticky: true,
  text(size: 12pt, weight: "bold", it.body))
#show heading.where(level: 3): set text(size: 9.5pt, weight: "bold")
#show heading.where(level: 3): it => block(above: 5mm, below: 2mm, sticky: true, it.body)
#let tabled-heading(title) = heading(level: 3, outlined: false, bookmarked: false, text(title))

#let picture(s) = {
  set text(top-edge: "baseline", bottom-edge: "baseline", kerning: false)
  place(image(
    bytes(s.svg), format: "svg", width: s.width * 1mm, height: s.height * 1mm, alt: s.title,
  ))
  for t in s.texts {
    let letters = text(
      size: t.size * 1mm, weight: if t.bold { "bold" } else { "regular" }, t.text,
    )
    place(dx: t.x * 1mm, dy: t.y * 1mm, if t.turn == 0 { box(letters) } else {
      rotate(-t.turn * 1deg, origin: top + left, box(letters))
    })
  }
}
#let sheet(s, before) = page(
  width: s.width * 1mm, height: s.height * 1mm, margin: 0mm, header: none, footer: none,
  {
    place(hide({ before; heading(level: 2, s.title) }))
    picture(s)
    set text(
      size: s.foot.size * 1mm, top-edge: "baseline", bottom-edge: "baseline", kerning: false,
    )
    place(top + right, dx: -s.foot.right * 1mm, dy: s.foot.y * 1mm,
      box({ text(s.foot.text); numbered }))
  },
)

#let lowered(body) = {
  show regex("[A-Za-z]+_[A-Za-z0-9]+"): it => {
    let (head, tail) = it.text.split("_")
    head
    box(sub(tail))
  }
  body
}
#let chips = (
  pass: (colour: rgb("#1d6b2f"), weight: "regular", fill: none, stroke: none),
  warn: (colour: rgb("#8a5000"), weight: "bold", fill: none, stroke: 0.3mm + rgb("#8a5000")),
  fail: (colour: white, weight: "bold", fill: rgb("#a00018"), stroke: 0.3mm + rgb("#a00018")),
)
#let verdict(word) = {
  let chip = chips.at(word)
  box(outset: (x: 0.7mm, y: 0.35mm), fill: chip.fill, stroke: chip.stroke,
    text(weight: chip.weight, fill: chip.colour, word))
}
#let shown(kind, body) = {
  if kind == "verdict" { verdict(body) }
  else if kind == "symbol" { lowered(text(body)) }
  else { text(body) }
}
#let strip(t, part) = {
  set text(size: t.size * 1pt, top-edge: 0.78em, bottom-edge: -0.22em)
  set par(leading: (data.pitch - 1) * 1em)
  let headed = t.headings.any(h => h != "")
  let heights = if headed { part.heights } else { part.heights.slice(1) }
  table(
    columns: t.widths.map(w => w * 1mm),
    rows: heights.map(h => h * 1mm),
    inset: (x: t.inset * 1mm, y: data.above * 1em),
    stroke: (x: none, top: 0.1mm + luma(120), bottom: 0.35mm),
    align: t.kinds.map(k => top + if k == "number" { right } else { left }),
    ..if headed { (table.header(
      table.hline(stroke: 0.35mm + black),
      ..t.headings.map(h => strong(text(h))),
      table.hline(stroke: 0.25mm + black),
    ),) } else { (table.hline(stroke: 0.35mm + black),) },
    ..part.rows.enumerate().map(((n, row)) => row.enumerate().map(((k, cell)) => {
      let by-hand = if t.by-hand.len() > 0 { t.by-hand.at(n).at(k) } else { 0 }
      if by-hand == 1 { table.cell(stroke: 0.25mm)[] }
      else if by-hand == 2 { table.cell(inset: 0mm, align: center + horizon,
        rect(width: 5mm, height: 5mm, stroke: 0.35mm)) }
      else { shown(t.kinds.at(k), cell) }
    })).flatten(),
  )
}
#let tabled(t) = {
  if t.whole { return block(breakable: false, above: 5mm, below: 5mm, width: 100%, {
    if t.title != "" { tabled-heading(t.title) }
    strip(t, t.bands.first().first())
  }) }
  if t.title != "" { tabled-heading(t.title) }
  for (n, band) in t.bands.enumerate() {
    if n > 0 { pagebreak() }
    if band.len() == 1 { strip(t, band.first()) }
    else { grid(columns: band.len(), column-gutter: data.gutter * 1mm,
      ..band.map(part => strip(t, part))) }
  }
}

#let framed(f) = block(
  width: f.width * 1mm, height: f.height * 1mm, above: 3mm, below: 2mm, picture(f),
)
#let explained(f) = {
  tabled-heading(f.title)
  framed(f)
  par(text(f.caption))
}
#let paired(f) = block(breakable: false, above: 5mm, below: 5mm, width: 100%, grid(
  columns: (f.width * 1mm, 1fr), column-gutter: data.gutter * 1mm,
  framed(f), {
    tabled-heading(f.title)
    par(text(f.caption))
    if f.beside != none { tabled(f.beside) }
  },
))
#let figured(f, floating) = if "beside" in f { paired(f) } else if floating {
  place(bottom, float: true, clearance: 6mm, block(width: 100%, explained(f)))
} else {
  block(breakable: false, above: 5mm, below: 5mm, width: 100%, explained(f))
}
#let told(s) = {
  if s.listed { enum(spacing: 0.8em, ..s.lines.map(line => text(line))) }
  else {
    let held = s.tables.len() > 0 and s.figures.len() == 0
    for line in s.lines { block(above: 0.95em, below: 0.95em, sticky: held, text(line)) }
  }
}

#let section(s, floating) = {
  heading(level: 2, text(s.title))
  told(s)
  for f in s.figures { figured(f, floating) }
  for t in s.tables { tabled(t) }
  place.flush()
}
#let large(s) = {
  set text(size: s.size * 1pt)
  place(hide(heading(level: 2, s.title)))
  block(below: 5mm, text(size: 18pt, weight: "bold", s.title))
  told(s)
  for f in s.figures { framed(f) }
  show heading.where(level: 3): set text(size: s.size * 0.9pt)
  for t in s.tables { block(above: 4mm, below: 4mm, tabled(t)) }
}

#let lines(size, weight, body) = block(above: 0mm, below: 0mm, {
  set text(size: size * 1pt, top-edge: 0.78em, bottom-edge: -0.22em, weight: weight)
  set par(leading: (data.pitch - 1) * 1em)
  body
})
#let edge = 0.25mm
#let inner = 0.12mm + luma(90)
#let celled(body, stroke: (:)) = grid.cell(
  inset: (x: data.inset * 1mm, y: data.above * 1em), stroke: stroke, body,
)
#let ticked(stroke) = grid.cell(stroke: stroke, align: center + horizon,
  rect(width: 6mm, height: 6mm, stroke: 0.4mm))
#let step(row, lower) = block(above: 0mm, below: 0mm, breakable: false, stroke: edge, {
  let boxed = if row.storeys { (left: edge, bottom: edge) } else { (left: edge) }
  let aimed = row.target != ""
  grid(
    columns: row.widths.map(w => w * 1mm), rows: (row.heights.at(0) * 1mm,),
    celled(strong(row.no)), celled(row.do, stroke: (left: edge)),
    ..if row.beside != "" { (celled(row.beside, stroke: (left: inner)),) },
    ..if aimed { (
      celled(stroke: boxed, { strong(row.target); row.limits }), grid.cell(stroke: boxed)[],
    ) },
    ticked(boxed),
  )
  if row.storeys { grid(
    columns: (row.widths.at(0) * 1mm, ..lower.map(w => w * 1mm)),
    rows: (row.heights.at(1) * 1mm,),
    [],
    ..row.lower.enumerate().map(((n, cell)) => celled(
      cell, stroke: (left: if n == 0 { edge } else { inner }),
    )),
  ) }
})
#let stepped(o) = {
  set block(spacing: 0mm)
  let small(words) = text(size: sizes.heading * 1pt, weight: "bold", words)
  let (no, target, actual, tick) = o.heads.map(w => w * 1mm)
  set text(size: sizes.step * 1pt, top-edge: 0.78em, bottom-edge: -0.22em)
  set par(leading: (data.pitch - 1) * 1em, spacing: 0mm)
  block(height: o.heading * 1mm, grid(
    columns: (no, 1fr, target, actual, tick), inset: (x: data.inset * 1mm),
    small("no."), small("do this; below it " + o.used.join(", ")),
    small("target"), small("ACTUAL"), small("done"),
  ))
  for row in o.rows {
    if "stop" in row {
      block(height: row.tall * 1mm, width: 100%, breakable: false, align(horizon,
        rect(width: 100%, height: row.height * 1mm, inset: 2mm, stroke: 0.9mm, strong(row.stop))))
    } else { step(row, o.lower) }
  }
}
#let noted(size, notes) = for note in notes {
  block(above: 0mm, below: 1.5mm, grid(columns: (6mm, 1fr),
    lines(size, "regular", sym.bullet), lines(size, "regular", note)))
}
#let drawn(s) = {
  let k = s.share
  box(width: s.width * k * 1mm, height: s.height * k * 1mm, picture((
    ..s, width: s.width * k, height: s.height * k,
    texts: s.texts.map(t => (..t, size: t.size * k, x: t.x * k, y: t.y * k)),
  )))
}
#let operation(o, p) = {
  if o.title != none { place(hide(heading(level: 3, outlined: false, o.title))) }
  lines(sizes.heads, "bold", o.headline)
  v(data.gap * 1mm)
  if o.tall > 0 { block(above: 0mm, below: 0mm, height: o.tall * 1mm, width: 100%, {
    let told = lines(p.told, "regular", o.told)
    if o.sketch == none { told }
    else if o.room >= data.page.width - data.page.left - data.page.right {
      told
      v(data.gap * 1mm)
      drawn(o.sketch)
    } else { grid(
      columns: (1fr, o.room * 1mm), drawn(o.sketch),
      { told; v(data.gap * 1mm); noted(p.small, o.beside) },
    ) }
  }) }
  if o.rows.len() > 0 { stepped(o) }
  if o.below.len() > 0 {
    v(data.gap * 1mm)
    noted(p.small, o.below)
  }
}
#let operations(p, before) = {
  pagebreak(weak: true)
  place(hide({
    before
    for part in p.parts { heading(level: 2, part) }
  }))
  set block(spacing: 0mm)
  for (n, o) in p.pieces.enumerate() {
    if n > 0 { block(height: data.parted * 1mm, width: 100%, align(horizon,
      line(length: 100%, stroke: 0.5mm))) }
    operation(o, p)
  }
  if p.common.len() > 0 {
    v(1fr)
    line(length: 100%, stroke: 0.12mm)
    v(data.gap * 1mm)
    noted(p.small, p.common)
  }
}

#let bannered = if data.banner.len() > 0 {
  block(width: 100%, inset: 3mm, stroke: 0.9mm, above: 4mm, below: 4mm, {
    set text(weight: "bold", size: 9.5pt)
    for line in data.banner { par(text(line)) }
  })
}
#let entry(it) = link(it.location(), block(
  above: data.contents.apart * if it.level == 1 { 1.9mm } else { 1mm },
  below: data.contents.apart * 1mm,
  inset: (left: if it.level == 1 { 0mm } else { 3mm }),
  grid(
    columns: (auto, 1fr, auto), column-gutter: 1mm, align: bottom,
    text(weight: if it.level == 1 { "bold" } else { "regular" }, it.body),
    repeat(gap: 0.3em)[.],
    str(counter(page).at(it.location()).first()),
  ),
))
#let contents = block(breakable: false, width: 100%, above: 6mm, {
  block(below: 2mm, text(size: 12pt, weight: "bold")[Contents])
  set text(size: data.contents.size * 1pt)
  context {
    let found = query(heading.where(outlined: true)).filter(it => it.level < 3)
    let half = calc.ceil(found.len() / 2)
    if half < found.len() and found.at(half - 1).level == 1 { half -= 1 }
    grid(
      columns: (1fr, 1fr), column-gutter: 8mm,
      found.slice(0, half).map(entry).join(), found.slice(half).map(entry).join(),
    )
  }
})
#let cover(chapter) = {
  block(below: 3mm, text(size: sizes.title * 1pt, weight: "bold", data.headline))
  block(above: 3mm, below: 3mm, text(size: 10pt)[
    Verdict:#h(2mm)#verdict(data.verdict)#h(2mm)#data.summary.])
  bannered
  set text(size: chapter.size * 1pt)
  for s in chapter.blocks {
    for f in s.figures { align(center, framed(f)); par(text(f.caption)) }
    told(s)
    for t in s.tables { tabled(t) }
  }
  contents
}

#cover(data.chapters.first())
#for chapter in data.chapters.slice(1) {
  pagebreak(weak: true)
  set text(size: chapter.size * 1pt)
  for (n, b) in chapter.blocks.enumerate() {
    let before = if n == 0 { heading(level: 1, text(chapter.title)) }
    if b.kind == "sheet" { sheet(b, before) }
    else if b.kind == "operations" { operations(b, before) }
    else {
      if b.kind == "large" or b.fresh or (n > 0 and chapter.blocks.at(n - 1).kind != "section") {
        pagebreak(weak: true)
      }
      before
      if b.kind == "large" { large(b) } else { section(b, chapter.fine) }
    }
  }
}
"""
