/* The tool in three dimensions: triangles of each part, springs wound anew at each length.
   Parallel projection; the tool lies as in the section, nose to the right, seen from the side that
   is cut away. Depends on nothing but WebGL 1. */
"use strict";

const VERTEX = `
attribute vec3 point, normal;
uniform mat3 turn, axes;
uniform vec3 origin, zoom;
varying vec3 facing, side, place;
void main() {
  place = axes * point + origin;
  side = axes * normal;
  facing = turn * side;
  gl_Position = vec4(turn * place * zoom, 1.0);
}`;
const FRAGMENT = `
precision mediump float;
uniform vec3 colour;
uniform float cut;
varying vec3 facing, side, place;
void main() {
  vec3 n = normalize(facing);
  float light = 0.48 + 0.5 * max(dot(n, vec3(0.26, 0.52, 0.81)), 0.0)
    + 0.18 * max(dot(n, vec3(-0.75, -0.1, 0.65)), 0.0);
  if (cut > 0.5 && side.x > 0.999 && abs(place.x) < 0.006 && fract((place.y + place.z) / 1.8) < 0.16) light *= 0.78;
  gl_FragColor = vec4(colour * light, 1.0);
}`;
const START = { yaw: -0.55, pitch: 0.38, zoom: 1.1 };
const SIDES = 10;
const STEPS = 24; /* along one turn of a spring */

const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0],
];
const unit = (a) => a.map((c) => c / (Math.hypot(...a) || 1));

/** Return the value at x of straight runs between knots [x, value]. */
function between(knots, x) {
  let n = 1;
  while (n < knots.length - 1 && x > knots[n][0]) n += 1;
  const [[x0, y0], [x1, y1]] = [knots[n - 1], knots[n]];
  return x1 > x0 ? y0 + ((y1 - y0) * (x - x0)) / (x1 - x0) : y1;
}

/** Return whole numbers of 32 bits from their base64. */
const numbers = (text) =>
  new Int32Array(Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer);

/** Return point and normal of each corner of each triangle of a mesh, one after the other. */
function surface(mesh, stepMm) {
  const points = Float32Array.from(numbers(mesh.corners), (c) => c * stepMm);
  const triangles = numbers(mesh.triangles);
  const at = (list, n) => list.subarray(3 * n, 3 * n + 3);
  const normals = new Float32Array(points.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => at(points, triangles[t + k]));
    const face = cross(b.map((v, k) => v - a[k]), c.map((v, k) => v - a[k]));
    for (let k = 0; k < 9; k += 1) normals[3 * triangles[t + Math.floor(k / 3)] + (k % 3)] += face[k % 3];
  }
  const made = new Float32Array(6 * triangles.length);
  triangles.forEach((n, k) => {
    made.set(at(points, n), 6 * k);
    made.set(unit([...at(normals, n)]), 6 * k + 3);
  });
  return made;
}

/** Return what winds a spring to a length: its tube as `surface` tells it; ground ends are flat.
    Only z depends on the length, so the rest is made once. */
function winder(coil) {
  const count = Math.ceil(coil.turns * STEPS);
  const turns = Array.from({ length: count + 1 }, (_, n) => (coil.turns * n) / count);
  turns.unshift(0);
  turns.push(coil.turns); /* rings without width close both ends */
  const corner = (n, k) => {
    const [around, round] = [2 * Math.PI * turns[n], (2 * Math.PI * k) / SIDES];
    const r = n === 0 || n === count + 2 ? 0 : coil.wire / 2;
    const [out, up] = [Math.cos(round), Math.sin(round)];
    const [x, y] = [-Math.sin(around), coil.upper * Math.cos(around)];
    const far = coil.mean / 2 + r * out;
    return { ring: n, made: [far * x, far * y, r * up, x * out, y * out, up] };
  };
  const corners = [];
  for (let n = 0; n < count + 2; n += 1) {
    for (let k = 0; k < SIDES; k += 1) {
      const [a, b, c, d] = [[n, k], [n, k + 1], [n + 1, k], [n + 1, k + 1]].map(([m, l]) => corner(m, l));
      corners.push(a, b, c, c, b, d);
    }
  }
  const bare = Float32Array.from(corners.flatMap(({ made }) => made));
  const rings = Uint16Array.from(corners, ({ ring }) => ring);
  return (lengthMm) => {
    const knots = coil.knots.map(([turn, at, share]) => [turn, at + share * lengthMm]);
    const middles = turns.map((turn) => between(knots, turn));
    const made = bare.slice();
    for (let v = 0; v < rings.length; v += 1) {
      const z = made[6 * v + 2] + middles[rings[v]];
      const end = z < 0 ? -1 : Number(z > lengthMm);
      made[6 * v + 2] = end ? (end < 0 ? 0 : lengthMm) : z;
      if (end) made.set([0, 0, end], 6 * v + 3);
    }
    return made;
  };
}

