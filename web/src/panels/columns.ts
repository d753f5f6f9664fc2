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
import { say } from "../texts/say.ts";
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

/** Posts: where, how long, how deep, what is sawn off, what carries least. */
export function postColumns(system: System): Column<PostRow>[] {
  return [
    { key: "id", title: say("post"), text: (row) => row.id },
    { key: "line", title: say("line"), text: (row) => row.line },
    {
      key: "station",
      title: say("station"),
      text: (row) => showLong(row.station_m, system),
      value: (row) => row.station_m,
      isNumber: true,
    },
    { key: "role", title: say("role"), text: (row) => row.role },
    {
      key: "stock",
      title: say("stock"),
      text: (row) => showStock(row.stock_length_m, system),
      value: (row) => row.stock_length_m,
      isNumber: true,
    },
    {
      key: "diameter",
      title: say("diameter"),
      text: (row) => showSmall(row.diameter_m, system),
      value: (row) => row.diameter_m,
      isNumber: true,
    },
    {
      key: "height",
      title: say("above_ground"),
      text: (row) => showSmall(row.above_ground_m, system),
      value: (row) => row.above_ground_m,
      isNumber: true,
    },
    {
      key: "cut",
      title: say("cut"),
      text: (row) => (row.cut ? showSmall(row.cut_m, system) : say("to_string")),
      value: (row) => row.cut_m,
      isNumber: true,
    },
    {
      key: "hole",
      title: say("hole"),
      text: (row) => `${showSmall(row.hole_diameter_m, system)} × ${showSmall(row.hole_depth_m, system)}`,
      value: (row) => row.hole_depth_m,
      isNumber: true,
    },
    { key: "set", title: say("set"), text: (row) => row.set },
    {
      key: "bags",
      title: say("bags"),
      text: (row) => showNumber(row.bags, 1),
      value: (row) => row.bags,
      isNumber: true,
    },
    {
      key: "utilisation",
      title: say("utilisation"),
      text: (row) => showShare(row.utilisation),
      value: (row) => row.utilisation,
      isNumber: true,
    },
    { key: "governs", title: say("governs"), text: (row) => row.governs ?? "" },
  ];
}

export function orderColumns(): Column<OrderRow>[] {
  return [
    { key: "item", title: say("item"), text: (row) => row.item },
    { key: "size", title: say("size"), text: (row) => row.size },
    {
      key: "net",
      title: say("net"),
      text: (row) => showNumber(row.net, decimalsOf(row.net)),
      value: (row) => row.net,
      isNumber: true,
    },
    {
      key: "order",
      title: say("to_order"),
      text: (row) => showNumber(row.order, decimalsOf(row.order)),
      value: (row) => row.order,
      isNumber: true,
    },
    { key: "unit", title: say("unit"), text: (row) => row.unit },
    { key: "why", title: say("what_for"), text: (row) => row.why },
  ];
}

function decimalsOf(value: number | null): number {
  return value === null || Number.isInteger(value) ? 0 : 1;
}

export function rollColumns(system: System): Column<RollRow>[] {
  const pieces = (row: RollRow) =>
    row.pieces
      .map((piece) => `${piece.pull} ${showLong(piece.from_m, system)} – ${showLong(piece.to_m, system)}`)
      .join("; ");
  return [
    { key: "id", title: say("roll"), text: (row) => row.id },
    { key: "product", title: say("rail"), text: (row) => row.product },
    {
      key: "length",
      title: say("length"),
      text: (row) => showLong(row.length_m, system),
      value: (row) => row.length_m,
      isNumber: true,
    },
    {
      key: "used",
      title: say("used"),
      text: (row) => showLong(row.used_m, system),
      value: (row) => row.used_m,
      isNumber: true,
    },
    {
      key: "offcut",
      title: say("offcut"),
      text: (row) => showLong(row.offcut_m, system),
      value: (row) => row.offcut_m,
      isNumber: true,
    },
    { key: "pieces", title: say("pieces"), text: pieces },
  ];
}

export function pullColumns(system: System): Column<PullRow>[] {
  return [
    { key: "id", title: say("pull"), text: (row) => row.id },
    { key: "line", title: say("line"), text: (row) => row.line },
    { key: "from", title: say("from"), text: (row) => row.from_post },
    { key: "to", title: say("to"), text: (row) => row.to_post },
    {
      key: "length",
      title: say("length"),
      text: (row) => showLong(row.length_m, system),
      value: (row) => row.length_m,
      isNumber: true,
    },
    {
      key: "rail",
      title: say("rail_to_cut"),
      text: (row) => showLong(row.rail_m, system),
      value: (row) => row.rail_m,
      isNumber: true,
    },
    {
      key: "turning",
      title: say("turning"),
      text: (row) => `${showNumber(((row.turning_rad ?? Number.NaN) * 180) / Math.PI)}°`,
      value: (row) => row.turning_rad,
      isNumber: true,
    },
  ];
}

