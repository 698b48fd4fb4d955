// A leaf, flower head, bud or needle bundle as one mesh, from the rows that `drawings/wire.py` sends.
// Frame: x along the organ, z its upper face; centimetres.
// Every vertex has a colour, and a `skin` of which the shader in `tissue.js` makes veins, bark and
// light that comes through: (along 0..1, across -1..1, kind, how much light comes through).

import { BufferGeometry, Color, Float32BufferAttribute, Vector3 } from "./vendor/three.module.js";
import { surf } from "./surface.js";

export const SKIN = { plain: 0, rib: 1, feather: 2, parallel: 3, palm: 4, streaks: 5, wood: 6, green: 7, fur: 8, grain: 9, shine: 10 };
const THROUGH = { petal: 0.34, leaf: 0.16, dark: 0.02, pale: 0.2, inside: 0.12 };
const GOLDEN = 2.399963;

/** Rows of numbers that grow into a geometry. */
export class Sheetwork {
  constructor() {
    this.position = [];
    this.color = [];
    this.skin = [];
    this.index = [];
  }

  /** A grid of (rows + 1) × (columns + 1) points; `at(u, w)` puts one with `this.point`. */
  grid(rows, columns, at) {
    const first = this.position.length / 3;
    for (let row = 0; row <= rows; row++)
      for (let column = 0; column <= columns; column++) at(row / rows, column / columns);
    for (let row = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++) {
        const here = first + row * (columns + 1) + column;
        const next = here + columns + 1;
        this.index.push(here, next, here + 1, here + 1, next, next + 1);
      }
    }
  }

  point(x, y, z, color, along, across, kind, through) {
    this.position.push(x, y, z);
    this.color.push(color.r, color.g, color.b);
    this.skin.push(along, across, kind, through);
  }

  geometry() {
    const made = new BufferGeometry();
    made.setAttribute("position", new Float32BufferAttribute(this.position, 3));
    made.setAttribute("color", new Float32BufferAttribute(this.color, 3));
    made.setAttribute("skin", new Float32BufferAttribute(this.skin, 4));
    made.setIndex(this.index);
    made.computeVertexNormals();
    return made;
  }
}

class Frame {
  constructor([ax, ay, az, xx, xy, xz, zx, zy, zz], scale) {
    this.at = [ax, ay, az];
    this.x = [xx, xy, xz];
    this.z = [zx, zy, zz];
    this.y = [zy * xz - zz * xy, zz * xx - zx * xz, zx * xy - zy * xx];
    this.scale = scale;
  }

  out([a, b, c]) {
    const s = this.scale;
    return [0, 1, 2].map((i) => this.at[i] + s * (a * this.x[i] + b * this.y[i] + c * this.z[i]));
  }
}

/** The mesh of an organ; `fine` from 0 (few triangles) to 1. */
export function organGeometry(organ, fine) {
  const work = new Sheetwork();
  const tints = palette(organ.tints);
  const threads = organ.parts.filter((row) => row[0] === "thread").length;
  const many = organ.parts.length > 40;
  let thread = 0;
  for (const row of organ.parts) {
    if (row[0] === "sheet") sheet(work, row, tints, fine, many);
    else if (row[0] === "body") body(work, row, tints, fine, many);
    else if (fine > 0 || threads < 20 || thread++ % 2 === 0) filament(work, row, tints, fine, threads);
  }
  return work.geometry();
}

function palette(tints) {
  const made = {};
  for (const [name, value] of Object.entries(tints)) {
    if (Array.isArray(value)) made[name] = value.map((each) => new Color(each));
    else made[name] = typeof value === "string" ? new Color(value) : value;
  }
  return made;
}

function ends(tints, tissue) {
  const found = tints[tissue] ?? tints.petal;
  return Array.isArray(found) ? found : [found, found];
}

