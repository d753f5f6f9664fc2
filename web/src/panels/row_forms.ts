/** A repeated table of the job file (`[[extra]]`, `[[payment]]`, ...): its rows to edit and delete, and a form for one more. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { repeat } from "lit/directives/repeat.js";
import type { Edit } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { rowKey } from "../state/row_keys.ts";
import { say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import { askFor } from "./asking.ts";
import { disclosure } from "./disclosure.ts";
import type { KnownNames, SchemaNode } from "./fields.ts";
import { refusedWhole, type Told } from "./refused.ts";
import { rowWords } from "./row_words.ts";
import "./job_form.ts";
import "./new_row.ts";

type Row = Record<string, unknown>;

const MOST_ROWS = 200; // a longer list serves nobody: plan and list of posts do

@customElement("row-forms")
export class RowForms extends LitElement {
  static override styles = [
    controls,
    disclosure,
    css`
      :host { display: block; }
      details { border-left: 3px solid var(--line); padding-left: 0.6rem; margin: 0.3rem 0; }
      details > .row { margin-top: 0.6rem; }
    `,
  ];

  @property({ attribute: false }) schema: SchemaNode | null = null;
  @property() table = "";
  @property({ attribute: false }) rows: readonly Row[] = [];
  @property({ attribute: false }) known: KnownNames = {};
  @property({ attribute: false }) omit: readonly string[] = [];
  @property() system: System = "us";
  @property({ type: Boolean }) locked = false;
  /** Number of the alternative whose table it is; left out: the job's own. */
  @property({ attribute: false }) alternative: number | null = null;
  /** Rows are drawn on the plan, not added here. */
  @property({ type: Boolean }) drawn = false;
  /** Keys of the rows that are open. */
  @state() private open: ReadonlySet<number> = new Set();
  @state() private refused: Told | null = null;

  private ask(edit: Edit): void {
    askFor(this, edit, (refused) => {
      this.refused = refused;
    });
  }

  private get within(): Row {
    return this.alternative === null ? {} : { alternative: this.alternative };
  }

  private takeOut(item: number): void {
    const kind = this.table === "line" ? "remove_line" : "remove";
    this.ask(
      kind === "remove_line" ? { kind, line: item } : { kind, table: this.table, item, ...this.within },
    );
  }

  /** Open a row; gives the entry of a key, or the row's own heading; null where there is no such row. */
  async openRow(item: number, key: string): Promise<HTMLElement | null> {
    const { [item]: opened } = this.rows;
    if (opened) this.open = new Set([...this.open, rowKey(opened)]);
    await this.updateComplete;
    const row = this.renderRoot.querySelector<HTMLDetailsElement>(`details[data-row="${item}"]`);
    const form = row?.querySelector("job-form");
    await form?.updateComplete;
    return form?.field(key) ?? row?.querySelector("summary") ?? null;
  }

  private toggled(key: number, event: Event): void {
    const isOpen = (event.target as HTMLDetailsElement).open;
    const open = new Set(this.open);
    if (isOpen) open.add(key);
    else open.delete(key);
    this.open = open;
  }

  override render(): TemplateResult {
    const { rows } = this;
    const more = rows.length - MOST_ROWS;
    return html`${repeat(rows.slice(0, MOST_ROWS), rowKey, (row, item) => this.one(row, item))}
      ${more > 0 ? html`<p class="quiet">${say("rows_more", { count: more })}</p>` : nothing}
      ${this.refused ? refusedWhole(this.refused, "job.toml") : nothing}
      ${
        this.drawn
          ? nothing
          : html`<details ?open=${rows.length === 0}><summary>${say("add_one")}</summary>
        <new-row .schema=${this.schema} .table=${this.table} .known=${this.known} .omit=${this.omit} .system=${this.system} .locked=${this.locked} .within=${this.within}></new-row></details>`
      }`;
  }

  private one(row: Row, item: number): TemplateResult {
    const path =
      this.alternative === null ? [this.table, item] : ["alternative", this.alternative, this.table, item];
    const words = rowWords(this.table, row, item);
    const key = rowKey(row);
    return html`<details data-row=${item} ?open=${this.open.has(key)} @toggle=${(event: Event) => this.toggled(key, event)}><summary>${words}</summary>
      ${
        this.open.has(key)
          ? html`<job-form .schema=${this.schema} .table=${this.table} .path=${path} .values=${row} .known=${this.known} .omit=${this.omit} .system=${this.system} .locked=${this.locked}></job-form>
      <div class="row"><button ?disabled=${this.locked} aria-label=${`${say("remove")}: ${words}`} @click=${() => this.takeOut(item)}>${say("remove")}</button></div>`
          : nothing
      }</details>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "row-forms": RowForms;
  }
}
