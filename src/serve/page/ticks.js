// Round numbers along an axis.

/** About `wanted` round steps from `low` to `high`, both ends covered. */
export function ticks(low, high, wanted = 5) {
  if (!(high > low)) {
    const pad = Math.abs(low) > 0 ? Math.abs(low) * 0.1 : 1;
    return ticks(low - pad, low + pad, wanted);
  }
  const rough = (high - low) / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((f) => f * power).find((s) => s >= rough * 0.999) ?? 10 * power;
  const list = [];
  for (let i = Math.floor(low / step + 1e-9); i * step <= high + step * 0.999; i += 1) {
    list.push(Number((i * step).toPrecision(12)));
    if (list.at(-1) >= high) break;
  }
  return list;
}
