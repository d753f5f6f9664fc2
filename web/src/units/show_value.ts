/** A value of the program's reasons, in SI, to text in the job's units: with as many decimals as a builder reads. */

import {
  FOOT_M,
  INCH_M,
  type System,
  showForce,
  showLong,
  showNumber,
  showSmall,
  showTemperature,
} from "./show.ts";

const UNKNOWN = "–";
/** Lengths up to here are told as a post's, in inches; up to the next in feet and inches; then as a fence's. */
const SMALL_M = 2;
const FEET_INCHES_M = 6;
/** Less than this has more digits than a fraction of an inch. */
const FINE_M = INCH_M / 4;
const POUND_FORCE_N = 4.4482216152605;
const POUND_KG = 0.45359237;
const PSI_PA = POUND_FORCE_N / INCH_M ** 2;
const LONG_WAIT_H = 48;
/** What a computation leaves of nothing. */
const NOTHING = 1e-9;
const DAY_H = 24;

/** Units that are only scaled: how large one is, its name, and how many figures are read. */
type Scale = readonly [size: number, name: string, figures: number];

const SCALES: Record<System, Readonly<Record<string, Scale>>> = {
  us: {
    m2: [FOOT_M ** 2, "ft²", 4],
    m3: [FOOT_M ** 3, "ft³", 4],
    "N m": [POUND_FORCE_N * FOOT_M, "lbf ft", 4],
    "N/m": [POUND_FORCE_N / FOOT_M, "lbf/ft", 3],
    "Pa/m": [POUND_FORCE_N / FOOT_M ** 3, "psf/ft", 4],
    "m/N": [INCH_M / (1000 * POUND_FORCE_N), "in per 1,000 lbf", 3],
    "m/s": [(FOOT_M * 5280) / 3600, "mph", 3],
    "m/h": [FOOT_M, "ft/h", 3],
    "m3/h": [FOOT_M ** 3, "ft³/h", 3],
    "1/C": [1.8, "1/°F", 3],
    "rad/m": [Math.PI / 180 / FOOT_M, "°/ft", 3],
    kg: [POUND_KG, "lb", 4],
    K: [1 / 1.8, "°F", 3],
    "W/m2": [1, "W/m²", 4],
  },
  metric: {
    m2: [1, "m²", 4],
    m3: [1, "m³", 4],
    "N m": [1000, "kN m", 4],
    "N/m": [1, "N/m", 3],
    "Pa/m": [1000, "kPa/m", 4],
    "m/N": [1e-6, "mm per kN", 3],
    "m/s": [1, "m/s", 3],
    "m3/h": [1, "m³/h", 3],
    "1/C": [1, "1/°C", 3],
    "rad/m": [Math.PI / 180, "°/m", 3],
    K: [1, "°C", 3],
    "W/m2": [1, "W/m²", 4],
  },
};

type Value = number | string | readonly (number | null)[] | null;

/** Gives a unit that is a word (`piece`) in the page's language, as it stands after a number. */
type Word = (unit: string, value: number) => string;

/** A value with its unit. */
export function showValue(value: Value, unit: string, system: System, word: Word = (text) => text): string {
  if (typeof value === "string") return value;
  if (value === null) return UNKNOWN;
  if (typeof value !== "number") return alike(value.map((one) => showValue(one, unit, system, word)));
  return Number.isFinite(value) ? shown(value, unit, system, word) : UNKNOWN;
}

function shown(value: number, unit: string, system: System, word: Word): string {
  const scale = SCALES[system][unit];
  if (scale) return `${figures(value / scale[0], scale[2])} ${scale[1]}`;
  switch (unit) {
    case "m":
      return length(value, system);
    case "N":
      return showForce(value, system);
    case "C":
      return showTemperature(value, system);
    case "Pa":
      return stress(value, system);
    case "rad":
      return `${angle((value * 180) / Math.PI)}°`;
    case "%":
      return `${figures(value * 100, 3)} %`;
    case "h":
      return value < LONG_WAIT_H
        ? `${figures(value, 3)} h`
        : `${showNumber(value / DAY_H, 1)} d (${figures(value, 3)} h)`;
    case "":
    case "1":
      return figures(value, 4);
  }
  if (/^[A-Z]{3}$/.test(unit)) return money(value, unit);
  const [counted = "", ...per] = unit.split("/");
  return `${figures(value, 4)} ${[word(counted, value), ...per.map((each) => word(each, 1))].join("/")}`;
}

function length(length_m: number, system: System): string {
  const size = Math.abs(length_m);
  if (size > 0 && size < FINE_M)
    return system === "us" ? `${figures(length_m / INCH_M, 2)} in` : `${figures(length_m * 1000, 2)} mm`;
  if (size < SMALL_M) return showSmall(length_m, system);
  return size < FEET_INCHES_M && system === "us" ? feetInches(length_m) : showLong(length_m, system);
}

/** `7' 6 1/2"`: as a post is measured. */
function feetInches(length_m: number): string {
  const eighths = Math.round((Math.abs(length_m) / INCH_M) * 8);
  const inches = showSmall(((eighths % 96) / 8) * INCH_M, "us").replace(" in", "");
  return `${length_m < 0 ? "-" : ""}${Math.floor(eighths / 96)}' ${inches}"`;
}

/** Psf of soil, psi of timber and steel; or kPa and MPa. */
function stress(stress_pa: number, system: System): string {
  const size = Math.abs(stress_pa);
  if (system === "us")
    return size < 100 * PSI_PA
      ? `${showNumber((stress_pa / PSI_PA) * 144)} psf`
      : `${showNumber(stress_pa / PSI_PA)} psi`;
  return size < 1e6 ? `${figures(stress_pa / 1e3, 4)} kPa` : `${figures(stress_pa / 1e6, 4)} MPa`;
}

/** Degrees: whole ones where that is what they are, else a tenth; small ones with two figures. */
function angle(degrees: number): string {
  return Math.abs(degrees) < 1 ? figures(degrees, 2) : trimmed(degrees, 1);
}

function money(value: number, currency: string): string {
  return new Intl.NumberFormat("en-US", { style: "currency", currency, currencyDisplay: "code" })
    .format(value)
    .replace("\u00a0", " ");
}

/** So many figures, whole numbers in full, and no exponent where it can be read without one. */
function figures(value: number, count: number): string {
  if (Math.abs(value) < NOTHING) return "0";
  const size = Math.floor(Math.log10(Math.abs(value)));
  if (Number.isInteger(value) || size >= count - 1) return trimmed(value, 0);
  return size < -6 ? value.toExponential(count - 1) : trimmed(value, count - 1 - size);
}

function trimmed(value: number, decimals: number): string {
  const text = Number(value.toFixed(decimals)).toLocaleString("en-US", { maximumFractionDigits: decimals });
  return text === "-0" ? "0" : text;
}

/** A list; the same value many times over is told once. */
function alike(texts: readonly string[]): string {
  const runs: [string, number][] = [];
  for (const text of texts) {
    const last = runs.at(-1);
    if (last && last[0] === text) last[1] += 1;
    else runs.push([text, 1]);
  }
  const told = runs.flatMap(([text, count]) =>
    count > 3 ? [`${count} × ${text}`] : Array(count).fill(text),
  );
  return told.join(", ") || UNKNOWN;
}
