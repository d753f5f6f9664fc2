/** A table that sorts, filters, scrolls through thousands of rows and gives itself as CSV. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { repeat } from "lit/directives/repeat.js";
import { say } from "../texts/say.ts";
import { arranged, type Column, csvOf, keptTogether, type Order } from "./rows.ts";
import { saveFile } from "./saving.ts";

/** Height of a row with its rule, of one with a button in it, and of the headings. */
const ROW_PX = 37;
const TALL_ROW_PX = 45;
const HEAD_PX = 46;
const SPARE_ROWS = 8;
/** A table of no more rows is drawn whole: its words may run over several rows. */
const MOST_WHOLE = 150;
/** Rows that a page up or down goes past. */
const PAGE_ROWS = 10;

@customElement("fence-table")
export class FenceTable<Row extends object> extends LitElement {
  static override styles = css`
    :host { margin-top: 0.5rem; display: flex; flex-direction: column; min-height: 0; gap: 0.5rem; }
    .head { display: flex; gap: 0.5rem; align-items: center; flex-wrap: wrap; }
    input, button { font: inherit; color: inherit; min-height: 2.75rem; }
    input { flex: 1 1 10rem; min-width: 6rem; padding: 0 0.6rem; border: 1px solid var(--soft); border-radius: 4px; background: var(--paper); }
    button { background: var(--paper); border: 1px solid var(--soft); border-radius: 4px; padding: 0 0.8rem; cursor: pointer; }
    .sheet { position: relative; display: grid; min-height: 0; container-type: inline-size; }
    .sheet[data-goes-on]::after { content: "›"; position: absolute; inset: 1px 1px 1px auto; width: 1.8rem; display: grid; place-items: center end; padding-right: 0.2rem; font-size: 1.4rem; font-weight: 700; color: var(--accent); background: linear-gradient(to right, transparent, var(--paper)); pointer-events: none; z-index: 3; }
    .sheet[data-goes-on]:has(.tall)::after { right: calc(2.75rem + 2px); }
    .whole td, .whole th button { padding-inline: 0.4rem; }
    .whole td.long { white-space: normal; min-width: 5.5rem; padding-block: 0.3rem; }
    .part { white-space: nowrap; }
    .whole td.wide { font-size: 0.88em; line-height: 1.3; }
    @container (max-width: 30rem) { .whole td.wide { min-width: 11.5rem; } }
    .frame { overflow: auto; overflow-anchor: none; min-height: 8rem; max-height: var(--table-height, 60vh); border: 1px solid var(--line); }
    table { border-collapse: collapse; width: 100%; font-size: 0.92rem; font-variant-numeric: tabular-nums; }
    th { position: sticky; top: 0; background: var(--raised); text-align: left; padding: 0; z-index: 1; box-shadow: inset 0 -1px var(--line); white-space: nowrap; }
    th button { border: 0; background: none; width: 100%; min-width: 2.75rem; text-align: inherit; padding: 0 0.5rem; font-weight: 600; }
    tr[data-place] td { height: ${ROW_PX - 1}px; }
    .tall tr[data-place] td { height: ${TALL_ROW_PX - 1}px; }
    td { padding: 0 0.5rem; background: var(--paper); white-space: nowrap; border-bottom: 1px solid var(--faint); }
    .number { text-align: right; }
    .tick { color: var(--accent); font-size: 1.2rem; }
    .none { margin: 0; color: var(--soft); }
    .frame[hidden] { display: none; }
    th:first-child, td:first-child { position: sticky; left: 0; }
    th:first-child { z-index: 2; }
    th.why, td.why { position: sticky; right: 0; padding: 0; text-align: center; border-left: 1px solid var(--faint); }
    th.why { padding: 0 0.5rem; font-weight: 600; z-index: 2; }
    td.why button { border: 0; background: none; min-width: 2.75rem; width: 100%; padding: 0; color: var(--accent); font-weight: 700; }
    @media (max-width: 36rem) {
      td:first-child { max-width: 9rem; overflow: hidden; text-overflow: ellipsis; }
      .whole td:first-child { white-space: normal; overflow-wrap: break-word; padding-block: 0.3rem; }
    }
    tr[aria-selected="true"] td { background: color-mix(in srgb, var(--accent) 14%, var(--paper)); }
    tbody tr[tabindex] { cursor: pointer; }
    :focus-visible { outline: 3px solid var(--accent); outline-offset: -2px; }
    .spare td { padding: 0; border: 0; }
  `;

