/** The price of the job: what it comes to and how likely it is kept, the prices that it is paid by, and what is missing. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { api, type JobState, type PricesAnswer } from "../api/client.ts";
import type { FindingRow } from "../api/records.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOf } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import { unitWord } from "../texts/unit_words.ts";
import { type System, showNumber } from "../units/show.ts";
import { disclosure } from "./disclosure.ts";
import type { SchemaNode } from "./fields.ts";
import type { JobForm } from "./job_form.ts";
import { answered } from "./kept_answers.ts";
import { parted } from "./price_rows.ts";
import { refusedWhole, type Told, toldOf } from "./refused.ts";
import type { Column } from "./rows.ts";
import "./findings.ts";
import "./job_form.ts";
import "./price_book.ts";
import "./price_fields.ts";
import "./price_new.ts";
import "./table.ts";

/** Terms that most jobs state; the others stand with the whole job. */
const TERMS = ["currency", "day", "overhead", "margin", "contingency", "distance", "tax", "tax_on"];

/** Said by the panel itself, with the fields that mend it. */
const SAID_HERE: ReadonlySet<string> = new Set(["price-book-missing", "price-missing"]);

type Money = number | null;

interface PriceLine {
  item: string;
  quantity: number | null;
  unit: string;
  unit_price: Money;
  amount: Money;
  source: string;
  name?: string;
  size?: string;
}

interface PriceFile {
  lines: PriceLine[];
  total: Money;
  currency: string | null;
  minor_digits: number;
  missing: unknown[];
  per_foot: Money;
  per_metre: Money;
  findings: readonly FindingRow[];
  steps: { name: string; amount: Money }[];
  alternatives: { name: string; total: Money; difference: Money }[];
  p50: Money;
  p80: Money;
  p95: Money;
  risk: { kept: number } | null;
}

/** The name by which a line's why is asked. */
function priceThing(row: PriceLine): string {
  return `price:${row.item}`;
}

@customElement("price-panel")
export class PricePanel extends LitElement {
  static override styles = [
    controls,
    disclosure,
    css`
      :host { display: block; }
      .wide table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
      th { text-align: left; font-weight: 400; padding: 0.3rem 1rem 0.3rem 0; }
      td { padding: 0.3rem 0 0.3rem 1rem; }
      .number { text-align: right; white-space: nowrap; }
      .total { font-size: 1.5rem; font-weight: 700; font-variant-numeric: tabular-nums; }
      .asks { font: inherit; font-variant-numeric: tabular-nums; border: 0; background: none; padding: 0; text-decoration: underline dotted; text-underline-offset: 4px; }
      @media (max-width: 30rem) { job-form { --field-width: 9rem; } }
      .whole { white-space: nowrap; }
      .kept { font-variant-numeric: tabular-nums; }
    `,
  ];

  @property({ attribute: false }) state: JobState | null = null;
  @property({ attribute: false }) schema: SchemaNode | null = null;
  @property() system: System = "us";
  /** The program cannot be reached: what came before is shown. */
  @property({ type: Boolean }) locked = false;
  @state() private price: PriceFile | null = null;
  @state() private needed: PricesAnswer | null = null;
  @state() private refused: Told | null = null;
  @state() private isBusy = false;
  /** The price is known, its alternatives are still to come: those of the price before stand there. */
  @state() private isFollowed = false;
  @query("job-form") private form!: JobForm | null;
  /** Why its alternatives cannot be priced. */
  @state() private othersRefused: Told | null = null;
  private loaded = "";

  private get wanted(): string {
    return `${this.state?.id} ${this.state?.head} ${this.locked}`;
  }

  override updated(): void {
    if (this.state && this.wanted !== this.loaded) void this.load(this.state);
  }

  private async load({ id, head, asked }: JobState): Promise<void> {
    const { wanted } = this;
    this.loaded = wanted;
    this.isBusy = true;
    this.othersRefused = null;
    const whole = () =>
      answered(`${id} price ${head}`, !this.locked, () => api.partAt<PriceFile>(id, "price", head));
    // alternatives are designed anew, each of them: what the job itself comes to is not held up by them
    const hasOthers = Array.isArray(asked.alternative) && asked.alternative.length > 0 && !this.locked;
    try {
      const [price, needed] = await Promise.all([
        hasOthers ? api.ownPrice<PriceFile>(id, head) : whole(),
        answered(`${id} prices ${head}`, !this.locked, () => api.prices(id, head)),
      ]);
      if (wanted !== this.wanted) return;
      this.price = hasOthers ? { ...price, alternatives: this.price?.alternatives ?? [] } : price;
      this.needed = needed;
      this.refused = null;
    } catch (error) {
      if (wanted !== this.wanted) return;
      this.refused = toldOf(error);
    }
    this.isBusy = false;
    this.isFollowed = hasOthers && !this.refused;
    if (this.isFollowed) await this.loadOthers(wanted, whole);
  }

