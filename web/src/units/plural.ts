/** Plurals of the program's English names of units, as it writes them itself (quantity/show.py; compared by a test). */

const SYMBOLS: ReadonlySet<string> = new Set([
  "gal",
  "lbf",
  "lbs",
  "kgf",
  "kip",
  "psi",
  "psf",
  "ksi",
  "pcf",
  "kPa",
  "MPa",
  "GPa",
  "mph",
  "rad",
  "deg",
  "min",
]);
const WITHOUT_PLURAL: ReadonlySet<string> = new Set(["each", "dozen", "gross"]);

/** The plural of a name: `rolls`, `boxes`, `deliveries`; what has none stays: `m3`, `each`, `days`. */
export function plural(unit: string): string {
  if (!isName(unit) || WITHOUT_PLURAL.has(unit) || /[^s]s$/.test(unit)) return unit;
  if (unit === "foot") return "feet";
  if (/(s|x|z|ch|sh)$/.test(unit)) return `${unit}es`;
  return /[^aeiou]y$/.test(unit) ? `${unit.slice(0, -1)}ies` : `${unit}s`;
}

function isName(unit: string): boolean {
  return /^[A-Za-z]{3,}$/.test(unit) && unit !== unit.toUpperCase() && !SYMBOLS.has(unit);
}
