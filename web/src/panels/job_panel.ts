/** The whole job file as forms: site files, every table, every repeated table, and its own text for who wants it. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type { CatalogueAnswer, JobState } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import { disclosure } from "./disclosure.ts";
import { isRepeated, type KnownNames, type SchemaNode } from "./fields.ts";
import type { FormPlace } from "./form_words.ts";
import { knownNames } from "./known_names.ts";
import { GROUPS } from "./tables.ts";
import "./alternatives.ts";
import "./job_form.ts";
import "./job_text.ts";
import "./row_forms.ts";
import "./site_files.ts";

/** Keys that have an edit of their own: a line is renamed with whatever names it. */
const OMITTED: Readonly<Record<string, readonly string[]>> = { line: ["name"] };

type Row = Record<string, unknown>;

@customElement("job-panel")
export class JobPanel extends LitElement {
  static override styles = [
    controls,
    disclosure,
    css`
      :host { display: block; }
      h3 { margin: 1.4rem 0 0.3rem; }
      details { border-top: 1px solid var(--line); }
      summary b { margin-left: 0.5rem; font-weight: 400; color: var(--soft); font-variant-numeric: tabular-nums; }
      details > :not(summary) { margin-bottom: 0.8rem; display: block; }
    `,
  ];

  @property({ attribute: false }) state: JobState | null = null;
  @property({ attribute: false }) schema: SchemaNode | null = null;
  @property({ attribute: false }) catalogue: CatalogueAnswer | null = null;
  @property() system: System = "us";
  @property({ type: Boolean }) locked = false;
  @state() private open: ReadonlySet<string> = new Set(["job"]);
  /** What is to be opened once the schema has come. */
  private wanted: FormPlace | null = null;

  override render(): TemplateResult | typeof nothing {
    const { state: job, schema } = this;
    if (!job) return nothing;
    const known = knownNames(this.catalogue, job.asked);
    return html`<site-files .jobId=${job.id} .state=${job} .locked=${this.locked} .kinds=${this.catalogue?.obstacles ?? []}></site-files>
      ${
        schema
          ? GROUPS.map(
              ([title, tables]) => html`<h3>${say(title)}</h3>
        ${tables.map((table) => this.table(table, schema, job.asked, known))}`,
            )
          : nothing
      }
      <h3>${say("group_text")}</h3>
      <details><summary>${say("job_text")}</summary><job-text .job=${job} .locked=${this.locked}></job-text></details>`;
  }

  override updated(): void {
    const { wanted } = this;
    if (!this.schema || !wanted) return;
    this.wanted = null;
    void this.openField(wanted);
  }

  /** Open a field, a row, or a table's list, with the focus on it: as soon as it is known what fields there are. */
  async openField(place: FormPlace): Promise<void> {
    if (!this.schema) {
      this.wanted = place;
      return;
    }
    const { table, key, row } = place;
    this.open = new Set([...this.open, table]);
    await this.updateComplete;
    const part = this.renderRoot.querySelector<HTMLDetailsElement>(`details[data-table="${table}"]`);
    const rows = row === undefined ? null : part?.querySelector("row-forms");
    const form = key ? part?.querySelector("job-form") : null;
    await form?.updateComplete;
    const field = (await rows?.openRow(row ?? 0, key)) ?? form?.field(key) ?? part?.querySelector("summary");
    field?.focus();
    field?.scrollIntoView({ block: "center" });
  }

  private table(
    table: (typeof GROUPS)[number][1][number],
    schema: SchemaNode,
    asked: Row,
    known: KnownNames,
  ): TemplateResult {
    const isOpen = this.open.has(table);
    const rows = isRepeated(schema, table) ? ((asked[table] ?? []) as Row[]) : null;
    return html`<details data-table=${table} ?open=${isOpen} @toggle=${(event: Event) => this.toggled(table, event)}>
      <summary>${say(`table_${table}`)}${rows?.length ? html` <b>${rows.length}</b>` : nothing}</summary>
      ${isOpen ? this.inside(table, schema, rows, asked, known) : nothing}</details>`;
  }

  private inside(
    table: string,
    schema: SchemaNode,
    rows: Row[] | null,
    asked: Row,
    known: KnownNames,
  ): TemplateResult {
    if (table === "alternative")
      return html`<alternative-forms .schema=${schema} .rows=${rows ?? []} .known=${known} .system=${this.system} .locked=${this.locked}></alternative-forms>`;
    const omit = OMITTED[table] ?? [];
    if (rows)
      return html`<row-forms .schema=${schema} .table=${table} .rows=${rows} .known=${known} .omit=${omit} .system=${this.system} .locked=${this.locked}
        ?drawn=${table === "line"}></row-forms>`;
    return html`<job-form .schema=${schema} .table=${table} .values=${(asked[table] ?? {}) as Row} .known=${known} .system=${this.system} .locked=${this.locked}></job-form>`;
  }

  private toggled(table: string, event: Event): void {
    const open = new Set(this.open);
    if ((event.target as HTMLDetailsElement).open) open.add(table);
    else open.delete(table);
    this.open = open;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "job-panel": JobPanel;
  }
}
