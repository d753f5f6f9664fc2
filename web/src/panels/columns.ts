/** What the tables of the page show, column by column, in the job's units. */

import type {
  CheckRow,
  OrderRow,
  PostRow,
  PullRow,
  RollRow,
  SiteCheckRow,
  TensionRow,
} from "../api/records.ts";
import { inPage, langOf } from "../texts/program.ts";
import { type Key, say } from "../texts/say.ts";
import {
  type System,
  showForce,
  showLong,
  showNumber,
  showShare,
  showSmall,
  showStock,
  showTemperature,
} from "../units/show.ts";
import type { Column } from "./rows.ts";

type Amount = number | null | undefined;

/** A text of a row; a column that is still being computed has none. */
type Words<Row> = (row: Row) => string | undefined;

/** A column of names, numbered or not: what the row has is what is shown. */
function names<Row>(key: string, title: Key, of: Words<Row>): Column<Row> {
  return { key, title: say(title), text: (row) => of(row) ?? "" };
}

/** A column of the program's own words, in the page's language where that is known. */
function words<Row>(key: string, title: Key, of: Words<Row>): Column<Row> {
  return {
    key,
    title: say(title),
    text: (row) => inPage(of(row) ?? ""),
    lang: (row) => langOf(of(row) ?? ""),
  };
}

/** A column of words that may run long. */
function sentences<Row>(key: string, title: Key, of: Words<Row>): Column<Row> {
  return { ...words(key, title, of), isLong: true };
}

/** A column of numbers: shown in the job's units, sorted by their size. */
function amounts<Row>(
  key: string,
  title: Key,
  value: (row: Row) => Amount,
  show: (amount: Amount, row: Row) => string,
): Column<Row> {
  return { key, title: say(title), text: (row) => show(value(row), row), value, isNumber: true };
}

/** Ways to show an amount in the job's units. */
function unitsOf(system: System) {
  return {
    long: (length_m: Amount) => showLong(length_m, system),
    small: (length_m: Amount) => showSmall(length_m, system),
    stock: (length_m: Amount) => showStock(length_m, system),
    force: (force_n: Amount) => showForce(force_n, system),
    temperature: (temperature_c: Amount) => showTemperature(temperature_c, system),
  };
}

const whole = (amount: Amount) => showNumber(amount);
const tenths = (amount: Amount) => showNumber(amount, 1);
const asNeeded = (amount: Amount) => showNumber(amount, Number.isInteger(amount ?? 0) ? 0 : 1);

/** Posts: where, how long, how deep, what is sawn off, what carries least. */
export function postColumns(system: System): Column<PostRow>[] {
  const { long, small, stock } = unitsOf(system);
  return [
    names("id", "post", (row) => row.id),
    names("line", "line", (row) => row.line),
    amounts("station", "station", (row) => row.station_m, long),
    words("role", "role", (row) => row.role),
    amounts("stock", "stock", (row) => row.stock_length_m, stock),
    amounts("diameter", "diameter", (row) => row.diameter_m, small),
    amounts("height", "above_ground", (row) => row.above_ground_m, small),
    amounts(
      "cut",
      "cut",
      (row) => row.cut_m,
      (cut_m, row) => (row.cut ? small(cut_m) : say("to_string")),
    ),
    amounts(
      "hole",
      "hole",
      (row) => row.hole_depth_m,
      (depth_m, row) => `${small(row.hole_diameter_m)} × ${small(depth_m)}`,
    ),
    words("set", "set", (row) => row.set),
    amounts("bags", "bags", (row) => row.bags, tenths),
    amounts("utilisation", "utilisation", (row) => row.utilisation, showShare),
    sentences("governs", "governs", (row) => row.governs ?? undefined),
  ];
}

export function orderColumns(): Column<OrderRow>[] {
  return [
    sentences("item", "item", (row) => row.item),
    { key: "size", title: say("size"), text: (row) => inPage(row.size), isLong: true },
    amounts("net", "net", (row) => row.net, asNeeded),
    amounts("order", "to_order", (row) => row.order, asNeeded),
    words("unit", "unit", (row) => row.unit),
    { ...sentences<OrderRow>("why", "what_for", (row) => row.why), isWide: true },
  ];
}

