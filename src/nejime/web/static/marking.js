// A photograph to mark: `createMarking(host, options)`.
//
// Frame: pixels of the whole picture, the centre of its top-left pixel at 0, 0. What is shown of it
// is a window, `seen`; sizes of marks are kept on the screen, whatever the window.
// A finger or a mouse sets a mark where it lets go; the glass shows what is under it. Two fingers
// make the picture larger and move it.

const SVG = "http://www.w3.org/2000/svg";
const NEAR = { touch: 24, other: 12 }; // CSS pixels around a mark that take hold of it,
const CLOSE = { touch: 11, other: 8 }; // and where more of its kind are to come beside it
const GLASS = 3.2; // how much larger the glass shows the picture
const MOST = 16; // times larger than the whole
const COARSE = 1 / 40; // of what is seen, a step of the cross
const FINE = 1 / 400;
const LEAST_CUT = 0.08;
const LETTER = 7; // CSS pixels that a letter of a label is wide, at most
const PLACES = [[1, 0], [-1, 0], [0, -1], [0, 1], [1, -1], [-1, -1], [1, 1], [-1, 1]]; // of a label

export function createMarking(host, options) {
  return new Marking(host, options);
}

function made(name, attributes = {}, text) {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
  if (text !== undefined) one.textContent = text;
  return one;
}

function overlap(one, other) {
  return one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom;
}

class Marking {
  constructor(host, { sheet, loupe, glass, set, move, pick, erase, cut }) {
    Object.assign(this, { host, sheet, loupe, glass, onSet: set, onMove: move, onPick: pick, onErase: erase, onCut: cut });
    this.marks = [];
    this.lines = [];
    this.picked = null;
    this.held = null; // { key, from, at }: a mark on its way
    this.pointers = new Map();
    const listen = (name, act, more) => host.addEventListener(name, act.bind(this), more);
    listen("pointerdown", this.down);
    listen("pointermove", this.over);
    listen("pointerup", this.up);
    listen("pointercancel", this.cancel);
    listen("pointerleave", this.leave);
    listen("wheel", this.wheel, { passive: false });
    listen("keydown", this.key);
    listen("blur", () => this.hideGlass());
    new ResizeObserver(() => this.draw()).observe(host);
  }

  // What is shown

  /** A picture: { href, box: [left, top, width, height], width, height }. */
  show(picture) {
    const anew = picture.href !== this.picture?.href || String(picture.box) !== String(this.picture?.box);
    this.picture = picture;
    if (anew) {
      const [, , wide, high] = picture.box;
      this.host.style.setProperty("--ratio", String(wide / high));
      this.cursor = null;
      this.whole();
    }
  }

  /** Marks { key, at, label } and lines { points, kind, label, closed } over the picture. */
  set(marks, lines) {
    this.marks = marks;
    this.lines = lines;
    if (!marks.some(({ key }) => key === this.picked)) this.picked = null;
    this.draw();
  }

  pick(key) {
    this.picked = key;
    const mark = this.marks.find((each) => each.key === key);
    if (mark) this.cursor = [...mark.at];
    this.draw();
    this.onPick(this.picked);
  }

  whole() {
    const [left, top, wide, high] = this.picture.box;
    this.seen = { x: left - 0.5, y: top - 0.5, wide, high };
    this.draw();
  }

  /** So near that what lies between these points fills a share of the picture. */
  closeUp(points, share) {
    const xs = points.map(([x]) => x);
    const [least, most] = [Math.min(...xs), Math.max(...xs)];
    const middle = [(least + most) / 2, points.reduce((sum, [, y]) => sum + y, 0) / points.length];
    this.whole();
    this.zoom((this.seen.wide * share) / Math.max(1, most - least), middle);
    this.pan([this.seen.x + this.seen.wide / 2 - middle[0], this.seen.y + this.seen.high / 2 - middle[1]]);
  }

  /** Larger or smaller around a point, which stays where it is. */
  zoom(factor, around) {
    const [left, top, wide, high] = this.picture.box;
    const about = around ?? this.cursor ?? [this.seen.x + this.seen.wide / 2, this.seen.y + this.seen.high / 2];
    const now = Math.min(wide, Math.max(wide / MOST, this.seen.wide / factor));
    const share = now / this.seen.wide;
    this.seen = {
      x: about[0] - (about[0] - this.seen.x) * share,
      y: about[1] - (about[1] - this.seen.y) * share,
      wide: now,
      high: (now * high) / wide,
    };
    this.within(left, top, wide, high);
    this.draw();
  }

