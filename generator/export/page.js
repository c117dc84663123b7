/* The page: the tool run through its stroke, contents, and what is written in at the bench.
   Everything shown is in the page; nothing is fetched and nothing is sent. */
"use strict";

const id = (name) => document.getElementById(name);
const all = (selector, within = document) => [...within.querySelectorAll(selector)];
const read = (name) => JSON.parse(id(name).textContent);

/** Return a number as the page writes it, a dash where it cannot be worked out. */
function told(value, decimals, unit) {
  if (value === null) return "\u2013";
  const text = value.toFixed(decimals);
  return `${Number(text) === 0 ? (0).toFixed(decimals) : text.replace("-", "\u2212")} ${unit}`;
}

/** Return a length; in inches too where the file asks for them. */
function length(value, inches) {
  const inch = inches && value !== null ? ` = ${told(value / 25.4, 3, "in")}` : "";
  return told(value, 2, "mm") + inch;
}

/** Return the tool between two corners of its table, which it passes evenly. */
function position(rows, pushed) {
  let n = 1;
  while (n < rows.length - 1 && pushed > rows[n].pushed) n += 1;
  const [a, b] = [rows[n - 1], rows[n]];
  const share = (pushed - a.pushed) / (b.pushed - a.pushed);
  const mean = (x, y) => {
    if (share === 0 || share === 1) return share ? y : x;
    return x === null || y === null ? null : x + share * (y - x);
  };
  const each = (name) => a[name].map((x, k) => mean(x, b[name][k]));
  return {
    pushed,
    projection: mean(a.projection, b.projection),
    force: mean(a.force, b.force),
    places: each("places"),
    lengths: each("lengths"),
    left: each("left"),
  };
}

/** Return what a force does for a tap: its name for the style sheet, and words. */
function standing(tap, force) {
  if (force === null) return ["bad", "The springs are crushed"];
  const slack = 1e-9 * (1 + force);
  if (force > tap.ceiling + slack) return ["bad", `Too much: the ${tap.ceilingOf} limits it`];
  if (force < tap.twoHands - slack) return ["bad", "Too little: the tap slips off"];
  if (tap.rests) return ["good", "Holds, the wrench at rest"];
  if (force < tap.oneHand - slack) return ["fair", "Two hands on the wrench"];
  return ["good", "One hand will do"];
}

/** Draw a spring of the section at a length. */
function drawSpring(group, coil, lengthMm, scale) {
  const knots = coil.knots.map(([turn, at, share]) => [turn, at + share * lengthMm]);
  const r = (scale * coil.mean) / 2;
  const wire = (scale * coil.wire) / 2;
  const x = (turn) => (-scale * between(knots, turn)).toFixed(3);
  const y = (turn) => -coil.upper * r * Math.cos(2 * Math.PI * turn);
  let behind = "";
  let cuts = "";
  for (let half = 0; half <= Math.floor(2 * coil.turns + 1e-6); half += 1) {
    const [turn, end] = [half / 2, Math.min((half + 1) / 2, coil.turns)];
    if (half % 2 === 0 && end > turn) behind += `M${x(turn)} ${y(turn)}L${x(end)} ${y(end)}`;
    cuts += `M${x(turn)} ${y(turn)}m${-wire} 0a${wire} ${wire} 0 1 0 ${2 * wire} 0`
      + `a${wire} ${wire} 0 1 0 ${-2 * wire} 0`;
  }
  const edge = (at, turn) => {
    const way = Math.sign(y(turn)) || 1;
    return `M${at} ${way * (r + wire)}V${-way * r}`;
  };
  if (coil.ground[0]) cuts += edge(0, 0);
  if (coil.ground[1]) cuts += edge(-scale * lengthMm, Math.round(2 * coil.turns) / 2);
  for (const path of all(".behind", group)) path.setAttribute("d", behind);
  group.querySelector(".cuts").setAttribute("d", cuts);
  for (const box of all("rect", group)) {
    box.setAttribute("x", -scale * lengthMm);
    box.setAttribute("width", scale * lengthMm);
  }
}

