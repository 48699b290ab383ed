// Folds the real FOLD data in the page: every face is walked to over its creases, each
// turned by its share of its angle, and drawn back to front.

const SVG = "http://www.w3.org/2000/svg";
const FLAT_ENOUGH = 1e-4; // mm: two faces this near lie on one another

// ---- places in space --------------------------------------------------------

const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const scaled = (a, by) => [a[0] * by, a[1] * by, a[2] * by];
const plus = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const unit = (a) => scaled(a, 1 / (Math.hypot(...a) || 1));

/** Normal of a ring of places, as long as twice its area (Newell's method). */
function normal(ring) {
  let sum = [0, 0, 0];
  for (let i = 0; i < ring.length; i += 1) {
    sum = plus(sum, cross(minus(ring[i], ring[0]), minus(ring[(i + 1) % ring.length], ring[0])));
  }
  return sum;
}

/** A move: rows turn a place, shift moves it. */
const moved = (move, p) => plus(move.rows.map((row) => dot(row, p)), move.shift);
function after(outer, inner) {
  const columns = [0, 1, 2].map((i) => inner.rows.map((row) => row[i]));
  return {
    rows: outer.rows.map((row) => columns.map((column) => dot(row, column))),
    shift: moved(outer, inner.shift),
  };
}

/** Turning by an angle, in degrees, about a line of the flat from a towards b. */
function turning(a, b, angle) {
  const [x, y, z] = unit(minus(b, a));
  const c = Math.cos(angle * Math.PI / 180);
  const s = Math.sin(angle * Math.PI / 180);
  const v = 1 - c;
  const rows = [
    [c + x * x * v, x * y * v - z * s, x * z * v + y * s],
    [y * x * v + z * s, c + y * y * v, y * z * v - x * s],
    [z * x * v - y * s, z * y * v + x * s, c + z * z * v],
  ];
  return { rows, shift: minus(a, rows.map((row) => dot(row, a))) };
}

// ---- folding ----------------------------------------------------------------

const flatPlaces = (fold) => fold.vertices_coords.map(([x, y]) => [x, y, 0]);
const foldedPlaces = (fold) => fold.file_frames[0].vertices_coords;
const ringOf = (fold, face, places) => fold.faces_vertices[face].map((v) => places[v]);

/** The face that stays where it is: the largest on the roof, or the largest of all. */
export function baseFace(fold) {
  const flat = flatPlaces(fold);
  const roles = fold["faces_seambook:role"] || [];
  const worth = fold.faces_vertices.map((_, face) =>
    Math.hypot(...normal(ringOf(fold, face, flat))) * (roles[face] === "roof" ? 1e6 : 1));
  return worth.indexOf(Math.max(...worth));
}

/** The move that takes the flat base face to its place on the roof. */
function baseMove(fold, base) {
  const ring = fold.faces_vertices[base];
  const axes = (places) => {
    const corners = ring.map((v) => places[v]);
    const sides = corners.map((p, i) => minus(corners[(i + 1) % corners.length], p));
    const lengths = sides.map((side) => Math.hypot(...side));
    return { corners, sides, long: lengths.indexOf(Math.max(...lengths)), up: unit(normal(corners)) };
  };
  const flat = axes(flatPlaces(fold));
  const there = axes(foldedPlaces(fold));
  const frame = (found) => {
    const along = unit(found.sides[flat.long]);
    return [along, cross(found.up, along), found.up];
  };
  const from = frame(flat);
  const to = frame(there);
  const rows = [0, 1, 2].map((i) => [0, 1, 2].map((j) =>
    to[0][i] * from[0][j] + to[1][i] * from[1][j] + to[2][i] * from[2][j]));
  const turned = { rows, shift: [0, 0, 0] };
  return { rows, shift: minus(there.corners[0], moved(turned, flat.corners[0])) };
}

/** Face -> its neighbours over creases: {face, a, b, angle}, a to b as this face runs. */
function neighbours(fold) {
  const runs = new Map();
  fold.faces_vertices.forEach((ring, face) => ring.forEach((v, i) => {
    runs.set(`${v} ${ring[(i + 1) % ring.length]}`, face);
  }));
  const found = fold.faces_vertices.map(() => []);
  fold.edges_vertices.forEach(([a, b], edge) => {
    if (fold.edges_assignment[edge] === "B") return;
    const one = runs.get(`${a} ${b}`);
    const other = runs.get(`${b} ${a}`);
    if (one === undefined || other === undefined) return;
    const angle = fold.edges_foldAngle[edge];
    found[one].push({ face: other, a, b, angle });
    found[other].push({ face: one, a: b, b: a, angle });
  });
  return found;
}

