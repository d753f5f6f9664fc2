/** A table that sorts, filters, scrolls through thousands of rows and gives itself as CSV. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { say } from "../texts/say.ts";
import { arranged, type Column, csvOf, type Order } from "./rows.ts";
import { saveFile } from "./saving.ts";

const ROW_PX = 36;
const SPARE_ROWS = 8;

@customElement("fence-table")
export class FenceTable<Row extends object> extends LitElement {
  static override styles = css`
    :host { margin-top: 0.5rem; display: flex; flex-direction: column; min-height: 0; gap: 0.5rem; }
    .head { display: flex; gap: 0.5rem; align-items: center; flex-wrap: wrap; }
    input, button { font: inherit; color: inherit; min-height: 2.75rem; }
    input { flex: 1 1 10rem; min-width: 6rem; padding: 0 0.6rem; border: 1px solid var(--soft); border-radius: 4px; background: var(--paper); }
    button { background: var(--paper); border: 1px solid var(--soft); border-radius: 4px; padding: 0 0.8rem; cursor: pointer; }
    .frame { overflow: auto; min-height: 8rem; max-height: var(--table-height, 60vh); border: 1px solid var(--line); }
    table { border-collapse: collapse; width: 100%; font-size: 0.92rem; font-variant-numeric: tabular-nums; }
    th { position: sticky; top: 0; background: var(--raised); text-align: left; padding: 0; z-index: 1; box-shadow: inset 0 -1px var(--line); white-space: nowrap; }
    th button { border: 0; background: none; width: 100%; text-align: inherit; padding: 0 0.5rem; font-weight: 600; }
    td { height: ${ROW_PX}px; padding: 0 0.5rem; background: var(--paper); white-space: nowrap; border-bottom: 1px solid var(--faint); }
    .number { text-align: right; }
    .tick { color: var(--accent); font-size: 1.2rem; }
    .none { margin: 0; color: var(--soft); }
    .frame[hidden] { display: none; }
    th:first-child, td:first-child { position: sticky; left: 0; }
    th:first-child { z-index: 2; }
    @media (max-width: 36rem) { td:first-child { max-width: 9rem; overflow: hidden; text-overflow: ellipsis; } }
    tr[aria-selected="true"] td { background: color-mix(in srgb, var(--accent) 14%, var(--paper)); }
    tbody tr[tabindex] { cursor: pointer; }
    :focus-visible { outline: 3px solid var(--accent); outline-offset: -2px; }
    .spare td { padding: 0; border: 0; height: auto; }
  `;

  /** What the table holds, said to a screen reader and used as the CSV's name. */
  @property() name = "";
  @property({ attribute: false }) columns: readonly Column<Row>[] = [];
  @property({ attribute: false }) rows: readonly Row[] = [];
  /** Identity of a row, for selection; left out: rows cannot be chosen. */
  @property({ attribute: false }) idOf: ((row: Row) => string) | null = null;
  @property() selected = "";
  /** Rows chosen together, where several can be; null where one at a time is chosen. */
  @property({ attribute: false }) ticked: ReadonlySet<string> | null = null;
  /** What it holds, in the person's words. */
  @property({ attribute: false }) heading = "";
  @state() private filter = "";
  @state() private order: Order | null = null;
  @state() private first = 0;
  @state() private visible = 40;

  private shown: Row[] = [];

  override willUpdate(): void {
    this.shown = arranged(this.rows, this.columns, this.filter, this.order);
  }

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("selected") && this.selected) this.reveal();
  }

  private reveal(): void {
    const place = this.shown.findIndex((row) => this.idOf?.(row) === this.selected);
    const frame = this.renderRoot.querySelector(".frame");
    if (place < 0 || !frame) return;
    const top = place * ROW_PX;
    if (top < frame.scrollTop || top > frame.scrollTop + frame.clientHeight - 2 * ROW_PX) {
      frame.scrollTop = Math.max(0, top - frame.clientHeight / 2);
    }
  }

  private scrolled = (event: Event): void => {
    const frame = event.currentTarget as HTMLElement;
    this.first = Math.max(0, Math.floor(frame.scrollTop / ROW_PX) - SPARE_ROWS);
    this.visible = Math.ceil(frame.clientHeight / ROW_PX) + 2 * SPARE_ROWS;
  };

  private sortBy(key: string): void {
    if (this.order?.key !== key) this.order = { key, down: false };
    else this.order = this.order.down ? null : { key, down: true };
  }

  private get words(): string {
    return this.heading || this.name;
  }

  private tick(ids: Iterable<string>): void {
    this.dispatchEvent(new CustomEvent("rows-ticked", { detail: [...ids], bubbles: true, composed: true }));
  }

  private choose(row: Row): void {
    if (!this.idOf) return;
    if (this.ticked) {
      const id = this.idOf(row);
      const rest = [...this.ticked].filter((each) => each !== id);
      this.tick(rest.length < this.ticked.size ? rest : [...rest, id]);
      return;
    }
    this.dispatchEvent(
      new CustomEvent("row-chosen", { detail: this.idOf(row), bubbles: true, composed: true }),
    );
  }

  private keyed(event: KeyboardEvent, row: Row): void {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      this.choose(row);
      return;
    }
    const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    if (!step) return;
    event.preventDefault();
    const line = event.currentTarget as HTMLElement;
    const next = step > 0 ? line.nextElementSibling : line.previousElementSibling;
    if (next instanceof HTMLElement) next.focus();
  }

  override render(): TemplateResult {
    const from = Math.min(this.first, Math.max(0, this.shown.length - this.visible));
    const rows = this.shown.slice(from, from + this.visible);
    const below = this.shown.length - from - rows.length;
    return html`
      <div class="head">
        <input type="search" aria-label=${say("table_filter", { name: this.words })} placeholder=${say("filter")}
          .value=${this.filter} @input=${(event: InputEvent) => {
            this.filter = (event.target as HTMLInputElement).value;
            this.first = 0;
          }} />
        <span role="status">${say("table_count", { shown: this.shown.length, all: this.rows.length })}</span>
        <button @click=${() => saveFile(`${this.name}.csv`, csvOf(this.shown, this.columns), "text/csv")}>CSV</button>
        ${this.ticked && this.idOf ? html`<button @click=${() => this.tick(this.shown.map((row) => this.idOf?.(row) ?? ""))}>${say("choose_shown")}</button>` : nothing}
        ${this.idOf && !this.ticked && this.selected ? html`<button @click=${() => this.dispatchEvent(new CustomEvent("row-why", { detail: this.selected, bubbles: true, composed: true }))}>${say("why_of_it", { name: this.selected })}</button>` : nothing}
      </div>
      ${this.rows.length === 0 ? html`<p class="none">${say("table_empty")}</p>` : nothing}
      <div class="frame" ?hidden=${this.rows.length === 0} @scroll=${this.scrolled} tabindex="0" role="region" aria-label=${this.words}>
        <table aria-rowcount=${this.shown.length}>
          <thead><tr>${this.columns.map((column) => this.head(column))}</tr></thead>
          <tbody>
            ${from ? spare(from, this.columns.length) : nothing}
            ${rows.map((row) => this.line(row))}
            ${below > 0 ? spare(below, this.columns.length) : nothing}
          </tbody>
        </table>
      </div>`;
  }

  private head(column: Column<Row>): TemplateResult {
    const sorted = this.order?.key === column.key ? (this.order.down ? "descending" : "ascending") : "none";
    const arrow = sorted === "none" ? "" : sorted === "ascending" ? " ▲" : " ▼";
    return html`<th scope="col" aria-sort=${sorted} class=${column.isNumber ? "number" : ""}>
      <button @click=${() => this.sortBy(column.key)}>${column.title}<span aria-hidden="true">${arrow}</span></button></th>`;
  }

  private line(row: Row): TemplateResult {
    const id = this.idOf?.(row);
    return html`<tr tabindex=${id === undefined ? nothing : 0} aria-selected=${id !== undefined && (this.ticked ? this.ticked.has(id) : id === this.selected)}
      @click=${() => this.choose(row)} @keydown=${(event: KeyboardEvent) => this.keyed(event, row)}>
      ${this.columns.map((column, place) => html`<td class=${column.isNumber ? "number" : ""}>${place === 0 && this.ticked ? html`<span class="tick" aria-hidden="true">${id !== undefined && this.ticked.has(id) ? "☑" : "☐"}</span> ` : nothing}${column.text(row)}</td>`)}</tr>`;
  }
}

function spare(count: number, columns: number): TemplateResult {
  return html`<tr class="spare" aria-hidden="true"><td colspan=${columns} height=${count * ROW_PX}></td></tr>`;
}

declare global {
  interface HTMLElementTagNameMap {
    "fence-table": FenceTable<object>;
  }
}
