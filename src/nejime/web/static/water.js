// The face of the water: Fresnel's law, a little colour, a bright edge where it climbs the wall, a ring
// around each stem; in full quality a mirror image of what stands in it.
// Frame: the house frame, centimetres.

import {
  Matrix4, Mesh, MeshBasicMaterial, PerspectiveCamera, Plane, RingGeometry, ShaderMaterial, Vector2, Vector3, Vector4,
  WebGLRenderTarget,
} from "./vendor/three.module.js";
import { line } from "./pose.js";
import { waterGeometry } from "./vessel.js";

const VERTEX = /* glsl */ `
attribute float edge;
varying float vEdge;
varying vec3 vAt;
varying vec4 vMirror;
uniform mat4 uMirrorMatrix;
void main() {
  vEdge = edge;
  vec4 at = modelMatrix * vec4(position, 1.0);
  vAt = at.xyz;
  vMirror = uMirrorMatrix * at;
  gl_Position = projectionMatrix * viewMatrix * at;
}`;
const FRAGMENT = /* glsl */ `
varying float vEdge;
varying vec3 vAt;
varying vec4 vMirror;
uniform sampler2D uMirror;
uniform float uMirrors;
uniform vec3 uFace;
uniform float uLevel;
void main() {
  vec3 toEye = uFace.z > 1.5 ? normalize(cameraPosition - vAt) : uFace;
  vec2 ripple = vec2(sin(vAt.x * 0.9 + sin(vAt.y * 0.7) * 1.3), cos(vAt.y * 1.1 + sin(vAt.x * 0.6))) * 0.014;
  vec3 normal = normalize(vec3(ripple, 1.0));
  float facing = clamp(dot(normal, toEye), 0.0, 1.0);
  float fresnel = 0.02 + 0.98 * pow(1.0 - facing, 5.0);
  vec3 away = reflect(-toEye, normal);
  float window_ = smoothstep(0.55, 0.97, dot(normalize(away), normalize(vec3(-0.52, 0.42, 0.74))));
  vec3 sky = mix(vec3(0.60, 0.57, 0.50), vec3(1.0, 0.97, 0.90), window_);
  float seen = 0.0;
  if (uMirrors > 0.5) {
    vec4 image = texture2D(uMirror, vMirror.xy / vMirror.w + ripple * 0.3);
    seen = image.a;
    sky = mix(sky, image.rgb / max(image.a, 0.01), image.a);
  }
  float edge = smoothstep(0.955, 1.0, vEdge);
  float mirror = clamp(fresnel * 2.2 + 0.05, 0.0, 0.75);
  vec3 color = mix(vec3(0.20, 0.30, 0.26), sky, clamp(mirror + window_ * 0.2 + seen * 0.12, 0.0, 1.0));
  color = mix(color, vec3(0.92, 0.93, 0.88), edge * 0.5);
  float cover = clamp(0.14 + mirror * 0.8 + window_ * 0.14 + edge * 0.22 + seen * 0.08, 0.0, 0.72);
  gl_FragColor = vec4(color, cover);
  #include <tonemapping_fragment>
  #include <colorspace_fragment>
}`;

export class Water {
  constructor() {
    this.material = new ShaderMaterial({
      transparent: true,
      depthWrite: false,
      vertexShader: VERTEX,
      fragmentShader: FRAGMENT,
      uniforms: {
        uMirror: { value: null }, uMirrors: { value: 0 }, uMirrorMatrix: { value: new Matrix4() },
        uFace: { value: new Vector3(0, 0, 2) }, uLevel: { value: 0 },
      },
    });
    this.mesh = null;
    this.rings = [];
    this.ringMaterial = new MeshBasicMaterial({ color: "#f4f4ea", transparent: true, opacity: 0.3, depthWrite: false });
    this.target = null;
  }

  /** Make the face for a vessel; null where no water is seen. */
  set(group, vessel, level, fine) {
    this.clear(group);
    if (level <= vessel.inside[0][0] + 0.05) return;
    this.level = level;
    this.mesh = new Mesh(waterGeometry(vessel, level, fine), this.material);
    this.mesh.position.z = level;
    this.mesh.renderOrder = 5;
    group.add(this.mesh);
  }