/** Every face's corners in the roof frame, in mm. share: 0 is flat, 1 is folded. */
export function facesAt(fold, share) {
  const flat = flatPlaces(fold);
  const beside = neighbours(fold);
  const base = baseFace(fold);
  const moves = new Map([[base, baseMove(fold, base)]]);
  const waiting = [base];
  while (waiting.length) {
    const face = waiting.shift();
    for (const next of beside[face]) {
      if (moves.has(next.face)) continue;
      // The face on the right of a to b comes up where the fold is a valley.
      const turn = turning(flat[next.a], flat[next.b], -next.angle * share);
      moves.set(next.face, after(moves.get(face), turn));
      waiting.push(next.face);
    }
  }
  return fold.faces_vertices.map((ring, face) =>
    moves.has(face) ? ring.map((v) => moved(moves.get(face), flat[v])) : []);
}

// ---- what hides what ----------------------------------------------------------

const bounds = (ring) => ring.reduce(
  ([x0, y0, x1, y1], [x, y]) => [Math.min(x0, x), Math.min(y0, y), Math.max(x1, x), Math.max(y1, y)],
  [Infinity, Infinity, -Infinity, -Infinity]);
const apart = (a, b) => a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];

/** Faces as seen, the farthest first. */
function backToFront(faces, layers, toEye) {
  const lies = new Map(layers.map(([f, g, side]) => [`${f} ${g}`, side]));
  const inFront = (one, two) => { // 1: one is nearer, -1: two is nearer, 0: either
    const gaps = (p, q) => p.ring.map((place) => dot(minus(place, q.ring[0]), q.up));
    const ofOne = gaps(one, two).map((gap) => gap * Math.sign(dot(two.up, toEye)));
    const ofTwo = gaps(two, one).map((gap) => gap * Math.sign(dot(one.up, toEye)));
    const nearly = (all) => all.every((gap) => Math.abs(gap) < FLAT_ENOUGH);
    if (nearly(ofOne) && nearly(ofTwo)) {
      const side = lies.get(`${one.face} ${two.face}`);
      if (side) return Math.sign(side * dot(two.up, toEye));
      const other = lies.get(`${two.face} ${one.face}`);
      return other ? -Math.sign(other * dot(one.up, toEye)) : 0;
    }
    if (ofOne.every((gap) => gap > -FLAT_ENOUGH)) return 1;
    if (ofOne.every((gap) => gap < FLAT_ENOUGH)) return -1;
    if (ofTwo.every((gap) => gap > -FLAT_ENOUGH)) return -1;
    if (ofTwo.every((gap) => gap < FLAT_ENOUGH)) return 1;
    return Math.sign(one.depth - two.depth);
  };
  const sorted = [...faces].sort((a, b) => a.depth - b.depth);
  const behind = new Map(sorted.map((face) => [face, []]));
  sorted.forEach((one, i) => sorted.slice(i + 1).forEach((two) => {
    if (apart(one.box, two.box)) return;
    const nearer = inFront(one, two);
    if (nearer > 0) behind.get(one).push(two);
    if (nearer < 0) behind.get(two).push(one);
  }));
  const drawn = [];
  const seen = new Set();
  const draw = (face) => {
    if (seen.has(face)) return;
    seen.add(face);
    behind.get(face).forEach(draw);
    drawn.push(face);
  };
  sorted.forEach(draw);
  return drawn;
}

// ---- in the page ---------------------------------------------------------------

const TILT = 32;

/** The way from which the weather sides of all faces are best seen, in degrees. */
function firstTurn(fold) {
  const faces = facesAt(fold, 1).map(normal);
  const tilt = TILT * Math.PI / 180;
  let best = [-Infinity, -60];
  for (let turn = -180; turn < 180; turn += 10) {
    const round = turn * Math.PI / 180;
    const towards = [Math.cos(round) * Math.cos(tilt), Math.sin(round) * Math.cos(tilt), Math.sin(tilt)];
    // The root lets a small face that is seen weigh more than a large one seen better.
    const seen = faces.reduce((sum, up) => sum + Math.sqrt(Math.max(0, dot(up, towards))), 0);
    if (seen > best[0] + 1e-9) best = [seen, turn];
  }
  return best[1];
}

class FoldUp {
  constructor(figure, fold) {
    this.fold = fold;
    this.layers = fold.file_frames[0].faceOrders || [];
    this.stage = figure.querySelector("[data-stage]");
    this.slider = figure.querySelector("[data-slider]");
    this.share = 1;
    this.home();
    this.measure();
    this.svg = document.createElementNS(SVG, "svg");
    this.svg.setAttribute("viewBox", `${-this.reach} ${-this.reach * 0.74} ${2 * this.reach} ${1.48 * this.reach}`);
    this.svg.setAttribute("aria-hidden", "true");
    this.stage.replaceChildren(this.svg);
    this.listen(figure);
    figure.querySelector("[data-controls]").hidden = false;
    figure.dataset.ready = "yes";
    this.draw();
  }

  home() {
    this.turn = firstTurn(this.fold);
    this.tilt = TILT;
  }