export function tensionColumns(system: System): Column<TensionRow>[] {
  return [
    { key: "pull", title: say("pull"), text: (row) => row.pull },
    {
      key: "set",
      title: say("set_tension"),
      text: (row) =>
        `${showForce(row.set_tension_n, system)} @ ${showTemperature(row.reference_temperature_c, system)}`,
      value: (row) => row.set_tension_n,
      isNumber: true,
    },
    {
      key: "window",
      title: say("window"),
      text: (row) => `${showForce(row.window_n[0], system)} – ${showForce(row.window_n[1], system)}`,
    },
    { key: "tensioner", title: say("tensioner"), text: (row) => row.tensioner_post },
    { key: "anchor", title: say("anchor"), text: (row) => row.anchor_post },
    {
      key: "turns",
      title: say("turns"),
      text: (row) => showNumber(row.turns, 1),
      value: (row) => row.turns,
      isNumber: true,
    },
    {
      key: "regrips",
      title: say("regrips"),
      text: (row) => showNumber(row.regrips),
      value: (row) => row.regrips,
      isNumber: true,
    },
    {
      key: "stretch",
      title: say("stretch"),
      text: (row) => showSmall(row.stretch_m, system),
      value: (row) => row.stretch_m,
      isNumber: true,
    },
    {
      key: "sag",
      title: say("sag_hot"),
      text: (row) => showSmall(row.sag_hot_m, system),
      value: (row) => row.sag_hot_m,
      isNumber: true,
    },
  ];
}

export function siteCheckColumns(system: System): Column<SiteCheckRow>[] {
  return [
    { key: "pull", title: say("pull"), text: (row) => row.pull },
    { key: "post", title: say("post"), text: (row) => row.post },
    { key: "place", title: say("place"), text: (row) => row.place },
    {
      key: "temperature",
      title: say("rail_temperature"),
      text: (row) => showTemperature(row.rail_temperature_c, system),
      value: (row) => row.rail_temperature_c,
      isNumber: true,
    },
    {
      key: "span",
      title: say("span"),
      text: (row) => showLong(row.span_m, system),
      value: (row) => row.span_m,
      isNumber: true,
    },
    {
      key: "tension",
      title: say("tension"),
      text: (row) => showForce(row.tension_n, system),
      value: (row) => row.tension_n,
      isNumber: true,
    },
    {
      key: "deflection",
      title: `${say("deflection")}`,
      text: (row) =>
        `${showSmall(row.deflection_pinned_m, system)} – ${showSmall(row.deflection_sliding_m, system)}`,
      value: (row) => row.deflection_sliding_m,
      isNumber: true,
    },
    {
      key: "push",
      title: say("push"),
      text: (row) => showForce(row.push_n, system),
      value: (row) => row.push_n,
      isNumber: true,
    },
    {
      key: "beats",
      title: say("beats"),
      text: (row) => showNumber((row.frequency_hz ?? Number.NaN) * 60),
      value: (row) => row.frequency_hz,
      isNumber: true,
    },
  ];
}

export function checkColumns(system: System): Column<CheckRow>[] {
  const amount = (value: number | null, row: CheckRow) =>
    row.unit === "N"
      ? showForce(value, system)
      : row.unit === "m"
        ? showSmall(value, system)
        : `${showNumber(value)} ${row.unit}`;
  return [
    { key: "post", title: say("post"), text: (row) => row.post },
    { key: "part", title: say("part"), text: (row) => (row.brace ? `${row.part} ${row.brace}` : row.part) },
    {
      key: "check",
      title: say("check"),
      text: (row) => (row.counted ? row.check : `${row.check} (${say("not_counted")})`),
    },
    { key: "case", title: say("load_case"), text: (row) => row.case },
    {
      key: "demand",
      title: say("demand"),
      text: (row) => amount(row.demand, row),
      value: (row) => row.demand,
      isNumber: true,
    },
    {
      key: "capacity",
      title: say("capacity"),
      text: (row) => amount(row.capacity, row),
      value: (row) => row.capacity,
      isNumber: true,
    },
    {
      key: "utilisation",
      title: say("utilisation"),
      text: (row) => showShare(row.utilisation),
      value: (row) => row.utilisation,
      isNumber: true,
    },
    {
      key: "source",
      title: say("source"),
      text: (row) => [row.source, row.clause].filter(Boolean).join(", "),
    },
  ];
}