/** Set up the section, the view in three dimensions, the slider and the readings. */
function stage(view) {
  const slider = id("pushed");
  const layers = all("#section [data-body]");
  const place = Object.fromEntries(view.bodies.map((body, n) => [body.name, n]));
  const model = viewer(id("model"), read("meshes"), view);
  if (!model) {
    id("model").hidden = true;
    id("no-model").hidden = false;
  }
  let way = 0;
  let tap = null;

  function show() {
    const rows = view.ways[way].positions;
    const last = rows[rows.length - 1].pushed;
    const now = position(rows, Math.min(Number(slider.value), last));
    const tip = view.scale * now.projection;
    for (const layer of layers) {
      const { body } = layer.dataset;
      const at = body === "plunger" ? tip : -view.scale * now.places[place[body]];
      layer.setAttribute("transform", `translate(${at.toFixed(3)} 0)`);
    }
    view.coils.forEach((coil, n) => drawSpring(
      document.querySelector(`#section [data-body="${coil.name}"]`),
      coil, now.lengths[n], view.scale));
    id("tip").setAttribute("x1", tip);
    id("tip").setAttribute("x2", tip);
    id("out").setAttribute("x2", tip);
    id("out-told").setAttribute("x", Math.max(tip, 0) + 3);
    id("out-told").textContent = view.inches
      ? told(now.projection / 25.4, 3, "in") : told(now.projection, 2, "mm");
    model?.show({ axes: view.ways[way].axes, ...now });
    id("told-pushed").textContent = length(now.pushed, view.inches);
    id("told-projection").textContent = length(now.projection, view.inches);
    id("told-force").textContent = told(now.force, 1, "N");
    view.coils.forEach((_, n) => {
      id(`told-length-${n}`).textContent = length(now.lengths[n], view.inches);
      id(`told-left-${n}`).textContent = length(now.left[n], view.inches);
    });
    slider.setAttribute(
      "aria-valuetext", `pushed in ${told(now.pushed, 2, "mm")}, ${told(now.force, 1, "N")}`);
    if (tap) showTap(now.force);
  }

  function showTap(force) {
    const fits = tap.way === way;
    const [grade, words] = fits
      ? standing(tap, force)
      : ["none", `Turn the plunger: this tap wants the ${view.ways[tap.way].name}`];
    id("verdict").className = grade;
    id("verdict").textContent = words;
    id("mark").setAttribute("x", fits && force !== null ? 100 * (force / view.most) - 0.6 : -9);
  }

  function choose(n) {
    tap = view.taps[n];
    const edge = (force) => 100 * Math.min(1, force / view.most);
    const edges = [0, edge(tap.twoHands), edge(tap.oneHand), edge(tap.ceiling), 100];
    all("#window .zone").forEach((zone, k) => {
      zone.setAttribute("x", edges[k]);
      zone.setAttribute("width", Math.max(0, edges[k + 1] - edges[k]));
    });
    const floors = tap.rests
      ? `holds from ${told(tap.twoHands, 1, "N")}`
      : `two hands from ${told(tap.twoHands, 1, "N")}, one hand from ${told(tap.oneHand, 1, "N")}`;
    id("wants").textContent = `In ${tap.work}: ${floors}, too much over `
      + `${told(tap.ceiling, 1, "N")} (${tap.ceilingOf}). Over the whole stroke: ${tap.verdict}.`;
    turn(tap.way);
  }

  function turn(next) {
    way = next;
    const rows = view.ways[way].positions;
    slider.max = rows[rows.length - 1].pushed;
    all("#ways input").forEach((input, n) => { input.checked = n === way; });
    for (const layer of all("#section [data-way]")) {
      layer.classList.toggle("away", layer.dataset.way !== view.ways[way].key);
    }
    show();
  }

  const step = (by) => {
    slider.value = Math.min(Math.max(Number(slider.value) + by, 0), Number(slider.max));
    show();
  };
  slider.addEventListener("input", show);
  slider.addEventListener("keydown", (event) => {
    const steps = {
      ArrowLeft: -0.1, ArrowDown: -0.1, ArrowRight: 0.1, ArrowUp: 0.1,
      PageDown: -1, PageUp: 1, Home: -1e9, End: 1e9,
    };
    if (!(event.key in steps)) return;
    event.preventDefault();
    step(steps[event.key]);
  });
  all("#steps button").forEach((button) =>
    button.addEventListener("click", () => step(Number(button.dataset.step))));
  all("#ways input").forEach((input, n) => input.addEventListener("change", () => turn(n)));
  id("tap")?.addEventListener("change", (event) => choose(Number(event.target.value)));
  all("#legend button").forEach((button) => button.addEventListener("click", () => {
    const shown = button.getAttribute("aria-pressed") !== "true";
    button.setAttribute("aria-pressed", shown);
    model?.reveal(button.dataset.part, shown);
  }));
  if (view.taps.length) choose(0);
  else turn(0);
}

