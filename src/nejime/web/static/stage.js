// The stage on which a piece is shown and moved: `createStage(host, options)`.
//
// What `drawings/wire.py` sends goes to `stage.show`; looks that are not here yet are fetched by their
// key. The stage draws only when something has changed. While a stem is dragged, everything else is a
// still picture under a transparent canvas, so that one stem is all there is to draw.
// Frame: the house frame (x right, y away from the viewer, z up), centimetres and degrees; no
// conversion, as the cameras are told where up is.

import {
  Box3, Group, NeutralToneMapping, PCFShadowMap, Raycaster, Scene, Vector2, Vector3, WebGLRenderer, Plane,
} from "./vendor/three.module.js";
import { Organs, disposePlant, plantGroup } from "./plant.js";
import { Overlay } from "./overlay.js";
import { endOf, poseMatrix, poseTowards } from "./pose.js";
import { Room } from "./room.js";
import { metalMaterial, plantMaterial, sharedUniforms } from "./tissue.js";
import { NAMES, Views } from "./views.js";
import { Water } from "./water.js";
import { below } from "./below.js";
import { disposeGroup, setVessel, vesselGroup } from "./vessel.js";

const SOFTWARE = /swiftshader|llvmpipe|softpipe|software|basic render/i;
const SLOW_MS = 60; // a frame slower than this, three times, is too slow for full quality
const PICK_PX = 14;
const STILL_MS = 350; // after so long without a change a picture of low quality is drawn finer
const FINER = 2; // pixels across for one, then
const TOO_LONG_MS = 500; // unless a frame takes longer than this
const FILLED = 0.72; // share of the picture, in one direction, that a piece must fill
const KEYS = { ArrowLeft: [-6, 0], ArrowRight: [6, 0], ArrowUp: [0, 4], ArrowDown: [0, -4] };

/** The renderer's name, as far as the browser tells it; empty where there is no WebGL. */
function rendererName() {
  const gl = document.createElement("canvas").getContext("webgl2");
  if (!gl) return "";
  const info = gl.getExtension("WEBGL_debug_renderer_info");
  const name = String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER)) || "unnamed";
  gl.getExtension("WEBGL_lose_context")?.loseContext();
  return name;
}

/** A stage in an element; throws where the browser has no WebGL 2. */
export function createStage(host, options = {}) {
  const name = rendererName();
  if (!name) throw new Error("no WebGL 2");
  const { quality = "auto", lookUrl = (key) => `look/${key}`, still = false } = options;
  return new Stage(host, quality, SOFTWARE.test(name), lookUrl, still);
}

class Stage {
  constructor(host, wanted, isSoftware, lookUrl, still) {
    this.host = host;
    this.still = still; // a piece to look at: nothing in it can be taken hold of
    this.wanted = wanted;
    this.quality = wanted === "auto" ? (isSoftware ? "low" : "full") : wanted;
    this.lookUrl = lookUrl;
    this.listeners = new Map();
    this.looks = new Map();
    this.ghosts = [];
    this.selected = null;
    this.hovered = null;
    this.dragging = null;
    this.waiting = null;
    this.slow = 0;
    this.calm = matchMedia("(prefers-reduced-motion: reduce)");
    this.views = new Views();
    host.classList.add("stage");
    if (!host.hasAttribute("tabindex")) host.tabIndex = 0;
    this.under = document.createElement("canvas");
    host.append(this.under);
    this.overlay = null;
    this.build();
    this.overlay = new Overlay(host);
    this.watch();
  }

  // Making and unmaking

