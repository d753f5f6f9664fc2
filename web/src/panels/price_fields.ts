/** Prices, each with its field: typed one by one, kept one or several at once; a refusal stands at its field. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { repeat } from "lit/directives/repeat.js";
import type { NeededPrice } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOf, langOfSaid } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import { unitWord } from "../texts/unit_words.ts";
import { showNumber } from "../units/show.ts";
import type { EditAsked } from "./asking.ts";
import {
  byKind,
  type Draft,
  type Figure,
  isTyped,
  keepingEdit,
  keyOf,
  shownOf,
  today,
} from "./price_rows.ts";

/** What was typed and not kept, by job and list: another panel may be looked at meanwhile. */
const DRAFTS = new Map<string, Map<string, Draft>>();

@customElement("price-fields")
export class PriceFields extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; }
      h4 { margin: 0.8rem 0 0.2rem; font-size: 0.95rem; }
      ul { list-style: none; margin: 0; padding: 0; }
      li { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 16rem); gap: 0.1rem 0.8rem; align-items: start; padding: 0.45rem 0; border-top: 1px solid var(--faint); }
      li label { display: block; overflow-wrap: anywhere; padding-top: 0.6rem; }
      li label::first-letter { text-transform: uppercase; }
      .figures { display: grid; grid-row: span 2; grid-template-columns: 6.5rem minmax(0, 1fr); gap: 0.3rem 0.5rem; align-items: center; }
      .figures input { width: 100%; text-align: right; font-variant-numeric: tabular-nums; }
      .figures span, small { overflow-wrap: anywhere; }
      li > small { grid-column: 1; }
      li > .refused { grid-column: 1 / -1; }
      [aria-invalid="true"] { border: 2px solid var(--stop); }
      .keep { position: sticky; bottom: -0.75rem; background: var(--raised); display: flex; flex-wrap: wrap; gap: 0.4rem 0.6rem; align-items: end; margin: 0.8rem 0; padding: 0.6rem; border: 1px solid var(--soft); border-radius: 4px; }
      li input { scroll-margin: 1rem 0 11rem; }
      .keep label { flex: 1 1 8rem; }
      .keep button { flex: 1 1 10rem; }
      .keep input { width: 100%; }
      .keep p { flex: 1 1 100%; margin: 0; }
      @media (max-width: 30rem) { li { grid-template-columns: minmax(0, 1fr); } li label { padding-top: 0; } }
    `,
  ];

  @property({ attribute: false }) prices: readonly NeededPrice[] = [];
  @property() currency = "";
  @property() jobId = "";
  /** Which list of the job it is. */
  @property() name = "";
  @property({ type: Boolean }) locked = false;
  @state() private refusals: ReadonlyMap<string, { figure: string; said: string }> = new Map();
  @state() private refused = "";
  @state() private date = today();
  @state() private supplier = "";
  /** Kept, and not yet in the list that the program gives. */
  private kept = new Set<string>();

  private get drafts(): Map<string, Draft> {
    const place = `${this.jobId} ${this.name}`;
    const found = DRAFTS.get(place) ?? new Map<string, Draft>();
    DRAFTS.set(place, found);
    return found;
  }

  override willUpdate(changed: Map<string, unknown>): void {
    if (!changed.has("prices") || !this.kept.size) return;
    for (const key of this.kept) this.drafts.delete(key);
    this.kept = new Set();
  }

  private get typed(): NeededPrice[] {
    return this.prices.filter(
      (one) => !this.kept.has(keyOf(one)) && isTyped(one, this.drafts.get(keyOf(one))),
    );
  }

  private type(one: NeededPrice, figure: Figure, text: string): void {
    this.drafts.set(keyOf(one), { ...this.drafts.get(keyOf(one)), [figure]: text });
    this.kept.delete(keyOf(one));
    this.requestUpdate();
    // the bar that keeps what was typed must not come to lie over the field
    void this.updateComplete.then(() => this.shadowRoot?.activeElement?.scrollIntoView({ block: "nearest" }));
  }

  private keep = (event: Event): void => {
    event.preventDefault();
    const rows = this.typed;
    if (!rows.length || this.locked) return;
    const from = { date: this.date.trim(), supplier: this.supplier.trim() };
    const answered = (said: string, field?: readonly (string | number)[]) => this.answered(rows, said, field);
    const detail: EditAsked = { edit: keepingEdit(rows, this.drafts, from), answered };
    this.dispatchEvent(new CustomEvent("edit-asked", { detail, bubbles: true, composed: true }));
  };

  private answered(rows: NeededPrice[], said: string, field: readonly (string | number)[] = []): void {
    const [table, number, figure] = field;
    const one = table === "prices" ? rows[Number(number)] : undefined;
    this.refusals = one ? new Map([[keyOf(one), { figure: String(figure), said }]]) : new Map();
    this.refused = one ? "" : said;
    if (!said) {
      for (const row of rows) this.kept.add(keyOf(row));
      this.goOn();
    }
    if (table === "price")
      this.dispatchEvent(
        new CustomEvent("term-refused", { detail: { key: String(number), said }, bubbles: true }),
      );
    if (one)
      void this.updateComplete.then(() =>
        this.renderRoot.querySelector<HTMLElement>("[aria-invalid='true']")?.focus(),
      );
  }

  /** What was kept leaves the list or its button, and the focus goes on to the next field that is not kept. */
  private goOn(): void {
    const inputs = [...this.renderRoot.querySelectorAll<HTMLInputElement>("input[data-key]")];
    const active = (this.renderRoot as ShadowRoot).activeElement as HTMLInputElement | null;
    const isOpen = (key: string | undefined) => key !== undefined && !this.kept.has(key);
    if (!active || isOpen(active.dataset.key)) return; // the person is elsewhere already
    const after = inputs.slice(inputs.indexOf(active) + 1);
    [...after, ...inputs].find((input) => isOpen(input.dataset.key))?.focus();
  }

  override render(): TemplateResult {
    const count = this.typed.length;
    return html`<form @submit=${this.keep} novalidate>
      ${byKind(this.prices).map(
        ([kind, rows]) => html`<h4>${say(`prices_${kind}`)}</h4>
        <ul>${repeat(rows, keyOf, (one) => this.row(one))}</ul>`,
      )}
      ${count || this.refused ? this.keeping(count) : nothing}</form>`;
  }

  private keeping(count: number): TemplateResult {
    return html`<div class="keep">
      <label for="date"><span>${say("price_date")}</span><input id="date" .value=${this.date} ?disabled=${this.locked} autocomplete="off"
        @input=${(event: Event) => {
          this.date = (event.target as HTMLInputElement).value;
        }} /></label>
      <label for="supplier"><span>${say("price_supplier")}</span><input id="supplier" .value=${this.supplier} ?disabled=${this.locked} autocomplete="off"
        @input=${(event: Event) => {
          this.supplier = (event.target as HTMLInputElement).value;
        }} /></label>
      <button class="main" ?disabled=${this.locked || !count}>${count === 1 ? say("keep_price") : say("keep_prices", { count })}</button>
      ${this.refused ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>` : nothing}</div>`;
  }

  private row(one: NeededPrice): TemplateResult {
    const key = keyOf(one);
    const id = `p-${key.replace(/[^\w]+/g, "-")}`;
    const refusal = this.refusals.get(key);
    const isOwn = one.where === "the job";
    return html`<li><label for=${id} lang=${langOf(one.item)}>${titleOf(one)}</label>
      <div class="figures">${this.input(one, "price", id, isOwn)}<span>${this.per(one)}</span>
        ${one.low === null && one.high === null ? nothing : html`${this.input(one, "low", `${id}-low`, isOwn)}<span>${say("at_least")}</span>${this.input(one, "high", `${id}-high`, isOwn)}<span>${say("at_most")}</span>`}</div>
      <small id=${`${id}-hint`}>${sourceOf(one)}</small>
      ${refusal ? html`<span class="refused" role="alert" lang=${langOfSaid(refusal.said)}>${inPage(refusal.said)}</span>` : nothing}</li>`;
  }

  private input(one: NeededPrice, figure: Figure, id: string, isOwn: boolean): TemplateResult {
    const draft = this.drafts.get(keyOf(one));
    const refusal = this.refusals.get(keyOf(one));
    const name =
      figure === "price" ? nothing : `${titleOf(one)}, ${say(figure === "low" ? "at_least" : "at_most")}`;
    return html`<input id=${id} inputmode="decimal" autocomplete="off" .value=${shownOf(one, draft, figure)}
      data-key=${figure === "price" ? keyOf(one) : nothing} aria-label=${name} aria-describedby=${`p-${keyOf(one).replace(/[^\w]+/g, "-")}-hint`}
      ?disabled=${this.locked || isOwn} aria-invalid=${refusal?.figure === figure}
      @input=${(event: Event) => this.type(one, figure, (event.target as HTMLInputElement).value)} />`;
  }

  private per(one: NeededPrice): string {
    const unit = unitOf(one.unit);
    const pack = Number(one.pack);
    const currency = this.currency;
    const words =
      pack === 1
        ? say("per_unit", { currency, unit })
        : say("per_pack", { currency, unit, pack: showNumber(pack, 3) });
    return words.trim();
  }
}

function unitOf(unit: string): string {
  return unit === "h" ? say("unit_hour") : inPage(unit);
}

/** What it is a price of, with its size. */
function titleOf(one: NeededPrice): string {
  return [one.item, one.size].filter(Boolean).map(inPage).join(", ");
}

/** How much of it the job takes, and where its price is from. */
function sourceOf(one: NeededPrice): TemplateResult {
  const amount = `${showNumber(one.quantity, Number.isInteger(one.quantity) ? 0 : 2)} ${unitWord(one.unit, one.quantity)}`;
  if (one.where === "the job") return html`${amount} · ${say("price_of_extra")}`;
  const from = [one.where, one.supplier, one.date].filter(Boolean).join(", ");
  if (from) return html`${amount} · <span lang=${langOf(from)}>${inPage(from)}</span>`;
  const hint = one.why.startsWith("no such item") ? "" : one.why;
  return hint ? html`${amount} · <span lang=${langOf(hint)}>${inPage(hint)}</span>` : html`${amount}`;
}

declare global {
  interface HTMLElementTagNameMap {
    "price-fields": PriceFields;
  }
}