  /** Small rings where stems go in. */
  ringStems(group, stems, vessel) {
    for (const ring of this.rings) {
      group.remove(ring);
      ring.geometry.dispose();
    }
    this.rings = [];
    if (!this.mesh || vessel.tall) return;
    for (const { pose, thickness } of stems) {
      const way = line(pose.tilt, pose.bearing);
      const along = (this.level - pose.foot[2]) / Math.max(0.2, way.z);
      if (along <= 0 || along > pose.chord) continue;
      const r = Math.max(0.15, thickness / 2);
      const ring = new Mesh(new RingGeometry(r * 1.05, r + 0.28, 20), this.ringMaterial);
      ring.position.set(pose.foot[0] + way.x * along, pose.foot[1] + way.y * along, this.level + 0.02);
      ring.renderOrder = 6;
      group.add(ring);
      this.rings.push(ring);
    }
  }

  /** Draw the mirror image into a texture; `hidden` is what does not stand in the water, null for no image. */
  reflect(renderer, scene, camera, hidden) {
    const uniforms = this.material.uniforms;
    const flat = camera.isOrthographicCamera;
    const way = camera.getWorldDirection(new Vector3()).negate();
    uniforms.uFace.value.set(way.x, way.y, flat ? way.z : 2);
    uniforms.uMirrors.value = 0;
    if (!this.mesh || hidden === null || flat || way.z < 0.03) return;
    const size = renderer.getDrawingBufferSize(new Vector2());
    const [wide, high] = [Math.ceil(size.x / 2), Math.ceil(size.y / 2)];
    if (this.target) this.target.setSize(wide, high);
    else this.target = new WebGLRenderTarget(wide, high, { samples: 2 });
    const below = this.mirrored(camera);
    const before = hidden.map((each) => each.visible);
    for (const each of hidden) each.visible = false;
    const background = scene.background;
    const shadows = renderer.shadowMap.autoUpdate;
    scene.background = null;
    renderer.shadowMap.autoUpdate = false;
    renderer.setRenderTarget(this.target);
    renderer.clear();
    renderer.render(scene, below);
    renderer.setRenderTarget(null);
    renderer.shadowMap.autoUpdate = shadows;
    scene.background = background;
    hidden.forEach((each, i) => (each.visible = before[i]));
    uniforms.uMirror.value = this.target.texture;
    uniforms.uMirrors.value = 1;
  }

  /** The camera under the water that sees what the mirror shows, and nothing below the face. */
  mirrored(camera) {
    const below = new PerspectiveCamera();
    const eye = camera.getWorldPosition(new Vector3());
    const ahead = camera.getWorldDirection(new Vector3());
    const up = new Vector3(0, 1, 0).applyQuaternion(camera.quaternion);
    below.position.set(eye.x, eye.y, 2 * this.level - eye.z);
    below.up.set(up.x, up.y, -up.z);
    below.lookAt(below.position.x + ahead.x, below.position.y + ahead.y, below.position.z - ahead.z);
    below.updateMatrixWorld();
    below.projectionMatrix.copy(camera.projectionMatrix);
    const matrix = this.material.uniforms.uMirrorMatrix.value;
    matrix.set(0.5, 0, 0, 0.5, 0, 0.5, 0, 0.5, 0, 0, 0.5, 0.5, 0, 0, 0, 1);
    matrix.multiply(below.projectionMatrix).multiply(below.matrixWorldInverse);
    // The near plane is laid into the water's face (Lengyel 2005, oblique view frustum).
    const face = new Plane(new Vector3(0, 0, 1), -this.level).applyMatrix4(below.matrixWorldInverse);
    const clip = new Vector4(face.normal.x, face.normal.y, face.normal.z, face.constant);
    const p = below.projectionMatrix.elements;
    const corner = new Vector4(
      (Math.sign(clip.x) + p[8]) / p[0], (Math.sign(clip.y) + p[9]) / p[5], -1, (1 + p[10]) / p[14],
    );
    clip.multiplyScalar(2 / clip.dot(corner));
    [p[2], p[6], p[10], p[14]] = [clip.x, clip.y, clip.z + 1, clip.w];
    below.projectionMatrixInverse.copy(below.projectionMatrix).invert();
    return below;
  }

  clear(group) {
    if (this.mesh) {
      group.remove(this.mesh);
      this.mesh.geometry.dispose();
    }
    this.mesh = null;
  }

  dispose() {
    this.target?.dispose();
    this.material.dispose();
    this.ringMaterial.dispose();
    for (const ring of this.rings) ring.geometry.dispose();
  }
}
