// The small drawing beside what is asked: where in the picture the next mark belongs.

const SVG = "http://www.w3.org/2000/svg";
const RIM = { x: 32, y: 36, rx: 22, ry: 7 };
const CORNERS = [[14, 41], [50, 41], [46, 31], [18, 31]];
const FOOT = [30, 35];
const ENDS = [[36, 6], [13, 16], [50, 24]];
const AROUND = [180, 0, 135, 90, 45, -45, -90, -135]; // the two ends first, then round the rim

export function askPicture(place, { part, number, rectangle, stem, first }) {
  if (first?.picture && first.rim[number]) return sameCorner(place, first, number);
  place.setAttribute("viewBox", "0 0 64 48");
  const parts = rectangle ? box(part, number) : dish(part, number);
  if (part === "pins") parts.push(here(...FOOT));
  ENDS.forEach((end, n) => {
    const one = part !== "rim" && part !== "pins" && n === Math.max(0, stem) % ENDS.length && part !== "done";
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

/** The first picture with the corner that is asked for: the second begins at the same one. */
function sameCorner(place, { picture, box, rim }, number) {
  const [xs, ys] = [0, 1].map((axis) => rim.map((point) => point[axis]));
  const wide = 1.3 * Math.max(Math.max(...xs) - Math.min(...xs), ((Math.max(...ys) - Math.min(...ys)) * 64) / 48);
  const middle = [xs, ys].map((each) => (Math.min(...each) + Math.max(...each)) / 2);
  place.setAttribute("viewBox", `${middle[0] - wide / 2} ${middle[1] - (wide * 3) / 8} ${wide} ${(wide * 3) / 4}`);
  const [x, y] = rim[number];
  const image = made("image", { href: picture, x: box[0] - 0.5, y: box[1] - 0.5, width: box[2], height: box[3], preserveAspectRatio: "none" });
  const ring = (share, kind) => {
    const one = made("circle", { cx: x, cy: y, r: wide / 14, class: kind });
    one.style.strokeWidth = String(wide / share);
    return one;
  };
  place.replaceChildren(image, ring(16, "pale"), ring(32, "dark"));
}

const here = (x, y) => made("circle", { cx: x, cy: y, r: 4, class: "here" });

function made(name, attributes) {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
  return one;
}
