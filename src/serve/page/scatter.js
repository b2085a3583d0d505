// All designs on two aims. A filled diamond is undominated, a hollow circle is not; both are buttons that choose a design.

import { capital, set, svg } from "./dom.js";
import { ticks } from "./ticks.js";
import { inUnit } from "./units.js";

const [WIDE, HIGH] = [500, 380];
const FRAME = { left: 66, right: 20, top: 18, bottom: 50 };

/** Where a figure falls between the ends of an axis, better always to the right and up. */
export function axis(values, more) {
  const marks = ticks(Math.min(...values), Math.max(...values));
  const [low, high] = [Math.min(marks[0], ...values), Math.max(marks.at(-1), ...values)];
  const share = (value) => (high > low ? (value - low) / (high - low) : 0.5);
  return { marks, at: (value) => (more ? share(value) : 1 - share(value)) };
}

/** A scatter: `draw(designs, state)` shows them; `near(id)` and `choose(id)` are called on hover, focus and press. */
export function scatter({ near, choose }) {
  const root = svg("svg", { class: "scatter", viewBox: `0 0 ${WIDE} ${HIGH}`, role: "group", "aria-label": "Designs by two aims" });
  const state = { dots: [] };

  function draw(all, { ax, ay, words, chosen, nearby }) {
    const [x, y] = [ax.key, ay.key];
    const designs = all.filter((one) => Number.isFinite(one.figures[x]) && Number.isFinite(one.figures[y]));
    const [across, upward] = [(one) => inUnit(one.figures[x], ax.unit), (one) => inUnit(one.figures[y], ay.unit)];
    const focused = root.contains(document.activeElement) ? document.activeElement.dataset.id : null;
    const kept = state.current ?? chosen;
    root.replaceChildren();
    state.dots = [];
    if (designs.length === 0) return;
    const [px, py] = [
      axis(designs.map(across), ax.more_is_better),
      axis(designs.map(upward), ay.more_is_better),
    ];
    const left = (value) => FRAME.left + px.at(value) * (WIDE - FRAME.left - FRAME.right);
    const top = (value) => HIGH - FRAME.bottom - py.at(value) * (HIGH - FRAME.top - FRAME.bottom);
    root.append(...grid(px, py, left, top, ax, ay));
    const order = [...designs].sort((a, b) => across(a) - across(b) || upward(a) - upward(b));
    const active = order.some((one) => one.id === kept) ? kept : order[0].id;
    for (const design of order) {
      const dot = point(design, left(across(design)), top(upward(design)), design.id === active);
      set(dot, "aria-label", `${design.id}: ${ax.name} ${words(design, x)}, ${ay.name} ${words(design, y)}${design.undominated ? ", undominated" : ""}`);
      dot.addEventListener("click", () => choose(design.id));
      dot.addEventListener("pointerenter", () => near(design.id));
      dot.addEventListener("pointerleave", () => near(null));
      dot.addEventListener("focus", () => {
        state.current = design.id;
        near(design.id);
      });
      dot.addEventListener("keydown", step);
      state.dots.push(dot);
    }
    root.append(...state.dots);
    mark(chosen, nearby);
    if (focused) state.dots.find((dot) => dot.dataset.id === focused)?.focus({ preventScroll: true });
  }

  /** Arrow keys go from point to point in the order of the horizontal axis; Enter and space choose. */
  function step(event) {
    const index = state.dots.indexOf(event.currentTarget);
    const to = { ArrowRight: index + 1, ArrowUp: index + 1, ArrowLeft: index - 1, ArrowDown: index - 1, Home: 0, End: state.dots.length - 1 }[event.key];
    if (event.key === "Enter" || event.key === " ") choose(event.currentTarget.dataset.id);
    else if (to === undefined) return;
    else {
      const next = state.dots[Math.min(state.dots.length - 1, Math.max(0, to))];
      for (const dot of state.dots) set(dot, "tabindex", dot === next ? 0 : -1);
      next.focus();
    }
    event.preventDefault();
  }

  /** Marks what is chosen and what the list points at. */
  function mark(chosen, nearby) {
    for (const dot of state.dots) {
      dot.classList.toggle("chosen", dot.dataset.id === chosen);
      dot.classList.toggle("near", dot.dataset.id === nearby);
      set(dot, "aria-pressed", dot.dataset.id === chosen ? "true" : "false");
    }
  }

  return { root, draw, mark };
}

function point(design, x, y, active) {
  const shape = design.undominated ? svg("path", { class: "shape", d: "M0-7L7 0L0 7L-7 0Z" }) : svg("circle", { class: "shape", r: 5 });
  return svg(
    "g",
    { class: `dot${design.undominated ? " undominated" : ""}`, role: "button", tabindex: active ? 0 : -1, "data-id": design.id, transform: `translate(${x.toFixed(1)} ${y.toFixed(1)})` },
    svg("circle", { class: "reach", r: 15 }),
    svg("circle", { class: "ring", r: 12 }),
    shape,
  );
}

function grid(px, py, left, top, ax, ay) {
  const bottom = HIGH - FRAME.bottom;
  const lines = [];
  for (const value of px.marks) {
    const x = left(value);
    if (x < FRAME.left - 1 || x > WIDE - FRAME.right + 1) continue;
    lines.push(svg("line", { class: "rule", x1: x, y1: FRAME.top, x2: x, y2: bottom }), svg("text", { x, y: bottom + 17, "text-anchor": "middle" }, short(value)));
  }
  for (const value of py.marks) {
    const y = top(value);
    if (y < FRAME.top - 1 || y > bottom + 1) continue;
    lines.push(svg("line", { class: "rule", x1: FRAME.left, y1: y, x2: WIDE - FRAME.right, y2: y }), svg("text", { x: FRAME.left - 8, y: y + 4, "text-anchor": "end" }, short(value)));
  }
  lines.push(
    svg("path", { class: "axis", fill: "none", d: `M${FRAME.left} ${FRAME.top}V${bottom}H${WIDE - FRAME.right}` }),
    svg("text", { x: WIDE - FRAME.right, y: HIGH - 12, "text-anchor": "end" }, `${named(ax)}, better →`),
    svg("text", { x: 16, y: FRAME.top, transform: `rotate(-90 16 ${FRAME.top})`, "text-anchor": "end" }, `${named(ay)}, better →`),
  );
  return lines;
}

function named({ name, unit }) {
  return unit ? `${capital(name)}, ${unit}` : capital(name);
}

function short(value) {
  return Number(value.toPrecision(4)).toLocaleString("en", { maximumFractionDigits: 3, useGrouping: false });
}