  /** What the table holds, said to a screen reader and used as the CSV's name. */
  @property() name = "";
  @property({ attribute: false }) columns: readonly Column<Row>[] = [];
  @property({ attribute: false }) rows: readonly Row[] = [];
  /** Identity of a row, for selection; left out: rows cannot be chosen. */
  @property({ attribute: false }) idOf: ((row: Row) => string) | null = null;
  @property() selected = "";
  /** Name by which the reasons of a row's numbers are asked; left out: rows have none. */
  @property({ attribute: false }) whyOf: ((row: Row) => string) | null = null;
  /** Rows chosen together, where several can be; null where one at a time is chosen. */
  @property({ attribute: false }) ticked: ReadonlySet<string> | null = null;
  /** What it holds, in the person's words. */
  @property({ attribute: false }) heading = "";
  @state() private filter = "";
  @state() private order: Order | null = null;
  @state() private first = 0;
  @state() private visible = 40;
  /** Place of the row that Tab comes to: the arrows go on from it. */
  @state() private cursor = 0;

  private shown: Row[] = [];
  private readonly watcher = new ResizeObserver(() => this.hint());

  override firstUpdated(): void {
    for (const part of this.renderRoot.querySelectorAll(".frame, table")) this.watcher.observe(part);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.watcher.disconnect();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.firstUpdated();
  }

  private get isWhole(): boolean {
    return this.rows.length <= MOST_WHOLE;
  }

  /** Show where the table goes on beyond its frame. */
  private hint(): void {
    const frame = this.renderRoot.querySelector<HTMLElement>(".frame");
    const goesOn = frame !== null && frame.scrollLeft + frame.clientWidth < frame.scrollWidth - 4;
    frame?.parentElement?.toggleAttribute("data-goes-on", goesOn);
  }

  override willUpdate(): void {
    this.shown = arranged(this.rows, this.columns, this.filter, this.order);
  }

  override updated(changed: Map<string, unknown>): void {
    if (!changed.has("selected") || !this.selected) return;
    const place = this.shown.findIndex((row) => this.idOf?.(row) === this.selected);
    if (place < 0) return;
    this.cursor = place;
    this.reveal(place, 0.5);
  }

  /** Scroll a row into the frame, below the headings; one out of sight comes to a share of its height. */
  private reveal(place: number, share: number): void {
    const frame = this.renderRoot.querySelector(".frame");
    if (!frame) return;
    const row = this.isWhole && frame.querySelector<HTMLElement>(`tr[data-place="${place}"]`);
    const top = row ? row.offsetTop - HEAD_PX : place * this.rowPx;
    const room = frame.clientHeight - HEAD_PX - (row ? row.offsetHeight : this.rowPx);
    if (top < frame.scrollTop || top > frame.scrollTop + room)
      frame.scrollTop = Math.max(0, top - share * room);
  }

  /** Bring the focus to a row, wherever it is in the table. */
  private async goTo(place: number): Promise<void> {
    this.cursor = Math.max(0, Math.min(this.shown.length - 1, place));
    const frame = this.renderRoot.querySelector<HTMLElement>(".frame");
    if (!frame) return;
    const row = this.isWhole && frame.querySelector<HTMLElement>(`tr[data-place="${this.cursor}"]`);
    this.reveal(
      this.cursor,
      (row ? row.offsetTop - HEAD_PX : this.cursor * this.rowPx) < frame.scrollTop ? 0 : 1,
    );
    this.window(frame);
    await this.updateComplete;
    this.renderRoot
      .querySelector<HTMLElement>(`tr[data-place="${this.cursor}"]`)
      ?.focus({ preventScroll: true });
  }

  private scrolled = (event: Event): void => {
    this.window(event.currentTarget as HTMLElement);
    this.hint();
  };

  /** Draw the rows that the frame shows, and some beyond. */
  private window(frame: HTMLElement): void {
    this.first = Math.max(0, Math.floor(frame.scrollTop / this.rowPx) - SPARE_ROWS);
    this.visible = Math.ceil(frame.clientHeight / this.rowPx) + 2 * SPARE_ROWS;
  }

  private sortBy(key: string): void {
    if (this.order?.key !== key) this.order = { key, down: false };
    else this.order = this.order.down ? null : { key, down: true };
  }