/** Return the store of this browser; one that forgets where it keeps nothing. */
function store() {
  const forgetful = { getItem: () => null, setItem() {}, removeItem() {} };
  try {
    return window.localStorage ?? forgetful;
  } catch {
    return forgetful;
  }
}

/** Keep ticks and sizes under the parameters, so that those of another tool never show. */
function keep() {
  const key = document.body.dataset.key;
  const kept = store();
  const fields = all("[data-field]");
  let values = {};
  try {
    values = JSON.parse(kept.getItem(key)) ?? {};
  } catch { /* what is no note of ours is written over */ }
  const count = () => {
    const ticks = fields.filter((field) => field.type === "checkbox");
    const done = ticks.filter((field) => field.checked).length;
    id("done").textContent = ticks.length ? `${done} of ${ticks.length} done` : "";
  };
  const put = () => {
    for (const field of fields) {
      const value = values[field.dataset.field];
      if (field.type === "checkbox") field.checked = value === true;
      else field.value = typeof value === "string" ? value : "";
    }
    count();
  };
  const save = () => {
    try {
      kept.setItem(key, JSON.stringify(values));
    } catch { /* full or forbidden: the page itself still holds them */ }
  };
  for (const field of fields) {
    field.addEventListener("input", () => {
      values[field.dataset.field] = field.type === "checkbox" ? field.checked : field.value;
      save();
      count();
    });
  }
  const clear = id("clear");
  const ask = clear.textContent;
  let sure = 0;
  const calm = () => {
    sure = 0;
    clear.textContent = ask;
  };
  clear.addEventListener("click", () => {
    if (!sure) {
      sure = setTimeout(calm, 5000);
      clear.textContent = "Tap again to clear all";
      return;
    }
    clearTimeout(sure);
    calm();
    values = {};
    try {
      kept.removeItem(key);
    } catch { /* nothing was kept */ }
    put();
  });
  clear.hidden = fields.length === 0;
  put();
}

/** Open and close the contents, and pictures from the width of the page to their own size. */
function furnish() {
  const menu = id("menu");
  const open = (yes) => {
    document.body.classList.toggle("open", yes);
    menu.setAttribute("aria-expanded", yes);
  };
  menu.addEventListener("click", () => open(!document.body.classList.contains("open")));
  all("#contents a").forEach((link) => link.addEventListener("click", () => {
    open(false);
    const place = document.querySelector(link.getAttribute("href"));
    if (place instanceof HTMLDetailsElement) place.open = true;
  }));
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") open(false);
  });
  all(".enlarge").forEach((button) => button.addEventListener("click", () => {
    const large = button.closest("figure").classList.toggle("large");
    button.textContent = large ? "Fit to the page" : "Enlarge";
  }));
}

furnish();
keep();
if (id("stroke-data")) stage(read("stroke-data"));
