/** A table of the job file as a form: each field says what it is, what was typed stays, a refusal stands at its field. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { say } from "../texts/say.ts";
import { enteredValue, type Field, fieldsOf, type SchemaNode, typedOf } from "./fields.ts";

export interface FieldSet {
  path: string[];
  value: unknown;
  /** To be called with the refusal's sentence, or nothing where it was accepted. */
  answered: (refused: string) => void;
}

@customElement("job-form")
export class JobForm extends LitElement {
  static override styles = css`
    *, *::before, *::after { box-sizing: border-box; }
    form { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(15rem, 100%), 1fr)); gap: 0.8rem 1rem; align-items: start; }
    label { display: grid; gap: 0.2rem; }
    span { font-weight: 600; }
    label > span:first-child::first-letter { text-transform: uppercase; }
    small { color: var(--soft); }
    input, select { font: inherit; color: inherit; min-height: 2.75rem; padding: 0 0.6rem; border: 1px solid var(--soft); border-radius: 4px; background: var(--paper); width: 100%; }
    input[aria-invalid="true"] { border: 2px solid var(--stop); }
    .refused { color: var(--stop); font-weight: 600; }
    :focus-visible { outline: 3px solid var(--accent); outline-offset: 1px; }
  `;

  @property({ attribute: false }) schema: SchemaNode | null = null;
  /** The table's name in the job file. */
  @property() table = "";
  /** Its values as the job file has them. */
  @property({ attribute: false }) values: Record<string, unknown> = {};
  @property({ type: Boolean }) locked = false;
  @state() private refusals: Record<string, string> = {};
  @state() private typed: Record<string, string> = {};

  private changed(field: Field, typed: string): void {
    this.typed = { ...this.typed, [field.key]: typed };
    const answered = (refused: string) => {
      this.refusals = { ...this.refusals, [field.key]: refused };
      if (!refused) {
        const { [field.key]: _, ...rest } = this.typed;
        this.typed = rest;
      }
    };
    const detail: FieldSet = { path: [this.table, field.key], value: enteredValue(field, typed), answered };
    this.dispatchEvent(new CustomEvent("field-set", { detail, bubbles: true, composed: true }));
  }

  override render(): TemplateResult {
    const fields = this.schema ? fieldsOf(this.schema, this.table) : [];
    return html`<form @submit=${(event: Event) => event.preventDefault()}>${fields.map((field) => this.one(field))}</form>`;
  }

  private one(field: Field): TemplateResult {
    const shown = this.typed[field.key] ?? typedOf(this.values[field.key]);
    const refused = this.refusals[field.key] ?? "";
    const id = `f-${field.key}`;
    return html`<label for=${id}><span>${field.title}</span>
      ${
        field.entry === "choice" || field.entry === "flag"
          ? this.choice(field, id, shown)
          : html`<input id=${id}
        .value=${shown} ?disabled=${this.locked} placeholder=${field.example ? say("for_example", { example: field.example }) : say("usual")}
        aria-invalid=${refused !== ""} aria-describedby=${`${id}-hint`} autocomplete="off"
        @change=${(event: Event) => this.changed(field, (event.target as HTMLInputElement).value)} />`
      }
      <small id=${`${id}-hint`}>${field.hint}</small>
      ${refused ? html`<span class="refused" role="alert">${refused}</span>` : nothing}</label>`;
  }

  private choice(field: Field, id: string, shown: string): TemplateResult {
    const choices = field.entry === "flag" ? ["true", "false"] : field.choices;
    const words = (choice: string) =>
      field.entry === "flag" ? say(choice === "true" ? "yes" : "no") : choice;
    return html`<select id=${id} ?disabled=${this.locked} aria-describedby=${`${id}-hint`}
      @change=${(event: Event) => this.changed(field, (event.target as HTMLSelectElement).value)}>
      <option value="" ?selected=${shown === ""}>${say("usual")}</option>
      ${choices.map((choice) => html`<option value=${choice} ?selected=${choice === shown}>${words(choice)}</option>`)}
    </select>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "job-form": JobForm;
  }
}
