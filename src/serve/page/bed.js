// The bed to scale: seen from above and from the tailgate, a dimension line for everything that was measured.

import { svg } from "./dom.js";

/** What stands in a drawing for a measurement not given yet, in millimetres: only so that there is something to point at. */
const STAND_IN = {
  "bed.length": 1900, "bed.width": 1500, "bed.depth": 500,
  "bed.wells.from_tailgate": 500, "bed.wells.length": 850, "bed.wells.height": 230, "bed.between_wells": 1150,
  "bed.tailgate.rise": 20, "bed.tailgate.length": 500, "bed.opening.width": 1200, "bed.opening.height": 900,
  "bed.rear_axle_from_tailgate": 1000, "bed.wheelbase": 3300,
};

/**
 * What to draw: `mm` holds lengths by path; `kind` is "pickup" or "cargo". Missing ones get a stand-in and are named in
 * `unknown`. Parts that were not given at all (wells, a tailgate, an opening) are left out unless `focus` is among them.
 */
export function plan(mm, kind, focus) {
  const unknown = new Set();
  const of = (path) => {
    if (Number.isFinite(mm[path])) return mm[path];
    unknown.add(path);
    return path === "bed.clear_height" ? of("bed.depth") : STAND_IN[path];
  };
  const has = (part, ...paths) => focus?.startsWith(part) || paths.some((path) => Number.isFinite(mm[path]));
  const wells = has("bed.wells", "bed.wells.from_tailgate", "bed.wells.length", "bed.wells.height", "bed.between_wells") || focus === "bed.between_wells";
  const [length, width] = [of("bed.length"), of("bed.width")];
  const height = Number.isFinite(mm["bed.depth"]) || kind !== "cargo" ? of("bed.depth") : of("bed.clear_height");
  const bed = { length, width, height, kind, unknown, clear: Number.isFinite(mm["bed.clear_height"]) ? mm["bed.clear_height"] : null };
  if (wells) {
    const between = Math.min(of("bed.between_wells"), width);
    bed.wells = { from: of("bed.wells.from_tailgate"), length: of("bed.wells.length"), height: of("bed.wells.height"), between };
  }
  if (kind !== "cargo" || has("bed.tailgate", "bed.tailgate.length")) bed.tailgate = { length: of("bed.tailgate.length"), rise: of("bed.tailgate.rise") };
  if (has("bed.opening", "bed.opening.width", "bed.opening.height")) bed.opening = { width: of("bed.opening.width"), height: of("bed.opening.height") };
  if (focus === "bed.rear_axle_from_tailgate" || Number.isFinite(mm["bed.rear_axle_from_tailgate"])) bed.axle = of("bed.rear_axle_from_tailgate");
  return bed;
}

/**
 * Draws both views `wide` pixels across. `words[path]` is what stands at a dimension line, `focus` the path to mark, `pick(path)`
 * is called when a dimension is pressed. Gives the `svg` element.
 */
