// What is in which drawer. A thing goes to another drawer by dragging it there or by the list beside it; it is then pinned, and
// the explorer completes the rest or says why it cannot.

import { el } from "./dom.js";
import { pin, pinDrawer, pinTier, pinned, unpin } from "./pins.js";
import { exact } from "./units.js";
import { state } from "./store.js";

/** The drawers of a design, each with what is in it. */
export function stowage(design) {
  const units = state.document.units;
  const names = design.drawers.map(({ name }) => name);
  const cards = design.drawers.map((drawer) => {
    const things = counted([...drawer.gear, ...drawer.loose]);
    const size = drawer.inside.map((side) => exact(side, units)).join(" × ");
    const keepSize = el("button", { type: "button", class: "plain no-print", "aria-label": `Keep drawer ${drawer.name} so wide and high`, onclick: () => pinDrawer(drawer.name, drawer.inside[0], drawer.inside[2]) }, "Keep its size");
    return el("section", { class: "drawer", "data-drawer": drawer.name, "aria-label": `Drawer ${drawer.name}` },
      el("h4", {}, el("span", {}, `Drawer ${drawer.name}`), el("span", { class: "quiet" }, size)),
      el("ul", {}, things.map((thing) => row(thing, drawer.name, names))), keepSize);
  });
  const tiers = design.structure.tiers.map((tier, i) => {
    const name = String.fromCharCode(65 + i);
    return el("button", { type: "button", onclick: () => pinTier(name, tier.columns, tier.member) }, `Keep tier ${name}: ${tier.columns} across, ${tier.member}`);
  });
  const out = design.left_out.length === 0 ? null : el("section", { class: "drawer", "aria-label": "Left out" }, el("h4", {}, "Left out"), el("ul", {}, design.left_out.map((left) => row({ name: left.name, times: left.count }, null, names))));
  const pockets = design.pockets.filter(({ gear = [] }) => gear.length).map((pocket) => el("section", { class: "drawer", "aria-label": `Side pocket ${pocket.name}` }, el("h4", {}, `Side pocket ${pocket.name}`), el("ul", {}, counted(pocket.gear).map((thing) => row(thing, null, names)))));
  return [
    el("p", { class: "quiet no-print" }, "Drag a thing into another drawer, or choose the drawer in the list beside it: it is pinned there and the rest is explored anew."),
    el("div", { class: "drawers" }, cards, pockets, out),
    el("div", { class: "row no-print" }, tiers),
  ];
}

function counted(things) {
  const counts = new Map();
  for (const { name } of things) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].map(([name, times]) => ({ name, times }));
}

function row({ name, times }, drawer, names) {
  const words = times > 1 ? `${name} × ${times}` : name;
  const held = pinned(name);
  const grip = el("span", { class: "grip" }, words);
  const select = el("select", { "aria-label": `Drawer of ${name}`, onchange: () => (select.value === "" ? unpin(name) : pin(name, select.value)) },
    el("option", { value: "" }, held ? "free" : drawer ? "here" : "none"), names.map((one) => el("option", { value: one }, `→ ${one}`)));
  select.value = held ?? "";
  dragging(grip, words, (to) => to !== drawer && pin(name, to));
  return el("li", { class: `thing${held ? " pinned" : ""}` }, grip, select);
}

/** Dragging with any pointer: what is dropped on a drawer goes there. */
function dragging(grip, words, drop) {
  let ghost = null;
  let from = null;
  const under = (event) => document.elementsFromPoint(event.clientX, event.clientY).find((one) => one.dataset?.drawer)?.closest("[data-drawer]") ?? null;
  const end = () => {
    ghost?.remove();
    [ghost, from] = [null, null];
    for (const one of document.querySelectorAll(".drawer.over")) one.classList.remove("over");
  };
  grip.addEventListener("pointerdown", (event) => {
    if (event.button > 0) return;
    from = [event.clientX, event.clientY];
    grip.setPointerCapture(event.pointerId);
  });
  grip.addEventListener("pointermove", (event) => {
    if (!from) return;
    if (!ghost && Math.hypot(event.clientX - from[0], event.clientY - from[1]) < 6) return;
    ghost ??= document.body.appendChild(el("div", { class: "ghost", "aria-hidden": "true" }, words));
    ghost.style.left = `${event.clientX + 8}px`;
    ghost.style.top = `${event.clientY + 8}px`;
    const target = under(event);
    for (const one of document.querySelectorAll(".drawer[data-drawer]")) one.classList.toggle("over", one === target);
  });
  grip.addEventListener("pointerup", (event) => {
    const target = ghost ? under(event) : null;
    end();
    if (target) drop(target.dataset.drawer);
  });
  grip.addEventListener("pointercancel", end);
  grip.addEventListener("lostpointercapture", end);
}