  pan(by) {
    this.seen.x -= by[0];
    this.seen.y -= by[1];
    this.within(...this.picture.box);
    this.draw();
  }

  within(left, top, wide, high) {
    this.seen.x = Math.min(left - 0.5 + wide - this.seen.wide, Math.max(left - 0.5, this.seen.x));
    this.seen.y = Math.min(top - 0.5 + high - this.seen.high, Math.max(top - 0.5, this.seen.y));
  }

  /** Pixels of the whole picture in one CSS pixel. */
  get unit() {
    return this.seen.wide / (this.host.clientWidth || 1);
  }

  // Drawing

  draw() {
    if (!this.picture || !this.seen || !this.host.clientWidth) return;
    const { x, y, wide, high } = this.seen;
    this.sheet.setAttribute("viewBox", `${x} ${y} ${wide} ${high}`);
    const parts = [this.image()];
    for (const line of this.lines) parts.push(...this.lineParts(line, this.unit));
    for (const mark of this.marks) parts.push(...this.markParts(mark));
    parts.push(...this.labels());
    if (this.held && !this.held.key) parts.push(...this.cross(this.held.at, 9, 1.6));
    if (this.cursor && !this.cutting) parts.push(...this.cross(this.cursor, 14, 1.6, "cursor"));
    if (this.cutting) parts.push(...this.cutParts());
    this.sheet.replaceChildren(...parts);
    if (!this.loupe.hidden && this.glassAt) this.drawGlass();
  }

  image() {
    const [left, top, wide, high] = this.picture.box;
    const one = made("image", { x: left - 0.5, y: top - 0.5, width: wide, height: high, preserveAspectRatio: "none" });
    if (this.picture.href) one.setAttribute("href", this.picture.href);
    return one;
  }

  lineParts({ points, kind, closed }, unit) {
    if (points.length < 2) return [];
    const name = closed ? "polygon" : "polyline";
    const told = points.map((each) => each.join(",")).join(" ");
    const dash = { plan: [7, 5], snap: [1.5, 4], line: null, rim: null }[kind];
    const width = { plan: 2, snap: 3, line: 2, rim: 1.4 }[kind] * unit;
    const halo = made(name, { points: told, class: "halo", "stroke-width": width + 2.4 * unit });
    const line = made(name, { points: told, class: `line ${kind}`, "stroke-width": width });
    if (dash) line.setAttribute("stroke-dasharray", dash.map((each) => each * unit).join(" "));
    return [halo, line];
  }

  /** What stands beside marks and planned lines: each where it covers no other one, no mark, and
   *  stays in the picture; a planned line without room goes without. */
  labels() {
    const taken = this.marks.map(({ key, at: [x, y] }) => this.around(x, y, this.held?.key === key ? 0 : 5));
    const said = [];
    const spots = this.marks.filter(({ label }) => label).map((mark) => ({ at: this.held?.key === mark.key ? this.held.at : mark.at, label: mark.label, must: true }));
    const plans = this.lines.filter(({ label, points }) => label && points.length > 1).map(({ points, label }) => ({ at: points.at(-1), label }));
    return [...spots, ...plans].flatMap(({ at, label, must }) => {
      const places = PLACES.map((place) => this.place(at, label, place));
      const free = places.find(({ box }) => this.holds(box) && !taken.some((each) => overlap(each, box)));
      const found = free ?? (must && (places.find(({ box }) => this.holds(box) && !said.some((each) => overlap(each, box))) ?? places[0]));
      if (!found) return [];
      taken.push(found.box);
      said.push(found.box);
      return [this.text(found, label)];
    });
  }

  around(x, y, r) {
    const reach = r * this.unit;
    return { left: x - reach, right: x + reach, top: y - reach, bottom: y + reach };
  }

  /** A label to one side of a point, in pixels of the picture. */
  place([x, y], label, [across, down]) {
    const { unit } = this;
    const wide = LETTER * label.length * unit;
    const from = x + 11 * across * unit;
    const left = across > 0 ? from : across < 0 ? from - wide : x - wide / 2;
    const middle = y + (across ? 13 : 18) * down * unit;
    const box = { left, right: left + wide, top: middle - 7 * unit, bottom: middle + 7 * unit };
    return { x: from, y: middle + 4 * unit, anchor: across > 0 ? "start" : across < 0 ? "end" : "middle", box };
  }

  holds({ left, right, top, bottom }) {
    const { x, y, wide, high } = this.seen;
    return left >= x && right <= x + wide && top >= y && bottom <= y + high;
  }

  text({ x, y, anchor }, label) {
    const { unit } = this;
    return made("text", { x, y, "font-size": 12.5 * unit, "stroke-width": 3 * unit, "text-anchor": anchor }, label);
  }

