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

/** A length in millimetres in the scenario's units, to a sixteenth of an inch or a millimetre: for drawings and notes beside them. */
export function length(mm, units) {
  if (units === "mm") return `${Math.round(mm)} mm`;
  const sixteenths = Math.round((Math.abs(mm) / 25.4) * 16);
  const [whole, rest] = [Math.floor(sixteenths / 16), sixteenths % 16];
  const shift = [1, 2, 4, 8].filter((by) => rest % by === 0).at(-1);
  const fraction = rest ? `${rest / shift}/${16 / shift}` : "";
  return `${mm < 0 ? "-" : ""}${[whole || !fraction ? whole : "", fraction].filter((part) => part !== "").join(" ")} in`;
}