  private async loadOthers(wanted: string, whole: () => Promise<PriceFile>): Promise<void> {
    try {
      const price = await whole();
      if (wanted === this.wanted) this.price = price;
    } catch (error) {
      if (wanted === this.wanted) this.othersRefused = toldOf(error);
    }
    if (wanted === this.wanted) this.isFollowed = false;
  }

  override render(): TemplateResult | typeof nothing {
    const { state: job, price } = this;
    if (!job) return nothing;
    const terms = (job.asked.price ?? {}) as Record<string, unknown>;
    return html`<h2>${say("panel_price")}</h2>
      ${this.isBusy ? html`<p class="quiet" role="status">${say("is_following")}</p>` : nothing}
      ${this.refused ? refusedWhole(this.refused, "job.toml") : price ? this.sum(price) : nothing}
      ${!this.refused && price ? this.said(price) : nothing}
      ${this.terms(terms)}
      ${this.file(job, terms)}
      ${this.prices(job, terms)}
      ${!this.refused && price ? this.reckoned(price) : nothing}`;
  }

  private file(job: JobState, terms: Record<string, unknown>): TemplateResult {
    return html`<price-book .jobId=${job.id} .head=${job.head} .book=${String(terms.book ?? "")} .locked=${this.locked}></price-book>`;
  }

  private money(value: Money): string {
    const digits = this.price?.minor_digits ?? 2;
    return value === null
      ? "–"
      : value.toLocaleString("en-US", { minimumFractionDigits: digits, maximumFractionDigits: digits });
  }

  private ask = (event: CustomEvent<string>): void => {
    event.stopPropagation();
    this.tellWhy(event.detail);
  };

  private tellWhy(thing: string): void {
    this.dispatchEvent(
      new CustomEvent("why-asked", { detail: { thing, about: "" }, bubbles: true, composed: true }),
    );
  }

  /** A number that is a way to its why. */
  private why(step: string, words: string): TemplateResult {
    return html`<button class="asks" title=${say("why")} @click=${() => this.tellWhy(`price:${step}`)}>${words}</button>`;
  }

  private sum(price: PriceFile): TemplateResult {
    const per = this.system === "us" ? price.per_foot : price.per_metre;
    const lacking = this.needed ? parted(this.needed.prices).missing.length : 0;
    if (price.total === null && this.needed)
      return html`<p>${lacking ? say(lacking === 1 ? "no_price_yet_one" : "no_price_yet", { count: lacking }) : say("nothing_to_price")}</p>`;
    return html`<p class="total">${this.why("total", `${price.currency} ${this.money(price.total)}`)}</p>
      ${per === null ? nothing : html`<p>${this.why(this.system === "us" ? "per-foot" : "per-metre", `${price.currency} ${this.money(per)} ${say(this.system === "us" ? "per_foot" : "per_metre")}`)}</p>`}
      ${lacking ? html`<p class="refused">${say(lacking === 1 ? "total_lacks_one" : "total_lacks", { count: lacking, lines: price.missing.length })}</p>` : nothing}
      ${this.chance(price)}`;
  }

  /** What the program has to say of the price: terms that it had to assume, old prices, what would cover the risk. */
  private said(price: PriceFile): TemplateResult | typeof nothing {
    const findings = price.findings.filter((finding) => !SAID_HERE.has(finding.code));
    if (!findings.length) return nothing;
    return html`<details><summary>${say("price_findings", { count: findings.length })}</summary><finding-list .schema=${this.schema} .findings=${findings} .locked=${this.locked}></finding-list></details>`;
  }

  /** How likely the price itself is kept, then what others would be. */
  private chance({ risk, p50, p80, p95 }: PriceFile): TemplateResult | typeof nothing {
    if (!risk) return nothing;
    const others: Record<string, Money> = { p50, p80, p95 };
    const asked = { p50: "|p50|", p80: "|p80|", p95: "|p95|" };
    const parts = say("kept_otherwise", asked).split(/\|(p\d+)\|([;,.]?)/);
    const words = parts.map((part, at) => {
      if (at % 3 === 0) return part;
      const stop = parts[at + 1] ?? ""; // stays with its number where the line ends
      const number = this.why(part, this.money(others[part] ?? null));
      return at % 3 === 1 ? html`<span class="whole">${number}${stop}</span>` : nothing;
    });
    return html`<p class="kept"><b>${keptIn(risk.kept)}</b> ${words}</p>`;
  }

  private terms(terms: Record<string, unknown>): TemplateResult {
    return html`<details open><summary>${say("price_terms")}</summary>
      <job-form .schema=${this.schema} .table=${"price"} .values=${terms} .only=${TERMS} .system=${this.system} .locked=${this.locked}></job-form></details>`;
  }

