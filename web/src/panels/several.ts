/** Posts chosen together, and what can be done to all of them at once. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import type { Edit } from "../api/client.ts";
import { type Standing, severalEdit } from "../app/asked_edits.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOfSaid } from "../texts/program.ts";
import { say, sayInEnglish } from "../texts/say.ts";
import { askFor, expectFrom } from "./asking.ts";
import { whenNear } from "./near.ts";
import { acceptTyped, keepTyped, typedOver } from "./typed_kept.ts";

const MOST = 1000; // as many edits as the program takes at once
const NAMED = 16;
const PINNED = "several";

function heightIn(form: HTMLFormElement): string {
  return String(new FormData(form).get("height") ?? "").trim();
}

@customElement("several-posts")
export class SeveralPosts extends LitElement {
  static override styles = [
    controls,
    css`:host { display: block; border: 1px solid var(--accent); border-radius: 4px; padding: 0.6rem; margin-bottom: 0.8rem; } h3 { margin-top: 0; } form { margin-bottom: 0.6rem; }`,
  ];

  /** Id of the job that they are of. */
  @property() job = "";
  @property({ attribute: false }) posts: readonly Standing[] = [];
  @property({ attribute: false }) asked: Record<string, unknown> = {};
  @property() usual = "";
  @property({ type: Boolean }) locked = false;
  /** The design of an accepted edit is on its way: `usual` is of the one before. */
  @property({ type: Boolean }) behind = false;
  @state() private refused = "";

  /** What the form is about. */
  private get thing(): string {
    return [this.job, ...this.posts.map((post) => post.id)].join(" ");
  }

  private edit(what: "pin" | "unpin" | "built", height = ""): Edit | null {
    const label = sayInEnglish(`several_${what}`, { count: this.posts.length });
    return severalEdit(what, this.posts, this.asked, height, label);
  }

  private act(what: "pin" | "unpin" | "built", height = ""): void {
    const edit = this.edit(what, height);
    this.refused = edit ? "" : say("several_nothing");
    if (!edit) return;
    const { thing } = this;
    askFor(this, edit, (refused) => {
      if (what === "pin" && !refused) acceptTyped(thing, PINNED, { height });
      this.refused = refused ? refused.sentence || say("lost") : "";
    });
  }

  private pin = (event: Event): void => {
    event.preventDefault();
    this.act("pin", heightIn(event.target as HTMLFormElement));
  };

  /** The posts' tops will probably be pinned at what is typed. */
  private expectsPin = (event: Event): void => {
    const form = (event.currentTarget as HTMLElement).closest("form");
    const edit = form && this.edit("pin", heightIn(form));
    if (edit) expectFrom(this, edit);
  };

  private typing = (event: Event): void => {
    keepTyped(
      this.thing,
      PINNED,
      "height",
      (event.target as HTMLInputElement).value,
      this.behind ? null : this.usual,
    );
    this.expectsPin(event);
  };

  private button(what: "unpin" | "built", words: string, off: boolean): TemplateResult {
    const expects = () => {
      const edit = this.edit(what);
      if (edit) expectFrom(this, edit);
    };
    return html`<button ?disabled=${off} ${whenNear(expects)} @click=${() => this.act(what)}>${words}</button>`;
  }

  override render(): TemplateResult | typeof nothing {
    const count = this.posts.length;
    if (count === 0) return nothing;
    const names = this.posts
      .slice(0, NAMED)
      .map((post) => post.id)
      .join(", ");
    const off = this.locked || count > MOST;
    return html`<h3>${say("several_chosen", { count })}</h3><p class="quiet">${names}${count > NAMED ? ", …" : ""}</p>
      ${count > MOST ? html`<p class="refused">${say("several_most", { count: MOST })}</p>` : nothing}
      <form @submit=${this.pin} @input=${this.typing} aria-label=${say("several_pin", { count })}><div class="row">
        <label for="several-height"><span>${say("above_ground")}</span><input id="several-height" name="height" .value=${live(typedOver(this.thing, PINNED, "height", this.usual, this.behind))} ?disabled=${off} autocomplete="off" /></label>
        <button class="main" ?disabled=${off} ${whenNear(this.expectsPin)}>${say("pin_tops")}</button></div></form>
      <div class="row">
        ${this.button("unpin", say("unpin_tops"), off)}
        ${this.button("built", say("are_set"), off)}
        <button @click=${() => this.dispatchEvent(new CustomEvent("posts-boxed", { detail: [], bubbles: true, composed: true }))}>${say("choose_none")}</button>
      </div>
      ${this.refused ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>` : nothing}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "several-posts": SeveralPosts;
  }
}
