/** A form for one more row of a repeated table: nothing is kept until it is accepted, a refusal stands at its field. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type { Edit } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import { askFor, expectFrom } from "./asking.ts";
import { entryField, entryStyles } from "./entry.ts";
import { enteredValue, type Field, fieldsOf, type KnownNames, type SchemaNode } from "./fields.ts";
import { whenNear } from "./near.ts";
import { refusedWhole, type Told } from "./refused.ts";
import { tableWord } from "./row_words.ts";

@customElement("new-row")
export class NewRow extends LitElement {
  static override styles = [
    controls,
    entryStyles,
    css`:host { display: block; } .end { grid-column: 1 / -1; }`,
  ];

  @property({ attribute: false }) schema: SchemaNode | null = null;
  @property() table = "";
  @property({ attribute: false }) known: KnownNames = {};
  @property({ attribute: false }) omit: readonly string[] = [];
  @property() system: System = "us";
  @property({ type: Boolean }) locked = false;
  /** What the edit says beside table and values: which alternative it is of. */
  @property({ attribute: false }) within: Record<string, unknown> = {};
  /** The edit that the values become; left out: a row of the table. */
  @property({ attribute: false }) make: ((values: Record<string, unknown>) => Edit) | null = null;
  /** What is added, where it is not called as the table is. */
  @property() words = "";
  @state() private typed: Record<string, string> = {};
  @state() private refused: Told | null = null;
  @state() private refusedAt = "";

  private get fields(): Field[] {
    const all = this.schema ? fieldsOf(this.schema, this.table, this.known) : [];
    const shown = all.filter((field) => !this.omit.includes(field.key));
    // what must be stated comes first
    return [...shown.filter((field) => field.isRequired), ...shown.filter((field) => !field.isRequired)];
  }

  /** What is typed, as an edit. */
  private get edit(): Edit {
    const values: Record<string, unknown> = {};
    for (const field of this.fields) {
      const value = enteredValue(field, this.shown(field));
      if (value !== null) values[field.key] = value;
    }
    return this.make?.(values) ?? { kind: "add", table: this.table, values, ...this.within };
  }

  private expects = (): void => expectFrom(this, this.edit);

  private add = (event: Event): void => {
    event.preventDefault();
    askFor(this, this.edit, (refused, place) => {
      this.refused = refused;
      const keys = this.fields.map((field) => field.key);
      this.refusedAt = String(place.findLast((step) => keys.includes(String(step))) ?? "");
      if (!refused) this.typed = {};
    });
  };

  /** What stands in a field: with one line there is only one to name. */
  private shown(field: Field): string {
    const typed = this.typed[field.key];
    if (typed !== undefined) return typed;
    return field.isRequired && field.key === "line" && field.choices.length === 1
      ? (field.choices[0] ?? "")
      : "";
  }

  override render(): TemplateResult {
    const title = say("add_named", { name: this.words || tableWord(this.table) });
    return html`<form novalidate @submit=${this.add} aria-label=${title}>
      ${this.fields.map((field) =>
        entryField(field, {
          table: this.table,
          value: this.shown(field),
          typed: this.typed[field.key],
          refused: this.refusedAt === field.key ? (this.refused?.sentence ?? "") : "",
          locked: this.locked,
          system: this.system,
          changed: (typed) => {
            this.typed = { ...this.typed, [field.key]: typed };
          },
        }),
      )}
      ${this.refused && !this.refusedAt ? html`<div class="end">${refusedWhole(this.refused, "job.toml")}</div>` : nothing}
      <div class="end"><button class="main" ?disabled=${this.locked} ${whenNear(this.expects)}>${title}</button></div></form>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "new-row": NewRow;
  }
}
