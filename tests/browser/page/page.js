// A page that shows a scene and moves stems as they are dragged, for the tests.
import { createStage, poseTowards } from "/static/stage.js";

const asked = new URLSearchParams(location.search);
const stage = createStage(document.getElementById("stage"), {
  quality: asked.get("quality") ?? "auto",
  lookUrl: (key) => `/look/${key}`,
});
const told = { drag: [], drop: [], pick: [], quality: [] };
for (const event of Object.keys(told)) stage.on(event, (what) => told[event].push(what));
stage.on("drag", ({ id, part, point }) => {
  const stem = stage.stems.get(id);
  if (stem) stage.move(id, poseTowards(stem.pose, part, point));
});
const wire = await (await fetch(`/scene/${asked.get("scene") ?? "spring"}`)).json();
Object.assign(window, { stage, told, wire });
const began = performance.now();
await stage.show(wire);
document.documentElement.dataset.shown = String(performance.now() - began);
