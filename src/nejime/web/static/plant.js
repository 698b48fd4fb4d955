// A stem that has grown, as three.js objects: one mesh for wood and green stems, one for each kind of
// leaf, flower and bud with all its places. All are instanced meshes, so that one shader draws them.
// Frame: stem-local; foot at the origin, chord +z.

import { Color, Group, InstancedMesh, Matrix4, Vector3 } from "./vendor/three.module.js";
import { organGeometry, SKIN, Sheetwork, tube } from "./organ.js";

const ROW = 10; // numbers of a place: at, x, z, scale
const TINT = 0.09; // no two leaves have quite the same colour

/** The organs' meshes, each kind made once for all stems; `fine` is 0 or 1. */
export class Organs {
  constructor(fine) {
    this.fine = fine;
    this.kept = new Map();
  }

  geometry(name, organ) {
    const key = name + JSON.stringify(organ.tints);
    if (!this.kept.has(key)) this.kept.set(key, organGeometry(organ, this.fine));
    return this.kept.get(key);
  }

  dispose() {
    for (const each of this.kept.values()) each.dispose();
    this.kept.clear();
  }
}

/** A group with everything of a look. Its `userData.points` are what has to be in the picture. */
export function plantGroup(look, organs, material) {
  const group = new Group();
  group.matrixAutoUpdate = false;
  group.userData = { length: look.length, own: [], points: reach(look), axis: mainPoints(look) };
  if (look.axes.length) {
    const stems = axesGeometry(look, organs.fine);
    group.userData.own.push(stems);
    group.add(instances(stems, material, [[new Matrix4(), 1]]));
  }
  for (const [name, flat] of Object.entries(look.placed)) {
    const mesh = instances(organs.geometry(name, look.organs[name]), material, places(flat, name));
    mesh.userData.organ = name;
    group.add(mesh);
  }
  return group;
}

/** Free what only this group uses. */
export function disposePlant(group) {
  for (const each of group.userData.own) each.dispose();
  for (const each of group.children) each.dispose?.();
}

function instances(geometry, material, rows) {
  const mesh = new InstancedMesh(geometry, material, rows.length);
  const color = new Color();
  rows.forEach(([matrix, tint], i) => {
    mesh.setMatrixAt(i, matrix);
    mesh.setColorAt(i, color.setRGB(tint, tint, tint));
  });
  mesh.castShadow = mesh.receiveShadow = true;
  mesh.frustumCulled = false;
  return mesh;
}

function places(flat, name) {
  const found = [];
  for (let i = 0; i < flat.length; i += ROW) {
    const x = new Vector3(flat[i + 3], flat[i + 4], flat[i + 5]);
    const z = new Vector3(flat[i + 6], flat[i + 7], flat[i + 8]);
    const y = z.clone().cross(x);
    const s = flat[i + 9];
    const matrix = new Matrix4().makeBasis(x.multiplyScalar(s), y.multiplyScalar(s), z.multiplyScalar(s));
    matrix.setPosition(flat[i], flat[i + 1], flat[i + 2]);
    const odd = Math.abs(Math.sin(i * 12.9898 + name.length) * 43758.5453) % 1;
    found.push([matrix, 1 - TINT + 2 * TINT * odd]);
  }
  return found;
}

function triples(flat) {
  const found = [];
  for (let i = 0; i < flat.length; i += 3) found.push(new Vector3(flat[i], flat[i + 1], flat[i + 2]));
  return found;
}

function mainPoints(look) {
  const main = look.axes.find((row) => row[4] < 0);
  return main ? triples(main[5]) : [new Vector3(), new Vector3(0, 0, look.length || 20)];
}

/** Points around which nothing of the stem lies far. */
function reach(look) {
  const found = mainPoints(look).filter((_, i) => i % 4 === 0);
  for (const row of look.axes) found.push(new Vector3(...row[5].slice(-3)));
  for (const [name, flat] of Object.entries(look.placed)) {
    const far = extent(look.organs[name]);
    for (let i = 0; i < flat.length; i += ROW) {
      const s = flat[i + 9] * far;
      found.push(new Vector3(flat[i] + s * flat[i + 3], flat[i + 1] + s * flat[i + 4], flat[i + 2] + s * flat[i + 5]));
    }
  }
  return found;
}

