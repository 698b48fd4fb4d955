// The room: a warm plaster wall with blurred light from a window, a table that fades into it, the
// light, and the soft shadow of the piece on the table.
// The shadow is drawn once whenever something has moved: the piece as the light sees it, flattened on
// the table, blurred more the farther from the foot. It costs one small picture and no light.
// Frame: the house frame, centimetres.

import {
  CanvasTexture, Color, DirectionalLight, DoubleSide, HemisphereLight, LinearFilter, LinearMipmapLinearFilter, Matrix4,
  Mesh, MeshBasicMaterial, OrthographicCamera, PlaneGeometry, RepeatWrapping, ShaderMaterial, SRGBColorSpace, Vector2,
  Vector3, WebGLRenderTarget,
} from "./vendor/three.module.js";

const SUN = new Vector3(-70, -62, 118);
const SHADE_SIZE = 512;
const TABLE = [700, 700];

function picture(wide, high, draw) {
  const canvas = document.createElement("canvas");
  canvas.width = wide;
  canvas.height = high;
  draw(canvas.getContext("2d"), wide, high);
  const texture = new CanvasTexture(canvas);
  texture.colorSpace = SRGBColorSpace;
  return texture;
}

/** Numbers from a seed, for plaster and grain: the same on every machine. */
function chance(seed) {
  return () => (seed = (seed * 16807) % 2147483647) / 2147483647;
}

function wall() {
  return picture(1024, 768, (ink, w, h) => {
    const light = ink.createLinearGradient(0, 0, w, h);
    light.addColorStop(0, "#e8e1d3");
    light.addColorStop(0.5, "#d9d0bf");
    light.addColorStop(1, "#b7ab98");
    ink.fillStyle = light;
    ink.fillRect(0, 0, w, h);
    // Light of a window with its bars, out of focus, falling from the upper left.
    ink.filter = "blur(20px)";
    ink.fillStyle = "rgba(255, 247, 228, 0.46)";
    const [wide, high, slant] = [190, 230, 150];
    for (const [column, row] of [[0, 0], [1, 0], [0, 1], [1, 1]]) {
      const x = 40 + column * (wide + 34) + row * (slant + 22);
      const y = -70 + row * (high + 34) + column * 26;
      ink.beginPath();
      ink.moveTo(x, y);
      ink.lineTo(x + wide, y + 22);
      ink.lineTo(x + wide + slant, y + high + 22);
      ink.lineTo(x + slant, y + high);
      ink.fill();
    }
    ink.filter = "none";
    const dusk = ink.createRadialGradient(w * 0.38, h * 0.3, h * 0.35, w * 0.42, h * 0.4, h * 1.05);
    dusk.addColorStop(0, "rgba(104, 86, 64, 0)");
    dusk.addColorStop(1, "rgba(104, 86, 64, 0.34)");
    ink.fillStyle = dusk;
    ink.fillRect(0, 0, w, h);
    const next = chance(99);
    for (let i = 0; i < 5200; i++) {
      const pale = next() > 0.5;
      ink.fillStyle = `rgba(${pale ? "255, 250, 238" : "92, 80, 64"}, ${next() * 0.028})`;
      ink.fillRect(next() * w, next() * h, 1 + next() * 2, 1 + next());
    }
  });
}

function grain() {
  const texture = picture(1024, 512, (ink, w, h) => {
    ink.fillStyle = "#9a7f62";
    ink.fillRect(0, 0, w, h);
    const next = chance(7);
    for (let i = 0; i < 1500; i++) {
      const [x, y, long] = [next() * w, next() * h, 160 + next() * 620];
      const dark = next() > 0.45;
      ink.strokeStyle = `rgba(${dark ? "66, 46, 30" : "196, 168, 134"}, ${0.01 + next() * 0.028})`;
      ink.lineWidth = 0.5 + next() * 1.1;
      for (const dx of [0, -w, w]) {
        ink.beginPath();
        ink.moveTo(x + dx - long / 2, y);
        ink.bezierCurveTo(x + dx - long / 4, y + next() * 4 - 2, x + dx + long / 4, y + next() * 4 - 2, x + dx + long / 2, y);
        ink.stroke();
      }
    }
  });
  texture.wrapS = texture.wrapT = RepeatWrapping;
  texture.anisotropy = 8;
  return texture;
}

