// A piece with a plan stands in the plan's vessel, until another is chosen.
const plan = document.getElementById("plan");
const vessel = document.getElementById("vessel");
plan.addEventListener("change", () => {
  if (plan.value && vessel.value === "own") vessel.value = "plan";
  if (!plan.value && vessel.value === "plan") vessel.value = "own";
});
