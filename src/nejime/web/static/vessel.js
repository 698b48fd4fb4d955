// The vessel, its water and its pin holder. Outlines come from the server as (height, half width, half
// depth), ovals or rectangles with round corners; edges are rounded here as a potter's sponge would.
// Frame: the house frame, centimetres.

import {
  BufferGeometry, Color, ConeGeometry, CylinderGeometry, ExtrudeGeometry, Float32BufferAttribute, Group,
  InstancedMesh, Matrix4, Mesh, Shape, Vector3,
} from "./vendor/three.module.js";
import { metalMaterial, potMaterial } from "./tissue.js";

const AROUND = { 0: 56, 1: 96 };
const GOLDEN = 2.399963;
const NEVER = -999;

/** Half width and half depth of the inside at a height. */
export function insideAt(vessel, z) {
  const rings = vessel.inside;
  for (let i = 1; i < rings.length; i++) {
    const [low, high] = [rings[i - 1], rings[i]];
    if (z <= high[0]) {
      const share = Math.min(1, Math.max(0, (z - low[0]) / Math.max(1e-9, high[0] - low[0])));
      return [low[1] + share * (high[1] - low[1]), low[2] + share * (high[2] - low[2])];
    }
  }
  return rings[rings.length - 1].slice(1);
}

/** Tell the materials where water and walls are. */
export function setVessel(shared, vessel, waterCm) {
  const rectangle = vessel.corner == null ? 0 : 1;
  const [floor, mouth] = [vessel.inside[0], vessel.inside[vessel.inside.length - 1]];
  const rim = vessel.outside[vessel.outside.length - 1];
  const [a, b] = insideAt(vessel, waterCm);
  const seen = waterCm > floor[0] + 0.05;
  shared.uWater.value.set(seen ? waterCm : NEVER, a, b, rectangle);
  shared.uMouth.value.set(mouth[1] - 0.1, mouth[2] - 0.1, rim[1] / (mouth[1] - 0.1), rectangle);
  const ratio = Math.min(0.98, floor[1] / (mouth[1] - 0.1));
  if (vessel.tall) shared.uBowl.value.set(NEVER, NEVER, 1, 1);
  else shared.uBowl.value.set(floor[0], rim[0], ratio, vessel.curved ? 2.2 : 1);
}

/** Points of an outline seen from above, counter-clockwise from the right. */
function outline(a, b, corner, count) {
  const points = [];
  if (corner == null) {
    for (let i = 0; i < count; i++) {
      const angle = (2 * Math.PI * i) / count;
      points.push([a * Math.cos(angle), b * Math.sin(angle)]);
    }
    return points;
  }
  const c = Math.min(Math.max(corner, 0.15), a * 0.98, b * 0.98);
  const each = count / 4;
  for (let quarter = 0; quarter < 4; quarter++) {
    const [sx, sy] = [[1, 1], [-1, 1], [-1, -1], [1, -1]][quarter];
    for (let i = 0; i < each; i++) {
      const angle = (Math.PI / 2) * (quarter + i / (each - 1));
      points.push([sx * (a - c) + c * Math.cos(angle), sy * (b - c) + c * Math.sin(angle)]);
    }
  }
  return points;
}

function mixed(one, other, share) {
  return one.map((value, i) => value + (other[i] - value) * share);
}

function gap(one, other) {
  return Math.hypot(other[0] - one[0], other[1] - one[1]);
}

/** A profile with its edges rounded, at most by so much; each entry [z, half x, half y, inside, rim]. */
function rounded(profile, most) {
  const found = [profile[0]];
  for (let i = 1; i < profile.length - 1; i++) {
    const [before, here, after] = [profile[i - 1], profile[i], profile[i + 1]];
    const size = here[5] ?? most;
    const one = mixed(here, before, Math.min(0.45, size / Math.max(1e-6, gap(here, before))));
    const other = mixed(here, after, Math.min(0.45, size / Math.max(1e-6, gap(here, after))));
    for (let step = 0; step <= 4; step++) {
      const u = step / 4;
      found.push(mixed(mixed(one, here, u), mixed(here, other, u), u));
    }
  }
  found.push(profile[profile.length - 1]);
  return found;
}

/** From the middle of the underside, up the outside, over the rim and down to the middle of the floor. */
function profileOf(vessel) {
  const { outside, inside } = vessel;
  const rim = outside[outside.length - 1];
  const mouth = inside[inside.length - 1];
  const edge = 0.5 * Math.min(0.5, rim[1] - mouth[1]);
  const bend = Math.min(0.9, 0.16 * rim[0]);
  return rounded(
    [
      [outside[0][0], 0.01, 0.01, 0, 0],
      ...outside.slice(0, -1).map(([z, a, b], i) => [z, a, b, 0, 0, i < 1 ? 0.1 : bend]),
      [rim[0], rim[1], rim[2], 0, 1, edge],
      [rim[0], mouth[1], mouth[2], 1, 1, edge],
      ...inside.slice(0, -1).reverse().map(([z, a, b]) => [z, a, b, 1, 0, bend * 1.1]),
      [inside[0][0], 0.01, 0.01, 1, 0],
    ],
    bend,
  );
}

function profileTop(vessel) {
  return vessel.outside[vessel.outside.length - 1][0];
}

