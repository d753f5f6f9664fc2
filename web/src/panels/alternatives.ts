/** Other ways of building the fence, priced beside this one: each names what differs, table by table. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { repeat } from "lit/directives/repeat.js";
import type { Edit } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { rowKey } from "../state/row_keys.ts";
import { type Key, say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import { askFor } from "./asking.ts";
import { disclosure } from "./disclosure.ts";
import { isRepeated, type KnownNames, type SchemaNode } from "./fields.ts";
import { refusedWhole, type Told } from "./refused.ts";
import "./job_form.ts";
import "./new_row.ts";
import "./row_forms.ts";

type Row = Record<string, unknown>;

/** Tables that an alternative may have otherwise: those that say how the fence is built. */
const DIFFERING: readonly string[] = [
  "fence",
  "strand",
  "posts",
  "holes",
  "brace",
  "top_line",
  "rolls",
  "tension",
  "strength",
  "gate",
  "crossing",
  "strain",
  "pin",
  "size",
  "site",
  "soil_zone",
  "stock",
  "preparation",
  "price",
];

@customElement("alternative-forms")
export class AlternativeForms extends LitElement {
  static override styles = [
    controls,
    disclosure,
    css`
      :host { display: block; }
      details { border-left: 3px solid var(--line); padding-left: 0.6rem; margin: 0.3rem 0; }
      section { margin: 0.8rem 0; }
      h4 { margin: 0.6rem 0 0.3rem; font-size: 1rem; }
      label { margin-bottom: 0.6rem; }
    `,
  ];

  @property({ attribute: false }) schema: SchemaNode | null = null;
  @property({ attribute: false }) rows: readonly Row[] = [];
  @property({ attribute: false }) known: KnownNames = {};
  @property() system: System = "us";
  @property({ type: Boolean }) locked = false;
  /** Table that the person is about to have otherwise, by the key of the alternative. */
  @state() private picked: Readonly<Record<number, string>> = {};
  @state() private named = "";
  @state() private first = "fence";
  @state() private refused: Told | null = null;

  private ask(edit: Edit): void {
    askFor(this, edit, (refused) => {
      this.refused = refused;
    });
  }

  override render(): TemplateResult {
    return html`${repeat(this.rows, rowKey, (row, number) => this.one(row, number))}
      ${this.refused ? refusedWhole(this.refused, "job.toml") : nothing}
      <details ?open=${this.rows.length === 0}><summary>${say("add_one")}</summary>${this.another()}</details>`;
  }

  private another(): TemplateResult {
    const make = (values: Row): Edit => {
      const differs = this.schema && isRepeated(this.schema, this.first) ? [values] : values;
      return { kind: "add", table: "alternative", values: { name: this.named, [this.first]: differs } };
    };
    return html`<label for="alternative-name"><span>${say("name")}</span><input id="alternative-name" autocomplete="off" .value=${this.named} ?disabled=${this.locked}
        @input=${(event: Event) => {
          this.named = (event.target as HTMLInputElement).value;
        }} /></label>
      ${this.tablePicker("alternative-first", this.first, DIFFERING, (table) => {
        this.first = table;
      })}
      <new-row .schema=${this.schema} .table=${this.first} .known=${this.known} .system=${this.system} .locked=${this.locked} .make=${make} .words=${say("row_alternative")}></new-row>`;
  }

  private tablePicker(
    id: string,
    picked: string,
    tables: readonly string[],
    pick: (table: string) => void,
  ): TemplateResult {
    return html`<label for=${id}><span>${say("what_differs")}</span><select id=${id} ?disabled=${this.locked} @change=${(event: Event) => pick((event.target as HTMLSelectElement).value)}>
      ${picked ? nothing : html`<option value="" selected>–</option>`}
      ${tables.map((table) => html`<option value=${table} ?selected=${table === picked}>${say(`table_${table}` as Key)}</option>`)}</select></label>`;
  }

  private one(row: Row, number: number): TemplateResult {
    const key = rowKey(row);
    const picked = this.picked[key];
    const tables = Object.keys(row).filter((key) => key !== "name");
    const shown = picked && !tables.includes(picked) ? [...tables, picked] : tables;
    const rest = DIFFERING.filter((table) => !shown.includes(table));
    const name = String(row.name ?? "");
    return html`<details><summary>${name}</summary>
      <job-form .schema=${this.schema} .table=${"alternative"} .path=${["alternative", number]} .values=${row} .system=${this.system} .locked=${this.locked}></job-form>
      ${shown.map((table) => this.differing(table, row, number))}
      ${this.tablePicker(`alternative-${number}-more`, "", rest, (table) => {
        this.picked = { ...this.picked, [key]: table };
      })}
      <button ?disabled=${this.locked} aria-label=${`${say("remove")}: ${name}`} @click=${() => this.ask({ kind: "remove", table: "alternative", item: number })}>${say("remove")}</button></details>`;
  }

  private differing(table: string, row: Row, number: number): TemplateResult {
    const title = say(`table_${table}` as Key);
    if (this.schema && isRepeated(this.schema, table))
      return html`<section><h4>${title}</h4><p class="quiet">${say("instead_of_own")}</p>
        <row-forms .schema=${this.schema} .table=${table} .rows=${(row[table] ?? []) as Row[]} .known=${this.known} .system=${this.system} .locked=${this.locked} .alternative=${number}></row-forms></section>`;
    return html`<section><h4>${title}</h4><p class="quiet">${say("empty_as_job")}</p>
      <job-form .schema=${this.schema} .table=${table} .path=${["alternative", number, table]} .values=${(row[table] ?? {}) as Row} .known=${this.known} .system=${this.system} .locked=${this.locked}></job-form></section>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "alternative-forms": AlternativeForms;
  }
}