  build() {
    const full = this.quality === "full";
    this.renderer = new WebGLRenderer({ antialias: full, alpha: true, preserveDrawingBuffer: true });
    this.renderer.toneMapping = NeutralToneMapping;
    this.renderer.toneMappingExposure = 0.98;
    this.renderer.setClearColor(0x000000, 0);
    this.renderer.shadowMap.enabled = full;
    this.renderer.shadowMap.type = PCFShadowMap;
    this.renderer.shadowMap.autoUpdate = false;
    this.host.insertBefore(this.renderer.domElement, this.under.nextSibling);
    this.fine = full ? 1 : 0;
    this.shared = sharedUniforms();
    this.scene = new Scene();
    this.room = new Room(this.scene, this.quality);
    this.organs = new Organs(this.fine);
    this.tissue = plantMaterial(this.shared);
    this.rod = metalMaterial("#6f5a44", this.shared);
    this.water = new Water();
    this.vessel = null;
    this.face = new Group();
    this.plants = new Group();
    this.scene.add(this.plants, this.face);
    this.stems = new Map();
    this.resize();
  }

  unbuild() {
    for (const stem of this.stems.values()) this.removeStem(stem);
    if (this.vessel) disposeGroup(this.vessel);
    this.water.dispose();
    this.room.dispose();
    this.organs.dispose();
    this.tissue.dispose();
    this.rod.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
    this.renderer.domElement.remove();
  }

  /** Change the quality; what is shown stays. */
  setQuality(quality) {
    if (quality === this.quality) return;
    this.quality = quality;
    this.unbuild();
    this.build();
    if (this.wire) this.apply(this.wire);
    this.tell("quality", quality);
  }

  dispose() {
    this.watcher.disconnect();
    this.aborter.abort();
    cancelAnimationFrame(this.frame);
    clearTimeout(this.stillTimer);
    this.unbuild();
    this.overlay.dispose();
    this.under.remove();
    this.listeners.clear();
    this.looks.clear();
    this.disposed = true;
  }

  // Events

  on(event, act) {
    if (!this.listeners.has(event)) this.listeners.set(event, new Set());
    this.listeners.get(event).add(act);
    return () => this.listeners.get(event)?.delete(act);
  }

  tell(event, what) {
    for (const act of this.listeners.get(event) ?? []) act(what);
  }

  // What is shown

  /** Show what `drawings/wire.py` made; resolves when it is on the screen. */
  async show(wire) {
    const turn = (this.turnNumber = (this.turnNumber ?? 0) + 1);
    await this.fetchLooks(wire);
    if (this.disposed || turn !== this.turnNumber) return; // a later call is on its way
    if (this.dragging) {
      this.waiting = wire;
      return;
    }
    this.apply(wire);
    await new Promise((done) => requestAnimationFrame(() => done()));
  }

  async fetchLooks(wire) {
    const missing = [...new Set(wire.stems.map((stem) => stem.look))].filter((key) => !this.looks.has(key));
    await Promise.all(
      missing.map(async (key) => {
        const answer = await fetch(this.lookUrl(key));
        if (!answer.ok) throw new Error(`look ${key}: ${answer.status}`);
        this.looks.set(key, await answer.json());
      }),
    );
  }

  apply(wire) {
    const before = this.wire;
    this.wire = wire;
    if (!this.vessel || JSON.stringify([before?.vessel, before?.holder]) !== JSON.stringify([wire.vessel, wire.holder]))
      this.setVessel(wire);
    else if (before.water_cm !== wire.water_cm) this.setWater(wire);
    const kept = new Set(wire.stems.map((stem) => stem.id));
    for (const [id, stem] of this.stems) if (!kept.has(id)) this.removeStem(stem, id);
    for (const each of wire.stems) this.setStem(each);
    this.forgetLooks(wire);
    this.moved();
  }

  setVessel(wire) {
    if (this.vessel) {
      this.scene.remove(this.vessel);
      disposeGroup(this.vessel);
    }
    this.vessel = vesselGroup(wire, this.shared, this.fine);
    this.scene.add(this.vessel);
    this.setWater(wire);
  }

  setWater(wire) {
    setVessel(this.shared, wire.vessel, wire.water_cm);
    this.water.set(this.face, wire.vessel, wire.water_cm, this.fine);
  }

