/** Every file of the design to take away, the drawings and papers to look at, and one archive of all. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { api, type OutputInfo, type OutputsAnswer } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOf, langOfSaid } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import type { OutputLook } from "./look.ts";
import "./look.ts";
import { canLook } from "./look_pages.ts";

@customElement("take-away")
export class TakeAway extends LitElement {
  static override styles = [
    controls,
    css`
      ul { list-style: none; margin: 0.6rem 0; padding: 0; display: grid; gap: 0.3rem; }
      li { display: flex; gap: 0.5rem; align-items: center; flex-wrap: wrap; }
      li > a.button { flex: 1 1 10rem; justify-content: start; }
      .left-out { display: block; overflow-wrap: anywhere; }
      .left-out > span { display: block; }
    `,
  ];

  @property() jobId = "";
  @property({ type: Number }) head = 0;
  @state() private made: OutputsAnswer = { files: [], left_out: [] };
  @state() private refused = "";
  @state() private isBusy = false;
  @query("output-look") private look!: OutputLook;

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("head") || changed.has("jobId")) void this.load();
  }

  private async load(): Promise<void> {
    const wanted = `${this.jobId} ${this.head}`;
    this.isBusy = true;
    try {
      const made = await api.outputs(this.jobId);
      if (wanted !== `${this.jobId} ${this.head}`) return;
      this.made = made;
      this.refused = "";
    } catch (error) {
      if (wanted !== `${this.jobId} ${this.head}`) return;
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
    this.isBusy = false;
  }

  override render(): TemplateResult {
    return html`<h2>${say("panel_take_away")}</h2>
      <div class="row"><a class="button" href=${api.archiveAddress(this.jobId)} download>${say("archive")}</a></div>
      ${this.refused ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>` : nothing}
      ${this.isBusy ? html`<p class="quiet" role="status">${say("files_follow")}</p>` : nothing}
      ${this.leftOut()}
      ${GROUPS.map((group, place) => {
        const outputs = this.made.files.filter((output) => groupOf(output) === place);
        return outputs.length ? html`<h3>${say(`files_${group}`)}</h3>${this.list(outputs)}` : nothing;
      })}
      <output-look .jobId=${this.jobId}></output-look>`;
  }

  /** What the program could not make, each with its reason. */
  private leftOut(): TemplateResult | typeof nothing {
    const left = this.made.left_out;
    if (left.length === 0) return nothing;
    return html`<h3 id="left-out">${say("left_out")}</h3>
      <ul aria-labelledby="left-out">${left.map((one) => html`<li class="left-out"><strong>${inPage(one.what)}</strong><span lang=${langOf(one.sentence)}>${inPage(one.sentence)}</span></li>`)}</ul>`;
  }

  private list(outputs: readonly OutputInfo[]): TemplateResult {
    return html`<ul>${outputs.map(
      (
        output,
      ) => html`<li><a class="button" href=${api.outputAddress(this.jobId, output.name)} download=${output.name}>${output.name}</a>
        ${
          canLook(output)
            ? html`<button aria-haspopup="dialog" @click=${(event: Event) => void this.look.show(output, this.head, event.currentTarget as HTMLElement)}>${say("look")}</button>`
            : nothing
        }</li>`,
    )}</ul>`;
  }
}

const GROUPS = ["papers", "drawings", "tables", "data"] as const;

/** Papers for people first, then drawings, tables, and what other programs read. */
function groupOf({ name }: OutputInfo): number {
  if (/\.(pdf|html)$/.test(name)) return 0;
  if (/\.(svg|dxf)$/.test(name)) return 1;
  return /\.(csv|xlsx)$/.test(name) ? 2 : 3;
}

declare global {
  interface HTMLElementTagNameMap {
    "take-away": TakeAway;
  }
}
