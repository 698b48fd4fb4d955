// What things are made of, to the eye: plants, glazed ware, lead and brass. All are three's Lambert
// material with a few lines of shader added, so that they also run where there is no graphics card.
//
// Plants: veins and bark are drawn by the shader from the vertex attribute `skin` (see `organ.js`);
// thin tissue lets light through. What is under water is seen raised to 3/4 of its depth (refraction,
// n = 1.33) and tinted. A leaf that would go through the wall of a shallow vessel is laid over its rim.

import { Color, DoubleSide, MeshLambertMaterial, Vector4 } from "./vendor/three.module.js";

const NEVER = -999;

/** Values that all materials share: where water and vessel are. */
export function sharedUniforms() {
  return {
    uWater: { value: new Vector4(NEVER, 1, 1, 0) }, // level, half width, half depth, 1 = rectangle
    uMouth: { value: new Vector4(1, 1, 1, 0) }, // inner half width and depth at the rim, outer over inner, 1 = rectangle
    uBowl: { value: new Vector4(NEVER, NEVER, 1, 1) }, // floor, rim, inner half at the floor over that at the rim, bulge
  };
}

const VESSEL_VERTEX = /* glsl */ `
uniform vec4 uWater;
uniform vec4 uMouth;
uniform vec4 uBowl;
varying float vUnder;
varying vec3 vWorld;
float across(vec2 at, vec2 halves, float rectangle) {
  vec2 part = abs(at) / halves;
  return rectangle > 0.5 ? max(part.x, part.y) : length(part);
}
// Lay over the rim what would go through the wall.
float overTheRim(vec3 at) {
  if (at.z > uBowl.y || at.z < 0.3) return at.z;
  float out_ = across(at.xy, uMouth.xy, uMouth.w);
  float climb = clamp((out_ - uBowl.z) / max(1.0 - uBowl.z, 0.01), 0.0, 1.0);
  float wall = mix(uBowl.x, uBowl.y, pow(climb, uBowl.w)) + 0.12;
  float gone = smoothstep(uMouth.z * 1.02, uMouth.z * 1.22, out_);
  return mix(max(at.z, wall), at.z, gone);
}
`;
const VESSEL_PROJECT = /* glsl */ `
vec4 placed = vec4(transformed, 1.0);
#ifdef USE_INSTANCING
placed = instanceMatrix * placed;
#endif
placed = modelMatrix * placed;
#ifdef LAID
placed.z = overTheRim(placed.xyz);
#endif
vUnder = across(placed.xy, uWater.yz, uWater.w) < 1.0 ? uWater.x - placed.z : -1.0;
if (vUnder > 0.0) placed.z = uWater.x - vUnder * 0.75;
vWorld = placed.xyz;
vec4 mvPosition = viewMatrix * placed;
gl_Position = projectionMatrix * mvPosition;
`;
const NOISE = /* glsl */ `
float hash3(vec3 p) { p = fract(p * 0.3183099 + 0.1); p *= 17.0; return fract(p.x * p.y * p.z * (p.x + p.y + p.z)); }
float noise3(vec3 x) {
  vec3 i = floor(x), f = fract(x);
  f = f * f * (3.0 - 2.0 * f);
  return mix(
    mix(mix(hash3(i), hash3(i + vec3(1, 0, 0)), f.x), mix(hash3(i + vec3(0, 1, 0)), hash3(i + vec3(1, 1, 0)), f.x), f.y),
    mix(mix(hash3(i + vec3(0, 0, 1)), hash3(i + vec3(1, 0, 1)), f.x), mix(hash3(i + vec3(0, 1, 1)), hash3(i + vec3(1, 1, 1)), f.x), f.y), f.z);
}
`;
const UNDER_WATER = /* glsl */ `
if (vUnder > 0.0) outgoingLight = mix(outgoingLight, vec3(0.36, 0.44, 0.38), clamp(0.08 + vUnder * 0.07, 0.0, 0.34));
`;
const EYE = /* glsl */ `
vec3 toEye = isOrthographic ? vec3(0.0, 0.0, 1.0) : normalize(vViewPosition);
#if NUM_DIR_LIGHTS > 0
vec3 sun = directionalLights[0].direction;
#else
vec3 sun = vec3(0.0, 0.0, 1.0);
#endif
`;

