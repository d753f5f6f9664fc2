/** Price and programme of the job: they follow the design, and say so where the job has not what they need. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { say } from "../texts/say.ts";
import { type System, showNumber } from "../units/show.ts";
import type { Column } from "./rows.ts";
import "./table.ts";

interface PriceLine {
  item: string;
  quantity: number | null;
  unit: string;
  unit_price: number | string | null;
  amount: number | string | null;
  source: string;
  name?: string;
  size?: string;
}

interface PriceFile {
  lines: PriceLine[];
  total: number | string | null;
  currency: string;
  missing: (string | { item?: string; name?: string })[];
  per_foot?: number | string | null;
  per_metre?: number | string | null;
  steps?: { name: string; rate: number | null; amount: number | string | null }[];
  alternatives?: {
    name: string;
    change: string;
    total: number | string | null;
    difference: number | string | null;
  }[];
  p50: number | string | null;
  p80: number | string | null;
  p95: number | string | null;
}

interface Activity {
  id: string;
  name: string;
  start: string;
  finish: string;
  float_days: number | null;
  critical: boolean;
  crew: unknown;
}

interface ProgrammeFile {
  activities: Activity[];
  finish: string;
}

@customElement("job-part")
export class JobPart extends LitElement {
  static override styles = [
    controls,
    css`table { border-collapse: collapse; font-variant-numeric: tabular-nums; } th { text-align: left; font-weight: 400; padding: 0.3rem 1rem 0.3rem 0; } td { padding: 0.3rem 0 0.3rem 1rem; } .number { text-align: right; white-space: nowrap; } summary { min-height: 2.75rem; display: flex; align-items: center; cursor: pointer; font-weight: 600; } summary::before { content: "▸"; margin-right: 0.5rem; } details[open] > summary::before { content: "▾"; }
    .total { font-size: 1.5rem; font-weight: 700; font-variant-numeric: tabular-nums; } img { width: 100%; height: auto; background: #fff; }`,
  ];

  @property() kind: "price" | "programme" = "price";
  @property() jobId = "";
  @property() system: System = "us";
  @property({ type: Number }) head = 0;
  @state() private price: PriceFile | null = null;
  @state() private programme: ProgrammeFile | null = null;
  @state() private refused = "";
  @state() private isBusy = false;

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("kind") || changed.has("head") || changed.has("jobId")) void this.load();
  }

  private async load(): Promise<void> {
    const wanted = `${this.kind} ${this.head}`;
    this.isBusy = true;
    try {
      const record = await api.part<PriceFile | ProgrammeFile>(this.jobId, this.kind);
      if (wanted !== `${this.kind} ${this.head}`) return;
      if (this.kind === "price") this.price = record as PriceFile;
      else this.programme = record as ProgrammeFile;
      this.refused = "";
    } catch (error) {
      if (wanted !== `${this.kind} ${this.head}`) return;
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
    this.isBusy = false;
  }

  override render(): TemplateResult {
    return html`<h2>${say(`panel_${this.kind}`)}</h2>
      ${this.isBusy ? html`<p class="quiet" role="status">${say("following", { stages: say(`panel_${this.kind}`) })}</p>` : nothing}
      ${this.refused ? html`<p class="refused" role="alert">${this.refused}</p>` : this.kind === "price" ? this.priced(this.price) : this.planned(this.programme)}`;
  }

  private priced(price: PriceFile | null): TemplateResult | typeof nothing {
    if (!price) return nothing;
    const money = (value: number | string | null) =>
      value === null
        ? "–"
        : Number(value).toLocaleString("en-US", { minimumFractionDigits: 2, maximumFractionDigits: 2 });
    const columns: Column<PriceLine>[] = [
      {
        key: "item",
        title: say("item"),
        text: (row) => [row.name ?? row.item, row.size].filter(Boolean).join(", "),
      },
      {
        key: "quantity",
        title: say("quantity"),
        text: (row) =>
          `${showNumber(row.quantity, row.quantity !== null && Number.isInteger(row.quantity) ? 0 : 2)} ${row.unit}`,
        value: (row) => row.quantity,
        isNumber: true,
      },
      {
        key: "unit_price",
        title: say("unit_price"),
        text: (row) => money(row.unit_price),
        value: (row) => (row.unit_price === null ? null : Number(row.unit_price)),
        isNumber: true,
      },
      {
        key: "amount",
        title: say("amount"),
        text: (row) => (row.amount === null ? say("missing_price") : money(row.amount)),
        value: (row) => (row.amount === null ? null : Number(row.amount)),
        isNumber: true,
      },
      { key: "source", title: say("source"), text: (row) => row.source },
    ];
    const per = this.system === "us" ? price.per_foot : price.per_metre;
    const others = price.alternatives ?? [];
    return html`<p class="total">${price.currency} ${money(price.total)}</p>
      ${per === null || per === undefined ? nothing : html`<p>${price.currency} ${money(per)} ${say(this.system === "us" ? "per_foot" : "per_metre")}</p>`}
      ${price.missing.length ? html`<p class="refused">${say("total_leaves_out", { count: price.missing.length })}</p><p>${leftOut(price.missing)}</p>` : nothing}
      ${price.total === null ? html`<p>${say("no_price_book")}</p>` : nothing}
      ${price.p50 === null || price.p50 === undefined ? nothing : html`<p>${say("risk_of_price", { p50: money(price.p50), p80: money(price.p80), p95: money(price.p95) })}</p>`}
      ${
        others.length
          ? html`<h3>${say("alternatives")}</h3><div class="wide"><table><tbody>${others.map((one) => html`<tr><th scope="row">${one.name}</th><td class="number">${money(one.total)}</td><td class="number">${Number(one.difference) > 0 ? "+" : ""}${money(one.difference)}</td></tr>`)}</tbody></table></div>`
          : nothing
      }
      ${
        price.steps?.length
          ? html`<details><summary>${say("how_it_adds_up")}</summary><div class="wide"><table><tbody>${price.steps.map((step) => html`<tr><th scope="row">${step.name}</th><td class="number">${money(step.amount)}</td></tr>`)}</tbody></table></div></details>`
          : nothing
      }
      <h3>${say("lines_of_price")}</h3>
      <fence-table name="price" .heading=${say("panel_price")} .columns=${columns} .rows=${price.lines}></fence-table>`;
  }

  private planned(programme: ProgrammeFile | null): TemplateResult | typeof nothing {
    if (!programme) return nothing;
    const columns: Column<Activity>[] = [
      { key: "name", title: say("activity"), text: (row) => row.name },
      { key: "start", title: say("start"), text: (row) => row.start },
      { key: "finish", title: say("finish"), text: (row) => row.finish },
      {
        key: "float",
        title: say("float"),
        text: (row) => (row.critical ? say("critical") : showNumber(row.float_days, 1)),
        value: (row) => row.float_days,
        isNumber: true,
      },
    ];
    return html`<p class="total">${say("finish")}: ${programme.finish}</p>
      <img src=${api.lookAddress(this.jobId, "programme.svg", this.head)} alt=${say("panel_programme")} />
      <fence-table name="programme" .heading=${say("panel_programme")} .columns=${columns} .rows=${programme.activities}></fence-table>`;
  }
}

/** What has no price, each named once, the first of many. */
function leftOut(missing: PriceFile["missing"]): string {
  const names = new Set(missing.map((one) => (typeof one === "string" ? one : (one.name ?? one.item ?? ""))));
  const most = 12;
  return [...names].slice(0, most).join(", ") + (names.size > most ? ", …" : "");
}

declare global {
  interface HTMLElementTagNameMap {
    "job-part": JobPart;
  }
}