  markParts({ key, at, small, wrong }) {
    const unit = this.unit;
    const spot = this.held?.key === key ? this.held.at : at;
    const chosen = key === this.picked || key === this.held?.key;
    const r = (small ? 4.5 : 7) * unit;
    const ring = (name, width, extra = 0) =>
      made("circle", { cx: spot[0], cy: spot[1], r: r + extra * unit, class: name, "stroke-width": width * unit });
    const parts = [ring("halo", chosen ? 6.5 : 4.5), ring("line", chosen ? 3 : 1.8)];
    if (!small) parts.push(...this.cross(spot, 3, 1.2));
    if (chosen) parts.push(ring("line", 1.4, 5));
    if (wrong) parts.push(ring("halo", 6, 9), ring("line", 3, 9));
    return parts;
  }

  cross([x, y], size, width, name = "") {
    const unit = this.unit;
    const path = `M${x - size * unit} ${y}H${x + size * unit}M${x} ${y - size * unit}V${y + size * unit}`;
    return [
      made("path", { d: path, class: `halo ${name}`, "stroke-width": (width + 2.4) * unit }),
      made("path", { d: path, class: `line ${name}`, "stroke-width": width * unit }),
    ];
  }

  // The glass

  showGlass(at, event) {
    this.glassAt = at;
    this.loupe.hidden = false;
    const box = this.host.getBoundingClientRect();
    const half = this.loupe.offsetWidth / 2;
    const x = event ? event.clientX - box.left : (at[0] - this.seen.x) / this.unit;
    const y = event ? event.clientY - box.top : (at[1] - this.seen.y) / this.unit;
    const reach = half + (event?.pointerType === "touch" ? 46 : 30);
    let [gx, gy] = [x, y - reach];
    if (box.top + gy - half < 64) [gx, gy] = [x < box.width / 2 ? x + reach + 14 : x - reach - 14, Math.max(y, 70 - box.top + half)];
    gx = Math.min(box.width - half, Math.max(half, gx));
    this.loupe.style.left = `${gx}px`;
    this.loupe.style.top = `${gy}px`;
    this.drawGlass();
  }

  drawGlass() {
    const side = (this.loupe.clientWidth / GLASS) * this.unit;
    const unit = side / this.loupe.clientWidth;
    const [x, y] = this.glassAt;
    this.glass.setAttribute("viewBox", `${x - side / 2} ${y - side / 2} ${side} ${side}`);
    const arm = (size) => `M${x - size} ${y}H${x - 5 * unit}M${x + 5 * unit} ${y}H${x + size}M${x} ${y - size}V${y - 5 * unit}M${x} ${y + 5 * unit}V${y + size}`;
    const lines = this.lines.filter(({ kind }) => kind === "rim").flatMap((line) => this.lineParts(line, unit));
    this.glass.replaceChildren(
      this.image(),
      ...lines,
      made("path", { d: arm(side / 2), class: "halo", "stroke-width": 3.4 * unit }),
      made("path", { d: arm(side / 2), class: "line", "stroke-width": 1.2 * unit }),
    );
  }

  hideGlass() {
    this.loupe.hidden = true;
    this.glassAt = null;
  }

  // Pointers

  point(event) {
    const box = this.host.getBoundingClientRect();
    return [
      this.seen.x + ((event.clientX - box.left) / box.width) * this.seen.wide,
      this.seen.y + ((event.clientY - box.top) / box.height) * this.seen.high,
    ];
  }

  inside([x, y]) {
    const [left, top, wide, high] = this.picture.box;
    return [
      Math.min(left + wide - 0.5, Math.max(left - 0.5, Math.round(x * 10) / 10)),
      Math.min(top + high - 0.5, Math.max(top - 0.5, Math.round(y * 10) / 10)),
    ];
  }

  near(point, touch) {
    const reach = (this.waits ? CLOSE : NEAR)[touch ? "touch" : "other"] * this.unit;
    let best = null;
    for (const mark of this.marks) {
      const apart = this.waits && !mark.key.startsWith(this.waits); // the next mark may lie beside it
      if (apart && !mark.wrong && mark.key !== this.picked) continue;
      const away = Math.hypot(mark.at[0] - point[0], mark.at[1] - point[1]);
      if (away <= reach && (!best || away < best.away)) best = { mark, away };
    }
    return best?.mark ?? null;
  }