  private get rowPx(): number {
    return this.whyOf ? TALL_ROW_PX : ROW_PX;
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

  private keyed(event: KeyboardEvent, row: Row, place: number): void {
    const steps: Record<string, number> = {
      ArrowDown: place + 1,
      ArrowUp: place - 1,
      PageDown: place + PAGE_ROWS,
      PageUp: place - PAGE_ROWS,
      Home: 0,
      End: this.shown.length - 1,
    };
    const to = steps[event.key];
    if (to !== undefined) void this.goTo(to);
    else if (event.key === "Enter" || event.key === " ") this.choose(row);
    else return;
    event.preventDefault();
  }

  override render(): TemplateResult {
    const from = this.isWhole ? 0 : Math.min(this.first, Math.max(0, this.shown.length - this.visible));
    const rows = this.isWhole ? this.shown : this.shown.slice(from, from + this.visible);
    const below = this.shown.length - from - rows.length;
    const isCursorDrawn = this.cursor >= from && this.cursor < from + rows.length;
    return html`
      <div class="head">
        <input type="search" aria-label=${say("table_filter", { name: this.words })} placeholder=${say("filter")}
          .value=${this.filter} @input=${(event: InputEvent) => {
            this.filter = (event.target as HTMLInputElement).value;
            this.first = 0;
            this.cursor = 0;
          }} />
        <span role="status">${say("table_count", { shown: this.shown.length, all: this.rows.length })}</span>
        <button @click=${() => saveFile(`${this.name}.csv`, csvOf(this.shown, this.columns), "text/csv")}>CSV</button>
        ${this.ticked && this.idOf ? html`<button @click=${() => this.tick(this.shown.map((row) => this.idOf?.(row) ?? ""))}>${say("choose_shown")}</button>` : nothing}
      </div>
      ${this.rows.length === 0 ? html`<p class="none">${say("table_empty")}</p>` : nothing}
      <div class="sheet"><div class=${this.isWhole ? "frame whole" : "frame"} ?hidden=${this.rows.length === 0} @scroll=${this.scrolled} tabindex="0" role="region" aria-label=${this.words}>
        <table aria-rowcount=${this.shown.length} class=${this.whyOf ? "tall" : ""}>
          <thead><tr>${this.columns.map((column) => this.head(column))}${this.whyOf ? html`<th scope="col" class="why" aria-label=${say("why")}>?</th>` : nothing}</tr></thead>
          <tbody>
            ${from ? this.spare(from) : nothing}
            ${repeat(
              rows,
              (_, step) => from + step,
              (row, step) => this.line(row, from + step, step === 0 && !isCursorDrawn),
            )}
            ${below > 0 ? this.spare(below) : nothing}
          </tbody>
        </table>
      </div></div>`;
  }

  private head(column: Column<Row>): TemplateResult {
    const sorted = this.order?.key === column.key ? (this.order.down ? "descending" : "ascending") : "none";
    const arrow = sorted === "none" ? "" : sorted === "ascending" ? " ▲" : " ▼";
    return html`<th scope="col" aria-sort=${sorted} class=${column.isNumber ? "number" : ""}>
      <button @click=${() => this.sortBy(column.key)}>${column.title}<span aria-hidden="true">${arrow}</span></button></th>`;
  }

  private line(row: Row, place: number, isFirst: boolean): TemplateResult {
    const id = this.idOf?.(row);
    return html`<tr data-place=${place} tabindex=${id === undefined ? nothing : place === this.cursor || isFirst ? 0 : -1} aria-selected=${id !== undefined && (this.ticked ? this.ticked.has(id) : id === this.selected)}
      @click=${() => this.choose(row)} @keydown=${(event: KeyboardEvent) => this.keyed(event, row, place)}>
      ${this.columns.map((column, place) => html`<td class=${column.isNumber ? "number" : column.isWide ? "long wide" : column.isLong ? "long" : ""} lang=${column.lang?.(row) ?? nothing}>${place === 0 && this.ticked ? html`<span class="tick" aria-hidden="true">${id !== undefined && this.ticked.has(id) ? "☑" : "☐"}</span> ` : nothing}${wordsOf(column, row)}</td>`)}${this.whyCell(row, place === this.cursor || isFirst)}</tr>`;
  }

  /** The way to a row's reasons; Tab comes to that of the row where the arrows are. */
  private whyCell(row: Row, isReached: boolean): TemplateResult | typeof nothing {
    if (!this.whyOf) return nothing;
    const thing = this.whyOf(row);
    const [first = thing, second = ""] = this.columns.slice(0, 2).map((column) => column.text(row));
    const name = say("why_of_it", { name: first === thing ? thing : `${first}, ${second}` });
    return html`<td class="why"><button tabindex=${isReached ? 0 : -1} aria-label=${name} title=${name}
      @keydown=${(event: KeyboardEvent) => {
        if (event.key === "Enter" || event.key === " ") event.stopPropagation();
      }}
      @click=${(event: Event) => {
        event.stopPropagation();
        this.dispatchEvent(new CustomEvent("row-why", { detail: thing, bubbles: true, composed: true }));
      }}>?</button></td>`;
  }

  /** Room for rows that are not drawn. */
  private spare(count: number): TemplateResult {
    const columns = this.columns.length + (this.whyOf ? 1 : 0);
    return html`<tr class="spare" aria-hidden="true"><td colspan=${columns} height=${count * this.rowPx}></td></tr>`;
  }
}

/** A numbered name such as `R1-2` is one part: a browser would break it behind its hyphen. */
function numberedIn(text: string): readonly string[] | null {
  return /^[A-Z]+\d+-\d+$/.test(text) ? [text] : null;
}

/** What a cell shows: a text that runs over several rows breaks where it may. */
function wordsOf<Row>(column: Column<Row>, row: Row): string | readonly TemplateResult[] {
  const parts = column.parts?.(row) ?? numberedIn(column.text(row));
  if (!parts) return column.isLong ? keptTogether(column.text(row)) : column.text(row);
  return parts.map((part, place) => html`${place ? "; " : ""}<span class="part">${part}</span>`);
}

declare global {
  interface HTMLElementTagNameMap {
    "fence-table": FenceTable<object>;
  }
}