function extent(organ) {
  let most = 0.5;
  for (const row of organ.parts) {
    const own = row[0] === "sheet" ? row[6] : row[0] === "body" ? row[5] : Math.hypot(...row[6].slice(-3));
    most = Math.max(most, row[2][0] + own * row[3]);
  }
  return most;
}

/** Wood and green stems, smoothed, each with its bark. */
function axesGeometry(look, fine) {
  const work = new Sheetwork();
  const tones = (key) => look.tints[key].map((each) => new Color(each));
  const wood = tones("wood");
  const green = tones("green");
  for (const [woody, old, thorns, joint, share, flat, radii] of look.axes) {
    const points = triples(flat);
    const main = share < 0;
    const thick = radii[0] > 0.1;
    const steps = points.length > 2 ? (fine && main ? 3 : thick ? 2 : 1) : 1;
    const smooth = old ? sharpened(points, steps) : smoothed(points, steps);
    const [foot, end] = woody ? wood : green;
    const begin = main ? foot : foot.clone().lerp(end, Math.min(1, share));
    const long = length(points);
    const radius = (u, angle) => {
      const place = u * (radii.length - 1);
      const low = Math.min(Math.floor(place), radii.length - 2);
      let r = radii.length > 1 ? radii[low] + (place - low) * (radii[low + 1] - radii[low]) : radii[0];
      if (old) r *= 1 + 0.1 * Math.sin(u * long * 1.7 + 2 * angle) * Math.sin(u * long * 0.9);
      if (joint) r *= 1 + 0.16 * Math.exp(-(((((u * long) / joint + 0.5) % 1) - 0.5) ** 2) * 400);
      return r;
    };
    const sides = thick ? (fine ? 9 : 6) : fine ? 5 : 4;
    tube(work, smooth, radius, begin, end, sides, woody ? SKIN.wood : SKIN.green, woody ? 0 : 0.06, main ? 0.5 : 0.35);
    if (thorns && thick) spines(work, smooth, radius, end, long);
  }
  return work.geometry();
}

function length(points) {
  return points.reduce((sum, point, i) => (i ? sum + point.distanceTo(points[i - 1]) : 0), 0);
}

/** Catmull and Rom's curve through points. */
function smoothed(points, steps) {
  if (steps < 2) return points;
  const last = points.length - 1;
  const found = [];
  for (let i = 0; i < last; i++) {
    const [a, b, c, d] = [points[Math.max(0, i - 1)], points[i], points[i + 1], points[Math.min(last, i + 2)]];
    for (let step = 0; step < steps; step++) {
      const u = step / steps;
      const at = (k) =>
        0.5 *
        (2 * b[k] + (c[k] - a[k]) * u + (2 * a[k] - 5 * b[k] + 4 * c[k] - d[k]) * u * u +
          (3 * b[k] - a[k] - 3 * c[k] + d[k]) * u ** 3);
      found.push(new Vector3(at("x"), at("y"), at("z")));
    }
  }
  found.push(points[last]);
  return found;
}

/** Old wood keeps its knees. */
function sharpened(points, steps) {
  const found = [];
  for (let i = 0; i < points.length - 1; i++)
    for (let step = 0; step < steps; step++) found.push(points[i].clone().lerp(points[i + 1], step / steps));
  found.push(points[points.length - 1]);
  return found;
}

function spines(work, points, radius, color, long) {
  const count = Math.floor(long / 3.5);
  for (let each = 0; each < count; each++) {
    const i = Math.min(points.length - 2, Math.floor(((each + 0.6) / count) * points.length));
    const way = points[i + 1].clone().sub(points[i]).normalize();
    const side = new Vector3(Math.cos(each * 2.4), Math.sin(each * 2.4), 0.1);
    side.addScaledVector(way, -side.dot(way)).normalize();
    const foot = points[i].clone().addScaledVector(side, radius(i / points.length, 0) * 0.7);
    const tip = foot.clone().addScaledVector(side, 0.45).addScaledVector(way, -0.18);
    tube(work, [foot, tip], () => 0.09, color, color, 4, SKIN.plain, 0, 0.05);
  }
}
