// Figures come in litres, millimetres, kilograms and shares; they are shown in the unit that the program names.

const PER_UNIT = { "cu ft": 28.316846592, in: 25.4, ft: 304.8, lb: 0.45359237, "%": 0.01 };

/** A figure in the unit in which it is shown. */
export function inUnit(figure, unit) {
  return Number.isFinite(figure) ? figure / (PER_UNIT[unit] ?? 1) : figure;
}

/** A figure and its unit as one reads it: three digits or the whole number. */
export function shown(figure, unit) {
  if (!Number.isFinite(figure)) return "none";
  const value = inUnit(figure, unit);
  const digits = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2;
  const text = Number(value.toFixed(digits)).toString();
  return unit ? `${text} ${unit}` : text;
}

/** A length in millimetres as it is, in the scenario's units where these can say it to a sixty-fourth of an inch. */
export function exact(mm, units) {
  const parts = (mm / 25.4) * 64;
  return units === "mm" || Math.abs(parts - Math.round(parts)) > 1e-6 ? `${Number(mm.toFixed(6))} mm` : inches(Math.round(parts), 64);
}

/** So many parts of an inch, of which one has `of`. */
function inches(parts, of) {
  const [whole, rest] = [Math.floor(Math.abs(parts) / of), Math.abs(parts) % of];
  let [over, under] = [rest, of];
  while (over > 0 && over % 2 === 0) [over, under] = [over / 2, under / 2];
  const words = [whole > 0 || rest === 0 ? whole : "", rest > 0 ? `${over}/${under}` : ""].filter((part) => part !== "").join(" ");
  return `${parts < 0 ? "-" : ""}${words} in`;
}

/** A length in millimetres in the scenario's units, to a sixteenth of an inch or a millimetre: for drawings and notes beside them. */
export function length(mm, units) {
  if (units === "mm") return `${Math.round(mm)} mm`;
  return inches(Math.round((mm / 25.4) * 16), 16);
}

/**
 * Sides as people write them: `5 x 1 1/4`, `127 × 32 mm`, `4 ft by 8 ft`, as texts. A unit behind the last one alone is meant for
 * all of them.
 */
export function sides(text) {
  const list = text.trim().split(/\s*(?:[x×*]|\bby\b)\s*/i).filter((side) => side !== "");
  const unit = /^[\d\s./]+([a-z]+|["'″′])$/i.exec(list.at(-1) ?? "")?.[1];
  const bare = list.slice(0, -1);
  if (unit && bare.length && bare.every((side) => /^[\d\s./]+$/.test(side))) return [...bare.map((side) => `${side} ${unit}`), list.at(-1)];
  return list;
}
