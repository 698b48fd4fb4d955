// The part of a stem inside a tall vase: from where it leaves the mouth down to the wall or floor.

import { CylinderGeometry, Mesh, Vector3 } from "./vendor/three.module.js";

export function below(told, material) {
  const from = new Vector3(...told.pose.foot);
  const to = new Vector3(...told.below);
  const radius = Math.max(0.1, told.thickness / 2);
  const rod = new CylinderGeometry(radius, radius, from.distanceTo(to), 8);
  const mesh = new Mesh(rod, material);
  mesh.position.copy(from).lerp(to, 0.5);
  mesh.quaternion.setFromUnitVectors(new Vector3(0, 1, 0), from.clone().sub(to).normalize());
  return mesh;
}