  /** One size for the whole way, so that nothing jumps while it folds. */
  measure() {
    const all = [0, 0.25, 0.5, 0.75, 1].flatMap((share) => facesAt(this.fold, share)).flat();
    const low = [0, 1, 2].map((i) => Math.min(...all.map((p) => p[i])));
    const high = [0, 1, 2].map((i) => Math.max(...all.map((p) => p[i])));
    this.centre = scaled(plus(low, high), 0.5);
    this.reach = Math.max(...all.map((p) => Math.hypot(...minus(p, this.centre)))) * 1.04;
  }

  eye() {
    const [turn, tilt] = [this.turn, this.tilt].map((angle) => angle * Math.PI / 180);
    const towards = [
      Math.cos(turn) * Math.cos(tilt), Math.sin(turn) * Math.cos(tilt), Math.sin(tilt)];
    const right = [-Math.sin(turn), Math.cos(turn), 0];
    return { towards, right, up: cross(towards, right) };
  }

  draw() {
    const { towards, right, up } = this.eye();
    const light = unit(plus(plus(towards, scaled(right, -0.5)), scaled(up, 0.6)));
    const faces = facesAt(this.fold, this.share).map((ring, face) => {
      const seen = ring.map((p) => minus(p, this.centre)).map((p) => [dot(p, right), -dot(p, up)]);
      const facing = unit(normal(ring));
      const depth = ring.reduce((sum, p) => sum + dot(p, towards), 0) / (ring.length || 1);
      return { face, ring, seen, up: facing, depth, box: bounds(seen) };
    }).filter((face) => face.ring.length);
    const ink = backToFront(faces, this.layers, towards).flatMap((face) => {
      const points = face.seen.map((p) => p.map((n) => n.toFixed(2)).join(",")).join(" ");
      const side = dot(face.up, towards) >= 0 ? "weather" : "under";
      const shade = 0.34 * (1 - Math.abs(dot(face.up, light)));
      return [this.polygon(points, side), this.polygon(points, "shade", shade)];
    });
    this.svg.replaceChildren(...ink);
  }

  polygon(points, kind, opacity) {
    const drawn = document.createElementNS(SVG, "polygon");
    drawn.setAttribute("points", points);
    drawn.setAttribute("class", kind);
    if (opacity !== undefined) drawn.setAttribute("fill-opacity", opacity.toFixed(3));
    return drawn;
  }

  set(share) {
    this.share = Math.min(1, Math.max(0, share));
    const per = Math.round(this.share * 100);
    this.slider.value = String(per);
    const words = per === 0 ? "flat" : per === 100 ? "folded" : `${per} per cent folded`;
    this.slider.setAttribute("aria-valuetext", words);
    this.draw();
  }

  turnBy(across, upwards) {
    this.turn -= across;
    this.tilt = Math.min(89, Math.max(-89, this.tilt + upwards));
    this.draw();
  }

  /** From flat to folded; at once where motion is not wanted. */
  play() {
    cancelAnimationFrame(this.frame);
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
      this.set(this.share < 1 ? 1 : 0);
      return;
    }
    const begun = performance.now();
    const step = (now) => {
      this.set((now - begun) / 1800);
      if (this.share < 1) this.frame = requestAnimationFrame(step);
    };
    this.frame = requestAnimationFrame(step);
  }

  listen(figure) {
    this.slider.addEventListener("input", () => {
      cancelAnimationFrame(this.frame);
      this.set(Number(this.slider.value) / 100);
    });
    figure.querySelector("[data-fold]").addEventListener("click", () => this.play());
    const turns = { left: [-15, 0], right: [15, 0], up: [0, 10], down: [0, -10] };
    figure.querySelectorAll("[data-turn]").forEach((button) => {
      button.addEventListener("click", () => {
        const by = turns[button.dataset.turn];
        if (by) { this.turnBy(...by); return; }
        this.home();
        this.draw();
      });
    });
    this.stage.addEventListener("keydown", (event) => {
      const by = turns[event.key.replace("Arrow", "").toLowerCase()];
      if (!by || !event.key.startsWith("Arrow")) return;
      event.preventDefault();
      this.turnBy(by[0] / 3, by[1] / 2);
    });
    this.stage.addEventListener("pointerdown", (event) => {
      this.stage.setPointerCapture(event.pointerId);
      this.last = [event.clientX, event.clientY];
    });
    this.stage.addEventListener("pointermove", (event) => {
      if (!this.last) return;
      this.turnBy((event.clientX - this.last[0]) * 0.5, (event.clientY - this.last[1]) * 0.4);
      this.last = [event.clientX, event.clientY];
    });
    for (const end of ["pointerup", "pointercancel"]) {
      this.stage.addEventListener(end, () => { this.last = null; });
    }
  }
}

async function begin(figure) {
  if (figure.dataset.ready) return;
  try {
    const answer = await fetch(figure.dataset.foldUp);
    if (answer.ok) new FoldUp(figure, await answer.json());
  } catch {
    // No signal: the still drawing stays where it is.
  }
}

document.querySelectorAll("[data-fold-up]").forEach(begin);
