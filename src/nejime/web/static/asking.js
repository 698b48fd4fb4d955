// The small drawing beside what is asked: where in the picture the next mark belongs.

const SVG = "http://www.w3.org/2000/svg";
const RIM = { x: 32, y: 36, rx: 22, ry: 7 };
const CORNERS = [[14, 41], [50, 41], [46, 31], [18, 31]];
const FOOT = [30, 35];
const ENDS = [[36, 6], [13, 16], [50, 24]];
const AROUND = [180, 0, 135, 90, 45, -45, -90, -135]; // the two ends first, then round the rim

export function askPicture(place, { part, number, rectangle, stem }) {
  const parts = rectangle ? box(part, number) : dish(part, number);
  ENDS.forEach((end, n) => {
    const one = part !== "rim" && n === Math.max(0, stem) % ENDS.length && part !== "done";
    parts.push(made("line", { x1: FOOT[0], y1: FOOT[1], x2: end[0], y2: end[1], class: one || part === "done" ? "" : "faint" }));
    if (!one) return;
    const share = { tip: 1, base: 0, mid: 0.5 }[part];
    parts.push(here(FOOT[0] + share * (end[0] - FOOT[0]), FOOT[1] + share * (end[1] - FOOT[1])));
  });
  place.replaceChildren(...parts);
}

function dish(part, number) {
  const parts = [made("ellipse", { cx: RIM.x, cy: RIM.y, rx: RIM.rx, ry: RIM.ry, class: part === "rim" ? "" : "faint" })];
  if (part !== "rim") return parts;
  AROUND.forEach((angle, n) => {
    const turn = (angle * Math.PI) / 180;
    const [x, y] = [RIM.x + RIM.rx * Math.cos(turn), RIM.y + RIM.ry * Math.sin(turn)];
    if (n < number) parts.push(made("circle", { cx: x, cy: y, r: 2.2, class: "dot" }));
    if (n === number) parts.push(here(x, y));
  });
  return parts;
}

function box(part, number) {
  const points = CORNERS.map((each) => each.join(",")).join(" ");
  const parts = [made("polygon", { points, class: part === "rim" ? "" : "faint" })];
  if (part !== "rim") return parts;
  CORNERS.forEach(([x, y], n) => {
    if (n < number) parts.push(made("circle", { cx: x, cy: y, r: 2.2, class: "dot" }));
    if (n === number) parts.push(here(x, y));
  });
  return parts;
}

const here = (x, y) => made("circle", { cx: x, cy: y, r: 4, class: "here" });

function made(name, attributes) {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
  return one;
}
