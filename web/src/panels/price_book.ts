/** The price book as a file: begun for a spreadsheet, given back filled in, taken away for the next job. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api, Refusal } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { say } from "../texts/say.ts";
import { refusedWhole, type Told } from "./refused.ts";

/** An error without words of its own: a line that was lost. */
const NO_WORDS: Told = { sentence: "", file: "", item: "" };

@customElement("price-book")
export class PriceBook extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; }
      .row { margin: 0.4rem 0; }
      label.button { position: relative; text-align: center; padding: 0.3rem 0.8rem; }
      label.button input { position: absolute; inset: 0; opacity: 0; width: 100%; cursor: pointer; }
      .refused { overflow-wrap: anywhere; }
    `,
  ];

  @property() jobId = "";
  @property({ type: Number }) head = 0;
  /** The file that holds the job's prices; empty: none yet. */
  @property() book = "";
  @property({ type: Boolean }) locked = false;
  @state() private refused: Told | null = null;
  @state() private isGiving = false;

  private give = async (event: Event): Promise<void> => {
    const field = event.target as HTMLInputElement;
    const files = [...(field.files ?? [])];
    field.value = ""; // the same file may be given again
    if (!files.length) return;
    this.isGiving = true;
    this.refused = null;
    try {
      const answer = await api.givePriceBook(this.jobId, this.head, files);
      const detail = answer.state;
      this.dispatchEvent(new CustomEvent("job-adopted", { detail, bubbles: true, composed: true }));
    } catch (error) {
      this.refused = error instanceof Refusal ? error.told : NO_WORDS;
    }
    this.isGiving = false;
  };

  override render(): TemplateResult {
    const { book, locked } = this;
    const begin = book ? "fill_book" : "start_book";
    return html`<h3>${say("price_book")}</h3>
      <p>${book ? say("book_is", { book }) : say("book_none")}</p>
      ${
        locked
          ? nothing
          : html`<div class="row">
        <a class="button" href=${api.startedBookAddress(this.jobId, "prices.xlsx", this.head)} download>${say(begin, { kind: "XLSX" })}</a>
        <a class="button" href=${api.startedBookAddress(this.jobId, "prices.csv", this.head)} download>${say(begin, { kind: "CSV" })}</a>
        ${book ? html`<a class="button" href=${api.fileAddress(this.jobId, book)} download=${book.split("/").at(-1) ?? book}>${say("take_book", { book })}</a>` : nothing}
      </div>`
      }
      <p class="quiet">${say("book_hint")}</p>
      ${locked ? nothing : html`<div class="row"><label class="button" for="book"><span>${say("give_book")}</span><input id="book" type="file" accept=".csv,.tsv,.txt,.xlsx,.xlsm,.toml" @change=${this.give} /></label></div>`}
      ${this.isGiving ? html`<p role="status">${say("loading")}</p>` : nothing}
      ${this.refused ? refusedWhole(this.refused) : nothing}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "price-book": PriceBook;
  }
}