  setStem(told) {
    let stem = this.stems.get(told.id);
    if (!stem || stem.look !== told.look) {
      if (stem) this.removeStem(stem, told.id);
      const group = plantGroup(this.looks.get(told.look), this.organs, this.tissue);
      this.plants.add(group);
      stem = { group, look: told.look, below: null };
      this.stems.set(told.id, stem);
    }
    stem.told = told;
    this.place(stem, told.pose);
    if (stem.below) this.dropBelow(stem);
    if (told.below) this.plants.add((stem.below = below(told, this.rod)));
  }

  place(stem, pose) {
    stem.pose = pose;
    const { group } = stem;
    poseMatrix(pose, this.wire.shoulder, group.userData.length, group.matrix);
    group.matrixWorldNeedsUpdate = true;
    group.updateMatrixWorld(true);
  }

  removeStem(stem, id) {
    this.plants.remove(stem.group);
    disposePlant(stem.group);
    this.dropBelow(stem);
    if (id !== undefined) this.stems.delete(id);
  }

  dropBelow(stem) {
    if (!stem.below) return;
    this.plants.remove(stem.below);
    stem.below.geometry.dispose();
    stem.below = null;
  }

  /** Keep the looks of this piece and some that were there before, for undo. */
  forgetLooks(wire) {
    const used = new Set(wire.stems.map((stem) => stem.look));
    for (const key of this.looks.keys()) {
      if (this.looks.size <= 120) return;
      if (!used.has(key)) this.looks.delete(key);
    }
  }

  /** After poses or things have changed: light, shadow and rings follow. */
  moved() {
    const poses = [...this.stems.values()].map((stem) => ({ pose: stem.pose, thickness: stem.told.thickness }));
    this.water.ringStems(this.face, poses, this.wire.vessel);
    this.points = this.reach();
    const box = new Box3().setFromPoints(this.points);
    const foot = this.wire.vessel.outside[0];
    this.room.fit(box, [foot[1], foot[2]], this.wire.vessel.stand);
    this.stale = true;
    if (this.isWellSeen()) this.change();
    else this.fit();
  }

  /** Whether the piece, as it is now, still fills the picture: then the camera stays where it is. */
  isWellSeen() {
    if (JSON.stringify(this.seenFrom?.vessel) !== JSON.stringify(this.wire.vessel)) return false;
    const spots = this.points.map((point) => this.project([point.x, point.y, point.z]));
    const xs = spots.map(({ x }) => x);
    const ys = spots.map(({ y }) => y);
    const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    if (left < 0 || top < 0 || right > this.size.x || bottom > this.size.y) return false;
    return Math.max((right - left) / this.size.x, (bottom - top) / this.size.y) > FILLED;
  }

  reach() {
    const points = [];
    for (const { group } of this.stems.values())
      for (const point of group.userData.points) points.push(point.clone().applyMatrix4(group.matrix));
    for (const [z, a, b] of this.wire.vessel.outside)
      for (const [x, y] of [[a, 0], [-a, 0], [0, b], [0, -b]]) points.push(new Vector3(x, y, z));
    const foot = this.wire.vessel.outside[0];
    points.push(new Vector3(0, -foot[2] - 3, -this.wire.vessel.stand - 1.2));
    return points;
  }

  // Looking

  /** "front", "side", "plan" (to measure by), "teacher", "seat", or "free" (turned by hand). */
  view(name) {
    this.views.choose(name);
    this.fit();
  }

  fit() {
    if (!this.points) return;
    const high = this.wire.vessel.outside[this.wire.vessel.outside.length - 1][0];
    this.views.fit(this.points, this.aspect, new Vector3(0, 0, high));
    this.seenFrom = this.wire;
    this.room.frame(this.aspect, this.views.name, this.views.camera);
    this.change();
  }

  resize() {
    const { clientWidth: wide, clientHeight: high } = this.host;
    if (!wide || !high) return;
    this.size = new Vector2(wide, high);
    this.aspect = wide / high;
    this.setPixels(this.baseRatio());
    this.fit();
  }

  baseRatio() {
    return this.quality === "full" ? Math.min(devicePixelRatio, 2) : 1;
  }

