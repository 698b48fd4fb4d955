// The one surface of which leaves, petals, bracts, blades and spathes are made: the same formulas as
// in `drawings/skeleton/surface.py`, which says what they mean. A test compares them.
// Frame: x along the blade, y across, z out of its upper (inner) face; centimetres, degrees.

export const PROFILES = {
  lance: [0.75, 1.1],
  ovate: [0.5, 1.1],
  elliptic: [0.65, 0.65],
  obovate: [1.0, 0.42],
  spoon: [1.5, 0.34],
  round: [0.55, 0.45],
  strap: [0.3, 0.22],
  paddle: [0.55, 0.85],
  tulip: [0.6, 0.75],
  linear: [0.22, 0.4],
  sword: [0.12, 0.55],
  heart: [0.3, 0.9],
  notched: [0.9, 0.3],
  lobed: [0.55, 0.7],
  fringed: [1.3, 0.25],
};
const LOBES = 20;
const NOTCH = 0.16;
const FRINGE = 0.07;
const RADIANS = Math.PI / 180;

/** Width of a flat blade over its largest width. */
export function breadth(shape, t) {
  const [a, b] = PROFILES[shape];
  const most = a / (a + b);
  const at =
    (Math.max(t, 1e-6) ** a * Math.max(1 - t, 1e-6) ** b) / (most ** a * (1 - most) ** b);
  return shape === "lobed" ? at * (0.74 + 0.26 * Math.cos(LOBES * t)) : at;
}

/** A point of the surface: t from foot (0) to end (1), v from edge (-1) to edge (1). */
export function surf(blade, t, v) {
  if (blade.shape === "palm") return palm(blade, t, v);
  if (blade.shape === "funnel") return funnel(blade, t, v);
  const k = blade.curl * RADIANS;
  const flat = Math.abs(k) < 1e-4;
  let x = flat ? t : Math.sin(k * t) / k;
  const z = flat ? 0 : -(1 - Math.cos(k * t)) / k;
  const half = (breadth(blade.shape, t) * blade.width) / 2;
  if (blade.shape === "notched") x -= NOTCH * t ** 6 * (1 - Math.abs(v));
  if (blade.shape === "fringed") x += FRINGE * t ** 4 * Math.cos(v * 14);
  let lift = blade.cup * half * v * v;
  lift += blade.wave * half * Math.abs(v) * Math.sin(t * 13 + (v > 0 ? 1.6 : 0));
  return [
    x * blade.length + Math.sin(k * t) * lift,
    half * v * (1 - 0.25 * Math.abs(blade.cup) * v * v),
    z * blade.length + Math.cos(k * t) * lift,
  ];
}

/** Radius of a palm over its largest, at an angle of v times its spread. */
export function fingerReach(blade, v) {
  const part = ((v + 1) / 2) * blade.fingers;
  const off = Math.abs(part - Math.floor(part) - 0.5) * 2;
  const long = 1 - 0.42 * Math.abs(v) ** 1.6;
  return long * (1 - blade.bay * off ** 0.8);
}

function palm(blade, t, v) {
  const angle = blade.spread * RADIANS * v;
  const radius = t * fingerReach(blade, v) * blade.length;
  const fall = (blade.curl * RADIANS) / 2;
  const z = -radius * Math.sin(fall * t) + blade.cup * radius * 0.3 * v * v;
  return [radius * Math.cos(angle), radius * Math.sin(angle), z];
}

function funnel(blade, t, v) {
  const angle = Math.PI * v;
  const flare = blade.curl * RADIANS;
  const lip = t ** 4;
  let radius = (blade.width / 2) * (blade.cup + (1 - blade.cup) * t ** 1.6);
  radius += (blade.width / 2) * lip * Math.sin(flare) * 0.5;
  radius *= 1 + blade.wave * lip * Math.sin(angle * 9);
  const high = blade.length * (1 - blade.bay * (0.5 - 0.5 * Math.cos(angle)));
  const x = high * (t - 0.12 * lip * (1 - Math.cos(flare)));
  return [x, radius * Math.sin(angle), -radius * Math.cos(angle)];
}
