// A design in space: turned by dragging, by keys and by buttons; its drawers pull out; its skin comes off.

import { el, say, set, still } from "./dom.js";
import { extent, faces, hit, piece, tree, view, walk } from "./solid.js";

const KEYS = { ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, 0.08], ArrowDown: [0, -0.08] };
const START = { turn: -0.62, tilt: 0.5, zoom: 1 };
const [LOWEST, HIGHEST] = [0.04, 1.5];

/** What can be taken off, and which kinds of box go with it. */
const SKINS = [
  { name: "deck", title: "Deck", kinds: ["deck", "lid"] },
  { name: "near", title: "Near side", kinds: [] },
  { name: "gear", title: "Gear", kinds: ["gear", "loose"] },
];

/**
 * A cutaway of `solid.boxes` (`{mark, name, kind, drawer, box: [x0, y0, z0, x1, y1, z1]}`, millimetres). Gives the element; its
 * `pull(drawer, out)` is for others that want a drawer drawn.
 */
export function cutaway(boxes, { title, travel = 0.7 }) {
  const at = { ...START };
  const off = new Set(["deck"]);
  const drawers = [...new Set(boxes.map((one) => one.drawer).filter(Boolean))].sort();
  const out = new Map(drawers.map((name) => [name, 0])); // 0 shut, 1 drawn out
  const wanted = new Map(out);
  const long = new Map(drawers.map((name) => [name, travel * spread(boxes.filter((one) => one.drawer === name))]));
  let [model, due, size] = [null, 0, 0];

  const canvas = el("canvas", { tabindex: 0, role: "application", "aria-roledescription": "turnable drawing" });
  const said = el("p", { class: "only-read", "aria-live": "polite" });
  const buttons = new Map(drawers.map((name) => [name, el("button", { type: "button", "aria-pressed": "false", onclick: () => pull(name) }, `Drawer ${name}`)]));
  const skins = SKINS.map(({ name, title: label }) => {
    const box = el("input", { type: "checkbox", onchange: () => show(name, box.checked) });
    box.checked = !off.has(name);
    return el("label", { class: "tick" }, box, label);
  });
  const turners = [
    ["↺", "Turn left", () => turn(-0.26, 0)], ["↻", "Turn right", () => turn(0.26, 0)], ["↑", "See more from above", () => turn(0, 0.15)],
    ["↓", "See more from the side", () => turn(0, -0.15)], ["+", "Closer", () => closer(1.2)], ["−", "Farther", () => closer(1 / 1.2)], ["⌂", "As at first", home],
  ].map(([sign, name, onclick]) => el("button", { type: "button", class: "icon", "aria-label": name, title: name, onclick }, sign));
  const root = el(
    "div", { class: "cutaway" }, canvas, said,
    el("div", { class: "row no-print", role: "group", "aria-label": "Turn the drawing" }, turners),
    el("div", { class: "row no-print", role: "group", "aria-label": "Show" }, skins),
    el("div", { class: "row no-print", role: "group", "aria-label": "Pull drawers out" }, [...buttons.values()],
      drawers.length > 1 && el("button", { type: "button", class: "plain", onclick: () => pullAll() }, "All in or out")),
  );
  set(canvas, "aria-label", `${title}. Arrow keys turn it, plus and minus bring it closer, Home puts it back, digits pull drawers out.`);

  canvas.addEventListener("keydown", (event) => {
    const by = KEYS[event.key];
    const number = Number(event.key);
    if (by) turn(...by);
    else if (event.key === "+" || event.key === "=") closer(1.15);
    else if (event.key === "-") closer(1 / 1.15);
    else if (event.key === "Home") home();
    else if (number >= 1 && number <= drawers.length && !event.ctrlKey && !event.altKey && !event.metaKey) pull(drawers[number - 1]);
    else return;
    event.preventDefault();
  });
  dragged(canvas, (dx, dy) => turn(-dx * 0.008, dy * 0.008), press);
  new ResizeObserver(() => paint()).observe(canvas);
  for (const query of ["(prefers-color-scheme: dark)", "print"]) matchMedia(query).addEventListener("change", () => paint());

  function turn(by, up) {
    at.turn += by;
    at.tilt = Math.min(HIGHEST, Math.max(LOWEST, at.tilt + up));
    if (off.has("near")) model = null; // which side is near may have changed
    paint();
  }
  function closer(by) {
    at.zoom = Math.min(6, Math.max(0.6, at.zoom * by));
    paint();
  }
  function home() {
    Object.assign(at, START);
    model = null;
    paint();
  }
  function show(name, on) {
    if (on) off.delete(name);
    else off.add(name);
    model = null;
    paint();
  }

  /** The drawer that is seen at a point of the drawing, or none. */
  function under(x, y) {
    const { placed } = scene();
    const { scale, left, top } = frame();
    const found = hit(placed.map((one) => one.box), at, [(x - left) / scale, (y - top) / scale]);
    return found === null ? null : (placed[found].drawer ?? null);
  }
  /** A press on the drawing pulls the drawer under it. */
  function press(x, y) {
    const drawer = under(x, y);
    if (drawer) pull(drawer);
  }

  function pull(name, to = wanted.get(name) > 0.5 ? 0 : 1) {
    wanted.set(name, to);
    set(buttons.get(name), "aria-pressed", to > 0.5 ? "true" : "false");
    say(said, `Drawer ${name} ${to > 0.5 ? "drawn out" : "shut"}`);
    if (still()) out.set(name, to);
    move();
  }
  function pullAll() {
    const to = [...wanted.values()].some((value) => value < 0.5) ? 1 : 0;
    for (const name of drawers) pull(name, to);
  }

  /** Moves every drawer a step toward where it is wanted, until all are there. */
  function move() {
    cancelAnimationFrame(due);
    let going = false;
    for (const [name, to] of wanted) {
      const rest = to - out.get(name);
      if (Math.abs(rest) < 0.004) out.set(name, to);
      else {
        out.set(name, out.get(name) + rest * 0.22);
        going = true;
      }
    }
    model = null;
    paint();
    if (going) due = requestAnimationFrame(move);
  }

  /** What is shown now, with its drawers where they are. */
  function scene() {
    if (model) return model;
    const hidden = new Set(SKINS.filter(({ name }) => off.has(name)).flatMap(({ kinds }) => kinds));
    const near = off.has("near") ? nearSide(boxes, at.turn) : () => false;
    const placed = boxes
      .filter((one) => !hidden.has(one.kind) && !near(one))
      .map((one) => {
        const by = one.drawer ? out.get(one.drawer) * long.get(one.drawer) : 0;
        return { ...one, box: one.box.map((value, k) => (k % 3 === 1 ? value - by : value)) };
      });
    model = { placed, tree: tree(placed.map((one) => piece(one.box, one))) };
    return model;
  }

  /** Where the drawing stands on its canvas: it keeps its scale while turned. */
  function frame() {
    const [low, high] = [0, 1, 2].map((k) => [Math.min(...boxes.map((one) => one.box[k])), Math.max(...boxes.map((one) => one.box[k + 3]))]).reduce(([a, b], [p, q]) => [[...a, p], [...b, q]], [[], []]);
    const ahead = Math.max(0, ...drawers.map((name) => out.get(name) * long.get(name)));
    const whole = [low[0], low[1] - ahead, low[2], ...high];
    const around = extent([whole], view(at.turn, at.tilt).flat);
    const [wide, tall] = [canvas.clientWidth || 600, height()];
    const reach = Math.hypot(high[0] - low[0], high[1] - low[1] + ahead);
    const scale = at.zoom * Math.min((wide - 24) / reach, (tall - 24) / (reach * 0.62));
    return { scale, left: wide / 2 - (scale * (around[0] + around[2])) / 2, top: tall / 2 - (scale * (around[1] + around[3])) / 2 };
  }
  function height() {
    return Math.round(Math.min(560, Math.max(260, (canvas.clientWidth || 600) * 0.62)));
  }

  function paint() {
    if (!canvas.isConnected) return;
    const ratio = devicePixelRatio || 1;
    const [wide, tall] = [canvas.clientWidth, height()];
    if (size !== `${wide}x${tall}x${ratio}`) {
      canvas.width = Math.round(wide * ratio);
      canvas.height = Math.round(tall * ratio);
      canvas.style.height = `${tall}px`;
      size = `${wide}x${tall}x${ratio}`;
    }
    const pen = canvas.getContext("2d");
    pen.setTransform(ratio, 0, 0, ratio, 0, 0);
    pen.clearRect(0, 0, wide, tall);
    const { scale, left, top } = frame();
    const { toward, flat } = view(at.turn, at.tilt);
    const paper = (point) => {
      const [x, y] = flat(point);
      return [left + x * scale, top + y * scale];
    };
    const inks = colours(root);
    pen.lineJoin = "round";
    walk(scene().tree, toward, (one) => {
      for (const face of faces(one, toward)) shade(pen, face, face.corners.map(paper), inks, one.of);
    });
  }

  root.pull = pull;
  root.paint = paint;
  root.under = under;
  root.state = () => ({ ...at, out: Object.fromEntries(out), off: [...off] });
  return root;
}

