// Handles and the dashed lines of a form's aim, drawn over the picture with SVG. Nothing here carries
// a style: `stage.css` has the looks, attributes the places.

const SVG = "http://www.w3.org/2000/svg";
const REACH = { fine: 15, coarse: 24 }; // CSS pixels around a handle's middle that take hold of it

export class Overlay {
  constructor(host) {
    this.root = document.createElementNS(SVG, "svg");
    this.root.setAttribute("class", "stage-marks");
    this.root.setAttribute("aria-hidden", "true");
    this.ghosts = this.layer("stage-ghosts");
    this.handles = this.layer("stage-handles");
    host.append(this.root);
    this.spots = [];
  }

  layer(name) {
    const made = document.createElementNS(SVG, "g");
    made.setAttribute("class", name);
    this.root.append(made);
    return made;
  }

  /** Dashed lines; each { from, to } in pixels. */
  drawGhosts(lines) {
    this.fill(this.ghosts, "line", lines.length);
    lines.forEach(({ from, to }, i) => {
      const drawn = this.ghosts.children[i];
      for (const [name, value] of [["x1", from.x], ["y1", from.y], ["x2", to.x], ["y2", to.y]])
        drawn.setAttribute(name, value.toFixed(1));
    });
  }

  /** Rings; each { id, part, at } in pixels, `shown` says whether it is seen. */
  drawHandles(spots) {
    this.spots = spots;
    this.fill(this.handles, "circle", spots.length);
    spots.forEach(({ at, part, shown, held }, i) => {
      const ring = this.handles.children[i];
      ring.setAttribute("cx", at.x.toFixed(1));
      ring.setAttribute("cy", at.y.toFixed(1));
      ring.setAttribute("r", part === "holder" ? 11 : part === "end" ? 8 : 6.5);
      ring.setAttribute("class", `stage-${part}${shown ? " is-shown" : ""}${held ? " is-held" : ""}`);
    });
  }

  fill(layer, name, count) {
    while (layer.children.length > count) layer.lastChild.remove();
    while (layer.children.length < count) layer.append(document.createElementNS(SVG, name));
  }

  /** The handle under a pointer, if any: the nearest, ends before feet, feet before the holder. */
  under(x, y, coarse) {
    let best = null;
    const rank = { end: 0, foot: 3, holder: 6 };
    for (const spot of this.spots) {
      const away = Math.hypot(spot.at.x - x, spot.at.y - y);
      const far = away + rank[spot.part] + (spot.chosen ? -6 : 0);
      if (away <= (coarse ? REACH.coarse : REACH.fine) && (!best || far < best.far)) best = { ...spot, far };
    }
    return best;
  }

  dispose() {
    this.root.remove();
  }
}