export function drawBed(bed, { wide, words, focus, pick }) {
  const small = wide < 980; // then the end view stands beneath the plan
  const margin = { left: 58, right: 26, top: 46, gap: 74, bottom: 50 };
  const ahead = bed.tailgate?.length ?? 0;
  const scale = small
    ? Math.min((wide - margin.left - margin.right) / (bed.length + ahead), 0.27)
    : Math.min((wide - margin.left - margin.right - margin.gap) / (bed.length + ahead + bed.width), 0.34);
  const px = (mm) => mm * scale;
  const tall = Math.max(bed.height, bed.opening?.height ?? 0, bed.clear ?? 0);
  const planTall = px(bed.width);
  const lines = [];
  const dim = (path, from, to, options = {}) => lines.push(dimension(path, from, to, { words, focus, pick, unknown: bed.unknown, ...options }));

  // From above: the tailgate on the left, the cab on the right.
  const x0 = margin.left + px(ahead);
  const [y0, y1] = [margin.top, margin.top + planTall];
  const x1 = x0 + px(bed.length);
  const shapes = [svg("rect", { class: "bed-floor", x: x0, y: y0, width: x1 - x0, height: y1 - y0 })];
  if (bed.tailgate) {
    shapes.push(svg("rect", { class: "bed-gate", x: margin.left, y: y0 + 4, width: px(ahead), height: planTall - 8 }));
    dim("bed.tailgate.length", [margin.left, y1 + 22], [x0, y1 + 22], { witness: [y1 - 2, y1 - 2] });
  }
  if (bed.axle !== undefined) {
    const at = x0 + px(bed.axle);
    shapes.push(svg("line", { class: "bed-axis", x1: at, y1: y0 - 8, x2: at, y2: y1 + 8 }));
    dim("bed.rear_axle_from_tailgate", [x0, (y0 + y1) / 2 + 26], [at, (y0 + y1) / 2 + 26], {});
  }
  if (bed.wells) {
    const { from, length, between } = bed.wells;
    const deep = px((bed.width - between) / 2);
    for (const y of [y0, y1 - deep]) shapes.push(svg("rect", { class: "bed-well", x: x0 + px(from), y, width: px(length), height: deep }));
    dim("bed.wells.from_tailgate", [x0, y0 + deep + 14], [x0 + px(from), y0 + deep + 14], {});
    dim("bed.wells.length", [x0 + px(from), y0 + deep + 14], [x0 + px(from + length), y0 + deep + 14], {});
    const across = x0 + px(from + length * 0.72);
    dim("bed.between_wells", [across, y0 + deep], [across, y1 - deep], {});
  }
  dim("bed.length", [x0, y0 - 20], [x1, y0 - 20], { witness: [y0, y0] });
  dim("bed.width", [x1 - px(bed.length) * 0.06 - 4, y0], [x1 - px(bed.length) * 0.06 - 4, y1], {});
  shapes.push(label("From above, tailgate on the left", margin.left, 14, "start"));

  // From the tailgate: floor below, rail above.
  const ex = small ? margin.left : x1 + margin.gap;
  const floor = small ? y1 + margin.gap + 24 + px(tall) : margin.top + px(tall) + 6;
  const e1 = ex + px(bed.width);
  const top = floor - px(bed.height);
  shapes.push(svg("path", { class: "bed-floor", d: `M${ex} ${top}V${floor}H${e1}V${top}` }));
  if (bed.clear !== null) {
    const at = floor - px(bed.clear);
    shapes.push(svg("line", { class: "bed-limit", x1: ex - 6, y1: at, x2: e1 + 6, y2: at }));
    dim("bed.clear_height", [ex + px(bed.width) * 0.3, at], [ex + px(bed.width) * 0.3, floor], {});
  }
  if (bed.kind !== "cargo" || !bed.unknown.has("bed.depth")) dim("bed.depth", [ex - 16, top], [ex - 16, floor], { witness: [ex, ex] });
  if (bed.wells) {
    const deep = px((bed.width - bed.wells.between) / 2);
    for (const x of [ex, e1 - deep]) shapes.push(svg("rect", { class: "bed-well", x, y: floor - px(bed.wells.height), width: deep, height: px(bed.wells.height) }));
    dim("bed.wells.height", [e1 - deep - 16, floor - px(bed.wells.height)], [e1 - deep - 16, floor], { witness: [e1 - deep, e1 - deep] });
  }
  if (bed.opening) {
    const left = (ex + e1) / 2 - px(bed.opening.width) / 2;
    shapes.push(svg("rect", { class: "bed-gate", x: left, y: floor - px(bed.opening.height), width: px(bed.opening.width), height: px(bed.opening.height) }));
    dim("bed.opening.width", [left, floor + 20], [left + px(bed.opening.width), floor + 20], { witness: [floor, floor] });
    dim("bed.opening.height", [left + px(bed.opening.width) * 0.3, floor - px(bed.opening.height)], [left + px(bed.opening.width) * 0.3, floor], {});
  }
  if (bed.tailgate && (focus === "bed.tailgate.rise" || !bed.unknown.has("bed.tailgate.rise"))) {
    const at = floor - Math.max(px(bed.tailgate.rise), 2);
    shapes.push(svg("line", { class: "bed-gate-line", x1: ex + 8, y1: at, x2: e1 - 8, y2: at }));
    dim("bed.tailgate.rise", [ex + px(bed.width) * 0.5, at], [ex + px(bed.width) * 0.5, floor], { outside: true });
  }
  shapes.push(label("From the tailgate", ex, small ? y1 + margin.gap - 6 : 14, "start"));
  const total = small ? floor + margin.bottom : Math.max(y1 + 44, floor + 40);
  return svg(
    "svg",
    { class: "bed-drawing", viewBox: `0 0 ${wide} ${Math.round(total)}`, width: wide, height: Math.round(total), role: "img", "aria-label": described(bed, words, focus) },
    shapes,
    lines,
  );
}

