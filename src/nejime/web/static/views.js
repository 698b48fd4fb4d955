// Where the piece is seen from, and so far away that all of it is in the picture.
// Frame: the house frame, centimetres; azimuth clockwise from above, 0 = the viewer's side.

import { OrthographicCamera, PerspectiveCamera, Vector3 } from "./vendor/three.module.js";

const RADIANS = Math.PI / 180;
const SEAT = { away: 70, down: 35 }; // a seated person's eye
const FIELD = 24; // degrees from top to bottom: a portrait lens
const MARGIN = 1.07;
export const NAMES = ["front", "side", "plan", "teacher", "seat", "free"];
const TURNS = { front: [0, 0], side: [90, 0], plan: [0, 90], teacher: [180, 14], free: [5, 14] };

/** Azimuth and elevation in degrees from which a view looks. */
export class Views {
  constructor() {
    this.flat = new OrthographicCamera(-1, 1, 1, -1, 1, 1200);
    this.deep = new PerspectiveCamera(FIELD, 1, 4, 1200);
    this.flat.up.set(0, 0, 1);
    this.deep.up.set(0, 0, 1);
    this.name = "free";
    this.turn = [...TURNS.free];
    this.zoom = 1;
  }

  get camera() {
    return this.name === "front" || this.name === "side" || this.name === "plan" ? this.flat : this.deep;
  }

  /** Look from one of `NAMES`. */
  choose(name) {
    if (!NAMES.includes(name)) throw new Error(`no view called ${name}`);
    this.name = name;
    this.zoom = 1;
    if (TURNS[name]) this.turn = [...TURNS[name]];
  }

  /** Turn about the piece, in degrees; from any fixed view this leads to the free one. */
  orbit(across, up) {
    if (this.name !== "free") {
      const from = this.name === "seat" ? [0, SEAT.down] : this.turn;
      this.name = "free";
      this.turn = [from[0], Math.min(80, from[1])];
    }
    this.turn = [(this.turn[0] + across + 360) % 360, Math.min(85, Math.max(-2, this.turn[1] + up))];
  }

  /** Put the camera so that all the points are seen. */
  fit(points, aspect, pieceMiddle) {
    if (this.name === "seat") this.fitSeat(points, aspect, pieceMiddle);
    else if (this.camera === this.flat) this.fitFlat(points, aspect);
    else this.fitDeep(points, aspect);
    this.camera.updateMatrixWorld();
  }

  axes() {
    const [azimuth, elevation] = this.turn.map((deg) => deg * RADIANS);
    const towards = new Vector3(
      Math.sin(azimuth) * Math.cos(elevation), -Math.cos(azimuth) * Math.cos(elevation), Math.sin(elevation),
    );
    const right = new Vector3(Math.cos(azimuth), Math.sin(azimuth), 0);
    return { towards, right, up: towards.clone().cross(right) };
  }

  spans(points, { towards, right, up }) {
    const box = { x0: Infinity, x1: -Infinity, y0: Infinity, y1: -Infinity, z1: -Infinity };
    for (const point of points) {
      const [x, y, z] = [point.dot(right), point.dot(up), point.dot(towards)];
      box.x0 = Math.min(box.x0, x);
      box.x1 = Math.max(box.x1, x);
      box.y0 = Math.min(box.y0, y);
      box.y1 = Math.max(box.y1, y);
      box.z1 = Math.max(box.z1, z);
    }
    return box;
  }

  fitFlat(points, aspect) {
    const axes = this.axes();
    const box = this.spans(points, axes);
    const half = (Math.max(box.y1 - box.y0, (box.x1 - box.x0) / aspect) / 2) * MARGIN * 1.04;
    const camera = this.flat;
    Object.assign(camera, { left: -half * aspect, right: half * aspect, top: half, bottom: -half });
    const middle = axes.right.clone().multiplyScalar((box.x0 + box.x1) / 2);
    middle.addScaledVector(axes.up, (box.y0 + box.y1) / 2);
    this.aim(camera, middle, axes, 400);
    camera.zoom = this.zoom;
    camera.updateProjectionMatrix();
  }