/** Rows and columns of a sheet by its size in cm. */
function mesh(length, width, shape, fine, many) {
  const sizes = [[0.8, 3, 2], [2.6, 5, 2], [6, 8, 4], [14, 12, 6], [999, 24, 8]];
  let [, rows, columns] = sizes.find(([most]) => length < most);
  if (!fine || many) {
    rows = Math.max(3, Math.round(rows * 0.6));
    columns = Math.max(2, 2 * Math.round(columns * 0.3));
  }
  if (width < 0.12 * length && length < 30) columns = 2;
  if (shape === "lobed") rows = Math.max(rows, fine ? 22 : 14);
  if (shape === "fringed") columns = fine ? 14 : 10;
  if (shape === "funnel") [rows, columns] = fine ? [10, 12] : [7, 8];
  return [rows, columns];
}

function sheet(work, row, tints, fine, many) {
  const [, tissue, place, scale, veins, shape, length, width, curl, cup, wave] = row;
  const [fingers, bay, spread, low, high] = row.slice(11);
  const blade = { length, width, shape, curl, cup, wave, fingers, bay, spread };
  const frame = new Frame(place, scale);
  const isFunnel = shape === "funnel" && tissue === "petal";
  const [foot, end] = ends(tints, isFunnel ? "funnel" : tissue);
  const fade = tissue === "petal" ? tints.fade : 1;
  let [rows, columns] = mesh(length * scale, width * scale, shape, fine, many);
  if (shape === "palm") {
    rows = fine ? 5 : 3;
    columns = fingers * (fine ? 6 : 4);
  }
  const kind = SKIN[veins] ?? SKIN.plain;
  const color = new Color();
  const through = THROUGH[tissue] ?? 0.1;
  work.grid(rows, columns, (u, w) => {
    const t = shape === "palm" || shape === "funnel" ? u : even(u);
    const v = shape === "funnel" ? low + (high - low) * w : 2 * w - 1;
    const [x, y, z] = frame.out(surf(blade, t, v));
    color.lerpColors(foot, end, Math.min(1, t / fade));
    if (tissue === "petal") color.multiplyScalar(0.93 + 0.07 * t); // it is darker in the heart
    work.point(x, y, z, color, t, v, kind, through);
  });
}

/** Rows crowd at both ends of a blade, where its outline turns fastest. */
function even(u) {
  return 0.12 * u + 0.44 * (1 - Math.cos(Math.PI * u));
}

function body(work, row, tints, fine, many) {
  const [, tissue, place, scale, mark, length, width, point] = row;
  const frame = new Frame(place, scale);
  const [foot, end] = ends(tints, tissue);
  const small = length * scale < 0.7 || many;
  const [rows, columns] = small ? [fine ? 5 : 4, fine ? 7 : 5] : fine ? [9, 12] : [6, 8];
  const kind = SKIN[mark] ?? SKIN.plain;
  const color = new Color();
  work.grid(rows, columns, (u, w) => {
    const t = 0.5 - 0.5 * Math.cos(Math.PI * u);
    const angle = 2 * Math.PI * w;
    const round = Math.sin(Math.PI * u);
    const radius = (width / 2) * round * (1 - point * 0.75 * t);
    const at = frame.out([length * t, radius * Math.cos(angle), radius * Math.sin(angle)]);
    work.point(...at, color.lerpColors(foot, end, t), t, 2 * w - 1, kind, tissue === "petal" ? 0.12 : 0.03);
  });
  if (mark === "grain" && !small) grains(work, frame, length, width, end, fine);
}