  private prices(job: JobState, terms: Record<string, unknown>): TemplateResult | typeof nothing {
    const { needed } = this;
    if (!needed || this.refused) return nothing;
    const { missing, known } = parted(needed.prices);
    const currency = needed.currency || String(terms.currency ?? "");
    const list = (name: string, prices: typeof missing) =>
      html`<price-fields .name=${name} .jobId=${job.id} .prices=${prices} .currency=${currency} .locked=${this.locked}
        @term-refused=${(event: CustomEvent<{ key: string; said: string }>) => this.form?.refuse(event.detail.key, event.detail.said)}></price-fields>`;
    return html`${missing.length ? html`<h3>${say("prices_missing", { count: missing.length })}</h3>${currency ? nothing : html`<p>${say("currency_first")}</p>`}${list("missing", missing)}` : nothing}
      ${known.length ? html`<details ?open=${missing.length === 0}><summary>${say("prices_known", { count: known.length })}</summary>${list("known", known)}</details>` : nothing}
      <details><summary>${say("new_price")}</summary><p class="quiet">${say("new_price_hint")}</p><price-new .locked=${this.locked}></price-new></details>`;
  }

  private alternatives({ alternatives }: PriceFile): TemplateResult | typeof nothing {
    const { isFollowed, othersRefused } = this;
    if (othersRefused) return html`<h3>${say("alternatives")}</h3>${refusedWhole(othersRefused, "job.toml")}`;
    if (!alternatives.length && !isFollowed) return nothing;
    const row = ({ name, total, difference }: PriceFile["alternatives"][number], index: number) =>
      html`<tr><th scope="row">${name}</th><td class="number">${total === null ? this.money(total) : this.why(`alternative-${index + 1}`, this.money(total))}</td><td class="number">${Number(difference) > 0 ? "+" : ""}${this.money(difference)}</td></tr>`;
    return html`<h3>${say("alternatives")}</h3>${isFollowed ? html`<p class="quiet" role="status">${say("is_following")}</p>` : nothing}
      <div class=${isFollowed ? "wide quiet" : "wide"} aria-busy=${isFollowed}><table><tbody>${alternatives.map(row)}</tbody></table></div>`;
  }

  private reckoned(price: PriceFile): TemplateResult {
    return html`${this.alternatives(price)}
      ${
        price.steps.length
          ? html`<details><summary>${say("how_it_adds_up")}</summary><div class="wide"><table><tbody>${price.steps.map((step) => html`<tr><th scope="row" lang=${langOf(step.name)}>${inPage(step.name)}</th><td class="number">${this.why(step.name, this.money(step.amount))}</td></tr>`)}</tbody></table></div></details>`
          : nothing
      }
      <h3>${say("lines_of_price")}</h3>
      <fence-table name="price" .heading=${say("panel_price")} .columns=${this.columns()} .rows=${price.lines} .idOf=${priceThing} .whyOf=${priceThing} @row-why=${this.ask} @row-chosen=${this.ask}></fence-table>`;
  }

  private columns(): Column<PriceLine>[] {
    return [
      {
        key: "item",
        title: say("item"),
        text: (row) =>
          [row.name ?? row.item, row.size]
            .filter(Boolean)
            .map((words) => inPage(String(words)))
            .join(", "),
        lang: (row) => langOf(row.name ?? row.item),
      },
      {
        key: "amount",
        title: say("amount"),
        text: (row) => (row.amount === null ? say("missing_price") : this.money(row.amount)),
        value: (row) => row.amount,
        isNumber: true,
      },
      {
        key: "quantity",
        title: say("quantity"),
        text: (row) =>
          `${showNumber(row.quantity, row.quantity !== null && Number.isInteger(row.quantity) ? 0 : 2)} ${unitWord(row.unit, row.quantity)}`,
        value: (row) => row.quantity,
        isNumber: true,
      },
      {
        key: "unit_price",
        title: say("unit_price"),
        text: (row) => this.money(row.unit_price),
        value: (row) => row.unit_price,
        isNumber: true,
      },
      {
        key: "source",
        title: say("source"),
        text: (row) => inPage(row.source),
        lang: (row) => langOf(row.source),
      },
    ];
  }
}

/** In how many of 100 cases a price is kept, as the command line says it. */
function keptIn(share: number): string {
  if (share >= 0.995) return say("price_is_kept_always");
  if (share <= 0.005) return say("price_is_kept_never");
  const count = Math.round(100 * share);
  return say("price_is_kept", { count, rest: 100 - count });
}

declare global {
  interface HTMLElementTagNameMap {
    "price-panel": PricePanel;
  }
}