function potGeometry(vessel, fine) {
  const count = AROUND[fine];
  const profile = profileOf(vessel);
  const top = profileTop(vessel);
  const position = [];
  const pot = [];
  const index = [];
  for (const [z, a, b, inner, onRim] of profile) {
    const points = outline(a, b, vessel.corner, count);
    for (let i = 0; i <= count; i++) {
      const [x, y] = points[i % count];
      position.push(x, y, z);
      pot.push(i / count, z / top, inner, onRim);
    }
  }
  for (let row = 0; row < profile.length - 1; row++) {
    for (let i = 0; i < count; i++) {
      const here = row * (count + 1) + i;
      const next = here + count + 1;
      index.push(here, here + 1, next, here + 1, next + 1, next);
    }
  }
  const made = new BufferGeometry();
  made.setAttribute("position", new Float32BufferAttribute(position, 3));
  made.setAttribute("pot", new Float32BufferAttribute(pot, 4));
  made.setIndex(index);
  made.computeVertexNormals();
  closeSeam(made, profile.length, count);
  return made;
}

/** First and last point of a ring are one place: they share a normal. */
function closeSeam(geometry, rows, count) {
  const normal = geometry.attributes.normal;
  const sum = new Vector3();
  for (let row = 0; row < rows; row++) {
    const first = row * (count + 1);
    const last = first + count;
    sum.fromBufferAttribute(normal, first);
    sum.add(new Vector3().fromBufferAttribute(normal, last)).normalize();
    normal.setXYZ(first, sum.x, sum.y, sum.z);
    normal.setXYZ(last, sum.x, sum.y, sum.z);
  }
}

/** The vessel with its pin holder, without water; `water.js` makes that. */
export function vesselGroup(wire, shared, fine) {
  const group = new Group();
  const pot = new Mesh(potGeometry(wire.vessel, fine), potMaterial(wire.vessel.glaze, profileTop(wire.vessel), shared));
  pot.castShadow = pot.receiveShadow = true;
  pot.renderOrder = wire.vessel.glaze === "glass" ? 8 : 0;
  group.add(pot);
  if (wire.vessel.stand > 0.2) group.add(stand(wire.vessel, shared));
  if (wire.holder) group.add(holderGroup(wire.holder, shared, fine));
  return group;
}

function stand(vessel, shared) {
  const [, a, b] = vessel.outside[0];
  const wood = metalMaterial("#5b4636", shared);
  const board = slab(a * 1.35, b * 1.35, vessel.stand, vessel.corner == null ? null : 1, wood);
  board.position.z = -vessel.stand;
  return board;
}

function slab(a, b, high, corner, material) {
  const shape = new Shape();
  outline(a, b, corner, 64).forEach(([x, y], i) => (i ? shape.lineTo(x, y) : shape.moveTo(x, y)));
  const bevel = Math.min(0.12, high * 0.2);
  const geometry = new ExtrudeGeometry(shape, {
    depth: high - 2 * bevel, bevelEnabled: true, bevelSize: bevel, bevelThickness: bevel, bevelOffset: -bevel, bevelSegments: 2, curveSegments: 48,
  });
  geometry.translate(0, 0, bevel);
  const mesh = new Mesh(geometry, material);
  mesh.castShadow = mesh.receiveShadow = true;
  return mesh;
}

/** A lead plate and its brass pins. */
export function holderGroup(holder, shared, fine) {
  const group = new Group();
  group.name = "holder";
  group.position.set(...holder.at);
  const [a, b] = [holder.width / 2, holder.depth / 2];
  const corner = holder.rectangular ? 0.4 : null;
  group.add(slab(a, b, holder.plate, corner, metalMaterial("#5d5c57", shared)));
  const high = holder.height - holder.plate;
  const cone = new ConeGeometry(0.07, high, fine ? 6 : 4, 1, true);
  cone.rotateX(Math.PI / 2);
  cone.translate(0, 0, holder.plate + high / 2);
  const spots = pinSpots(holder, a - 0.2, b - 0.2);
  const pins = new InstancedMesh(cone, metalMaterial("#b89a5a", shared), spots.length);
  const matrix = new Matrix4();
  spots.forEach(([x, y], i) => pins.setMatrixAt(i, matrix.makeTranslation(x, y, 0)));
  pins.frustumCulled = false;
  pins.castShadow = true;
  group.add(pins);
  return group;
}

function pinSpots(holder, a, b) {
  const spots = [];
  if (!holder.rectangular) {
    for (let i = 0; i < holder.pins; i++) {
      const out = Math.sqrt((i + 0.5) / holder.pins);
      spots.push([a * out * Math.cos(i * GOLDEN), b * out * Math.sin(i * GOLDEN)]);
    }
    return spots;
  }
  const columns = Math.max(2, Math.round(Math.sqrt((holder.pins * a) / b)));
  const rows = Math.max(2, Math.round(holder.pins / columns));
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++)
      spots.push([a * ((2 * column) / (columns - 1) - 1), b * ((2 * row) / (rows - 1) - 1)]);
  return spots;
}

/** A flat sheet with the inside's outline at a height; `edge` is 0 in the middle and 1 at the wall. */
export function waterGeometry(vessel, waterCm, fine) {
  const [a, b] = insideAt(vessel, waterCm);
  const count = AROUND[fine];
  const position = [];
  const edge = [];
  const index = [];
  for (const share of [0.001, 0.9, 1]) {
    for (const [x, y] of outline(a, b, vessel.corner, count)) {
      position.push(x * share, y * share, 0);
      edge.push(share);
    }
  }
  for (let row = 0; row < 2; row++) {
    for (let i = 0; i < count; i++) {
      const here = row * count + i;
      const beside = row * count + ((i + 1) % count);
      index.push(here, here + count, beside, beside, here + count, beside + count);
    }
  }
  const made = new BufferGeometry();
  made.setAttribute("position", new Float32BufferAttribute(position, 3));
  made.setAttribute("edge", new Float32BufferAttribute(edge, 1));
  made.setIndex(index);
  return made;
}

/** Free everything under a group. */
export function disposeGroup(group) {
  group.traverse((each) => {
    each.geometry?.dispose();
    if (each.material) each.material.dispose();
    if (each.isInstancedMesh) each.dispose();
  });
}