  setPixels(ratio) {
    if (this.ratio === ratio && this.drawn?.equals(this.size)) return;
    this.ratio = ratio;
    this.drawn = this.size.clone();
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(this.size.x, this.size.y, false);
  }

  // Drawing

  /** Something has changed: draw it with the next frame. */
  change() {
    clearTimeout(this.stillTimer);
    if (this.frame || this.disposed) return;
    this.frame = requestAnimationFrame(() => {
      this.frame = 0;
      this.draw();
    });
  }

  draw() {
    if (!this.wire || !this.size) return;
    if (this.dragging?.still) this.drawDragged();
    else this.drawAll(this.dragging || this.turning ? this.quickRatio() : this.baseRatio());
    this.drawMarks();
    if (!this.dragging && !this.turning) this.drawFinerWhenStill();
  }

  quickRatio() {
    return this.quality === "full" ? this.baseRatio() : 0.75;
  }

  drawAll(ratio) {
    const began = performance.now();
    this.setPixels(ratio);
    if (this.stale) {
      this.room.drawShade(this.renderer, [this.plants, this.vessel]);
      this.renderer.shadowMap.needsUpdate = true;
      this.stale = false;
    }
    const mirrors = this.quality === "full" ? [this.vessel, this.face, this.room.table, this.room.edge] : null;
    this.water.reflect(this.renderer, this.scene, this.views.camera, mirrors);
    this.renderer.render(this.scene, this.views.camera);
    this.took = performance.now() - began;
    this.judge(this.took);
  }

  /** Full quality that turns out to be slow gives way, where nobody has asked for it. */
  judge(took) {
    if (this.wanted !== "auto" || this.quality === "low") return;
    this.frames = (this.frames ?? 0) + 1;
    if (this.frames < 3) return; // the first frames make the shaders
    this.slow = took > SLOW_MS ? this.slow + 1 : 0;
    if (this.slow >= 3) setTimeout(() => this.setQuality("low"));
  }

  drawFinerWhenStill() {
    if (this.ratio >= FINER || this.took > TOO_LONG_MS) return;
    this.stillTimer = setTimeout(() => {
      if (this.disposed || this.dragging || this.turning) return;
      this.drawAll(FINER);
    }, STILL_MS);
  }

  drawMarks() {
    this.overlay.root.setAttribute("viewBox", `0 0 ${this.size.x} ${this.size.y}`);
    this.overlay.drawGhosts(this.ghosts.map(({ from, to }) => ({ from: this.project(from), to: this.project(to) })));
    this.overlay.drawHandles(this.spots());
  }

  spots() {
    const found = [];
    if (this.still) return found;
    const held = this.dragging;
    const add = (id, part, at3) => {
      const chosen = id === this.selected;
      const shown = this.touch || chosen || (id === this.hovered && this.hoveredPart !== undefined);
      const isHeld = held?.id === id && held.part === part;
      found.push({ id, part, at: this.project(at3), at3, shown: shown || isHeld, held: isHeld, chosen });
    };
    const { holder } = this.wire;
    if (holder) add("holder", "holder", [holder.at[0], holder.at[1], holder.at[2] + holder.height]);
    for (const [id, { pose }] of this.stems) {
      add(id, "foot", pose.foot);
      add(id, "end", endOf(pose));
    }
    return found;
  }

  /** Where a point of the house frame is in the picture, in CSS pixels from its upper left. */
  project([x, y, z]) {
    const at = new Vector3(x, y, z).project(this.views.camera);
    return { x: ((at.x + 1) / 2) * this.size.x, y: ((1 - at.y) / 2) * this.size.y };
  }

  /** The picture as it stands, as PNG. */
  picture() {
    this.drawAll(Math.max(FINER, this.baseRatio()));
    return new Promise((done) => this.renderer.domElement.toBlob(done, "image/png"));
  }

  // Marks and moves

  select(id) {
    this.selected = id;
    this.change();
  }

  /** Thin dashed lines of the form's aim. */
  ghost(lines) {
    this.ghosts = lines;
    this.change();
  }