function described(bed, words, focus) {
  const known = ["bed.length", "bed.width", "bed.between_wells", "bed.depth", "bed.clear_height"].filter((path) => words[path]);
  const text = known.map((path) => `${TITLES[path]} ${words[path]}`).join(", ");
  const mark = focus && TITLES[focus] ? ` Marked: ${TITLES[focus]}${words[focus] ? `, ${words[focus]}` : ""}.` : "";
  return `The bed to scale from above and from the tailgate${text ? `: ${text}` : ""}.${mark}`;
}

/** What each dimension is called. */
export const TITLES = {
  "bed.length": "floor length", "bed.width": "width", "bed.between_wells": "between the wells", "bed.depth": "depth to the rail",
  "bed.clear_height": "clear height", "bed.wells.from_tailgate": "tailgate to the wells", "bed.wells.length": "wells’ length",
  "bed.wells.height": "wells’ height", "bed.tailgate.rise": "tailgate’s rise", "bed.tailgate.length": "tailgate’s length",
  "bed.opening.width": "opening’s width", "bed.opening.height": "opening’s height", "bed.rear_axle_from_tailgate": "tailgate to rear axle",
};

function label(text, x, y, anchor) {
  return svg("text", { class: "bed-caption", x, y, "text-anchor": anchor }, text);
}

/** One dimension line with its ticks, its text, and what makes it easy to hit. */
function dimension(path, [x1, y1], [x2, y2], { words, focus, pick, unknown, witness, outside }) {
  const flat = y1 === y2;
  const marked = focus === path;
  const group = svg("g", { class: `dim${marked ? " dim-marked" : ""}${unknown.has(path) ? " dim-open" : ""}`, "data-path": path, onclick: () => pick(path) });
  if (witness) {
    const [a, b] = witness;
    group.append(
      flat ? svg("line", { class: "dim-witness", x1, y1: a, x2: x1, y2: y1 }) : svg("line", { class: "dim-witness", x1: a, y1, x2: x1, y2: y1 }),
      flat ? svg("line", { class: "dim-witness", x1: x2, y1: b, x2, y2 }) : svg("line", { class: "dim-witness", x1: b, y1: y2, x2, y2 }),
    );
  }
  group.append(svg("line", { class: "dim-line", x1, y1, x2, y2 }));
  for (const [x, y] of [[x1, y1], [x2, y2]]) group.append(svg("line", { class: "dim-tick", x1: x - 4, y1: y + 4, x2: x + 4, y2: y - 4 }));
  const text = unknown.has(path) ? "?" : (words[path] ?? "?");
  const [mx, my] = [(x1 + x2) / 2, (y1 + y2) / 2];
  const [tx, ty] = outside ? [mx + 16, y1 - 6] : flat ? [mx, my] : [mx, my];
  const room = Math.abs(flat ? x2 - x1 : y2 - y1);
  const half = text.length * 3.4 + 4;
  const turned = !flat && !outside && room > 2 * half;
  const aside = flat && !outside && room < 2 * half ? -11 : 0;
  const place = turned ? { transform: `translate(${tx} ${ty}) rotate(-90)` } : { transform: `translate(${tx} ${ty + aside})` };
  group.append(
    svg("g", place, svg("rect", { class: "dim-plate", x: -half, y: -8, width: 2 * half, height: 16 }), svg("text", { class: "dim-text", "text-anchor": "middle", y: 4 }, text)),
    svg("line", { class: "dim-hit", x1, y1, x2, y2 }),
    svg("title", {}, TITLES[path] ?? path),
  );
  return group;
}