const TABLE_VERTEX = /* glsl */ `
varying vec3 vAt;
void main() {
  vec4 at = modelMatrix * vec4(position, 1.0);
  vAt = at.xyz;
  gl_Position = projectionMatrix * viewMatrix * at;
}`;
const TABLE_FRAGMENT = /* glsl */ `
varying vec3 vAt;
uniform sampler2D uGrain;
uniform sampler2D uShade;
uniform vec4 uArea; // middle and half size of the shadow's picture
uniform vec2 uFoot; // half measures of the foot
uniform vec2 uAhead; // the way in which one looks, seen from above
uniform float uFar; // how far the table goes away before it is lost in the wall
uniform float uDark;
float shade(vec2 at) {
  vec2 uv = (at - uArea.xy) / uArea.zw * 0.5 + 0.5;
  if (uv.x < 0.0 || uv.y < 0.0 || uv.x > 1.0 || uv.y > 1.0) return 0.0;
  float off = max(0.0, length(at / max(uFoot, vec2(1.0))) - 1.0);
  float soft = clamp(1.2 + off * 0.75, 1.2, 4.2);
  float step_ = exp2(soft) / ${SHADE_SIZE}.0 * 0.6;
  float sum = texture2D(uShade, uv, soft).a * 2.0;
  sum += texture2D(uShade, uv + vec2(step_, step_ * 0.4), soft).a + texture2D(uShade, uv - vec2(step_, step_ * 0.4), soft).a;
  sum += texture2D(uShade, uv + vec2(-step_ * 0.4, step_), soft).a + texture2D(uShade, uv - vec2(-step_ * 0.4, step_), soft).a;
  return sum / 6.0;
}
void main() {
  vec3 wood = texture2D(uGrain, vAt.xy / vec2(170.0, 85.0)).rgb;
  float patch_ = smoothstep(95.0, 10.0, length((vAt.xy - vec2(-16.0, 4.0)) * vec2(0.75, 1.0)));
  vec3 color = wood * (0.86 + 0.34 * patch_);
  float contact = 1.0 - smoothstep(0.9, 1.32, length(vAt.xy / max(uFoot, vec2(0.1))));
  float dark = max(shade(vAt.xy) * 0.52, contact * 0.55) * uDark;
  color = mix(color, color * vec3(0.34, 0.29, 0.27), dark);
  float ahead = dot(vAt.xy, uAhead);
  float aside = dot(vAt.xy, vec2(-uAhead.y, uAhead.x));
  float away = smoothstep(uFar, uFar * 0.12, ahead) * smoothstep(300.0, 180.0, abs(aside));
  gl_FragColor = vec4(color, away);
  #include <tonemapping_fragment>
  #include <colorspace_fragment>
}`;

export class Room {
  constructor(scene, quality) {
    this.scene = scene;
    this.background = wall();
    scene.background = this.background;
    scene.add(new HemisphereLight("#fbf8f1", "#b9a68a", 2.35));
    this.sun = new DirectionalLight("#fff0da", 2.1);
    this.sun.position.copy(SUN);
    scene.add(this.sun, this.sun.target);
    if (quality === "full") this.castShadows();
    this.target = new WebGLRenderTarget(SHADE_SIZE, SHADE_SIZE, {
      generateMipmaps: true, minFilter: LinearMipmapLinearFilter, magFilter: LinearFilter, depthBuffer: false,
    });
    this.shadeMaterial = new MeshBasicMaterial({ color: 0x000000, side: DoubleSide });
    this.shadeCamera = new OrthographicCamera();
    this.tableMaterial = new ShaderMaterial({
      transparent: true,
      vertexShader: TABLE_VERTEX,
      fragmentShader: TABLE_FRAGMENT,
      uniforms: {
        uGrain: { value: grain() }, uShade: { value: this.target.texture }, uArea: { value: { x: 0, y: 0, z: 1, w: 1 } },
        uFoot: { value: new Vector2(10, 10) }, uAhead: { value: new Vector2(0, 1) }, uFar: { value: 120 }, uDark: { value: 1 },
      },
    });
    this.table = new Mesh(new PlaneGeometry(...TABLE), this.tableMaterial);
    this.table.renderOrder = -2;
    this.edge = new Mesh(new PlaneGeometry(TABLE[0], 60), new MeshBasicMaterial({ color: new Color("#a88d70") }));
    this.edge.rotation.x = Math.PI / 2;
    this.edge.visible = false;
    scene.add(this.table, this.edge);
  }

  castShadows() {
    const { shadow } = this.sun;
    this.sun.castShadow = true;
    shadow.mapSize.set(2048, 2048);
    shadow.bias = -0.0006;
    shadow.normalBias = 0.35;
    shadow.radius = 5;
  }