function spread(list) {
  return Math.max(...list.map((one) => one.box[4])) - Math.min(...list.map((one) => one.box[1]));
}

/** What stands on the outermost left or right, whichever faces the viewer. */
function nearSide(boxes, turn) {
  const left = Math.sin(turn) > 0;
  const chest = boxes.filter((one) => !one.drawer);
  const edge = left ? Math.min(...chest.map((one) => one.box[0])) : Math.max(...chest.map((one) => one.box[3]));
  return (one) => !one.drawer && one.box[3] - one.box[0] < 60 && Math.abs((left ? one.box[0] : one.box[3]) - edge) < 220;
}

function colours(root) {
  const style = getComputedStyle(root);
  const of = (name) => style.getPropertyValue(name).trim();
  return { line: of("--ink"), wood: [of("--wood-3"), of("--wood-2"), of("--wood")], gear: [of("--gear-3"), of("--gear-2"), of("--gear")], bed: [of("--well"), of("--well"), of("--hair")] };
}

/** A face: filled by the way it looks, its true edges drawn. */
function shade(pen, face, corners, inks, of) {
  const tone = { gear: inks.gear, loose: inks.gear, well: inks.bed, bed: inks.bed }[of.kind] ?? inks.wood;
  pen.fillStyle = tone[face.axis];
  pen.beginPath();
  corners.forEach(([x, y], i) => (i ? pen.lineTo(x, y) : pen.moveTo(x, y)));
  pen.closePath();
  pen.fill();
  pen.strokeStyle = tone[face.axis];
  pen.lineWidth = 0.6;
  pen.stroke();
  pen.strokeStyle = inks.line;
  pen.lineWidth = of.kind === "gear" ? 0.7 : 1;
  pen.beginPath();
  face.edges.forEach((drawn, i) => {
    if (!drawn) return;
    pen.moveTo(...corners[i]);
    pen.lineTo(...corners[(i + 1) % 4]);
  });
  pen.stroke();
}

/** Drags with any pointer; a press that did not move is a press. */
export function dragged(element, move, press) {
  let last = null;
  let moved = 0;
  element.addEventListener("pointerdown", (event) => {
    if (event.button > 0) return;
    last = [event.clientX, event.clientY];
    moved = 0;
    element.setPointerCapture(event.pointerId);
  });
  element.addEventListener("pointermove", (event) => {
    if (!last) return;
    const [dx, dy] = [event.clientX - last[0], event.clientY - last[1]];
    moved += Math.abs(dx) + Math.abs(dy);
    last = [event.clientX, event.clientY];
    if (moved > 3) move(dx, dy);
  });
  element.addEventListener("pointerup", (event) => {
    if (last && moved <= 3) {
      const { left, top } = element.getBoundingClientRect();
      press(event.clientX - left, event.clientY - top);
    }
    last = null;
  });
  element.addEventListener("pointercancel", () => {
    last = null;
  });
}