  down(event) {
    if (event.button !== 0 || !this.picture) return;
    event.preventDefault();
    this.host.focus({ preventScroll: true });
    this.host.setPointerCapture(event.pointerId);
    this.pointers.set(event.pointerId, this.point(event));
    if (this.pointers.size > 1) {
      this.held = null;
      this.cutHeld = null;
      this.hideGlass();
      this.draw();
      return;
    }
    const point = this.point(event);
    if (this.cutting) {
      this.cutHeld = this.cutPart(point);
      return;
    }
    const mark = this.near(point, event.pointerType === "touch");
    this.held = mark
      ? { key: mark.key, off: [mark.at[0] - point[0], mark.at[1] - point[1]], at: [...mark.at], was: [...mark.at] }
      : { key: null, off: [0, 0], at: this.inside(point) };
    this.showGlass(this.held.at, event);
    this.draw();
  }

  over(event) {
    if (!this.picture) return;
    const point = this.point(event);
    if (this.pointers.size > 1 && this.pointers.has(event.pointerId)) return this.pinch(event, point);
    if (this.pointers.has(event.pointerId)) this.pointers.set(event.pointerId, point);
    if (this.cutting) {
      if (this.cutHeld) this.moveCut(point);
      return;
    }
    if (this.held) {
      this.held.at = this.inside([point[0] + this.held.off[0], point[1] + this.held.off[1]]);
      this.showGlass(this.held.at, event);
      this.draw();
    } else if (event.pointerType === "mouse") this.hover(point, event);
  }

  /** Under a mouse that holds nothing: the glass, while a mark is asked for or one lies there. */
  hover(point, event) {
    if (this.waits || this.near(point, false)) this.showGlass(point, event);
    else this.hideGlass();
  }

  up(event) {
    const several = this.pointers.size > 1;
    this.pointers.delete(event.pointerId);
    const { held } = this;
    this.held = null;
    this.cutHeld = null;
    this.hideGlass();
    if (!held || several) return;
    this.cursor = [...held.at];
    if (!held.key) {
      this.picked = null;
      this.onSet(held.at);
    } else if (Math.hypot(held.at[0] - held.was[0], held.at[1] - held.was[1]) > 0.05) {
      this.picked = held.key;
      this.onMove(held.key, held.at);
    } else this.pick(held.key);
    this.draw();
  }

  cancel(event) {
    this.pointers.delete(event.pointerId);
    this.held = null;
    this.cutHeld = null;
    this.hideGlass();
    this.draw();
  }

  leave() {
    if (!this.held) this.hideGlass();
  }

  pinch(event, point) {
    const [id, other] = [...this.pointers].find(([each]) => each !== event.pointerId);
    const before = this.pointers.get(event.pointerId);
    const apart = (one) => Math.hypot(one[0] - other[0], one[1] - other[1]);
    const middle = [(point[0] + other[0]) / 2, (point[1] + other[1]) / 2];
    const was = [(before[0] + other[0]) / 2, (before[1] + other[1]) / 2];
    const still = this.screen(other);
    this.zoom(apart(point) / Math.max(1e-6, apart(before)), middle);
    this.pan([middle[0] - was[0], middle[1] - was[1]]);
    this.pointers.set(event.pointerId, this.point(event));
    this.pointers.set(id, this.point(still));
  }

  screen([x, y]) {
    const box = this.host.getBoundingClientRect();
    return {
      clientX: box.left + ((x - this.seen.x) / this.seen.wide) * box.width,
      clientY: box.top + ((y - this.seen.y) / this.seen.high) * box.height,
    };
  }

  wheel(event) {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    this.zoom(Math.exp(-event.deltaY / 300), this.point(event));
  }

  // Keys