export function rollColumns(system: System): Column<RollRow>[] {
  const { long } = unitsOf(system);
  const pieces = (row: RollRow) =>
    row.pieces.map((piece) => `${piece.pull} ${long(piece.from_m)} – ${long(piece.to_m)}`);
  return [
    names("id", "roll", (row) => row.id),
    sentences("product", "rail", (row) => row.product),
    amounts("length", "length", (row) => row.length_m, long),
    amounts("used", "used", (row) => row.used_m, long),
    amounts("offcut", "offcut", (row) => row.offcut_m, long),
    { ...names("pieces", "pieces", (row: RollRow) => pieces(row).join("; ")), parts: pieces, isLong: true },
  ];
}

export function pullColumns(system: System): Column<PullRow>[] {
  const { long } = unitsOf(system);
  const degrees = (turning_rad: Amount) => `${showNumber(((turning_rad ?? Number.NaN) * 180) / Math.PI)}°`;
  return [
    names("id", "pull", (row) => row.id),
    names("line", "line", (row) => row.line),
    names("from", "from", (row) => row.from_post),
    names("to", "to", (row) => row.to_post),
    amounts("length", "length", (row) => row.length_m, long),
    amounts("rail", "rail_to_cut", (row) => row.rail_m, long),
    amounts("turning", "turning", (row) => row.turning_rad, degrees),
  ];
}

export function tensionColumns(system: System): Column<TensionRow>[] {
  const { small, force, temperature } = unitsOf(system);
  return [
    names("pull", "pull", (row) => row.pull),
    amounts(
      "set",
      "set_tension",
      (row) => row.set_tension_n,
      (tension_n, row) => `${force(tension_n)} @ ${temperature(row.reference_temperature_c)}`,
    ),
    names("window", "window", (row) => `${force(row.window_n[0])} – ${force(row.window_n[1])}`),
    names("tensioner", "tensioner", (row) => row.tensioner_post),
    names("anchor", "anchor", (row) => row.anchor_post),
    amounts("turns", "turns", (row) => row.turns, tenths),
    amounts("regrips", "regrips", (row) => row.regrips, whole),
    amounts("stretch", "stretch", (row) => row.stretch_m, small),
    amounts("sag", "sag_hot", (row) => row.sag_hot_m, small),
  ];
}

export function siteCheckColumns(system: System): Column<SiteCheckRow>[] {
  const { long, small, force, temperature } = unitsOf(system);
  const aMinute = (frequency_hz: Amount) => showNumber((frequency_hz ?? Number.NaN) * 60);
  return [
    names("pull", "pull", (row) => row.pull),
    names("post", "post", (row) => row.post),
    sentences("place", "place", (row) => row.place),
    amounts("temperature", "rail_temperature", (row) => row.rail_temperature_c, temperature),
    amounts("span", "span", (row) => row.span_m, long),
    amounts("tension", "tension", (row) => row.tension_n, force),
    amounts(
      "deflection",
      "deflection",
      (row) => row.deflection_sliding_m,
      (sliding_m, row) => `${small(row.deflection_pinned_m)} – ${small(sliding_m)}`,
    ),
    amounts("push", "push", (row) => row.push_n, force),
    amounts("beats", "beats", (row) => row.frequency_hz, aMinute),
  ];
}

export function checkColumns(system: System): Column<CheckRow>[] {
  const { small, force } = unitsOf(system);
  const inItsUnit = (amount: Amount, { unit }: CheckRow) =>
    unit === "N" ? force(amount) : unit === "m" ? small(amount) : `${whole(amount)} ${unit}`;
  const check = (row: CheckRow) =>
    row.counted ? inPage(row.check) : `${inPage(row.check)} (${say("not_counted")})`;
  return [
    names("post", "post", (row) => row.post),
    names("part", "part", (row) => (row.brace ? `${inPage(row.part)} ${row.brace}` : inPage(row.part))),
    { ...names("check", "check", check), isLong: true },
    amounts("utilisation", "utilisation", (row) => row.utilisation, showShare),
    sentences("case", "load_case", (row) => row.case),
    amounts("demand", "demand", (row) => row.demand, inItsUnit),
    amounts("capacity", "capacity", (row) => row.capacity, inItsUnit),
    {
      ...names<CheckRow>("source", "source", (row) => [row.source, row.clause].filter(Boolean).join(", ")),
      lang: () => "en",
      isLong: true,
    },
  ];
}
