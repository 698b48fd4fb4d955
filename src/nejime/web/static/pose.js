// How a stem is held, and what a dragged end or foot makes of that.
// Frame: the house frame (x right, y away from the viewer, z up), in which the whole stage works;
// bearing clockwise from above, 0 away; tilt 0 upright. Stem-local: chord +z, good side -y.

import { Matrix4, Vector3 } from "./vendor/three.module.js";

const RADIANS = Math.PI / 180;
const UPRIGHT = 1e-8;

/** The unit vector of a tilt and a bearing, in degrees. */
export function line(tilt, bearing) {
  const t = tilt * RADIANS;
  const b = bearing * RADIANS;
  return new Vector3(Math.sin(t) * Math.sin(b), Math.sin(t) * Math.cos(b), Math.cos(t));
}

function squareTo(axis, wish) {
  for (const hope of [wish, new Vector3(1, 0, 0), new Vector3(0, 1, 0)]) {
    const left = hope.clone().addScaledVector(axis, -hope.dot(axis));
    if (left.lengthSq() > UPRIGHT) return left.normalize();
  }
  return new Vector3(1, 0, 0);
}

/** From the stem's own frame into the house frame; `shoulder` is what a good side looks to. */
export function poseMatrix(pose, shoulder, length, into = new Matrix4()) {
  const z = line(pose.tilt, pose.bearing);
  const hand = pose.mirror ? -1 : 1;
  const front = squareTo(z, new Vector3(...shoulder));
  front.applyAxisAngle(z, pose.roll * RADIANS * hand);
  const y = front.negate();
  const x = y.clone().cross(z).multiplyScalar(hand);
  const size = length > 0 ? pose.chord / length : 1;
  into.makeBasis(x.multiplyScalar(size), y.multiplyScalar(size), z.multiplyScalar(size));
  return into.setPosition(...pose.foot);
}

/** Where a stem's free end is. */
export function endOf(pose) {
  const [x, y, z] = pose.foot;
  const way = line(pose.tilt, pose.bearing);
  return [x + way.x * pose.chord, y + way.y * pose.chord, z + way.z * pose.chord];
}

/** The pose after its end, or its foot, was put at a point; a moved foot takes the stem along. */
export function poseTowards(pose, part, point) {
  if (part !== "end") return { ...pose, foot: [point[0], point[1], pose.foot[2]] };
  const way = new Vector3(...point).sub(new Vector3(...pose.foot));
  const across = Math.hypot(way.x, way.y);
  const bearing = Math.atan2(way.x, way.y) / RADIANS;
  return {
    ...pose,
    tilt: Math.atan2(across, way.z) / RADIANS,
    bearing: (bearing + 360) % 360,
    chord: way.length(),
  };
}