  key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || !this.picture) return;
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const act = way ? () => this.step(way, event.shiftKey) : this.keyAct(event.key);
    if (!act) return;
    event.preventDefault();
    act();
  }

  keyAct(key) {
    const acts = {
      "+": () => this.zoom(1.5),
      "=": () => this.zoom(1.5),
      "-": () => this.zoom(1 / 1.5),
    };
    if (!this.cutting)
      Object.assign(acts, {
        Enter: () => this.enter(),
        " ": () => this.enter(),
        Escape: () => this.pick(null),
        Delete: () => this.picked && this.onErase(this.picked),
        Backspace: () => this.picked && this.onErase(this.picked),
        PageDown: () => this.pickNext(1),
        PageUp: () => this.pickNext(-1),
      });
    return acts[key];
  }

  enter() {
    if (this.picked) this.pick(null);
    else if (this.cursor) this.onSet(this.inside(this.cursor));
    this.draw();
  }

  pickNext(by) {
    if (!this.marks.length) return;
    const at = this.marks.findIndex(({ key }) => key === this.picked);
    const next = at < 0 ? (by > 0 ? 0 : this.marks.length - 1) : (at + by + this.marks.length) % this.marks.length;
    this.pick(this.marks[next].key);
  }

  step([x, y], shift) {
    if (this.cutting) return;
    const { seen } = this;
    if (!this.cursor) this.cursor = [seen.x + seen.wide / 2, seen.y + seen.high / 2];
    const size = this.picked ? (shift ? 10 : 1) : seen.wide * (shift ? FINE : COARSE);
    this.cursor = this.inside([this.cursor[0] + x * size, this.cursor[1] + y * size]);
    this.follow();
    if (this.picked) this.onMove(this.picked, [...this.cursor]);
    this.showGlass(this.cursor);
    this.draw();
  }

  /** The window goes with the cross. */
  follow() {
    const { seen, cursor } = this;
    const edge = 0.08;
    for (const [at, key, side] of [[0, "x", "wide"], [1, "y", "high"]]) {
      const least = seen[key] + edge * seen[side];
      const most = seen[key] + (1 - edge) * seen[side];
      if (cursor[at] < least) seen[key] -= least - cursor[at];
      if (cursor[at] > most) seen[key] += cursor[at] - most;
    }
    this.within(...this.picture.box);
  }

  // Cutting

  /** Begin to cut; edges in shares of the picture as it is shown. */
  startCut() {
    this.cutting = { left: 0.06, top: 0.03, right: 0.94, bottom: 0.97 };
    this.whole();
    this.onCut(this.cutting);
  }

  endCut() {
    this.cutting = null;
    this.draw();
  }

  setCut(edge, share) {
    const cut = this.cutting;
    const other = { left: "right", right: "left", top: "bottom", bottom: "top" }[edge];
    const low = edge === "left" || edge === "top";
    cut[edge] = low ? Math.min(Math.max(0, share), cut[other] - LEAST_CUT) : Math.max(Math.min(1, share), cut[other] + LEAST_CUT);
    this.onCut(cut);
    this.draw();
  }

  /** The edges of the cut in pixels of the whole picture. */
  cutBox() {
    const [left, top, wide, high] = this.picture.box;
    const { cutting } = this;
    return {
      left: left + cutting.left * wide,
      right: left + cutting.right * wide,
      top: top + cutting.top * high,
      bottom: top + cutting.bottom * high,
    };
  }

  cutPart(point) {
    const box = this.cutBox();
    const reach = 34 * this.unit;
    const found = ["left", "right"].filter((edge) => Math.abs(point[0] - box[edge]) < reach).slice(0, 1);
    found.push(...["top", "bottom"].filter((edge) => Math.abs(point[1] - box[edge]) < reach).slice(0, 1));
    return { edges: found, from: point, was: { ...this.cutting } };
  }

  moveCut(point) {
    const [left, top, wide, high] = this.picture.box;
    const { edges, from, was } = this.cutHeld;
    for (const edge of edges) {
      this.setCut(edge, edge === "left" || edge === "right" ? (point[0] - left) / wide : (point[1] - top) / high);
    }
    if (edges.length) return;
    const by = [(point[0] - from[0]) / wide, (point[1] - from[1]) / high];
    const x = Math.min(1 - was.right, Math.max(-was.left, by[0]));
    const y = Math.min(1 - was.bottom, Math.max(-was.top, by[1]));
    Object.assign(this.cutting, { left: was.left + x, right: was.right + x, top: was.top + y, bottom: was.bottom + y });
    this.onCut(this.cutting);
    this.draw();
  }

  cutParts() {
    const { unit, seen } = this;
    const { left, right, top, bottom } = this.cutBox();
    const outer = `M${seen.x} ${seen.y}h${seen.wide}v${seen.high}h${-seen.wide}Z`;
    const inner = `M${left} ${top}V${bottom}H${right}V${top}Z`;
    const parts = [made("path", { d: outer + inner, class: "shade", "fill-rule": "evenodd" })];
    const frame = { x: left, y: top, width: right - left, height: bottom - top };
    parts.push(made("rect", { ...frame, class: "halo", "stroke-width": 4 * unit }));
    parts.push(made("rect", { ...frame, class: "line", "stroke-width": 1.6 * unit }));
    for (const [x, y] of [[left, top], [right, top], [left, bottom], [right, bottom]]) {
      parts.push(made("circle", { cx: x, cy: y, r: 9 * unit, class: "halo", "stroke-width": 5 * unit }));
      parts.push(made("circle", { cx: x, cy: y, r: 9 * unit, class: "line", "stroke-width": 2 * unit }));
    }
    return parts;
  }
}
