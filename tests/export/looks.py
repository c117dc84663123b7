"""What the tests of the page do and look for in the browser, in its own language."""

from __future__ import annotations

BLOCKED = """Object.defineProperty(window, "localStorage", {
  get() { throw new DOMException("denied", "SecurityError"); } });"""
FLAT = "HTMLCanvasElement.prototype.getContext = () => null;"
PUSH = """(pushed) => {
  const slider = document.getElementById("pushed");
  slider.value = pushed;
  slider.dispatchEvent(new Event("input"));
}"""
READ = """([way, all]) => {
  document.querySelectorAll("#ways input")[way].click();
  const slider = document.getElementById("pushed");
  return all.map((pushed) => {
    slider.value = pushed;
    slider.dispatchEvent(new Event("input"));
    return Object.fromEntries([...document.querySelectorAll("[id^=told-]")].map(
      (each) => [each.id.slice(5), each.textContent.replace("\u2212", "-")]));
  });
}"""
PIXELS = """() => new Promise((done) => {
  const canvas = document.getElementById("model");
  const slider = document.getElementById("pushed");
  slider.dispatchEvent(new Event("input"));
  requestAnimationFrame(() => {
    const gl = canvas.getContext("webgl");
    const [w, h] = [gl.drawingBufferWidth, gl.drawingBufferHeight];
    const bytes = new Uint8Array(4 * w * h);
    gl.readPixels(0, 0, w, h, gl.RGBA, gl.UNSIGNED_BYTE, bytes);
    let text = "";
    for (let k = 0; k < bytes.length; k += 4096) {
      text += String.fromCharCode(...bytes.subarray(k, k + 4096));
    }
    done([w, h, btoa(text)]);
  });
})"""
UNSTUCK = """() => {
  for (const name of ["bar", "drive", "contents"]) {
    document.getElementById(name).style.position = "static";
  }
  for (const each of document.querySelectorAll("details")) each.open = true;
}"""
LINES = """() => {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [];
  const seen = (box) => box.width > 1 && box.height > 1;
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const parent = node.parentElement;
    if (!node.data.trim() || parent.closest("svg, script, style, option, legend")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of [...range.getClientRects()].filter(seen)) {
      found.push([box.left, box.top + scrollY, box.right, box.bottom + scrollY,
        node.data.trim().slice(0, 40)]);
    }
  }
  return found;
}"""
CLIPPED = """() => [...document.querySelectorAll(
  "td, th, button, select, p, h1, h2, h3, h4, dt, dd, li, summary, label, strong, figcaption, a")]
  .filter((each) => each.getClientRects().length && getComputedStyle(each).display !== "inline")
  .filter((each) => each.scrollWidth > each.clientWidth + 1 + parseFloat(
    getComputedStyle(each).borderRightWidth))
  .map((each) => `${each.tagName} ${each.textContent.slice(0, 40)}`)"""
SMALL = """() => [...document.querySelectorAll("button, select, summary, input, nav a")]
  .map((each) => each.type === "radio" ? each.nextElementSibling
    : each.type === "checkbox" ? each.closest("label") : each)
  .filter((each) => each.getClientRects().length)
  .map((each) => [each.getBoundingClientRect(), each.outerHTML.slice(0, 60)])
  .filter(([box]) => box.width < 44 || box.height < 44).map(([box, name]) =>
    `${name} ${box.width} x ${box.height}`)"""
OUTSIDE = """() => [...document.querySelectorAll("main svg")].filter((svg) => svg.viewBox.baseVal)
  .flatMap((svg) => [...svg.querySelectorAll("text")].filter((text) => {
    const frame = svg.getBoundingClientRect();
    const box = text.getBoundingClientRect();
    const spare = 0.3 * box.height; /* above capitals and below the base line */
    return frame.width && (box.left < frame.left - 1 || box.right > frame.right + 1
      || box.top < frame.top - spare || box.bottom > frame.bottom + spare);
  })).map((text) => text.textContent)"""


SPLIT = """() => [...document.querySelectorAll("td")]
  .filter((cell) => getComputedStyle(cell).display === "grid" && cell.childNodes.length > 1)
  .map((cell) => cell.textContent)"""
BROKEN = """() => {
  const found = [];
  for (const cell of document.querySelectorAll("td, th, p, h2, h3, h4, button, dt, dd")) {
    for (const node of [...cell.childNodes].filter((each) => each.nodeType === 3)) {
      for (const word of node.data.matchAll(/[^\\s\\-\u2013\u2014]+/g)) {
        const range = document.createRange();
        range.setStart(node, word.index);
        range.setEnd(node, word.index + word[0].length);
        const tops = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
        if (tops.size > 1) found.push(word[0]);
      }
    }
  }
  return found;
}"""