/** Return what shows the tool on a canvas; null where there is no WebGL. */
function viewer(canvas, meshes, view) {
  const gl = canvas.getContext("webgl", { antialias: true });
  if (!gl) return null;
  const program = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return null;
  gl.useProgram(program);
  gl.enable(gl.DEPTH_TEST);
  gl.clearColor(1, 1, 1, 1);
  const at = (name) => gl.getUniformLocation(program, name);
  const places = ["turn", "axes", "origin", "zoom", "colour", "cut"].map(at);
  const [turnAt, axesAt, originAt, zoomAt, colourAt, cutAt] = places;
  const inputs = ["point", "normal"].map((name) => gl.getAttribLocation(program, name));
  inputs.forEach((input) => gl.enableVertexAttribArray(input));

  const fill = (buffer, content, use) => {
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.bufferData(gl.ARRAY_BUFFER, content, use);
    return { buffer, count: content.length / 6 };
  };
  const solids = Object.fromEntries(meshes.map((mesh) =>
    [mesh.part, fill(gl.createBuffer(), surface(mesh, view.stepMm), gl.STATIC_DRAW)]));
  const springs = view.coils.map((coil) => (
    { buffer: gl.createBuffer(), count: 0, wind: winder(coil), length: NaN }));
  const hidden = new Set();
  const eye = { ...START };
  let pose = null;
  let asked = false;

  function draw() {
    asked = false;
    if (!pose || gl.isContextLost()) return;
    springs.forEach((spring, n) => {
      if (spring.length === pose.lengths[n]) return;
      spring.length = pose.lengths[n];
      Object.assign(spring, fill(spring.buffer, spring.wind(spring.length), gl.DYNAMIC_DRAW));
    });
    const [sy, cy, sp, cp] = [eye.yaw, eye.pitch].flatMap((a) => [Math.sin(a), Math.cos(a)]);
    const turn = [sy, -sp * cy, cp * cy, 0, cp, sp, -cy, -sp * sy, cp * sy];
    const wide = (1.84 / view.wholeMm) * eye.zoom;
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.uniformMatrix3fv(turnAt, false, turn);
    gl.uniform3f(zoomAt, wide, (wide * canvas.width) / canvas.height, -0.4 / view.wholeMm);
    view.bodies.forEach((body, n) => {
      const spring = view.coils.findIndex((coil) => coil.name === body.name);
      const solid = spring < 0 ? solids[body.part] : springs[spring];
      if (!solid || hidden.has(body.part)) return;
      gl.uniformMatrix3fv(axesAt, false, pose.axes[n]);
      gl.uniform3f(originAt, 0, body.across, pose.places[n] - view.middleMm);
      gl.uniform3fv(colourAt, body.colour);
      gl.uniform1f(cutAt, body.cut ? 1 : 0);
      gl.bindBuffer(gl.ARRAY_BUFFER, solid.buffer);
      inputs.forEach((input, k) => gl.vertexAttribPointer(input, 3, gl.FLOAT, false, 24, 12 * k));
      gl.drawArrays(gl.TRIANGLES, 0, solid.count);
    });
  }
  const soon = () => {
    if (!asked) requestAnimationFrame(draw);
    asked = true;
  };
  new ResizeObserver(() => {
    const dense = window.devicePixelRatio || 1;
    canvas.width = Math.max(1, Math.round(canvas.clientWidth * dense));
    canvas.height = Math.max(1, Math.round(canvas.clientHeight * dense));
    soon();
  }).observe(canvas);
  handle(canvas, eye, soon);
  return {
    /** Show a pose: axes and places of the bodies, lengths of the springs. */
    show(next) {
      pose = next;
      soon();
    },
    /** Show or hide a part. */
    reveal(part, shown) {
      if (shown) hidden.delete(part);
      else hidden.add(part);
      soon();
    },
  };
}

/** Turn and zoom an eye by finger, mouse, wheel and keys; twice tapped, it stands as at first. */
function handle(canvas, eye, changed) {
  const fingers = new Map();
  let tapped = { time: -1e9, x: 0, y: 0 };
  const turn = (dx, dy) => {
    eye.yaw += dx * 0.009;
    eye.pitch = Math.min(Math.max(eye.pitch + dy * 0.009, -Math.PI / 2), Math.PI / 2);
  };
  const zoom = (factor) => { eye.zoom = Math.min(Math.max(eye.zoom * factor, 0.5), 12); };
  const apart = () => {
    const [a, b] = [...fingers.values()];
    return Math.hypot(a.x - b.x, a.y - b.y) || 1;
  };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    const near = Math.hypot(event.clientX - tapped.x, event.clientY - tapped.y) < 30;
    if (near && event.timeStamp - tapped.time < 350) Object.assign(eye, START);
    tapped = { time: event.timeStamp, x: event.clientX, y: event.clientY };
    changed();
  });
  canvas.addEventListener("pointermove", (event) => {
    const finger = fingers.get(event.pointerId);
    if (!finger) return;
    const before = fingers.size === 2 ? apart() : 0;
    const [dx, dy] = [event.clientX - finger.x, event.clientY - finger.y];
    Object.assign(finger, { x: event.clientX, y: event.clientY });
    if (before) zoom(apart() / before);
    else turn(dx, dy);
    changed();
  });
  for (const end of ["pointerup", "pointercancel"]) {
    canvas.addEventListener(end, (event) => fingers.delete(event.pointerId));
  }
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * 0.0015));
    changed();
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    const keys = {
      ArrowLeft: () => turn(-12, 0), ArrowRight: () => turn(12, 0), ArrowUp: () => turn(0, -12),
      ArrowDown: () => turn(0, 12), "+": () => zoom(1.15), "-": () => zoom(1 / 1.15),
      0: () => Object.assign(eye, START),
    };
    if (!keys[event.key]) return;
    event.preventDefault();
    keys[event.key]();
    changed();
  });
}