const SKIN_COLOR = /* glsl */ `
float kind = floor(vSkin.z + 0.5);
float edge = abs(vSkin.y);
float vein = 0.0;
if (kind > 0.5 && kind < 4.5) vein = exp(-edge * edge * 900.0) + 0.35 * exp(-edge * edge * 90.0);
if (kind > 1.5 && kind < 2.5) vein += 0.45 * smoothstep(0.80, 1.0, cos(6.2832 * (vSkin.x * 9.0 - edge * 2.4))) * (1.0 - edge);
if (kind > 2.5 && kind < 3.5) vein = 0.28 * smoothstep(0.3, 1.0, cos(vSkin.y * 44.0)) + 1.1 * exp(-edge * edge * 700.0);
if (kind > 3.5 && kind < 4.5) vein = 0.0;
if (kind > 4.5 && kind < 5.5) diffuseColor.rgb *= 1.0 - 0.16 * smoothstep(0.1, 1.0, cos(vSkin.y * 26.0)) * (1.0 - vSkin.x * 0.6);
float leafy = step(0.12, vSkin.w) * step(vSkin.w, 0.2);
diffuseColor.rgb = mix(diffuseColor.rgb, diffuseColor.rgb * 1.32 + vec3(0.035, 0.04, 0.015), clamp(vein, 0.0, 1.0) * mix(0.35, 0.75, leafy));
if (kind > 5.5 && kind < 6.5) {
  float bark = noise3(vec3(vSkin.x * 1.6, cos(vSkin.y * 3.1416) * 2.2, sin(vSkin.y * 3.1416) * 2.2));
  float grain = noise3(vec3(vSkin.x * 6.0, vSkin.y * 9.0, 3.0));
  diffuseColor.rgb *= 0.68 + 0.42 * bark + 0.24 * grain;
}
if (kind > 6.5 && kind < 7.5) diffuseColor.rgb *= 0.94 + 0.08 * cos(vSkin.y * 18.85);
float petal = step(0.3, vSkin.w);
diffuseColor.rgb *= 1.0 - petal * (0.13 * exp(-edge * edge * 40.0) * (1.0 - vSkin.x) + 0.16 * (1.0 - smoothstep(0.0, 0.4, vSkin.x)));
// As things are in a room: a little greyer than paint, leaves more than petals.
diffuseColor.rgb = mix(diffuseColor.rgb, vec3(dot(diffuseColor.rgb, vec3(0.26, 0.64, 0.10))), mix(0.12, 0.24, leafy));
if (!gl_FrontFacing) diffuseColor.rgb = mix(diffuseColor.rgb, vec3(dot(diffuseColor.rgb, vec3(0.3, 0.5, 0.2))) * 1.12, 0.28 * leafy);
`;
const SKIN_LIGHT = /* glsl */ `
float behind = max(0.0, dot(-normal, sun));
outgoingLight += diffuseColor.rgb * vSkin.w * (0.22 + 0.95 * behind);
vec3 between = normalize(toEye + sun);
float shine = pow(max(0.0, dot(normal, between)), 22.0);
outgoingLight += vec3(1.0, 0.97, 0.9) * shine * (0.015 + 0.11 * leafy);
if (kind > 9.5) outgoingLight += vec3(1.0, 0.96, 0.9) * (0.55 * pow(max(0.0, dot(normal, between)), 60.0) + 0.12 * pow(1.0 - max(0.0, dot(normal, toEye)), 3.0));
if (kind > 7.5 && kind < 8.5) outgoingLight += vec3(0.55, 0.55, 0.52) * pow(1.0 - max(0.0, dot(normal, toEye)), 1.6) * 0.7;
`;

