/** SI numbers to text in the job's units, as the sheets print them. */

export type System = "us" | "metric";

export const FOOT_M = 0.3048;
export const INCH_M = 0.0254;
const POUND_FORCE_N = 4.4482216152605;
const UNKNOWN = "–";

/** A fence-sized length: `627.5 ft` or `191.26 m`. */
export function showLong(length_m: number | null | undefined, system: System): string {
  if (!isKnown(length_m)) return UNKNOWN;
  return system === "us" ? `${grouped(length_m / FOOT_M, 1)} ft` : `${grouped(length_m, 2)} m`;
}

/** A post-sized length: `54 1/8 in` or `1375 mm`. */
export function showSmall(length_m: number | null | undefined, system: System): string {
  if (!isKnown(length_m)) return UNKNOWN;
  return system === "us" ? `${fraction(length_m / INCH_M, 8)} in` : `${grouped(length_m * 1000, 0)} mm`;
}

/** A small length as it stands in a field: as it is shown, but that no digits are grouped. */
export function smallInField(length_m: number | null | undefined, system: System): string {
  if (!isKnown(length_m)) return "";
  return system === "us" ? showSmall(length_m, system) : `${(length_m * 1000).toFixed(0)} mm`;
}

/** A post's stock length: `8 ft` or `2.44 m`. */
export function showStock(length_m: number | null | undefined, system: System): string {
  if (!isKnown(length_m)) return UNKNOWN;
  return system === "us" ? `${Number((length_m / FOOT_M).toPrecision(6))} ft` : `${length_m.toFixed(2)} m`;
}

/** A force: `250 lbf`, `940 N` or `1.11 kN`. */
export function showForce(force_n: number | null | undefined, system: System): string {
  if (!isKnown(force_n)) return UNKNOWN;
  if (system === "us") return `${grouped(force_n / POUND_FORCE_N, 0)} lbf`;
  return Math.abs(force_n) >= 1000 ? `${grouped(force_n / 1000, 2)} kN` : `${grouped(force_n, 0)} N`;
}

/** A temperature: `68 F` or `20 C`. */
export function showTemperature(temperature_c: number | null | undefined, system: System): string {
  if (!isKnown(temperature_c)) return UNKNOWN;
  const shown = system === "us" ? temperature_c * 1.8 + 32 : temperature_c;
  return `${rounded(shown, 0)} ${system === "us" ? "F" : "C"}`;
}

/** A share as a percentage: `88 %`. */
export function showShare(share: number | null | undefined): string {
  return isKnown(share) ? `${rounded(share * 100, 0)} %` : UNKNOWN;
}

/** A plain number with at most so many decimals, its thousands grouped. */
export function showNumber(value: number | null | undefined, decimals = 0): string {
  return isKnown(value) ? grouped(value, decimals) : UNKNOWN;
}

function isKnown(value: number | null | undefined): value is number {
  return typeof value === "number" && Number.isFinite(value);
}

/**
 * Grouped by commas, with a decimal point, in every language of the page: the program's papers and job file have it so,
 * and so do Mexico, Central America, Peru and the Spanish of the United States. A decimal comma beside `1,500 ft` would
 * be read two ways; where one is typed, the program refuses it in a sentence.
 */
function grouped(value: number, decimals: number): string {
  return withCommas(rounded(value, decimals));
}

/** A number written in digits, its thousands set apart by commas: what the browser's own does, in a tenth of the time. */
export function withCommas(digits: string): string {
  const point = digits.indexOf(".");
  const whole = point < 0 ? digits : digits.slice(0, point);
  return whole.replace(/(?<=\d)(?=(\d{3})+$)/g, ",") + digits.slice(whole.length);
}

/** Rounded to decimals, never written as minus zero. */
function rounded(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
}

function fraction(value: number, denominator: number): string {
  const parts = Math.round(Math.abs(value) * denominator);
  const whole = Math.floor(parts / denominator);
  let top = parts % denominator;
  let bottom = denominator;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const sign = value < 0 && parts > 0 ? "-" : "";
  if (top === 0) return `${sign}${whole}`;
  return whole > 0 ? `${sign}${whole} ${top}/${bottom}` : `${sign}${top}/${bottom}`;
}
