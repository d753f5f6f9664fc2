/** One more price for the book, of something that no line asks for yet: rock by the hole, a machine by the day. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { controls } from "../look/controls.ts";
import { inPage, langOfSaid } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import type { EditAsked } from "./asking.ts";
import { KINDS, today } from "./price_rows.ts";

/** Fields of a new row, in the order in which they are typed. */
const FIELDS = ["item", "size", "unit", "price"] as const;

type Field = (typeof FIELDS)[number] | "kind";

@customElement("price-new")
export class PriceNew extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; }
      form { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(9rem, 100%), 1fr)); gap: 0.5rem 0.8rem; align-items: end; }
      input, select { width: 100%; }
      .refused { grid-column: 1 / -1; }
      [aria-invalid="true"] { border: 2px solid var(--stop); }
    `,
  ];

  @property({ type: Boolean }) locked = false;
  @state() private refused = "";
  @state() private at = "";
  @state() private typed: Record<Field, string> = empty();

  private keep = (event: Event): void => {
    event.preventDefault();
    const { typed } = this;
    const missing = (["item", "unit", "price"] as const).find((field) => !typed[field].trim());
    if (missing) {
      this.say(say("must_be_typed", { name: say(`new_price_${missing}`) }), missing);
      return;
    }
    const answered = (refused: string, field: readonly (string | number)[] = []) => {
      if (!refused) this.typed = empty();
      this.say(refused, field[0] === "prices" ? String(field[2]) : "");
    };
    const detail: EditAsked = {
      edit: { kind: "prices", prices: [{ ...typed, date: today() }] },
      answered,
    };
    this.dispatchEvent(new CustomEvent("edit-asked", { detail, bubbles: true, composed: true }));
  };

  private say(refused: string, at: string): void {
    this.refused = refused;
    this.at = at;
    if (at)
      void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>(`#new-${at}`)?.focus());
  }

  private type(field: Field, event: Event): void {
    this.typed = { ...this.typed, [field]: (event.target as HTMLInputElement).value };
  }

  override render(): TemplateResult {
    return html`<form aria-label=${say("new_price")} novalidate @submit=${this.keep}>
      ${FIELDS.map(
        (
          field,
        ) => html`<label for=${`new-${field}`}><span>${say(`new_price_${field}`)}</span><input id=${`new-${field}`} autocomplete="off"
          inputmode=${field === "price" ? "decimal" : "text"} placeholder=${field === "unit" ? "piece, h, day, ft" : ""}
          .value=${this.typed[field]} ?disabled=${this.locked} aria-invalid=${this.at === field} @input=${(event: Event) => this.type(field, event)} /></label>`,
      )}
      <label for="new-kind"><span>${say("new_price_kind")}</span><select id="new-kind" ?disabled=${this.locked} @change=${(event: Event) => this.type("kind", event)}>
        ${KINDS.map((kind) => html`<option value=${kind} ?selected=${kind === this.typed.kind}>${say(`prices_${kind}`)}</option>`)}</select></label>
      <button ?disabled=${this.locked}>${say("keep_price")}</button>
      ${this.refused ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>` : nothing}</form>`;
  }
}

function empty(): Record<Field, string> {
  return { item: "", size: "", unit: "", price: "", kind: "other" };
}

declare global {
  interface HTMLElementTagNameMap {
    "price-new": PriceNew;
  }
}