function patched(material, key, shared, vertex, fragment) {
  material.onBeforeCompile = (shader) => {
    Object.assign(shader.uniforms, shared, material.userData.uniforms ?? {});
    shader.vertexShader = vertex(shader.vertexShader);
    shader.fragmentShader = fragment(shader.fragmentShader);
  };
  material.customProgramCacheKey = () => key;
  return material;
}

/** Leaves, petals, wood: everything that has grown. */
export function plantMaterial(shared) {
  const material = new MeshLambertMaterial({ vertexColors: true, side: DoubleSide });
  material.defines = { LAID: "" };
  return patched(
    material,
    "plant",
    shared,
    (code) =>
      `attribute vec4 skin;\nvarying vec4 vSkin;\n${VESSEL_VERTEX}${code}`.replace(
        "#include <project_vertex>",
        `vSkin = skin;\n${VESSEL_PROJECT}`,
      ),
    (code) =>
      `varying vec4 vSkin;\nvarying float vUnder;\nvarying vec3 vWorld;\n${NOISE}${code}`
        .replace("#include <color_fragment>", `#include <color_fragment>\n${SKIN_COLOR}`)
        .replace("#include <opaque_fragment>", `${EYE}${SKIN_LIGHT}${UNDER_WATER}\n#include <opaque_fragment>`),
  );
}

/** Lead and brass; under water like a stem. */
export function metalMaterial(color, shared) {
  const material = new MeshLambertMaterial({ color: new Color(color) });
  return patched(
    material,
    "metal",
    shared,
    (code) => `${VESSEL_VERTEX}${code}`.replace("#include <project_vertex>", VESSEL_PROJECT),
    (code) =>
      `varying float vUnder;\nvarying vec3 vWorld;\n${code}`.replace(
        "#include <opaque_fragment>",
        `${EYE}
        float glint = pow(max(0.0, dot(normal, normalize(toEye + sun))), 18.0);
        outgoingLight += diffuseColor.rgb * glint * 1.6;
        ${UNDER_WATER}\n#include <opaque_fragment>`,
      ),
  );
}

// Glazes: colour below and at the lip, colour of the line where a glaze runs thin over the rim, gloss,
// and how much of each: specks, streaks that ran down, cloudiness.
export const GLAZES = {
  celadon: { low: "#a3b7a6", lip: "#c6d3c0", line: "#a58a66", gloss: 0.9, specks: 0.06, runs: 0.35, clouds: 0.16 },
  iron: { low: "#37302d", lip: "#6b4a36", line: "#9a6b42", gloss: 0.9, specks: 0.2, runs: 0.9, clouds: 0.35, from: 0.62 },
  ash: { low: "#b6ab90", lip: "#d8cfb8", line: "#8f7450", gloss: 0.35, specks: 0.55, runs: 0.6, clouds: 0.3 },
  indigo: { from: 0.5, low: "#38506a", lip: "#607c95", line: "#8d7659", gloss: 0.8, specks: 0.12, runs: 0.4, clouds: 0.32 },
  rawclay: { low: "#85705f", lip: "#a28a76", line: "#927a66", gloss: 0.05, specks: 0.5, runs: 0.1, clouds: 0.35 },
  white: { low: "#d8d3c7", lip: "#ece8de", line: "#c2ab88", gloss: 0.75, specks: 0.1, runs: 0.15, clouds: 0.08 },
  glass: { low: "#cfdcd6", lip: "#e6efea", line: "#e6efea", gloss: 1.0, specks: 0, runs: 0, clouds: 0 },
};