  /** Looking straight down, up on the screen is away. */
  aim(camera, middle, axes, away) {
    camera.up.copy(axes.up);
    camera.position.copy(middle).addScaledVector(axes.towards, away);
    camera.lookAt(middle);
  }

  fitDeep(points, aspect) {
    const axes = this.axes();
    const camera = this.deep;
    camera.fov = FIELD;
    camera.aspect = aspect;
    const high = Math.tan((FIELD / 2) * RADIANS) / MARGIN;
    const wide = high * aspect;
    const box = this.spans(points, axes);
    let [cx, cy] = [(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2];
    let away = 0;
    for (let turn = 0; turn < 4; turn++) {
      away = Math.max(...points.map((point) => {
        const z = point.dot(axes.towards);
        return z + Math.max(Math.abs(point.dot(axes.right) - cx) / wide, Math.abs(point.dot(axes.up) - cy) / high);
      }));
      const [left, right, down, up] = this.seen(points, axes, away, cx, cy);
      cx += ((left + right) / 2) * away * 0.9;
      cy += ((down + up) / 2) * away * 0.9;
    }
    const middle = axes.right.clone().multiplyScalar(cx).addScaledVector(axes.up, cy);
    this.aim(camera, middle, axes, away / this.zoom);
    camera.updateProjectionMatrix();
  }

  /** How far out the outermost points are seen, as tangents. */
  seen(points, axes, away, cx, cy) {
    let [left, right, down, up] = [Infinity, -Infinity, Infinity, -Infinity];
    for (const point of points) {
      const depth = away - point.dot(axes.towards);
      const x = (point.dot(axes.right) - cx) / depth;
      const y = (point.dot(axes.up) - cy) / depth;
      left = Math.min(left, x);
      right = Math.max(right, x);
      down = Math.min(down, y);
      up = Math.max(up, y);
    }
    return [left, right, down, up];
  }

  /** From where a seated person's eye is; the lens is as wide as the piece asks for. */
  fitSeat(points, aspect, middle) {
    const down = SEAT.down * RADIANS;
    const camera = this.deep;
    camera.up.set(0, 0, 1);
    camera.position.copy(middle).add(new Vector3(0, -Math.cos(down), Math.sin(down)).multiplyScalar(SEAT.away));
    const centre = new Vector3();
    for (const point of points) centre.add(point);
    camera.lookAt(centre.divideScalar(points.length));
    camera.updateMatrixWorld();
    for (let turn = 0; turn < 5; turn++) {
      const { left, right, low, high } = tangents(camera, points);
      camera.lookAt(new Vector3((left + right) / 2, (low + high) / 2, -1).applyMatrix4(camera.matrixWorld));
      camera.updateMatrixWorld();
    }
    const { left, right, low, high } = tangents(camera, points);
    const most = Math.max(0.05, -low, high, -left / aspect, right / aspect);
    camera.aspect = aspect;
    camera.fov = Math.min(130, (2 * Math.atan(most * MARGIN * 1.05)) / RADIANS);
    camera.zoom = this.zoom;
    camera.updateProjectionMatrix();
    camera.zoom = 1;
  }
}

/** How far out points are seen, left and right, low and high, as tangents of angles. */
function tangents(camera, points) {
  const found = { left: Infinity, right: -Infinity, low: Infinity, high: -Infinity };
  for (const point of points) {
    const seen = point.clone().applyMatrix4(camera.matrixWorldInverse);
    const depth = Math.max(4, -seen.z);
    found.left = Math.min(found.left, seen.x / depth);
    found.right = Math.max(found.right, seen.x / depth);
    found.low = Math.min(found.low, seen.y / depth);
    found.high = Math.max(found.high, seen.y / depth);
  }
  return found;
}