  /** A stem in a new pose: what is there is moved, nothing grows. */
  move(id, pose) {
    const stem = this.stems.get(id);
    if (!stem) return;
    this.place(stem, { ...stem.pose, ...pose });
    if (stem.below) stem.below.visible = false;
    if (!this.dragging) this.moved();
    else this.change();
  }

  // Dragging

  /** Everything but the dragged stem becomes a still picture; its old shadow stays until the drop. */
  freeze(id) {
    const stem = this.stems.get(id);
    if (!stem) return;
    stem.group.visible = false;
    this.drawAll(this.baseRatio());
    const shown = this.renderer.domElement;
    this.under.width = shown.width;
    this.under.height = shown.height;
    this.under.getContext("2d").drawImage(shown, 0, 0);
    stem.group.visible = true;
    this.hiddenForDrag = [];
    const others = [...this.scene.children, ...this.plants.children];
    for (const each of others) {
      const keeps = each === this.plants || each === stem.group || each.isLight || each === this.room.sun.target;
      if (keeps || !each.visible) continue;
      each.visible = false;
      this.hiddenForDrag.push(each);
    }
    this.scene.background = null;
    this.dragging.still = true;
  }

  thaw() {
    for (const each of this.hiddenForDrag ?? []) each.visible = true;
    this.hiddenForDrag = [];
    this.scene.background = this.room.background;
    this.under.width = this.under.height = 1;
  }

  drawDragged() {
    this.renderer.render(this.scene, this.views.camera);
  }

  startDrag(spot, event) {
    this.dragging = { id: spot.id, part: spot.part, at3: new Vector3(...spot.at3), off: this.offset(spot, event), still: false };
    this.host.classList.add("is-dragging");
    if (spot.part !== "holder") this.freeze(spot.id);
    this.change();
  }

  offset(spot, event) {
    const at = this.local(event);
    return { x: spot.at.x - at.x, y: spot.at.y - at.y };
  }

  /** The pointer in space: on the plane through the part that lies as the screen does. */
  unproject(event) {
    const { off, at3, part } = this.dragging;
    const at = this.local(event);
    const ray = new Raycaster();
    const x = ((at.x + off.x) / this.size.x) * 2 - 1;
    const y = 1 - ((at.y + off.y) / this.size.y) * 2;
    ray.setFromCamera(new Vector2(x, y), this.views.camera);
    const way = this.views.camera.getWorldDirection(new Vector3());
    // Feet and the pin holder slide on their floor where one looks down on it.
    const lies = part !== "end" && way.z < -0.2 ? new Vector3(0, 0, 1) : way;
    const plane = new Plane().setFromNormalAndCoplanarPoint(lies, at3);
    const found = ray.ray.intersectPlane(plane, new Vector3());
    return found ? [found.x, found.y, found.z] : [at3.x, at3.y, at3.z];
  }

  moveDrag(event) {
    const { id, part } = this.dragging;
    const point = this.unproject(event);
    this.dragging.point = point;
    this.tell("drag", { id, part, point });
    this.change();
  }

  endDrag() {
    const { id, part, point } = this.dragging;
    this.thaw();
    this.dragging = null;
    this.host.classList.remove("is-dragging");
    if (this.waiting) this.apply(this.waiting);
    else this.moved();
    this.waiting = null;
    if (point) this.tell("drop", { id, part, point });
    else this.tell("pick", id);
  }

  // Pointers and keys

  watch() {
    this.aborter = new AbortController();
    const { signal } = this.aborter;
    const listen = (name, act, more = {}) => this.host.addEventListener(name, act.bind(this), { signal, ...more });
    this.pointers = new Map();
    listen("pointerdown", this.down);
    listen("pointermove", this.over);
    listen("pointerup", this.up);
    listen("pointercancel", this.up);
    listen("pointerleave", this.leave);
    listen("keydown", this.key);
    this.watcher = new ResizeObserver(() => this.resize());
    this.watcher.observe(this.host);
  }