const GLAZE_COLOR = /* glsl */ `
float high = clamp(vPot.y, 0.0, 1.0);
float run = noise3(vec3(vPot.x * 7.0, 2.0, vPot.z)) * 0.6 + noise3(vec3(vPot.x * 19.0, vWorld.z * 0.25, 5.0)) * 0.4;
float cloud = noise3(vWorld * 0.35) * 0.65 + noise3(vWorld * 1.1) * 0.35;
float thin = smoothstep(uFrom, 1.0, high + (run - 0.5) * uKind.z * 0.55);
vec3 glaze = mix(uLow, uLip, vPot.z > 0.5 ? 0.62 + 0.3 * high : thin);
glaze *= 1.0 + (cloud - 0.5) * uKind.w;
float speck = smoothstep(0.78, 0.86, noise3(vWorld * 9.0)) * noise3(vWorld * 2.3);
glaze = mix(glaze, glaze * 0.45, speck * uKind.y);
float line = 1.0 - smoothstep(0.06, 0.34 + 0.2 * (run - 0.5), uTop - vWorld.z);
glaze = mix(glaze, uLine, line * 0.7);
float foot = 1.0 - smoothstep(0.0, 1.0, vWorld.z / uFoot);
glaze = mix(glaze, vec3(0.36, 0.26, 0.19), foot * 0.75 * (1.0 - vPot.z));
diffuseColor.rgb = glaze;
`;
// What a glaze mirrors: a window to the left and above, a bright ceiling, a dim room.
const GLAZE_LIGHT = /* glsl */ `
vec3 mirrored = reflect(-toEye, normal);
float facing = max(0.0, dot(normal, toEye));
float fresnel = 0.04 + 0.5 * pow(1.0 - facing, 4.0);
vec3 seen = inverseTransformDirection(mirrored, viewMatrix);
float aim = dot(normalize(seen.xy + 1e-4), normalize(vec2(-0.80, -0.52)));
float window_ = smoothstep(0.925, 0.985, aim) * smoothstep(-0.16, 0.04, seen.z) * (1.0 - smoothstep(0.62, 0.86, seen.z));
vec3 above = (viewMatrix * vec4(0.0, 0.0, 1.0, 0.0)).xyz;
float ceiling_ = smoothstep(-0.2, 0.9, dot(mirrored, above));
vec3 room = mix(vec3(0.16, 0.14, 0.12), vec3(0.80, 0.77, 0.70), ceiling_);
outgoingLight += uKind.x * (fresnel * room + window_ * vec3(1.0, 0.96, 0.88) * (0.15 + 0.6 * fresnel));
`;

/** Glazed ware, `top` cm high. The vertex attribute `pot` is (around, height 0..1, 1 = inside, 1 = on the rim). */
export function potMaterial(name, top, shared) {
  const glaze = GLAZES[name] ?? GLAZES.celadon;
  const glass = name === "glass";
  const material = new MeshLambertMaterial({ side: DoubleSide, transparent: glass, depthWrite: !glass });
  material.userData.uniforms = {
    uLow: { value: new Color(glaze.low) },
    uLip: { value: new Color(glaze.lip) },
    uLine: { value: new Color(glaze.line) },
    uKind: { value: new Vector4(glaze.gloss, glaze.specks, glaze.runs, glaze.clouds) },
    uFoot: { value: glass ? 0.001 : 0.28 },
    uFrom: { value: glaze.from ?? 0.2 },
    uTop: { value: top },
  };
  return patched(
    material,
    glass ? "glass" : "pot",
    shared,
    (code) =>
      `attribute vec4 pot;\nvarying vec4 vPot;\nvarying vec3 vWorld;\n${code}`.replace(
        "#include <project_vertex>",
        "#include <project_vertex>\nvPot = pot;\nvWorld = (modelMatrix * vec4(transformed, 1.0)).xyz;",
      ),
    (code) =>
      `varying vec4 vPot;\nvarying vec3 vWorld;\nuniform vec3 uLow, uLip, uLine;\nuniform vec4 uKind;\nuniform float uFoot, uFrom, uTop;\n${NOISE}${code}`
        .replace("#include <color_fragment>", `#include <color_fragment>\n${GLAZE_COLOR}`)
        .replace(
          "#include <opaque_fragment>",
          `${EYE}${GLAZE_LIGHT}
          ${glass ? "diffuseColor.a = clamp(0.10 + fresnel * 1.1 + window_ * 0.5 + line * 0.2, 0.0, 0.85);" : ""}
          #include <opaque_fragment>`,
        ),
  );
}
