// 1 Measure: what the tape says of the bed, beside a drawing of it.

import { TITLES, drawBed, plan } from "./bed.js";
import { el, put, set } from "./dom.js";
import { field, typed } from "./field.js";
import { get, post } from "./room.js";
import { at, on, replace, state } from "./store.js";

const FLOOR = [
  ["length", "Floor length", "from the closed tailgate to the front wall"],
  ["width", "Width", "wall to wall"],
  ["depth", "Depth to the rail", "floor to the top of the side rail"],
  ["clear_height", "Clear height", "what the deck must stay under: cover, roof or rail"],
];
const WELLS = [
  ["between_wells", "Between the wells", "clear width"],
  ["wells.from_tailgate", "Tailgate to the wells", "along the floor to where they start"],
  ["wells.length", "Wells’ length", "along the bed"],
  ["wells.height", "Wells’ height", "above the floor"],
];
const GATE = [
  ["tailgate.rise", "Tailgate’s rise", "how far it stands above the floor when open"],
  ["tailgate.slope_deg", "Tailgate’s slope, degrees", "upward away from the bed; negative where it falls"],
  ["tailgate.length", "Tailgate’s length", "away from the bed when open"],
  ["tailgate.rating", "Tailgate carries", "what its maker says"],
];
const HATCH = [
  ["opening.width", "Opening’s width", "least clear width of hatch or doors"],
  ["opening.height", "Opening’s height", "least clear height"],
];
const LOAD = [
  ["payload", "Payload left", "for chest and gear together"],
  ["wheelbase", "Wheelbase", "between the axles"],
  ["rear_axle_from_tailgate", "Tailgate to rear axle", "along the floor; negative behind it"],
  ["front_axle_room", "Front axle may still bear", ""],
  ["rear_axle_room", "Rear axle may still bear", ""],
];

/** The section's content. */
export function measure() {
  let focus = null;
  const fields = [];
  const one = (spec) => {
    const made = field({ focus: mark, ...spec });
    fields.push(made);
    return made;
  };
  const group = (title, list) =>
    el("fieldset", {}, el("legend", {}, title), el("div", { class: "fields" }, list.map(([path, name, hint]) => one({ path: ["bed", ...path.split(".")], title: name, hint }))));
  const drawing = el("div", { class: "bed-place" });
  const form = el(
    "form", { onsubmit: (event) => event.preventDefault(), "aria-label": "Measurements" },
    el("div", { class: "fields" },
      one({ path: ["title"], title: "Name of the job", words: true }),
      one({ path: ["units"], title: "Bare numbers are", kind: "choice", options: [["in", "in, lb, gal"], ["mm", "mm, kg, L"]] }),
      one({ path: ["bed", "kind"], title: "Vehicle", kind: "choice", options: [["pickup", "pickup bed"], ["cargo", "floor of an SUV or van"]] })),
    el("p", { class: "quiet" }, "Write lengths as you say them, in either unit: 6 ft 3 in, 75 1/4, 15/32, 190 mm, 1.9 m. What you are not sure of takes a tolerance: 78 3/4 ± 1/8."),
    group("Floor and walls", FLOOR), group("Wheel wells", WELLS), group("Tailgate", GATE), group("Hatch or doors", HATCH), group("Load and axles", LOAD),
  );
  form.addEventListener("focusout", () => setTimeout(() => !form.contains(document.activeElement) && mark(null)));

  const lengths = new Map(); // typed text -> millimetres or null

  async function draw() {
    const [words, mm] = [{}, {}];
    const asked = [];
    for (const path of Object.keys(TITLES)) {
      const text = typed(at(path.split(".")));
      if (!text) continue;
      const key = `${state.document.units} ${text}`;
      if (lengths.has(key)) {
        words[path] = lengths.get(key)?.words ?? text;
        mm[path] = lengths.get(key)?.mm;
      } else asked.push([key, text]);
    }
    if (asked.length > 0) {
      // What the program cannot read has a fault at its field already; here it is only a "?".
      const answers = await read(asked.map(([, text]) => text));
      asked.forEach(([key, text], i) => lengths.set(key, Number.isFinite(answers[i]?.mm) ? { mm: answers[i].mm, words: text } : null));
      return draw();
    }
    const kind = typed(at(["bed", "kind"])) || "pickup";
    const wide = Math.max(280, Math.min(1400, drawing.clientWidth || 600));
    put(drawing, drawBed(plan(mm, kind, focus), { wide, words, focus, pick }));
    return undefined;
  }

  function mark(path) {
    focus = path in TITLES ? path : path === "bed.tailgate.slope_deg" ? "bed.tailgate.rise" : null;
    if (state.document) draw();
  }

  function pick(path) {
    fields.find((made) => made.dataset.path === path)?.input.focus();
  }

  on("document", () => {
    for (const made of fields) made.show();
    draw();
  });
  let wide = 0;
  new ResizeObserver(() => {
    if (Math.abs(drawing.clientWidth - wide) < 4 || !state.document) return;
    wide = drawing.clientWidth;
    draw();
  }).observe(drawing);
  set(drawing, "data-drawing", "bed");
  return el("div", { class: "two" }, el("div", {}, form, beds()), el("div", { class: "paper stay" }, drawing));
}

async function read(texts) {
  try {
    return await post("/api/measure", { texts });
  } catch {
    return [];
  }
}

/** A typical bed to begin with, to be measured again. */
function beds() {
  const choice = el("select", { id: "bed-class" }, el("option", { value: "" }, "Choose a bed"));
  const texts = new Map();
  get("/api/classes").then((classes) => {
    for (const { name, what, text } of classes) {
      texts.set(name, text);
      choice.append(el("option", { value: name }, what));
    }
  }, () => {});
  const take = el("button", { type: "button", onclick: () => texts.has(choice.value) && replace(texts.get(choice.value)) }, "Begin with it");
  return el("details", { class: "no-print" }, el("summary", {}, "Begin anew with a typical bed"), el("div", { class: "row" }, el("label", { for: "bed-class" }, "Typical bed (measure yours)"), choice, take), el("p", { class: "quiet" }, "It takes the place of the whole job; Undo brings that back."));
}