  /** Fit light and shadow to the piece: `box` is a three Box3, `foot` the half measures on the table. */
  fit(box, foot, standCm) {
    const size = box.getSize(new Vector3());
    const middle = box.getCenter(new Vector3());
    const half = Math.max(size.x, size.y, size.z) * 0.62 + 6;
    this.sun.position.copy(SUN).normalize().multiplyScalar(half * 3).add(middle);
    this.sun.target.position.copy(middle);
    const camera = this.sun.shadow.camera;
    Object.assign(camera, { left: -half, right: half, top: half, bottom: -half, near: half, far: half * 5 });
    camera.updateProjectionMatrix();
    const [kx, ky] = [SUN.x / SUN.z, SUN.y / SUN.z];
    const ends = [box.min.z, box.max.z].flatMap((z) => [
      [box.min.x - kx * z, box.min.y - ky * z], [box.max.x - kx * z, box.max.y - ky * z],
    ]);
    const xs = ends.map(([x]) => x);
    const ys = ends.map(([, y]) => y);
    const [x0, x1, y0, y1] = [Math.min(...xs) - 4, Math.max(...xs) + 4, Math.min(...ys) - 4, Math.max(...ys) + 4];
    const area = { x: (x0 + x1) / 2, y: (y0 + y1) / 2, z: (x1 - x0) / 2, w: (y1 - y0) / 2 };
    this.tableMaterial.uniforms.uArea.value = area;
    this.tableMaterial.uniforms.uFoot.value.set(foot[0], foot[1]);
    this.table.position.z = this.edge.position.z = -standCm;
    this.edge.position.z -= 30;
    this.shadeArea = area;
    this.shadeLevel = -standCm;
  }

  /** Draw the shadow on the table anew; `casters` are the groups that throw it. */
  drawShade(renderer, casters) {
    if (!this.shadeArea) return;
    const { x, y, z, w } = this.shadeArea;
    const camera = this.shadeCamera;
    Object.assign(camera, { left: x - z, right: x + z, top: y + w, bottom: y - w, near: 1, far: 600 });
    camera.position.set(0, 0, 300);
    camera.updateMatrixWorld();
    camera.updateProjectionMatrix();
    const [kx, ky] = [SUN.x / SUN.z, SUN.y / SUN.z];
    const lift = 300 - this.shadeLevel;
    const sheared = new Matrix4().set(1, 0, -kx, -kx * lift, 0, 1, -ky, -ky * lift, 0, 0, 1, 0, 0, 0, 0, 1);
    camera.projectionMatrix.multiply(sheared);
    camera.projectionMatrixInverse.copy(camera.projectionMatrix).invert();
    const others = this.scene.children.filter((each) => each.visible && !casters.includes(each));
    const background = this.scene.background;
    const shadows = renderer.shadowMap.autoUpdate;
    for (const each of others) each.visible = false;
    this.scene.background = null;
    this.scene.overrideMaterial = this.shadeMaterial;
    renderer.shadowMap.autoUpdate = false;
    renderer.setRenderTarget(this.target);
    renderer.clear();
    renderer.render(this.scene, camera);
    renderer.setRenderTarget(null);
    renderer.shadowMap.autoUpdate = shadows;
    this.scene.overrideMaterial = null;
    this.scene.background = background;
    for (const each of others) each.visible = true;
  }

  /** Show the wall without stretching it; seen from above, the table goes on for ever. */
  frame(aspect, view, camera) {
    const shape = 1024 / 768;
    const { repeat, offset } = this.background;
    repeat.set(Math.min(1, aspect / shape), Math.min(1, shape / aspect));
    offset.set((1 - repeat.x) * 0.35, 1 - repeat.y);
    const flat = view === "front" || view === "side";
    this.table.visible = !flat;
    this.edge.visible = flat;
    const ahead = camera.getWorldDirection(new Vector3());
    if (view !== "plan") this.tableMaterial.uniforms.uAhead.value.set(ahead.x, ahead.y).normalize();
    this.edge.rotation.set(Math.PI / 2, view === "side" ? Math.PI / 2 : 0, 0);
    this.tableMaterial.uniforms.uFar.value = view === "plan" ? 900 : 125;
  }

  dispose() {
    this.background.dispose();
    this.tableMaterial.uniforms.uGrain.value.dispose();
    for (const each of [this.table, this.edge]) {
      each.geometry.dispose();
      each.material.dispose();
    }
    this.shadeMaterial.dispose();
    this.target.dispose();
  }
}