  local(event) {
    const box = this.host.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  down(event) {
    if (event.button !== 0 || !this.wire) return;
    const at = this.local(event);
    this.touch = event.pointerType === "touch";
    this.pointers.set(event.pointerId, at);
    this.host.setPointerCapture(event.pointerId);
    if (this.dragging || this.pointers.size > 1) return;
    this.overlay.spots = this.spots();
    const spot = this.overlay.under(at.x, at.y, this.touch);
    this.pressed = { at, moved: false };
    if (spot) this.startDrag(spot, event);
  }

  over(event) {
    if (!this.wire) return;
    const at = this.local(event);
    const before = this.pointers.get(event.pointerId);
    if (before) this.pointers.set(event.pointerId, at);
    if (this.dragging && before) {
      if (Math.hypot(at.x - this.pressed.at.x, at.y - this.pressed.at.y) > 2 || this.dragging.point) this.moveDrag(event);
    } else if (this.pointers.size === 2) this.pinch(before, at, event.pointerId);
    else if (before && this.pressed) this.turnBy(before, at);
    else this.hover(at);
  }

  turnBy(before, at) {
    if (!this.pressed.moved && Math.hypot(at.x - this.pressed.at.x, at.y - this.pressed.at.y) < 4) return;
    this.pressed.moved = true;
    this.turning = true;
    this.views.orbit((before.x - at.x) * 0.4, (at.y - before.y) * 0.3);
    this.fit();
  }

  pinch(before, at, id) {
    const other = [...this.pointers].find(([each]) => each !== id)[1];
    const apart = (one) => Math.hypot(one.x - other.x, one.y - other.y);
    this.zoomBy(apart(at) / Math.max(1, apart(before)));
  }

  zoomBy(factor) {
    this.views.zoom = Math.min(3, Math.max(0.6, this.views.zoom * factor));
    this.fit();
  }

  hover(at) {
    const spots = this.spots();
    this.overlay.spots = spots;
    const spot = this.overlay.under(at.x, at.y, false);
    const id = spot?.id ?? this.stemUnder(at);
    this.host.classList.toggle("is-over-handle", Boolean(spot));
    if (id === this.hovered && spot?.part === this.hoveredPart) return;
    this.hovered = id;
    this.hoveredPart = id === null ? undefined : (spot?.part ?? "stem");
    this.drawMarks();
  }

  /** The stem whose line is nearest to a spot of the picture. */
  stemUnder(at) {
    let best = null;
    let nearest = PICK_PX;
    for (const [id, { group }] of this.stems) {
      const line = group.userData.axis.map((point) => {
        const placed = point.clone().applyMatrix4(group.matrix);
        return this.project([placed.x, placed.y, placed.z]);
      });
      for (let i = 1; i < line.length; i++) {
        const away = fromLine(at, line[i - 1], line[i]);
        if (away < nearest) [best, nearest] = [id, away];
      }
    }
    return best;
  }

  up(event) {
    this.pointers.delete(event.pointerId);
    if (this.dragging) this.endDrag();
    else if (this.pressed && !this.pressed.moved && event.type === "pointerup") this.tell("pick", this.stemUnder(this.local(event)));
    this.pressed = null;
    if (this.turning) {
      this.turning = false;
      this.change();
    }
  }

  leave() {
    if (this.hovered === null || this.dragging) return;
    this.hovered = null;
    this.hoveredPart = undefined;
    this.host.classList.remove("is-over-handle");
    if (this.wire && this.size) this.drawMarks();
  }

  key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || event.target !== this.host) return;
    const step = KEYS[event.key];
    if (step) {
      this.views.orbit(...step);
      this.fit();
    } else if (event.key === "+" || event.key === "=") this.zoomBy(1.12);
    else if (event.key === "-") this.zoomBy(1 / 1.12);
    else return;
    event.preventDefault();
  }
}

function fromLine(at, a, b) {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const share = Math.min(1, Math.max(0, ((at.x - a.x) * dx + (at.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(at.x - a.x - share * dx, at.y - a.y - share * dy);
}

export { NAMES as VIEWS, endOf, poseTowards };