/** Small florets over a heart: of a daisy, a sunflower, a spadix. */
function grains(work, frame, length, width, color, fine) {
  const count = fine ? 70 : 34;
  const size = 0.085 * Math.sqrt(length * width);
  const tone = new Color();
  for (let each = 0; each < count; each++) {
    const share = (each + 0.5) / count;
    const flat = length < width;
    const t = flat ? 1 - share * 0.5 : share;
    const radius = (width / 2) * Math.sqrt(Math.max(0, 1 - (2 * t - 1) ** 2));
    const angle = each * GOLDEN;
    const at = [length * t, radius * Math.cos(angle), radius * Math.sin(angle)];
    tone.copy(color).multiplyScalar(0.72 + 0.5 * ((each * 0.618) % 1));
    work.grid(2, 4, (u, w) => {
      const ring = size * Math.sin(Math.PI * u);
      const turn = 2 * Math.PI * w;
      const lift = -size * Math.cos(Math.PI * u);
      const grain = [at[0] + lift, at[1] + ring * Math.cos(turn), at[2] + ring * Math.sin(turn)];
      work.point(...frame.out(grain), tone, u, 0, SKIN.plain, 0.05);
    });
  }
}

function filament(work, row, tints, fine, threads) {
  const [, tissue, place, scale, thickness, knob, flat] = row;
  const frame = new Frame(place, scale);
  const points = [];
  for (let i = 0; i < flat.length; i += 3) points.push(new Vector3(...frame.out(flat.slice(i, i + 3))));
  const isNeedle = !knob && tissue === "dark" && thickness >= 0.06 && points.length === 2;
  const color = knob ? tints.thread : isNeedle ? tints.needle : ends(tints, "leaf");
  const [foot, end] = Array.isArray(color) ? color : [color, color];
  // A needle is drawn a little thicker than it is, or it would be a row of dots.
  const drawn = isNeedle ? thickness * (fine ? 1.35 : 1.6) : thickness;
  const radius = (Math.max(drawn, fine ? 0.02 : 0.03) * scale) / 2;
  tube(work, points, () => radius, foot, end, isNeedle ? 3 : threads > 12 ? 3 : 5, SKIN.plain, 0.1, isNeedle ? 0.25 : 1);
  if (knob) anther(work, points, knob * scale, tints.dark, fine);
}

/** A tube along points; its radius by the share of the way; `tip` is the last radius over the one there. */
export function tube(work, points, radius, foot, end, sides, kind, through, tip = 1) {
  const color = new Color();
  const last = points.length - 1;
  const way = new Vector3();
  const normal = new Vector3(1, 0.3, 0.2);
  const square = new Vector3();
  const rings = points.map((point, i) => {
    way.copy(points[Math.min(last, i + 1)]).sub(points[Math.max(0, i - 1)]).normalize();
    normal.addScaledVector(way, -normal.dot(way));
    if (normal.lengthSq() < 1e-4) normal.set(0.2, 1, 0.1).addScaledVector(way, -way.y);
    normal.normalize();
    square.crossVectors(way, normal);
    return [point, normal.clone(), square.clone()];
  });
  let walked = 0;
  work.grid(last, sides, (u, w) => {
    const i = Math.round(u * last);
    if (w === 0 && i > 0) walked += points[i].distanceTo(points[i - 1]);
    const [at, a, b] = rings[i];
    const angle = 2 * Math.PI * w;
    const r = radius(u, angle) * (i === last ? tip : 1);
    const c = Math.cos(angle) * r;
    const s = Math.sin(angle) * r;
    color.lerpColors(foot, end, u);
    work.point(at.x + a.x * c + b.x * s, at.y + a.y * c + b.y * s, at.z + a.z * c + b.z * s, color, walked, 2 * w - 1, kind, through);
  });
}

function anther(work, points, size, color, fine) {
  const end = points[points.length - 1];
  const way = end.clone().sub(points[0]).normalize();
  const side = new Vector3(way.z, way.x, way.y).cross(way).normalize();
  const other = side.clone().cross(way);
  work.grid(fine ? 3 : 2, 4, (u, w) => {
    const angle = 2 * Math.PI * w;
    const ring = size * 0.32 * Math.sin(Math.PI * u);
    const at = end.clone().addScaledVector(side, size * (u - 0.5));
    at.addScaledVector(way, ring * Math.cos(angle)).addScaledVector(other, ring * Math.sin(angle));
    work.point(at.x, at.y, at.z, color, u, 0, SKIN.plain, 0.05);
  });
}
